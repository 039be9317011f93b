"""Squared paper: true squares that guide a sketch at a stated scale."""

from __future__ import annotations

import math

from markupsafe import Markup

from packgen.booklet.drawing.canvas import RAIL, THIN, Canvas, Pen
from packgen.booklet.drawing.labels import LEAST_MM
from packgen.core.figures import plain

SQUARE_MM = 5.0
BAR_MM = 8.0  # the strip below with the scale and the check line
EDGE_MM = 0.3
DOTS = Pen(0.35, "0 1.25", "round")  # four dots a square: they guide the pencil and do not hide what it draws


def squared(width_mm: float, height_mm: float, scale: int) -> tuple[Markup, float]:
    """True squares of 5 mm, every metre of the room heavier, the scale, 100 mm for the reader's tape; and its height.

    scale: the figure after the colon; a square is 5 x scale mm of the room.
    """
    across = math.floor((width_mm - 2 * EDGE_MM) / SQUARE_MM)
    down = math.floor((height_mm - BAR_MM - 2 * EDGE_MM) / SQUARE_MM)
    metre = round(1000 / scale / SQUARE_MM)
    wide, high = across * SQUARE_MM, down * SQUARE_MM
    canvas = Canvas(wide + 2 * EDGE_MM, high + BAR_MM + 2 * EDGE_MM)
    for pen, heavy in ((DOTS, False), (THIN, True)):
        for i in (i for i in range(across + 1) if (i % metre == 0) == heavy):
            x = EDGE_MM + i * SQUARE_MM
            canvas.line((x, EDGE_MM), (x, EDGE_MM + high), pen)
        for j in (j for j in range(down + 1) if (j % metre == 0) == heavy):
            y = EDGE_MM + j * SQUARE_MM
            canvas.line((EDGE_MM, y), (EDGE_MM + wide, y), pen)
    y = canvas.height_mm - 1.0
    note = f"Scale 1:{scale}: square {plain(SQUARE_MM * scale)} mm, full lines 1 m"
    canvas.words(EDGE_MM, y, note, 3.5, anchor="start")
    if wide >= 175.0:
        x = EDGE_MM + wide - 100.0
        canvas.line((x, y), (x + 100.0, y), RAIL)
        for t in (x, x + 100.0):
            canvas.line((t, y - 2.2), (t, y), RAIL)
        canvas.words(x + 50.0, y - 1.2, "check with your tape: 100 mm on this paper", LEAST_MM)
    return canvas.svg(f"Squared paper for a sketch, scale 1 to {scale}"), canvas.height_mm
