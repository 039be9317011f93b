"""The JSON Schema takes what people type, and points out what they mistype."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from packgen.project.schema import json_schema
from packgen.project.starter import starter

PROJECTS = Path(__file__).parents[2] / "projects"
TEXTS = {p.stem: p.read_text(encoding="utf-8") for p in sorted(PROJECTS.glob("0*.yaml"))} | {"starter": starter("x")}
SCHEMA = json_schema()
HOLDS = jsonschema.Draft202012Validator(SCHEMA)


class Texts(yaml.SafeLoader):
    """Every scalar stays a text."""


Texts.yaml_implicit_resolvers = {}


def as_texts(text: str) -> Any:
    return yaml.load(text, Loader=Texts)


def as_an_editor(text: str) -> Any:
    """What an editor sees: numbers and truth values typed, days as texts, keys as texts."""

    def plain(node: Any) -> Any:
        if isinstance(node, dict):
            return {str(k): plain(v) for k, v in node.items()}
        if isinstance(node, list):
            return [plain(v) for v in node]
        return node if isinstance(node, bool | int | float | str) or node is None else str(node)

    return plain(yaml.safe_load(text))


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("name", TEXTS)
def test_project_files_hold(name: str) -> None:
    for tree in (as_texts(TEXTS[name]), as_an_editor(TEXTS[name])):
        assert [f"{list(e.absolute_path)}: {e.message}" for e in HOLDS.iter_errors(tree)] == []


def paths(tree: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every map in the tree by its path."""
    if isinstance(tree, dict):
        yield at
        for key, value in tree.items():
            yield from paths(value, (*at, key))
    elif isinstance(tree, list):
        for n, value in enumerate(tree):
            yield from paths(value, (*at, n))


FREE = {
    "fills",
    "prices",
    "columns at",
    "rows at",
    "lowest night temperature",
    "layers from the top",
    "tolerance",
    "bounds",
}


@pytest.mark.parametrize("name", TEXTS)
def test_a_misspelt_key_fails_in_every_map(name: str) -> None:
    for path in paths(as_texts(TEXTS[name])):
        if path and (set(path[-2:]) & FREE or path[-1] in FREE):
            continue
        tree = as_texts(TEXTS[name])
        there = tree
        for step in path:
            there = there[step]
        there["moduel"] = "600"
        assert not HOLDS.is_valid(tree), path


@pytest.mark.parametrize(
    ("was", "typed"),
    [
        ("wall 1: 6200, turn right", "wall 1: 6200"),
        ("finished level: same as TBM", "finished level: -12"),
        ("fall: level", "fall: 15"),
        ("module: 600", "module: wide"),
        ("date: 2027-04-05", "date: 05.04.2027"),
        ("reader: client", "reader: customer"),
        ("membrane: yes", "membrane: maybe"),
        ("waste: 5 %", "waste: 5"),
        ("from: [3125, 0]", "from: [3125]"),
        ("run", "run"),
    ],
)
def test_mistyped_values_fail(was: str, typed: str) -> None:
    text = TEXTS["02-extension-heated"]
    assert was in text
    assert HOLDS.is_valid(as_texts(text.replace(was, typed, 1))) == (was == typed)


def test_other_forms_hold() -> None:
    text = TEXTS["02-extension-heated"]
    for was, typed in (
        ("wall 1: 6200, turn right", "wall 1: 6.2 m, skew left"),
        ("finished level: same as TBM", "finished level: 50 below TBM at wall 1"),
        ("fall: level", "fall: 1.5 % from wall 1 to wall 3"),
        ("drying: {first 40 at: 1 mm per day, rest at: 0.5 mm per day}", "drying: 1 mm per day"),
        ("water: {least: 2.3 l, most: 2.8 l}", "water: none"),
        ("board on top: none", "board on top: 22 OSB"),
        ("covers: whole room", "covers: {from: [0, 0], to: [6200, 4400]}"),
    ):
        assert was in text
        assert HOLDS.is_valid(as_texts(text.replace(was, typed, 1))), typed
