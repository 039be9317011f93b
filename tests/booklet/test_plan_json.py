"""plan.json keeps to its schema and to what can be added up from it."""

from __future__ import annotations

import json

import jsonschema
import pytest

from packgen.booklet.pack import Pack
from packgen.booklet.plan_json import plan_schema


def test_the_schema_itself_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(plan_schema())


def test_the_plan_keeps_to_it(pack: Pack) -> None:
    jsonschema.validate(pack.data, plan_schema(), jsonschema.Draft202012Validator)


def test_a_plan_without_its_sign_does_not(extension: Pack) -> None:
    broken = {k: v for k, v in extension.data.items() if k != "sign"}
    with pytest.raises(jsonschema.ValidationError, match="sign"):
        jsonschema.validate(broken, plan_schema())


def test_it_survives_being_written_and_read(pack: Pack) -> None:
    assert json.loads(json.dumps(pack.data)) == pack.data


def test_legs_are_rail_top_less_base_as_printed(pack: Pack) -> None:
    for node in pack.data["nodes"]:
        assert node["leg_mm"] == node["rail_top_mm"] - node["base_mm"], node["id"]


def test_bars_add_up(pack: Pack) -> None:
    for bar in pack.data["cut_list"]["bars"]:
        cut = sum(p["length_mm"] for p in bar["pieces"])
        assert cut + bar["saw_cuts"] * bar["saw_cut_mm"] + bar["offcut_mm"] == pytest.approx(bar["stock_mm"])


def test_every_bay_is_filled_on_one_day(pack: Pack) -> None:
    poured = [bay for p in pack.data["pours"] for bay in p["bays"]]
    assert sorted(poured) == sorted(b["id"] for b in pack.data["bays"])


def test_litres_are_the_sum_of_the_bays(pack: Pack) -> None:
    assert pack.data["quantities"]["volume_l"] == sum(b["volume_l"] for b in pack.data["bays"])
