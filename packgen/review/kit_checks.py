"""Checks of what is set on the base: legs, rail pieces, boards over rails."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.worked import FILE, ON_PLAN, By, Given
from packgen.heights.bounds import longest_given
from packgen.heights.kit_range import kit_range
from packgen.heights.model import LegSetting
from packgen.heights.part_lines import NEAREST
from packgen.project.given import given
from packgen.review.figure import limited
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.trade.limits import board_span

APART = 4  # up to so many places are told one by one, more as one finding that names them


def leg_out_of_range(job: Job) -> Iterator[Finding]:
    """Legs that the kit cannot set: each by itself while they are few, else all of one kind together."""
    parts = kit_range(job.project.kit)
    wrong = [leg for leg in job.heights.legs if not leg.fits]
    short = [leg for leg in wrong if leg.leg_mm < parts.shortest]
    long = [leg for leg in wrong if leg.leg_mm > parts.longest]
    between = [leg for leg in wrong if parts.shortest <= leg.leg_mm <= parts.longest]
    for legs, each in ((short, _too_short), (long, _too_long), (between, _between)):
        groups = [[leg] for leg in legs] if len(legs) <= APART else [legs]
        yield from (each(job, group) for group in groups)


def _places(legs: list[LegSetting]) -> tuple[LegSetting, str, str]:
    """The worst leg, where, and a tail for the sentence that names the others."""
    worst = max(legs, key=lambda leg: leg.short_by_mm)
    if len(legs) == 1:
        return worst, worst.node, ""
    names = figures.listed([leg.node for leg in legs])
    return worst, names, f" {many(len(legs), 'leg')} in all: {names}."


def _would_be(leg_mm: int) -> str:
    """The leg in words, also where the base leaves no room for one."""
    if leg_mm <= 0:
        high = f"{-leg_mm} above" if leg_mm else "as high as"
        return f"the base stands {high} the rail top and no leg fits"
    return f"the leg would be {leg_mm}"


def _too_short(job: Job, legs: list[LegSetting]) -> Finding:
    worst, where, rest = _places(legs)
    least, by = kit_range(job.project.kit).shortest, worst.short_by_mm
    down = "what each leg is short" if rest else f"{by}"
    return found(
        "stop",
        "leg-out-of-range",
        f"At {worst.node} {_would_be(worst.leg_mm)}; {mm(least)} is the shortest that can be set. {by} short.{rest}",
        where=where,
        number=By(worst.leg_mm, f"node/{worst.node}/leg"),
        limit=given(job.project.kit.shortest_leg, "shortest", "shortest leg", least),
        unit="mm",
        source=FILE,
        cures=(
            f"take {down} off the base there",
            f"raise the finished level {by}{_new_steps(job, by)}",
            "move the line so that no leg stands there",
        ),
        place=job.project.kit.marks.of("leg"),
    )


def _too_long(job: Job, legs: list[LegSetting]) -> Finding:
    worst, where, rest = _places(legs)
    most, by = kit_range(job.project.kit).longest, worst.short_by_mm
    return found(
        "stop",
        "leg-out-of-range",
        f"At {worst.node} the leg would be {worst.leg_mm}; {mm(most)} is the longest that can be set. "
        f"{by} too long.{rest}",
        where=where,
        number=By(worst.leg_mm, f"node/{worst.node}/leg"),
        limit=longest_given(job.project.kit, kit_range(job.project.kit)),
        unit="mm",
        source=FILE,
        cures=(
            f"hard packing or an extension that gives {by} more, entered under kit",
            f"build the base up there by {by}",
            f"lower the finished level {by}{_new_steps(job, -by)}",
        ),
        place=job.project.kit.marks.of("leg"),
    )


def _between(job: Job, legs: list[LegSetting]) -> Finding:
    worst, where, rest = _places(legs)
    parts = kit_range(job.project.kit)
    ends = [e for _, lo, hi in parts.ranges for e in (lo, hi)]
    nearest = min(ends, key=lambda e: abs(e - worst.leg_mm))
    sets = figures.listed([f"{mm(lo)} to {mm(hi)}" for _, lo, hi in parts.ranges])
    return found(
        "stop",
        "leg-out-of-range",
        f"At {worst.node} {_would_be(worst.leg_mm)}; the parts in the file set {sets} and nothing between. "
        f"{worst.short_by_mm} outside.{rest}",
        where=where,
        number=By(worst.leg_mm, f"node/{worst.node}/leg"),
        limit=Given("nearest length that can be set", nearest, "mm", NEAREST),
        unit="mm",
        source=FILE,
        cures=(
            f"hard packing of {worst.short_by_mm} or more under the foot, entered under kit",
            "an extension that adds less",
        ),
        place=job.project.kit.marks.of("leg"),
    )


def _new_steps(job: Job, up_mm: float) -> str:
    """What raising the finished level does at each door of the inside: " (step at hall door then 3 up)"."""
    steps = []
    for door in job.judged_doors:
        step = door.step_mm + up_mm
        over = f", {mm(door.limit_mm)} is allowed" if abs(step) > door.limit_mm else ""
        turn = "up" if step > 0 else "down"
        steps.append(f"{door.door} then {mm(abs(step))} {turn if step else 'flush'}{over}".replace("0 flush", "flush"))
    return f" (step at {'; at '.join(steps)})" if steps else ""


def small_piece(job: Job) -> Iterator[Finding]:
    """Rail pieces shorter than the kit allows, and rail ends too short to clip."""
    least = job.project.kit.smallest_cut_piece
    short = [p for p in job.layout.pieces if p.length_mm < least]
    names = [p.id for p in short] + list(job.layout.short_pieces)
    if not names:
        return
    number = min((p.length_mm for p in short), default=None)
    ends = f" as short as {number}" if number is not None else " too short to clip"
    yield found(
        "caution",
        "small-piece",
        f"{many(len(names), 'rail end')}{ends}, and shorter than {mm(least)} it tips: {figures.listed(names)}.",
        where=figures.listed(names),
        number=None if number is None else Given("shortest piece", number, "mm", ON_PLAN),
        limit=given(job.project.kit, "smallest cut piece", "smallest piece to be cut", least),
        unit="mm",
        source=FILE,
        cures=("move the first line", "run the neighbouring piece through to the wall"),
        place=job.project.kit.marks.of("smallest cut piece"),
    )


def board_over_rails(job: Job) -> Iterator[Finding]:
    """Boards over a fill that does not bear them (wool) span from rail to rail."""
    board, module = job.fill.board_on_top, job.project.kit.module
    if board is None or job.fill.family != "wool":
        return
    span = board_span(board.thickness)
    if module > span.value:
        yield found(
            "caution",
            "board-span",
            f"{mm(board.thickness)} boards over {mm(module)} spring: wool does not bear them, and they span "
            f"{mm(span.value)}.",
            where="boards",
            number=given(job.project.kit, "module", "module of the grid", module),
            limit=limited(span, f"what a board of {mm(board.thickness)} spans"),
            unit="mm",
            source=span.source,
            cures=("thicker boards", f"a module of {mm(span.value)}" if span.value else "a fill that bears the boards"),
            place=job.project.kit.marks.of("module"),
        )


CHECKS = (leg_out_of_range, small_piece, board_over_rails)
