"""The working days of a job in order, and what each needs from the days before it."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from packgen.booklet.pour_words import counted, fill_of, line_of, pack_word
from packgen.booklet.tools import boarded
from packgen.core.figures import clock, day, plain
from packgen.core.finding import Gate, holds_before
from packgen.plan import Plan
from packgen.sequence.model import Pour, WorkDay

CARDS_A_SHEET = 2
MOST_CARDS = 40


@dataclass(frozen=True, slots=True)
class Day:
    """One working day. number counts all of them from 1; grid: which day of setting legs it is, 0 for a pour."""

    number: int
    count: int
    date: datetime.date
    kind: Literal["grid", "pour"]
    grid: int
    work: WorkDay | None
    pour: Pour | None

    @property
    def gate(self) -> Gate:
        return "grid" if self.kind == "grid" else "fill"


def days_of(plan: Plan) -> tuple[Day, ...]:
    """Days of setting legs and of filling by date; on one date the legs first."""
    works = [(w.date, 0, w, None) for w in plan.sequence.work_days]
    pours = [(p.date, 1, None, p) for p in plan.sequence.pours]
    every: list[tuple[datetime.date, int, WorkDay | None, Pour | None]] = [*works, *pours]
    every.sort(key=lambda d: (d[0], d[1]))
    out: list[Day] = []
    grids = 0
    for n, (date, kind, work, pour) in enumerate(every, 1):
        grids += kind == 0
        out.append(
            Day(n, len(every), date, "pour" if kind else "grid", 0 if kind else grids, work, pour),
        )
    return tuple(out)


def carded(plan: Plan) -> tuple[Day, ...]:
    """The days that get a pocket card: a job of more days lives by its pour sheets."""
    return days_of(plan)[:MOST_CARDS]


def room_for_notice(plan: Plan) -> bool:
    """Whether the last sheet of pocket cards has half a page free, on which the notice for the door is cut out."""
    return len(carded(plan)) % CARDS_A_SHEET == 1


def ticked(items: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Each need as its first word and the rest, so that a box to tick stays with its sentence."""
    return tuple((first, rest) for first, _, rest in (item.partition(" ") for item in items))


def needs(plan: Plan, one: Day) -> tuple[str, ...]:
    """What must be finished, signed, dry or measured before this day's first job, in the order it is looked at."""
    if one.pour is not None:
        return (*_held(plan, one.gate), *(_after_grid if one.pour.number == 1 else _after_pour)(plan, one.pour))
    if one.grid > 1:
        return (
            "Yesterday's legs are ticked in the leg table, their last TBM reading at most 1 off.",
            "New backsight on TBM today, so a new target.",
        )
    return (*_held(plan, "grid"), *_before_grid(plan))


def _held(plan: Plan, gate: Gate) -> tuple[str, ...]:
    n = len(holds_before(plan.findings, gate))
    return (f"{counted(n, 'hold')} up to the gate {gate} lifted: sheet Holds.",) if n else ()


def _before_grid(plan: Plan) -> tuple[str, ...]:
    layer = " and separating layer" if plan.project.base.separating_layer else ""
    strip = f"edge strip{layer} whole" if plan.project.kit.edge_strip else f"{layer.removeprefix(' and ')} whole"
    legs, pieces = len(plan.heights.legs), len(plan.layout.pieces)
    heating = ("Heating circuits under pressure, the gauge read and written down.",) if plan.project.heating else ()
    return (
        f"Base accepted and signed, {strip.strip()}." if plan.project.kit.edge_strip or layer else "Base accepted.",
        f"{counted(legs, 'leg')} and {counted(pieces, 'rail piece')} here, cut and named.",
        *heating,
        f"Support block at each door marked from {plan.project.datum.name}; {plan.project.datum.name} read first.",
    )


def _after_grid(plan: Plan, pour: Pour) -> tuple[str, ...]:
    limits = plan.project.limits
    heating = ("Heating circuits under pressure, the gauge read this morning.",) if plan.project.heating else ()
    edges = ("Edges of the bays with * closed.",) if any(t.close_edge for t in pour.turns) else ()
    return (
        f"Grid read by a second person and signed: at most {plain(limits.rail_top)} from the target, "
        f"{plain(limits.next_node)} to the next node.",
        *edges,
        *heating,
        *_stock(plan, pour),
    )


def _after_pour(plan: Plan, pour: Pour) -> tuple[str, ...]:
    last = next(p for p in plan.sequence.pours if p.number == pour.number - 1)
    fill = fill_of(plan, pour)
    rows = []
    if last.stop_line is not None:
        rows.append(f"Pour {last.number} closed and signed in its log, stopped at {line_of(last.stop_line)}.")
        rows.append("Its edge swept" + (" and damped." if fill.cement else "."))
    else:
        rows.append(f"Pour {last.number} closed and signed in its log.")
    walk = next((w for w in plan.sequence.waiting if w.key == "walk_on" and w.pour == last.number), None)
    if walk is not None:
        rows.append(
            f"Pour {last.number} may be walked on from {day(walk.date)}"
            + (": keep off it today." if walk.date > pour.date else ".")
        )
    return (
        *rows,
        f"{plan.project.datum.name} read, the last rails of pour {last.number} checked.",
        *_stock(plan, pour),
    )


def _stock(plan: Plan, pour: Pour) -> tuple[str, ...]:
    fill = fill_of(plan, pour)
    rows = [f"{counted(pour.bags, pack_word(fill))} dry and counted" + (", boards too." if boarded(plan) else ".")]
    if pour.night_limit_c is not None:
        rows.append(f"Forecast read again: no night under {plain(pour.night_limit_c)} °C.")
    return tuple(rows)


def latest_start(pour: Pour) -> str:
    """The last time at which this day's fill can be begun and finished within the crew's hours."""
    return clock(pour.starts_at + max(0.0, pour.work_ends_at - pour.ends_at))
