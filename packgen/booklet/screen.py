"""The pack on a screen: a start page and all sheets as cards, each one file that loads nothing."""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.html import fill
from packgen.booklet.pack import Pack
from packgen.booklet.templates import font_data, style

FONTS = ("pack-regular", "pack-bold", "sym-regular")


def index_page(pack: Pack, pdf: str | None) -> str:
    """The start page: key facts, gates, list of sheets, links to the files beside it."""
    files = [("pack.html", "All sheets on the screen")]
    files += [(pdf, "All sheets for printing")] if pdf else []
    files += [("plan.json", "The plan as data"), *((name, f"Table: {name[:-4]}") for name in pack.tables)]
    return fill("screen/index.html", {**_common(pack), "files": files, "pdf": pdf})


def pack_page(pack: Pack) -> str:
    """All sheets as cards in order, a list at the side, or one choice on a phone."""
    return fill("screen/pack.html", {**_common(pack), "sheets": pack.sheets})


def _common(pack: Pack) -> dict[str, object]:
    fonts = {name.replace("-", "_"): Markup(font_data(f"{name}.woff2")) for name in FONTS}
    css = Markup(style("sheet.css") + style("screen.css"))
    return {"pack": pack.facts, "css": css, "fonts": fonts}
