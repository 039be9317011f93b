"""The arithmetic of grid and pours, line by line, as it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from packgen.core.figures import clock, half_up, plain
from packgen.core.worked import FILE, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.quantities.fill import MOST_TERMS, more_given
from packgen.quantities.model import Quantities
from packgen.quantities.order_rows import rule_given
from packgen.sequence.model import Batch, Pour
from packgen.sequence.pace import Crew, Pace
from packgen.sequence.pours import fill_named, unit_of
from packgen.sequence.work_given import (
    board_rate_given,
    drum_given,
    hours_a_day_given,
    output_given,
    persons_given,
    placing_given,
    setting_up_given,
)
from packgen.sequence.work_lines import batch_key
from packgen.trade.amounts import amount_rule


def grid_line(project: Project, quantities: Quantities, crew: Crew, hours: float) -> Worked:
    """Hours of all hands to set the grid."""
    numbers = f"{plain(quantities.room_m2, 2)} / ({plain(project.rates.set_grid.value)} x {crew.persons})"
    rate = given(project.rates, "set grid", "grid that one person sets in an hour", project.rates.set_grid.value, "m²")
    return Worked(
        "grid/hours",
        "hours to set the grid",
        "area / (rate x persons)",
        numbers,
        hours,
        2,
        "h",
        FILE,
        ("rooms/area",),
        (rate, persons_given(project)),
    )


def pour_lines(
    project: Project,
    pours: Sequence[Pour],
    paces: Mapping[str, Pace],
    batches: Mapping[str, Batch | None],
    in_time: Mapping[str, int],
) -> Iterator[Worked]:
    """Litres, bags, batches, water and hours of every pour; bags of a batch once for each fill.

    in_time: bags that are finished within the working time, of each fill that has one
    """
    for name, batch in batches.items():
        if batch is not None:
            yield _batch_line(project, name, batch, in_time.get(name, 0), alone=len(batches) == 1)
    for pour in pours:
        yield from _pour_lines(project, pour, paces[pour.fill], alone=len(batches) == 1)


def _batch_line(project: Project, name: str, batch: Batch, in_time: int, alone: bool) -> Worked:
    makes = plain(fill_named(project, name).bag.makes)
    rule = amount_rule("drum_used")
    formula = "useful part x drum / litres per bag, rounded down"
    numbers = f"floor({plain(rule.value)} x {plain(batch.drum_l)} / {makes})"
    if batch.overfull:
        formula, numbers = f"{formula}; one bag at least", f"max(1, {numbers})"
    elif batch.limited_by == "working time":
        formula = f"{formula}; or what is finished in the working time"
        numbers = f"min({in_time}, {numbers})" if in_time else f"max(1, min({in_time}, {numbers}))"
    bag = fill_named(project, name).bag
    figures = (
        rule_given("drum_used"),
        drum_given(project, batch),
        given(bag, "makes", "litres that a bag makes", bag.makes, "L"),
    )
    limited = batch.limited_by == "working time" and not batch.overfull
    return Worked(
        batch_key(name, alone),
        "bags in a batch",
        formula,
        numbers,
        batch.bags,
        0,
        "bags",
        rule.source,
        (f"batch/{name}/in time",) if limited else (),
        figures,
    )


def _pour_lines(project: Project, pour: Pour, pace: Pace, alone: bool) -> Iterator[Worked]:
    fill, key = fill_named(project, pour.fill), f"pour/{pour.number}"
    *parts, litres = _sum_lines(pour, key, "litres", [t.volume_l for t in pour.turns], 0, "L")
    yield from parts
    yield litres
    factor = f"{pour.volume_l} x (1 + {plain(fill.settles, 4)}) x (1 + {plain(fill.waste, 4)})"
    unit = unit_of(fill)
    bags = Worked(
        f"{key}/bags",
        f"{unit} for pour {pour.number}",
        f"litres x (1 + settles) x (1 + waste) / litres per {unit[:-1]}, rounded up",
        f"ceil({factor} / {plain(fill.bag.makes)})",
        pour.bags,
        0,
        unit,
        FILE,
        (litres.key,),
        (*more_given(fill), given(fill.bag, "makes", f"litres that a {unit[:-1]} makes", fill.bag.makes, "L")),
    )
    yield bags
    if pour.batches:
        yield Worked(
            f"{key}/batches",
            f"batches of pour {pour.number}",
            "bags / bags in a batch, rounded up",
            f"ceil({pour.bags} / {pour.bags_per_batch})",
            pour.batches,
            0,
            "batches",
            needs=(bags.key, batch_key(pour.fill, alone)),
        )
    if fill.water is not None and pour.bags_per_batch:
        for name, each in (("least", fill.water.least), ("most", fill.water.most)):
            yield Worked(
                f"{key}/water/{name}",
                f"{name} water of a batch, pour {pour.number}",
                "bags in a batch x water for a bag",
                f"{pour.bags_per_batch} x {plain(each)}",
                half_up(pour.bags_per_batch * each, 2),
                2,
                "L",
                FILE,
                (batch_key(pour.fill, alone),),
                (given(fill.water, name, f"{name} water for a bag", each, "L"),),
            )
    yield _hours_line(project, pour, pace, key)


def area_lines(pours: Sequence[Pour]) -> Iterator[Worked]:
    """Area of every pour, which is placed and finished."""
    for p in pours:
        yield from _sum_lines(p, f"pour/{p.number}", "area", [t.area_m2 for t in p.turns], 4, "m²")


def more_pour_lines(project: Project, pours: Sequence[Pour], paces: Mapping[str, Pace], crew: Crew) -> Iterator[Worked]:
    """Bags of the last batch, water in all and of the last batch, and when work begins and ends."""
    for p in pours:
        fill, key = fill_named(project, p.fill), f"pour/{p.number}"
        if p.batches:
            yield Worked(
                f"{key}/last batch",
                f"bags in the last batch of pour {p.number}",
                "bags - full batches x bags in a batch",
                f"{p.bags} - ({p.batches} - 1) x {p.bags_per_batch}",
                p.last_batch_bags,
                0,
                "bags",
                None,
                (f"{key}/bags", f"{key}/batches", batch_key(p.fill, len(paces) == 1)),
            )
        for what, bags, need in (("all", p.bags, f"{key}/bags"), ("last", p.last_batch_bags, f"{key}/last batch")):
            if fill.water is not None and bags:
                for name, each in (("least", fill.water.least), ("most", fill.water.most)):
                    yield Worked(
                        f"{key}/water/{what}/{name}",
                        f"{name} water of {'all bags' if what == 'all' else 'the last batch'}, pour {p.number}",
                        "bags x water for a bag",
                        f"{bags} x {plain(each)}",
                        half_up(bags * each, 2),
                        2,
                        "L",
                        FILE,
                        (need,),
                        (given(fill.water, name, f"{name} water for a bag", each, "L"),),
                    )
        yield _start_line(p, key)
        yield _work_ends_line(project, p, crew, key)
        yield _end_line(project, p, paces[p.fill], key)


def _start_line(pour: Pour, key: str) -> Worked:
    rule = rule_given("start")
    name = f"work begins on the day of pour {pour.number}"
    numbers, unit = plain(pour.starts_at), f"h: {clock(pour.starts_at)}"
    return Worked(f"{key}/start", name, "as usual", numbers, pour.starts_at, 2, unit, rule.source, (), (rule,))


def _work_ends_line(project: Project, pour: Pour, crew: Crew, key: str) -> Worked:
    hours = hours_a_day_given(project, crew)
    return Worked(
        f"{key}/work ends",
        f"work ends on the day of pour {pour.number}",
        "start + hours of a working day",
        f"{plain(pour.starts_at)} + {plain(hours.value, 4)}",
        half_up(pour.work_ends_at, 2),
        2,
        f"h: {clock(pour.work_ends_at)}",
        FILE,
        (f"{key}/start",),
        (hours,),
    )


def _end_line(project: Project, pour: Pour, pace: Pace, key: str) -> Worked:
    """Start, half of setting up and cleaning, and the hours of filling, which are not rounded on the way."""
    hours = _hours_line(project, pour, pace, key)
    rule = amount_rule("setting_up_mixed" if fill_named(project, pour.fill).mixed else "setting_up_dry")
    return Worked(
        f"{key}/end",
        f"last bay of pour {pour.number} done",
        f"start + half of setting up and cleaning + hours of filling ({hours.formula})",
        f"{plain(pour.starts_at)} + {plain(pace.setting_up_h)} / 2 + {hours.numbers}",
        half_up(pour.ends_at, 2),
        2,
        f"h: {clock(pour.ends_at)}",
        rule.source,
        (f"{key}/start", *hours.needs),
        (setting_up_given(project, pour, pace), *hours.given),
    )


def _sum_lines(
    pour: Pour, key: str, what: Literal["litres", "area"], figures: Sequence[float], digits: int, unit: str
) -> list[Worked]:
    """The sum over a pour's bays; of many bays first so many at a time, in the order they are filled."""
    name, bays = f"{what} of pour {pour.number}", pour.bays
    parts = range(0, len(bays), MOST_TERMS)
    lines = []
    for start in parts:
        some, own = bays[start : start + MOST_TERMS], figures[start : start + MOST_TERMS]
        alone = len(parts) == 1
        lines.append(
            Worked(
                f"{key}/{what}" if alone else f"{key}/{what}/{start // MOST_TERMS + 1}",
                name if alone else f"{name}, bays {some[0]} to {some[-1]}",
                "sum of its bays" if alone else "sum of these bays",
                " + ".join(plain(v, 4) for v in own),
                half_up(sum(own), digits),
                digits,
                unit,
                needs=tuple(f"bay/{b}/{what}" for b in some),
            )
        )
    if len(lines) > 1:
        terms, needs = " + ".join(plain(w.value, 4) for w in lines), tuple(w.key for w in lines)
        total = half_up(sum(figures), digits)
        lines.append(Worked(f"{key}/{what}", name, "sum of its parts", terms, total, digits, unit, needs=needs))
    return lines


