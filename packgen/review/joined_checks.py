"""Checks of rooms that doorways join on the plan."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.plane import Polygon, area, common, inset
from packgen.core.worked import Given
from packgen.project.room_model import Opening
from packgen.review.figure import counted, none
from packgen.review.job import Job, mm
from packgen.review.say import found
from packgen.survey.joins import JOINED
from packgen.trade.survey import measuring


def rooms_overlap(job: Job) -> Iterator[Finding]:
    """Two rooms joined through doorways that would lie on one another."""
    for a, b in itertools.combinations(job.survey.rooms, 2):
        half = measuring().rooms_meet_mm / 2
        near = [inset(Polygon(r.ring), half) for r in (a, b)]
        shared = sum(area(part) for p in near[0] for q in near[1] for part in common(p, q)) / 1e6
        if shared > 0:
            yield found(
                "stop",
                "rooms-overlap",
                f"Joined through their doorways, {a.name} and {b.name} would lie on one another by "
                f"{figures.number(shared, 2)} m².",
                where=figures.listed([a.name, b.name]),
                number=counted("floor that lies in both rooms", figures.half_up(shared, 2), "m²"),
                limit=none("floor that may lie in both rooms", "m²", JOINED),
                unit="m²",
                source=JOINED,
                cures=(
                    "measure again where the doorway begins in both walls",
                    "measure the walls beside it and the wall's thickness again",
                ),
                place=next((o.marks.start for o in job.project.openings if o.same_doorway_as), None),
            )


def doorways_meet(job: Job) -> Iterator[Finding]:
    """A doorway whose two sides miss each other, or whose walls are out of parallel."""
    m = measuring()
    for room in job.survey.rooms:
        for j in room.joined:
            o = next(o for o in job.project.openings if o.name == j.door)
            if j.miss_mm is not None and j.miss_mm > m.rooms_meet_mm:
                says = (
                    f"Round the ring of doorways the two sides of {j.door} and {j.other_door} miss each other by "
                    f"{mm(j.miss_mm)}: a wall, or where a doorway begins, is measured wrong."
                )
                number, most = Given("between the two sides", figures.half_up(j.miss_mm, 1)), m.rooms_meet_mm
                yield _meets(o, room.name, says, number, Given("that they may be apart", most, "mm", m.source), "mm")
            elif j.turn_deg > m.walls_apart_deg:
                says = (
                    f"The walls on both sides of {j.door} are out of parallel by {figures.number(j.turn_deg, 1)} "
                    f"degrees: {room.name} is drawn with its wall 1 along wall 1 of {j.other_room}, and lies a little "
                    "turned."
                )
                number = Given("angle between the walls", figures.half_up(j.turn_deg, 1), "degrees")
                most_deg = Given("that they may be apart", m.walls_apart_deg, "degrees", m.source)
                yield _meets(o, room.name, says, number, most_deg, "degrees")


def _meets(o: Opening, room: str, says: str, number: Given, limit: Given, unit: str) -> Finding:
    return found(
        "caution",
        "doorway-off",
        says,
        where=room,
        number=number,
        limit=limit,
        unit=unit,
        source=measuring().source,
        cures=("measure the doorway from both rooms again",),
        place=o.marks.start,
    )


CHECKS = (rooms_overlap, doorways_meet)
