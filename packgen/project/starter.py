"""The starter file: a small room that builds as it is, with a remark beside each thing to change."""

from __future__ import annotations

from packgen.core.figures import plain  # noqa: F401


def starter(name: str) -> str:
    """The text of a starter project file for a project called `name`."""
    return name
