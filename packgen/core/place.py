"""Where in the project file something stands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A line and column of the project file, both counted from 1.

    file   a table beside the project file, where that is meant; then line and column are its row and its cell
    """

    line: int
    column: int
    file: str = ""

    def __str__(self) -> str:
        return f"{self.file} row {self.line}, cell {self.column}" if self.file else f"{self.line}:{self.column}"


class Text(str):
    """A scalar of the project file: the text as typed, and where it stands.

    Meaning comes later, from the schema, so that `no`, `7:30` or `012` stay what the user typed.
    """

    place: Place
    quoted: bool

    __slots__ = ("place", "quoted")

    def __new__(cls, text: str, place: Place, quoted: bool = False) -> Text:
        self = super().__new__(cls, text)
        self.place = place
        self.quoted = quoted
        return self


@dataclass(frozen=True, slots=True)
class Marks:
    """Where a record of the project file starts, and where each of its keys and values stands.

    `keys` and `values` are pairs (key as typed, Place); a record made by the program has none.
    """

    start: Place
    keys: tuple[tuple[str, Place], ...] = ()
    values: tuple[tuple[str, Place], ...] = ()

    def of(self, key: str) -> Place:
        """Place of the value of `key`; the record's start where the key was not given."""
        return dict(self.values).get(key) or dict(self.keys).get(key) or self.start


NOWHERE = Marks(Place(1, 1))
