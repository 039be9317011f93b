"""A rendered pack as whole HTML documents, one a page of paper."""

from __future__ import annotations

from urllib.parse import quote
from xml.sax.saxutils import escape

from packgen.booklet.drawing.labels import width as text_width
from packgen.booklet.html import fill
from packgen.booklet.pack import Pack, Rendered
from packgen.booklet.pdf import Page

LEFT_MM, TOP_MM, RIGHT_MM = 20, 12, 12  # the page's margins, as in css/print.css
BAND_X, BAND_MM, HATCH_MM = 4.0, 8.0, 3.5
WORD_MM = 44.0
FOOT_MM = 33.0  # from the paper's lower edge up to the line of the words, clear of the sheet's foot


def pages_of(pack: Pack) -> tuple[Page, ...]:
    """Every sheet of the pack as a document for the PDF."""
    return tuple(Page(one.sheet.slug, _document(pack, one), _held_style(one)) for one in pack.sheets)


def _document(pack: Pack, one: Rendered) -> str:
    view = {"pack": pack.facts, "sheet": one.sheet, "number": one.number, "band": one.band, "body": one.body}
    return fill("base.html", view)


def _held_style(one: Rendered) -> str:
    """The hatched band down the left margin and the outlined words behind a held sheet, as the page's background."""
    if one.band is None:
        return ""
    width, height = (210, 297) if one.sheet.paper == "A4" else (420, 297)
    drawing = quote(_held_drawing(f"HOLD BEFORE {one.band.gate.upper()}", width, height))
    at = f"-{LEFT_MM}mm -{TOP_MM}mm / {width}mm {height}mm no-repeat"
    return f'@page {{ background: url("data:image/svg+xml,{drawing}") {at}; }}'


def _held_drawing(words: str, width: int, height: int) -> str:
    """Outlined words and hatching as SVG in mm. Lines of 0.35 and more survive a copy of a copy; no grey does.

    The words stand above the foot, what is written on the sheet on white: no outline runs through a figure.
    """
    low = height - TOP_MM
    lines = []
    for i in range(int((low - TOP_MM + BAND_MM) / HATCH_MM) + 1):
        start = TOP_MM + i * HATCH_MM  # where the line meets the band's left edge
        down, up = max(0.0, start - low), max(0.0, TOP_MM - start + BAND_MM)
        if down + up < BAND_MM:
            lines.append(
                f"M{BAND_X + down:.2f} {start - down:.2f}L{BAND_X + BAND_MM - up:.2f} {start - BAND_MM + up:.2f}"
            )
    middle = (LEFT_MM + width - RIGHT_MM) / 2
    size = min(WORD_MM, (width - LEFT_MM - RIGHT_MM - 4) / text_width(words, 1.0, True))
    row = f'<text x="{middle}" y="{height - FOOT_MM}" font-size="{size:.1f}">{escape(words)}</text>'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
        f'<path d="{"".join(lines)}" fill="none" stroke="#000" stroke-width=".35"/>{"".join(_along(words, height))}'
        f'<g font-family="Pack" font-weight="700" text-anchor="middle" fill="none" stroke="#000" '
        f'stroke-width=".4">'
        f"{row}</g></svg>"
    )


def _along(words: str, height: int) -> list[str]:
    """The words along the band, upwards, on white, so that they are read when the sheet lies in a folder."""
    size, x = 4.5, BAND_X + BAND_MM / 2
    half = text_width(words, size, True) / 2 + 3
    return [
        f'<path fill="#fff" d="M{BAND_X - 1} {y - half:.1f}h{BAND_MM + 2}v{2 * half:.1f}h{-BAND_MM - 2}z"/>'
        f'<text font-family="Pack" font-weight="700" font-size="{size}" text-anchor="middle" '
        f'transform="translate({x + 0.36 * size:.2f} {y:.1f}) rotate(-90)">{escape(words)}</text>'
        for y in (height * 0.25, height * 0.75)
    ]
