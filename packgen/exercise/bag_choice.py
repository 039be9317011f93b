"""Which bags a version gets: of the usual sizes one whose bags show waste, settling and rounding up."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from packgen.core.figures import half_up
from packgen.exercise.model import Case, CaseFill
from packgen.exercise.questions import pose
from packgen.exercise.settings import Settings
from packgen.exercise.tell_apart import LeftOut, clashes, collapsing, unfit
from packgen.exercise.vary import chance_of
from packgen.exercise.vary_parts import with_bag
from packgen.project.model import Project
from packgen.trade.classroom import bag_sizes

TOUCHED = ("bags", "water")


def bags_chosen(project: Project, case: Case, settings: Settings, level: int, left_out: LeftOut) -> Project | str:
    """The project with other bags for the fill in use and the fill compared; where no usual size will do, what stood
    in the way most often."""
    for fill in (case.fill, case.other):
        if fill is None:
            continue
        sizes = list(bag_sizes(fill.water_l is not None))
        chance_of(f"{case.seed}/bags/{fill.name}").shuffle(sizes)
        why: Counter[str] = Counter()
        found = None
        for size in sizes:
            spoilt = _spoilt(_with(case, fill, size), settings, level, left_out)
            if not spoilt:
                found = size
                break
            why[spoilt] += 1
        if found is None:
            return why.most_common(1)[0][0]
        project = with_bag(project, fill.name, found)
        case = _with(case, fill, found)
    return project


def _with(case: Case, fill: CaseFill, makes: float) -> Case:
    share = makes / fill.bag_l
    water = fill.water_l
    other = replace(
        fill,
        bag_l=makes,
        bag_kg=half_up(fill.bag_kg * share, 1),
        water_l=None if water is None else (half_up(water[0] * share, 1), half_up(water[1] * share, 1)),
    )
    return replace(case, other=other) if case.other is fill else replace(case, fill=other)


def _spoilt(case: Case, settings: Settings, level: int, left_out: LeftOut) -> str:
    """Why these bags do not tell right from usual mistakes; "" where they do."""
    posed = pose(case, settings, level)
    blanks, known = posed.blanks, posed.known
    mine = [b for b in blanks if b.kind in TOUCHED]
    spoilt = (*clashes(mine, known, left_out), *collapsing(blanks, known, left_out))
    told = next((str(clash) for clash in spoilt if clash.kind in TOUCHED), "")
    return told or unfit(mine, known, settings.bounds["whole_bag"])
