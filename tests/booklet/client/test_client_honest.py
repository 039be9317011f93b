"""Nothing in a method statement that the project file does not carry: no competence, no promise, no legal claim."""

from __future__ import annotations

import html
import re
from typing import Any

import pytest

PRAISE = (
    "perfect guarantee guaranteed quality-assured best-in-class professional expert experienced qualified certified "
    "skilled accredited insured reliable trusted leading innovative premium excellent first-class quick easy smart "
    "maintenance-free"
)
LAW = (
    "complies",
    "compliance",
    "compliant",
    "in accordance with the law",
    "legally",
    "we warrant",
    "warranty",
    "statutory",
)
TIPS = ("tip:", "hint:", "why not", "simply", "please", "!")


def test_no_praise_no_legal_claim_no_tips(statement: Any) -> None:
    text = statement.words.lower()
    found = set(re.findall(r"[a-z\-]+", text)) & set(PRAISE.split())
    assert not found
    assert not [phrase for phrase in LAW + TIPS if phrase in text]


def test_competence_is_stated_by_nobody_here(statement: Any, read_rows: Any) -> None:
    people = [row for row in read_rows(statement.section("people")) if len(row) == 5]
    assert people
    assert {row[3] for row in people} == {"not stated"}
    plant = [row for row in read_rows(statement.section("people")) if len(row) == 7]
    assert {row[4] for row in plant} <= {"not stated", ""}


def test_gaps_are_named_where_the_file_is_silent(statement: Any) -> None:
    info = statement.plan.project.project
    words = statement.words
    assert ("Contractor: not stated" in words) == (info.contractor is None)
    assert ("client not stated" in words) == (not info.client)
    assert "Address of the site (1)" in words
    assert "Competence papers (9)" in words


@pytest.mark.parametrize("syntax", ["{", "}", "under kit", ": yes)", "and enter", "entered as", "sheet Datum", "None"])
def test_no_key_of_the_file_and_no_site_sheet_is_asked_of_a_client(statement: Any, syntax: str) -> None:
    assert syntax not in statement.words


def test_no_date_of_covering_is_promised(statement: Any) -> None:
    assert not re.search(
        r"\b(tile|cover|lay|ready) (it )?(from|on|by) (Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d", statement.words
    )
    if "test_not_before" in statement.plan.sequence.dates:
        assert "Dates move by the test, not by the calendar" in statement.words


def test_no_height_bears_a_minus_sign(statement: Any) -> None:
    assert not re.findall(r"(?<![\w)\]×])[-−]\d", statement.words)


def test_structure_is_left_to_the_engineer(statement: Any) -> None:
    assert "it does not say that anything carries them" in statement.words
    weight = statement.plan.quantities.weight
    said = "The project file states no load that is allowed" in statement.words
    assert said == (weight.allowed_dry_kn_m2 is None)


def test_an_insurer_finds_load_moisture_heating_and_fire_on_the_first_page(statement: Any, read_rows: Any) -> None:
    first = {row[0]: row for row in read_rows(statement.pack.sheets[0].body) if len(row) == 3}
    assert {"Load", "Moisture", "Heating", "Fire", "May work start?", "Price"} <= set(first)
    titles = dict(re.findall(r'id="section-[a-z]+">(\d+)\s+([^<]+)<', html.unescape(statement.body)))
    assert all(row[2] in titles for row in first.values())
