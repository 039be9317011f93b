"""Where work may stop, as pieces along lines and in words."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packgen.core.plane import Segment
from packgen.layout.model import JointLine, Layout, Line
from packgen.sequence.fronts import ON_LINE_MM, runs_along
from packgen.sequence.model import StopLine
from packgen.trade.amounts import amount


def stop_line(after: str, edges: Sequence[Segment], bags_used: int, layout: Layout) -> StopLine:
    """A stop line along edges of bays, after the bay of that name; without edges where its room is full."""
    pieces = _joined(edges)
    room = next((b.room for b in layout.bays if b.name == after), "")
    says = _in_words(pieces, layout) or f"the end of {room}"
    return StopLine(after, tuple(pieces), sum(p.length_mm for p in pieces), says, bags_used)


def _joined(edges: Sequence[Segment]) -> list[Segment]:
    """Edges that follow one another on one line, put together."""
    ordered = [_ordered(s) for s in edges]
    todo = sorted(ordered, key=lambda s: (_upright(s), _across(s), s.a[1] if _upright(s) else s.a[0]))
    out: list[Segment] = []
    for s in todo:
        if out and runs_along(s, out[-1]) and math.dist(out[-1].b, s.a) <= amount("joint_open"):
            out[-1] = Segment(out[-1].a, s.b)
        else:
            out.append(s)
    return out


def _ordered(s: Segment) -> Segment:
    axis = 1 if _upright(s) else 0
    return s if s.a[axis] <= s.b[axis] else Segment(s.b, s.a)


def _upright(s: Segment) -> bool:
    return abs(s.b[1] - s.a[1]) > abs(s.b[0] - s.a[0])


def _across(s: Segment) -> float:
    return round((s.a[0] + s.b[0]) / 2 if _upright(s) else (s.a[1] + s.b[1]) / 2)


def _in_words(pieces: Sequence[Segment], layout: Layout) -> str:
    """The pieces on paper: "line 4 from A to G; line G from 4 to the wall"."""
    return "; ".join(dict.fromkeys(_piece_in_words(p, layout) for p in pieces))


def _piece_in_words(piece: Segment, layout: Layout) -> str:
    joint = next((j for j in layout.joints if runs_along(piece, j.line)), None)
    upright = _upright(piece)
    middle = (piece.a[0] + piece.b[0]) / 2 if upright else (piece.a[1] + piece.b[1]) / 2
    name = _named(joint, _on(layout.lines, middle, "lettered" if upright else "numbered"))
    crossing = "numbered" if upright else "lettered"
    ends = [_on(layout.lines, p[1] if upright else p[0], crossing) for p in (piece.a, piece.b)]
    start, end = (e.name if e else "the wall" for e in ends)
    if not name:
        return f"an edge {piece.length_mm:.0f} long from {start} to {end}"
    return f"{name} from {start} to {end}" if start != end else f"{name} from wall to wall"


def _named(joint: JointLine | None, line: Line | None) -> str:
    if joint is not None:
        return f"joint {joint.number}"
    return f"line {line.name}" if line is not None else ""


def _on(lines: Sequence[Line], at: float, kind: str) -> Line | None:
    near = [k for k in lines if k.kind == kind and abs(k.at_mm - at) <= ON_LINE_MM]
    return min(near, key=lambda k: abs(k.at_mm - at), default=None)
