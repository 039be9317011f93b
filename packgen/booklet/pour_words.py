"""Words and rows about a day's fill, said in the same way on the pour sheet, the mixing sheet and the log."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from packgen.core.figures import clock, day, number, plain, round_down, round_up
from packgen.plan import Plan
from packgen.project.work_model import Fill
from packgen.sequence.model import Pour, StopLine, Turn

STEPPED = 72  # letters beyond which a stop line is shown, not said
SHORT = 24  # letters of a stop line that the head of the day has room for


@dataclass(frozen=True, slots=True)
class TurnRow:
    """Bays that are filled one after the other, as one row of a table: finished strings."""

    order: str
    bays: str
    count: int
    area: str
    depth: str
    so_far: str
    done_by: str


def counted(n: float, one: str, many: str = "") -> str:
    """A number with its noun: "1 bag", "54 bags"."""
    return f"{number(n)} {one if n == 1 else many or one + 's'}"


def fill_of(plan: Plan, pour: Pour) -> Fill:
    """The fill that is placed on a day."""
    return dict(plan.project.fills.described).get(pour.fill, plan.project.fills.used)


def fills_in_use(plan: Plan) -> tuple[Fill, ...]:
    """Every fill of the job once, in the order of the days."""
    fills: list[Fill] = []
    for pour in plan.sequence.pours:
        fill = fill_of(plan, pour)
        if not any(fill is other for other in fills):
            fills.append(fill)
    return tuple(fills) or (plan.project.fills.used,)


def pack_word(fill: Fill) -> str:
    """What a fill comes in: a bag, or a pack of wool."""
    return "pack" if fill.family == "wool" else "bag"


def range_of(water: tuple[float, float], digits: int = 1) -> str:
    """A water range that never lies outside the true one: least rounded up, most rounded down.

    >>> range_of((9.21, 11.28)), range_of((9.2, 11.2))
    ('9.3 to 11.2', '9.2 to 11.2')
    """
    least, most = round_up(water[0], digits), round_down(water[1], digits)
    if least > most:
        return plain(sum(water) / 2, digits + 1)
    return f"{number(least, digits)} to {number(most, digits)}"


def batches_said(pour: Pour) -> str:
    """How the day's bags fall into batches: "13 of 4 bags, 1 of 2"."""
    per, last = pour.bags_per_batch, pour.last_batch_bags
    if pour.batches < 2 or last == per:
        return f"each of {counted(last if pour.batches == 1 else per, 'bag')}"
    return f"{pour.batches - 1} of {counted(per, 'bag')}, 1 of {last}"


def head_line(plan: Plan, pour: Pour) -> tuple[str, ...]:
    """The day in one line, as parts: which day, people, start, bags and batches, water, night, stop."""
    fill = fill_of(plan, pour)
    parts = [
        f"DAY {pour.number} of {len(plan.sequence.pours)}",
        day(pour.date),
        counted(pour.persons, "person", "people"),
        clock(pour.starts_at),
    ]
    bags = counted(pour.bags, pack_word(fill))
    if fill.mixed and pour.batches:
        parts.append(f"{bags} = {counted(pour.batches, 'batch', 'batches')} ({batches_said(pour)})")
    else:
        parts.append(bags)
    if pour.water_per_batch_l:
        parts.append(f"water {range_of(pour.water_per_batch_l)} L a batch")
    if fill.mixed and fill.lowest_temperature is not None:
        parts.append(f"night at least {plain(fill.lowest_temperature)} °C, {forecast(pour)}")
    if pour.stop_line is None:
        parts.append("the last bay is filled today")
    else:
        where = line_of(pour.stop_line)
        parts.append(f"stop tonight at {where}" if len(where) <= SHORT else "stop tonight as below")
    return tuple(parts)


def forecast(pour: Pour) -> str:
    """The coldest night the fill must live through, as forecast."""
    known = [t for _, t in pour.nights if t is not None]
    if len(known) < len(pour.nights) or not known:
        return "no forecast for all nights: write it here ______"
    return f"forecast {plain(min(known))}"


def turn_rows(plan: Plan, pour: Pour, most: int) -> tuple[TurnRow, ...]:
    """The day's bays in order: one a row, or rows of bays taken together where that would be more than `most`."""
    before = pour.turns[0].order - 1
    return tuple(_row(group, before) for group in grouped(plan, pour.turns, most))


def grouped(plan: Plan, turns: Sequence[Turn], most: int) -> list[list[Turn]]:
    """Turns one by one; else by rows or columns of bays, neighbouring ones together: about `most` groups."""
    if len(turns) <= most:
        return [[t] for t in turns]
    at = {b.name: b for b in plan.layout.bays}
    by_row = _runs(turns, lambda t: at[t.bay].row)
    by_column = _runs(turns, lambda t: at[t.bay].column)
    runs = min(by_row, by_column, key=len)
    if len(runs) <= most:
        return runs
    full = math.ceil(len(turns) / most)
    out: list[list[Turn]] = []
    for run in runs:
        if out and len(out[-1]) + len(run) <= full:
            out[-1] += run
        else:
            out.append(list(run))
    return out


def _runs(turns: Sequence[Turn], key: Callable[[Turn], int]) -> list[list[Turn]]:
    out: list[list[Turn]] = []
    for t in turns:
        if out and key(out[-1][-1]) == key(t):
            out[-1].append(t)
        else:
            out.append([t])
    return out


def _row(group: Sequence[Turn], before: int) -> TurnRow:
    first, last = group[0], group[-1]
    area, volume = sum(t.area_m2 for t in group), sum(t.volume_l for t in group)
    closes = [t.bay for t in group if t.close_edge]
    if len(group) == 1:
        bays = f"{first.bay} *" if closes else first.bay
    else:
        bays = f"{first.bay} to {last.bay}" + (f", {len(closes)} *" if closes else "")
    return TurnRow(
        str(first.order - before) if first is last else f"{first.order - before} to {last.order - before}",
        bays,
        len(group),
        number(area, 2),
        number(volume / area) if area else "–",
        number(last.cumulative_l),
        clock(last.ends_at),
    )


def stop_said(pour: Pour, stop: StopLine, word: str = "bag") -> str:
    """An earlier stop in words, with the bags not yet opened when the work ends there."""
    left = bags_left(pour, stop)
    return f"{line_of(stop)}, after bay {stop.after_bay}, {counted(left, word)} left."


def line_of(stop: StopLine) -> str:
    """The line alone, without what is done there; one of many steps is left to the plan."""
    line = stop.says.split(",")[0].rstrip(".")
    return line if len(line) <= STEPPED else "the stepped line on the plan"


def bags_left(pour: Pour, stop: StopLine) -> int:
    """Bags of the day that stay closed when work ends at a stop."""
    return pour.bags - stop.bags_used
