"""The gate bar at the foot of every sheet: six boxes in the order they are met, a held one hatched with its number.

One small drawing: nested boxes laid out by the page took more than half the time of a sheet (measured).
"""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.drawing.hatch import hatched
from packgen.booklet.drawing.labels import LEAST_MM, short, width
from packgen.core.finding import Gate

HIGH_MM, COUNT_MM, AIR_MM = 5.4, 6.0, 1.0
SIZE_MM = LEAST_MM
EDGE = 0.2


def gate_bar(gates: Sequence[tuple[Gate, int]]) -> Markup:
    """The bar for gates with the number of their holds."""
    x, lines, hatch, words = EDGE, [], [], []
    low = HIGH_MM - EDGE
    base = HIGH_MM / 2 + 0.36 * SIZE_MM
    for name, holds in gates:
        cell = width(name, SIZE_MM) + 2 * AIR_MM
        lines.append(f"M{short(x)} {EDGE}h{short(cell + COUNT_MM)}V{short(low)}H{short(x)}z")
        lines.append(f"M{short(x + cell)} {EDGE}V{short(low)}")
        words.append(f'<text x="{short(x + AIR_MM)}" y="{short(base)}">{name}</text>')
        if holds:
            figures = str(holds)
            half = width(figures, SIZE_MM, True) / 2 + 0.4
            middle = x + cell + COUNT_MM / 2
            left = ((x + cell, EDGE), (middle - half, EDGE), (middle - half, low), (x + cell, low))
            right = (
                (middle + half, EDGE),
                (x + cell + COUNT_MM, EDGE),
                (x + cell + COUNT_MM, low),
                (middle + half, low),
            )
            hatch += hatched([[left], [right]], 45, 1.4)
            start = short(middle - half + 0.4)
            words.append(f'<text x="{start}" y="{short(base)}" font-weight="700">{figures}</text>')
        x += cell + COUNT_MM
    strokes = "".join(f"M{short(a[0])} {short(a[1])}L{short(b[0])} {short(b[1])}" for a, b in hatch)
    says = ", ".join(f"{name} {f'held by {holds}' if holds else 'open'}" for name, holds in gates)
    wide = short(x + EDGE)
    return Markup(
        f'<svg class="gates" xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{HIGH_MM}mm" '
        f'viewBox="0 0 {wide} {HIGH_MM}"><title>Gates: {says}</title><g fill="none" stroke="#000">'
        f'<path d="{"".join(lines)}" stroke-width="0.35"/><path d="{strokes}" stroke-width="0.25"/></g>'
        f'<g font-family="Pack" font-size="{SIZE_MM}">{"".join(words)}</g></svg>'
    )
