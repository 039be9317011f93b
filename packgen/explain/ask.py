"""From the words of a question to what is asked about; and what was probably meant."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from packgen.core.figures import day
from packgen.explain.lines import Lines
from packgen.explain.subjects import Subject, list_subjects
from packgen.plan import Plan

MOST_AT_ONCE = 4  # subjects that are all told when the words fit each
FIRST, LAST = ("first", "earliest"), ("last", "latest")
NEAR = 0.6
SHORTEST_STEM = 4  # letters by which a word is known when its end is another
MOST_GUESSES = 5


@dataclass(frozen=True)
class Meant:
    """The subjects asked about; else what was probably meant. others: what has the same name"""

    subjects: tuple[Subject, ...]
    guesses: tuple[str, ...] = ()
    others: tuple[str, ...] = ()


def flat(words: str) -> str:
    """Words as they are compared: small letters, single blanks, no strokes.

    >>> flat(" Node/C4  leg")
    'node c4 leg'
    """
    return re.sub(r"[\s/_]+", " ", words).strip().casefold()


def ask(plan: Plan, lines: Lines, words: Sequence[str]) -> Meant:
    """What is asked about, by kind and name, by a key, by a name alone, or by words of a date or a finding."""
    text, subjects = flat(" ".join(words)), list_subjects(plan, lines)
    named = [s for s in subjects if flat(s.asked) == text]
    if named:
        return Meant(tuple(named))
    of_kind = [s for s in subjects if s.kind == text]
    if of_kind:
        few = len(of_kind) <= MOST_AT_ONCE
        return Meant(tuple(of_kind)) if few else Meant((), tuple(dict.fromkeys(s.asked for s in of_kind)))
    by_key = _by_key(" ".join(words), text, lines, subjects)
    if by_key is not None:
        return Meant((by_key,))
    own = [s for s in subjects if flat(s.name) == text or (s.finding is not None and s.finding.code == text)]
    if own:
        first = [s for s in own if s.kind == own[0].kind]
        return Meant(tuple(first), others=tuple(s.asked for s in own if s.kind != own[0].kind))
    dated = _dates(plan, text, subjects)
    if dated:
        return Meant(dated)
    having = [s for s in subjects if set(text.split()) <= set(flat(s.asked).split())]
    having = having or [s for s in subjects if all(w in flat(s.asked) for w in text.split())]
    if 0 < len(having) <= MOST_AT_ONCE:
        return Meant(tuple(having))
    names = [s.asked for s in having] or _near(text, subjects, lines)
    return Meant((), tuple(dict.fromkeys(names)))


def _by_key(typed: str, text: str, lines: Lines, subjects: Sequence[Subject]) -> Subject | None:
    """A key of a line, typed with its strokes or with blanks for them."""
    if lines.find(typed.strip()) is not None:
        return Subject("", typed.strip(), (typed.strip(),))
    for s in sorted(subjects, key=lambda s: -len(s.asked)):
        for stem in (s.stem, s.asked if s.stem else ""):
            if stem and text.startswith(f"{flat(stem)} "):
                rest = text[len(flat(stem)) + 1 :]
                key = f"{s.stem}/{rest}"
                if lines.find(key) is not None:
                    return Subject("", key, (key,))
    known = {flat(k): k for k in lines.known}
    return Subject("", known[text], (known[text],)) if text in known else None


def _dates(plan: Plan, text: str, subjects: Sequence[Subject]) -> tuple[Subject, ...]:
    """Dates by words of their event, by their key in plan.json, or by the day itself; "first" and "last" choose."""
    rows = {w.event: w for w in plan.sequence.waiting}
    dates = [s for s in subjects if s.kind == "date"]
    said = text.removeprefix("date").removeprefix("s").strip().split()
    if not said:
        return ()
    keyed = [s for s in dates if (row := rows.get(s.name)) and flat(row.key) == " ".join(said)]
    on = [s for s in dates if (row := rows.get(s.name)) and " ".join(said) in _ways_to_write(row.date)]
    if keyed:
        return (max(keyed, key=lambda s: rows[s.name].date),)
    if on:
        return tuple(on)
    chosen = [w for w in said if w not in (*FIRST, *LAST)]
    for words in (said, chosen):
        found = [s for s in dates if words and all(_begins(w, s.name) for w in words)]
        if found and words is chosen and words != said:
            latest = any(w in LAST for w in said)
            ordered = sorted(found, key=lambda s: rows[s.name].date if s.name in rows else plan.sequence.started)
            return (ordered[-1 if latest else 0],)
        if 0 < len(found) <= MOST_AT_ONCE:
            return tuple(found)
    return ()


def _ways_to_write(date: datetime.date) -> tuple[str, ...]:
    said = day(date).casefold()
    return date.isoformat(), said, said.partition(" ")[2]


def _begins(word: str, name: str) -> bool:
    """Whether a word of a name begins as this one does: "walked" finds "walk"."""
    if len(word) < SHORTEST_STEM:
        return word in flat(name).split()
    stem = word[: max(SHORTEST_STEM, len(word) - 3)]
    return any(w.startswith(stem) or (len(w) >= SHORTEST_STEM and word.startswith(w)) for w in flat(name).split())


def _near(text: str, subjects: Sequence[Subject], lines: Lines) -> list[str]:
    """Names that look like the one typed, best first."""
    names = {flat(s.asked): s.asked for s in subjects} | {flat(k): k for k in lines.known}
    bare = {flat(s.name): s.asked for s in reversed(subjects) if s.name}
    bare |= {s.finding.code: f"finding {s.finding.code}" for s in subjects if s.finding}
    found = [names[n] for n in get_close_matches(text, names, MOST_GUESSES, NEAR)]
    return [*found, *(bare[n] for n in get_close_matches(text, bare, MOST_GUESSES, NEAR))][:MOST_GUESSES]
