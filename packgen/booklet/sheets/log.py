"""Day's log: one a day, the planned bays preprinted, the rest blank."""

from __future__ import annotations

from packgen.booklet.pour_words import counted, fill_of, line_of, pack_word, range_of, turn_rows
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import clock, day, number, plain
from packgen.plan import Plan
from packgen.project.work_model import Fill
from packgen.sequence.model import Pour

ROWS = 10
FIXED_MM = 98.0  # the lines to write on above and below the tables
LEFT_MM, RIGHT_MM = 68.0, 98.0  # the two tables side by side


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """A sheet a pour day."""
    days = plan.sequence.pours
    return tuple(
        Sheet(
            slug="log" if p.number == 1 else f"log-{p.number}",
            title="Day's log" if len(days) == 1 else f"Day's log, day {p.number} of {len(days)}",
            purpose="Write while it happens. It is the proof of the floor, and it finds a mistake later.",
            template="log.html",
            view=_view(plan, p),
            behind="fill",
        )
        for p in days
    )


def _view(plan: Plan, pour: Pour) -> dict[str, object]:
    fill = fill_of(plan, pour)
    mixed = fill.mixed
    weather, amounts = _weather(fill), _amounts(plan, pour)
    room = body_below_band(plan, "fill") - FIXED_MM - max(weather.height_mm, amounts.height_mm)
    bays = next((t for n in range(ROWS, 0, -1) if (t := _bays(plan, pour, n)).height_mm <= room), _bays(plan, pour, 1))
    return {
        "planned": f"{day(pour.date)}, start {clock(pour.starts_at)}, end {clock(pour.ends_at)}, "
        f"{counted(pour.persons, 'person', 'people')}",
        "weather": weather,
        "bays": bays,
        "amounts": amounts,
        "stop": line_of(pour.stop_line) if pour.stop_line else "the floor is full",
        "cover": mixed,
        "next": _next(plan, pour),
        "mixed": mixed,
    }


def _weather(fill: Fill) -> Table:
    least = fill.lowest_temperature
    held = fill.mixed and least is not None
    return Table(
        (Column("", width_mm=30), Column("air", "write"), Column("base", "write")),
        tuple(Row((when, "", "")) for when in ("morning", "noon", "evening", "lowest of the night")),
        f"°C, never under {plain(least or 0)}" if held else "°C",
        LEFT_MM,
    )


def _bays(plan: Plan, pour: Pour, most: int) -> Table:
    return Table(
        (
            Column("order", "number", 24),
            Column("bays, planned"),
            Column("litres so far", "number", 24),
            Column("planned by", "number", 23),
            Column("done at", "write", 28),
            Column("bags so far", "write", 28),
        ),
        tuple(Row((r.order, r.bays, r.so_far, r.done_by, "", "")) for r in turn_rows(plan, pour, most)),
    )


def _amounts(plan: Plan, pour: Pour) -> Table:
    fill = fill_of(plan, pour)
    word, water = pack_word(fill), fill.water
    rows = [(f"{word}s", number(pour.bags))]
    if pour.batches and fill.mixed:
        rows.append(("batches", number(pour.batches)))
    if pour.water_l and water:
        rows.append(("water, litres", range_of(pour.water_l, 0)))
        rows.append((f"litres a {word}", range_of((water.least, water.most), 2)))
    return Table(
        (Column("the day's", width_mm=42), Column("planned", "number", 28), Column("used", "write")),
        tuple(Row((what, planned, "")) for what, planned in rows),
        "Amounts",
        RIGHT_MM,
    )


def _next(plan: Plan, pour: Pour) -> str:
    later = [p for p in plan.sequence.pours if p.number > pour.number]
    if later:
        return f"{day(later[0].date)}: go on at bay {later[0].turns[0].bay}. First the TBM, then sweep the edge."
    walk = plan.sequence.dates.get("walk_on")
    return f"Nobody on the floor before {day(walk)}." if walk else "The last day of filling."
