"""Sentences for pupils: something right first, one pointer, no number, never "wrong"."""

from __future__ import annotations

import re

import pytest

from packgen.exercise.mistakes import MISTAKES, Mistake


@pytest.mark.parametrize("mistake", MISTAKES.values(), ids=list(MISTAKES))
def test_sentence(mistake: Mistake) -> None:
    says = mistake.says
    assert not re.search(r"[0-9−]", says.replace("one mm on one m²", "").replace("day 0", ""))
    assert not re.search(r"\b(wrong|mistake|error|careless|easy|simply|please)\b", says, re.IGNORECASE)
    assert says[0].isupper()
    assert says[-1] in ".?"
    assert 2 <= len(re.findall(r"[.?:](?: |$)", says)) <= 4, "what is right, then a pointer"


def test_all_codes_of_the_trade_are_there() -> None:
    assert {f"W{n}" for n in range(1, 25)} <= set(MISTAKES)


def test_every_mistake_can_be_met_somewhere() -> None:
    """Each code stands beside a way of working in one of the question modules."""
    from pathlib import Path

    import packgen.exercise as room

    folder = Path(room.__file__).parent
    text = "".join(f.read_text(encoding="utf-8") for f in sorted(folder.glob("questions_*.py")))
    assert {code for code in MISTAKES if f'"{code}"' not in text} == set()
