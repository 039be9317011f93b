"""Marks answers: right, right from an earlier answer, a usual mistake by its code, or something else.

Follow-on: each blank is worked out again from the pupil's own earlier answers by the same function that gave the right
one; a value that follows from them earns what a right one earns.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from packgen.core.figures import half_up, whole
from packgen.exercise.answers import ReadAnswer, read_answer
from packgen.exercise.feedback import question_rows, says_of
from packgen.exercise.mark_model import AnswerRow, Marked, Marking, PupilMarks, Status
from packgen.exercise.marks import Marks, marks_of
from packgen.exercise.mistakes import MISTAKES
from packgen.exercise.model import Answers, Blank, Case
from packgen.exercise.questions import Posed, pose
from packgen.exercise.settings import Settings

NUMBERED = re.compile(r"(?:question|number|no|nr|q|#)?[ .:]*0*([0-9]+)[.):]?")


def mark(
    cases: Sequence[Case],
    settings: Settings,
    level: int,
    rows: Sequence[AnswerRow],
    left_out: frozenset[tuple[str, str]] = frozenset(),
) -> Marking:
    """Marks all rows against the set's cases. A pupil without any row is not marked.

    Method marks go with a right or follow-on answer unless the row says that no working is shown.
    """
    by_pupil = {case.pupil: case for case in cases}
    sorted_rows: dict[int, dict[str, AnswerRow]] = {}
    unread: list[str] = []
    posed = {number: pose(case, settings, level) for number, case in by_pupil.items()}
    for row in rows:
        where = f"line {row.line}: " if row.line else ""
        if row.pupil not in by_pupil:
            unread.append(f"{where}there is no pupil {row.pupil} in this set")
            continue
        blank = question_of(posed[row.pupil].blanks, row.question)
        if blank is None:
            unread.append(f"{where}pupil {row.pupil} has no question '{row.question}'")
            continue
        if blank.id in sorted_rows.setdefault(row.pupil, {}):
            unread.append(f"{where}pupil {row.pupil} answers question {blank.number} twice: the first answer counts")
            continue
        sorted_rows[row.pupil][blank.id] = row
    pupils = tuple(
        mark_pupil(by_pupil[number], posed[number], settings, found, left_out)
        for number, found in sorted(sorted_rows.items())
    )
    said = any(row.working is not None for row in rows)
    return Marking(pupils, tuple(question_rows(pupils)), tuple(unread), said)


def question_of(blanks: Sequence[Blank], named: str) -> Blank | None:
    """A blank by its printed number ("12", "Q12", "no. 12"), its id, or its id with blanks for slashes."""
    plain = " ".join(named.casefold().replace("/", " ").split())
    numbered = NUMBERED.fullmatch(plain)
    plain = numbered[1] if numbered else plain.removeprefix("question ")
    for blank in blanks:
        if plain in (str(blank.number), blank.id.casefold().replace("/", " ")):
            return blank
    return None


def mark_pupil(
    case: Case,
    posed: Posed,
    settings: Settings,
    rows: Mapping[str, AnswerRow],
    left_out: frozenset[tuple[str, str]] = frozenset(),
) -> PupilMarks:
    """One pupil's answers, in working order, by blank id."""
    possible = marks_of(posed.blanks, settings)
    own: dict[str, float] = dict(posed.given)
    sure: set[str] = set(posed.given)
    marked = []
    for blank in posed.blanks:
        row = rows.get(blank.id)
        read = read_answer(blank, row.answer) if row else ReadAnswer(None)
        follow = _followed(blank, own, posed.right[blank.id])
        found = _judge(case, posed, blank, read, own, sure, follow, left_out)
        value = found[0] if read.value is not None else None
        own[blank.id] = follow if value is None else value
        if value is not None:
            sure.add(blank.id)
        marked.append(_marked(blank, row, read, found, follow, posed.right[blank.id], possible[blank.id]))
    return PupilMarks(case.pupil, tuple(marked), tuple(says_of(marked)))


def _followed(blank: Blank, own: Answers, right: float) -> float:
    """What follows from the pupil's own answers; the right answer where they lead nowhere (a date beyond all years)."""
    try:
        return blank.work(own).value
    except (ValueError, OverflowError):
        return right


