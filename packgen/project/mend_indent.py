"""Lines that start in the wrong column: rows of tables, and lines that belong together."""

from __future__ import annotations

import re
import statistics
from collections.abc import Sequence

from packgen.project.spot import (
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
)

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


# --------------------------------------------------------------------------------- columns


def uneven_indent(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """Lines that belong together and do not start in one column."""
    lines, here = spot.lines, spot.line
    if "document start" in spot.problem or ("<block end>" in spot.problem and indent_of(lines[here]) == 0):
        first = line_after(lines, -1)
        if first is not None and first != here and indent_of(lines[first]):
            return moved(lines, first, 0, here)
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
            return moved(lines, above, own, here)
        return odd_one(lines, here, above, upper)
    levels = open_levels(lines, here, dash)
    below = line_after(lines, here)
    if below is not None and bare_line(lines[here]).endswith(":"):
        levels = [level for level in levels if level[0] < indent_of(lines[below])] or levels
    if not levels:
        return None
    wanted, partner = min(levels, key=lambda level: (abs(level[0] - own), -level[0]))
    return odd_one(lines, here, partner, wanted) if wanted != own else None


def _slipped_left(lines: Sequence[str], n: int, wanted: int) -> bool:
    """Whether a line starts too far left because the lines before it start at `wanted`, or open a block for it."""
    before = line_before(lines, n)
    if before is None:
        return False
    if indent_of(lines[before]) == wanted and not dashed(lines[before]):
        return True
    opens = bare_line(lines[before]).endswith(":")
    return opens and indent_of(lines[n]) == indent_of(lines[before]) < wanted and not dashed(lines[n])


def odd_one(lines: Sequence[str], here: int, other: int, wanted: int) -> Mend:
    """Of two neighbours in different columns the one that stands alone in its own is moved to the other's."""
    own, item = indent_of(lines[here]), dashed(lines[here])
    before = [n for n in range(other) if _alike(lines[n], wanted, item) and _one_block(lines, n, other, wanted)]
    after = [n for n in range(here + 1, len(lines)) if _alike(lines[n], own, item) and _one_block(lines, here, n, own)]
    if not before and after:
        return moved(lines, other, indent_of(lines[other]) + own - wanted, here)
    return moved(lines, here, wanted, other)


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


def open_levels(lines: Sequence[str], here: int, dash: bool) -> list[tuple[int, int]]:
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


def moved(lines: Sequence[str], n: int, wanted: int, partner: int) -> Mend:
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
