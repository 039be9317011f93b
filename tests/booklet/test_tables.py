"""The CSV tables: complete, in words where paper is in words, and harmless in a spreadsheet."""

from __future__ import annotations

import csv
import io
import re

from packgen.booklet.pack import Pack
from packgen.booklet.tables import _cell


def rows(pack: Pack, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(pack.tables[name], newline="")))


def test_the_eight_tables_are_there(extension: Pack) -> None:
    wanted = "legs rails cut-list bays order pours waiting findings"
    # a heated extension has something to say in every one of them
    assert set(extension.tables) >= {f"{name}.csv" for name in wanted.split()} - {"cut-list.csv"}


def test_every_row_is_as_long_as_its_head(pack: Pack) -> None:
    for name, text in pack.tables.items():
        lengths = {len(row) for row in csv.reader(io.StringIO(text, newline=""))}
        assert len(lengths) == 1, name


def test_legs_are_all_there_once(pack: Pack) -> None:
    assert sorted(r["node"] for r in rows(pack, "legs.csv")) == sorted(n["id"] for n in pack.data["nodes"])


def test_levels_are_in_words(pack: Pack) -> None:
    for row in rows(pack, "legs.csv"):
        for column in ("base", "rail_top"):
            assert re.fullmatch(r"\d+ (above|below) \w+|same as \w+", row[column])


def test_a_text_cannot_be_a_formula() -> None:
    assert [_cell(t) for t in ("=1+1", "+4", "-4", "@x", "plain")] == ["'=1+1", "'+4", "'-4", "'@x", "plain"]
    assert _cell(-4.5) == "-4.5"
