"""No number on paper bears a minus sign, also where a base stands above the rail top and nothing fits."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.booklet.make import make_pack
from packgen.booklet.signless import signless, signless_html, signless_sum
from packgen.generate import plan_file
from packgen.plan import Plan

PROJECTS = Path(__file__).parent.parent.parent / "projects"
SIGNED = re.compile(r"(?<![\w)\]×])[-−]\d")


def lowered(name: str, mm: int, folder: Path) -> Plan:
    """A demo project whose floor is to come so low that the base stands above the rail tops at places."""
    text = (PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")
    changed, count = re.subn(r"(finished level: )[^\n#{},]*", rf"\g<1>{mm} below TBM ", text)
    assert count
    file = folder / "low.yaml"
    file.write_text(changed, encoding="utf-8")
    plan = plan_file(file).plan
    assert plan is not None
    return plan


def printed(plan: Plan, edition: str) -> list[tuple[str, str]]:
    """Every text of every sheet, that of drawings and their titles too."""
    return [
        (one.sheet.slug, html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", str(one.body)))))
        for one in make_pack(plan, edition).sheets
    ]


@pytest.mark.parametrize(("name", "mm"), [("08-skew-old-house-room", 80), ("02-extension-heated", 75)])
@pytest.mark.parametrize("edition", ["site", "client"])
def test_a_base_above_the_rail_top_is_said_in_words(name: str, mm: int, edition: str, tmp_path: Path) -> None:
    plan = lowered(name, mm, tmp_path)
    assert min(leg.leg_mm for leg in plan.heights.legs) < 0
    texts = printed(plan, edition)
    assert [(slug, SIGNED.findall(text)) for slug, text in texts if SIGNED.search(text)] == []
    whole = " ".join(text for _, text in texts)
    assert re.search(r"the base stands \d+ above the rail top", whole)


def test_findings_of_the_demo_projects_bear_no_sign(plan: Plan) -> None:
    said = [text for f in plan.findings for text in (f.says, *f.cures)]
    assert [text for text in said if SIGNED.search(text)] == []


@given(st.lists(st.integers(-2000, 2000), min_size=1, max_size=6))
def test_no_number_keeps_its_sign(numbers: list[int]) -> None:
    assert not SIGNED.search(signless(" mm, ".join(map(str, numbers))))
    line = signless_sum(" + ".join(map(str, numbers)))
    assert not SIGNED.search(line)
    assert eval(line) == sum(numbers)  # a line of sums made above


def test_places_of_a_drawing_keep_their_signs() -> None:
    assert signless_html('<path d="M-2 -3"/><p>-2 mm</p>') == '<path d="M-2 -3"/><p>0 less 2 mm</p>'
