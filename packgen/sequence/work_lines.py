"""The arithmetic of working hours by task, and of what is placed within a fill's working time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, ON_PLAN, Given, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.quantities.model import BayFill, Quantities
from packgen.sequence.model import Batch, Pour
from packgen.sequence.pace import Crew, Pace, bags_in_time
from packgen.sequence.pours import fill_named
from packgen.sequence.work_given import board_rate_given, hands_given, persons_given, placing_given, setting_up_given


def work_lines(
    project: Project,
    quantities: Quantities,
    crew: Crew,
    paces: Mapping[str, Pace],
    pours: Sequence[Pour],
    hours: Sequence[tuple[str, float]],
) -> Iterator[Worked]:
    """Person hours of each task, and all of them. hours: by task, as printed"""
    keys = []
    for task, value in hours:
        key = f"work/{task}"
        keys.append(key)
        if task == "fill":
            yield _filling(project, crew, paces, pours, key, value)
        elif task == "set the grid":
            rate = project.rates.set_grid.value
            figure = given(project.rates, "set grid", "grid that one person sets in an hour", rate, "m²")
            yield _by_area(key, "to set the grid", quantities.room_m2, figure, value, ("rooms/area",))
        else:
            yield _by_area(key, "to lay boards", quantities.boards_m2, board_rate_given(project), value, ())
    terms = " + ".join(plain(v, 1) for _, v in hours) or "0"
    total = half_up(sum(v for _, v in hours), 1)
    yield Worked("work/hours", "person hours in all", "sum of the tasks", terms, total, 1, "h", None, tuple(keys))


def _by_area(key: str, what: str, area: float, rate: Given, hours: float, needs: tuple[str, ...]) -> Worked:
    own = () if needs else (Given("floor under boards", area, "m²", ON_PLAN),)
    numbers = f"{plain(area, 2)} / {plain(rate.value)}"
    return Worked(key, f"person hours {what}", "area / rate", numbers, hours, 1, "h", FILE, needs, (*own, rate))


def _filling(
    project: Project, crew: Crew, paces: Mapping[str, Pace], pours: Sequence[Pour], key: str, hours: float
) -> Worked:
    """Hours of every pour with setting up and cleaning, by everybody."""
    terms, figures = [], {}
    for pour in pours:
        pace = paces[pour.fill]
        terms.append(f"{plain(pour.hours, 2)} + {plain(pace.setting_up_h)}")
        rest = setting_up_given(project, pour, pace)
        figures[rest.says] = rest
    joined = " + ".join(terms) or "0"
    return Worked(
        key,
        "person hours to fill",
        "(hours of each pour + setting up and cleaning) x persons",
        f"({joined}) x {crew.persons}",
        hours,
        1,
        "h",
        None,
        tuple(f"pour/{p.number}/hours" for p in pours),
        (*figures.values(), persons_given(project)),
    )


def batch_key(name: str, alone: bool) -> str:
    """Key of the bags in a batch of a fill. alone: whether it is the only fill in use"""
    return "batch/bags" if alone else f"batch/{name}/bags"


@dataclass(frozen=True, slots=True)
class _Part:
    """A part of a line: its numbers and words, and where its figures come from."""

    numbers: str
    words: str
    needs: tuple[str, ...] = ()
    given: tuple[Given, ...] = ()


def _placed(project: Project, pace: Pace, mean_mm: float) -> _Part:
    """Litres placed in an hour."""
    rate, hands = placing_given(project, pace)
    numbers, words = f"{plain(rate.value)} x {pace.persons}", "placing rate x persons placing"
    if pace.placed_l is not None:
        return _Part(numbers, words, (), (rate, hands))
    mean = Given("mean depth of the floor, not rounded", half_up(mean_mm, 6), "mm", ON_PLAN)
    return _Part(f"{numbers} x {plain(mean_mm, 6)}", f"{words} x mean depth", (), (rate, hands, mean))


def _finishing(project: Project, pace: Pace, widest: BayFill | None) -> _Part | None:
    """Minutes to finish the largest bay; None where nobody gives a rate."""
    finish = project.rates.finish
    if not pace.finished_m2 or finish is None or widest is None:
        return None
    rate = given(project.rates, "finish", "area that one person finishes in an hour", finish.value, "m²")
    return _Part(
        f"{plain(widest.area_m2, 4)} / ({plain(finish.value)} x {pace.persons}) x 60",
        "largest bay / (finishing rate x persons) x 60",
        (f"bay/{widest.bay}/area",),
        (rate, hands_given(project, pace)),
    )


def timed_lines(
    project: Project, batch: Batch, pace: Pace, widest: BayFill | None, mean_mm: float, alone: bool
) -> tuple[Worked, Worked]:
    """Of a fill with a working time: the bags finished within it, and the age of a batch when its bay is finished."""
    name, fill = batch.fill, fill_named(project, batch.fill)
    placed, finishing = _placed(project, pace, mean_mm), _finishing(project, pace, widest)
    minutes = fill.working_time or 0.0
    makes = given(fill.bag, "makes", "litres that a bag makes", fill.bag.makes, "L")
    rest = finishing or _Part("", "")
    less, more = (f" - {rest.numbers}", f" + {rest.numbers}") if finishing else ("", "")
    less_words, more_words = (f" - {rest.words}", f" + {rest.words}") if finishing else ("", "")
    shared = tuple(dict.fromkeys((*placed.given, *rest.given, makes)))
    in_time = Worked(
        f"batch/{name}/in time",
        f"bags of {name} that are finished within the working time",
        f"{placed.words} x (working time{less_words}) / 60 / litres per bag, rounded down",
        f"floor({placed.numbers} x max({plain(minutes)}{less}, 0) / 60 / {plain(fill.bag.makes)})",
        bags_in_time(fill, pace, widest.area_m2 if widest else 0.0, mean_mm) or 0,
        0,
        "bags",
        FILE,
        rest.needs,
        (*shared, given(fill, "working time", f"working time of {name}", minutes, "min")),
    )
    age = Worked(
        f"batch/{name}/age",
        f"age of a batch of {name} when its bay is finished",
        f"bags in a batch x litres per bag / ({placed.words}) x 60{more_words}",
        f"{batch.bags} x {plain(fill.bag.makes)} / ({placed.numbers}) x 60{more}",
        half_up(batch.minutes or 0.0, 1),
        1,
        "min",
        FILE,
        (batch_key(name, alone), *rest.needs),
        shared,
    )
    return in_time, age
