"""List items of one name and its value, such as `- wall 1: 6200, turn right`."""

from __future__ import annotations

import re

from packgen.core.finding import Fault
from packgen.project.tree import Listing, Mapping, Node, Scalar

LAYER = "oak board: 14"


def one_pair(node: Node, example: str, faults: list[Fault]) -> tuple[Scalar | None, Node | None]:
    """The one key and value of a list item such as `- wall 1: 6200, turn right`."""
    if isinstance(node, Mapping) and len(node.entries) == 1:
        return node.entries[0]
    if isinstance(node, Scalar):
        guess = None
        if found := re.fullmatch(r"(.*[^\s0-9.,:])[\s]*:?[\s]*([0-9]+[^:]*)", node):
            guess = f"{found[1].strip(' ,:=')}: {found[2]}"
        thick = re.fullmatch(r"([0-9][0-9.,]*(?: ?mm| ?cm)?) +([A-Za-z].*)", node)
        if thick and example == LAYER:
            guess = f"{thick[2]}: {thick[1]}"
        if found := re.fullmatch(r"(wall ?[0-9]+|corner.*?corner ?[0-9]+)[\s,:=]*(.+)", node, re.IGNORECASE):
            guess = f"{found[1]}: {found[2]}"
        says = (
            f"'{node}' has no colon with a blank after it: write it as in '{example}'"
            if node
            else f"this item is empty: write for example '{example}'"
        )
        faults.append(Fault(node.place, "no-colon", says, guess))
    elif isinstance(node, Mapping | Listing):
        faults.append(
            Fault(node.place, "one-pair-wanted", f"one name with its value is wanted here, as in '{example}'")
        )
    return None, None


def dashed(node: Node | None) -> Node | None:
    """A map where a list of single pairs was wanted, or several pairs under one dash: each pair an item of its own."""
    if isinstance(node, Mapping):
        return Listing(node.place, tuple(Mapping(k.place, ((k, v),)) for k, v in node.entries))
    if isinstance(node, Listing):
        items: list[Node] = []
        for item in node.items:
            plain = isinstance(item, Mapping) and len(item.entries) > 1 and not item.get("name") and not item.flow
            items += (
                [Mapping(k.place, ((k, v),)) for k, v in item.entries]
                if isinstance(item, Mapping) and plain
                else [item]
            )
        return Listing(node.place, tuple(items), node.flow)
    return node
