"""Short ways to write walls, tapes and set-ups."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import pytest

from packgen.project.room_model import Tape, Wall
from packgen.project.work_model import Reading, SetUp, Sight


def walls_of(rows: Iterable[tuple[float, str]]) -> tuple[Wall, ...]:
    return tuple(Wall.model_construct(number=i, length=m, turn=t, angle=None) for i, (m, t) in enumerate(rows, 1))


def tapes_of(rows: Iterable[tuple[int, int, float]]) -> tuple[Tape, ...]:
    return tuple(Tape.model_construct(start=a, end=b, length=m) for a, b, m in rows)


def setup_of(
    name: str,
    start: tuple[str, float],
    readings: Iterable[tuple[str, float]] = (),
    leave: tuple[str, float] | None = None,
    close: tuple[str, float] | None = None,
) -> SetUp:
    def sight(s: tuple[str, float] | None) -> Sight | None:
        return Sight.model_construct(point=s[0], reading=s[1]) if s else None

    cells = tuple(Reading.model_construct(column=p[:1], row=p[1:], value=v) for p, v in readings)
    return SetUp.model_construct(
        name=name, date=None, by="", start_on=sight(start), readings=cells, leave_on=sight(leave), close_on=sight(close)
    )


@pytest.fixture(scope="session")
def walls() -> Callable[[Iterable[tuple[float, str]]], tuple[Wall, ...]]:
    """Walls from (length, turn at the end)."""
    return walls_of


@pytest.fixture(scope="session")
def tapes() -> Callable[[Iterable[tuple[int, int, float]]], tuple[Tape, ...]]:
    """Tapes from (corner, corner, length)."""
    return tapes_of


@pytest.fixture(scope="session")
def setup() -> Callable[..., SetUp]:
    """A set-up from (point, reading) pairs."""
    return setup_of
