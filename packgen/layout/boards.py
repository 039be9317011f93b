"""Boards laid in staggered rows: ends on rails, sides on rails, the offcut of one row starting the next."""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.figures import round_up
from packgen.core.plane import Point, Polygon, Segment, area, bounds, box, common, pieces_inside
from packgen.layout.board_model import BoardPiece, BoardPlan, Rail, Rules
from packgen.layout.board_sheets import CRUMB_MM, Stack, least_boards

SAME_MM = 1e-6
Cost = tuple[int, int, int, int, int, float]


@dataclass(frozen=True, slots=True)
class Bearing:
    """Rails as seen along the rows: `across` bear the ends of pieces, `sides` their long edges. Each: (at, from, to)"""

    across: tuple[tuple[float, float, float], ...]
    sides: tuple[tuple[float, float, float], ...]


def lay_boards(
    floor: Sequence[Polygon],
    rails: Sequence[Rail],
    material: str,
    thickness_mm: float,
    rules: Rules,
    near_mm: float,
    rows: int = 0,
) -> BoardPlan:
    """Boards over `floor`, whose parts are divided by walls and joints; no board lies over two parts.

    Rows along wall 1 and rows into the room are both tried: the better has fewer ends off the rails, then fewer boards,
    then fewer pieces. near_mm: a rail this near to an edge of a piece is screwed like an edge. rows: how many rows are
    numbered already.
    """
    tried = [_laid(floor, rails, material, thickness_mm, rules, near_mm, rows, along_x) for along_x in (True, False)]
    return min(tried, key=lambda p: (sum(not q.on_rails for q in p.pieces), p.boards, len(p.pieces)))


def _laid(
    floor: Sequence[Polygon],
    rails: Sequence[Rail],
    material: str,
    thickness_mm: float,
    rules: Rules,
    near_mm: float,
    row: int,
    along_x: bool,
) -> BoardPlan:
    parts = [p if along_x else _turned(p) for p in floor]
    bearing = _bearing(rails, along_x)
    stack, pieces, apart, reused = Stack(rules), list[BoardPiece](), list[float](), 0
    for part in sorted(parts, key=lambda p: (bounds(p)[1], bounds(p)[0])):
        before: list[float] = []
        for low, high in _rows(part, bearing, rules):
            row += 1
            x0, _, x1, _ = bounds(part)
            strips = [p for p in common(part, box(x0 - 1, low, x1 + 1, high)) if area(p) > CRUMB_MM]
            joints: list[float] = []
            for strip in sorted(strips, key=lambda p: bounds(p)[0]):
                cuts = _joints(strip, before, bearing, rules, stack)
                joints += cuts
                made, first_reused = _cut_up(strip, cuts, row, len([p for p in pieces if p.row == row]), bearing, stack)
                pieces += made
                reused += first_reused
            apart += [abs(a - b) for a in joints for b in before]
            before = joints
    under = [_under(p, bearing, near_mm) for p in pieces]
    turned = pieces if along_x else [_turned_back(p) for p in pieces]
    return BoardPlan(
        material,
        thickness_mm,
        rules,
        along_x,
        tuple(turned),
        stack.boards,
        least_boards(pieces, rules),
        stack.offcuts(),
        sum(e for e, _ in under) / 1000,
        sum(w for _, w in under) / 1000,
        min(apart, default=None),
        reused,
    )


