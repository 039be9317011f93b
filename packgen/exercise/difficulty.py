"""What makes versions equally hard, and whether two of them can be copied from each other."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from packgen.core.figures import plain, whole
from packgen.exercise.model import Blank, Case, Difficulty
from packgen.exercise.settings import Kept
from packgen.plan import Plan
from packgen.project.model import Project
from packgen.survey.model import Survey

CLOSING = ("misclosure", "correction")  # one choice among a few small figures: many pupils must share it


def difficulty_of(plan: Plan, case: Case, blanks: Sequence[Blank]) -> Difficulty:
    legs = plan.heights.legs
    lengths = [leg.leg_mm for leg in legs] or [0]
    return Difficulty(
        setups=len(case.setups),
        zones=len(plan.heights.zones),
        nodes=len(legs),
        parts=len(case.parts),
        extended=sum(leg.parts == "extension" for leg in legs),
        packed=sum(leg.parts == "packing" for leg in legs),
        misfits=sum(not leg.fits for leg in legs),
        holds=tuple(sorted({f.code for f in plan.findings if f.open_stop})),
        blanks=len(blanks),
        leg_least_mm=min(lengths),
        leg_most_mm=max(lengths),
        digits=sum(len(t.replace(".", "")) for t in printed_numbers(plan.project, case)),
    )


def unlike(plan: Plan, found: Difficulty, base: Difficulty, kept: Kept, shortest_mm: float, band: float) -> str:
    """In what a version differs in difficulty from the project it came from; "" where it does not.

    Counts of legs follow `keep` where it says so. Otherwise misfits stay as many; extensions may differ by the band.
    """
    for what in ("setups", "zones", "nodes", "parts", "blanks"):
        if getattr(found, what) != getattr(base, what):
            return f"another number of {what}"
    legs = plan.heights.legs
    below = sum(not leg.fits and leg.leg_mm < shortest_mm for leg in legs)
    counts = {"below": below, "above": found.misfits - below, "extended": found.extended, "packed": found.packed}
    for side, count in counts.items():
        wanted = getattr(kept, side)
        if wanted is not None and count != wanted:
            return f"not {wanted} legs {side}"
    planted = kept.below is not None or kept.above is not None
    if not planted and found.misfits != base.misfits:
        return "another number of legs that do not fit"
    if kept.extended is None and abs(found.extended - base.extended) > max(2.0, band * base.extended):
        return "another number of extensions"
    allowed = {*base.holds, *(("leg-out-of-range",) if kept.below or kept.above else ())}
    if (
        set(found.holds) - {"leg-out-of-range"} != set(base.holds) - {"leg-out-of-range"}
        or not set(found.holds) <= allowed
    ):
        return "other holds"
    if abs(found.digits - base.digits) > band * base.digits:
        return "more or fewer digits to copy"
    return ""


def doubtful(survey: Survey, base: Survey) -> bool:
    """Whether more readings of a version look like slips of the pen than in the project itself."""
    return len(survey.suspects) > len(base.suspects)


def not_curable(plan: Plan, kept: Kept) -> bool:
    """Whether no finished level at all would let every leg be set: a planted hold must have a cure."""
    return bool(kept.below or kept.above) and plan.heights.window.empty


def printed_numbers(project: Project, case: Case) -> tuple[str, ...]:
    """The figures that stand on a pupil's sheets to be used, as printed."""
    return tuple(plain(v) for v in _numbers(project, case))


def _numbers(project: Project, case: Case) -> Iterable[float]:
    for room in project.rooms:
        yield from (w.length for w in room.walls)
        yield from (t.length for t in room.check_tapes)
    for opening in project.openings:
        yield from (opening.start, opening.width)
    yield from (mm for _, mm in project.levels.columns_at)
    yield from (mm for _, mm in project.levels.rows_at)
    for setup in project.levels.setups:
        yield from (r.value for r in setup.readings)
        yield from (s.reading for s in (setup.start_on, setup.leave_on, setup.close_on) if s)
    yield from (end for _, low, high in case.kit.ranges for end in (low, high))
    yield from case.kit.packings
    yield from (project.kit.module, project.kit.first_line_from_wall, case.kit.rail_high_mm)
    yield case.backsight_mm
    yield abs(case.finished_mm)
    for fill in (case.fill, case.other):
        if fill is not None:
            yield from (layer.mm for layer in fill.layers)
            yield from (fill.bag_l, fill.bag_kg, fill.fresh_kg_m3, fill.hardened_kg_m3)
            yield from fill.water_l or ()
    for part in (*case.parts, *((case.whole,) if case.whole else ())):
        yield from (part.area_m2, abs(part.base_mean_mm), abs(part.base_spots_mm or 0.0))


def answer_printed(blanks: Sequence[Blank], right: Mapping[str, float], printed: Iterable[str]) -> str:
    """Kind of a blank whose answer, of three figures or more, stands on the sheet as a figure to be used; else "".

    A first line from a datum of 0 is its backsight: there the answer is a given figure by nature.
    """
    there = set(printed)
    for blank in blanks:
        if blank.kind == "height of collimation" and not blank.needs:
            continue
        if (
            blank.writing in ("level", "number")
            and abs(right[blank.id]) >= 100
            and plain(abs(right[blank.id])) in there
        ):
            return blank.kind
    return ""


def shared_answers(
    blanks: Sequence[Blank], one: Mapping[str, float], other: Mapping[str, float], without: Collection[str] = ()
) -> float:
    """Part of the blanks that two versions answer alike; choices are not counted, they are ticks.

    without: kinds of blanks that are not compared, though they count among the blanks, but for the closing of a book:
    where it is not compared it does not count either
    """
    closing = CLOSING if set(CLOSING) <= set(without) else ()
    counted = [b.id for b in blanks if b.writing != "choice" and b.id in one and b.kind not in closing]
    apart = {b.id for b in blanks if b.kind in without}
    pairs = [(one[b], other[b]) for b in counted if b in other and b not in apart]
    return sum(whole(a * 1000) == whole(b * 1000) for a, b in pairs) / len(counted) if counted else 0.0
