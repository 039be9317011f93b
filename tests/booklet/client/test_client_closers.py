"""What closes a hold is said without the keys of the project file."""

from __future__ import annotations

import pytest

from packgen.booklet.client.closers import closers
from packgen.core.finding import Finding


@pytest.mark.parametrize(
    ("cure", "said"),
    [
        (
            "write first lines: {along wall 1: 50, from wall 1: 100} under kit: then no foot stands on a pipe",
            ("move the first lines (along wall 1: 50, from wall 1: 100): then no foot stands on a pipe",),
        ),
        (
            "test it at 4 to 6 bar, keep it on while filling, and enter the sheet",
            ("test it at 4 to 6 bar, keep it on while filling",),
        ),
        ("fit a guard, and write it down (guard at edge: yes)", ("fit a guard",)),
        ("a rain cover, entered under plant", ("a rain cover",)),
        (
            "cover and heat it; log the temperature and enter it (lowest night temperature)",
            ("cover and heat it; log the temperature",),
        ),
        (
            "fill from Tue 30 Mar 2027 on, and set calendar: start to the working day before it",
            ("fill from Tue 30 Mar 2027 on",),
        ),
        ("the two-peg test on sheet Datum: two marks, two set-ups", ("the two-peg test: two marks, two set-ups",)),
        ("enter the forecast (lowest night temperature) a few days before", ()),
        ("write wet: yes or wet: no under the zone", ()),
        ("take 4 off the base there", ("take 4 off the base there",)),
        (
            "test it: 1.8 CM-% at most (or 75 % RH in a hygrometer box)",
            ("test it: 1.8 CM-% at most (or 75 % RH in a hygrometer box)",),
        ),
    ],
)
def test_said_to_a_client(cure: str, said: tuple[str, ...]) -> None:
    assert closers(Finding("stop", "x", "says", cures=(cure,)), 2) == said


def test_so_many_at_most() -> None:
    assert closers(Finding("stop", "x", "says", cures=("one", "enter it", "two", "three")), 2) == ("one", "two")
