"""What the `exercise` section asks for, with the rules of teaching where it is silent."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from packgen.core import lengths
from packgen.core.figures import listed
from packgen.core.worked import Assumed
from packgen.exercise.mistakes import MISTAKES
from packgen.exercise.model import NotPossible, Tolerance
from packgen.project.guess import likely_word
from packgen.project.model import Project
from packgen.project.work_model import Exercise
from packgen.trade.classroom import BoundRule, bound_rules, kind_rules, marks_rule

VARIED = (
    *("wall lengths", "staff readings", "misclosure", "covering thickness", "bag size", "fill", "thresholds"),
    "start date",
)
SAME_AS = {
    **dict.fromkeys(("sizes", "size", "walls"), "wall lengths"),
    **dict.fromkeys(("base levels", "readings"), "staff readings"),
    **dict.fromkeys(("base", "level of base", "base level"), "level of the base"),
    **dict.fromkeys(("finished level", "doors", "sills"), "thresholds"),
    **dict.fromkeys(("covering", "finish", "finishes"), "covering thickness"),
    **dict.fromkeys(("bags", "bag yield", "bag yields"), "bag size"),
    **dict.fromkeys(("dates", "start", "calendar"), "start date"),
    **dict.fromkeys(("wall length", "lengths"), "wall lengths"),
    **dict.fromkeys(("fills", "kind of fill"), "fill"),
}
ALWAYS = ("backsight", "backsight of the day", "today's backsight")  # of `vary`: another one in every version anyhow
SAME_KIND = {
    **dict.fromkeys(("collimation", "heights of collimation", "line of sight"), "height of collimation"),
    **dict.fromkeys(("rise", "fall", "rise and fall", "rises and falls"), "rise or fall"),
    **dict.fromkeys(("levels", "level of spots"), "level"),
    **dict.fromkeys(("legs", "leg length", "leg lengths"), "leg"),
    **dict.fromkeys(("target", "targets", "target readings"), "target reading"),
    **dict.fromkeys(("litres", "volumes", "fill"), "volume"),
    **dict.fromkeys(("order", "to order"), "litres to order"),
    **dict.fromkeys(("corrections",), "correction"),
    **dict.fromkeys(("rail", "rails"), "rail length"),
    **dict.fromkeys(("depth", "mean depths"), "mean depth"),
    **dict.fromkeys(("dates", "test date"), "date"),
    **dict.fromkeys(("drying days", "days of drying"), "drying"),
    **dict.fromkeys(("holds",), "hold"),
}
DEFAULT_VARY = ("wall lengths", "staff readings", "misclosure", "covering thickness", "bag size", "start date")
COUNTS = {"no": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
KEEP_LEGS = re.compile(
    r"(?:in every version )?(no|one|two|three|four|five|six|[0-9]+) legs? "
    r"(?:(below|shorter than|under) the shortest|(above|longer than|over) the longest|"
    r"(needing an extension|with an extension|extended)|(on packing|needing packing)|"
    r"(that does not fit|that do not fit))"
)
KEEP_FITTING = re.compile(r"(?:in every version )?(?:every leg fits|all legs fit|no leg that does not fit)")
KEEP_ANYHOW = re.compile(  # what every set keeps
    r"(?:in every version )?(?:the )?same (?:number of )?"
    r"(?:set-ups|zones|holds|legs|nodes|pours|blanks|difficulty|misfits)"
)
KEEP_APART = re.compile(r"(?:in every version )?answers that differ for (?:each|every) usual mistake")
IMPLIED = {"parts": "leg", "hold": "leg", "litres to order": "bags"}


@dataclass(frozen=True, slots=True)
class Kept:
    """Legs that every version keeps, None where nothing is asked; apart: mistakes must be told apart."""

    below: int | None = None
    above: int | None = None
    extended: int | None = None
    packed: int | None = None
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Settings:
    """The section as the program uses it. kinds: the blanks asked for, None for all; time_min 0: not said."""

    cls: str
    seed: int
    group_size: int
    vary: tuple[str, ...]
    bounds: Mapping[str, float]
    kept: Kept
    leave_out: tuple[str, ...]
    kinds: tuple[str, ...] | None
    tolerances: Mapping[str, Tolerance]
    marks: tuple[float, float, float]
    time_min: float
    lessons: int

    def asks(self, kind: str) -> bool:
        """Whether blanks of a kind are wanted; some kinds come with another."""
        return self.kinds is None or kind in self.kinds or IMPLIED.get(kind) in self.kinds


def settings_of(project: Project) -> Settings:
    """Reads the section. NotPossible, naming the word, where something in it is not understood."""
    said = project.exercise
    if project.kit.several:
        kinds = f"{len(project.kit.legs)} kinds of leg and {len(project.kit.extensions)} of extension"
        raise NotPossible(
            f"class: the sheets ask for one kind of leg and one of extension, and the kit has {kinds}: leave one of "
            "each in the file of the class"
        )
    rules = kind_rules()
    tolerances = {k: Tolerance(r.tolerance, r.relative) for k, r in rules.items()}
    if said is None:
        shares = (marks_rule("method"), marks_rule("answer"), marks_rule("tidy"))
        bounds = {r.name: r.value for r in bound_rules()}
        return Settings("class", 1, 1, DEFAULT_VARY, bounds, Kept(), (), None, tolerances, shares, 0.0, 0)
    m = said.marks_for
    return Settings(
        cls=said.cls,
        seed=said.seed,
        group_size=said.group_size,
        vary=tuple(dict.fromkeys(_known(w, VARIED, "vary") for w in said.vary if w.casefold() not in ALWAYS))
        or DEFAULT_VARY,
        bounds=_bounds(said),
        kept=_kept(said.keep),
        leave_out=tuple(_known(w.upper(), tuple(MISTAKES), "leave out") for w in said.leave_out),
        kinds=tuple(_known(w, tuple(rules), "blanks") for w in said.blanks) or None,
        tolerances={
            **tolerances,
            **{_known(k, tuple(rules), "tolerance"): _tolerance(k, v) for k, v in said.tolerance},
        },
        marks=(m.method, m.answer, m.units_and_tidiness)
        if m
        else (marks_rule("method"), marks_rule("answer"), marks_rule("tidy")),
        time_min=said.time or 0.0,
        lessons=said.lessons or 0,
    )


def _known(word: str, known: tuple[str, ...], key: str) -> str:
    plain = " ".join(word.split())
    plain = plain if plain in known else plain.casefold() if key != "leave out" else plain
    plain = SAME_AS.get(plain, plain) if key in ("vary", "bounds") else plain
    plain = SAME_KIND.get(plain, plain) if key in ("blanks", "tolerance") else plain
    if plain in known:
        return plain
    guess = likely_word(plain, known)
    meant = f": is it '{guess}'?" if guess else f", which knows {listed(list(known), 'and', 40)}"
    raise NotPossible(f"exercise: '{word}' is not a word of '{key}'{meant}", key)


def _tolerance(kind: str, text: str) -> Tolerance:
    plain = lengths.tidy(text)
    try:
        if plain.endswith("%"):
            return Tolerance(lengths.number(plain[:-1]) / 100, True)
        return Tolerance(lengths.number(plain.removesuffix("mm").strip()))
    except lengths.NotUnderstood as why:
        raise NotPossible(f"exercise: tolerance of {kind}: {why}; write 1 or 2 %", "tolerance") from why


def _bounds(said: Exercise) -> dict[str, float]:
    """Bounds by the rule's name; the file's go before the trade's. A range "6 to 25" sets two rules."""
    rules = bound_rules()
    bounds = {r.name: r.value for r in rules}
    by_key: dict[str, list[str]] = {}
    for r in rules:
        if r.key:
            by_key.setdefault(r.key, []).append(r.name)
    for word, text in said.bounds:
        names = by_key[_known(word, tuple(by_key), "bounds")]
        figures = [_figure(word, part) for part in re.split(r"\s+to\s+", text.strip())]
        if len(figures) == 1 and len(names) == 2 and word == "misclosure":
            figures = [bounds["misclosure_least"], figures[0]]
        if len(figures) != len(names) or (len(figures) == 2 and figures[0] > figures[1]):
            wanted = "a range such as 6 to 25" if len(names) == 2 else "one figure"
            raise NotPossible(f"exercise: bounds of {word}: '{text}' is not {wanted}", "bounds")
        if names == ["wall_step"] and figures[0] == 0:
            raise NotPossible(
                "exercise: bounds of wall step: a step of 0 changes nothing; leave 'wall lengths' out", "bounds"
            )
        bounds.update(zip(names, figures, strict=True))
    return bounds


