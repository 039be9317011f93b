"""The answer to a question about a plan: each figure back to the reading, the file's line or the source it is from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from packgen.core.worked import Worked
from packgen.explain.ask import ask
from packgen.explain.finding import tell_finding
from packgen.explain.lines import Lines
from packgen.explain.quote import quote
from packgen.explain.subjects import Subject, list_subjects
from packgen.explain.tell import STEP, Telling, quoted, wrapped
from packgen.plan import Plan

NAMES_SHOWN = 8
LONGEST_ROW = 400  # of names that are all shown
EXAMPLES = ("node", "bay", "pour", "date", "finding", "order", "money")


@dataclass(frozen=True)
class Answer:
    """known: whether the plan has what was asked about"""

    text: str
    known: bool


def explain(plan: Plan, file: str, lines: Sequence[str], words: Sequence[str]) -> Answer:
    """The arithmetic of what the words name; what can be asked where there are none.

    file: the file's name as it was typed, for the commands that lead on; lines: of the project file
    """
    known = Lines(plan)
    if not words:
        return Answer("\n".join(_list(plan, known, file)), True)
    meant = ask(plan, known, words)
    if not meant.subjects:
        rows = [f"nothing is called '{' '.join(words)}' in this plan"]
        if meant.guesses:
            rows.append("did you mean one of these?" if len(meant.guesses) > 1 else "did you mean this?")
            rows += [f"    packgen explain {quoted(file)} {_as_words(name)}" for name in meant.guesses[:NAMES_SHOWN]]
            more = len(meant.guesses) - NAMES_SHOWN
            rows += [f"    and {more} more"] if more > 0 else []
        rows.append(f"packgen explain {quoted(file)} alone lists what can be asked")
        return Answer("\n".join(rows), False)
    telling = Telling(known.find, f"packgen explain {quoted(file)}")
    for subject in meant.subjects:
        if subject.finding is not None:
            tell_finding(telling, known, subject.finding)
        for line in _lines_of(subject, known):
            telling.line(line)
    rows = telling.rows
    used = quote(telling.used, lines)
    if used:
        rows += ["", f"The lines of {file} that this rests on:", *used]
    if meant.others:
        rows += ["", "There is also:", *(f"    packgen explain {quoted(file)} {_as_words(n)}" for n in meant.others)]
    return Answer("\n".join(rows), True)


def _lines_of(subject: Subject, lines: Lines) -> list[Worked]:
    return [line for key in subject.keys if (line := lines.find(key)) is not None]


def _as_words(name: str) -> str:
    """A kind and a name as they are typed: the name in quotes where it has blanks."""
    kind, _, rest = name.partition(" ")
    return f"{kind} {quoted(rest)}" if rest and "/" not in kind else quoted(name)


def _list(plan: Plan, lines: Lines, file: str) -> list[str]:
    """What can be asked, kind by kind, with an example of each."""
    rows: list[tuple[str, str, str]] = []
    examples: list[str] = []
    for kind, group in groupby(list_subjects(plan, lines), key=lambda s: s.kind):
        some = [s for s in group if s.finding is not None or _lines_of(s, lines)]
        names = list(dict.fromkeys(s.finding.code if s.finding else s.name for s in some if s.name))
        if some:
            rows.append((kind, str(len(some)) if names else "", _some(names)))
            if kind in EXAMPLES:
                name = names[len(names) // 2] if names else ""
                examples.append(f"packgen explain {quoted(file)} {_as_words(f'{kind} {name}'.strip())}")
    wide = max(len(row[0]) for row in rows)
    out = ["Ask where a number of this plan comes from, for example:", *(STEP + e for e in examples), ""]
    out += ["What can be asked, by kind and name, by the name alone, or by any key of a worked line:"]
    for kind, count, shown in rows:
        out += wrapped(f"{kind.ljust(wide)}  {count.rjust(4)}  {shown}", 1, len(STEP) + wide + 8)
    return out


def _some(names: Sequence[str]) -> str:
    """Names in a row: all where they are few or short, else the first and how many more."""
    whole = "; ".join(names)
    if len(whole) <= LONGEST_ROW:
        return whole
    return f"{'; '.join(names[:NAMES_SHOWN])} and {len(names) - NAMES_SHOWN} more"