Found = tuple[float, Status, str, bool]


def _judge(
    case: Case,
    posed: Posed,
    blank: Blank,
    read: ReadAnswer,
    own: Answers,
    sure: set[str],
    follow: float,
    left_out: frozenset[tuple[str, str]],
) -> Found:
    """Value, status, code, and whether the mistake was made earlier. A side that was not said is read kindly."""
    right = posed.right[blank.id]
    if read.value is None:
        return 0.0, "other" if read.unread else "blank", "", False
    kindly = [read.value] if read.sided else [read.value, -read.value]
    for value in kindly:
        if _within(blank, value, right):
            return value, "right", "", False
    for value in kindly:
        if _within(blank, value, follow):
            return value, "follow-on", "", False
    for value in kindly:
        for known in (own, posed.known):
            codes = _slips(blank, known, value, left_out)
            if codes:
                return value, "mistake", codes[0], False
    for value in kindly:
        code = _earlier(posed, blank, value, sure, own)
        if code:
            return value, "mistake", code, True
    side = -1.0 if follow < 0 else 1.0
    return (read.value if read.sided else side * abs(read.value)), "other", "", False


def _within(blank: Blank, value: float, wanted: float) -> bool:
    return abs(value - wanted) <= blank.tolerance.mm(wanted) + 0.5 * 10.0**-blank.digits * (blank.digits > 0) + 1e-9


def _slips(blank: Blank, known: Answers, value: float, left_out: frozenset[tuple[str, str]]) -> list[str]:
    """Codes of the mistakes at this blank that give the value, the nearest first."""
    near = []
    for slip in blank.slips:
        if (blank.kind, slip.code) in left_out:
            continue
        try:
            way = slip.work(known)
        except (KeyError, ValueError, OverflowError):
            continue
        if way is not None and _within(blank, value, way.value):
            near.append((abs(value - way.value), slip.code))
    return [code for _, code in sorted(near)]


def _earlier(posed: Posed, blank: Blank, value: float, sure: set[str], own: Answers) -> str:
    """The mistake at a blank before, left empty or answered otherwise, that leads to this value to its last digit."""
    by_id = {b.id: b for b in posed.blanks}
    for need in _needs(by_id, blank):
        for slip in need.slips:
            try:
                way = slip.work(own)
                if way is None:
                    continue
                led = _led(by_id, blank, need, way.value, own)
            except (KeyError, ValueError, OverflowError):
                continue
            if half_up(led, blank.digits) == half_up(value, blank.digits):
                return slip.code
    return ""


def _needs(by_id: Mapping[str, Blank], blank: Blank) -> Iterator[Blank]:
    """Blanks that lead to this one, the nearest first."""
    queue, seen = list(blank.needs), set()
    while queue:
        name = queue.pop(0)
        if name in by_id and name not in seen:
            seen.add(name)
            yield by_id[name]
            queue += by_id[name].needs


def _led(by_id: Mapping[str, Blank], blank: Blank, start: Blank, value: float, own: Answers) -> float:
    """What the blank comes to when an earlier one has another value and all between follows from it."""
    known = {**own, start.id: value}
    between = [b for b in by_id.values() if start.number < b.number < blank.number]
    touched = {start.id}
    for b in between:
        if touched & set(b.needs):
            known[b.id] = b.work(known).value
            touched.add(b.id)
    return blank.work(known).value


def _marked(
    blank: Blank, row: AnswerRow | None, read: ReadAnswer, found: Found, follow: float, right: float, possible: Marks
) -> Marked:
    value, status, code, carried = found
    shown = row is None or row.working is not False
    tidy = possible.tidy if status != "blank" and read.sided and (row is None or row.tidy is not False) else 0
    method = answer = 0
    if status in ("right", "follow-on"):
        method, answer = (possible.method if shown else 0), possible.answer
    elif status == "mistake":
        method = whole(possible.method * MISTAKES[code].method) if shown else 0
    return Marked(
        blank.number,
        blank.id,
        blank.kind,
        blank.goal,
        status,
        row.answer if row else "",
        None if status == "blank" or read.value is None else value,
        right,
        follow,
        code,
        carried,
        Marks(method, answer, tidy),
        possible,
    )
