"""The method statements of the demo projects, laid out once a session, and how their words and tables are read."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from functools import cache

import pytest

from packgen.booklet.make import make_pack
from packgen.booklet.pack import Pack
from packgen.plan import Plan
from tests.conftest import SCENARIOS, planned  # type: ignore[import-not-found]


def words(markup: object) -> str:
    """What a reader sees, in one line."""
    text = re.sub(r"<title>.*?</title>|<[^>]+>", " ", str(markup))
    return html.unescape(re.sub(r"\s+", " ", text)).strip()


def rows(markup: object) -> list[list[str]]:
    """The cells of every table row below the heads, in words."""
    found = re.findall(r"<tr[^>]*>(.*?)</tr>", str(markup), re.DOTALL)
    return [[words(c) for c in re.findall(r"<td[^>]*>(.*?)</td>", row, re.DOTALL)] for row in found if "<td" in row]


class Statement:
    """A plan, its method statement, and the statement's words section by section."""

    def __init__(self, name: str) -> None:
        self.plan: Plan = planned(name)
        self.pack: Pack = make_pack(self.plan, "client")
        self.body = " ".join(str(s.body) for s in self.pack.sheets)
        self.words = words(self.body)

    def section(self, key: str) -> str:
        """The markup of one section, from its heading to the next."""
        start = self.body.index(f'id="section-{key}"')
        following = re.search(r'id="section-', self.body[start + 20 :])
        return self.body[start : start + 20 + following.start() if following else len(self.body)]


@cache
def statement_of(name: str) -> Statement:
    return Statement(name)


@pytest.fixture(params=SCENARIOS)
def statement(request: pytest.FixtureRequest) -> Statement:
    """The method statement of each of the five projects in turn."""
    return statement_of(request.param)


@pytest.fixture
def statement_named() -> Callable[[str], Statement]:
    """A method statement by its project's name."""
    return statement_of


@pytest.fixture
def read_words() -> Callable[[object], str]:
    return words


@pytest.fixture
def read_rows() -> Callable[[object], list[list[str]]]:
    return rows
