"""Whether the blanks of a version tell right from usual mistakes, and those from one another (J14).

Two values are told apart when they differ by more than the sum of their tolerances.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from packgen.core.figures import half_up
from packgen.exercise.model import Blank, Slip, Way

RIGHT = "the right answer"
PICKS = ("drying",)  # starts from the lowest of several levels: the others do not reach it
LeftOut = frozenset[tuple[str, str]]  # (kind of blank, code)


@dataclass(frozen=True, slots=True, order=True)
class Clash:
    """Two ways at a kind of blank that come too near each other. `first` may be RIGHT."""

    kind: str
    first: str
    second: str

    def __str__(self) -> str:
        return f"{self.first} and {self.second} in {self.kind}"


def slip_ways(blank: Blank, known: Mapping[str, float], left_out: LeftOut = frozenset()) -> Iterator[tuple[Slip, Way]]:
    """Every mistake that can be made at a blank from what is known before it, with its way.

    An approximation that comes within the tolerance is right, and is left out; one that comes near is no clash.
    """
    right = blank.work(known).value
    for slip in blank.slips:
        if (blank.kind, slip.code) in left_out:
            continue
        way = slip.work(known)
        if way is None or (slip.near and abs(way.value - right) <= blank.tolerance.mm(right) + 1e-9):
            continue
        yield slip, way


def clashes(blanks: Sequence[Blank], known: Mapping[str, float], left_out: LeftOut = frozenset()) -> tuple[Clash, ...]:
    """Every pair at any blank that its tolerance cannot tell apart. known: what is given and all right answers."""
    found: set[Clash] = set()
    for blank in blanks:
        tol = blank.tolerance
        ways = [(RIGHT, blank.work(known).value, False)]
        ways += [(s.code, w.value, s.near) for s, w in slip_ways(blank, known, left_out)]
        for i, (a, value_a, _) in enumerate(ways):
            for b, value_b, near in ways[i + 1 :]:
                if a == b or (a == RIGHT and near):
                    continue
                if abs(value_a - value_b) <= tol.mm(value_a) + tol.mm(value_b) + 1e-9:
                    found.add(Clash(blank.kind, a, b))
    return tuple(sorted(found))


def collapsing(
    blanks: Sequence[Blank], known: Mapping[str, float], left_out: LeftOut = frozenset()
) -> tuple[Clash, ...]:
    """Mistakes at a blank that, carried on rightly, still give the right answer at a later one, to its last digit.

    Choices are left out: many lengths take the same parts.
    """
    by_id = {b.id: b for b in blanks}
    found: set[Clash] = set()
    for later in blanks:
        if later.writing == "choice" or later.kind in PICKS:
            continue
        right = half_up(known[later.id], later.digits)
        for need in later.needs:
            earlier = by_id.get(need)
            if earlier is None:
                continue
            for slip, way in slip_ways(earlier, known, left_out):
                carried = later.work({**known, need: way.value}).value
                if half_up(carried, later.digits) == right:
                    found.add(Clash(later.kind, RIGHT, f"{slip.code} carried on from {earlier.kind}"))
    return tuple(sorted(found))


def unfit(blanks: Sequence[Blank], known: Mapping[str, float], whole_bag: float) -> str:
    """Why an answer shows nothing: it is 0, it cannot be, or its bags are whole anyhow; "" where all is well."""
    for blank in blanks:
        value = known[blank.id]
        if blank.writing in ("level", "misclosure", "correction") and value == 0:
            return f"{blank.kind} is 0"
        if blank.writing == "number" and value <= 0:
            return f"{blank.kind} is not above 0"
        if blank.kind == "bags":
            bag = known[blank.needs[0]] / _bag_litres(blank, known)
            if abs(bag - round(bag)) < whole_bag:
                return "bags are whole before rounding up"
    return ""


def _bag_litres(blank: Blank, known: Mapping[str, float]) -> float:
    """Litres a bag, read from the line of arithmetic itself."""
    return float(blank.work(known).numbers.rstrip(")").rsplit(" / ", 1)[1])
