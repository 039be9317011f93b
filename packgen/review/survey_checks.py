"""Checks of what was measured: tapes, levels, the laser, and how well the base is known where legs stand."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.figures import plain
from packgen.core.finding import Finding
from packgen.core.place import Place
from packgen.core.worked import FILE, ON_PLAN, PRACTICE, By, Figure, Given, Worked
from packgen.project.given import given
from packgen.project.room_model import Laser
from packgen.project.sights import error_per_m
from packgen.review.figure import limited
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.survey.model import CheckTape, RoomOutline, Suspect
from packgen.trade.grid_rules import value
from packgen.trade.limits import limit
from packgen.trade.survey import again_differs_mm, measuring

SAME_MM = 1e-6
EXPECTED = {"neighbours": "nearest level that its neighbours lead to expect", "two sights": "level by the other sight"}


def tapes_disagree(job: Job) -> Iterator[Finding]:
    """A room whose tapes and walls do not agree, or do not fix its shape."""
    for room in job.survey.rooms:
        allowed = measuring().largest_residual_mm
        worst = max(room.tapes, key=lambda t: abs(t.residual_mm), default=None)
        if room.spare_tapes < 0:
            yield _not_fixed(job, room)
        elif room.blamed or (worst and abs(worst.residual_mm) > allowed):
            yield _disagree(job, room, worst, allowed)
        elif room.spare_tapes == 0:
            yield found(
                "caution",
                "shape-unchecked",
                f"The tapes fix the shape of {room.name} with none to spare: one wrong tape would not show."
                + (f" The one that would show it: {figures.listed(room.measure, 'or')}." if room.measure else ""),
                where=room.name,
                source=measuring().source,
                cures=(f"measure {figures.listed(room.measure, 'or') or 'one more diagonal'}",),
                place=_room_place(job, room.name),
            )


def _not_fixed(job: Job, room: RoomOutline) -> Finding:
    wanted = figures.listed(room.measure, "and") or "one more diagonal"
    return found(
        "stop",
        "tapes-disagree",
        f"The tapes do not fix the shape of {room.name}. Measure {wanted}.",
        where=room.name,
        source=measuring().source,
        cures=(f"measure {wanted}",),
        place=_room_place(job, room.name),
    )


def _disagree(job: Job, room: RoomOutline, worst: CheckTape | None, allowed: float) -> Finding:
    names = room.blamed or ((f"corner {worst.start} to corner {worst.end}",) if worst else ())
    by = abs(worst.residual_mm) if worst else None
    off = f" They miss each other by {mm(by)}; {mm(allowed)} is allowed." if by is not None else ""
    if len(room.blamed) == 1 and room.would_be_mm is not None:
        says = f"{names[0]} is wrong: taped {_taped(room, names[0])}, and all the others together give "
        says += f"{plain(room.would_be_mm, 0)}. Measure it again."
    elif len(names) == 1:
        says = f"{names[0]} does not agree with the others. Measure it again.{off}"
    else:
        says = f"One of these is wrong, and the tapes cannot tell which: {figures.listed(names, 'or', 30)}. "
        says += f"Measure again.{off}"
    cures: tuple[str, ...] = (f"measure {names[0]} again",)
    if len(names) > 1:
        cures = ("measure them again", "measure another diagonal, which shows which one is wrong")
    return found(
        "stop",
        "tapes-disagree",
        says[0].upper() + says[1:],
        where=room.name,
        number=None if worst is None else _tape_figure(job, room, worst),
        limit=Given("largest difference between tape and outline", allowed, "mm", measuring().source),
        unit="mm",
        source=measuring().source,
        cures=cures,
        place=worst.place if worst else _room_place(job, room.name),
    )


def _taped(room: RoomOutline, name: str) -> str:
    """What was taped for a wall or from corner to corner."""
    wall = next((w.taped_mm for w in room.walls if w.name == name), None)
    tape = next((t.taped_mm for t in room.tapes if name == f"corner {t.start} to corner {t.end}"), 0.0)
    return plain(wall if wall is not None else tape)


def _tape_figure(job: Job, room: RoomOutline, worst: CheckTape) -> By:
    prefix = "" if len(job.survey.rooms) == 1 else f"{room.name}/"
    return By(abs(worst.residual_mm), f"{prefix}tape/{worst.start}-{worst.end}")


def _room_place(job: Job, name: str) -> Place | None:
    return next((r.marks.of("check tapes") for r in job.project.rooms if r.name == name), None)


def levels_close(job: Job) -> Iterator[Finding]:
    book, levels = job.survey.levels, job.project.levels
    if levels.read_as == "levels":
        return
    if book.misclosure_mm is None:
        yield found(
            "caution",
            "levels-not-closed",
            f"The levels were not read back to {job.datum} at the end: nobody knows whether the laser stood still.",
            where=job.datum,
            source=FILE,
            cures=(f"read {job.datum} once more from the last set-up (close on)",),
            place=levels.marks.of("setups"),
        )
    elif abs(book.misclosure_mm) > book.allowed_mm:
        yield found(
            "stop",
            "misclosure-large",
            f"The levels do not close: misclosure {mm(abs(book.misclosure_mm))} where {mm(book.allowed_mm)} is "
            "allowed.",
            where=job.datum,
            number=misclosure_figure(job, abs(book.misclosure_mm)),
            limit=given(levels, "largest misclosure", "largest misclosure allowed", book.allowed_mm)
            if book.allowed_by == FILE
            else Given("largest misclosure allowed by the rule", book.allowed_mm, "mm", book.allowed_by),
            unit="mm",
            source=book.allowed_by,
            cures=("read the levels again",),
            place=levels.marks.of("largest misclosure"),
        )


def misclosure_figure(job: Job, size: float) -> Figure:
    """The misclosure with the line of its run; of levels read as such the closing level itself."""
    runs = [w for w in job.survey.levels.worked if w.key.partition("/")[0] == "misclosure"]
    line = next((w for w in runs if abs(w.value - size) < SAME_MM), None)
    place = job.project.levels.marks.of("setups")
    return By(size, line.key) if line else Given(f"level read on {job.datum} at the end", size, "mm", FILE, place)


def stood_still(job: Job) -> Iterator[Finding]:
    """A point read again before the laser was moved reads otherwise: the laser has moved between."""
    allowed = again_differs_mm()
    for a in job.survey.levels.again:
        if abs(a.differs_mm) <= allowed:
            continue
        setup = next(s for s in job.project.levels.setups if s.name == a.setup)
        yield found(
            "caution",
            "laser-moved",
            f"{a.point} was read again from {a.setup} and reads {mm(a.reading_mm)} instead of {mm(a.expected_mm)}: the "
            "laser moved while the readings were taken.",
            where=a.point,
            number=By(abs(a.differs_mm), f"again/{a.setup}"),
            limit=Given("a point read again may differ by", allowed, "mm", measuring().source),
            unit="mm",
            source=measuring().source,
            cures=(f"read all points of {a.setup} again",),
            place=setup.read_again.marks.of("reading") if setup.read_again else setup.marks.start,
        )


def suspect_readings(job: Job) -> Iterator[Finding]:
    for s in job.survey.suspects:
        high = "above" if s.off_mm > 0 else "below"
        likely = f" Was it {figures.number(s.likely_mm)}?" if s.likely_mm is not None else ""
        if s.why == "two sights":
            says = f"{s.point} was read twice, and the two levels differ by {mm(abs(s.off_mm))}: read it again."
        else:
            says = f"{s.point} stands {mm(abs(s.off_mm))} {high} all its neighbours: read it again.{likely}"
        yield found(
            "caution",
            "reading-off-neighbours",
            says,
            where=s.point,
            number=By(s.level_mm, f"level/{s.point}"),
            limit=_expected_given(job, s),
            unit="mm",
            source=measuring().source,
            cures=(f"read {s.point} again", "feel whether there is a hump or a hole"),
            place=_reading_place(job, s),
        )


def _expected_given(job: Job, s: Suspect) -> Given:
    side = "above" if s.from_neighbours_mm > 0 else "below"
    return Given(EXPECTED[s.why], s.from_neighbours_mm, f"mm {side} {job.datum}", measuring().source)


def _reading_place(job: Job, s: Suspect) -> Place:
    for setup in job.project.levels.setups:
        for reading in setup.readings:
            if reading.spot == s.point and s.setup in ("", setup.name):
                return reading.marks.start
    return job.project.levels.marks.start


def laser(job: Job) -> Iterator[Finding]:
    """Nobody has tested the laser; for a client's pack that holds the handover."""
    record, age = job.project.laser, limit("laser_age")
    when = job.sequence.started
    tested = record.tested if record else None
    client = job.project.project.reader == "client"
    place = record.marks.start if record else job.project.levels.marks.start
    if tested is None or tested + datetime.timedelta(days=age.value) < when or tested > when:
        says = (
            "Nobody has tested that the laser line is level."
            if tested is None
            else f"The laser was tested on {figures.day(tested)}, and a test counts for six months before the work."
        )
        yield found(
            "stop" if client else "caution",
            "laser-unproved",
            says,
            where="laser",
            source=age.source,
            cures=("the two-peg test on sheet Datum: two marks, two set-ups, ten minutes",),
            place=place,
            gate="handover" if client else "grid",
        )
        return
    by_test = error_per_m(record)
    per_10_m = record.error_per_10_m if record and record.error_per_10_m is not None else abs(by_test or 0.0) * 10
    if record is not None and per_10_m:
        sight = max(max(x for x, _ in r.ring) - min(x for x, _ in r.ring) for r in job.survey.rooms)
        error, most = per_10_m * sight / 10_000, limit("laser_error")
        if error > most.value:
            yield found(
                "caution",
                "laser-unproved",
                f"Over the length of the room the laser line is {mm(error)} out; {mm(most.value)} is allowed.",
                where="laser",
                number=_error_line(record, sight),
                limit=limited(most, "largest error of the laser line over the room"),
                unit="mm",
                source=most.source,
                cures=("have the laser adjusted", "shorter sights, the laser in the middle"),
                place=place,
                gate="grid",
            )


