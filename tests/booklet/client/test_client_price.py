"""The price: printed rows add to the printed total, shares are of what they say, and nothing missing is hidden."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest

from packgen.booklet.client.price import together
from packgen.booklet.client.variations import changes
from packgen.purchase.model import PriceRow

CENT = Decimal("0.01")


def money(text: str) -> Decimal:
    return Decimal(text.replace("\u202f", ""))


def table(statement: Any, read_rows: Any) -> list[list[str]]:
    return [row for row in read_rows(statement.section("price")) if len(row) == 5]


def test_rows_add_to_the_total(statement: Any, read_rows: Any) -> None:
    found = table(statement, read_rows)
    if not found:
        assert "gives no prices" in statement.words
        return
    priced = [row for row in found if row[1]]
    net, overhead, tax, total = found[-4:]
    assert sum(money(row[4]) for row in priced) == money(net[4])
    for row in priced:
        assert (money(row[1]) * money(row[3])).quantize(CENT, ROUND_HALF_UP) == money(row[4]), row
    summed = money(net[4])
    for share, of in ((overhead, money(net[4])), (tax, None)):
        if share[4] == "not stated":
            continue
        percent = Decimal(share[0].split(", ")[1].split(" %")[0])
        base = of if of is not None else summed
        assert (base * percent / 100).quantize(CENT, ROUND_HALF_UP) == money(share[4])
        summed += money(share[4])
    assert summed == money(total[4])


def test_what_has_no_price_is_named_and_counted(statement: Any, read_rows: Any) -> None:
    missing = statement.plan.purchase.money.not_priced
    found = table(statement, read_rows)
    unpriced = [row[0].lower() for row in found if row[4] == "not priced"]
    assert unpriced == [item.lower() for item in missing]
    if missing:
        assert f"without {len(missing)} item" in found[-1][0]


@pytest.mark.parametrize(
    ("name", "what", "rate"),
    [
        # 10 L on a square metre, 5 % waste, 12.5 L a bag at 4.20: 10 x 1.05 / 12.5 x 4.20 = 3.528
        ("02-extension-heated", "10 mm more depth of sand-cement screed", "3.53"),
        # 10 x 1.05 / 15.5 x 7.90 = 5.3516
        ("05-terrace-with-falls", "10 mm more depth of drainage mortar, no fines, outside", "5.35"),
        # 10 x 1.03 x 1.05 / 50 x 14.50 = 3.1364
        ("01-attic-studio", "10 mm more depth of dry granulate under board", "3.14"),
        # three persons of 8 hours at 42.00
        ("02-extension-heated", "one day of waiting, the whole crew", "1008.00"),
        ("02-extension-heated", "one leg more, or one with extension", "not priced"),
    ],
)
def test_rates_for_changes(statement_named: Any, name: str, what: str, rate: str) -> None:
    assert {c[0]: c[3] for c in changes(statement_named(name).plan)}[what] == rate


def test_rows_are_joined_only_where_the_sum_stays_right() -> None:
    rows = (
        PriceRow("bags", 3, 0, "bags", 4.2, 12.6),
        PriceRow("grid", 2.5, 2, "m²", 24.0, 60.0),
        PriceRow("bags", 5, 0, "bags", 4.2, 21.0),
        PriceRow("strip", 1.1, 1, "m", 0.333, 0.37),
        PriceRow("strip", 1.1, 1, "m", 0.333, 0.37),  # 2.2 x 0.333 = 0.7326 is 0.73, not 0.74
    )
    joined = together(rows)
    assert [(r.item, r.quantity, r.amount) for r in joined] == [
        ("bags", 8, 33.6),
        ("grid", 2.5, 60.0),
        ("strip", 1.1, 0.37),
        ("strip", 1.1, 0.37),
    ]
