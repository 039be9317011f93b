"""What stands on every sheet, and what must stand on none, read from the pack as HTML."""

from __future__ import annotations

import html
import itertools
import re

import pytest

from packgen.booklet.facts import band_of
from packgen.booklet.pack import Pack, Rendered
from packgen.booklet.paper import pages_of
from packgen.core.finding import GATES
from tests.conftest import planned  # type: ignore[import-not-found]

NEGATIVE = re.compile(r"(?<![\w)\]×])[-−]\d")


def words(one: Rendered) -> str:
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<title>.*?</title>|<[^>]+>", " ", str(one.body))))


def test_sign_number_gates_and_date_on_every_page(pack: Pack) -> None:
    for one, page in zip(pack.sheets, pages_of(pack), strict=True):
        assert pack.facts.sign in page.document
        assert f"Sheet {one.number} of {len(pack.sheets)}" in page.document
        assert [g for g in GATES if f">{g}</text>" in page.document] == list(GATES)
        held = re.findall(r"(\w+) held by (\d+)", re.findall(r"<title>Gates: (.*?)</title>", page.document)[0])
        assert held == [(g.name, str(g.holds)) for g in pack.facts.gates if g.holds]
        assert pack.facts.date in page.document


def test_slugs_are_unique_and_links_lead_to_a_sheet(pack: Pack) -> None:
    slugs = [s.sheet.slug for s in pack.sheets]
    assert len(set(slugs)) == len(slugs)
    for one in pack.sheets:
        assert set(re.findall(r'<a href="#([^"]+)"', str(one.body))) <= set(slugs), one.sheet.slug


def test_no_height_bears_a_minus_sign(pack: Pack) -> None:
    for one in pack.sheets:
        assert not NEGATIVE.findall(words(one)), one.sheet.slug


def test_nothing_promises_a_date_of_covering(pack: Pack) -> None:
    for one in pack.sheets:
        assert not re.search(r"\b(tile|cover|lay) (it )?(from|on) (Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d", words(one))


def test_the_second_reader_sees_no_figure_to_copy(pack: Pack) -> None:
    sheets = [s for s in pack.sheets if s.sheet.slug.split("-")[0] == "asbuilt"]
    assert sheets
    targets = {str(n["leg_mm"]) for n in pack.data["nodes"]}
    for one in sheets:
        cells = re.findall(r'<td class="(?:text|write)">(.*?)</td>', str(one.body))
        shown = {html.unescape(re.sub("<[^>]+>", "", c)).strip() for c in cells}
        assert not shown & targets
        assert not any(re.fullmatch(r"\d{3,}", c) for c in shown)


def test_second_readings_do_not_run_in_setting_order(pack: Pack) -> None:
    order = {n["id"]: n["order"] for n in pack.data["nodes"]}
    one = next(s for s in pack.sheets if s.sheet.slug == "asbuilt")
    read = [name for name in re.findall(r'<td class="text">([^<]+)</td>', str(one.body)) if name in order]
    assert len(read) > 10
    neighbours = sum(abs(order[a] - order[b]) == 1 for a, b in itertools.pairwise(read))
    assert neighbours < len(read) / 3


@pytest.mark.parametrize("name", ["02-extension-heated", "08-skew-old-house-room"])
def test_every_stop_stands_on_the_holds_once_with_what_cures_it(name: str) -> None:
    from packgen.booklet.make import make_pack

    plan = planned(name)
    pack = make_pack(plan, "site")
    text = " ".join(words(s) for s in pack.sheets if s.sheet.slug.startswith("holds"))
    stops = [f for f in plan.findings if f.kind == "stop"]
    assert stops
    for f in stops:
        says = f.says[:1].upper() + f.says[1:]
        assert text.count(says) == sum(g.says == f.says for g in stops)
        assert f.cures
        assert f.cures[0] in text


def test_a_sheet_is_banded_by_the_first_open_stop_before_its_gate(extension: Pack) -> None:
    plan = planned("02-extension-heated")
    first = {gate: next((f for f in plan.findings if f.open_stop and f.gate == gate), None) for gate in GATES}
    for one in extension.sheets:
        behind = one.sheet.behind
        reached = GATES[: GATES.index(behind) + 1] if behind else ()
        holder = next((first[g] for g in reached if first[g]), None)
        assert (one.band is None) == (holder is None)
        assert one.band == band_of(plan, one.sheet)
        if holder and one.band:
            assert one.band.gate == holder.gate
            assert one.band.says[:30].lower() == holder.says[:30].lower()


def test_never_banded_sheets_stay_clean(pack: Pack) -> None:
    clean = "cover first ready hazards holds datum sections depths faults moisture asbuilt assumed findings worked"
    for one in pack.sheets:
        if one.sheet.slug.split("-")[0] in clean.split():
            assert one.band is None


def test_only_words_that_the_pack_uses_are_explained(pack: Pack) -> None:
    text = " ".join(words(s) for s in pack.sheets if not s.sheet.slug.startswith("first")).lower()
    first = next(s for s in pack.sheets if s.sheet.template == "first_2.html")
    explained = re.findall(r"<dt>([^<]+)</dt>", str(first.body))
    assert len(explained) >= 15
    for word in explained:
        assert word.lower() in text or word in ("TBM", "sill", "perimeter strip", "strike off", "saw cut"), word


def test_assumed_values_are_all_printed(pack: Pack) -> None:
    text = " ".join(words(s) for s in pack.sheets if s.sheet.slug.startswith(("assumed", "findings")))
    for a in pack.data["assumed"]:
        assert a["what"][:1].upper() + a["what"][1:] in text


def test_every_template_is_filled_from_strings_alone(pack: Pack) -> None:
    for one in pack.sheets:
        assert "None" not in words(one).split(), one.sheet.slug
        assert "{{" not in words(one)
        assert not re.search(r"\d\.\d{4,}", words(one).replace("9.80665", "").replace("0.002827", "")) or (
            one.sheet.slug.startswith("worked")
        ), one.sheet.slug
