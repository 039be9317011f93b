"""The pack on a screen: a start page and all sheets as cards, each one file that loads nothing."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.html import fill
from packgen.booklet.pack import Pack
from packgen.booklet.templates import font_data, style

FONTS = ("pack-regular", "pack-bold", "sym-regular")


def index_page(packs: Sequence[Pack], with_pdf: bool) -> str:
    """The start page: gates, links to the files beside it, key facts and the sheets of the first pack."""
    pack = packs[0]
    files = []
    for one in packs:
        files.append((f"{one.stem}.html", f"{one.title}, on the screen"))
        files += [(f"{one.stem}.pdf", f"{one.title}, for printing")] if with_pdf else []
    files += [("plan.json", "The plan as data"), *((name, f"Table: {name[:-4]}") for name in pack.tables)]
    facts = next((s.sheet.view["facts"] for s in pack.sheets if s.sheet.template == "cover.html"), ())
    return fill("screen/index.html", {**_common(pack), "files": files, "stem": pack.stem, "facts": facts})


def pack_page(pack: Pack) -> str:
    """All sheets as cards in order, a list at the side, or one choice on a phone."""
    return fill("screen/pack.html", {**_common(pack), "sheets": pack.sheets})


def _common(pack: Pack) -> dict[str, object]:
    fonts = {name.replace("-", "_"): Markup(font_data(f"{name}.woff2")) for name in FONTS}
    css = Markup(style("sheet.css") + style("screen.css"))
    return {"pack": pack.facts, "css": css, "fonts": fonts}
