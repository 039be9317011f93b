"""Tapes: the shape is fixed by those that are needed, no tape runs through a wall or a column, some are spare."""

from __future__ import annotations

from collections.abc import Callable

from packgen.core.plane import Segment, pieces_inside
from packgen.project.read import read_begun
from packgen.project.rigid import missing_diagonals
from packgen.project.room_model import Tape
from packgen.survey.fieldwork_model import Fieldwork

Prepared = Callable[[str], tuple[Fieldwork, ...]]
SIX_SKEW = """\
rooms:
  - name: attic
    walls:
      - wall 1: 5200, skew
      - wall 2: 2600, skew
      - wall 3: 1900, skew left
      - wall 4: 1400, skew
      - wall 5: 3300, skew
      - wall 6: 4050, skew
"""


def test_every_tape_can_be_pulled_straight(any_room: str, prepared: Prepared) -> None:
    for work in prepared(any_room):
        assert work.tapes
        for t in work.tapes:
            line = Segment(work.outline.corners[t.start - 1], work.outline.corners[t.end - 1])
            free = sum(s.length_mm for p in work.outline.floor for s in pieces_inside(p, line))
            assert free > line.length_mm - 2
            assert abs(t.start - t.end) not in (1, len(work.outline.corners) - 1)


def test_both_diagonals_of_four_skew_corners(prepared: Prepared) -> None:
    (work,) = prepared("skew")
    assert {(t.start, t.end) for t in work.tapes} == {(1, 3), (2, 4)}
    assert {t.use for t in work.tapes} == {"needed", "check"}


def test_needed_tapes_fix_a_skew_shape_and_three_are_spare(prepared: Prepared) -> None:
    (work,) = prepared(SIX_SKEW)
    walls = read_begun(SIX_SKEW.encode(), "attic.yaml").begun.rooms[0].walls  # type: ignore[union-attr]
    needed = [Tape.model_construct(start=t.start, end=t.end, length=1.0) for t in work.tapes if t.use == "needed"]
    assert len(needed) == len(walls) - 3
    assert missing_diagonals(walls, needed) == []
    assert missing_diagonals(walls, needed[:-1]) != []
    assert 1 <= sum(t.use == "check" for t in work.tapes) <= 3


def test_tapes_of_the_file_come_first_with_their_length(prepared: Prepared) -> None:
    text = """\
rooms:
  - name: den
    walls:
      - wall 1: 3600, turn right
      - wall 2: 2800, turn right
      - wall 3: 3598, turn right
      - wall 4: 2802, turn right
    check tapes:
      - corner 4 to corner 2: 4562
"""
    (work,) = prepared(text)
    assert [(t.start, t.end, t.taken_mm) for t in work.tapes] == [(4, 2, 4562), (1, 3, None)]
