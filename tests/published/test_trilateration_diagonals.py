"""Diagonals of right-angled rooms, and six lengths of four corners that agree or do not."""

from __future__ import annotations

import math

import pytest

from packgen.project.room_model import Tape, Wall
from packgen.survey.outline import walk_right_angled
from packgen.survey.tapes import fit_room


def room(sides, turn):
    return [Wall.model_construct(number=i, length=m, turn=turn, angle=None) for i, m in enumerate(sides, 1)]


@pytest.mark.parametrize(("w", "d", "diagonal"), [(6000, 4500, 7500), (3000, 4000, 5000), (3600, 2700, 4500)])
def test_r2_diagonal_of_a_rectangle(w, d, diagonal) -> None:
    """R2: 3-4-5 rectangles, calculated."""
    a, b, c, e = walk_right_angled(room((w, d, w, d), "right"), 0).corners
    assert math.dist(a, c) == math.dist(b, e) == diagonal


@pytest.mark.parametrize(("diagonal", "agree"), [(7500, True), (7490, False)])
def test_r2_six_lengths_agree_only_when_they_lie_in_one_plane(diagonal, agree) -> None:
    """R2: the six lengths 6, 4.5, 6, 4.5, 7.5, 7.5 agree (Cayley-Menger determinant 0); 7.49 does not (about 872)."""
    tapes = [Tape.model_construct(start=1, end=3, length=7500), Tape.model_construct(start=2, end=4, length=diagonal)]
    fit = fit_room(room((6000, 4500, 6000, 4500), "skew"), tapes)
    off = max(abs(math.dist(fit.corners[t.start - 1], fit.corners[t.end - 1]) - t.length) for t in tapes)
    assert (off < 1e-3) == agree
    assert agree or off > 1
