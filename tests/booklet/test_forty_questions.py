"""Questions that a pack must answer, each on its own sheet: who looks there finds the words.

The questions are those that first-timers and inspectors ask (the project's own list); patterns are what the answer
cannot do without. A question about heating or drying is asked only where the project has such.
"""

from __future__ import annotations

import html
import re

import pytest

from packgen.booklet.pack import Pack

ALWAYS = [
    ("may I start?", "cover", r"May we start\?.*(held by \d|open)"),
    ("which hold comes first, and what lifts it?", "holds", r"(To do: |No hold stands)"),
    ("what do I set the legs to today?", "legs", r"(?i)backsight.*target"),
    ("how do I read the staff?", "first", r"Bigger reading|bigger reading is a lower rail"),
    ("where is zero?", "datum", r"TBM"),
    ("which leg goes where?", "legs", r"plain"),
    ("where do I draw the lines?", "setout", r"First line A.*on wall 1"),
    ("how do I check square?", "setout", r"(?i)diagonal"),
    ("how do I cut the rails?", "parts", r"(?i)offcut"),
    ("how many bags?", "order", r"(?i)bags"),
    ("how heavy is it, dry and wet?", "cover", r"weight for good.*kN/m².*weight while working|weight for good.*kN/m²"),
    ("where do we begin and end?", "pours", r"(?i)order"),
    ("what if it is evening and we are not done?", "restart", r"(?i)stop"),
    ("do I need a joint where I stopped?", "restart", r"(?i)joint"),
    ("when can I walk on it?", "waiting", r"(?i)walk"),
    ("is the floor flat enough?", "straightedge", r"At most \d+ mm"),
    ("who checks me?", "asbuilt", r"second person"),
    ("which height at the doors?", "cover", r"At the doors.*(flush|higher|lower)"),
    ("how thick is it at the thinnest?", "cover", r"smallest depth, for strength \d+ mm"),
    ("what may I not do myself?", "hazards", r"Not yours to do: .*asbestos"),
    ("is this sheet still good?", "cover", r"throw the sheet away"),
    ("where do these numbers come from?", "worked", r"One leg in full"),
    ("which values were taken for me?", "assumed", r"Yours to overrule"),
    ("what do I write down?", "log", r"(?i)weather|temperature"),
    ("what lies under the floor?", "owner", r"What lies below"),
    ("what if I find something that is not in the plan?", "holds", r"Found on site|Sign-offs"),
]
WITH_WATER = [
    ("how much water?", "mixing", r"(?i)water.*\d"),
    ("it looks wrong: why, and what now?", "faults", r"(?i)(streaks|crumbles)"),
    ("what hurts me in wet cement?", "hazards", r"Wet cement"),
]
DRYING = [
    ("when can the tiler come?", "waiting", r"test.*not before"),
    ("when is it dry enough?", "moisture", r"at most.*CM-%"),
]
HEATED = [
    ("when may the heating go on?", "heat-up", r"Not before"),
    ("does running the heating prove dryness?", "heat-up", r"does not prove that the floor is dry"),
    ("may a rail cross this pipe?", "pipes", r"circuit"),
]


def text(pack: Pack, slug: str) -> str:
    sheets = [s for s in pack.sheets if re.fullmatch(rf"{slug}(-\w+)*", s.sheet.slug)]
    words = " ".join(re.sub(r"<title>.*?</title>|<[^>]+>", " ", str(s.body)) for s in sheets)
    heads = " ".join(f"{s.sheet.title} {s.sheet.purpose}" for s in sheets)
    return re.sub(r"\s+", " ", html.unescape(f"{heads} {words}"))


@pytest.mark.parametrize(("question", "slug", "answer"), ALWAYS)
def test_every_pack_answers(pack: Pack, question: str, slug: str, answer: str) -> None:
    assert re.search(answer, text(pack, slug), re.DOTALL), question


def test_what_only_some_packs_are_asked(pack: Pack) -> None:
    slugs = {s.sheet.slug.split("-")[0] for s in pack.sheets} | {s.sheet.slug for s in pack.sheets}
    asked = [
        *(WITH_WATER if pack.data["pours"][0]["water_l"] else []),
        *(DRYING if "moisture" in slugs else []),
        *(HEATED if "heat-up" in slugs else []),
    ]
    for question, slug, answer in asked:
        assert re.search(answer, text(pack, slug), re.DOTALL | re.IGNORECASE), question
