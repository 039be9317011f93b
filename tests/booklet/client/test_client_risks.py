"""The risk assessment: what the review found has a row, what was not met has a reason, nothing stays high."""

from __future__ import annotations

from typing import Any

import pytest

from packgen.booklet.numbered import numbered
from packgen.review.codes import CODES
from packgen.trade.risk import level_before, risks

ASKED_ON_EVERY_JOB = ("lifting", "trips", "electricity", "laser", "occupants", "alone", "fire")


def table(statement: Any, read_rows: Any) -> dict[str, list[str]]:
    found = [row for row in read_rows(statement.section("risks")) if len(row) == 5]
    return {row[0].split(": ")[0]: row for row in found}


def test_the_trade_table_is_whole() -> None:
    """Job 4.9: every hazard of the list, its level before as the scale says, and no residual level that is high."""
    every = {r.key: r for r in risks()}
    assert len(every) == 17
    for r in every.values():
        assert r.before == level_before(r.likelihood, r.harm)
        assert r.residual in ("low", "medium")
        assert len(r.controls) >= 2
        assert set(r.codes) <= set(CODES), r.key
        assert r.source.known in ("read", "practice")
    assert {k for k, r in every.items() if r.always} >= set(ASKED_ON_EVERY_JOB)


@pytest.mark.parametrize(
    ("key", "before", "residual"),
    [
        ("cement", "high", "low"),
        ("lifting", "high", "medium"),
        ("silica", "high", "low"),
        ("asbestos", "high", "low"),
        ("services", "high", "low"),
        ("electricity", "high", "low"),
        ("trips", "medium", "low"),
        ("overload", "high", "low"),
        ("fumes", "high", "low"),
        ("noise", "medium", "low"),
        ("laser", "low", "low"),
        ("occupants", "medium", "low"),
        ("fire", "medium", "low"),
        ("weather", "medium", "low"),
        ("alone", "medium", "low"),
    ],
)
def test_levels_of_the_trade(key: str, before: str, residual: str) -> None:
    """Levels as the trade's own list gives them: common practice, no source."""
    risk = next(r for r in risks() if r.key == key)
    assert (risk.before, risk.residual) == (before, residual)


def test_every_hazard_is_a_row_or_has_a_reason(statement: Any, read_rows: Any, read_words: Any) -> None:
    shown, text = table(statement, read_rows), read_words(statement.section("risks"))
    for r in risks():
        title = r.title[:1].lower() + r.title[1:]
        assert (r.title in shown) != (f"{title} (" in text), r.title


def test_what_the_review_found_has_a_row(statement: Any, read_rows: Any) -> None:
    shown = table(statement, read_rows)
    found = {f.code for f in statement.plan.findings if f.kind != "note"}
    for r in risks():
        if found & set(r.codes):
            assert r.title in shown


def test_after_the_controls_nothing_is_high_and_an_open_hold_is_named(statement: Any, read_rows: Any) -> None:
    shown = table(statement, read_rows)
    for r in risks():
        if r.title not in shown:
            continue
        after = shown[r.title][4]
        assert "high" not in after
        held = [n for n, f in numbered(statement.plan) if f.open_stop and f.code in r.codes]
        assert after.startswith("HOLD") == bool(held)
        assert all(str(n) in after for n in held[:2])


def test_words_are_of_this_job(statement_named: Any, read_rows: Any) -> None:
    extension = table(statement_named("02-extension-heated"), read_rows)
    assert "161 bags" in extension["Lifting and carrying"][0]
    assert "circuit 1, circuit 2" in extension["Striking a cable, gas, water or heating pipe"][0]
    attic = statement_named("01-attic-studio").words
    assert "no fill with cement" in attic
    assert "2 persons work on each day" in attic
