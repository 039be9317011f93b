"""The key of a set: plain data and back, and nothing that is no key."""

from __future__ import annotations

import json

import pytest

from packgen.exercise.key import KeyFault, key_as_data, key_from_data, key_of
from packgen.exercise.model import ClassSet


def test_to_json_and_back(bay_set: ClassSet) -> None:
    key = key_of(bay_set)
    assert key_from_data(json.loads(json.dumps(key_as_data(key)))) == key


@pytest.mark.parametrize("data", [None, [], {}, {"key": "other"}, {"key": "packgen class set", "form": 99}])
def test_no_key(data: object) -> None:
    with pytest.raises(KeyFault):
        key_from_data(data)


def test_a_damaged_key_is_named(bay_set: ClassSet) -> None:
    data = json.loads(json.dumps(key_as_data(key_of(bay_set))))
    data["cases"][0]["backsight_mm"] = "often"
    with pytest.raises(KeyFault, match="damaged"):
        key_from_data(data)
    del data["cases"][0]["backsight_mm"]
    with pytest.raises(KeyFault, match="damaged"):
        key_from_data(data)
