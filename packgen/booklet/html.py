"""The only door to jinja2: templates and finished strings to HTML."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from packgen.booklet.templates import templates_folder
from packgen.booklet.textsize import printable


@cache
def _environment() -> Any:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(templates_folder()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )


def fill(template: str, view: Mapping[str, object]) -> str:
    """A template of templates/ filled with a view; letters the pack's fonts lack are written out."""
    text: str = _environment().get_template(template).render(view)
    return printable(text)
