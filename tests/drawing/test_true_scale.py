"""On paper a metre of the floor is 1000 / scale mm, the check line is 100 mm, and no stroke is too thin to copy.

Measured in the PDF itself, through all its transformations (the recipe of the booklet notes).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Any

import pytest

from packgen.booklet.drawing.plan_marks import rails
from packgen.booklet.drawing.plan_view import base_plan, plan_view, scale_bar
from packgen.booklet.pdf import weasyprint_or_why
from packgen.plan import Plan

pikepdf = pytest.importorskip("pikepdf")
PT = 25.4 / 72
Matrix = tuple[float, ...]


def times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def strokes(
    page: Any, stream: Any = None, res: Any = None, ctm: Matrix = (1, 0, 0, 1, 0, 0)
) -> Iterator[tuple[float, float]]:
    """(length, width) in mm of each stroked straight segment."""
    stream, res = stream or page, res or page.Resources
    stack: list[tuple[Matrix, float]] = []
    width, at, seg = 1.0, (0.0, 0.0), []
    for ops, op in pikepdf.parse_content_stream(stream):
        name = str(op)
        if name == "q":
            stack.append((ctm, width))
        elif name == "Q":
            ctm, width = stack.pop()
        elif name == "cm":
            ctm = times(tuple(float(v) for v in ops), ctm)
        elif name == "w":
            width = float(ops[0])
        elif name in ("m", "l"):
            x, y = (float(v) for v in ops)
            to = (x * ctm[0] + y * ctm[2] + ctm[4], x * ctm[1] + y * ctm[3] + ctm[5])
            if name == "l":
                seg.append((at, to))
            at = to
        elif name in ("S", "s", "B", "f", "n"):
            k = abs(ctm[0] * ctm[3] - ctm[1] * ctm[2]) ** 0.5
            if name in "SsB":
                yield from ((math.dist(a, b) * PT, width * k * PT) for a, b in seg)
            seg = []
        elif name == "Do":
            form = res.XObject[str(ops[0])]
            if form.get("/Subtype") == "/Form":
                matrix = tuple(float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
                yield from strokes(page, form, form.get("/Resources", res), times(matrix, ctm))


@pytest.mark.parametrize(("width", "height"), [(178.0, 170.0), (178.0, 90.0)])
def test_a_metre_is_a_metre(any_plan: Plan, width: float, height: float, tmp_path: Any) -> None:
    weasyprint, why = weasyprint_or_why()
    if weasyprint is None:
        pytest.skip(why or "")
    view = plan_view(any_plan, width, height)
    rails(view, any_plan)
    base_plan(view, any_plan)
    scale_bar(view)
    svg = view.canvas.svg("a plan")
    file = tmp_path / "plan.pdf"
    html = f"<style>@page{{size:A4;margin:12mm 12mm 12mm 20mm}}svg{{display:block}}</style><body>{svg}</body>"
    weasyprint.HTML(string=html).write_pdf(file)
    with pikepdf.open(file) as pdf:
        found = list(strokes(pdf.pages[0]))
    metre = 1000 / view.scale
    assert any(abs(length - metre) < 0.01 for length, _ in found)
    assert any(abs(length - 100) < 0.01 for length, _ in found)
    assert min(thick for _, thick in found) >= 0.2499
    room = any_plan.survey.rooms[0]
    wall = next(w for w in room.walls if not w.free_edge and not any(d.wall == w.name for d in room.doors))
    assert any(abs(length - wall.line.length_mm / view.scale) < 0.02 for length, _ in found), wall.name
    assert re.search(rf'width="{width:g}mm"', str(svg))