def _turned(p: Polygon) -> Polygon:
    def turn(ring: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((y, x) for x, y in reversed(ring))

    return Polygon(turn(p.shell), tuple(turn(h) for h in p.holes))


def _turned_back(p: BoardPiece) -> BoardPiece:
    return BoardPiece(p.name, p.row, _turned(p.shape), p.length_mm, p.width_mm, p.board, p.whole, p.shaped, p.on_rails)


def _bearing(rails: Sequence[Rail], along_x: bool) -> Bearing:
    upright, level = [], []
    for rail in rails:
        (ax, ay), (bx, by) = rail.start, rail.end
        if rail.kind == "lettered":
            upright.append((ax, min(ay, by), max(ay, by)))
        else:
            level.append((ay, min(ax, bx), max(ax, bx)))
    across, sides = (upright, level) if along_x else (level, upright)
    return Bearing(tuple(sorted(across)), tuple(sorted(sides)))


# --------------------------------------------------------------------------------- rows


def _rows(part: Polygon, bearing: Bearing, rules: Rules) -> list[tuple[float, float]]:
    """Rows across the part, from its low edge: sides on rails, fewest rows, of these the widest narrowest row."""
    x0, low, x1, high = bounds(part)
    if rules.free_edges:
        edges = _even_rows(low, high, rules)
        return list(itertools.pairwise(edges))
    middle = {at for at, a, b in bearing.sides if low + CRUMB_MM < at < high - CRUMB_MM and b > x0 and a < x1}
    stops = [low, *sorted(middle), high]
    bare = [at not in (low, high) and not _side_borne(part, at, bearing, rules) for at in stops]
    best: list[tuple[tuple[int, int, float], int]] = [((0, 0, -math.inf), -1)]
    for j in range(1, len(stops)):
        options = []
        for i in range(j - 1, -1, -1):
            span = stops[j] - stops[i]
            if span > rules.wide_mm + CRUMB_MM / 2 and i < j - 1:
                break
            (over, count, narrow), _ = best[i]
            more = math.ceil(span / rules.wide_mm - 1e-3)
            options.append(((over + more - 1 + bare[j], count + more, max(narrow, -span)), i))
        best.append(min(options))
    cuts = [len(stops) - 1]
    while cuts[-1] > 0:
        cuts.append(best[cuts[-1]][1])
    rows = []
    for i, j in itertools.pairwise(reversed(cuts)):
        more = max(1, math.ceil((stops[j] - stops[i]) / rules.wide_mm - 1e-3))
        step = (stops[j] - stops[i]) / more
        rows += [(stops[i] + k * step, stops[i] + (k + 1) * step) for k in range(more)]
    return rows


def _even_rows(low: float, high: float, rules: Rules) -> list[float]:
    """Whole widths; where the last row would be too narrow the first is narrower too."""
    wide, span = rules.wide_mm, high - low
    count = max(1, math.ceil(span / wide - 1e-6))
    rest = span - (count - 1) * wide
    if count > 1 and rest < rules.row_mm:
        first = (rest + wide) / 2
        return [low, *(low + first + k * wide for k in range(count - 1)), high]
    return [low, *(low + (k + 1) * wide for k in range(count - 1)), high]


# --------------------------------------------------------------------------------- joints in a row


def _joints(strip: Polygon, before: Sequence[float], bearing: Bearing, rules: Rules, stack: Stack) -> list[float]:
    """Where pieces meet in one row. In this order: ends on rails, joints staggered, no piece too short, few new
    boards, few pieces, a long piece last to first."""
    x0, low, x1, high = bounds(strip)
    on_rail = {at for at, _, _ in bearing.across if x0 < at < x1 and _carried(strip, at, bearing.across, rules)}
    places = [x0, *sorted(on_rail), x1]
    if max(b - a for a, b in itertools.pairwise(places)) > rules.long_mm + CRUMB_MM / 2:
        places = sorted({*places, *(x0 + k * rules.long_mm for k in range(1, math.ceil((x1 - x0) / rules.long_mm)))})
    best: list[tuple[Cost, int]] = [((0, 0, 0, 0, 0, 0.0), -1)]
    for j in range(1, len(places)):
        options: list[tuple[Cost, int]] = []
        for i in range(j - 1, -1, -1):
            span = places[j] - places[i]
            if span > rules.long_mm + CRUMB_MM / 2 and i < j - 1:
                break
            at = places[j]
            inner = j < len(places) - 1
            off = inner and at not in on_rail
            close = inner and any(abs(at - b) < rules.stagger_mm - CRUMB_MM for b in before)
            short = span < rules.least_mm and len(places) > 2
            new = not (i == 0 and stack.holds(span, high - low))
            c = best[i][0]
            cost = (c[0] + off, c[1] + close, c[2] + short, c[3] + new, c[4] + 1, c[5] + span * span / 1e9)
            options.append((cost, i))
        best.append(min(options))
    cuts = [len(places) - 1]
    while cuts[-1] > 0:
        cuts.append(best[cuts[-1]][1])
    return [places[k] for k in reversed(cuts[1:-1])]


def _carried(strip: Polygon, at: float, rails: Sequence[tuple[float, float, float]], rules: Rules) -> bool:
    """Whether rails bear a joint across the row, but for a little at the walls."""
    _, low, _, high = bounds(strip)
    spans = [(s.a[1], s.b[1]) for s in pieces_inside(strip, Segment((at, low - 1), (at, high + 1)))]
    for a, b in ((min(s), max(s)) for s in spans):
        bare = b - a - sum(max(0.0, min(b, hi) - max(a, lo)) for rail, lo, hi in rails if abs(rail - at) < SAME_MM)
        if bare > rules.overhang_mm:
            return False
    return bool(spans)


# --------------------------------------------------------------------------------- pieces


def _cut_up(
    strip: Polygon, cuts: Sequence[float], row: int, done: int, bearing: Bearing, stack: Stack
) -> tuple[list[BoardPiece], int]:
    """The pieces of a row between its joints, each with its board; how many of the first come from an offcut."""
    rules = stack.rules
    x0, low, x1, high = bounds(strip)
    on_rail = {at for at in cuts if _carried(strip, at, bearing.across, rules)}
    sides_borne = rules.free_edges or all(_side_borne(strip, at, bearing, rules) for at in (low, high))
    out: list[BoardPiece] = []
    reused = 0
    for k, (a, b) in enumerate(itertools.pairwise([x0, *cuts, x1])):
        for shape in sorted(common(strip, box(a, low - 1, b, high + 1)), key=bounds):
            if area(shape) <= CRUMB_MM:
                continue
            left, bottom, right, top = bounds(shape)
            long, wide = right - left, top - bottom
            number, new = stack.take(long, wide)
            reused += k == 0 and not new
            out.append(
                BoardPiece(
                    f"{row}.{done + len(out) + 1}",
                    row,
                    shape,
                    int(round_up(long - SAME_MM)),
                    int(round_up(wide - SAME_MM)),
                    number,
                    long >= rules.long_mm - CRUMB_MM and wide >= rules.wide_mm - CRUMB_MM,
                    long * wide - area(shape) > CRUMB_MM * (long + wide),
                    sides_borne and all(end in on_rail for end in (a, b) if end not in (x0, x1)),
                )
            )
    return out, reused


def _side_borne(strip: Polygon, at: float, bearing: Bearing, rules: Rules) -> bool:
    """Whether the long edge of a row lies on rails; where the floor ends there it need not."""
    x0, _, x1, _ = bounds(strip)
    inside = pieces_inside(strip, Segment((x0 - 1, at), (x1 + 1, at)))
    near = [(lo, hi) for rail, lo, hi in bearing.sides if abs(rail - at) < CRUMB_MM]
    if not near:
        return True  # rows end between rails only at the edge of the floor, or where rails are farther than a board
    for s in inside:
        a, b = sorted((s.a[0], s.b[0]))
        if b - a - sum(max(0.0, min(b, hi) - max(a, lo)) for lo, hi in near) > 2 * rules.overhang_mm:
            return False
    return True


def _under(piece: BoardPiece, bearing: Bearing, near: float) -> tuple[float, float]:
    """Rails under one piece: mm beside its edges, and mm away from them."""
    x0, y0, x1, y1 = bounds(piece.shape)
    edges = within = 0.0
    for upright, rails in ((True, bearing.across), (False, bearing.sides)):
        lo_edge, hi_edge = (x0, x1) if upright else (y0, y1)
        first = bisect.bisect_left(rails, (lo_edge - CRUMB_MM, -math.inf, -math.inf))
        last = bisect.bisect_right(rails, (hi_edge + CRUMB_MM, math.inf, math.inf))
        for at, a, b in rails[first:last]:
            seen = min(max(at, lo_edge + CRUMB_MM), hi_edge - CRUMB_MM)
            line = Segment((seen, a), (seen, b)) if upright else Segment((a, seen), (b, seen))
            length = sum(s.length_mm for s in pieces_inside(piece.shape, line))
            if min(at - lo_edge, hi_edge - at) <= near:
                edges += length
            else:
                within += length
    return edges, within
