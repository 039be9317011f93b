"""Words in a column beside a drawing, each with a leader to its place, spread so that none lies on another."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.drawing.canvas import THIN, Canvas
from packgen.core.plane import Point

LINE_MM = 4.0  # from baseline to baseline of stacked words


def column(canvas: Canvas, items: Sequence[tuple[Point, tuple[str, ...]]], edge: float, left: bool) -> None:
    """Writes (place, lines of words) beside `edge`, at its left or right, in the order of the places' heights.

    The canvas grows downward where the column is higher than the drawing.
    """
    if not items:
        return
    items = sorted(items, key=lambda i: (i[0][1], i[0][0]))
    highs = [LINE_MM * len(lines) for _, lines in items]
    tops = spread([p[1] - h / 2 for (p, _), h in zip(items, highs, strict=True)], highs, 0.5, 0.8)
    canvas.height_mm = max(canvas.height_mm, tops[-1] + highs[-1] + 1.0)
    for (p, lines), top, high in zip(items, tops, highs, strict=True):
        y = top + high / 2
        knee = edge + (2.0 if left else -2.0)
        canvas.path([p, (knee, y), (edge + (0.6 if left else -0.6), y)], THIN)
        canvas.discs([p], 0.5, "#000")
        for k, text in enumerate(lines):
            canvas.words(edge, top + (k + 0.78) * LINE_MM, text, anchor="end" if left else "start")


def spread(tops: Sequence[float], highs: Sequence[float], least: float, gap: float) -> list[float]:
    """Blocks moved as little as needed so that they follow each other without overlapping, none above `least`.

    Blocks that push each other form a group that keeps its middle where its members wanted to be.
    """
    groups: list[tuple[float, float, list[int]]] = []  # top, height, members
    for i, (top, high) in enumerate(zip(tops, highs, strict=True)):
        groups.append((max(top, least), high, [i]))
        while len(groups) > 1 and groups[-2][0] + groups[-2][1] + gap > groups[-1][0]:
            (t0, h0, m0), (t1, h1, m1) = groups[-2], groups[-1]
            high_all = h0 + gap + h1
            middle = (t0 + h0 / 2) * len(m0) + (t1 + h1 / 2) * len(m1)
            groups[-2:] = [(max(least, middle / (len(m0) + len(m1)) - high_all / 2), high_all, m0 + m1)]
    out = [0.0] * len(tops)
    for top, _, members in groups:
        for i in members:
            out[i] = top
            top += highs[i] + gap
    return out
