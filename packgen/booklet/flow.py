"""Tables on pages, one after the other, parted by the program where a page ends."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.booklet.rows import Table, parted

LEAST_ROWS = 5  # fewer rows than this of a longer table are not begun at the foot of a page
STEP_MM = 4.0
REST_HEADS_MM = 24.0
EVEN_PARTS = 6  # a longer run of parts ends as it ends


@dataclass(frozen=True, slots=True)
class Rest:
    """The last rows of a sheet that stand at the top of the next one. title: that of the sheet they end."""

    title: str
    tables: tuple[Table, ...]

    @property
    def height_mm(self) -> float:
        """With the two headings that keep it apart."""
        return REST_HEADS_MM + sum(t.height_mm for t in self.tables)


class Flow:
    """Gathers tables page by page. first_mm: what the first page leaves them; next_mm: the same on further pages."""

    def __init__(self, first_mm: float, next_mm: float) -> None:
        self.pages: list[list[Table]] = [[]]
        self._left, self._next = max(0.0, first_mm), next_mm

    @property
    def left_mm(self) -> float:
        """What the last page still holds."""
        return self._left

    def new_page(self) -> None:
        """Goes on at the top of a new page."""
        self.pages.append([])
        self._left = self._next

    def take(self, high_mm: float) -> bool:
        """Takes room for something that is no table; on a new page, and then True, where it does not fit."""
        turned = high_mm > self._left
        if turned:
            self.new_page()
        self._left -= high_mm
        return turned

    def add(self, table: Table, even: bool = False, most_rows: int = 0, least_rows: int = LEAST_ROWS) -> None:
        """Goes on where the last table ended, unless only a few rows would fit there.

        even: parts about equally full instead of a last one with a few rows; most_rows: rows a part at most;
        least_rows: fewer of a longer table are not begun here (rows of many lines stand well in twos).
        """
        if not table.rows:
            return
        least = table.head_mm + sum(table.row_mm(r) for r in table.rows[:least_rows]) + STEP_MM
        if self._left < min(least, table.height_mm):
            self.new_page()
        parts = self._parts(table, self._left, self._next, most_rows)
        nearly_whole = self._left > 0.6 * self._next
        room = self._next
        while even and 1 < len(parts) <= EVEN_PARTS and room > self._next * 0.5:
            room -= STEP_MM
            first = self._left * (room / self._next if nearly_whole else 1.0)
            closer = self._parts(table, first, room, most_rows)
            if len(closer) > len(parts):
                break
            parts = closer
        for k, part in enumerate(parts):
            if k:
                self.new_page()
            self.pages[-1].append(part)
            self._left -= part.height_mm

    @staticmethod
    def _parts(table: Table, first_mm: float, next_mm: float, most_rows: int) -> tuple[Table, ...]:
        if most_rows:
            tall = max(table.row_mm(r) for r in table.rows)
            limit = table.head_mm + most_rows * tall + STEP_MM
            first_mm, next_mm = min(first_mm, limit), min(next_mm, limit)
        return parted(table, first_mm, next_mm)
