"""Boards on the rails: the pieces in rows, and the boards they are cut from. All in plan, mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packgen.core.plane import Point, Polygon


@dataclass(frozen=True, slots=True)
class Rules:
    """What boards are and how they are laid.

    long_mm, wide_mm: a board as bought; free_edges: tongue and groove, so that long edges need no rail below them
    stagger_mm: least distance of joints from those of the row before; least_mm: shortest piece at the end of a row;
    row_mm: narrowest row; kerf_mm: saw cut; overhang_mm: how much of a joint may reach beyond the rail under it
    """

    long_mm: float
    wide_mm: float
    free_edges: bool
    stagger_mm: float
    least_mm: float
    row_mm: float
    kerf_mm: float
    overhang_mm: float


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail's axis as it bears boards."""

    kind: Literal["lettered", "numbered"]
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class BoardPiece:
    """A piece of board to lay. `name` is row and place, "2.3"; length along the row and width across it, whole mm.

    board: the number of the board it is cut from; whole: that board as it comes; shaped: not a rectangle, cut to a
    wall or round what stays. on_rails: both its ends lie on a rail or at the edge of the floor; its sides likewise.
    """

    name: str
    row: int
    shape: Polygon
    length_mm: int
    width_mm: int
    board: int
    whole: bool
    shaped: bool
    on_rails: bool


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left of a board, long enough to start a row."""

    board: int
    length_mm: int
    width_mm: int


@dataclass(frozen=True)
class BoardPlan:
    """Boards over one fill.

    along_x: rows run along wall 1, else into the room. boards: how many are cut or laid whole; bound: no list of these
    pieces can do it with fewer. edges_m: rails under edges of pieces; within_m: rails under pieces, away from edges.
    stagger_mm: the least distance of two joints in neighbouring rows; None where no two rows have joints side by side
    from_offcuts: pieces that start a row and come from what an earlier row left over
    """

    material: str
    thickness_mm: float
    rules: Rules
    along_x: bool
    pieces: tuple[BoardPiece, ...]
    boards: int
    bound: int
    offcuts: tuple[Offcut, ...]
    edges_m: float
    within_m: float
    stagger_mm: float | None
    from_offcuts: int

    @property
    def proven(self) -> bool:
        return self.boards == self.bound
