"""Leg-height table: the sheet by which the heights are set.

A level floor has one target, printed once and large; where rail tops differ every leg has its own. Rows stand in
setting order. Masters are read by laser and have boxes to write in; legs set by straightedge have a tick, two a row.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from packgen.booklet.drawing.leg_plan import leg_plan
from packgen.booklet.drawing.section_parts import parts_words
from packgen.booklet.flow import Flow
from packgen.booklet.leg_lines import by_line
from packgen.booklet.rows import BODY_BEHIND_MM, Column, Row, Table, widest_mm
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import day, level, number, plain
from packgen.heights.model import LegSetting
from packgen.plan import Plan

HEAD_MM = 41.0  # head box of part 1 with one target
SUM_MM = 11.0  # each further target in it
SHORT_HEAD_MM = 19.0  # its repeat on further parts
SHORT_SUMS_MM = 11.0  # and a line more where there are several targets
KEY_MM = 9.0  # the line that explains letters and parts, at the foot of each part
BLOCK = 10
TEXT_MM = 178.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Head box and key plan, then masters, then the rest, in as many parts as it takes."""
    legs = sorted(plan.heights.legs, key=lambda leg: leg.order)
    tops = _Tops.of(plan)
    masters = [leg for leg in legs if leg.set_with == "laser"]
    rest = [leg for leg in legs if leg.set_with != "laser"]
    steps = _steps(plan, len(masters), len(rest))
    free = BODY_BEHIND_MM - HEAD_MM - SUM_MM * max(0, min(len(tops.values), 3) - 1)
    free -= sum(lines_of(step, 10, TEXT_MM - 8) * 4.5 + 1.0 for step in steps)
    drawing, high = leg_plan(plan, TEXT_MM, free - 5.0)
    short_mm = SHORT_HEAD_MM + (SHORT_SUMS_MM if tops.lettered else 0.0)
    flow = Flow(max(0.0, free - high - 5.0 - KEY_MM), BODY_BEHIND_MM - short_mm - KEY_MM)
    flow.add(_master_table(plan, masters, tops))
    flow.add(_rest_table(plan, rest, tops), even=True)
    pages = flow.pages
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
                "key": _key(plan, tops) if tables else "",
            },
            behind="grid",
            part=n,
            parts=len(pages),
        )
        for n, tables in enumerate(pages, 1)
    )


# --------------------------------------------------------------------------------- targets


@dataclass(frozen=True)
class _Tops:
    """Rail tops of the plan: one for all, a few by letter, or one a leg."""

    values: tuple[int, ...]
    backsight: float | None
    datum: str

    @staticmethod
    def of(plan: Plan) -> _Tops:
        today = plan.project.today
        values = tuple(sorted({leg.rail_top_mm for leg in plan.heights.legs}, reverse=True))
        return _Tops(values, None if today is None else float(today.backsight), plan.project.datum.name)

    @property
    def one(self) -> bool:
        return len(self.values) <= 1

    @property
    def lettered(self) -> bool:
        return 2 <= len(self.values) <= 3

    def letter(self, top: int) -> str:
        return "PQR"[self.values.index(top)]

    def target(self, top: int) -> str:
        return "" if self.backsight is None else str(int(self.backsight) - top)

    def target_cell(self, top: int) -> str:
        """What a row says: today's figure, else the letter of its target in the head box, else a box to write in."""
        return self.target(top) or (self.letter(top) if self.lettered else "")


def _term(top: int) -> str:
    """What is added to the backsight, in words of a sum: "+ 18" for a rail top 18 below the datum."""
    return "+ 0" if top == 0 else f"+ {-top}" if top < 0 else f"less {top}"


def _head(plan: Plan, tops: _Tops) -> dict[str, object]:
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
        steps.append(f"The other {rest}: straightedge of {edge} m on two set legs; turn those between till they touch.")
    steps.append(f"Staff on {name} again at the end: more than 1 off, and all since the last good one is read again.")
    return tuple(steps)


def _key(plan: Plan, tops: _Tops) -> str:
    known = {leg.known for leg in plan.heights.legs}
    words = [("read", "r read at the leg"), ("between", "i between readings"), ("beyond", "x beyond the readings")]
    said = ", ".join(text for kind, text in words if kind in known)
    kit = plan.project.kit
    made = [f"plain is {plain(kit.leg.shortest)} to {plain(kit.leg.longest)}"]
    if any(leg.extensions for leg in plan.heights.legs) and kit.extension:
        made.append(f"+{plain(kit.extension.adds)} with extension")
    if any(leg.packing_mm for leg in plan.heights.legs):
        made.append("pack: hard plates under the foot")
    return f"Base against {tops.datum}: {said}. Leg: base to rail top, to choose and pre-set. Parts: {', '.join(made)}."


# --------------------------------------------------------------------------------- rows


def _base(leg: LegSetting) -> str:
    words = level(leg.base_mm, "").replace("same as ", "same").strip()
    return f"{words} {'r' if leg.known == 'read' else 'i' if leg.known == 'between' else 'x'}"


def _parts(plan: Plan, leg: LegSetting) -> str:
    adds = plan.project.kit.extension.adds if plan.project.kit.extension else 0.0
    words = parts_words(leg, adds)
    return f"STOP, {leg.short_by_mm} out" if words == "STOP" and leg.short_by_mm else words


def _standing_out(leg: LegSetting) -> bool:
    return not leg.fits or leg.parts != "plain"


def _bold(text: str, bold: bool) -> str:
    return Markup("<strong>{}</strong>").format(escape(text)) if bold else text


