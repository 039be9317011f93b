"""Holds and sign-offs: what must be true before work goes on."""

from __future__ import annotations

from dataclasses import replace

from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.numbered import numbered
from packgen.booklet.rows import BODY_MM, WRITE_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.signs import mark
from packgen.core.figures import day, level, plain
from packgen.core.finding import GATES, Finding
from packgen.plan import Plan

BETWEEN = {"leg-out-of-range": "leg", "depth-too-small": "depth"}  # base to rail top; none where the base is higher
WHOLE_UNITS = ("mm", "kPa", "L", "kg", "days", "m²")
LEAST_SIGNS_MM = 60.0
LEAD_MM = 18.0  # the sentence above the first part
SIGN_OFFS = "Sign-offs of this job"
LOOKED_AT = "heights, depths, weight, base, damp, services, heating, weather, order of work and papers"


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One sheet or more: stops gate by gate, then the sign-offs the job asks for."""
    holds, signs = _holds(plan), _sign_offs(plan)
    cut = parted(holds, BODY_MM - LEAD_MM, BODY_MM) if holds.rows else ()
    parts: list[tuple[Table | None, Table | None]] = [(part, None) for part in cut] or [(None, None)]
    left = BODY_MM - (LEAD_MM if len(parts) == 1 else 0.0) - (cut[-1].height_mm if cut else 0.0)
    first, *rest = parted(signs, left if left > LEAST_SIGNS_MM else BODY_MM, BODY_MM)
    if left > LEAST_SIGNS_MM:
        parts[-1] = (parts[-1][0], first)
    else:
        parts.append((None, first))
    parts += [(None, more) for more in rest]
    spare = BODY_MM - sum(t.height_mm for t in parts[-1] if t) - (LEAD_MM if len(parts) == 1 else 0.0)
    open_now = sum(f.open_stop for f in plan.findings)
    lifted = sum(f.kind == "stop" and not f.open_stop for f in plan.findings)
    return tuple(
        Sheet(
            slug="holds" if n == 1 else f"holds-{n}",
            title="Holds and sign-offs",
            purpose="What must be true before work goes on, gate by gate. A held gate is not passed.",
            template="holds.html",
            view={
                "holds": table,
                "signs": sign_table,
                "found": _found(spare) if n == len(parts) else None,
                "lead": n == 1,
                "said": _said(open_now, lifted),
                "empty": not holds.rows,
                "looked_at": LOOKED_AT,
            },
            part=n,
            parts=len(parts),
        )
        for n, (table, sign_table) in enumerate(parts, 1)
    )


def _found(spare_mm: float) -> Table | None:
    """Blank rows for what turns up on site, as many as the sheet has room for; None for fewer than two."""
    table = Table(
        (
            Column("where", "write", 34),
            Column("what was found that this plan does not know", "write"),
            Column("told to", "write", 34),
            Column("date, by", "write", 30),
        ),
        (),
        "Found on site: stop there, write it down, enter it in the project file, print again",
    )
    count = int((spare_mm - table.height_mm) // WRITE_MM)
    return replace(table, rows=(Row(("", "", "", "")),) * min(count, 12)) if count > 1 else None


def _said(open_now: int, lifted: int) -> str:
    if not open_now and not lifted:
        return "No hold stands in this plan."
    stand = f"{open_now} {'hold stands' if open_now == 1 else 'holds stand'}" if open_now else "No hold stands"
    return f"{stand}{f'; {lifted} lifted' if lifted else ''}."


def _holds(plan: Plan) -> Table:
    rows: list[Row] = []
    stops = [(n, f) for n, f in numbered(plan) if f.kind == "stop"]
    for gate in GATES:
        here = [(n, f) for n, f in stops if f.gate == gate]
        if not here:
            continue
        count = sum(f.open_stop for _, f in here)
        state = f"held by {count}" if count else "open: all lifted"
        rows.append(Row((f"Before {gate}: {state}",), "heavy", title=True))
        rows += [Row(_cells(n, f), "light") for n, f in here]
    return Desk(
        (
            Column("no.", width_mm=10),
            Column("hold, and what to do or to bring"),
            Column("found, limit", width_mm=25),
            Column("lifted by: name, date, paper", "write", 46),
        ),
        tuple(rows),
    )


def _cells(number: int, f: Finding) -> tuple[str, ...]:
    if f.lifted_by:
        lifted = f"{f.lifted_by.by}, {day(f.lifted_by.date)}: {f.lifted_by.paper}"
        lifted += f" (for {f.lifted_by.covers})" if f.lifted_by.covers else ""
    elif f.lift == "numbers":
        lifted = "Goes when the numbers change. No paper lifts it."
    else:
        lifted = ""
    says = first_upper(f.says) + (f"\nTo do: {'; or '.join(f.cures)}." if f.cures else "")
    return (mark(f.kind, number), says, found_and_limit(f), lifted)


def found_and_limit(f: Finding) -> str:
    """The figure found and the one allowed, in one unit: "44, limit 50 mm"; never rounded onto the limit.

    A level is said in words: "81 below TBM, limit 97 below TBM".
    """
    if f.number is None:
        return ""
    digits = 0 if f.unit in WHOLE_UNITS else 2
    if f.number < 0 and f.code in BETWEEN:
        least = f", least {BETWEEN[f.code]} {plain(f.limit, 2)} mm" if f.limit is not None else ""
        return f"base {plain(-f.number, digits)} above the rail top{least}"
    if f.number < 0 or (f.limit or 0) < 0:
        return level(f.number) + (f", limit {level(f.limit)}" if f.limit is not None else "")
    unit = f" {f.unit}" if f.unit else ""
    found = plain(f.number, digits)
    if f.limit is None:
        return f"{found}{unit}"
    allowed = plain(f.limit, 2)
    if found == allowed and abs(f.number - f.limit) > 1e-6:
        found = plain(f.number, digits + 1)
    return f"{found}, limit {allowed}{unit}"


def _sign_offs(plan: Plan) -> Table:
    rows = [
        ("order", "Order held against the order list and this plan's sign"),
        ("grid", "Base accepted; foil and perimeter strip complete"),
        ("fill", "Grid read by a second person and released for filling"),
    ]
    rows += [("fill", f"Pour {p.number} closed, {day(p.date)}") for p in plan.sequence.pours[:8]]
    if len(plan.sequence.pours) > 8:
        rows.append(("fill", f"Pours 9 to {len(plan.sequence.pours)} closed, each on its own day's log"))
    if plan.project.heating:
        rows.append(("cover", "Heating run up and cooled down, log complete"))
    dries = any(w.key == "test_not_before" for w in plan.sequence.waiting)
    rows.append(
        ("cover", "Moisture test passed; covering released" if dries else "Surface accepted; covering released")
    )
    rows.append(("handover", "Floor handed over, papers complete"))
    return Desk(
        (
            Column("before", width_mm=20),
            Column("what is signed", width_mm=86),
            Column("name", "write", 30),
            Column("date, time", "write", 24),
            Column("paper no.", "write"),
        ),
        tuple(Row((gate, what, "", "", "")) for gate, what in rows),
        SIGN_OFFS,
    )