def _figure(word: str, text: str) -> float:
    try:
        return abs(lengths.number(text.removesuffix("weeks").strip())) if "week" in text else lengths.length(text)
    except lengths.NotUnderstood as why:
        raise NotPossible(f"exercise: bounds of {word}: {why}", "bounds") from why


def _kept(words: tuple[str, ...]) -> Kept:
    below = above = extended = packed = None
    apart = False
    for word in words:
        plain = " ".join(word.casefold().split())
        if KEEP_APART.fullmatch(plain):
            apart = True
            continue
        if KEEP_ANYHOW.fullmatch(plain):
            continue
        if KEEP_FITTING.fullmatch(plain):
            below = above = 0
            continue
        found = KEEP_LEGS.fullmatch(plain)
        if found is None:
            raise NotPossible(
                f"exercise: '{word}' is not a condition of 'keep', which knows 'one leg below the shortest', "
                "'two legs needing an extension', 'one leg above the longest', 'one leg on packing' and "
                "'answers that differ for each usual mistake'",
                "keep",
            )
        count = COUNTS.get(found[1], -1) if found[1] in COUNTS else int(found[1])
        if found[2] or found[6]:
            below = count
        elif found[3]:
            above = count
        elif found[4]:
            extended = count
        else:
            packed = count
    return Kept(below, above, extended, packed, apart)


def bounds_stated(project: Project) -> tuple[BoundRule, ...]:
    """The bounds as the file states them."""
    bounds = settings_of(project).bounds
    said = {_known(w, _bound_keys(), "bounds") for w, _ in project.exercise.bounds} if project.exercise else set()
    return tuple(replace(r, value=bounds[r.name]) for r in bound_rules() if r.key in said)


def _bound_keys() -> tuple[str, ...]:
    return tuple(dict.fromkeys(r.key for r in bound_rules() if r.key))


def bounds_assumed(project: Project) -> tuple[Assumed, ...]:
    """The bounds that the file does not state, with the key that overrules each."""
    said = {r.key for r in bounds_stated(project)}
    return tuple(
        Assumed(r.says, f"{r.value:g}", r.unit, r.source, f"exercise: bounds: {r.key}" if r.key else "", "versions")
        for r in bound_rules()
        if r.key not in said
    )
