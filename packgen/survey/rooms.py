"""A room of the project file to its adjusted outline, with the lines of arithmetic behind it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packgen.core.figures import half_up, plain
from packgen.core.place import Place
from packgen.core.plane import Point, Polygon, Segment, area, pairs, perimeter, ring_area, without
from packgen.core.worked import Given, Source, Worked
from packgen.project.given import given, place_of
from packgen.project.model import Begun, Project
from packgen.project.room_model import Room, Tape
from packgen.survey.cut_outs import cut_outs
from packgen.survey.doors import doors_of, wall_number
from packgen.survey.model import CheckTape, CutOut, RoomOutline, WallLine
from packgen.survey.outline import Adjusted, directions, right_angled, walk_right_angled
from packgen.survey.tapes import blame_right_angled, fit_room
from packgen.trade.survey import measuring

BY_COORDINATES = Source("area by coordinates, surveying handbooks", known="practice")
WALKED = Source("closed traverse, surveying handbooks", known="practice")


def outline_room(project: Project | Begun, room: Room, origin: Point) -> RoomOutline:
    """The room adjusted, with its cut-outs and doors, corner 1 at `origin`."""
    fit = _adjusted(room)
    corners = tuple((x + origin[0], y + origin[1]) for x, y in fit.corners)
    walls = _walls(room, corners)
    shell = Polygon(corners)
    single = len(project.rooms) == 1
    mine = [o for o in project.openings if o.room == room.name or (o.room is None and room is project.rooms[0])]
    drains = [d for d in project.drains if (d.room or project.rooms[0].name) == room.name]
    cuts = cut_outs(room.obstacles, drains, walls, shell, origin)
    floor = without(shell, [c.shape for c in cuts])
    stays = [c for c in cuts if c.kind == "obstacle"]
    gross = area(shell)
    net = sum(area(p) for p in without(shell, [c.shape for c in stays])) if stays else gross
    tapes = tuple(_check(t, corners) for t in room.check_tapes)
    prefix = "" if single else f"{room.name}/"
    return RoomOutline(
        name=room.name,
        corners=corners,
        walls=walls,
        floor=floor,
        cut_outs=cuts,
        doors=doors_of(mine, walls),
        area_m2=net / 1e6,
        gross_area_m2=gross / 1e6,
        perimeter_mm=perimeter(corners),
        closing_error_mm=math.hypot(*fit.closing_xy_mm) if fit.closing_xy_mm else None,
        closing_xy_mm=fit.closing_xy_mm,
        tapes=tapes,
        wall_residuals_mm=tuple(w.taped_mm - w.line.length_mm for w in walls),
        by=fit.by,
        spare_tapes=fit.spare_tapes,
        outside=room.place == "outside" if room.place else project.outside,
        worked=_worked(room, fit, tapes, stays, prefix, net / 1e6),
        further=(_around(room, fit, prefix),),
        measure=fit.measure,
        blamed=fit.blamed,
        origin=origin,
    )


def _adjusted(room: Room) -> Adjusted:
    if not right_angled(room.walls):
        return fit_room(room.walls, room.check_tapes)
    fit = walk_right_angled(room.walls, len(room.check_tapes))
    residuals = [abs(_check(t, fit.corners).residual_mm) for t in room.check_tapes]
    closing = math.hypot(*fit.closing_xy_mm) if fit.closing_xy_mm else 0.0
    if max([closing, *residuals]) <= measuring().largest_residual_mm:
        return fit
    blamed = blame_right_angled(room.walls, room.check_tapes, fit.corners)
    return Adjusted(fit.corners, fit.closing_xy_mm, fit.by, fit.spare_tapes, (), blamed)


def _walls(room: Room, corners: Sequence[Point]) -> tuple[WallLine, ...]:
    free = {wall_number(ref) for ref in room.free_edges}
    return tuple(
        WallLine(f"wall {w.number}", int(w.number), Segment(a, b), float(w.length), w.number in free)
        for w, (a, b) in zip(room.walls, pairs(corners), strict=True)
    )


def _check(tape: Tape, corners: Sequence[Point]) -> CheckTape:
    there = math.dist(corners[tape.start - 1], corners[tape.end - 1])
    return CheckTape(int(tape.start), int(tape.end), float(tape.length), there, tape.length - there, tape.marks.start)


# ------------------------------------------------------------------------------------ worked lines


def _worked(
    room: Room, fit: Adjusted, tapes: Sequence[CheckTape], stays: Sequence[CutOut], prefix: str, net_m2: float
) -> tuple[Worked, ...]:
    lines = [*(_closing(room, prefix) if fit.closing_xy_mm else ())]
    lines += [_tape(t, tape, room, fit, prefix) for t, tape in zip(tapes, room.check_tapes, strict=True)]
    gross = _area(f"{prefix}area/gross" if stays else f"{prefix}area", room, fit)
    lines.append(gross)
    if stays:
        lines.append(_net(room, prefix, gross, stays, net_m2))
    return tuple(lines)


def _found(room: Room, fit: Adjusted, says: str, value: float, unit: str = "mm") -> Given:
    """A figure of the adjusted outline, which comes from all the tapes of the room together."""
    source = Source(f"outline of {room.name} from its tapes: {fit.by}", known="calculated")
    return Given(says, value, unit, source, place_of(room, "walls"))


def _around(room: Room, fit: Adjusted, prefix: str) -> Worked:
    """The way round the room along the adjusted walls."""
    exact = half_up(perimeter(fit.corners), 1)
    for digits in (1, 2, 3):
        sides = [half_up(math.dist(a, b), digits) for a, b in pairs(fit.corners)]
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


def _tape(t: CheckTape, tape: Tape, room: Room, fit: Adjusted, prefix: str) -> Worked:
    there = half_up(t.from_outline_mm, 1)
    longer = t.taped_mm >= there
    numbers = f"{plain(t.taped_mm)} - {plain(there)}" if longer else f"{plain(there)} - {plain(t.taped_mm)}"
    return Worked(
        f"{prefix}tape/{t.start}-{t.end}",
        f"corner {t.start} to corner {t.end}: taped {'longer' if longer else 'shorter'} than the outline by",
        "taped - from the outline" if longer else "from the outline - taped",
        numbers,
        half_up(abs(t.taped_mm - there), 1),
        1,
        "mm",
        WALKED,
        given=(
            given(tape, "length", f"tape from corner {t.start} to corner {t.end}", t.taped_mm),
            _found(room, fit, f"corner {t.start} to corner {t.end} on the outline", there),
        ),
    )


def _area(key: str, room: Room, fit: Adjusted) -> Worked:
    """Area by coordinates; so many decimals of the corners that the line gives the printed area."""
    corners = fit.corners
    exact = half_up(ring_area(corners) / 1e6, 2)
    for digits in (0, 1, 2, 3):
        at = [(half_up(x, digits), half_up(y, digits)) for x, y in corners]
        if half_up(ring_area(at) / 1e6, 2) == exact:
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
        "half of (each corner's x x next y, less next x x y, all added)",
        f"({plus}{minus}) / 2 / 1000000",
        exact,
        2,
        "m²",
        BY_COORDINATES,
        given=tuple(
            _found(room, fit, f"corner {k}, {way}", abs(c))
            for k, spot in enumerate(at, 1)
            for way, c in zip(("along wall 1", "from wall 1"), spot, strict=True)
            if c
        ),
    )


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