def _order_mm(plan: Plan, least: float) -> float:
    return widest_mm((str(len(plan.heights.legs)),), least)


def _name_mm(plan: Plan, least: float, tail: str = "") -> float:
    return widest_mm((f"{leg.node}{tail}" for leg in plan.heights.legs), least, True)


def _master_table(plan: Plan, legs: Sequence[LegSetting], tops: _Tops) -> Table:
    """One leg a row with boxes for what is read."""
    order, name = _order_mm(plan, 11.0), _name_mm(plan, 18.0, " M")
    columns = [Column("no.", "number", order), Column("node", "text", name), Column("base", "text", 29)]
    if not tops.one:
        columns.append(Column("rail top", "text", 27))
    columns += [Column("leg", "set", 17, "mm"), Column("parts", "text", None)]
    if not tops.one:
        columns.append(Column("target", "set" if tops.backsight is not None or tops.lettered else "write", 21))
    columns += [Column("set", "tick", 11), Column("read back", "write", 24 if not tops.one else 32)]
    if tops.one:
        columns.append(Column("high / low", "write", 28))
    rows = []
    before: str | None = None
    for i, leg in enumerate(legs):
        cells = [str(leg.order), _bold(f"{leg.node} M", True), _base(leg)]
        if not tops.one:
            cells.append(_top(leg))
        cells += [str(leg.leg_mm), _bold(_parts(plan, leg), _standing_out(leg))]
        if not tops.one:
            cells.append(tops.target_cell(leg.rail_top_mm))
        cells += ["", ""] + ([""] if tops.one else [])
        rule = "heavy" if before is not None and leg.along != before else "light" if i and i % BLOCK == 0 else ""
        rows.append(Row(tuple(cells), rule, strong=not leg.fits))  # type: ignore[arg-type]
        before = leg.along
    return Table(tuple(columns), tuple(rows), "Masters: set by laser and staff")


def _top(leg: LegSetting) -> str:
    return level(leg.rail_top_mm, "").replace("same as ", "same").strip()


def _rest_table(plan: Plan, legs: Sequence[LegSetting], tops: _Tops) -> Table:
    if tops.one or _one_side(plan):
        return _pairs_table(plan, legs, tops)
    order, name = _order_mm(plan, 11.0), _name_mm(plan, 18.0)
    columns = (
        Column("no.", "number", order),
        Column("node", "text", name),
        Column("base", "text", 31),
        Column("rail top", "text", 31),
        Column("leg", "number", 17, "mm"),
        Column("parts", "text", None),
        Column("target", "number", 25),
        Column("set", "tick", 13),
    )
    rows: list[Row] = []
    for title, group in by_line(plan, legs):
        rows.append(Row((title,), "heavy", title=True))
        rows += [
            Row(
                (
                    str(leg.order),
                    _bold(leg.node, True),
                    _base(leg),
                    _top(leg),
                    _bold(str(leg.leg_mm), _standing_out(leg)),
                    _bold(_parts(plan, leg), _standing_out(leg)),
                    tops.target_cell(leg.rail_top_mm),
                    "",
                ),
                strong=not leg.fits,
                keep=k > 0,
            )
            for k, leg in enumerate(group)
        ]
    return Table(columns, tuple(rows), "The others: set by straightedge on two set legs")


def _one_side(plan: Plan) -> bool:
    """Whether all levels lie below the datum, so that the column's head can say so once."""
    return all(leg.rail_top_mm < 0 and leg.base_mm < 0 for leg in plan.heights.legs)


def _pairs_table(plan: Plan, legs: Sequence[LegSetting], tops: _Tops) -> Table:
    """Two legs a row, read down the left half first, then the right."""
    order, name = _order_mm(plan, 9.5), _name_mm(plan, 15.0)
    left = 88.0 - order - name - 11 - 10
    if tops.one:
        base = min(27.0, widest_mm(_base(leg) for leg in legs))
        middle = [Column("base", "text", base), Column("leg", "number", 11, "mm"), Column("parts", "text", left - base)]
    else:
        below = f"below {tops.datum}"
        middle = [Column("base", "text", 14, below), Column("rail top", "number", 13, below)]
        middle += [Column("leg", "number", 11, "mm"), Column("parts", "text", left - 27)]
    half = (Column("no.", "number", order), Column("node", "text", name), *middle, Column("set", "tick", 10))
    gap = Column("", "text", 2)
    rows: list[Row] = []
    for title, group in by_line(plan, legs):
        rows.append(Row((title,), "heavy", title=True))
        rows_here = (len(group) + 1) // 2
        for k in range(rows_here):
            right = group[rows_here + k] if rows_here + k < len(group) else None
            empty = (" ",) * len(half)
            cells = (*_half(plan, group[k], tops), " ", *(_half(plan, right, tops) if right else empty))
            rows.append(Row(cells, keep=k > 0))
    return Table((*half, gap, *half), tuple(rows), "The others: set by straightedge on two set legs")


def _half(plan: Plan, leg: LegSetting, tops: _Tops) -> tuple[str, ...]:
    out = _standing_out(leg)
    adds = plan.project.kit.extension.adds if plan.project.kit.extension else 0.0
    levels = (_base(leg),) if tops.one else (_base(leg).replace(" below", ""), str(-leg.rail_top_mm))
    ends = (_bold(str(leg.leg_mm), out), _bold(parts_words(leg, adds), out), "")
    return (str(leg.order), _bold(leg.node, True), *levels, *ends)
