"""What levelling is, in one picture: the laser line, the staff on the datum and on a spot of the base."""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.blank import example
from packgen.booklet.drawing.canvas import CUT, DASHED, HEAVY, RAIL, THIN, Canvas, arrow_head
from packgen.booklet.drawing.hatch import hatched
from packgen.core.plane import Point

HIGH_MM = 62.0
SAYS_MM = 3.7
LINE_Y, DATUM_Y, BASE_Y = 9.0, 41.0, 50.0


def level_picture(width_mm: float, datum: str) -> tuple[Markup, float]:
    """The drawing and its height. Its figures are those of the example book."""
    canvas = Canvas(width_mm, HIGH_MM)
    edge = 52.0
    ground: list[Point] = [(0, DATUM_Y), (edge, DATUM_Y), (edge, BASE_Y), (width_mm, BASE_Y)]
    under = [*ground, (width_mm, BASE_Y + 4), (0, BASE_Y + 4)]
    canvas.strokes(hatched([[under]], 45, 2.5), THIN)
    canvas.path(ground, CUT)
    canvas.line((4, LINE_Y), (width_mm - 4, LINE_Y), DASHED)
    laser = width_mm / 2 + 20
    canvas.path(((laser - 6, BASE_Y), (laser, LINE_Y + 1.6), (laser + 6, BASE_Y)), RAIL)
    canvas.area(
        [[(laser - 3, LINE_Y - 2), (laser + 3, LINE_Y - 2), (laser + 3, LINE_Y + 2), (laser - 3, LINE_Y + 2)]], "#000"
    )
    for x, foot, reading, name, says in (
        (34.0, DATUM_Y, example.BACKSIGHT, datum, "backsight"),
        (width_mm - 46.0, BASE_Y, example.FIRST, "A1", "between"),
    ):
        for side in (-1.2, 1.2):
            canvas.line((x + side, foot), (x + side, LINE_Y - 6.5), RAIL)
        canvas.line((x - 6, foot - 0.6), (x - 6, LINE_Y + 0.6), THIN)
        for tip, towards in (((x - 6, foot), (x - 6, LINE_Y)), ((x - 6, LINE_Y), (x - 6, foot))):
            canvas.area([arrow_head(tip, towards, 2.4)], "#000")
        canvas.line((x - 2.2, foot), (x + 2.2, foot), HEAVY)
        canvas.words(x + 3, (LINE_Y + foot) / 2, str(reading), 4.9, True, anchor="start", clear=True)
        canvas.words(x + 3, (LINE_Y + foot) / 2 + 5, says, SAYS_MM, anchor="start", clear=True)
        canvas.words(x, BASE_Y + 9.0, name, 4.2, True)
    canvas.words(laser, BASE_Y + 9.0, "laser, levelled", SAYS_MM)
    canvas.words(
        40.0, LINE_Y - 3.0, f"height of collimation: {example.BACKSIGHT} above {datum}", SAYS_MM, anchor="start"
    )
    below = example.FIRST - example.BACKSIGHT
    canvas.line((edge + 1.5, DATUM_Y), (width_mm - 24, DATUM_Y), DASHED)
    for tip, towards in (
        ((width_mm - 26, DATUM_Y), (width_mm - 26, BASE_Y)),
        ((width_mm - 26, BASE_Y), (width_mm - 26, DATUM_Y)),
    ):
        canvas.line(tip, towards, THIN)
        canvas.area([arrow_head(tip, towards, 2.4)], "#000")
    canvas.words(width_mm - 24, (DATUM_Y + BASE_Y) / 2 + 1.5, f"{below} below", 4.2, True, anchor="start", clear=True)
    canvas.words(4, LINE_Y - 3.0, "laser line", SAYS_MM, anchor="start")
    return canvas.svg("The laser line over the datum and over a lower spot, with both readings of the staff"), HIGH_MM
