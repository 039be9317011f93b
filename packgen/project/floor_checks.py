"""Faults of what lies on the plan: zones, falls, layers, services, joints, drains."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.core.place import Marks
from packgen.core.plane import Point, Polygon, Segment, area, box, common, edge_distance, inset, is_simple, without
from packgen.core.plane import contains as inside
from packgen.project.guess import likely_word
from packgen.project.room_model import Base, Drain, Joint, Room, Service, ServiceArea, drains_called
from packgen.project.walk import ring, room_of, square
from packgen.project.work_model import Fills, Zone
from packgen.trade.plausible import plausible

WHOLE = ("whole room", "the whole room", "all", "whole floor", "everything")


def _outline(room: Room) -> Polygon | None:
    """The outline as walked, where it can be known before the survey."""
    if not square(room) or len(room.walls) < 4:
        return None
    at = ring(room)
    return Polygon(tuple(at)) if is_simple(at) else None


def _rooms_of(zone: Zone, rooms: Sequence[Room]) -> list[Room]:
    for name in (zone.room, zone.covers, zone.zone):
        named = [r for r in rooms if isinstance(name, str) and r.name.casefold() == name.casefold()]
        if named:
            return named
    return list(rooms)


def zones(rooms: Sequence[Room], finishes: Sequence[Zone]) -> Iterable[Fault]:
    """Each zone names what there is; none overlap, and no floor is without one."""
    names = [r.name for r in rooms]
    known = True
    for n, zone in enumerate(finishes):
        if any(zone.zone.casefold() == z.zone.casefold() for z in finishes[:n]):
            yield Fault(zone.marks.of("zone"), "same-name", f"two zones are called '{zone.zone}'")
        if zone.room is not None and room_of(rooms, zone.room) is None:
            known = False
            says = f"zone '{zone.zone}' is in room '{zone.room}', and there is no such room"
            yield Fault(zone.marks.of("room"), "room-unknown", says, likely_word(zone.room, names))
        if isinstance(zone.covers, str) and zone.covers.casefold() not in (*WHOLE, *(r.casefold() for r in names)):
            known = False
            says = (
                f"zone '{zone.zone}' covers '{zone.covers}', which is no room: write 'whole room', a "
                f"room's name, or {{from: [0, 0], to: [2000, 3000]}}"
            )
            yield Fault(
                zone.marks.of("covers"), "covers-unknown", says, likely_word(zone.covers, ["whole room", *names])
            )
        elif isinstance(zone.covers, ServiceArea):
            (x0, y0), (x1, y1) = zone.covers.start, zone.covers.end
            if x0 == x1 or y0 == y1:
                known = False
                says = f"zone '{zone.zone}' has no size: 'from' and 'to' are opposite corners"
                yield Fault(zone.covers.marks.of("to"), "no-size", says)
        for room in _rooms_of(zone, rooms):
            yield from _zone_walls(zone, room)
        yield from _fall_and_layers(zone)
    if known:
        for room in rooms:
            yield from _zones_share_room(room, rooms, [z for z in finishes if room in _rooms_of(z, rooms)])


def _zone_walls(zone: Zone, room: Room) -> Iterable[Fault]:
    asked = [
        (zone.finished_level.at_wall, zone.marks.of("finished level"), "finished level"),
        (zone.fall.from_wall, zone.marks.of("fall"), "fall"),
        (zone.fall.to_wall, zone.marks.of("fall"), "fall"),
    ]
    for wall, place, what in asked:
        if wall is not None and not 1 <= wall <= len(room.walls):
            says = f"{what}: wall {wall} is named, and '{room.name}' has walls 1 to {len(room.walls)}"
            yield Fault(place, "wall-unknown", says)


def _level_where(zone: Zone) -> Iterable[Fault]:
    """A falling zone has its finished level at one place only: a wall, or the drain that it falls to."""
    fall, asked = zone.fall, zone.finished_level
    place = zone.marks.of("finished level")
    if asked.at_drain == "yes" and fall.to_drain is None:
        yield Fault(
            place, "level-where", f"finished level: it is given at the drain, and '{zone.zone}' falls to no drain"
        )
    elif fall.per_metre and asked.level is not None and asked.at_wall is None and asked.at_drain == "no":
        where = "at the drain" if fall.to_drain else f"at wall {fall.from_wall}"
        says = (
            f"finished level: zone '{zone.zone}' falls, so say {'where' if fall.to_drain else 'at which wall'} it has "
            f"this level, for example '50 below TBM {where}'"
        )
        yield Fault(place, "level-where", says)


def falls_to_drains(finishes: Sequence[Zone], drains: Sequence[Drain]) -> Iterable[Fault]:
    """A fall to a drain needs that drain, with its place."""
    for zone in finishes:
        if zone.fall.to_drain is not None:
            yield from _fall_to_drain(zone, zone.fall.to_drain, drains)


def _fall_to_drain(zone: Zone, said: str, drains: Sequence[Drain]) -> Iterable[Fault]:
    found = drains_called(said, drains)
    place = zone.marks.of("fall")
    if not found:
        names = [d.name or d.kind for d in drains]
        says = f"fall: no drain is called '{said}'; 'drains:' has {', '.join(names) or 'none'}"
        yield Fault(place, "drain-unknown", says, likely_word(said, names))
    elif len(found) > 1:
        yield Fault(place, "drain-unknown", f"fall: '{said}' may be one of {len(found)} drains: give each its name")
    elif found[0].at is None:
        says = f"fall: the drain '{said}' lies along a wall: write '{plain(zone.fall.per_metre)} per metre, going down "
        says += f"from wall 1 to wall {found[0].along}'"
        yield Fault(place, "drain-unknown", says)


def _fall_and_layers(zone: Zone) -> Iterable[Fault]:
    fall = zone.fall
    if fall.per_metre and fall.from_wall is not None and fall.from_wall == fall.to_wall:
        yield Fault(zone.marks.of("fall"), "fall-way", f"fall: it goes from wall {fall.from_wall} to the same wall")
    if fall.per_metre > plausible("level", "steepest_mm_per_m"):
        says = f"fall: {plain(fall.per_metre)} per metre is steeper than any floor: is it in mm per metre?"
        yield Fault(zone.marks.of("fall"), "too-large", says)
    yield from _level_where(zone)
    if zone.finished_level.level is not None and abs(zone.finished_level.level) > plausible("level", "farthest_mm"):
        says = (
            f"finished level: {plain(abs(zone.finished_level.level))} is "
            f"{plain(abs(zone.finished_level.level) / 1000)} m from the datum: is that so?"
        )
        yield Fault(zone.marks.of("finished level"), "too-large", says)
    for layer in zone.layers:
        if layer.thickness <= 0:
            says = f"{layer.name}: a layer of 0 is none: write its thickness, or take the line away"
            yield Fault(layer.marks.of("thickness"), "not-above-zero", says)
        if layer.thickness > plausible("length", "thickest_layer_mm"):
            says = (
                f"{layer.name}: {plain(layer.thickness)} mm is thicker than any layer above the rail: "
                "is there a figure too many?"
            )
            yield Fault(layer.marks.of("thickness"), "too-large", says)


def _zones_share_room(room: Room, rooms: Sequence[Room], here: Sequence[Zone]) -> Iterable[Fault]:
    if not here:
        yield Fault(room.marks.of("name"), "zone-missing", f"no zone under 'finishes' covers '{room.name}'")
        return
    whole = [z for z in here if not isinstance(z.covers, ServiceArea)]
    for zone in whole[1:]:
        says = (
            f"'{whole[0].zone}' and '{zone.zone}' both cover the whole of '{room.name}': give one of "
            f"them an area {{from: [...], to: [...]}}"
        )
        yield Fault(zone.marks.of("covers"), "zones-overlap", says)
    boxes = [(z, box(*z.covers.start, *z.covers.end)) for z in here if isinstance(z.covers, ServiceArea)]
    touch = plausible("outline", "touch_mm")
    for (a, shape_a), (b, shape_b) in itertools.combinations(boxes, 2):
        shared = [p for p in common(shape_a, shape_b) if inset(p, touch)]
        if area(shape_a) - sum(area(p) for p in shared) < 1:
            continue  # an inner zone that is named before the one round it keeps its place
        if shared and b.covers != "whole room":
            says = f"zones '{a.zone}' and '{b.zone}' overlap by {plain(sum(area(p) for p in shared) / 1e6, 2)} m²"
            yield Fault(b.marks.of("covers"), "zones-overlap", says)
    outline = _outline(room)
    if outline is None:
        return
    for zone, shape in boxes:
        if len(rooms) == 1 and not common(outline, shape):
            says = f"zone '{zone.zone}' lies outside '{room.name}'"
            yield Fault(zone.marks.of("covers"), "outside-room", says)
            return
    if not whole and boxes:
        gaps = [p for p in without(outline, [s for _, s in boxes]) if inset(p, 10 * touch)]
        if gaps:
            x, y = min(gaps[0].shell, key=lambda c: (c[1], c[0]))
            says = (
                f"{plain(sum(area(p) for p in gaps) / 1e6, 2)} m² of '{room.name}' belong to no zone, "
                f"beginning at [{plain(x, 0)}, {plain(y, 0)}]"
            )
            yield Fault(boxes[0][0].marks.of("covers"), "zone-missing", says)


def zone_fills(finishes: Sequence[Zone], fills: Fills) -> Iterable[Fault]:
    names = [name for name, _ in fills.described]
    for zone in finishes:
        if zone.fill is not None and zone.fill not in names:
            says = f"zone '{zone.zone}': '{zone.fill}' is not described under 'fills'"
            yield Fault(zone.marks.of("fill"), "fill-unknown", says, likely_word(zone.fill, names))


# --------------------------------------------------------------------------------- services, joints, drains


def services(rooms: Sequence[Room], services: Sequence[Service]) -> Iterable[Fault]:
    """Each service says where it lies and how thick it is."""
    for s in services:
        yield from _room_named(rooms, s.room, s.marks, s.name)
        home = room_of(rooms, s.room) or rooms[0]
        most = len(home.walls)
        if (s.start is None) != (s.end is None):
            yield Fault(s.marks.start, "missing-key", f"{s.name} needs both 'from' and 'to'")
        elif s.start is None and s.at is None and s.area is None and s.zone is None:
            says = (
                f"{s.name} does not say where it lies: give 'from' and 'to', 'at', or an 'area' or 'zone' with its "
                "'spacing'"
            )
            yield Fault(s.marks.start, "missing-key", says)
        elif s.zone is not None and s.area is not None:
            says = f"{s.name} has an 'area' and a 'zone': it covers one of them"
            yield Fault(s.marks.of("zone"), "key-elsewhere", says)
        elif s.zone is not None and s.spacing is None:
            yield Fault(s.marks.start, "missing-key", f"{s.name} covers a zone and lacks the 'spacing' of its pipes")
        elif s.area is not None and s.spacing is None:
            yield Fault(s.marks.start, "missing-key", f"{s.name} has an 'area' and lacks the 'spacing' of its pipes")
        elif s.outside is None and (s.start is not None or s.area is not None or s.zone is not None):
            yield Fault(s.marks.start, "missing-key", f"{s.name} lacks 'outside', the diameter over all")
        if s.spacing is not None and s.spacing <= (s.outside or 0):
            yield Fault(
                s.marks.of("spacing"),
                "not-above-zero",
                f"{s.name}: pipes {plain(s.outside or 0)} thick cannot lie {plain(s.spacing)} apart",
            )
        if s.outside is not None and s.outside <= 0:
            yield Fault(s.marks.of("outside"), "not-above-zero", f"{s.name}: 'outside' must be more than 0")
        for key, length in (("longest allowed", s.longest_allowed), ("leads", s.leads)):
            if length and length < plausible("length", "shortest_circuit_mm") / (1 if key != "leads" else 10):
                says = (
                    f"{s.name}: '{key}' is {plain(length)}, which would be {plain(length)} mm: did you "
                    f"mean {plain(length)} m?"
                )
                yield Fault(s.marks.of(key), "metres-without-unit", says, f"{plain(length)} m")
        if s.runs_along is not None and not 1 <= s.runs_along <= most:
            yield Fault(
                s.marks.of("runs along"),
                "wall-unknown",
                f"{s.name} runs along wall {s.runs_along}, and '{home.name}' has walls 1 to {most}",
            )
        if s.number > plausible("work", "most_of_a_kind"):
            yield Fault(
                s.marks.of("number"), "too-large", f"{s.name}: {s.number} side by side are more than any floor has"
            )
        if s.number < 1:
            yield Fault(s.marks.of("number"), "not-above-zero", f"{s.name}: 'number' must be 1 or more")
        if s.area is not None and (s.area.start[0] == s.area.end[0] or s.area.start[1] == s.area.end[1]):
            yield Fault(
                s.area.marks.of("to"),
                "no-size",
                f"{s.name}: its area has no size: 'from' and 'to' are opposite corners",
            )
        elif s.area is not None:
            yield from _outside(
                room_of(rooms, s.room), s.area.marks, "from", f"the area of {s.name}", box(*s.area.start, *s.area.end)
            )


def coil_zones(finishes: Sequence[Zone], services: Sequence[Service]) -> Iterable[Fault]:
    """A zone that a heating pipe covers is there."""
    names = [z.zone for z in finishes]
    for s in services:
        if s.zone is not None and s.zone.casefold() not in (n.casefold() for n in names):
            says = f"{s.name} covers zone '{s.zone}', and there is no such zone under 'finishes'"
            yield Fault(s.marks.of("zone"), "zone-unknown", says, likely_word(s.zone, names))


def _room_named(rooms: Sequence[Room], name: str | None, marks: Marks, what: str) -> Iterable[Fault]:
    """A room that something names is there."""
    if name is not None and room_of(rooms, name) is None:
        says = f"{what} is in '{name}', and there is no such room"
        yield Fault(marks.of("room"), "room-unknown", says, likely_word(name, [r.name for r in rooms]))


def _outside(
    room: Room | None, marks: Marks, key: str, what: str, shape: Polygon | None = None, line: Segment | None = None
) -> Iterable[Fault]:
    outline = _outline(room) if room is not None else None
    if room is None or outline is None:
        return
    touch = plausible("outline", "touch_mm")
    if shape is not None and not common(outline, shape):
        yield Fault(marks.of(key), "outside-room", f"{what} lies outside '{room.name}'")
    if line is not None:
        steps = [
            (line.a[0] + (line.b[0] - line.a[0]) * k / 20, line.a[1] + (line.b[1] - line.a[1]) * k / 20)
            for k in range(21)
        ]
        if not any(_in_or_at(outline, p, touch) for p in steps):
            yield Fault(marks.of(key), "outside-room", f"{what} lies outside '{room.name}'")


def _in_or_at(outline: Polygon, at: Point, touch: float) -> bool:
    return inside(outline, at) or edge_distance(outline, at) <= 10 * touch


def joints(rooms: Sequence[Room], joints: Sequence[Joint]) -> Iterable[Fault]:
    for j in joints:
        yield from _room_named(rooms, j.room, j.marks, f"the {j.kind} joint")
        if j.start == j.end:
            yield Fault(
                j.marks.of("to"), "no-size", f"the {j.kind} joint has no length: 'from' and 'to' are the same place"
            )
        else:
            line = Segment(j.start, j.end)
            yield from _outside(room_of(rooms, j.room), j.marks, "from", f"the {j.kind} joint", line=line)


def base_steps(rooms: Sequence[Room], base: Base) -> Iterable[Fault]:
    """A step of the base lies in a room and has a length."""
    for step in base.steps:
        yield from _room_named(rooms, step.room, step.marks, "the step of the base")
        if step.start == step.end:
            says = "the step of the base has no length: 'from' and 'to' are the same place"
            yield Fault(step.marks.of("to"), "no-size", says)
        else:
            line = Segment(step.start, step.end)
            yield from _outside(room_of(rooms, step.room), step.marks, "from", "the step of the base", line=line)


def drains(rooms: Sequence[Room], drains: Sequence[Drain]) -> Iterable[Fault]:
    """A channel lies along a wall of one room; a point drain has a place and a size."""
    for d in drains:
        name = d.name or d.kind
        yield from _room_named(rooms, d.room, d.marks, f"the {name}")
        home = room_of(rooms, d.room) or rooms[0]
        if d.along is not None:
            if d.start is None or d.end is None or d.width is None:
                yield Fault(
                    d.marks.start, "missing-key", f"the {name} along wall {d.along} needs 'from', 'to' and 'width'"
                )
                continue
            walls = [w for w in home.walls if w.number == d.along]
            if not walls:
                yield Fault(
                    d.marks.of("along"),
                    "wall-unknown",
                    f"the {name} lies along wall {d.along}, and '{home.name}' has walls 1 to {len(home.walls)}",
                )
            elif walls[0].curve is not None:
                says = f"the {name} lies along wall {d.along}, which is curved: only along straight walls is it planned"
                yield Fault(d.marks.of("along"), "wall-unknown", says)
            elif d.end <= d.start:
                yield Fault(
                    d.marks.of("to"),
                    "no-size",
                    f"the {name} runs from {plain(d.start)} to {plain(d.end)}: 'to' must be more than 'from'",
                )
            elif d.end > max(w.length for w in walls) + plausible("outline", "touch_mm"):
                length = max(w.length for w in walls)
                yield Fault(
                    d.marks.of("to"),
                    "door-outside-wall",
                    f"the {name} runs to {plain(d.end)}, beyond the end of wall {d.along} ({plain(length)})",
                )
            elif d.width <= 0:
                yield Fault(d.marks.of("width"), "not-above-zero", f"the {name} is 0 wide")
        elif d.at is None:
            yield Fault(
                d.marks.start,
                "missing-key",
                f"the {name} does not say where it lies: give 'along: wall 1' with 'from' and 'to', or 'at'",
            )
        elif d.diameter is None and d.size is None:
            yield Fault(d.marks.start, "missing-key", f"the {name} needs 'diameter' or 'size'")
