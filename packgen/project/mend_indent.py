"""Lines that start in the wrong column or lack a dash: tables, items, sections."""

from __future__ import annotations

import re
import statistics
from collections.abc import Sequence

from packgen.project.guess import list_keys, top_keys
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
    row_like,
    with_line,
)

PAIR_LISTS = ("walls", "check tapes", "layers from the top")  # lists of single pairs, each with its own dash


# --------------------------------------------------------------------------------- tables


def row_of_table(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A row that starts further left than the first row of its table, or a table that is not indented."""
    if (
        "expected ':'" not in spot.problem
        and "found '<scalar>'" not in spot.problem
        and "not allowed here" not in spot.problem
        and "found '-'" not in spot.problem
    ):
        return None
    last = spot.line - 1 if "simple key" in spot.context and spot.line != spot.began else spot.line
    for n in dict.fromkeys((spot.began, last, spot.line)):
        bar = _bar_above(spot.lines, n)
        if bar is None and re.match(r" *rows? +\S+ +\S", spot.lines[n]):
            says = "a table of readings begins here, and the line 'readings: |' is missing above it"
            return Mend(fault_at(n, indent_of(spot.lines[n]), "no-bar", says, "readings: |"), None)
        if bar is None or not row_like(spot.lines[n]):
            continue
        return _table_in_place(spot.lines, bar, n)
    return None


def _table_in_place(lines: Sequence[str], bar: int, n: int) -> Mend:
    """All rows in one column, further in than the key; the row that stood elsewhere is named."""
    name = name_in(lines[bar])
    run: list[int] = []
    for m in range(bar + 1, len(lines)):
        if filled(lines[m]) and not row_like(lines[m]):
            break
        if filled(lines[m]):
            run.append(m)
    columns = [indent_of(lines[m]) for m in run]
    least = indent_of(lines[bar]) + 1
    usual = statistics.mode(columns[1:] or columns)
    odd = n
    if usual < least:
        says = f"the table under '{name}' must start further in than '{name}' itself"
    elif columns[0] != usual and n == run[0] + 1:
        odd = run[0]
        says = f"the first row of '{name}' starts further in than the rows below it, from line {n + 1} on"
    else:
        says = f"this row of '{name}' starts further left than the first row of its table (line {run[0] + 1})"
    fixed = list(lines)
    for m in run:
        fixed[m] = " " * max(least, usual) + lines[m].lstrip()
    return Mend(fault_at(odd, indent_of(lines[odd]), "table-indent", says), fixed)


def _bar_above(lines: Sequence[str], n: int) -> int | None:
    """The line `readings: |` that a row stands under."""
    for m in range(n - 1, -1, -1):
        content = bare_line(lines[m])
        if re.search(r": [|>][+-]?$", content):
            return m
        if filled(lines[m]) and not row_like(lines[m]):
            return None
    return None


# --------------------------------------------------------------------------------- sections and dashes


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
        return _odd_one(spot.lines, spot.line, first, column + 2)
    if first is not None and parent in PAIR_LISTS and key in keys:
        levels = [level for level in _open_levels(spot.lines, spot.line, False) if level[0] < column]
        if levels:
            return _moved(spot.lines, spot.line, *levels[0])
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


# --------------------------------------------------------------------------------- indents


def uneven_indent(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """Lines that belong together and do not start in one column."""
    lines, here = spot.lines, spot.line
    if "document start" in spot.problem or ("<block end>" in spot.problem and indent_of(lines[here]) == 0):
        first = line_after(lines, -1)
        if first is not None and first != here and indent_of(lines[first]):
            return _moved(lines, first, 0, here)
    above = line_before(lines, here)
    if above is None:
        return None
    dash = dashed(lines[here])
    own = indent_of(lines[here])
    if "not allowed here" not in spot.problem and "<block end>" not in spot.problem:
        return None
    upper = indent_of(lines[above]) if dash else _key_column(lines[above])
    if own > upper and not re.search(r":$|[|>][+-]?$", bare_line(lines[above])):
        if _slipped_left(lines, above, own):
            return _moved(lines, above, own, here)
        return _odd_one(lines, here, above, upper)
    levels = _open_levels(lines, here, dash)
    below = line_after(lines, here)
    if below is not None and bare_line(lines[here]).endswith(":"):
        levels = [level for level in levels if level[0] < indent_of(lines[below])] or levels
    if not levels:
        return None
    wanted, partner = min(levels, key=lambda level: (abs(level[0] - own), -level[0]))
    return _odd_one(lines, here, partner, wanted) if wanted != own else None


def _slipped_left(lines: Sequence[str], n: int, wanted: int) -> bool:
    """Whether a line starts too far left because the lines before it start at `wanted`, or open a block for it."""
    before = line_before(lines, n)
    if before is None:
        return False
    if indent_of(lines[before]) == wanted and not dashed(lines[before]):
        return True
    opens = bare_line(lines[before]).endswith(":")
    return opens and indent_of(lines[n]) == indent_of(lines[before]) < wanted and not dashed(lines[n])


def _odd_one(lines: Sequence[str], here: int, other: int, wanted: int) -> Mend:
    """Of two neighbours in different columns the one that stands alone in its own is moved to the other's."""
    own, item = indent_of(lines[here]), dashed(lines[here])
    before = [n for n in range(other) if _alike(lines[n], wanted, item) and _one_block(lines, n, other, wanted)]
    after = [n for n in range(here + 1, len(lines)) if _alike(lines[n], own, item) and _one_block(lines, here, n, own)]
    if not before and after:
        return _moved(lines, other, indent_of(lines[other]) + own - wanted, here)
    return _moved(lines, here, wanted, other)


def _alike(line: str, column: int, item: bool) -> bool:
    return filled(line) and indent_of(line) == column and dashed(line) == item


def _one_block(lines: Sequence[str], start: int, end: int, column: int) -> bool:
    """Whether no line between two lines starts further left than both."""
    return all(not filled(lines[n]) or indent_of(lines[n]) >= column for n in range(start, end))


def dashed(line: str) -> bool:
    return line.lstrip().startswith("- ")


def _key_column(line: str) -> int:
    """Where the line's key starts: behind the dash of an item."""
    return len(line) - len(re.sub(r"^ *(?:- +)*", "", line))


def _open_levels(lines: Sequence[str], here: int, dash: bool) -> list[tuple[int, int]]:
    """Indents at which a line may start here, each with the line that stands there already."""
    found: list[tuple[int, int]] = []
    least = 10_000
    for n in range(here - 1, -1, -1):
        if not filled(lines[n]) or row_like(lines[n]):
            continue
        line = lines[n]
        starts = [indent_of(line)]
        if marker := re.match(r" *((?:- +)+)\S", line):
            starts = [marker.end(1), indent_of(line)]
        for start in starts:
            if start < least and dash == (line[start : start + 1] == "-"):
                found.append((start, n))
            least = min(least, start)
    return found


def _moved(lines: Sequence[str], n: int, wanted: int, partner: int) -> Mend:
    """The fault of line `n` and the lines with it moved to `wanted`; what stands under it moves along."""
    own = indent_of(lines[n])
    by = abs(own - wanted)
    way = "further in" if own > wanted else "further left"
    blanks = "one blank" if by == 1 else f"{by} blanks"
    says = (
        f"'{name_in(lines[n])}' starts {blanks} {way} than '{name_in(lines[partner])}' in line {partner + 1}: "
        "let both start in the same column (indentation)"
    )
    fixed = list(lines)
    below = line_after(lines, n)
    alone = bare_line(lines[n]).endswith(":") and below is not None and indent_of(lines[below]) <= own
    for m in range(n, n + 1 if alone else len(lines)):
        indent = indent_of(lines[m])
        if m > n and filled(lines[m]) and _stays(lines[m], lines[n], indent, own, wanted):
            break
        if filled(lines[m]):
            fixed[m] = " " * max(0, indent + wanted - own) + lines[m].lstrip(" ")
    return Mend(fault_at(n, own, "indent", says), fixed)


def _stays(line: str, moved: str, indent: int, own: int, wanted: int) -> bool:
    """Whether a line below a moved one stands right already."""
    if own < wanted and (dashed(line) != dashed(moved) or indent > own):
        return True
    if dashed(moved) and indent > own and not dashed(line) and indent == _key_column(moved) + wanted - own:
        return True
    return indent < own or indent == wanted
