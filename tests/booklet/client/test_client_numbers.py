"""Every number of the method statement is that of the site pack: both are held against one plan.json."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from packgen.booklet.make import make_pack
from packgen.core.figures import day, half_up, level, number


def dates_of(data: dict[str, Any]) -> dict[str, datetime.date]:
    return {key: datetime.date.fromisoformat(text) for key, text in data["dates"].items()}


def expected(data: dict[str, Any]) -> dict[str, str]:
    """The key numbers as they are printed, made from plan.json alone."""
    legs = [n["leg_mm"] for n in data["nodes"] if "leg_mm" in n]
    book = data["levels"]
    zone, depth, money = data["zones"][0], data["depth"], data["money"]
    worked = {line["key"]: line["value"] for line in data["worked"]}
    name = data["datum"]["name"]
    said = {
        "room": f"{number(sum(half_up(r['area_m2'], 2) for r in data['rooms']), 2)} m²",
        "finished level": level(zone["finished_mm"], name),
        "rail top": level(zone["rail_top_mm"], name),
        "finish": f"together {zone['finish_mm']} mm",
        "rails": f"{len(data['rails'])} rails",
        "legs": f"{len(legs)} legs",
        "shortest and longest leg": f"{min(legs)} to {max(legs)} mm",
        "litres": f"{number(data['quantities']['volume_l'])} L",
        "bags": f"{number(sum(p['bags'] for p in data['pours']))} bags",
        "mean depth": f"mean {half_up(depth['mean'], 1):g}",
        "smallest depth": f"smallest {number(depth['smallest'])}",
        "greatest depth": f"greatest {number(depth['greatest'])}",
        "dry weight": f"{number(worked['weight/dry/force'], 2)} kN/m² for good",
        "working weight": f"{number(worked['weight/working'], 2)} while working",
        "misclosure": f"{half_up(abs(book['misclosure_mm']), 1):g} mm, {book['allowed_mm']} mm allowed",
        "sign": data["sign"],
    }
    if money["rows"]:
        said["net"], said["total"] = number(money["net"], 2), number(money["total"], 2)
    for key, when in dates_of(data).items():
        if key in ("start", "first_pour", "walk_on", "load", "heat_up_not_before", "test_not_before"):
            said[key] = day(when)
    return said


def test_key_numbers_are_those_of_plan_json(statement: Any) -> None:
    missing = {what: text for what, text in expected(dict(statement.pack.data)).items() if text not in statement.words}
    assert not missing


IN_BOTH = ("sign", "bags", "start", "first_pour", "walk_on", "heat_up_not_before", "test_not_before")


@pytest.mark.parametrize("name", ["02-extension-heated", "05-terrace-with-falls"])
def test_both_packs_come_from_one_plan(statement_named: Any, read_words: Any, name: str) -> None:
    statement = statement_named(name)
    site = make_pack(statement.plan, "site")
    assert site.data == statement.pack.data
    words = " ".join(read_words(s.body) for s in site.sheets) + site.facts.sign
    for what, text in expected(dict(site.data)).items():
        if what in IN_BOTH:
            assert text in words, what
            assert text in statement.words, what


def test_every_pour_day_stands_with_its_bags_and_litres(statement: Any, read_words: Any) -> None:
    method = read_words(statement.section("method"))
    for pour in statement.pack.data["pours"]:
        assert day(datetime.date.fromisoformat(pour["date"])) in method
        assert f"{number(pour['volume_l'])} L: {pour['bags']} bag" in method


def test_each_hold_stands_once_in_section_2_with_its_number(statement: Any, read_rows: Any) -> None:
    held = [f for f in statement.pack.data["findings"] if f["kind"] == "stop" and f["open"]]
    said = [row for row in read_rows(statement.section("unconfirmed")) if len(row) == 5 and row[0].isdigit()]
    assert len(said) == len(held)
    for f in held:
        text = f["says"][:1].upper() + f["says"][1:]
        assert sum(text in row[2] and row[1] == f["gate"] for row in said) == sum(
            g["says"] == f["says"] and g["gate"] == f["gate"] for g in held
        )


def test_compared_fills_have_heights_of_their_own(statement_named: Any, read_rows: Any) -> None:
    statement = statement_named("01-attic-studio")
    table = {row[0]: row[1:] for row in read_rows(statement.section("options")) if len(row) == 4}
    compared = statement.pack.data["comparison"]
    assert table["Legs, shortest to longest, mm"] == [f"{c['leg_least_mm']} to {c['leg_most_mm']}" for c in compared]
    assert table["Bags, and their mass"] == [f"{c['bags']}, {number(c['bag_mass_kg'])} kg" for c in compared]
    assert table["Weight for good, kN/m²"] == [number(c["dry_kn_m2"], 2) for c in compared]
    assert [bool(c["fails"]) for c in compared] == [cell != "nothing" for cell in table["Fails"]]
    rail_tops = {c["finish_mm"] for c in compared}
    assert len(rail_tops) > 1, "a board that comes or goes moves the rails"
