"""What has to be at hand before work starts: only what this plan needs, said by kind and size."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.booklet.pour_words import fills_in_use
from packgen.core.figures import day, listed, number, plain
from packgen.plan import Plan
from packgen.trade.human import human

POCKET_TAPE_MM = 5000.0


@dataclass(frozen=True, slots=True)
class Block:
    """A heading and its rows to tick."""

    title: str
    items: tuple[str, ...]


def blocks(plan: Plan) -> tuple[Block, ...]:
    """All blocks in the order they are got together; empty ones left out."""
    made = (
        Block("To measure and level", _measure(plan)),
        Block("To cut and fix", _cut(plan)),
        Block("To mix and place", _place(plan)),
        Block("To clean and to keep", _clean(plan)),
        Block("To protect yourselves", _protection(plan)),
        Block("Materials, from the order list", _materials(plan)),
        Block("Hands and hours", _hands(plan)),
        Block("Water, power, space", _supplies(plan)),
        Block("Asked and told", _permissions(plan)),
        Block("For an emergency", _emergency(plan)),
    )
    return tuple(b for b in made if b.items)


def mixed(plan: Plan) -> bool:
    """Whether any fill of the plan is mixed with water."""
    return any(fill.mixed for fill in fills_in_use(plan))


def cement(plan: Plan) -> bool:
    """Whether any fill of the plan burns as cement does."""
    return any(fill.cement for fill in fills_in_use(plan))


def boarded(plan: Plan) -> bool:
    """Whether boards are screwed on the rails."""
    return any(fill.board_on_top for fill in fills_in_use(plan))


def _longest_mm(plan: Plan) -> float:
    return max((w.line.length_mm for r in plan.survey.rooms for w in r.walls), default=POCKET_TAPE_MM)


def _measure(plan: Plan) -> tuple[str, ...]:
    laser = next((p.item for p in plan.project.plant if "laser" in p.item.lower()), "laser level with tripod")
    tape = plain(max(POCKET_TAPE_MM, _longest_mm(plan)) // 1000 + 1)
    edge = plain(plan.heights.straightedge_mm / 1000, 1) if plan.heights.straightedge_mm else "2"
    return (
        f"{laser}, charged, with its tripod",
        "staff or stiff rule in millimetres, foot clean",
        f"tape of {tape} m or more, and a second one to check it",
        "big square, or a cord with knots at 3, 4 and 5",
        f"straightedge of {edge} m or more, checked against its own reverse",
        "straightedge of 2 m and a wedge or feelers for gaps",
        "chalk line, pencils, tape to mark on foil",
        "blocks, screws and a saw for the support blocks",
    )


def _cut(plan: Plan) -> tuple[str, ...]:
    rows = ["saw for rails, with a stop and fresh blade", "file for saw burrs", "knife for foil and strip"]
    rows.append("key or pliers to turn the legs")
    if any(leg.packing_mm for leg in plan.heights.legs):
        rows.append("hard packing plates and their glue")
    if boarded(plan):
        rows += ["saw with extraction for boards", "screwdriver with depth stop, spare bits"]
    if any("saw" in p.item.lower() for p in plan.project.plant):
        rows.append("extraction on the saw tried out")
    return tuple(rows)


def _place(plan: Plan) -> tuple[str, ...]:
    rows: list[str] = []
    machines = [p for p in plan.project.plant if p.number and "laser" not in p.item.lower() and "staff" not in p.item]
    rows += [f"{p.number} x {p.item}" if p.number > 1 else p.item for p in machines]
    if mixed(plan):
        rows += ["water bucket with marks to 0.1 L, or a water meter", "shovels and buckets", "clock for the batches"]
        rows.append("spare for the mixer: a whisk and a tub")
    board = plain((plan.project.kit.module + 200) / 1000, 1)
    rows += [f"straight board of {board} m or more, to strike off on two rails", "rake"]
    if mixed(plan):
        rows += ["float and a large board to rub with", "boards to stop the edge, upright on the rail"]
    else:
        rows += ["board to walk on over loose fill", "hammer and block to rap"]
    return tuple(dict.fromkeys(rows))


def _clean(plan: Plan) -> tuple[str, ...]:
    rows = ["industrial vacuum, broom, sacks for waste"]
    if mixed(plan):
        rows += ["two tubs, one to settle in and one to wash in", "brushes, sponge"]
        rows.append("cover for the fresh fill: foil and weights")
    return (*rows, "camera for what will be hidden", "this pack, a clip board, two pens")


def _protection(plan: Plan) -> tuple[str, ...]:
    rows = ["boots, knee boards or pads"]
    if cement(plan):
        rows += [
            "waterproof gloves, two pairs each",
            "goggles, long sleeves",
            "clean water for skin and eyes at the place",
        ]
    else:
        rows += ["gloves, goggles"]
    rows += ["dust masks FFP3", "hearing protection", "first aid box"]
    if mixed(plan) or boarded(plan):
        rows.append(f"RCD of {plain(human('rcd').value)} mA, its button tried today")
    return tuple(rows)


def _materials(plan: Plan) -> tuple[str, ...]:
    """Each thing of the order list once, the bags of all pours together."""
    sums: dict[tuple[str, str], tuple[float, int]] = {}
    for o in plan.purchase.order:
        if o.quantity and not o.total:
            before, digits = sums.get((o.item, o.unit), (0.0, o.digits))
            sums[o.item, o.unit] = (before + o.quantity, digits)
    return tuple(f"{item}: {number(total, digits)} {unit}" for (item, unit), (total, digits) in sums.items())


def _hands(plan: Plan) -> tuple[str, ...]:
    days = [(w.date, f"{day(w.date)}: {w.task}, {w.persons} x {plain(w.hours, 1)} h") for w in plan.sequence.work_days]
    for p in plan.sequence.pours:
        hours = plain(p.ends_at - p.starts_at, 1)
        days.append((p.date, f"{day(p.date)}: pour {p.number}, {p.persons} x {hours} h"))
    rows = [text for _, text in sorted(days)]
    return tuple(rows[:14] + ([f"and {len(rows) - 14} more days, see the calendar"] if len(rows) > 14 else []))


def _supplies(plan: Plan) -> tuple[str, ...]:
    rows: list[str] = []
    if mixed(plan):
        most = max((p.water_l[1] for p in plan.sequence.pours if p.water_l), default=0.0)
        rows.append(f"water: {number(most)} L on the largest day, tap ____ m away, hose long enough")
    rows.append("power: ____ m to the socket, leads that long, off the wet floor")
    rows.append("light and air: lamp, windows that open and shut")
    heap = plan.quantities.weight.bags_per_m2
    limit = f", not more than {heap} bags on a square metre" if heap is not None else ""
    rows.append(f"dry place for the bags{limit}")
    if mixed(plan):
        rows += ["place for the mixer, with foil under it", "where the settled water goes: never into a drain"]
    rows.append("boards from the door to the work")
    return tuple(rows)


def _permissions(plan: Plan) -> tuple[str, ...]:
    rows = ["neighbours told: noise, days, parking"]
    base = plan.project.base
    reasons = []
    if plan.project.heating:
        reasons.append("heating")
    if any(z.wet == "yes" for z in plan.project.finishes):
        reasons.append("a wet room")
    if base.suspended:
        reasons.append("the load on the structure")
    if reasons:
        rows.append(f"building control asked about {listed(reasons)}")
    rows += ["landlord or owner has agreed in writing", "waste: who takes it"]
    return tuple(rows)


def _emergency(plan: Plan) -> tuple[str, ...]:
    rows = ["water stopcock is at ____________________", "fuse board is at ____________________"]
    if plan.project.base.suspended or any("gas" in s.kind.lower() for s in plan.project.services):
        rows.append("gas valve is at ____________________")
    return (
        *rows,
        "address to tell the ambulance ____________________",
        "telephone charged, number of the doctor ________",
    )
