"""Short words for the teacher's tables: what a blank asks, what is accepted, what usual mistakes give."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packgen.booklet.worked_groups import on_paper
from packgen.core.figures import number, plain
from packgen.exercise.answers import show_answer
from packgen.exercise.marks import Marks, accepted
from packgen.exercise.model import Blank, Case, Version
from packgen.exercise.questions_fill import OTHER
from packgen.exercise.tell_apart import LeftOut, slip_ways
from packgen.exercise.ways_height import kit_of, parts_by_rule

SHORT = {
    "height of collimation": "line of",
    "target reading": "target",
    "mean depth": "mean depth",
    "volume": "in place",
    "litres to order": "to order",
    "date": "test from",
}


BY_DAY = ("mean depth", "volume", "litres to order", "bags", "water", "drying", "date")


def name_of(blank: Blank) -> str:
    """What a blank asks in a few words: "level B1", "line of S2", "bags day 1"."""
    head, _, key = blank.id.partition("/")
    if head == "point":
        return f"{key}'s change point"
    if head == "rise":
        return f"rise or fall to {key.rpartition('/')[2]}"
    words = SHORT.get(blank.kind, blank.kind)
    if blank.kind in BY_DAY and key != OTHER:
        return f"{words} day {key}"
    return f"{words} {'other' if key == OTHER else key}".strip()


def right_of(blank: Blank, value: float) -> str:
    """The right answer as short as a table needs; mm go without their unit."""
    if blank.writing == "date":
        return show_answer(blank, value)
    return show_answer(blank, value).removesuffix(" mm").replace("does not fit", "no fit")


def accepted_of(blank: Blank, value: float) -> str:
    """From and to of what is accepted; "exact" where that is one figure."""
    if blank.writing in ("choice", "date"):
        return "exact"
    low, high = accepted(blank, value)
    if low >= high:
        return "exact"
    return f"{number(low, blank.digits)} to {number(high, blank.digits)}"


def marks_words(marks: Marks) -> str:
    """Method + answer + unit and tidiness."""
    return f"{marks.method}+{marks.answer}+{marks.tidy}"


def worked_of(blank: Blank, known: Mapping[str, float]) -> str:
    """The line of arithmetic with its numbers; nothing for a tick, which repeats its leg."""
    if blank.writing == "choice":
        return ""
    return on_paper(blank.work(known).numbers)


def mistakes_of(blank: Blank, known: Mapping[str, float], left_out: LeftOut) -> str:
    """Codes with what each gives here. The other side of the datum is said, the same side is not."""
    right = known[blank.id]
    told: dict[str, str] = {}
    for slip, way in slip_ways(blank, known, left_out):
        told.setdefault(slip.code, _value(blank, way.value, right))
    return ", ".join(f"{code} {text}" for code, text in told.items())


def _value(blank: Blank, value: float, right: float) -> str:
    if blank.writing in ("level", "rise", "misclosure", "correction"):
        if value == 0 or value * right > 0:
            return plain(abs(value))
        return show_answer(blank, value).replace("too ", "")
    if blank.writing == "date":
        return "a day early" if value < right else "a day late"
    return plain(value, 3)


def hold_lifted(version: Version) -> Iterator[str]:
    """What a pupil may write for the hold that is asked: by how much the leg does not fit, and what lifts that."""
    blank = next((b for b in version.blanks if b.kind == "hold"), None)
    at = None if blank is None else int(version.right[blank.id])
    if blank is None or at is None or at >= len(blank.choices) - 1:
        return
    node = blank.choices[at]
    length = version.known[f"leg/{node}"]
    kit = kit_of(version.case)
    out = plain(parts_by_rule(length, kit).outside_mm)
    cures = (
        f"finished level {out} or more higher, {out} or more taken off the base there, or a leg made for less"
        if length < kit.shortest
        else f"finished level {out} or more lower, hard packing or a longer part under the leg"
    )
    yield (
        f"Question {blank.number}, what lifts it: {node} needs {plain(length)}, the kit sets {plain(kit.shortest)} to "
        f"{plain(kit.longest)}. Good answers: {cures}; then the legs are worked out again. The tick alone is marked."
    )


def carried(version: Version, left_out: LeftOut) -> Iterator[str]:
    """Ready follow-on values for the commonest wrong inputs: later answers when they are carried on rightly."""
    for start, code in _inputs(version):
        blank = next((b for b in version.blanks if b.id == start), None)
        if blank is None:
            continue
        way = next((w for s, w in slip_ways(blank, version.known, left_out) if s.code == code), None)
        if way is None:
            continue
        known = {**version.known, start: way.value}
        touched = {start}
        told = []
        for later in version.blanks:
            if later.number > blank.number and touched & set(later.needs):
                known[later.id] = later.work(known).value
                touched.add(later.id)
                if later.writing != "choice" and known[later.id] != version.known[later.id]:
                    told.append(f"{later.number}: {_value(later, known[later.id], version.known[later.id])}")
        if told:
            wrong = right_of(blank, way.value)
            yield f"Question {blank.number} answered {wrong} ({code}) and carried on: {', '.join(told)}."


def _inputs(version: Version) -> Sequence[tuple[str, str]]:
    """The commonest wrong beginnings: the old line, the finish forgotten."""
    last = version.case.setups[-1].name if version.case.setups else ""
    return ((f"collimation/{last}", "W2"), ("rail top", "W5"))


def asked_words(case: Case) -> str:
    """The legs asked."""
    return " ".join(leg.node for leg in case.legs)
