"""A version of a project by its seed: only what `exercise: vary` names, within bounds, nothing from the clock."""

from __future__ import annotations

import hashlib
import math
import random
from collections.abc import Mapping
from dataclasses import dataclass

from packgen.core.figures import whole
from packgen.exercise.model import NotPossible
from packgen.exercise.settings import Settings
from packgen.exercise.shape_base import Ground, ground_of, shaped
from packgen.exercise.vary_levels import book_for, chosen_misclosures, levels_of
from packgen.exercise.vary_parts import other_covering, other_fill, other_start, other_thresholds
from packgen.exercise.vary_walls import last_gaps, stretched
from packgen.heights.kit_range import kit_range
from packgen.plan import Plan
from packgen.project.checks import check
from packgen.project.kinds import Spoken
from packgen.project.model import Project
from packgen.project.room_model import Today
from packgen.trade.grid_rules import value


@dataclass(frozen=True)
class Start:
    """What every version starts from: the plan of the file as it is, and its base."""

    plan: Plan
    ground: Ground


def start_from(plan: Plan) -> Start:
    kit = kit_range(plan.project.kit)
    return Start(plan, ground_of(plan, levels_of(plan.project), kit, value("same_spot")))


def seed_of(settings: Settings, version: int, attempt: int) -> str:
    """The seed of a try, in words that a teacher can note down: project seed, class, version, try."""
    return f"{settings.seed}/{settings.cls}/{version}/{attempt}"


def chance_of(seed: str) -> random.Random:
    """Chance that depends on the seed's words alone, alike on every machine."""
    return random.Random(int.from_bytes(hashlib.sha256(seed.encode("utf-8")).digest(), "big"))


def varied(start: Start, settings: Settings, seed: str) -> Project:
    """The project of a seed. It has a backsight of the day, and no section `exercise`. Bags follow in bag_choice.py,
    since which sizes show rounding up is known only with the litres.

    NotPossible where the bounds leave nothing; ValueError where this seed gives a file with a fault (another will do).
    """
    chance, bounds = chance_of(seed), settings.bounds
    project = start.plan.project
    if "fill" in settings.vary:
        project = other_fill(project, start.plan.survey, start.plan.layout, chance)
    if "thresholds" in settings.vary:
        project = other_thresholds(project, bounds, chance)
    if "covering thickness" in settings.vary:
        project = other_covering(project, bounds, chance)
    if "start date" in settings.vary:
        project = other_start(project, bounds, chance)
    project = _levelled(start, project, settings, chance)
    if "wall lengths" in settings.vary and len(project.rooms) == 1:
        dx, dy = _longer(project, bounds, chance)
        project = stretched(project, start.plan.survey.rooms[0], dx, dy)
    project = project.model_copy(update={"today": _today(project, bounds, chance), "exercise": None})
    faults = check({**{n: getattr(project, n) for n in Project.model_fields}, "spoken": Spoken(project.datum.name)})
    if faults:
        raise ValueError(f"the file would have a fault: {faults[0].code}")
    return project


def risen(before: Project, after: Project) -> float:
    """How much the rail tops of the first zone have risen, mm."""
    old, new = before.finishes[0], after.finishes[0]
    up = sum(x.thickness for x in old.layers) - sum(x.thickness for x in new.layers)
    if old.finished_level.level is not None and new.finished_level.level is not None:
        up += new.finished_level.level - old.finished_level.level
    return up


def _levelled(start: Start, project: Project, settings: Settings, chance: random.Random) -> Project:
    """The level book anew: base, misclosure, and where the laser stands."""
    if not {"staff readings", "misclosure"} & set(settings.vary):
        return project
    bounds = settings.bounds
    levels: Mapping[str, int] = start.ground.levels_mm
    shifts: dict[str, int] = {}
    if "staff readings" in settings.vary:
        levels = shaped(start.ground, risen(start.plan.project, project), settings.kept, bounds, chance)
        far = int(bounds["staff_readings"])
        shifts = {s.name: chance.randint(-far, far) for s in project.levels.setups}
    misclosures = (
        chosen_misclosures(project, bounds["misclosure_least"], bounds["misclosure_most"], chance)
        if "misclosure" in settings.vary
        else {}
    )
    book = book_for(project, levels, misclosures, shifts, _scatter(project, chance))
    readings = [r.value for s in book.setups for r in s.readings]
    if book.read_as == "staff readings" and not (
        bounds["reading_least"] <= min(readings) and max(readings) <= bounds["reading_most"]
    ):
        raise ValueError("reading out of the staff's range")
    return project.model_copy(update={"levels": book})


def _scatter(project: Project, chance: random.Random) -> dict[tuple[str, str], int]:
    """Spots read twice differ by 2 at most, the one as much too high as the other too low, so that their mean holds."""
    seen: dict[str, list[str]] = {}
    for setup in project.levels.setups:
        for r in setup.readings:
            seen.setdefault(r.spot, []).append(setup.name)
    out: dict[tuple[str, str], int] = {}
    for spot, setups in seen.items():
        if len(setups) == 2:
            by = chance.choice((-1, 0, 1))
            out[(setups[0], spot)], out[(setups[1], spot)] = by, -by
    return out


def _longer(project: Project, bounds: Mapping[str, float], chance: random.Random) -> tuple[float, float]:
    """By how much the room grows each way: steps within the bound that leave the last gap a gap, and no wider than
    the module."""
    step, most = bounds["wall_step"], bounds["wall_lengths"]
    out = []
    for _, gap in last_gaps(project):
        low = max(-most, min(0.0, project.kit.smallest_cut_piece - gap))
        high = min(most, max(0.0, project.kit.module - gap))
        out.append(step * chance.randint(math.ceil(low / step), math.floor(high / step)))
    return out[0], out[1]


def _today(project: Project, bounds: Mapping[str, float], chance: random.Random) -> Today:
    """The backsight of the day: not one that the book holds already."""
    used = {whole(s.start_on.reading) for s in project.levels.setups}
    span = range(int(bounds["backsight_least"]), int(bounds["backsight_most"]) + 1)
    free = [mm for mm in span if mm not in used]
    if not free:
        raise NotPossible("exercise: bounds of backsight of the day: no reading is left", "bounds")
    return Today(date=project.calendar.start, setup="today", backsight=float(chance.choice(free)))
