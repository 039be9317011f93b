"""Section 1, the first page, which stands alone: who, what, where, when, how much, what is open, revisions."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.booklet.client.blocks import HEAD_MM, MISSING, drawn_mm
from packgen.booklet.client.plans import small_plan
from packgen.booklet.client.price import total_words
from packgen.booklet.client.refs import number_of
from packgen.booklet.client.tables import by_zone, finished_words, holds_words, pairs, within_lines
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.pour_words import counted, fills_in_use, pack_word
from packgen.booklet.rows import BODY_MM, SHEET_MM, SIDE_MM, Column, Row, Table
from packgen.booklet.sign import sign_of
from packgen.booklet.textsize import lines_of
from packgen.core.figures import day, listed, number, plain, whole
from packgen.core.finding import GATES, gate_holds
from packgen.plan import Plan

NAME_MM = 116.0  # for name and address beside the logo
NO_CONTRACTOR = f"Contractor: {MISSING} in the project file"
DATA_NAME_MM = 30.0
DATA_LINES, KEY_LINES = 2, 2  # of a value on this page at most; the sections have all of it
LETTERHEAD_MM, NO_LETTERHEAD_MM = 24.0, 12.0
DATA_MM, PLAN_MM = 104.0, (70.0, 66.0)
CONTENTS_LINE_MM, CONTENTS_HEAD_MM = 4.2, 11.5
COLUMNS = 3
GIVES_WAY = ("Steps at doors", "Legs and rails", "Depth of the fill")  # rows that go where the page is full
CONTENTS_MM = 52.0  # of a title in one of the columns


@dataclass(frozen=True, slots=True)
class Key:
    """A row: what a reader looks for, what this plan says, and the section that has it."""

    name: str
    says: str
    section: str


def view(plan: Plan, contents: tuple[tuple[str, str, str, int], ...], less_mm: float) -> dict[str, object]:
    """What the template gets. contents: (number, title, anchor, sheet) of each section; less_mm: lost to the head."""
    data = _data(plan)
    plan_drawn = small_plan(plan, *PLAN_MM)
    lines = -(-sum(lines_of(f"{n} {title}, {at}", 9, CONTENTS_MM) for n, title, _, at in contents) // COLUMNS)
    top_mm = max(data.height_mm, drawn_mm(plan_drawn)) + 1.0
    revisions = _revisions(plan)
    letterhead = LETTERHEAD_MM if plan.project.project.contractor else NO_LETTERHEAD_MM
    used = letterhead + HEAD_MM + top_mm + revisions.height_mm + CONTENTS_HEAD_MM + lines * CONTENTS_LINE_MM
    info = plan.project.project
    party = info.contractor
    return {
        "contractor": within_lines(party.name, 1, NAME_MM, 14, True) if party else NO_CONTRACTOR,
        "address": within_lines(party.address or f"address: {MISSING}", 3, NAME_MM) if party else "",
        "has_logo": bool(party and party.logo),
        "tall": party is not None,
        "data": data,
        "plan": plan_drawn,
        "keys": _fitting(_keys(plan), BODY_MM - less_mm - used),
        "revisions": revisions,
        "contents": contents,
    }


def _data(plan: Plan) -> Table:
    info = plan.project.project
    rows = [
        ("project", f"{info.name}{f', {info.reference}' if info.reference else ''}"),
        ("revision, date", f"{info.revision or 'none'}, {day(info.date)}"),
        ("prepared by", info.prepared_by or MISSING),
        ("for", info.client or f"client {MISSING}"),
        ("site", f"address {MISSING}"),
        ("work", info.aim or f"aim {MISSING}"),
        ("rooms", _rooms(plan)),
        ("plan sign", f"{sign_of(plan)}, as on the work pack for the site"),
    ]
    value_mm = DATA_MM - DATA_NAME_MM - SIDE_MM
    table = pairs([(name, within_lines(says, DATA_LINES, value_mm)) for name, says in rows], "", DATA_NAME_MM)
    return Desk(table.columns, table.rows, "", DATA_MM)


def _revisions(plan: Plan) -> Table:
    info = plan.project.project
    given = within_lines(f"{info.client}, client", 2, 53.0) if info.client else ""
    first = Row((info.revision or "none", day(info.date), f"plan {sign_of(plan)}; changes: {MISSING}", given))
    columns = (
        Column("revision", "write", 18),
        Column("date", "write", 34),
        Column("what changed since the one before", "write"),
        Column("given to, date", "write", 56),
    )
    return Desk(columns, (first, Row(("", "", "", ""))))


def _rooms(plan: Plan) -> str:
    names = listed([r.name for r in plan.survey.rooms], most=3)
    return f"{names}, {number(plan.quantities.room_m2, 2)} m²"


def _fitting(keys: tuple[Key, ...], room_mm: float) -> Table:
    """The rows that the page has room for."""
    kept = keys
    for name in ("", *GIVES_WAY):
        kept = tuple(k for k in kept if k.name != name)
        table = _key_table(kept)
        if table.height_mm <= room_mm:
            return table
    return _key_table(kept)


def _key_table(keys: tuple[Key, ...]) -> Table:
    columns = (Column("looked for", width_mm=40), Column("in this plan"), Column("section", "number", 17))
    says_mm = SHEET_MM - 40 - 17 - SIDE_MM
    rows = [Row((k.name, within_lines(k.says, KEY_LINES, says_mm), str(number_of(k.section))), "light") for k in keys]
    return Desk(columns, tuple(rows))


# ------------------------------------------------------------------------------ the rows


def _keys(plan: Plan) -> tuple[Key, ...]:
    return tuple(
        Key(name, says, section)
        for name, says, section in (
            ("May work start?", _may_start(plan), "unconfirmed"),
            ("Finished level", by_zone(plan, [finished_words(plan, z) for z in plan.heights.zones], most=2), "scope"),
            ("Fill", _fill(plan), "materials"),
            ("Legs and rails", _grid(plan), "method"),
            ("Depth of the fill", _depth(plan), "drawings"),
            ("Load", _load(plan), "base"),
            ("Steps at doors", _steps(plan), "scope"),
            ("Moisture", _moisture(plan), "base"),
            ("Heating", _heating(plan), "programme" if _heated(plan) else "exclusions"),
            ("Fire", _fire(plan), "risks"),
            ("On site", _on_site(plan), "programme"),
            ("Price", _price(plan), "price"),
        )
        if says
    )


def _may_start(plan: Plan) -> str:
    count = sum(f.open_stop for f in plan.findings)
    if not count:
        return "No hold stands in this plan; each gate is signed before it is passed"
    per_gate = [f"{g} {n}" for g in GATES if (n := len(gate_holds(plan.findings, g)))]
    first = next(f for g in GATES for f in gate_holds(plan.findings, g))
    says = first.says.split(". ")[0].rstrip(".")
    return f"{first_upper(holds_words(count))}, before {listed(per_gate)}. First: {first_upper(says)}"


def _fill(plan: Plan) -> str:
    parts = []
    for fill in fills_in_use(plan):
        name = next((n for n, f in plan.project.fills.described if f is fill), fill.kind)
        pours = [p for p in plan.sequence.pours if p.fill == name]
        bags = counted(sum(p.bags for p in pours), pack_word(fill))
        parts.append(f"{fill.kind}, {number(sum(p.volume_l for p in pours))} L, {bags} of {plain(fill.bag.mass)} kg")
    return "; ".join(parts)


def _grid(plan: Plan) -> str:
    legs, q = [leg.leg_mm for leg in plan.heights.legs], plan.quantities
    if not legs:
        return ""
    parts = ((q.legs_extended, "with extension"), (q.legs_packed, "on packing"), (q.legs_not_fitting, "cannot be set"))
    extra = [f"{n} {words}" for n, words in parts if n]
    return (
        f"{counted(len(plan.layout.rails), 'rail')}, {counted(len(legs), 'leg')} of {min(legs)} to {max(legs)} mm"
        + (f", {listed(extra)}" if extra else "")
    )


def _depth(plan: Plan) -> str:
    d, rule = plan.heights.depth, plan.heights.rule
    return (
        f"mean {plain(d.mean_mm, 1)}, smallest {whole(d.least_mm)}, greatest {whole(d.most_mm)} mm; "
        f"{plain(rule.least_mm)} to {plain(rule.most_mm)} allowed"
    )


def _load(plan: Plan) -> str:
    w = plan.quantities.weight
    allowed = number(w.allowed_dry_kn_m2, 2) if w.allowed_dry_kn_m2 is not None else MISSING
    return (
        f"{number(w.dry_kn_m2, 2)} kN/m² for good, {number(w.fresh_with_people_kn_m2, 2)} while working; allowed for "
        f"good: {allowed}"
    )


def _steps(plan: Plan) -> str:
    said = []
    for d in plan.heights.doors[:4]:
        n = whole(d.step_mm)
        said.append(f"{d.door} {'flush' if n == 0 else f'{abs(n)} ' + ('up' if n > 0 else 'down')}")
    more = len(plan.heights.doors) - 4
    return "; ".join(said) + (f"; and {more} more" if more > 0 else "")


def _moisture(plan: Plan) -> str:
    damp = plan.project.base.damp_reading
    base = {"not needed": "base: no reading needed", "unknown": "base: not read"}.get(damp.state, "base: not read")
    if damp.state == "read" and damp.value is not None:
        base = f"base read at {plain(damp.value)} {damp.unit}"
    test = plan.sequence.dates.get("test_not_before")
    return f"{base}; " + (f"fill tested not before {day(test)}" if test else "nothing has to dry")


def _heated(plan: Plan) -> bool:
    return plan.project.heating is not None or any(s.heating for s in plan.project.services)


def _heating(plan: Plan) -> str:
    circuits = [s for s in plan.project.services if s.heating]
    if not _heated(plan):
        return "none in the floor"
    open_ones = sum(f.open_stop and f.code == "pressure-test-open" for f in plan.findings)
    tested = f"{open_ones} of {len(circuits)} circuits not tested" if open_ones else "circuits tested by the file"
    first = plan.sequence.dates.get("heat_up_not_before")
    return tested + (f"; first heating not before {day(first)}" if first else "")


def _fire(plan: Plan) -> str:
    hot = [f for f in plan.findings if f.code == "hot-works"]
    return f"work with flame or sparks: {hot[0].where}" if hot else "no work with flame or sparks planned"


def _on_site(plan: Plan) -> str:
    pours = plan.sequence.pours
    parts = [f"from {day(plan.sequence.started)}"]
    if pours:
        first, last = day(pours[0].date), day(pours[-1].date)
        parts.append(f"filled {first}" if first == last else f"filled {first} to {last}")
    walk = plan.sequence.dates.get("walk_on")
    if walk:
        parts.append(f"walked on from {day(walk)}")
    return "; ".join(parts)


def _price(plan: Plan) -> str:
    money = plan.purchase.money
    if not money.rows:
        return "not priced"
    return f"{money.currency} {number(money.total, 2)}, {total_words(money)}"
