"""Leg-height table: the sheet by which the heights are set.

A level floor has one target, printed once and large; where rail tops differ every leg has its own. Rows stand in
setting order, which is the way walked on the floor. Masters are read by laser and have boxes to write in; legs set by
straightedge have a tick and stand in columns, line by line, ten in a block at most.
"""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.drawing.leg_plan import leg_plan
from packgen.booklet.flow import Flow
from packgen.booklet.leg_rows import REST, Tops, master_table, rest_column, rest_table, side_by_side
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import day, level, number, plain
from packgen.plan import Plan

HEAD_MM = 41.0  # head box of part 1 with one target
SUM_MM = 11.0  # each further target in it
SHORT_HEAD_MM = 19.0  # its repeat on further parts
SHORT_SUMS_MM = 11.0  # and a line more where there are several targets
KEY_LINE_MM, KEY_PT = 3.9, 9.0  # the lines that explain letters and parts, at the foot of each part
TEXT_MM = 178.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Head box and key plan, then masters, then the rest, in as many parts as it takes."""
    legs = sorted(plan.heights.legs, key=lambda leg: leg.order)
    tops = Tops.of(plan)
    masters = [leg for leg in legs if leg.set_with == "laser"]
    rest = [leg for leg in legs if leg.set_with != "laser"]
    steps = _steps(plan, len(masters), len(rest))
    free = body_below_band(plan, "grid") - HEAD_MM - SUM_MM * max(0, min(len(tops.values), 3) - 1)
    free -= sum(lines_of(step, 10, TEXT_MM - 8) * 4.5 + 1.0 for step in steps)
    drawing, high = leg_plan(plan, TEXT_MM, free - 5.0)
    short_mm = SHORT_HEAD_MM + (SHORT_SUMS_MM if tops.lettered else 0.0)
    key_mm = lines_of(_key(plan, tops), KEY_PT, TEXT_MM) * KEY_LINE_MM + 5.0
    flow = Flow(max(0.0, free - high - 5.0 - key_mm), body_below_band(plan, "grid") - short_mm - key_mm)
    flow.add(master_table(plan, masters, tops))
    pages: list[tuple[list[Table], tuple[Table, ...]]]
    told = plan.project.kit.several or any(leg.turns is not None for leg in rest)  # parts too long for a narrow column
    if (tops.one or tops.one_side) and not told:
        whole = body_below_band(plan, "grid") - short_mm - key_mm
        first, *more = side_by_side(rest_column(plan, rest, tops), flow.left_mm, whole) or [()]
        pages = [(tables, ()) for tables in flow.pages[:-1]]
        pages += [(flow.pages[-1], first), *(([], columns) for columns in more)]
    else:
        flow.add(rest_table(plan, rest, tops), even=True)
        pages = [(tables, ()) for tables in flow.pages]
    return tuple(
        Sheet(
            slug="legs" if n == 1 else f"legs-{n}",
            title="Leg-height table",
            purpose="Set every leg to the target staff reading: masters by laser, the rest by straightedge.",
            template="legs.html",
            view={
                "first": n == 1,
                "head": _head(plan, tops),
                "drawing": drawing if n == 1 else Markup(""),
                "steps": steps,
                "tables": tables,
                "columns": columns,
                "rest": REST if columns else "",
                "key": _key(plan, tops) if tables or columns else "",
            },
            behind="grid",
            part=n,
            parts=len(pages),
        )
        for n, (tables, columns) in enumerate(pages, 1)
    )


# --------------------------------------------------------------------------------- targets


def _term(top: int) -> str:
    """What is added to the backsight, in words of a sum: "+ 18" for a rail top 18 below the datum."""
    return "+ 0" if top == 0 else f"+ {-top}" if top < 0 else f"less {top}"


def _head(plan: Plan, tops: Tops) -> dict[str, object]:
    today = plan.project.today
    sums = [
        {
            "name": f"Target {tops.letter(top)}" if tops.lettered else "TARGET",
            "top": level(top, tops.datum),
            "term": _term(top),
            "target": tops.target(top),
        }
        for top in (tops.values if len(tops.values) <= 3 else ())
    ]
    where = "everywhere " if tops.one else ""
    return {
        "date": day(today.date) if today else "",
        "setup": today.setup or "" if today else "",
        "backsight": number(today.backsight) if today else "",
        "sums": sums,
        "says": f"Rail top {where}{level(tops.values[0], tops.datum)}." if tops.one and tops.values else "",
        "each": "Every leg has its own target: backsight + how far its rail top lies below "
        f"{tops.datum}, less how far it lies above.",
        "one": tops.one,
        "datum": tops.datum,
    }


def _steps(plan: Plan, masters: int, rest: int) -> tuple[str, ...]:
    name = plan.project.datum.name
    edge = plain(plan.heights.straightedge_mm / 1000, 1)
    many = f"the {masters} masters (M, ringed)" if rest else f"all {masters} legs"
    steps = [
        f"Staff on {name}: read today's backsight, write it above and add.",
        f"Laser sets {many} in order: staff on the rail over the leg, bubble upright, turn until it shows the target. "
        "Bigger reading: rail too low, turn up.",
    ]
    if rest:
        steps.append(
            f"The other {rest}: straightedge of {edge} m on two set legs; turn those between till they touch. "
            "After each line the leg named for control is read again by laser: off, and its masters and the line are "
            "set again."
        )
    limits = plan.project.limits
    steps.append(
        f"Good: within {plain(limits.rail_top)} of the target, and two neighbours not more than "
        f"{plain(limits.next_node)} apart in what they are off."
    )
    steps.append(f"Staff on {name} again at the end: more than 1 off, and all since the last good one is read again.")
    return tuple(steps)


def _key(plan: Plan, tops: Tops) -> str:
    known = {leg.known for leg in plan.heights.legs}
    words = [("read", "r read at the leg"), ("between", "i between readings"), ("beyond", "x beyond the readings")]
    said = ", ".join(text for kind, text in words if kind in known)
    taken = {leg.leg_kind for leg in plan.heights.legs}
    made = [
        f"{own.name or 'plain'} is {plain(own.shortest)} to {plain(own.longest)}"
        for own in plan.project.kit.legs
        if own.name in taken
    ]
    with_them = {(leg.adds_mm, leg.extensions, leg.extension_kind) for leg in plan.heights.legs if leg.extensions}
    for adds, count, name in sorted(with_them):
        what = name or ("extension" if count == 1 else "extensions")
        made.append(f"+{plain(adds)} with {f'{count} ' if count > 1 else ''}{what}")
    if any(leg.packing_mm for leg in plan.heights.legs):
        made.append("pack: hard plates under the foot")
    if any(leg.turns for leg in plan.heights.legs):
        made.append("up or down so many turns of the screw from how the leg is delivered")
    return f"Base against {tops.datum}: {said}. Leg: base to rail top, to choose and pre-set. Parts: {', '.join(made)}."
