"""Where templates, style sheets and fonts lie: beside the package in a checkout, inside it in an installed wheel."""

from __future__ import annotations

import base64
from functools import cache
from importlib import resources
from pathlib import Path


def templates_folder() -> Path:
    """The folder `templates`: the checkout's first, so that an editable install never reads a stale copy."""
    package = Path(str(resources.files("packgen")))
    checkout = package.parent
    beside = [checkout / "templates"] if (checkout / "pyproject.toml").exists() else []
    for folder in (*beside, package / "templates"):
        if (folder / "base.html").is_file():
            return folder
    raise FileNotFoundError("templates/ is neither in the installed packgen nor beside it: install packgen again")


@cache
def style(name: str) -> str:
    """A style sheet's text by its name, for example "sheet.css"."""
    return (templates_folder() / "css" / name).read_text(encoding="utf-8")


@cache
def font_data(name: str) -> str:
    """A font file as a data address, for a page that may load nothing."""
    data = (templates_folder() / "fonts" / name).read_bytes()
    return f"data:font/woff2;base64,{base64.b64encode(data).decode('ascii')}"
