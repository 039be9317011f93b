"""A YAML text that is not a project file, as a tree: handed-in answers and the like."""

from __future__ import annotations

import yaml

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.parse import Parser, TooMuch
from packgen.project.tree import Node


def plain_tree(text: str) -> tuple[Node | None, tuple[Fault, ...]]:
    """The tree of a text, or None, and what was refused on the way. Nothing is mended or guessed."""
    parser = Parser(text.removeprefix("\ufeff").splitlines())
    try:
        tree = parser.tree()
    except TooMuch as why:
        return None, (*parser.faults, why.fault)
    except yaml.MarkedYAMLError as why:
        mark = why.problem_mark
        place = Place(mark.line + 1, mark.column + 1) if mark else Place(1, 1)
        return None, (
            *parser.faults,
            Fault(place, "not-yaml", f"this is not YAML: {why.problem or 'it ends too soon'}"),
        )
    return tree, tuple(parser.faults)
