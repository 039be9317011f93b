"""Handover: to the one who covers, and to the owner for ten years."""

from __future__ import annotations

from packgen.booklet.facts import first_upper
from packgen.booklet.moisture_points import test_points
from packgen.booklet.rows import BODY_BEHIND_MM, WRITE_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.sheets.moisture import binder
from packgen.booklet.small_plans import below_plan
from packgen.booklet.textsize import lines_of
from packgen.booklet.tools import boarded, cement
from packgen.core.figures import day, difference, level, listed, number, plain, round_down, whole
from packgen.plan import Plan
from packgen.trade.limits import air_limit, cm_limit

SIGNED_MM = 15.0
WORDS_MM = 14.0  # the outlined words of a held sheet stand below the lines to sign
PLAN_MM = 108.0
NOTE_MM = 7.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Part 1 lies behind the gate cover, part 2 (two sheets) behind handover."""
    return (*_to_the_coverer(plan), *_to_the_owner(plan))


# ------------------------------------------------------------------------------ to the one who covers


def _to_the_coverer(plan: Plan) -> tuple[Sheet, ...]:
    notes = _notes(plan)
    doors = _doors(plan)
    left = BODY_BEHIND_MM - SIGNED_MM - sum(lines_of(n, 11, 171) * 5.3 + 1.5 for n in notes) - 12
    parts = parted(doors, left, BODY_BEHIND_MM) if doors.rows else (None,)
    left -= parts[-1].height_mm if parts[-1] else 0
    blank = _differences(left - 4, "What the coverer found and did otherwise")
    return tuple(
        Sheet(
            slug="handover" if n == 1 else f"handover-{n}",
            title="Handover to the coverer",
            purpose="What the tiler or floor layer must know before the first tile or board.",
            template="handover.html",
            view={"notes": notes if n == 1 else (), "doors": part, "blank": blank if n == len(parts) else None},
            behind="cover",
            part=n,
            parts=len(parts),
        )
        for n, part in enumerate(parts, 1)
    )


def _notes(plan: Plan) -> tuple[str, ...]:
    rows = [f"Covering as planned: {_layers(plan)}. Another covering, glue or primer: ask before."]
    dates = plan.sequence.dates
    if "test_not_before" in dates:
        cm, air = cm_limit(binder(plan), plan.project.heating is not None), air_limit()
        rows.append(
            f"Moisture: at most {plain(cm.value)} {cm.unit} (crushed sample) or {plain(air.value)} {air.unit} (sealed "
            f"box), tested not before {day(dates['test_not_before'])}. Test paper no. ____________"
        )
    if plan.project.heating:
        rows.append("Heating run up, cooled down and off for the test. Log paper no. ____________")
    joints = plan.layout.joints
    if joints:
        rows.append(
            f"{len(joints)} {'joint goes' if len(joints) == 1 else 'joints go'} through the covering, same place and "
            f"width: {listed([_joint(plan, i) for i in range(len(joints))], most=6)}."
        )
    rows.append("The perimeter strip is cut off only after laying and grouting. No adhesive in the gap at the wall.")
    for z in plan.heights.zones:
        if z.fall_per_m:
            rows.append(f"{first_upper(z.name)} falls {z.falls_in_words}: keep it.")
    if boarded(plan):
        rows.append(
            "Boards: joints on rails, screws below the surface, no springing. A board that springs is mended first."
        )
    rows.append(f"Surface asked for: {plan.project.limits.surface}; readings on the sheet Straightedge readings.")
    return tuple(rows)


def _layers(plan: Plan) -> str:
    said: dict[str, list[str]] = {}
    for z in plan.heights.zones:
        text = ", ".join(f"{name} {plain(mm, 1)}" for name, mm in z.build_up.layers) or "none"
        said.setdefault(f"{text} (together {plain(z.build_up.finish_mm, 1)} mm)", []).append(z.name)
    if len(said) == 1:
        return next(iter(said))
    return "; ".join(f"{listed(names, most=3)}: {text}" for text, names in said.items())


def _joint(plan: Plan, index: int) -> str:
    joint = plan.layout.joints[index]
    (ax, ay), (bx, by) = joint.line.a, joint.line.b
    upright = abs(ax - bx) < abs(ay - by)
    place = f"{number(ax)} along wall 1" if upright else f"{number(ay)} from wall 1" if whole(ay) else "along wall 1"
    return f"{joint.kind} joint, {plain(joint.width_mm, 1)} wide, {place}"


def _doors(plan: Plan) -> Table:
    datum = plan.project.datum.name
    doors = {d.name: d for r in plan.survey.rooms for d in r.doors}
    rows = []
    for step in plan.heights.doors:
        door = doors.get(step.door)
        says = "flush" if whole(step.step_mm) == 0 else difference(step.step_mm)
        cells = (first_upper(step.door), level(step.finished_mm, datum), level(step.meets_mm, datum), says, "", "")
        rows.append(Row((*cells[:1], door.leads_to if door else "", *cells[1:]), "light"))
    return Table(
        (
            Column("door", width_mm=34),
            Column("leads to", width_mm=26),
            Column("finished level", width_mm=32),
            Column("it meets", width_mm=32),
            Column("floor is", width_mm=18),
            Column("read", "write"),
            Column("right", "tick", 14),
        ),
        tuple(rows),
        "Levels at the doors",
    )


# ------------------------------------------------------------------------------ to the owner


def _to_the_owner(plan: Plan) -> tuple[Sheet, ...]:
    one = {
        "drawing": below_plan(plan, test_points(plan), BODY_BEHIND_MM - _facts_mm(plan) - 24),
        "facts": _facts(plan),
        "table": None,
        "care": (),
    }
    papers = _papers(plan)
    care = _care(plan)
    left = (
        BODY_BEHIND_MM
        - papers.height_mm
        - sum(lines_of(c, 11, 171) * 5.3 + 1.5 for c in care)
        - 12
        - SIGNED_MM * 2
        - WORDS_MM
    )
    two: dict[str, object] = {"drawing": None, "facts": (), "table": papers, "care": care, "blank": _differences(left)}
    views: tuple[dict[str, object], ...] = ({**one, "blank": None}, two)
    return tuple(
        Sheet(
            slug="owner" if n == 1 else f"owner-{n}",
            title="Handover to the owner",
            purpose="Keep these sheets: everything below the floor is found again with them.",
            template="handover_owner.html",
            view=view,
            behind="handover",
            part=n,
            parts=2,
        )
        for n, view in enumerate(views, 1)
    )


def _facts(plan: Plan) -> tuple[tuple[str, str], ...]:
    q, heights, zone = plan.quantities.weight, plan.heights, plan.heights.zones[0]
    rows = [
        ("layers from the top", _layers(plan)),
        (
            "fill",
            f"{plan.project.fills.used.kind}, {number(heights.depth.least_mm)} to {number(heights.depth.most_mm)} mm",
        ),
        ("rails and legs", "stay in the floor where the plan shows them"),
    ]
    covers = [c.cover_mm for c in heights.covers]
    if covers:
        deep = round_down(min(covers) + zone.build_up.finish_mm)
        rows.append(("do not drill", f"pipes and cables begin {number(deep)} mm below the finished floor"))
    else:
        rows.append(
            ("do not drill", f"the covering is {plain(zone.build_up.finish_mm, 1)} mm; below it lie fill and rails")
        )
    if q.allowed_dry_kn_m2 is not None:
        rows.append(
            ("weight of this floor", f"{number(q.dry_kn_m2, 2)} kN/m²; {number(q.allowed_dry_kn_m2, 2)} was allowed")
        )
    else:
        rows.append(("weight of this floor", f"{number(q.dry_kn_m2, 2)} kN/m²"))
    return tuple(rows)


def _facts_mm(plan: Plan) -> float:
    return sum(max(NOTE_MM, lines_of(value, 10, 125, True) * 4.5 + 2.5) for _, value in _facts(plan))


def _care(plan: Plan) -> tuple[str, ...]:
    rows = ["Heavy things, such as a stove, a bath or full shelves: ask an engineer before they come."]
    if cement(plan):
        rows.append("A hairline gap along the wall may open in the first year: the floor dries. It is no fault.")
    if plan.project.heating:
        rows.append("Heating: raise the flow slowly in each first week of the season; keep to the covering's limit.")
    if plan.layout.joints:
        rows.append("Joints stay soft: no hard grout in them, ever.")
    if plan.project.outside:
        rows.append("Keep channel, outlets and the gap at the wall free, so that water finds its way out.")
    rows.append("Before anybody drills, screws or cuts into the floor: look at the plan on the sheet before this one.")
    return tuple(rows)


def _papers(plan: Plan) -> Table:
    names = ["Grid as read by the second person", "Day's logs of the pours", "Straightedge readings"]
    if any(w.key == "test_not_before" for w in plan.sequence.waiting):
        names.append("Moisture test")
    if plan.project.heating:
        names += ["Pressure test of the heating circuits", "Heat-up log"]
    base = plan.project.base
    if base.engineer is not None or base.suspended:
        names.append("Letter of the engineer")
    if base.on_ground:
        names.append("Damp reading of the base, membrane")
    names += ["Photographs of pipes, joints and strip before filling", "What was done otherwise than planned"]
    rows = [Row((name, "", "", ""), "light") for name in names]
    return Table(
        (
            Column("paper", width_mm=92),
            Column("number, date", "write", 44),
            Column("pages", "write"),
            Column("here", "tick", 16),
        ),
        tuple(rows),
        "Papers handed over",
    )


def _differences(spare_mm: float, caption: str = "Differences from the plan") -> Table | None:
    """Blank rows as many as the sheet has room for; None for fewer than two."""
    columns = (Column("where", "write", 48), Column("what is different", "write"), Column("by, date", "write", 36))
    count = int((spare_mm - Table(columns, (), caption).height_mm) // WRITE_MM)
    return Table(columns, (Row(("", "", "")),) * min(count, 10), caption) if count > 1 else None
