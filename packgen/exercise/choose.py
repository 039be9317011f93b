"""The versions of a class set: seeds are tried in order, kept or thrown away, and counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace

from packgen.exercise.bag_choice import TOUCHED, bags_chosen
from packgen.exercise.case import case_of
from packgen.exercise.difficulty import (
    CLOSING,
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
from packgen.exercise.vary_levels import plain_book
from packgen.heights.settle import find_heights
from packgen.layout.arrange import arrange
from packgen.plan import Plan, make_plan, plan_from_heights
from packgen.project.model import Project
from packgen.project.room_model import Today
from packgen.survey.reduce import survey_project

PROBES = 10  # tries by which it is seen what cannot be told apart at all
MOST_PUPILS = 200

LIKE = "answers too like another version's"
NODES = "another number of nodes"  # seen early and at little cost: such a try does not count
MOST_REDRAWS = 5
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
    tries: int | None = None,
) -> ClassSet:
    """`pupils` versions of one project, equally hard, no two alike, each telling usual mistakes apart.

    NotPossible, in one sentence, where the section `exercise` asks for what cannot be had.
    sign: names a plan on paper; found: is told of each version as it is kept; tries: for one version at most.
    """
    if level not in LEVELS:
        raise NotPossible(f"a level of difficulty is 1, 2 or 3, and not {level}")
    if not 1 <= pupils <= MOST_PUPILS:
        raise NotPossible(f"a class set is for 1 to {MOST_PUPILS} pupils, and not for {pupils}")
    if not plain_book(project):
        raise NotPossible(
            "a class set books readings as they were read: take out the two-peg test, and change points read with the "
            "staff upside down"
        )
    settings = settings_of(project)
    start = start_from(make_plan(project))
    first = _Chooser(start, settings, level, _base(start.plan, settings, level))
    told = _left_out(first)
    chooser = replace(first, left_out=frozenset((kind, code) for kind, code, _ in told))
    most = tries or int(settings.bounds["tries_each"])
    versions: list[Version] = []
    thrown: Counter[str] = Counter()
    tried = 0
    for number in range(1, pupils + 1):
        made, spent, attempt = None, 0, 0
        while spent < most and attempt < most * MOST_REDRAWS:
            attempt += 1
            tried += 1
            made, why = chooser.judged(number, attempt, versions)
            late = spent > most // 2 or chooser.few_blanks(versions)
            if made is None and why == LIKE and late and not chooser.shares_closing:
                chooser = replace(chooser, shares_closing=True)
                made, why = chooser.judged(number, attempt, versions)
            if made is not None:
                break
            spent += why != NODES
            thrown[why] += 1
        if made is None:
            raise NotPossible(_no_version(number, most, thrown, settings), "tolerance")
        case = replace(made.version.case, sign=sign(made.version.plan))
        versions.append(replace(made.version, case=case))
        found(versions[-1])
    tally = Tally(tried, len(versions), tuple(thrown.most_common()), chooser.shares_closing)
    return ClassSet(project, level, tuple(versions), tally, tuple(told))


def _base(plan: Plan, settings: Settings, level: int) -> Difficulty:
    """The difficulty of the project as it stands, with some backsight of the day."""
    if plan.project.today is None:
        start = plan.project.calendar.start
        today = Today(date=start, backsight=settings.bounds["backsight_least"])
        plan = make_plan(plan.project.model_copy(update={"today": today}))
    case = case_of(plan, 0, "", level)
    return difficulty_of(plan, case, pose(case, settings, level).blanks)


@dataclass(frozen=True)
class _Chooser:
    """What every try is made from and held against.

    shares_closing: misclosure and corrections are not compared between versions, since there are too few of them
    """

    start: Start
    settings: Settings
    level: int
    base: Difficulty
    left_out: LeftOut = frozenset()
    shares_closing: bool = False

    def judged(self, number: int, attempt: int, others: Sequence[Version]) -> tuple[_Made | None, str]:
        """A version to be kept, or None and why this seed gives none."""
        made = self.attempt(number, attempt, others)
        if isinstance(made, str):
            return None, made
        why = self.why_not(made, others)
        return (None, why) if why else (made, "")

    def few_blanks(self, others: Sequence[Version]) -> bool:
        """Whether a misclosure that two versions share makes them too alike by itself."""
        blanks = [b for v in others[:1] for b in v.blanks if b.writing != "choice"]
        closing = sum(b.kind in CLOSING for b in blanks)
        return closing > self.settings.bounds["same_share"] * len(blanks)

    def attempt(self, number: int, attempt: int, others: Sequence[Version] = ()) -> _Made | str:
        """A version, or why this seed gives none. What is cheap to find out is looked at first."""
        seed = seed_of(self.settings, number, attempt)
        try:
            project = varied(self.start, self.settings, seed)
        except ValueError as why:
            return str(why)
        survey = survey_project(project)
        if doubtful(survey, self.start.plan.survey):
            return "a reading looks like a slip"
        layout = arrange(project, survey)
        if len(layout.nodes) != self.base.nodes:
            return NODES
        heights = find_heights(project, survey, layout)
        bare = project if self.level == 3 else _without_comparison(project)
        made = self._judged(plan_from_heights(bare, survey, layout, heights), number, seed, attempt)
        bags_free = "bag size" in self.settings.vary
        spoilt = [c for c in made.clash if not bags_free or c.kind not in TOUCHED]
        if spoilt or (made.against and not (bags_free and made.against in BAGS)):
            return _Made(made.version, tuple(spoilt), "" if made.against in BAGS else made.against)
        if self._like(made.version, others, without=TOUCHED if bags_free else ()):
            return LIKE
        if bags_free:
            bagged = bags_chosen(project, made.version.case, self.settings, self.level, self.left_out)
            if isinstance(bagged, str):
                return bagged
            project = bagged
        return self._judged(plan_from_heights(project, survey, layout, heights), number, seed, attempt)

    def _judged(self, plan: Plan, number: int, seed: str, attempt: int) -> _Made:
        case = case_of(plan, number, seed, self.level)
        posed = pose(case, self.settings, self.level)
        blanks, right, known = posed.blanks, posed.right, posed.known
        found = difficulty_of(plan, case, blanks)
        clash = (*clashes(blanks, known, self.left_out), *collapsing(blanks, known, self.left_out))
        version = Version(case, plan.project, plan, blanks, posed.given, right, found, attempt)
        bounds, kept = self.settings.bounds, self.settings.kept
        shown = answer_printed(blanks, right, printed_numbers(plan.project, case))
        against = (
            unlike(plan, found, self.base, kept, self.start.ground.kit.shortest, bounds["digits_band"])
            or ("the planted hold has no cure" if not_curable(plan, kept) else "")
            or (f"{shown} stands on the sheet" if shown else "")
            or unfit(blanks, known, bounds["whole_bag"])
            or _rounding(version)
        )
        return _Made(version, clash, against)

    def why_not(self, made: _Made, others: Sequence[Version]) -> str:
        """Why a version is thrown away; "" where it is kept."""
        if made.clash:
            return str(made.clash[0])
        return made.against or (LIKE if self._like(made.version, others) else "")

    def _like(self, version: Version, others: Sequence[Version], without: Collection[str] = ()) -> bool:
        most = self.settings.bounds["same_share"]
        without = (*without, *(CLOSING if self.shares_closing else ()))
        return any(shared_answers(version.blanks, version.right, o.right, without) > most for o in others)


def _without_comparison(project: Project) -> Project:
    """The project with the fill in use alone: a try needs no other fill's heights."""
    return project.model_copy(update={"fills": project.fills.model_copy(update={"compare": ()})})


def _rounding(version: Version) -> str:
    """Bags by the pupil's arithmetic must be the bags that the plan orders."""
    for key, part in enumerate(version.case.parts, 1):
        bags = version.right.get(f"bags/{key}")
        if part.bags and bags is not None and bags != part.bags:
            return BAGS[1]
    return ""


# ------------------------------------------------------------------------------------ what cannot be told apart


def _left_out(chooser: _Chooser) -> list[tuple[str, str, str]]:
    """Mistakes that need not be told apart: those the file leaves out, and, unless it keeps "answers that differ for
    each usual mistake", those that most tries show too near the right answer or another mistake."""
    settings = chooser.settings
    told = [(kind, code, "left out by the file") for code in settings.leave_out for kind in sorted(settings.tolerances)]
    if settings.kept.apart:
        return told
    dropped = {(kind, code) for kind, code, _ in told}
    tries = (chooser.attempt(0, attempt) for attempt in range(1, PROBES + 1))
    probes = [made.version for made in tries if isinstance(made, _Made)]
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
        near = with_what[worst].most_common(1)[0][0]
        dropped.add(worst)
        told.append((*worst, f"too near {near}"))
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
