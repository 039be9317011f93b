"""Rooms of which the file has walls and nothing else, and packs of survey sheets for them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from packgen.project.model import Begun
from packgen.project.read import read_begun
from packgen.survey.fieldwork_model import Fieldwork
from packgen.survey.prepare import prepare_survey

PLAIN = """\
rooms:
  - name: den
    walls:
      - wall 1: 3750, turn right
      - wall 2: 2800, turn right
      - wall 3: 3750, turn right
      - wall 4: 2800, turn right
"""
CORNER_WITH_COLUMN = (Path(__file__).parent / "l-room.yaml").read_text(encoding="utf-8")
SKEW = """\
rooms:
  - name: front room
    walls:
      - wall 1: 5420, skew
      - wall 2: 4215, skew
      - wall 3: 5730, skew
      - wall 4: 3960, skew
"""
FLAT = """\
rooms:
  - name: hall
    walls:
      - wall 1: 4000, turn right
      - wall 2: 1500, turn right
      - wall 3: 4000, turn right
      - wall 4: 1500, turn right
  - name: O'Hara's "den"
    walls:
      - wall 1: 3000, turn right
      - wall 2: 2500, turn right
      - wall 3: 3000, turn right
      - wall 4: 2500, turn right
openings:
  - {name: den door, room: hall, in: wall 3, from: 500, width: 800, leads to: den}
"""
ROOMS = {"plain": PLAIN, "corner": CORNER_WITH_COLUMN, "skew": SKEW, "flat": FLAT}


def begun(text: str) -> Begun:
    read = read_begun(text.encode(), "room.yaml")
    assert read.begun is not None, read.faults
    return read.begun


@pytest.fixture(params=ROOMS, scope="session")
def any_room(request: pytest.FixtureRequest) -> str:
    """The text of a file with walls only: plain, L-shaped with a column and a joint, skew, and a flat of two rooms."""
    return ROOMS[request.param]


@pytest.fixture(scope="session")
def rooms_by_name() -> dict[str, str]:
    """The texts of ROOMS."""
    return ROOMS


@pytest.fixture(scope="session")
def prepared() -> Callable[[str], tuple[Fieldwork, ...]]:
    """The fieldwork for one of ROOMS, or for a text."""
    return lambda text: prepare_survey(begun(ROOMS.get(text, text)))
