"""The arithmetic of grid and pours, line by line, as it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, Worked
from packgen.project.model import Project
from packgen.quantities.fill import MOST_TERMS
from packgen.quantities.model import Quantities
from packgen.sequence.model import Batch, Pour
from packgen.sequence.pace import Crew, Pace
from packgen.sequence.pours import fill_named, unit_of
from packgen.trade.amounts import amount_rule


def grid_line(project: Project, quantities: Quantities, crew: Crew, hours: float) -> Worked:
    """Hours of all hands to set the grid."""
    numbers = f"{plain(quantities.room_m2, 2)} / ({plain(project.rates.set_grid.value)} x {crew.persons})"
    return Worked("grid/hours", "hours to set the grid", "area / (rate x persons)", numbers, hours, 2, "h", FILE)


def pour_lines(
    project: Project, pours: Sequence[Pour], paces: Mapping[str, Pace], batches: Mapping[str, Batch | None]
) -> Iterator[Worked]:
    """Litres, bags, batches, water and hours of every pour; bags of a batch once for each fill."""
    for name, batch in batches.items():
        if batch is not None:
            yield _batch_line(project, name, batch, alone=len(batches) == 1)
    for pour in pours:
        yield from _pour_lines(project, pour, paces[pour.fill], alone=len(batches) == 1)


def _batch_key(name: str, alone: bool) -> str:
    return "batch/bags" if alone else f"batch/{name}/bags"


def _batch_line(project: Project, name: str, batch: Batch, alone: bool) -> Worked:
    makes = plain(fill_named(project, name).bag.makes)
    rule = amount_rule("drum_used")
    formula = "useful part x drum / litres per bag, rounded down"
    numbers = f"floor({plain(rule.value)} x {plain(batch.drum_l)} / {makes})"
    if batch.overfull:
        formula, numbers = f"{formula}; one bag at least", f"max(1, {numbers})"
    elif batch.limited_by == "working time":
        formula, numbers = f"{formula}; or what is finished in the working time", f"min({batch.bags}, {numbers})"
    return Worked(_batch_key(name, alone), "bags in a batch", formula, numbers, batch.bags, 0, "bags", rule.source)


def _pour_lines(project: Project, pour: Pour, pace: Pace, alone: bool) -> Iterator[Worked]:
    fill, key = fill_named(project, pour.fill), f"pour/{pour.number}"
    *parts, litres = _litres_lines(pour, key)
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
            needs=(bags.key, _batch_key(pour.fill, alone)),
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
                (_batch_key(pour.fill, alone),),
            )
    yield _hours_line(project, pour, pace, key)


def _litres_lines(pour: Pour, key: str) -> list[Worked]:
    """The sum of a pour's bays; of many bays first so many at a time, in the order they are filled."""
    name = f"litres of pour {pour.number}"
    turns = pour.turns
    if len(turns) <= MOST_TERMS:
        needs = tuple(f"bay/{t.bay}/litres" for t in turns)
        terms = " + ".join(plain(t.volume_l) for t in turns)
        return [Worked(f"{key}/litres", name, "sum of its bays", terms, pour.volume_l, 0, "L", needs=needs)]
    lines = []
    for start in range(0, len(turns), MOST_TERMS):
        some = turns[start : start + MOST_TERMS]
        lines.append(
            Worked(
                f"{key}/litres/{start // MOST_TERMS + 1}",
                f"{name}, bays {some[0].bay} to {some[-1].bay}",
                "sum of these bays",
                " + ".join(plain(t.volume_l) for t in some),
                sum(t.volume_l for t in some),
                0,
                "L",
                needs=tuple(f"bay/{t.bay}/litres" for t in some),
            )
        )
    terms, needs = " + ".join(plain(w.value) for w in lines), tuple(w.key for w in lines)
    return [*lines, Worked(f"{key}/litres", name, "sum of its parts", terms, pour.volume_l, 0, "L", needs=needs)]


def _hours_line(project: Project, pour: Pour, pace: Pace, key: str) -> Worked:
    """Hours of filling: the slowest part of the work, boards added."""
    fill, rates = fill_named(project, pour.fill), project.rates
    litres, area = plain(pour.volume_l), plain(sum(t.area_m2 for t in pour.turns), 4)
    parts, words = [], []
    if pace.mixed_l:
        output = sum(p.output * p.number for p in project.plant if p.output is not None)
        parts.append(f"{litres} x (1 + {plain(fill.waste, 4)}) / {plain(output)}")
        words.append("litres x (1 + waste) / output of the mixer")
    placed = f"({plain(rates.place_fill.value)} x {pace.persons})"
    parts.append(f"{litres if pace.placed_l else area} / {placed}")
    words.append(f"{'litres' if pace.placed_l else 'area'} / (placing rate x persons placing)")
    if pace.finished_m2 and rates.finish is not None:
        parts.append(f"{area} / ({plain(rates.finish.value)} x {pace.persons})")
        words.append("area / (finishing rate x persons)")
    if pace.alone:
        numbers, formula = " + ".join(parts), " + ".join(words)
    else:
        numbers = f"max({', '.join(parts)})" if len(parts) > 1 else parts[0]
        formula = f"largest of {'; '.join(words)}" if len(parts) > 1 else words[0]
    if pace.boarded:
        numbers += f" + {area} / ({plain(1 / pace.boarded)} x {pace.persons})"
        formula += " + area / (boarding rate x persons)"
    return Worked(f"{key}/hours", f"hours of pour {pour.number}", formula, numbers, pour.hours, 2, "h", FILE)
