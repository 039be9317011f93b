"""Reads the published values kept as data files beside this module."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import Any

from packgen.core.worked import Source


@cache
def table(topic: str) -> dict[str, Any]:
    """The data file of a topic, for example "drying"; its `sources` are named once and referred to by name."""
    text = resources.files("packgen.trade").joinpath("data", f"{topic}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def source(topic: str, name: str) -> Source:
    """A source of a topic's file: [sources.NAME] with title, clause and known."""
    row = table(topic)["sources"][name]
    return Source(row["title"], row.get("clause", ""), row["known"])
