"""The versions of a class set: seeds are tried in order, kept or thrown away, and counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from packgen.exercise.bag_choice import TOUCHED, bags_chosen
from packgen.exercise.case import case_of
from packgen.exercise.difficulty import (
    answer_printed,
    difficulty_of,
    doubtful,
    not_curable,
    printed_numbers,
    shared_answers,
    unlike,
)
from packgen.exercise.mistakes import MISTAKES
from packgen.exercise.model import ClassSet, Difficulty, NotPossible, Tally, Version
from packgen.exercise.questions import LEVELS, pose
from packgen.exercise.settings import Settings, settings_of
from packgen.exercise.tell_apart import RIGHT, Clash, LeftOut, clashes, collapsing, unfit
from packgen.exercise.vary import Start, seed_of, start_from, varied
from packgen.heights.settle import find_heights
from packgen.layout.arrange import arrange
from packgen.plan import Plan, make_plan, plan_from_heights
from packgen.project.model import Project
from packgen.project.room_model import Today
from packgen.survey.reduce import survey_project

PROBES = 10  # tries by which it is seen what cannot be told apart at all
MOST_PUPILS = 200

BAGS = ("bags are whole before rounding up", "bags differ from the plan's by rounding")

Sign = Callable[[Plan], str]


@dataclass(frozen=True)
class _Made:
    """A version tried, with what speaks against it."""

    version: Version
    clash: tuple[Clash, ...]
    against: str


def choose_versions(
    project: Project,
    pupils: int,
    level: int,
    sign: Sign = lambda _: "",
    found: Callable[[Version], None] = lambda _: None,
) -> ClassSet:
    """`pupils` versions of one project, equally hard, no two alike, each telling usual mistakes apart.

    NotPossible, in one sentence, where the section `exercise` asks for what cannot be had.
    sign: names a plan on paper; found: is told of each version as it is kept.
    """
    if level not in LEVELS:
        raise NotPossible(f"a level of difficulty is 1, 2 or 3, and not {level}")
    if not 1 <= pupils <= MOST_PUPILS:
        raise NotPossible(f"a class set is for 1 to {MOST_PUPILS} pupils, and not for {pupils}")
    settings = settings_of(project)
    start = start_from(make_plan(project))
    base = _base(start.plan, settings, level)
    told = _left_out(start, settings, level, base, sign)
    left_out = frozenset((kind, code) for kind, code, _ in told)
    most = int(settings.bounds["tries_each"])
    versions: list[Version] = []
    thrown: Counter[str] = Counter()
    tried = 0
    for number in range(1, pupils + 1):
        for attempt in range(1, most + 1):
            tried += 1
            made = _try(start, settings, level, base, number, attempt, left_out, sign)
            why = made if isinstance(made, str) else made.against or _against(made, versions, settings)
            if not why and isinstance(made, _Made):
                versions.append(made.version)
                found(made.version)
                break
            thrown[why] += 1
        else:
            raise NotPossible(_no_version(number, most, thrown, settings), "tolerance")
    return ClassSet(
        project, level, tuple(versions), Tally(tried, len(versions), tuple(thrown.most_common())), tuple(told)
    )


def version_of(project: Project, level: int, number: int, attempt: int, sign: Sign = lambda _: "") -> Version:
    """One version again by its number and try. NotPossible where that seed gives no project."""
    settings = settings_of(project)
    start = start_from(make_plan(project))
    made = _try(start, settings, level, None, number, attempt, frozenset(), sign)
    if isinstance(made, str):
        raise NotPossible(f"version {number}, try {attempt}, gives no project: {made}")
    return made.version


def _base(plan: Plan, settings: Settings, level: int) -> Difficulty:
    """The difficulty of the project as it stands, with some backsight of the day."""
    if plan.project.today is None:
        start = plan.project.calendar.start
        today = Today(date=start, backsight=settings.bounds["backsight_least"])
        plan = make_plan(plan.project.model_copy(update={"today": today}))
    case = case_of(plan, "", 0, "", level)
    return difficulty_of(plan, case, pose(case, settings, level).blanks)


def _try(
    start: Start,
    settings: Settings,
    level: int,
    base: Difficulty | None,
    number: int,
    attempt: int,
    left_out: LeftOut,
    sign: Sign,
) -> _Made | str:
    """A version, or why this seed gives none."""
    seed = seed_of(settings, number, attempt)
    try:
        project = varied(start, settings, seed)
    except ValueError as why:
        return str(why)
    survey = survey_project(project)
    if base is not None and doubtful(survey, start.plan.survey):
        return "a reading looks like a slip"
    layout = arrange(project, survey)
    if base is not None and len(layout.nodes) != base.nodes:
        return "another number of nodes"
    heights = find_heights(project, survey, layout)
    plan = plan_from_heights(project, survey, layout, heights)
    made = _made(start, settings, level, base, plan, number, seed, attempt, left_out, sign)
    varied_bags = "bag size" in settings.vary
    spoilt = [c for c in made.clash if not varied_bags or c.kind not in TOUCHED]
    if spoilt or (made.against and not (varied_bags and made.against in BAGS)) or not varied_bags:
        return made
    bagged = bags_chosen(project, made.version.case, settings, level, left_out)
    if bagged is None:
        return "no usual bag shows waste, settling and rounding up"
    plan = plan_from_heights(bagged, survey, layout, heights)
    return _made(start, settings, level, base, plan, number, seed, attempt, left_out, sign)


def _made(
    start: Start,
    settings: Settings,
    level: int,
    base: Difficulty | None,
    plan: Plan,
    number: int,
    seed: str,
    attempt: int,
    left_out: LeftOut,
    sign: Sign,
) -> _Made:
    project = plan.project
    case = case_of(plan, sign(plan), number, seed, level)
    posed = pose(case, settings, level)
    blanks, right, known = posed.blanks, posed.right, posed.known
    found = difficulty_of(plan, case, blanks)
    clash = (*clashes(blanks, known, left_out), *collapsing(blanks, known, left_out))
    version = Version(case, project, plan, blanks, posed.given, right, found, attempt)
    if base is None:
        return _Made(version, clash, "")
    shortest = start.ground.kit.shortest
    against = (
        unlike(plan, found, base, settings.kept, shortest, settings.bounds["digits_band"])
        or ("the planted hold has no cure" if not_curable(plan, settings.kept) else "")
        or unfit(blanks, known, settings.bounds["whole_bag"])
        or _rounding(version)
        or (
            f"{said} stands on the sheet"
            if (said := answer_printed(blanks, right, printed_numbers(project, case)))
            else ""
        )
    )
    return _Made(version, clash, against)


def _rounding(version: Version) -> str:
    """Bags by the pupil's arithmetic must be the bags that the plan orders."""
    for key, part in enumerate(version.case.parts, 1):
        bags = version.right.get(f"bags/{key}")
        if part.bags and bags is not None and bags != part.bags:
            return BAGS[1]
    return ""


