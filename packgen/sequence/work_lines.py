"""The arithmetic of working hours by task, and of what is placed within a fill's working time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.worked import FILE, ON_PLAN, Given, Worked
from packgen.project.given import given
from packgen.project.model import Project
from packgen.quantities.model import BayFill, Quantities
from packgen.sequence.model import Pour
from packgen.sequence.pace import Crew, Pace, bags_in_time
from packgen.sequence.pours import fill_named
from packgen.sequence.work_given import board_rate_given, persons_given, placing_given, setting_up_given


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


def in_time_line(project: Project, name: str, pace: Pace, widest: BayFill | None, mean_mm: float, key: str) -> Worked:
    """Bags that are placed and finished within the working time of a fill that has one."""
    fill = fill_named(project, name)
    area, minutes = widest.area_m2 if widest else 0.0, fill.working_time or 0.0
    rate, hands = placing_given(project, pace)
    numbers, formula = f"{plain(rate.value)} x {pace.persons}", "placing rate x persons placing"
    figures = [rate, hands]
    needs: list[str] = []
    if pace.placed_l is None:
        numbers, formula = f"{numbers} x {plain(mean_mm, 6)}", f"{formula} x mean depth"
        figures.append(Given("mean depth of the floor, not rounded", half_up(mean_mm, 6), "mm", ON_PLAN))
    left, says = plain(minutes), "working time"
    figures.append(given(fill, "working time", f"working time of {name}", minutes, "min"))
    finish = project.rates.finish
    if pace.finished_m2 and finish is not None:
        left += f" - {plain(area, 4)} / ({plain(finish.value)} x {pace.persons}) x 60"
        says += " - largest bay / (finishing rate x persons) x 60"
        figures.append(given(project.rates, "finish", "area that one person finishes in an hour", finish.value, "m²"))
        needs += [f"bay/{widest.bay}/area"] if widest else []
    figures.append(given(fill.bag, "makes", "litres that a bag makes", fill.bag.makes, "L"))
    return Worked(
        key,
        f"bags of {name} that are finished within the working time",
        f"{formula} x ({says}) / 60 / litres per bag, rounded down",
        f"floor({numbers} x max({left}, 0) / 60 / {plain(fill.bag.makes)})",
        bags_in_time(fill, pace, area, mean_mm) or 0,
        0,
        "bags",
        FILE,
        tuple(needs),
        tuple(figures),
    )
