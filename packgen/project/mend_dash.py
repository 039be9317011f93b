"""Items of lists: a dash that is missing, and one that does not belong there."""

from __future__ import annotations

import re
from collections.abc import Sequence

from packgen.project.guess import list_keys, top_keys
from packgen.project.mend_indent import dashed, moved, odd_one, open_levels
from packgen.project.spot import (
    ENTRY,
    Mend,
    Spot,
    bare_line,
    fault_at,
    filled,
    indent_of,
    line_after,
    line_before,
    name_in,
    with_line,
)

PAIR_LISTS = ("walls", "check tapes", "layers from the top")  # lists of single pairs, each with its own dash


def section_inside(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A section's own line, indented."""
    for n in (spot.line, line_before(spot.lines, spot.line)):
        line = spot.lines[n] if n is not None else ""
        section = bare_line(line).strip()
        if n is not None and indent_of(line) and section.endswith(":") and section[:-1] in top_keys():
            says = f"'{section[:-1]}' is a section of its own: let it start in the first column (indentation)"
            return Mend(fault_at(n, indent_of(line), "indent", says), with_line(spot.lines, n, line.lstrip()))
    return None


def no_dash(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A line in a list without its dash, or without the blank behind it."""
    text = spot.text
    stripped = text.lstrip(" ")
    column = indent_of(text)
    if found := re.match(r"-([^\s-].*)", stripped):
        says = f"a blank is missing after the '-' of '{name_in(found[1])}'"
        return Mend(
            fault_at(spot.line, column, "dash", says, f"- {found[1]}"),
            with_line(spot.lines, spot.line, f"{text[:column]}- {found[1]}"),
        )
    full = _items_under_none(spot)
    if full:
        return full
    missing = _item_without_dash(spot)
    if missing:
        return missing
    if "found '?'" not in spot.problem:
        return None
    above = line_before(spot.lines, spot.line)
    if above is None:
        return None
    parent = _parent(spot.lines, spot.line)
    first = _dash_above(spot.lines, spot.line, column)
    entry = ENTRY.fullmatch(bare_line(text))
    key = entry["key"] if entry else ""
    head = name_in(spot.lines[first]) if first is not None else ""
    if first is not None and parent in list_keys() and parent not in PAIR_LISTS and key != head:
        return odd_one(spot.lines, spot.line, first, column + 2)
    if first is not None and parent in PAIR_LISTS and key in keys:
        levels = [level for level in open_levels(spot.lines, spot.line, False) if level[0] < column]
        if levels:
            return moved(spot.lines, spot.line, *levels[0])
    if first is not None and parent in keys and parent not in list_keys():
        says = f"'{parent}' is not a list: take the '- ' before '{head}' away"
        line = spot.lines[first]
        return Mend(
            fault_at(first, column, "dash", says), with_line(spot.lines, first, line[:column] + line[column + 2 :])
        )
    says = f"'{name_in(text)}' stands in a list without the '- ' that begins each of its items"
    return Mend(
        fault_at(spot.line, column, "dash", says, f"- {bare_line(stripped)}"),
        with_line(spot.lines, spot.line, f"{text[:column]}- {stripped}"),
    )


def _items_under_none(spot: Spot) -> Mend | None:
    """`services: []` with items under it."""
    above = line_before(spot.lines, spot.line)
    found = re.match(r"( *[^:#]+): *(\[ *\]|none|no)$", bare_line(spot.lines[above])) if above is not None else None
    if above is None or found is None or found[1].strip() not in list_keys() or not dashed(spot.lines[spot.line]):
        return None
    says = (
        f"'{found[1].strip()}' says that there are none ({found[2]}), and items stand under it: take '{found[2]}' away"
    )
    fixed = with_line(spot.lines, above, f"{found[1]}:")
    return Mend(fault_at(above, found.start(2), "list-wanted", says, f"{found[1].strip()}:"), fixed)


def _item_without_dash(spot: Spot) -> Mend | None:
    """An item of a list that begins without its dash: the first one, or one in braces."""
    lines, here = spot.lines, spot.line
    above = line_before(lines, here)
    for n in (here, above, spot.began):
        if n is not None and lines[n].lstrip().startswith("{") and _parent(lines, n) in list_keys():
            return _with_dash(lines, n, n, _dash_column(lines, n))
    if (
        "found '-'" in spot.problem
        or "sequence start" in spot.problem
        or ("not allowed here" in spot.problem and dashed(lines[here]))
    ):
        first = _first_item(lines, here, indent_of(lines[here]))
        return _with_dash(lines, first, here, indent_of(lines[here])) if first is not None else None
    if above is not None and indent_of(lines[here]) > indent_of(lines[above]) and "not allowed here" in spot.problem:
        first = _first_item(lines, here, indent_of(lines[above]))
        if first == above and _parent(lines, first) not in PAIR_LISTS:
            return _with_dash(lines, first, first, indent_of(lines[first]))
    return None


def _dash_column(lines: Sequence[str], n: int) -> int:
    """Where the dash of an item stands: as its nearest neighbour's, else in front of it."""
    indent = indent_of(lines[n])
    near = sorted((abs(m - n), indent_of(lines[m])) for m in range(len(lines)) if dashed(lines[m]))
    return next((c for _, c in near if c in (indent, indent - 2)), max(0, indent - 2))


def _first_item(lines: Sequence[str], here: int, dash: int) -> int | None:
    """The line under the head of a list, if it has no dash."""
    for n in range(here - 1, -1, -1):
        if (
            filled(lines[n])
            and indent_of(lines[n]) <= dash
            and bare_line(lines[n]).endswith(":")
            and not dashed(lines[n])
        ):
            if name_in(lines[n]) not in list_keys():
                return None
            first = line_after(lines, n)
            return first if first is not None and first < here and not dashed(lines[first]) else None
        if filled(lines[n]) and indent_of(lines[n]) < dash:
            return None
    return None


def _with_dash(lines: Sequence[str], first: int, end: int, dash: int) -> Mend:
    """The item from `first` to before `end` with its dash in column `dash`."""
    line = lines[first]
    text = line.strip()
    mended = list(lines)
    if found := re.match(r"-([^\s-].*)", text):
        says = f"a blank is missing after the '-' of '{name_in(found[1])}'"
        mended[first] = f"{' ' * dash}- {found[1]}"
        return Mend(fault_at(first, indent_of(line), "dash", says, f"- {bare_line(found[1])}"), mended)
    pairs = _parent(lines, first) in PAIR_LISTS
    for n in range(first + 1, end):
        if filled(lines[n]) and (pairs or indent_of(lines[n]) < dash + 2):
            mended[n] = f"{' ' * dash}{'- ' if pairs else '  '}{lines[n].lstrip(' ')}"
    mended[first] = f"{' ' * dash}- {text}"
    says = f"'{name_in(line)}' stands in a list without the '- ' that begins each of its items"
    return Mend(fault_at(first, indent_of(line), "dash", says, f"- {bare_line(text)}"), mended)


def _parent(lines: Sequence[str], n: int) -> str:
    """The key above that the line stands under."""
    indent = indent_of(lines[n])
    for m in range(n - 1, -1, -1):
        if dashed(lines[m]) and lines[n].lstrip().startswith("{"):
            continue
        if filled(lines[m]) and indent_of(lines[m]) < indent:
            return name_in(lines[m])
        if filled(lines[m]) and indent_of(lines[m]) == indent and re.fullmatch(r" *[^-\s].*:", bare_line(lines[m])):
            return name_in(lines[m])
    return ""


def _dash_above(lines: Sequence[str], n: int, column: int) -> int | None:
    """The last list item above that starts in this column."""
    for m in range(n - 1, -1, -1):
        if filled(lines[m]) and indent_of(lines[m]) == column:
            return m if lines[m][column : column + 2] == "- " else None
        if filled(lines[m]) and indent_of(lines[m]) < column:
            return None
    return None
