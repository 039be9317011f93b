"""The order list and the money once the days are known: bags go by pour, hire by day, labour by hour."""

from __future__ import annotations

from collections.abc import Sequence as Listed
from dataclasses import replace

from packgen.core.figures import half_up, plain, round_up
from packgen.core.worked import FILE, ON_PLAN, Given, Worked
from packgen.project.model import Project
from packgen.purchase.model import Delivery, Purchase
from packgen.purchase.money import Known, price_up
from packgen.purchase.more_lines import (
    bag_mass_lines,
    compare_lines,
    delivered_bags_line,
    delivery_lines,
    price_lines,
)
from packgen.quantities.boards import BOARDS
from packgen.quantities.model import FillComparison, OrderLine, Quantities
from packgen.quantities.order import EDGES, GRID, HEATING, SHEETS
from packgen.sequence.model import Pour, Sequence
from packgen.sequence.pours import fill_named, unit_of
from packgen.survey.model import Survey

FILL = "Fill"
STOP_BOARD = "board set upright at the stop line"
GROUPS = (GRID, SHEETS, BOARDS, EDGES, HEATING)


def buy(project: Project, survey: Survey, quantities: Quantities, sequence: Sequence) -> Purchase:
    """The order list with bags by pour at its head, all lines dated and priced, the delivery and the money."""
    bags, bag_lines = _bag_lines(project, sequence.pours)
    rest = [_dated(line, sequence) for line in (*quantities.goods, *_stop_boards(sequence.pours))]
    order = (*bags, *sorted(rest, key=lambda line: GROUPS.index(line.group)))
    known = Known(
        room_m2=quantities.room_m2,
        perimeter_m=half_up(sum(r.perimeter_mm for r in survey.rooms) / 1000, 2),
        pour_days=len(sequence.pours),
        person_hours=half_up(sum(h for _, h in sequence.person_hours), 1),
        volume_l=quantities.volume_l,
        mass_kg=sum(line.mass_kg or 0.0 for line in order if not line.total),
        bags=sum(p.bags for p in sequence.pours),
    )
    priced, money, money_lines, parts = price_up(project, order, known)
    delivery = _delivery(project, priced, known)
    comparison = tuple(_as_poured(c, project, sequence.pours) for c in quantities.comparison)
    further = (
        *_stop_board_lines(sequence.pours),
        *bag_mass_lines(project, sequence.pours),
        *price_lines(project, money, parts),
        delivered_bags_line(sequence.pours),
        *delivery_lines(project, priced, delivery),
        *(line for row in comparison for line in compare_lines(project, row)),
    )
    return Purchase(
        order=priced,
        delivery=delivery,
        money=money,
        comparison=comparison,
        worked=(*bag_lines, *money_lines),
        further=further,
    )


def _bag_lines(project: Project, pours: Listed[Pour]) -> tuple[tuple[OrderLine, ...], tuple[Worked, ...]]:
    """Bags of each pour, then for each fill the sum of its printed rows."""
    lines: list[OrderLine] = []
    worked: list[Worked] = []
    names = list(dict.fromkeys(p.fill for p in pours))
    for name in names:
        fill, mine = fill_named(project, name), [p for p in pours if p.fill == name]
        unit = unit_of(fill)
        item = f"{fill.kind}, {unit} of {plain(fill.bag.mass)} kg making {plain(fill.bag.makes)} L"
        spare = f"waste {plain(fill.waste * 100, 1)} %" + (
            f", settles {plain(fill.settles * 100, 1)} %" if fill.settles else ""
        )
        for p in mine:
            lines.append(
                OrderLine(
                    FILL,
                    item,
                    p.bags,
                    0,
                    unit,
                    spare,
                    p.bags_mass_kg,
                    f"pour {p.number}",
                    unit_price=fill.bag.price,
                    heaviest_kg=fill.bag.mass,
                    day=p.date,
                    key=f"pour/{p.number}/bags",
                )
            )
        if len(mine) > 1:
            key, total = f"order/bags/{name}", sum(p.bags for p in mine)
            lines.append(
                OrderLine(
                    FILL,
                    f"{name}, all pours",
                    total,
                    0,
                    unit,
                    spare,
                    half_up(sum(p.bags_mass_kg for p in mine), 1),
                    "sum of the rows above",
                    total=True,
                    key=key,
                )
            )
            numbers = " + ".join(str(p.bags) for p in mine)
            needs = tuple(f"pour/{p.number}/bags" for p in mine)
            worked.append(
                Worked(key, f"{unit} of {name} in all", "sum of the pours", numbers, total, 0, unit, FILE, needs)
            )
    return tuple(lines), tuple(worked)


def _stop_boards(pours: Listed[Pour]) -> tuple[OrderLine, ...]:
    """Upright boards for the longest stop line; used again every night."""
    longest = max((p.stop_line.length_mm for p in pours if p.stop_line), default=0.0)
    if not longest:
        return ()
    metres = round_up(longest / 1000, 1)
    return (OrderLine(EDGES, STOP_BOARD, metres, 1, "m", "none", None, "end of a day", key=f"order/{STOP_BOARD}"),)


def _stop_board_lines(pours: Listed[Pour]) -> tuple[Worked, ...]:
    longest = max((p.stop_line.length_mm for p in pours if p.stop_line), default=0.0)
    if not longest:
        return ()
    length = half_up(longest, 3)
    figure = Given("longest stop line of a day", length, "mm", ON_PLAN)
    numbers, formula = f"ceil({plain(length)} / 1000 x 10) / 10", "length, rounded up to 0.1 m"
    line = Worked(
        f"order/{STOP_BOARD}", STOP_BOARD, formula, numbers, round_up(longest / 1000, 1), 1, "m", None, (), (figure,)
    )
    return (line,)


def _dated(line: OrderLine, sequence: Sequence) -> OrderLine:
    """Needed by: what lies under or between the fill when the grid is set, boards with the first fill."""
    first_pour = sequence.pours[0].date if sequence.pours else None
    if line.group in (GRID, SHEETS, EDGES):
        return replace(line, day=sequence.started)
    if line.group == BOARDS:
        return replace(line, day=first_pour if sequence.boards_same_day else None)
    return replace(line, day=sequence.started)


def _delivery(project: Project, order: Listed[OrderLine], known: Known) -> Delivery:
    rows = [line for line in order if not line.total]
    heaviest = max(rows, key=lambda line: line.heaviest_kg or 0.0, default=None)
    rate = project.rates.carry_bags
    return Delivery(
        mass_kg=half_up(known.mass_kg),
        heaviest_kg=heaviest.heaviest_kg or 0.0 if heaviest else 0.0,
        heaviest=heaviest.item if heaviest else "",
        bags=known.bags,
        carry_hours=half_up(known.bags / rate, 1) if rate else None,
    )


def _as_poured(row: FillComparison, project: Project, pours: Listed[Pour]) -> FillComparison:
    """The fill in use with the bags of its pours; every other fill stays as if poured in one go."""
    mine = [p for p in pours if p.fill == row.fill]
    if not row.used or not mine:
        return row
    fill, bags = fill_named(project, row.fill), sum(p.bags for p in mine)
    price = row.price
    if price is not None and fill.bag.price is not None:
        price = half_up(price + (bags - row.bags) * fill.bag.price, 2)
    return replace(row, bags=bags, bag_mass_kg=bags * fill.bag.mass, price=price)
