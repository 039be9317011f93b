"""The lines of arithmetic as a reader follows them: three results from the first reading on, then all by subject."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from packgen.booklet.signless import signless, signless_sum
from packgen.core.figures import number
from packgen.core.worked import Worked
from packgen.plan import Plan

EVERY_LEG = 400  # of more legs only the masters are printed, of more bays only their rows; plan.json has them all

# subject of a line by the beginning of its key, in reading order
SUBJECTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Survey",
        (
            "two-peg",
            "collimation",
            "level-book",
            "misclosure",
            "correction",
            "again",
            "closing",
            "wall",
            "tape",
            "angle",
            "offset",
            "curve",
            "doorway",
            "area",
            "shape",
        ),
    ),
    ("Heights", ("zone", "window", "door", "cover", "crossing", "border", "depth")),
    ("Fill", ("fill", "batch", "pack")),
    ("Weight and force", ("weight", "node")),
    ("Pours and waiting", ("pour", "grid", "boards", "date", "heating")),
    ("Order", ("order", "circuit")),
)


@dataclass(frozen=True, slots=True)
class Group:
    """Lines under one heading, in full."""

    title: str
    lines: tuple[Worked, ...]


def told_in_full(plan: Plan) -> tuple[Group, ...]:
    """One leg, one pour and one date, each with every line it rests on (sums over bays show one bay only)."""
    lines = {w.key: w for w in plan.worked}
    out = []
    for title, keys in (
        ("One leg in full", _leg_keys(plan, lines)),
        ("One pour in full", _pour_keys(lines)),
        ("One date in full", _date_keys(plan, lines)),
    ):
        found = _rests_on(keys, lines)
        if found:
            out.append(Group(title, tuple(found)))
    return tuple(out)


def by_subject(plan: Plan) -> tuple[Group, ...]:
    """All other lines, except those of single readings, legs and bays."""
    told = {w.key for group in told_in_full(plan) for w in group.lines}
    rest = [w for w in plan.worked if not is_small(w) and w.key not in told and not w.key.startswith("money/")]
    out = []
    taken: set[str] = set()
    for title, heads in SUBJECTS:
        here = [w for w in rest if w.key.split("/")[0] in heads]
        taken |= {w.key for w in here}
        out.append(Group(title, tuple(here)))
    out.append(Group("Further results", tuple(w for w in rest if w.key not in taken)))
    return tuple(g for g in out if g.lines)


def small_lines(plan: Plan, head: str, tail: str = "") -> tuple[Worked, ...]:
    """The lines of single readings ("level"), legs ("node", "leg") or bays ("bay", "litres")."""
    found = [w for w in plan.worked if is_small(w) and w.key.startswith(f"{head}/") and w.key.endswith(tail)]
    if head == "node" and len(plan.layout.nodes) > EVERY_LEG:
        masters = {leg.node for leg in plan.heights.legs if leg.master}
        found = [w for w in found if w.key.split("/")[1] in masters]
    if head == "bay" and len(plan.layout.bays) > EVERY_LEG:
        found = []  # the rows of bays, each in full, add them up
    return tuple(found)


def is_small(w: Worked) -> bool:
    """Whether a line is one of many alike, printed short in a table of its own."""
    head, tail = w.key.split("/")[0], w.key.split("/")[-1]
    return (
        head == "level"
        or (head == "node" and tail in ("base", "leg", "rail top", "target"))
        or (head == "bay" and tail in ("litres", "mean depth"))
    )


def on_paper(text: str) -> str:
    """Signs as a reader knows them: × for times, brackets said in words."""
    text = signless_sum(text)
    for sign, words in (
        (" x ", " × "),
        ("ceil(", "round up("),
        ("floor(", "round down("),
        ("max(", "largest of ("),
        ("min(", "smallest of ("),
    ):
        text = text.replace(sign, words)
    return text


def result(w: Worked) -> str:
    """The value with its unit as printed."""
    return signless(f"{number(w.value, w.digits)} {w.unit}".strip())


# ------------------------------------------------------------------------------ which three


def _leg_keys(plan: Plan, lines: Mapping[str, Worked]) -> list[str]:
    legs = sorted(plan.heights.legs, key=lambda leg: (leg.known != "read", not leg.master, leg.order))
    for leg in legs:
        keys = [f"node/{leg.node}/{part}" for part in ("base", "rail top", "leg", "target")]
        if f"node/{leg.node}/leg" in lines:
            return [k for k in keys if k in lines]
    return []


def _pour_keys(lines: Mapping[str, Worked]) -> list[str]:
    return [k for k in lines if k.startswith("pour/1/") and not k.endswith(("/test", "/drying", "/hours"))]


def _date_keys(plan: Plan, lines: Mapping[str, Worked]) -> list[str]:
    wanted = [k for k in lines if k.endswith("/test")] or [k for k in lines if k.startswith("date/")]
    return wanted[:1] or [k for k in lines if k.startswith("grid/")][:1]


def _rests_on(keys: Sequence[str], lines: Mapping[str, Worked]) -> list[Worked]:
    """The lines of these keys after all they need; of the bays in a sum the first alone, as a sample."""
    found: list[str] = []

    def visit(key: str) -> None:
        if key in found or key not in lines:
            return
        for need in _sampled(lines[key].needs):
            visit(need)
        found.append(key)

    for key in keys:
        visit(key)
    return [lines[k] for k in found]


def _sampled(needs: Iterable[str]) -> list[str]:
    out: list[str] = []
    seen: set[str] = set()
    for need in needs:
        head = need.split("/")[0]
        if head in ("bay", "fill") and head in seen:
            continue
        seen.add(head)
        out.append(need)
    return out
