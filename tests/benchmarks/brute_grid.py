"""First lines by brute force: every whole mm both ways, each laid as lines and counted one by one.

Rooms, kit and tolerances are small (a module of 60), so that a room has 3600 pairs; nothing in the search knows the
size. What is counted is what `packgen.layout.merits` promises, here by loops over the lines themselves.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Sequence

from packgen.core.plane import Point, Polygon, Segment, box, circle, common, contains, inset, is_simple, pairs, without
from packgen.layout.ground import Break, Ground, Kind, Stop, foot_places, make_ground, those_within
from packgen.layout.lines import Sizes, Track, regular_tracks
from packgen.layout.merits import COUNTED, SHIFTED, Aims
from packgen.survey.model import CutOut, RoomOutline, WallLine

MODULE = 60
SIZES = Sizes(module=MODULE, first=8, first_most=14, strip=2, smallest=21, overhang=21, joint_leg=14, near_service=2)
FOOT, RAIL, OFF, NEEDLE, SPOT, SAW = 8.0, 5.0, 1, 9.0, 1.0, 1.0
PLAIN = (8, 8)
Figures = dict[str, float]


def room(seed: int) -> tuple[Ground, Point, Aims]:
    """A random room: right-angled or skew, with cut-outs, sometimes a joint, pipes, readings and doors."""
    dice = random.Random(seed)
    while True:
        w, d = dice.randint(90, 330), dice.randint(90, 280)
        a, b = dice.randint(30, w - 30), dice.randint(30, d - 30)
        lean = [dice.randint(-30, 30) for _ in range(4)]
        ring = dice.choice(
            [
                [(0, 0), (w, 0), (w, d), (0, d)],
                [(0, 0), (w, 0), (w, b), (a, b), (a, d), (0, d)],
                [(0, 0), (w, 0), (w, d), ((a + w) / 2, d), ((a + w) / 2, b), (a, b), (a, d), (0, d)],
                [(0, 0), (w, 0), (w + lean[0], d + lean[1]), (lean[2], d + lean[3])],
                [(0, 0), (w, 0), (w + lean[0], d * 0.7), (w / 2, d + 40), (lean[1], d * 0.8)],
            ]
        )
        if is_simple(ring):
            break
    corner = (dice.choice([0.0, 0.0, 1000.0]), dice.choice([0.0, 400.0, 400.5]))
    ring = [(x + corner[0], y + corner[1]) for x, y in ring]
    whole = Polygon(tuple((float(x), float(y)) for x, y in ring))
    cut = []
    for _ in range(dice.randint(0, 2)):
        x, y = corner[0] + dice.randint(0, w), corner[1] + dice.randint(0, d)
        size = dice.randint(6, 60)
        cut.append(circle((x, y), size / 2, 16) if dice.random() < 0.3 else box(x, y, x + size, y + size / 2))
    cuts = tuple(CutOut(f"c{n}", "obstacle", part) for n, s in enumerate(cut, 1) for part in common(whole, s))
    floor = without(whole, [c.shape for c in cuts]) if cuts else (whole,)
    walls = tuple(
        WallLine(f"wall {n}", n, Segment(p, q), math.dist(p, q)) for n, (p, q) in enumerate(pairs(whole.shell), 1)
    )
    outline = RoomOutline("r", whole.shell, walls, floor, cuts, (), 0, 0, 0, None, None, (), (), "", 0, False)
    joints = []
    if dice.random() < 0.4:
        at, slope = corner[0] + dice.randint(20, w), dice.choice([0, 0, 25])
        joints.append(Segment((at, corner[1]), (at + slope, corner[1] + d)))
    pipes = []
    for k in range(dice.choice([0, 0, 1, 4])):
        y = corner[1] + dice.randint(0, d) + k * dice.choice([0, 15])
        x = corner[0] + dice.randint(0, w)
        end = (x + dice.randint(10, 150), y) if dice.random() < 0.6 else (x, y + dice.randint(10, 150))
        pipes.append((Segment((x, y), end), 1.0))
    read = tuple(
        (corner[0] + x, corner[1] + y)
        for x in range(dice.randint(5, 20), w, dice.choice([60, 120, 77]))
        for y in range(dice.randint(5, 20), d, 60)
        if dice.random() < 0.7
    )
    inside = [p for part in floor for p in inset(part, SIZES.strip)]
    breaks = [Break(Stop("joint", n), j, 1.0) for n, j in enumerate(joints, 1)]
    ground = make_ground(outline, inside, breaks, pipes, ((), ()), FOOT, RAIL)
    doors = tuple(w.line for w in walls if dice.random() < 0.3)
    stock = dice.choice([None, None, 240.0])
    return ground, whole.shell[0], Aims(read, doors, tuple(joints), stock, SAW, OFF, NEEDLE, SPOT)


def figures_of(ground: Ground, corner: Point, aims: Aims) -> dict[tuple[int, int], Figures]:
    """Every pair of first lines with its figures as they are, not yet at their worst."""
    lines: dict[Kind, list[list[Track]]] = {
        kind: [regular_tracks(ground, kind, corner[i] + first, SIZES) for first in range(MODULE)]
        for i, kind in enumerate(("lettered", "numbered"))
    }
    bare = {kind: [_by_lines(ground, kind, corner, first, aims) for first in range(MODULE)] for kind in lines}
    found = {}
    for x, y in itertools.product(range(MODULE), repeat=2):
        figures = _pair(ground, lines["lettered"][x], lines["numbered"][y], aims)
        for name in ("first lines by walls", "lines at joints", "lines at doors", "wide edges"):
            figures[name] = bare["lettered"][x][name] + bare["numbered"][y][name]
        found[x, y] = figures
    if 2 * min(f["legs on readings"] for f in found.values()) >= len(aims.read):
        found = {pair: figures | {"legs on readings": 0} for pair, figures in found.items()}
    return found


def worst_of(found: dict[tuple[int, int], Figures]) -> dict[tuple[int, int], Figures]:
    """Each pair with the worst of its neighbours in what setting out can spoil."""
    near = list(itertools.product(range(-OFF, OFF + 1), repeat=2))
    return {
        (x, y): {
            name: max(found[(x + i) % MODULE, (y + j) % MODULE][name] for i, j in near)
            if name in SHIFTED
            else found[x, y][name]
            for name in COUNTED
        }
        for x, y in found
    }


def best_of(found: dict[tuple[int, int], Figures], order: Sequence[str]) -> tuple[int, int]:
    def way(at: int, plain: int) -> int:
        return min((at - plain) % MODULE, (plain - at) % MODULE)

    def rank(pair: tuple[int, int]) -> tuple[float, ...]:
        far = way(pair[0], PLAIN[0]) + way(pair[1], PLAIN[1])
        return (*(far if n == "plain first lines" else found[pair][n] for n in order), far, *pair)

    return min(found, key=rank)


def _pair(ground: Ground, lettered: list[Track], numbered: list[Track], aims: Aims) -> Figures:
    legs: set[Point] = set()
    short = more = cuts = 0
    stock = 0.0
    for kind, own, other in (("lettered", lettered, numbered), ("numbered", numbered, lettered)):
        for line in own:
            for run in line.runs:
                free = foot_places(ground, kind, line.at, run.lo, run.hi)
                met = [t.at for t in other if any(r.lo - 1e-6 <= line.at <= r.hi + 1e-6 for r in t.runs)]
                met = those_within(free, [t for t in met if run.lo - 1e-6 <= t <= run.hi + 1e-6])
                legs |= {(line.at, t) if kind == "lettered" else (t, line.at) for t in met}
                limits = [SIZES.joint_leg if s.in_floor else SIZES.overhang for s in (run.lo_stop, run.hi_stop)]
                if aims.stock is not None:
                    stock += round(run.length)
                if not met:
                    more += 1 if run.length <= limits[1] + SIZES.first - SIZES.strip + 1e-6 else 2
                    short += run.length < SIZES.smallest + OFF - 1e-6
                    cuts += 1
                    stock += _halves(run.length) if aims.stock is None else 0
                    continue
                stock += 2 * math.ceil((met[-1] - met[0]) / MODULE - 1e-6) if aims.stock is None else 0
                for over, limit in ((met[0] - run.lo, limits[0]), (run.hi - met[-1], limits[1])):
                    short += limit + 1e-6 < over < SIZES.smallest + OFF - 1e-6
                    if over > limit + 1e-6:
                        more += 1
                        cuts += math.ceil(over / MODULE - 1e-6)
                        stock += _halves(over) if aims.stock is None else 0
    on, near = (
        sum(any(_gap(leg, s) < FOOT / 2 + half + extra - 1e-9 for s, half in _pipes(ground)) for leg in legs)
        for extra in (0.0, SIZES.near_service)
    )
    unread = sum(not any(max(abs(x - a), abs(y - b)) <= SPOT + 1e-6 for a, b in legs) for x, y in aims.read)
    return {
        "no short pieces": short,
        "no feet on pipes": on,
        "no feet near pipes": near,
        "legs on readings": unread,
        "few legs": len(legs) + more,
        "little stock": stock,
        "few cuts": cuts,
    }


def _halves(length: float) -> int:
    whole = max(math.ceil(length / MODULE - 1e-6) - 1, 0)
    return 2 * whole + (2 if length - whole * MODULE > (MODULE - SAW) / 2 + 1e-6 else 1)


def _pipes(ground: Ground) -> list[tuple[Segment, float]]:
    return [
        (Segment((a, b), (c, d)), float(reach) - FOOT / 2)
        for (a, b, c, d), reach in zip(ground.pipes.tolist(), ground.pipe_reach, strict=True)
    ]


def _gap(at: Point, s: Segment) -> float:
    (ax, ay), (bx, by) = s.a, s.b
    span = (bx - ax) ** 2 + (by - ay) ** 2
    t = 0.0 if span == 0 else max(0.0, min(1.0, ((at[0] - ax) * (bx - ax) + (at[1] - ay) * (by - ay)) / span))
    return math.hypot(at[0] - ax - t * (bx - ax), at[1] - ay - t * (by - ay))


def _by_lines(ground: Ground, kind: Kind, corner: Point, first: int, aims: Aims) -> Figures:
    i = 0 if kind == "lettered" else 1
    values = [p[i] for part in ground.floor for p in part.shell]
    lo, hi = min(values), max(values)
    at = []
    for k in range(-20, 20):
        place = corner[i] + first + MODULE * k
        if lo < place < hi:
            at.append(_moved(ground, i, place))
    joints = doors = narrow = 0
    for joint in aims.joints:
        if abs(joint.a[i] - joint.b[i]) < 1:
            joints += not any(0 < t - joint.a[i] <= SIZES.joint_leg + 1e-6 for t in at)
            joints += not any(0 < joint.a[i] - t <= SIZES.joint_leg + 1e-6 for t in at)
    for door in aims.doors:
        if abs(door.a[i] - door.b[i]) < 1:
            gap = min((abs(t - door.a[i]) for t in at), default=math.inf)
            doors += SIZES.first_most + 1e-6 < gap <= SIZES.overhang + SIZES.strip + 1e-6
    for part in ground.floor:
        for ring in (part.shell, *part.holes):
            for a, b in pairs(ring):
                if abs(a[i] - b[i]) >= 0.5 or abs(a[1 - i] - b[1 - i]) < MODULE:
                    continue
                middle = (a[1 - i] + b[1 - i]) / 2
                beside = (a[0] + 0.01, middle) if i == 0 else (middle, a[1] + 0.01)
                out = 1 if contains(part, beside) else -1
                gap = min(((t - a[i]) * out for t in at if (t - a[i]) * out > 0), default=math.inf)
                narrow += not NEEDLE - 1e-6 <= gap <= SIZES.overhang + 1e-6
    off = first < FOOT / 2 + SIZES.strip - 1e-6 or first > SIZES.first_most + 1e-6
    return {"first lines by walls": off, "lines at joints": joints, "lines at doors": doors, "wide edges": narrow}


def _moved(ground: Ground, i: int, place: float) -> float:
    """Beside a joint that the line would run along."""
    for axis, reach in zip(ground.joint_axes.tolist(), ground.joint_reach.tolist(), strict=True):
        ends = (axis[i], axis[i + 2])
        if all(abs(e - place) < reach for e in ends):
            corner = ground.corner[i]
            before = corner + math.floor(min(ends) - reach - corner + 1e-6)
            after = corner + math.ceil(max(ends) + reach - corner - 1e-6)
            return before if place - before <= after - place + 1e-6 else after
    return place