def _error_line(record: Laser, sight_mm: float) -> Worked:
    per_10_m, length = record.error_per_10_m, figures.half_up(sight_mm, 1)
    side = Given("longest side of a room, along wall 1", length, "mm", ON_PLAN)
    if per_10_m is None:
        per_m = abs(error_per_m(record) or 0.0)
        return Worked(
            "laser/error",
            "error of the laser line over the length of the room",
            "error in a metre x length / 1000",
            f"{plain(per_m)} x {plain(length)} / 1000",
            figures.half_up(per_m * length / 1000, 2),
            2,
            "mm",
            FILE,
            ("two-peg/error",),
            (side,),
        )
    return Worked(
        "laser/error",
        "error of the laser line over the length of the room",
        "error on 10 m x length / 10000",
        f"{plain(per_10_m)} x {plain(length)} / 10000",
        figures.half_up(per_10_m * length / 10_000, 2),
        2,
        "mm",
        FILE,
        (),
        (
            given(record, "error per 10 m", "error of the laser line on 10 m", per_10_m),
            side,
        ),
    )


def names_clash(job: Job) -> Iterator[Finding]:
    """A leg and a reading of one name in different spots: whoever sets one by the other sets it wrong (J19)."""
    near = value("same_spot")
    spots = {p.id: (p.x_mm, p.y_mm) for p in job.survey.levels.points}
    apart = [
        n.id
        for n in job.layout.nodes
        if n.id in spots and max(abs(n.x_mm - spots[n.id][0]), abs(n.y_mm - spots[n.id][1])) > near
    ]
    if apart:
        yield found(
            "caution",
            "names-clash",
            f"{many(len(apart), 'leg')} and the readings of the same name are different spots: "
            f"{figures.listed(apart)}. In the level book a name means the reading, on every other sheet the leg.",
            where=figures.listed(apart),
            source=PRACTICE,
            cures=("set by the leg table only, never by the level book",),
            place=job.project.levels.marks.of("columns at"),
        )


CHECKS = (tapes_disagree, levels_close, stood_still, suspect_readings, laser, names_clash)
