"""Lines that start in the wrong column or lack a dash: tables, items, sections."""

from __future__ import annotations

import re
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
        if bar is None or not row_like(spot.lines[n]):
            continue
        name = name_in(spot.lines[bar])
        first = line_after(spot.lines, bar)
        assert first is not None
        deeper = indent_of(spot.lines[first])
        least = indent_of(spot.lines[bar]) + 2
        rows = [m for m in range(first, len(spot.lines)) if filled(spot.lines[m])]
        run = []
        for m in rows:
            if not row_like(spot.lines[m]):
                break
            run.append(m)
        if deeper < least:
            says = f"the table under '{name}' must start further in than '{name}' itself"
        else:
            says = f"this row of '{name}' starts further left than the first row of its table"
        fixed = list(spot.lines)
        for m in run:
            fixed[m] = " " * max(least, deeper) + spot.lines[m].lstrip()
        return Mend(fault_at(n, indent_of(spot.lines[n]), "table-indent", says), fixed)
    return None


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
    if "found '-'" in spot.problem and spot.began < spot.line:
        return _first_without_dash(spot)
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
        return _moved(spot.lines, spot.line, column + 2, first)
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


def _first_without_dash(spot: Spot) -> Mend | None:
    """The first item of a list has no dash, and the next one has."""
    line = spot.lines[spot.began]
    column, dash = indent_of(line), indent_of(spot.text)
    if column < dash or column > dash + 2:
        return None
    if found := re.match(r" *-([^\s-].*)", line):
        says = f"a blank is missing after the '-' of '{name_in(found[1])}'"
        fixed = with_line(spot.lines, spot.began, f"{line[:column]}- {found[1]}")
        return Mend(fault_at(spot.began, column, "dash", says, f"- {found[1]}"), fixed)
    says = f"'{name_in(line)}' stands in a list without the '- ' that begins each of its items"
    mended = list(spot.lines)
    for n in range(spot.began, spot.line):
        if filled(mended[n]):
            mended[n] = " " * (dash + 2) + mended[n].lstrip(" ") if column == dash or n == spot.began else mended[n]
    mended[spot.began] = f"{' ' * dash}- {line.lstrip(' ')}"
    if _parent(spot.lines, spot.began) in PAIR_LISTS:
        for n in range(spot.began + 1, spot.line):
            if filled(spot.lines[n]):
                mended[n] = f"{' ' * dash}- {spot.lines[n].lstrip(' ')}"
    return Mend(fault_at(spot.began, column, "dash", says, f"- {bare_line(line).strip()}"), mended)


def _parent(lines: Sequence[str], n: int) -> str:
    """The key above that the line stands under."""
    indent = indent_of(lines[n])
    for m in range(n - 1, -1, -1):
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
    here = spot.line
    above = line_before(spot.lines, here)
    if above is None:
        return None
    below = line_after(spot.lines, here)
    own, upper = indent_of(spot.lines[here]), _key_column(spot.lines[above])
    lower = indent_of(spot.lines[below]) if below is not None else -1
    above_that = line_before(spot.lines, above)
    if "not allowed here" in spot.problem:
        if above_that is not None and own > upper and indent_of(spot.lines[above_that]) == own:
            return _moved(spot.lines, above, own, above_that)
        return _moved(spot.lines, here, upper, above) if own > upper else None
    if "<block end>" not in spot.problem:
        return None
    dash = "sequence start" in spot.problem
    levels = _open_levels(spot.lines, here, dash)
    if not levels:
        return None
    wanted, partner = min(levels, key=lambda level: (abs(level[0] - own), -level[0]))
    if wanted != own and below is not None and lower == own and dash and _alone(spot.lines, partner, wanted):
        return _moved(spot.lines, partner, own, here)
    return _moved(spot.lines, here, wanted, partner) if wanted != own else None


def dashed(line: str) -> bool:
    return line.lstrip().startswith("- ")


def _key_column(line: str) -> int:
    """Where the line's key starts: behind the dash of an item."""
    return len(line) - len(re.sub(r"^ *(?:- +)*", "", line))


def _alone(lines: Sequence[str], n: int, indent: int) -> bool:
    above = line_before(lines, n)
    return above is None or indent_of(lines[above]) < indent


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
            if start < least and (not dash or line[start : start + 1] == "-"):
                found.append((start, n))
            least = min(least, start)
    return found


def _moved(lines: Sequence[str], n: int, wanted: int, partner: int) -> Mend:
    own = indent_of(lines[n])
    by = abs(own - wanted)
    way = "further in" if own > wanted else "further left"
    blanks = "one blank" if by == 1 else f"{by} blanks"
    where = "above it" if partner < n else "below it"
    says = (
        f"'{name_in(lines[n])}' starts {blanks} {way} than '{name_in(lines[partner])}' {where}: let both "
        "start in the same column (indentation)"
    )
    fixed = list(lines)
    for m in range(n, len(lines)):
        indent = indent_of(lines[m])
        if m > n and filled(lines[m]) and own < wanted and dashed(lines[m]) != dashed(lines[n]):
            break
        if m > n and filled(lines[m]) and (indent < own or indent == wanted or (own < wanted and indent > own)):
            break
        if filled(lines[m]):
            fixed[m] = " " * (indent + wanted - own) + lines[m].lstrip(" ")
    return Mend(fault_at(n, own, "indent", says), fixed)
