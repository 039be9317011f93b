"""Order list: phone or click once."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from packgen.booklet.facts import first_upper
from packgen.booklet.pour_words import counted, fills_in_use, pack_word
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import day, number, plain
from packgen.plan import Plan
from packgen.quantities.model import OrderLine

BOX_MM = 35.0  # heading, small print and line to sign
SAME = "the same"
RULES = "Bags are rounded up once a pour, spare included. Quantities stand as they are to be ordered."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One sheet or two: rows grouped by who supplies them; the delivery box on the last."""
    table, box = _table(plan), _box(plan)
    box_mm = BOX_MM + sum(lines_of(value, 10, 90, True) * 4.5 + 2.5 for _, value in box)
    parts = _parts(table, body_below_band(plan, "order"), box_mm)
    return tuple(
        Sheet(
            slug="order" if n == 1 else f"order-{n}",
            title="Order list",
            purpose="Everything to buy, spare included. Order once, tick twice: ordered, delivered.",
            template="order.html",
            view={"table": part, "box": box if n == len(parts) else (), "rules": RULES},
            behind="order",
            part=n,
            parts=len(parts),
        )
        for n, part in enumerate(parts, 1)
    )


def _parts(table: Table, height_mm: float, box_mm: float) -> list[Table]:
    """The table cut so that the box stands below the last part, which begins with a group's heading."""
    *before, last = parted(table, height_mm)
    if last.height_mm + box_mm <= height_mm:
        return [*before, last]
    heads = [i for i, row in enumerate(last.rows) if row.title and i > 0]
    for i in reversed(heads):
        end = replace(last, rows=last.rows[i:])
        if end.height_mm + box_mm <= height_mm:
            return [*before, replace(last, rows=last.rows[:i]), end]
    return [*before, *parted(last, height_mm - box_mm)]


def _table(plan: Plan) -> Table:
    rows: list[Row] = []
    for group, lines in groupby(plan.purchase.order, key=lambda o: o.group):
        here = list(lines)
        days = sorted({o.day for o in here if o.day})
        by = f", needed by {day(days[0])}" if len(days) == 1 else ""
        rows.append(Row((f"{first_upper(group)}{by}",), "heavy", title=True))
        for k, o in enumerate(here):
            again = k > 0 and o.item == here[k - 1].item
            rows.append(Row((SAME if again else o.item, *_amounts(o, not by)), "light", strong=o.total))
    return Table(
        (
            Column("item"),
            Column("quantity", "set", 34),
            Column("spare in it", width_mm=24),
            Column("mass", "number", 15, "kg"),
            Column("for", width_mm=34),
            Column("ordered", "tick", 15),
            Column("deliv.", "tick", 12),
        ),
        tuple(rows),
    )


def _amounts(o: OrderLine, dated: bool) -> tuple[str, ...]:
    mass = number(o.mass_kg) if o.mass_kg is not None else "–"
    wanted = f"{o.used_for}, {day(o.day)}" if o.day and dated else o.used_for
    amount = f"{number(o.quantity, o.digits)} {o.unit}"
    ticks = ("–", "–") if o.total else ("", "")
    return (amount, o.spare or "–", mass, wanted, *ticks)


def _box(plan: Plan) -> tuple[tuple[str, str], ...]:
    """What the delivery asks for: mass, heaviest piece, carrying, where bags may stand."""
    delivery, rows = plan.purchase.delivery, []
    word = pack_word(fills_in_use(plan)[0])
    if delivery is not None:
        rows.append(("mass of all rows that have one", f"{number(delivery.mass_kg)} kg"))
        rows.append(("heaviest piece", f"{delivery.heaviest}, {plain(delivery.heaviest_kg)} kg"))
        carried = f"{plain(delivery.carry_hours, 1)} person hours" if delivery.carry_hours else "no rate in the file"
        rows.append((f"carrying {counted(delivery.bags, word)} in", carried))
    allowed = plan.quantities.weight.bags_per_m2
    if allowed is not None:
        rows.append((f"{word}s on any one square metre", f"not more than {allowed}"))
    return tuple(rows)
