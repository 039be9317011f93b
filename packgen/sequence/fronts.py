"""The line between filled and open floor after each bay of the order: its length, and where it runs in words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from packgen.core.beside import Beside
from packgen.core.plane import Segment
from packgen.layout.model import JointLine, Layout, Line
from packgen.sequence.model import StopLine
from packgen.trade.amounts import amount

ON_LINE_MM = 30.0  # an edge this close to a line or a joint runs along it


def front_lengths(order: Sequence[int], links: Sequence[Beside], weights: Sequence[float]) -> np.ndarray:
    """Length of the edge between filled and open after each bay of the order, entry 0 before the first."""
    place = {bay: k for k, bay in enumerate(order)}
    change = np.zeros(len(order) + 2)
    for link, weight in zip(links, weights, strict=True):
        a, b = sorted((place[link.first], place[link.second]))
        change[a + 1] += weight
        change[b + 1] -= weight
    total: np.ndarray = np.round(np.cumsum(change)[: len(order) + 1], 6)
    return total


def stop_weights(links: Sequence[Beside], layout: Layout) -> list[float]:
    """What a stop line over each shared edge costs: its length, longer over heating pipes unless it is their joint."""
    if not links:
        return []
    lengths = np.array([link.shared_mm for link in links])
    stretches = [s for run in layout.services if run.heating for s in run.stretches]
    if not stretches:
        return [float(v) for v in lengths]
    at_joint = np.array([any(_runs_along(link.edge, j.line) for j in layout.joints) for link in links])
    edges = np.array([(*link.edge.a, *link.edge.b) for link in links])
    over = np.zeros(len(links))
    for s in stretches:
        over += _crosses(edges, s)
    return [float(v) for v in lengths + np.where(at_joint, 0.0, over * amount("stop_over_pipe"))]


def _crosses(edges: np.ndarray, s: Segment) -> np.ndarray:
    """Which edges (rows of ax, ay, bx, by) a straight piece crosses."""
    (px, py), (qx, qy) = s.a, s.b

    def side(ax: np.ndarray, ay: np.ndarray, bx: np.ndarray, by: np.ndarray, x: float, y: float) -> np.ndarray:
        turned: np.ndarray = (bx - ax) * (y - ay) - (by - ay) * (x - ax)
        return turned

    ax, ay, bx, by = edges.T
    from_edge = side(ax, ay, bx, by, px, py) * side(ax, ay, bx, by, qx, qy) < 0
    a_side = (qx - px) * (ay - py) - (qy - py) * (ax - px)
    b_side = (qx - px) * (by - py) - (qy - py) * (bx - px)
    crossed: np.ndarray = from_edge & (a_side * b_side < 0)
    return crossed


def front_edges(order: Sequence[int], links: Sequence[Beside], after: Iterable[int]) -> dict[int, list[Segment]]:
    """The edges between filled and open after so many bays of the order, for each number asked."""
    of_bay: dict[int, list[int]] = {}
    for k, link in enumerate(links):
        of_bay.setdefault(link.first, []).append(k)
        of_bay.setdefault(link.second, []).append(k)
    wanted, front, out = set(after), set[int](), {}
    for count, bay in enumerate(order, 1):
        front.symmetric_difference_update(of_bay.get(bay, ()))
        if count in wanted:
            out[count] = [links[k].edge for k in sorted(front)]
    return out


def stop_line(after: str, edges: Sequence[Segment], bags_used: int, layout: Layout) -> StopLine:
    """A stop line as pieces along lines, and said in words."""
    pieces = _joined(edges)
    return StopLine(after, tuple(pieces), sum(p.length_mm for p in pieces), _in_words(pieces, layout), bags_used)


def _joined(edges: Sequence[Segment]) -> list[Segment]:
    """Edges that follow one another on one line, put together."""
    todo = sorted(
        (_ordered(s) for s in edges), key=lambda s: (_upright(s), _across(s), s.a[1] if _upright(s) else s.a[0])
    )
    out: list[Segment] = []
    for s in todo:
        if out and _runs_along(s, out[-1]) and math.dist(out[-1].b, s.a) <= amount("joint_open"):
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


def _runs_along(s: Segment, line: Segment) -> bool:
    """Whether both ends of a piece lie on a straight line, however long."""
    d = line.length_mm
    if d == 0:
        return False
    ux, uy = (line.b[0] - line.a[0]) / d, (line.b[1] - line.a[1]) / d
    return all(abs((p[1] - line.a[1]) * ux - (p[0] - line.a[0]) * uy) <= ON_LINE_MM for p in (s.a, s.b))


def _in_words(pieces: Sequence[Segment], layout: Layout) -> str:
    """ "line G from wall to wall, then line 4 from G to K": the pieces on paper."""
    said = [_piece_in_words(p, layout) for p in pieces]
    return "; ".join(dict.fromkeys(said))


def _piece_in_words(piece: Segment, layout: Layout) -> str:
    joint = next((j for j in layout.joints if _runs_along(piece, j.line)), None)
    upright = _upright(piece)
    line = _on(layout.lines, _middle(piece, 0 if upright else 1), "lettered" if upright else "numbered")
    name = _named(joint, line)
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


def _middle(s: Segment, axis: int) -> float:
    return (s.a[axis] + s.b[axis]) / 2


def _on(lines: Sequence[Line], at: float, kind: str) -> Line | None:
    near = [k for k in lines if k.kind == kind and abs(k.at_mm - at) <= ON_LINE_MM]
    return min(near, key=lambda k: abs(k.at_mm - at), default=None)
