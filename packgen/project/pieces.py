"""Pieces of a text and of the tree with their places, for what is written out of shorthand."""

from __future__ import annotations

from collections.abc import Callable

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.tree import Mapping, Node, Scalar

Rewrite = Callable[[Node, str, list[Fault]], Node | None]


def part(text: Scalar, start: int, piece: str, label: str = "") -> Scalar:
    """A piece of a text that stands `start` characters in; in a quoted or folded text the text's own place."""
    line, column = text.place.line, text.place.column
    place = text.place if text.quoted or text.rows else Place(line, column + start)
    return Scalar(piece, place, False, label or text.label)


def key_at(name: str, place: Place) -> Scalar:
    return Scalar(name, place)


def map_of(place: Place, *entries: tuple[str, Node | None]) -> Mapping:
    kept = [(key_at(name, value.place), value) for name, value in entries if value is not None]
    return Mapping(place, tuple(kept))


def replaced(node: Mapping, key: str, value: Node | None) -> Mapping:
    return Mapping(
        node.place, tuple((k, value if k == key and value is not None else v) for k, v in node.entries), node.flow
    )
