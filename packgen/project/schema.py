"""JSON Schema of the project file as people type it, for editors."""

from __future__ import annotations

from typing import Any

from packgen.project.model import Project


def json_schema() -> dict[str, Any]:
    """The schema as a dict, draft 2020-12."""
    return Project.model_json_schema(by_alias=True, ref_template="#/$defs/{model}")