def _against(made: _Made, versions: Sequence[Version], settings: Settings) -> str:
    if made.clash:
        return str(made.clash[0])
    for other in versions:
        if shared_answers(made.version.blanks, made.version.right, other.right) > settings.bounds["same_share"]:
            return "answers too like another version's"
    return ""


# ------------------------------------------------------------------------------------ what cannot be told apart


def _left_out(start: Start, settings: Settings, level: int, base: Difficulty, sign: Sign) -> list[tuple[str, str, str]]:
    """Mistakes that need not be told apart: those the file leaves out, and, unless it keeps "answers that differ for
    each usual mistake", those that most tries show too near the right answer or another mistake."""
    told = [(kind, code, "left out by the file") for code in settings.leave_out for kind in sorted(settings.tolerances)]
    if settings.kept.apart:
        return told
    dropped = {(kind, code) for kind, code, _ in told}
    probes: list[Version] = []
    for attempt in range(1, PROBES + 1):
        made = _try(start, settings, level, base, 0, attempt, frozenset(), sign)
        if isinstance(made, _Made):
            probes.append(made.version)
    while probes:
        counts: Counter[tuple[str, str]] = Counter()
        with_what: dict[tuple[str, str], Counter[str]] = {}
        for version in probes:
            for clash in clashes(version.blanks, version.known, frozenset(dropped)):
                for code, other in ((clash.first, clash.second), (clash.second, clash.first)):
                    if code in MISTAKES:
                        counts[(clash.kind, code)] += 1
                        with_what.setdefault((clash.kind, code), Counter())[other] += 1
        worst = max(counts, key=lambda c: (counts[c], c), default=None)
        if worst is None or counts[worst] * 2 <= len(probes):
            break
        other = with_what[worst].most_common(1)[0][0]
        dropped.add(worst)
        told.append((*worst, f"too near {other}"))
    return told


def _no_version(number: int, most: int, thrown: Counter[str], settings: Settings) -> str:
    """The sentence for a set that cannot be made: what stood in the way most often, and what would help."""
    why, times = thrown.most_common(1)[0]
    head = f"no version possible for pupil {number} in {most} tries"
    pair, _, kind = why.rpartition(" in ")
    tolerance = settings.tolerances.get(kind)
    if pair and tolerance is not None:
        shown = f"{tolerance.amount * 100:g} %" if tolerance.relative else f"{tolerance.amount:g}"
        codes = [c for c in pair.replace(RIGHT, "").split() if c in MISTAKES]
        told = f"mistakes {pair}" if RIGHT not in pair else f"{pair}"
        return (
            f"{head}: {told} cannot be told apart in {kind} with ± {shown} ({times} times): "
            f"let the tolerance be less, or 'leave out: [{', '.join(codes)}]'"
        )
    return f"{head}: most often {why} ({times} times): let 'bounds' go further, or 'keep' less"
