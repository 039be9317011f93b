"""How fast a fill goes in: people, mixer, placing, finishing, boarding; and batches of whole bags."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from typing import TypeVar

import numpy as np

from packgen.core.figures import half_up, plain, round_down
from packgen.core.worked import Assumed, Source
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.sequence.model import Batch
from packgen.trade.amounts import amount, amount_rule, assumed_amount

Amount = TypeVar("Amount", float, np.ndarray)

MIXERS = ("mixer", "whisk", "tub", "pump", "paddle")


@dataclass(frozen=True, slots=True)
class Crew:
    """Everybody on site: how many, and hours a day on average over them."""

    persons: int
    hours: float


@dataclass(frozen=True, slots=True)
class Pace:
    """What a fill allows on a day.

    hours           filling hours of a day, setting up and cleaning taken off
    mixed_l         litres placed that the mixer feeds in an hour (what stays in the bucket taken off); None: no mixer
    placed_l        litres placed in an hour by all who place; None where the rate is by area
    placed_m2       m² filled in an hour; None where the rate is by litres
    finished_m2     m² finished in an hour; None where the file gives no rate
    boarded         person hours for a m² of boards laid the same day; 0 where there are none
    persons         who place and finish (the one at the mixer does not)
    alone           one person mixes, places and finishes, one after the other
    """

    hours: float
    setting_up_h: float
    mixed_l: float | None
    placed_l: float | None
    placed_m2: float | None
    finished_m2: float | None
    boarded: float
    persons: int
    alone: bool = False
    assumed: tuple[Assumed, ...] = ()

    def needed_h(self, litres: float, area_m2: float) -> float:
        """Hours that an amount takes: the slowest of mixing, placing and finishing, then boarding by all hands."""
        parts = [hours for _, hours in self.parts_h(litres, area_m2)]
        return (sum(parts) if self.alone else max(parts)) + area_m2 * self.boarded / self.persons

    def needed_by_each(self, litres: np.ndarray, areas_m2: np.ndarray) -> np.ndarray:
        """The same for many amounts at once."""
        parts = [hours for _, hours in self.parts_h(litres, areas_m2)]
        hours: np.ndarray = reduce(np.add if self.alone else np.maximum, parts)
        return hours + areas_m2 * self.boarded / self.persons

    def parts_h(self, litres: Amount, area_m2: Amount) -> Iterator[tuple[str, Amount]]:
        """Hours of each part of the work, by its name."""
        if self.mixed_l:
            yield "mixing", litres / self.mixed_l
        if self.placed_l:
            yield "placing", litres / self.placed_l
        if self.placed_m2:
            yield "placing", area_m2 / self.placed_m2
        if self.finished_m2:
            yield "finishing", area_m2 / self.finished_m2

    def slowest(self, litres: float, area_m2: float) -> str:
        """The part of the work that sets the pace."""
        return max(self.parts_h(litres, area_m2), key=lambda p: p[1])[0]


def crew_of(project: Project) -> Crew:
    """All persons of the file, and their mean working day."""
    persons = sum(p.number for p in project.crew)
    hours = sum(p.number * p.hours_a_day for p in project.crew)
    return Crew(persons, hours / persons if persons else 0.0)


def pace_of(project: Project, fill: Fill) -> Pace:
    """The pace of a fill with this crew and plant. Raises ValueError where nobody works."""
    crew = crew_of(project)
    if crew.persons == 0 or crew.hours <= 0:
        raise ValueError("nobody works on this job")
    assumed: list[Assumed] = []
    rule = "setting_up_mixed" if fill.mixed else "setting_up_dry"
    assumed.append(assumed_amount(rule, "filling hours of a day"))
    setting_up = min(amount(rule), crew.hours / 2)
    output = sum(p.output * p.number for p in project.plant if p.output is not None) if fill.mixed else 0.0
    persons = max(1, crew.persons - 1) if fill.mixed else crew.persons
    place = project.rates.place_fill
    finish = project.rates.finish if fill.mixed else None
    boarded = 0.0
    if fill.board_on_top is not None and not fill.mixed:
        boards = project.rates.lay_boards
        if boards is None:
            assumed.append(assumed_amount("lay_boards", "boards laid the same day as dry fill"))
        boarded = 1 / (boards.value if boards is not None else amount("lay_boards"))
    return Pace(
        hours=crew.hours - setting_up,
        setting_up_h=setting_up,
        mixed_l=output / (1 + fill.waste) if output else None,
        placed_l=place.value * persons if place.unit == "l" else None,
        placed_m2=place.value * persons if place.unit == "m2" else None,
        finished_m2=finish.value * persons if finish is not None else None,
        boarded=boarded,
        persons=persons,
        alone=fill.mixed and crew.persons == 1,
        assumed=tuple(assumed),
    )


# --------------------------------------------------------------------------------- batches


def batch_of(project: Project, fill_name: str, fill: Fill, pace: Pace, bay_m2: float, mean_mm: float) -> Batch | None:
    """Bags in a batch: what the mixer takes, less where the batch would be too old before it is finished.

    useful = 0.8 x drum, bags = floor(useful / litres per bag); litres in use at once <= placing rate x (working time -
    time to finish a bay). Where not even one bag fits, one bag it is and `overfull` says so.
    """
    if not fill.mixed:
        return None
    drum, source = _drum(project)
    useful = amount("drum_used") * drum
    by_drum = int(round_down(useful / fill.bag.makes))
    in_time = bags_in_time(fill, pace, bay_m2, mean_mm)
    by_time = by_drum if in_time is None else in_time
    bags = max(1, min(by_drum, by_time))
    return Batch(
        fill=fill_name,
        bags=bags,
        litres=bags * fill.bag.makes,
        drum_l=drum,
        useful_l=useful,
        limited_by="working time" if by_time < by_drum else "mixer",
        overfull=by_drum < 1,
        minutes=None
        if in_time is None
        else bags * fill.bag.makes / _placed_l(pace, mean_mm) * 60 + _finishing_min(pace, bay_m2),
        water_l=(half_up(bags * fill.water.least, 2), half_up(bags * fill.water.most, 2))
        if fill.water is not None
        else None,
        source=source,
    )


def bags_in_time(fill: Fill, pace: Pace, bay_m2: float, mean_mm: float) -> int | None:
    """Whole bags that are placed within the working time, the time to finish a bay taken off; None without one."""
    if fill.working_time is None:
        return None
    left = max(fill.working_time - _finishing_min(pace, bay_m2), 0.0)
    return int(round_down(_placed_l(pace, mean_mm) * left / 60 / fill.bag.makes))


def _placed_l(pace: Pace, mean_mm: float) -> float:
    """Litres placed in an hour."""
    return pace.placed_l or (pace.placed_m2 or 0.0) * mean_mm


def _finishing_min(pace: Pace, bay_m2: float) -> float:
    return bay_m2 / pace.finished_m2 * 60 if pace.finished_m2 else 0.0


def _drum(project: Project) -> tuple[float, Source | None]:
    """The mixer's drum: given, or told by the item ("mixer 65 l"), else as is common (with its source)."""
    given = [p.drum for p in project.plant if p.drum is not None and p.number > 0]
    if given:
        return max(given), None
    told = [size for p in project.plant if p.number > 0 and (size := drum_in(p.item)) is not None]
    if told:
        return max(told), None
    return amount("drum"), amount_rule("drum").source


def drum_in(item: str) -> float | None:
    """Litres of a mixer or tub named in an item of plant; None where it is something else or has no size.

    >>> drum_in("forced action mixer 65 l"), drum_in("rotating laser"), drum_in("rain cover 6 x 4 m")
    (65.0, None, None)
    """
    said = item.casefold()
    if not any(word in said for word in MIXERS):
        return None
    found = re.search(r"(\d+(?:[.,]\d+)?)\s*(?:l|lit(?:re|er)s?|ltr)\b", said)
    return float(found[1].replace(",", ".")) if found else None


def drum_assumed(project: Project, batches: tuple[Batch, ...]) -> tuple[Assumed, ...]:
    """What was taken for the batches without the file saying so."""
    out = []
    if batches:
        out.append(assumed_amount("drum_used", "bags in a batch"))
        if any(b.source is not None for b in batches):
            rule = amount_rule("drum")
            out.append(Assumed(rule.says, plain(rule.value), rule.unit, rule.source, rule.overrule, "bags in a batch"))
    return tuple(out)
