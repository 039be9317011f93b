"""Pocket cards: a day on A6, with the five figures that count that day. Two a sheet, to be cut out."""

from __future__ import annotations

from packgen.booklet.days import CARDS_A_SHEET, Day, carded, latest_start, needs, room_for_notice, ticked
from packgen.booklet.pour_words import batches_said, counted, fill_of, pack_word, range_of
from packgen.booklet.rows import widest_mm
from packgen.booklet.sheet import Sheet
from packgen.booklet.sheets.waiting import door_notice
from packgen.core.figures import clock, day, number, plain
from packgen.plan import Plan
from packgen.sequence.model import Pour

WIDE_MM, NARROW_MM = 68.0, 45.0  # of a figure's box, two in a row and three
LARGE, MIDDLE = "large", "middle"  # 30 and 20 points

Figure = dict[str, str]


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Two cards a sheet, behind the gate of the first of them; each card says which holds close its own day."""
    days = carded(plan)
    pairs = [days[i : i + CARDS_A_SHEET] for i in range(0, len(days), CARDS_A_SHEET)]
    notice = door_notice(plan, (1,)) if room_for_notice(plan) and plan.sequence.pours else None
    hung = " One notice hangs at each way in." if notice else ""
    return tuple(
        Sheet(
            slug="cards" if n == 1 else f"cards-{n}",
            title="Pocket cards",
            purpose="Cut along the broken lines. One card a day, its five figures, in the pocket of whoever leads."
            + (hung if n == len(pairs) else ""),
            template="cards.html",
            view={
                "cards": tuple(_card(plan, one) for one in pair),
                "notice": notice if n == len(pairs) else None,
            },
            behind=pair[0].gate,
            part=n,
            parts=len(pairs),
        )
        for n, pair in enumerate(pairs, 1)
    )


def _card(plan: Plan, one: Day) -> dict[str, object]:
    figures = _pour_figures(plan, one.pour) if one.pour is not None else _grid_figures(plan, one)
    if one.pour is None:
        task = "Set the grid" if one.grid == 1 else "Set the grid, going on"
    else:
        task = f"Pour {one.pour.number}"
    return {
        "day": f"Day {one.number} of {one.count}",
        "date": day(one.date),
        "task": task,
        "rows": (figures[:2], figures[2:]),
        "needs": ticked(needs(plan, one)),
    }


def _figure(label: str, value: str, unit: str = "", note: str = "", wide: float = NARROW_MM) -> Figure:
    """A box: large figures, smaller where they would not fit; an empty value leaves a box to write in."""
    room = wide - 6.0 - (widest_mm((unit,)) if unit else 0.0)
    size = LARGE if widest_mm((value,), 0.0, True) * 3.0 <= room else MIDDLE
    return {"label": label, "value": value, "unit": unit, "note": note, "size": size, "wide": f"{wide:g}"}


def _grid_figures(plan: Plan, one: Day) -> tuple[Figure, ...]:
    """Backsight, target at the first master, tolerance, smallest and largest leg."""
    legs = sorted(plan.heights.legs, key=lambda leg: leg.order)
    first = next((leg for leg in legs if leg.set_with == "laser"), legs[0])
    low, high = min(legs, key=lambda leg: leg.leg_mm), max(legs, key=lambda leg: leg.leg_mm)
    today, datum = plan.project.today, plan.project.datum.name
    known = today is not None and today.date == one.date
    sight = number(today.backsight) if known and today is not None else ""
    target = str(int(today.backsight) - first.rail_top_mm) if known and today is not None else ""
    top = first.rail_top_mm
    sum_ = "the same as the backsight" if top == 0 else f"backsight + {-top}" if top < 0 else f"backsight less {top}"
    limits = plan.project.limits
    return (
        _figure(f"Today's backsight on {datum}", sight, "", "bigger is lower", WIDE_MM),
        _figure(f"Target at {first.node}, the first master", target, "", sum_, WIDE_MM),
        _figure("Off the target, at most", plain(limits.rail_top), "mm", f"to the next node {plain(limits.next_node)}"),
        _figure("Smallest leg", *_leg(low.leg_mm), f"at {low.node}, {_made(low.parts)}"),
        _figure("Largest leg", *_leg(high.leg_mm), f"at {high.node}, {_made(high.parts)}"),
    )


def _leg(mm: int) -> tuple[str, str]:
    return (str(mm), "mm") if mm > 0 else ("none", "")


def _made(parts: str) -> str:
    return (
        "plain" if parts == "plain" else f"with {parts}" if parts in ("extension", "packing") else "STOP: does not fit"
    )


def _pour_figures(plan: Plan, pour: Pour) -> tuple[Figure, ...]:
    """Bays in order, litres, bags, water a batch, time by which the last bay is struck off."""
    fill = fill_of(plan, pour)
    word = pack_word(fill)
    bays = pour.bays
    order = f"{bays[0]} to {bays[-1]}" if len(bays) > 1 else bays[0]
    if pour.water_per_batch_l:
        water = _figure("Water a batch", range_of(pour.water_per_batch_l), "L", "never more, never by eye")
    elif fill.mixed:
        water = _figure("Water a batch", "", "L", "from the bag's sheet")
    else:
        water = _figure("Water", "none", "", "this fill stays dry")
    made = f"{counted(pour.batches, 'batch', 'batches')}, {batches_said(pour)}" if fill.mixed and pour.batches else ""
    return (
        _figure(
            "Bays, first to last", order, "", f"{counted(len(bays), 'bay')} in the order of the pour sheet", WIDE_MM
        ),
        _figure("Last bay done by", clock(pour.ends_at), "", _start(pour), WIDE_MM),
        _figure("Fill in place", number(pour.volume_l), "L", f"greatest depth {number(pour.greatest_mm)}"),
        _figure(f"{word.capitalize()}s", number(pour.bags), "", made or f"each {plain(fill.bag.mass)} kg"),
        water,
    )


def _start(pour: Pour) -> str:
    latest = latest_start(pour)
    start = clock(pour.starts_at)
    return f"start {start}" + (f", at the latest {latest}" if latest != start else ", not later")
