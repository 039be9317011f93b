"""People, plant and rates as figures with where they stand."""

from __future__ import annotations

from packgen.core.place import Place
from packgen.core.worked import COUNTED, FILE, Given, Source
from packgen.project.given import given, place_of
from packgen.project.model import Project
from packgen.project.record import Record
from packgen.quantities.order_rows import rule_given
from packgen.sequence.model import Batch, Pour
from packgen.sequence.pace import Crew, Pace, drum_in
from packgen.trade.amounts import amount_rule

HALF_A_DAY = Source("no more than half of the working day", known="practice")


def persons_given(project: Project) -> Given:
    """Everybody on site."""
    place = _first(tuple((p, "number") for p in project.crew))
    return Given("persons on site", sum(p.number for p in project.crew), "", FILE, place)


def hours_a_day_given(project: Project, crew: Crew) -> Given:
    """The working day, on average over everybody."""
    place = _first(tuple((p, "hours a day") for p in project.crew))
    same = len({p.hours_a_day for p in project.crew}) == 1
    says = "hours of a working day" if same else "hours of a working day, on average over everybody"
    return Given(says, crew.hours, "h", FILE, place)


def setting_up_given(project: Project, pour: Pour, pace: Pace) -> Given:
    """Setting up and cleaning on the day of a pour."""
    mixed = dict(project.fills.described).get(pour.fill, project.fills.used).mixed
    rule = amount_rule("setting_up_mixed" if mixed else "setting_up_dry")
    source = rule.source if pace.setting_up_h == rule.value else HALF_A_DAY
    return Given(rule.says, pace.setting_up_h, rule.unit, source)


def placing_given(project: Project, pace: Pace) -> tuple[Given, Given]:
    """What one person places in an hour, and how many place."""
    rate = project.rates.place_fill
    what = "litres that one person places in an hour" if rate.unit == "l" else "area that one person fills in an hour"
    unit = "L" if rate.unit == "l" else "m²"
    return (given(project.rates, "place fill", what, rate.value, unit), hands_given(project, pace))


def hands_given(project: Project, pace: Pace) -> Given:
    everybody = pace.persons == sum(p.number for p in project.crew)
    says = "persons who place and finish" if everybody else "persons who place and finish, one being at the mixer"
    return Given(says, pace.persons, "", COUNTED, _first(tuple((p, "number") for p in project.crew)))


def output_given(project: Project) -> Given:
    """Litres that all mixers give in an hour."""
    mixers = [p for p in project.plant if p.output is not None and p.number]
    says = "litres that the mixer gives in an hour" if len(mixers) == 1 else "litres that all mixers give in an hour"
    output = sum((p.output or 0.0) * p.number for p in mixers)
    return Given(says, output, "L", FILE, _first(tuple((p, "output") for p in mixers)))


def drum_given(project: Project, batch: Batch) -> Given:
    """The drum's size: given, told by the item, or the common one."""
    if batch.source is not None:
        return rule_given("drum")
    for plant in project.plant:
        if plant.number and plant.drum == batch.drum_l:
            return given(plant, "drum", f"drum of {plant.item}", batch.drum_l, "L")
    for plant in project.plant:
        if plant.number and plant.drum is None and drum_in(plant.item) == batch.drum_l:
            return given(plant, "item", f"drum of {plant.item}", batch.drum_l, "L")
    return Given("drum of the mixer", batch.drum_l, "L")


def board_rate_given(project: Project) -> Given:
    """Boards that one person lays in an hour: the file's rate, else the usual one."""
    rate = project.rates.lay_boards
    if rate is None:
        return rule_given("lay_boards")
    return given(project.rates, "lay boards", "boards that one person lays in an hour", rate.value, "m²")


def _first(figures: tuple[tuple[Record, str], ...]) -> Place | None:
    """Where the first of some figures stands; else where its record starts."""
    for record, key in figures:
        return place_of(record, key) or record.marks.start
    return None
