"""Which board each piece comes from: in laying order, an offcut first where one is large enough."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from packgen.core.plane import area
from packgen.layout.best_fit import fewest_bars
from packgen.layout.board_model import BoardPiece, Offcut, Rules

CRUMB_MM = 1.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """A rectangle still to be cut from: of which board, how long along its rows, how wide across them."""

    board: int
    long: float
    wide: float


@dataclass
class Stack:
    """Boards and what is left of them. Copied freely while rows are tried."""

    rules: Rules
    boards: int = 0
    left: list[Sheet] = field(default_factory=list)

    def copy(self) -> Stack:
        return Stack(self.rules, self.boards, list(self.left))

    def holds(self, long: float, wide: float) -> bool:
        """Whether an offcut is large enough."""
        return any(s.long >= long - CRUMB_MM / 2 and s.wide >= wide - CRUMB_MM / 2 for s in self.left)

    def take(self, long: float, wide: float) -> tuple[int, bool]:
        """Cuts a piece from the smallest offcut that holds it, else from a new board; its number, and whether new."""
        fit = [s for s in self.left if s.long >= long - CRUMB_MM / 2 and s.wide >= wide - CRUMB_MM / 2]
        new = not fit
        if new:
            self.boards += 1
            sheet = Sheet(self.boards, self.rules.long_mm, self.rules.wide_mm)
        else:
            sheet = min(fit, key=lambda s: (s.long * s.wide, s.board))
            self.left.remove(sheet)
        self._keep(sheet, long, wide)
        return sheet.board, new

    def _keep(self, sheet: Sheet, long: float, wide: float) -> None:
        """What the piece leaves: a strip beside it the whole length where that is worth a piece of the same row, else
        the rest of the length as wide as it was."""
        kerf, rules = self.rules.kerf_mm, self.rules
        beside, beyond = sheet.wide - wide - kerf, sheet.long - long - kerf
        along = beside >= wide
        parts = [(sheet.long, beside), (beyond, wide)] if along else [(beyond, sheet.wide), (long, beside)]
        self.left += [Sheet(sheet.board, a, b) for a, b in parts if a >= rules.least_mm and b >= rules.row_mm]

    def offcuts(self) -> tuple[Offcut, ...]:
        order = sorted(self.left, key=lambda s: (-s.long * s.wide, s.board))
        return tuple(Offcut(s.board, math.floor(s.long), math.floor(s.wide)) for s in order)


def least_boards(pieces: Sequence[BoardPiece], rules: Rules) -> int:
    """No list of these pieces uses fewer boards: their area, and the lengths of those too wide to lie side by side."""
    if not pieces:
        return 0
    covered = math.ceil(sum(area(p.shape) for p in pieces) / (rules.long_mm * rules.wide_mm) - 1e-9)
    wide = sorted((p.length_mm for p in pieces if 2 * p.width_mm + rules.kerf_mm > rules.wide_mm), reverse=True)
    return max(covered, fewest_bars(wide, math.floor(rules.long_mm), rules.kerf_mm))