def _hours_line(project: Project, pour: Pour, pace: Pace, key: str) -> Worked:
    """Hours of filling: the slowest part of the work, boards added."""
    fill, rates = fill_named(project, pour.fill), project.rates
    litres, area = plain(pour.volume_l), plain(sum(t.area_m2 for t in pour.turns), 4)
    parts, words, figures = [], [], []
    if pace.mixed_l:
        output = output_given(project)
        parts.append(f"{litres} x (1 + {plain(fill.waste, 4)}) / {plain(output.value)}")
        words.append("litres x (1 + waste) / output of the mixer")
        figures += [given(fill, "waste", "waste, share of the litres", fill.waste, ""), output]
    placed = f"({plain(rates.place_fill.value)} x {pace.persons})"
    parts.append(f"{litres if pace.placed_l else area} / {placed}")
    words.append(f"{'litres' if pace.placed_l else 'area'} / (placing rate x persons placing)")
    figures += placing_given(project, pace)
    if pace.finished_m2 and rates.finish is not None:
        parts.append(f"{area} / ({plain(rates.finish.value)} x {pace.persons})")
        words.append("area / (finishing rate x persons)")
        figures.append(given(rates, "finish", "area that one person finishes in an hour", rates.finish.value, "m²"))
    if pace.alone:
        numbers, formula = " + ".join(parts), " + ".join(words)
    else:
        numbers = f"max({', '.join(parts)})" if len(parts) > 1 else parts[0]
        formula = f"largest of {'; '.join(words)}" if len(parts) > 1 else words[0]
    if pace.boarded:
        numbers += f" + {area} / ({plain(1 / pace.boarded)} x {pace.persons})"
        formula += " + area / (boarding rate x persons)"
        figures.append(board_rate_given(project))
    needs = (
        *([f"{key}/litres"] if pace.mixed_l or pace.placed_l else []),
        *([f"{key}/area"] if pace.placed_m2 or pace.finished_m2 or pace.boarded else []),
    )
    name = f"hours of pour {pour.number}"
    return Worked(f"{key}/hours", name, formula, numbers, pour.hours, 2, "h", FILE, needs, tuple(figures))
