"""The lines of arithmetic behind an outline: closing errors, residuals, way round, area."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.place import Place
from packgen.core.plane import Point, arc_radius, area, pairs, ring_area
from packgen.core.worked import Given, Source, Worked
from packgen.project.given import given, place_of
from packgen.project.room_model import Room, Tape, Wall
from packgen.survey.model import CheckTape, CutOut, OtherMeasure, WallLine
from packgen.survey.outline import Adjusted, directions
from packgen.survey.traverse import compass_rule

BY_COORDINATES = Source("area by coordinates, surveying handbooks", known="practice")
WALKED = Source("closed traverse, surveying handbooks", known="practice")


def outline_lines(
    room: Room,
    fit: Adjusted,
    walls: Sequence[WallLine],
    tapes: Sequence[CheckTape],
    stays: Sequence[CutOut],
    prefix: str,
    net_m2: float,
) -> tuple[Worked, ...]:
    """Closing errors and residuals, curved walls, area."""
    lines: list[Worked] = []
    if fit.by == "compass rule":
        lines += _bearing_closing(room, prefix)
    elif fit.closing_xy_mm:
        lines += _closing(room, prefix)
    else:
        lines += [_wall(w, wall, room, fit, prefix) for w, wall in zip(walls, room.walls, strict=True)]
    lines += [_tape(t, tape, room, fit, prefix) for t, tape in zip(tapes, room.check_tapes, strict=True)]
    lines += _others(room, fit, prefix)
    lines += [_curved(w, wall, room, fit, prefix) for w, wall in zip(walls, room.walls, strict=True) if w.rise_mm]
    gross = _area(f"{prefix}area/gross" if stays else f"{prefix}area", room, fit, walls)
    lines.append(gross)
    if stays:
        lines.append(_net(room, prefix, gross, stays, net_m2))
    return tuple(lines)


def _found(room: Room, fit: Adjusted, says: str, value: float, unit: str = "mm") -> Given:
    """A figure of the adjusted outline, which comes from all the tapes of the room together."""
    source = Source(f"outline of {room.name} from its tapes: {fit.by}", known="calculated")
    return Given(says, value, unit, source, place_of(room, "walls"))


def way_round(room: Room, fit: Adjusted, walls: Sequence[WallLine], prefix: str) -> Worked:
    """The way round the room along the adjusted walls, along the arc of a curved one."""
    exact = half_up(sum(w.length_mm for w in walls), 1)
    for digits in (1, 2, 3):
        sides = [half_up(w.length_mm, digits) for w in walls]
        if half_up(sum(sides), 1) == exact:
            break
    return Worked(
        f"{prefix}around",
        f"way round {room.name}",
        "sum of the walls",
        " + ".join(plain(s) for s in sides),
        exact,
        1,
        "mm",
        WALKED,
        given=tuple(_found(room, fit, f"wall {k} of the outline", s) for k, s in enumerate(sides, 1)),
    )


def _closing(room: Room, prefix: str) -> list[Worked]:
    out = []
    steps = directions(room.walls)
    for axis, name in ((0, "along wall 1"), (1, "into the room")):
        there = [w.length for w, s in zip(room.walls, steps, strict=True) if s[axis] > 0]
        back = [w.length for w, s in zip(room.walls, steps, strict=True) if s[axis] < 0]
        more, less = (there, back) if sum(there) >= sum(back) else (back, there)
        value = sum(more) - sum(less)
        out.append(
            Worked(
                f"{prefix}closing/{'xy'[axis]}",
                f"closing error {name}",
                "walls one way - walls the other way",
                f"({' + '.join(map(plain, more))}) - ({' + '.join(map(plain, less))})",
                half_up(value, 1),
                0 if float(value).is_integer() else 1,
                "mm",
                WALKED,
                given=tuple(
                    given(w, "length", f"wall {w.number} as taped", float(w.length))
                    for w, s in zip(room.walls, steps, strict=True)
                    if s[axis]
                ),
            )
        )
    return out


def _bearing_closing(room: Room, prefix: str) -> Iterator[Worked]:
    """What latitudes and departures, to a hundredth of a mm, fail to add up to nothing by."""
    legs = compass_rule([(w.length, w.bearing or 0.0) for w in room.walls]).legs
    ways = (
        ("n", "to the north", "cos", [g.latitude_mm for g in legs]),
        ("e", "to the east", "sin", [g.departure_mm for g in legs]),
    )
    for axis, way, name, exact in ways:
        parts = [half_up(v, 2) for v in exact]
        more, less = [v for v in parts if v > 0], [-v for v in parts if v < 0]
        if sum(more) < sum(less):
            more, less = less, more
        yield Worked(
            f"{prefix}closing/{axis}",
            f"closing error {way}",
            f"walls one way - walls the other way, each its length x {name} bearing",
            f"({' + '.join(map(plain, more))}) - ({' + '.join(map(plain, less))})",
            half_up(sum(more) - sum(less), 1),
            1,
            "mm",
            WALKED,
            given=tuple(
                given(w, "bearing", f"wall {w.number} {way}, length x {name} bearing", abs(v))
                for w, v in zip(room.walls, parts, strict=True)
            ),
        )


def _wall(w: WallLine, wall: Wall, room: Room, fit: Adjusted, prefix: str) -> Worked:
    there = half_up(w.line.length_mm, 1)
    what = f"{w.name}, corner to corner" if w.rise_mm else w.name
    return _against(
        f"{prefix}wall/{w.number}",
        what,
        w.taped_mm,
        there,
        (
            given(wall, "length", f"{what} as taped", w.taped_mm),
            _found(room, fit, f"{what} on the outline", there),
        ),
    )


def _tape(t: CheckTape, tape: Tape, room: Room, fit: Adjusted, prefix: str) -> Worked:
    there = half_up(t.from_outline_mm, 1)
    what = f"corner {t.start} to corner {t.end}"
    return _against(
        f"{prefix}tape/{t.start}-{t.end}",
        what,
        t.taped_mm,
        there,
        (given(tape, "length", f"tape from {what}", t.taped_mm), _found(room, fit, f"{what} on the outline", there)),
    )


def _against(key: str, what: str, taped: float, there: float, starts: tuple[Given, ...]) -> Worked:
    """A residual: what was taped against the outline."""
    longer = taped >= there
    return Worked(
        key,
        f"{what}: taped {'longer' if longer else 'shorter'} than the outline by",
        "taped - from the outline" if longer else "from the outline - taped",
        f"{plain(taped)} - {plain(there)}" if longer else f"{plain(there)} - {plain(taped)}",
        half_up(abs(taped - there), 1),
        1,
        "mm",
        WALKED,
        given=starts,
    )


def _others(room: Room, fit: Adjusted, prefix: str) -> Iterator[Worked]:
    """Angles and offsets against the outline, sizes without a sign."""
    seen: dict[str, int] = {}
    for m in fit.others:
        digits = 2 if m.what == "angle" else 1
        given_, there = half_up(abs(m.measured), max(digits, 2)), half_up(abs(m.from_outline), digits)
        if (m.measured < 0) != (m.from_outline < 0) and min(given_, there) > 0:
            continue
        larger = given_ >= there
        what = {
            "angle": f"inside angle at corner {m.corner}",
            "along": f"corner {m.corner} along the base line",
            "beside": f"corner {m.corner} beside the base line",
        }[m.what]
        key = f"{prefix}{'angle' if m.what == 'angle' else 'offset'}/{m.corner}"
        key += "" if m.what == "angle" else f"-{m.what}"
        seen[key] = seen.get(key, 0) + 1
        key += f"-{seen[key]}" if seen[key] > 1 else ""
        yield Worked(
            key,
            f"{what}: measured {'more' if larger else 'less'} than the outline by",
            "measured - from the outline" if larger else "from the outline - measured",
            f"{plain(given_)} - {plain(there)}" if larger else f"{plain(there)} - {plain(given_)}",
            half_up(abs(given_ - there), digits),
            digits,
            "degrees" if m.what == "angle" else "mm",
            WALKED,
            given=(
                Given(f"{what} as measured", given_, "degrees" if m.what == "angle" else "mm", place=_told(room, m)),
                _found(room, fit, f"{what} on the outline", there, "degrees" if m.what == "angle" else "mm"),
            ),
        )


def _told(room: Room, m: OtherMeasure) -> Place | None:
    """Where an angle or an offset stands in the file."""
    if m.what == "angle":
        return place_of(room.walls[m.corner - 2], "angle")
    key = "along" if m.what == "along" else "away"
    return next((place_of(o, key) for o in room.offsets if o.corner == m.corner), place_of(room, "corners"))


def _curved(w: WallLine, wall: Wall, room: Room, fit: Adjusted, prefix: str) -> Worked:
    """Radius of a curved wall from its chord and rise; its length follows from both."""
    chord, rise = half_up(w.line.length_mm, 1), half_up(abs(w.rise_mm), 1)
    return Worked(
        f"{prefix}curve/{w.number}",
        f"{w.name}: radius of the curve ({plain(half_up(w.length_mm, 0))} long along it)",
        "(chord x chord / 4 + rise x rise) / (2 x rise)",
        f"({plain(chord)} x {plain(chord)} / 4 + {plain(rise)} x {plain(rise)}) / (2 x {plain(rise)})",
        half_up(arc_radius(chord, rise), 0),
        0,
        "mm",
        Source("intersecting chords, Euclid III.35", known="memory"),
        given=(
            _found(room, fit, f"{w.name} from corner to corner", chord),
            given(wall, "rise", f"{w.name} bows", rise)
            if wall.rise is not None
            else _found(room, fit, f"{w.name} bows", rise),
        ),
    )


def _area(key: str, room: Room, fit: Adjusted, walls: Sequence[WallLine]) -> Worked:
    """Area by coordinates; so many decimals of the corners that the line gives the printed area.

    Between a curved wall and its chord lies a piece more, or less.
    """
    corners = fit.corners
    bows = [(w, _bow_m2(w)) for w in walls if w.rise_mm]
    exact = half_up(ring_area(corners) / 1e6 + sum(b for _, b in bows), 2)
    for digits in (0, 1, 2, 3):
        at = [(half_up(x, digits), half_up(y, digits)) for x, y in corners]
        pieces = [(w, half_up(b, digits + 2)) for w, b in bows]
        if half_up(ring_area(at) / 1e6 + sum(b for _, b in pieces), 2) == exact:
            break
    terms = []
    for (ax, ay), (bx, by) in pairs(at):
        for sign, p, q in (("+", ax, by), ("-", bx, ay)):
            if p and q:
                turned = (p < 0) != (q < 0)
                terms.append((("-" if sign == "+" else "+") if turned else sign, f"{plain(abs(p))} x {plain(abs(q))}"))
    plus = " + ".join(t for s, t in terms if s == "+")
    minus = "".join(f" - {t}" for s, t in terms if s == "-")
    return Worked(
        key,
        f"area of {room.name}" + (", all" if key.endswith("gross") else ""),
        "half of (each corner's x x next y, less next x x y, all added)"
        + (", and what lies between curved walls and their chords" if bows else ""),
        f"({plus}{minus}) / 2 / 1000000" + "".join(f" {'+' if b > 0 else '-'} {plain(abs(b), 5)}" for _, b in pieces),
        exact,
        2,
        "m²",
        BY_COORDINATES,
        given=tuple(
            _found(room, fit, f"corner {k}, {way}", abs(c))
            for k, spot in enumerate(at, 1)
            for way, c in zip(("along wall 1", "from wall 1"), spot, strict=True)
            if c
        )
        + tuple(_found(room, fit, f"between {w.name} and its chord", abs(b), "m²") for w, b in pieces),
    )


def _bow_m2(w: WallLine) -> float:
    """Area between a curved wall and its chord, as drawn; below 0 where it bows into the room."""
    path: tuple[Point, ...] = (*w.path, w.line.b)
    return ring_area(path) / 1e6


def _net(room: Room, prefix: str, gross: Worked, stays: Sequence[CutOut], net_m2: float) -> Worked:
    value = half_up(net_m2, 2)
    cut = {digits: [half_up(area(c.shape) / 1e6, digits) for c in stays] for digits in (2, 3, 4)}
    digits = next((d for d in (2, 3, 4) if half_up(gross.value - sum(cut[d]), 2) == value), 4)
    numbers = f"{plain(gross.value)} - " + " - ".join(plain(c, 4) for c in cut[digits])
    result = half_up(gross.value - sum(cut[digits]), 2)
    return Worked(
        f"{prefix}area",
        f"area of {room.name}, less what stays in it",
        "all - what stays",
        numbers,
        result,
        2,
        "m²",
        BY_COORDINATES,
        (gross.key,),
        tuple(
            Given(f"plan area of {c.name}", v, "m²", BY_COORDINATES, _stands(room, c))
            for c, v in zip(stays, cut[digits], strict=True)
        ),
    )


def _stands(room: Room, cut: CutOut) -> Place | None:
    """Where what stays in the room is written in the file."""
    return next((place_of(o, "name") for o in room.obstacles if o.name == cut.name), None)
