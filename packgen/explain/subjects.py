"""What can be asked: nodes, bays, pours, dates, findings and all else that is printed, each with its lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packgen.core.finding import Finding
from packgen.explain.lines import Lines
from packgen.plan import Plan

NODE = (
    "leg",
    "rail top",
    "base",
    "screw",
    "short",
    "target",
    "depth",
    "along wall 1",
    "from wall 1",
    "pressure",
    "force",
)
BAY = ("litres", "area", "depth", "smallest", "greatest", "own area", "mean depth")
POUR = (
    "litres",
    "bags",
    "batches",
    "last batch",
    "water/least",
    "water/most",
    "water/all/least",
    "water/all/most",
    "water/last/least",
    "water/last/most",
    "mass",
    "hours",
    "start",
    "end",
)
ZONE = ("rail top", "finished", "finish", "layers", "mean depth", "window/at least", "window/at most")
ROOM = ("area", "around", "closing/x", "closing/y")
WEIGHT = (
    "weight/dry",
    "weight/dry/force",
    "weight/fresh",
    "weight/fresh/force",
    "weight/working",
    "weight/allowed working",
    "weight/worst/dry",
    "weight/worst/fresh",
    "weight/bags",
)
MONEY = ("money/total", "money/tax", "money/overhead", "money/net")
BOOK = ("misclosure", "level-book/", "correction/", "collimation/", "booked/")
WORK = ("work/hours", "grid/hours", "grid/days")
SHAPE = ("wall", "angle", "offset", "curve", "doorway")


@dataclass(frozen=True)
class Subject:
    """A thing that can be asked about: its kind and name, and the keys of its lines; a finding where it is one.

    stem: what the keys of its lines begin with, where they all do
    """

    kind: str
    name: str
    keys: tuple[str, ...]
    stem: str = ""
    finding: Finding | None = None

    @property
    def asked(self) -> str:
        return f"{self.kind} {self.name}".rstrip()


def list_subjects(plan: Plan, lines: Lines) -> tuple[Subject, ...]:
    """All subjects of a plan, kind by kind; a key of theirs may have no line where the plan has no such number."""
    keys = lines.known

    def under(stem: str) -> tuple[str, ...]:
        return tuple(k for k in keys if k.startswith(stem))

    def parts(stem: str, names: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(f"{stem}/{name}" for name in names)

    def found() -> Iterator[Subject]:
        for n in plan.layout.nodes:
            yield Subject("node", n.id, parts(f"node/{n.id}", NODE), f"node/{n.id}")
        for b in plan.layout.bays:
            yield Subject("bay", b.name, parts(f"bay/{b.name}", BAY), f"bay/{b.name}")
        for p in plan.sequence.pours:
            own = (*parts(f"pour/{p.number}", POUR), f"date/pour {p.number}")
            yield Subject("pour", str(p.number), own, f"pour/{p.number}")
        for k in under("date/"):
            yield Subject("date", k.removeprefix("date/"), (k,))
        for f in plan.findings:
            yield Subject("finding", f"{f.code} {f.where}".rstrip(), (), finding=f)
        for point in plan.survey.levels.points:
            yield Subject("reading", point.id, (f"level/{point.id}",), f"level/{point.id}")
        yield Subject("levels", "", tuple(k for book in BOOK for k in under(book)))
        for z in plan.heights.zones:
            stem = f"zone/{z.name}"
            ends = tuple(k for k in ("window/at least", "window/at most") if lines.find(k))
            yield Subject("zone", z.name, (*parts(stem, ZONE), *ends, f"{stem}/drying", f"{stem}/test"), stem)
        yield Subject("window", "", tuple(k for k in keys if "window/" in k))
        yield Subject("depth", "", ("depth/mean", "depth/smallest", "depth/greatest"))
        for r in plan.survey.rooms:
            stem = "" if len(plan.survey.rooms) == 1 else f"{r.name}/"
            tapes = tuple(f"{stem}tape/{t.start}-{t.end}" for t in r.tapes)
            tapes += tuple(k for part in SHAPE for k in under(f"{stem}{part}/"))
            yield Subject("room", r.name, (*(f"{stem}{k}" for k in ROOM), *tapes))
        for kind, stem in (("door", "door/"), ("edge", "edge/"), ("border", "border/")):
            for k in under(stem):
                if not k.endswith(("/meets", "/beyond")):
                    yield Subject(kind, k.removeprefix(stem), (k, f"{k}/beyond"), k)
        for bar in plan.layout.cut_list.bars:
            yield Subject("stock length", str(bar.number), (f"bar/{bar.number}",))
        for run in plan.layout.services:
            own = (f"cover/{run.name}", f"under rail/{run.name}", f"circuit/{run.name}")
            yield Subject("pipe", run.name, own)
        yield Subject("fill", "", ("fill/litres", *under("fill/to order")))
        yield Subject("weight", "", WEIGHT)
        yield from _bought(plan)
        for c in plan.purchase.comparison:
            yield Subject("compare", c.fill, under(f"compare/{c.fill}/"), f"compare/{c.fill}")
        yield Subject("work", "", WORK)

    return tuple(found())


def _bought(plan: Plan) -> Iterator[Subject]:
    for item, keys in _by_item(plan).items():
        yield Subject("order", item, keys)
    rows = plan.purchase.money.rows
    for item in dict.fromkeys(row.item for row in rows):
        yield Subject("price", item, tuple(f"money/row {n}" for n, row in enumerate(rows, 1) if row.item == item))
    yield Subject("money", "", MONEY)
    yield Subject("delivery", "", ("delivery/mass", "delivery/bags", "delivery/carrying"))


def _by_item(plan: Plan) -> dict[str, tuple[str, ...]]:
    """Keys of the rows of the order list, and of their masses, by what is bought."""
    found: dict[str, tuple[str, ...]] = {}
    for line in plan.purchase.order:
        if line.key:
            mass = line.key.removesuffix("/bags") + "/mass" if line.key.startswith("pour/") else f"{line.key}/mass"
            found[line.item] = (*found.get(line.item, ()), line.key, mass)
    return found
