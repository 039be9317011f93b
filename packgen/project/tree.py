"""The project file as a tree of texts with their places. Nothing has a meaning yet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from packgen.core.place import Place, Text


class Scalar(Text):
    """A text of the file.

    label  what a message calls it ("wall 2", "hours a day"); "" until it is known
    rows   line number and line of each line of a block or of a text that goes on in the next line
    cells  the rows of a table that lies in a file of its own
    """

    label: str
    rows: tuple[tuple[int, str], ...]
    cells: tuple[tuple[Scalar, ...], ...]

    __slots__ = ("cells", "label", "rows")

    def __new__(
        cls,
        text: str,
        place: Place,
        quoted: bool = False,
        label: str = "",
        rows: tuple[tuple[int, str], ...] = (),
        cells: tuple[tuple[Scalar, ...], ...] = (),
    ) -> Scalar:
        self = super().__new__(cls, text, place, quoted)
        assert isinstance(self, Scalar)
        self.label = label
        self.rows = rows
        self.cells = cells
        return self

    def called(self, label: str) -> Scalar:
        """The same text under a name for messages; a name given before stays."""
        return self if self.label else Scalar(str(self), self.place, self.quoted, label, self.rows)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the file's order, no key twice. `flow`: written in { }."""

    place: Place
    entries: tuple[tuple[Scalar, Node], ...]
    flow: bool = False

    def keys(self) -> tuple[Scalar, ...]:
        return tuple(key for key, _ in self.entries)

    def get(self, key: str) -> Node | None:
        return next((value for k, value in self.entries if k == key), None)

    def text(self, key: str) -> Scalar | None:
        value = self.get(key)
        return value if isinstance(value, Scalar) else None


@dataclass(frozen=True, slots=True)
class Listing:
    """Items in order. `flow`: written in [ ]."""

    place: Place
    items: tuple[Node, ...]
    flow: bool = False


@dataclass(frozen=True, slots=True)
class Refused:
    """A value that a fault has been given for already (an alias, a tag); it is passed over."""

    place: Place


Node: TypeAlias = Scalar | Mapping | Listing | Refused
