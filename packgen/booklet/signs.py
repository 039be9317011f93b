"""The shapes of findings, which read in black and white: a stop an octagon, a caution a triangle, a note a circle."""

from __future__ import annotations

from markupsafe import Markup

from packgen.core.finding import Kind

_SHAPES = {
    "stop": ('<path d="M7.4 1h9.2L23 7.4v9.2L16.6 23H7.4L1 16.6V7.4z"/>', 16.6),
    "caution": ('<path d="M12 1.4 23.2 22.6H.8z"/>', 20.0),
    "note": ('<circle cx="12" cy="12" r="11"/>', 16.6),
}


def mark(kind: Kind, number: int) -> Markup:
    """The shape with the finding's number in it, 7 mm high (a number has at least 9 pt)."""
    outline, y = _SHAPES[kind]
    digits = len(str(number))
    size = 12.0 if digits < 3 else 9.6
    return Markup(
        '<svg class="mark" xmlns="http://www.w3.org/2000/svg" width="7mm" height="7mm" viewBox="0 0 24 24">'
        f"<title>{kind} {number}</title>"
        f'<g fill="#fff" stroke="#000" stroke-width="1.4">{outline}</g>'
        f'<text font-family="Pack" font-weight="700" font-size="{size}" text-anchor="middle" x="12" y="{y}">'
        f"{number}</text></svg>"
    )
