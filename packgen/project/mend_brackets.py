"""Brackets: one missing, one too many, and what stands between them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from packgen.project.spot import (
    Mend,
    Spot,
    bare_line,
    fault_at,
    with_line,
)

_PARTNER = {"{": "}", "[": "]"}


def brackets(spot: Spot, keys: frozenset[str]) -> Mend | None:
    if found := re.search(r"but found '([}\]])'", spot.problem):
        text = spot.text
        run = re.match(r"[}\] ]+", text[spot.column :])
        length = len(run[0]) if run else 1
        says = f"there is a '{found[1]}' too many here, or the bracket that opens is missing"
        return Mend(
            fault_at(spot.line, spot.column, "bracket", says),
            with_line(spot.lines, spot.line, text[: spot.column] + " " * length + text[spot.column + length :]),
        )
    if "<stream end>" in spot.problem:
        return _open_to_the_end(spot.lines)
    if "flow node" in spot.context and "found ','" in spot.problem:
        says = "two commas follow each other here: something is missing between them, or one is too many"
        cut = spot.text[: spot.column] + " " + spot.text[spot.column + 1 :]
        return Mend(fault_at(spot.line, spot.column, "bracket", says), with_line(spot.lines, spot.line, cut))
    if "flow mapping" not in spot.context and "flow sequence" not in spot.context:
        return None
    opened = spot.lines[spot.began][spot.began_column : spot.began_column + 1] or "["
    closes = _PARTNER.get(opened, "}")
    if found := re.search(r"but got '([}\]])'", spot.problem):
        says = f"a '{opened}' is closed with '{found[1]}': it must be closed with '{closes}'"
        text = spot.text
        return Mend(
            fault_at(spot.line, spot.column, "bracket", says),
            with_line(spot.lines, spot.line, text[: spot.column] + closes + text[spot.column + 1 :]),
        )
    begun = bare_line(spot.lines[spot.began])
    goes_on = begun.endswith((",", "{", "["))
    if spot.line != spot.began and not goes_on:
        says = f"the '{opened}' opened here is not closed: put '{closes}' at the end"
        return Mend(
            fault_at(spot.began, spot.began_column, "bracket", says), with_line(spot.lines, spot.began, begun + closes)
        )
    if spot.line >= len(spot.lines) - 1 and spot.line != spot.began:
        says = f"the '{opened}' opened here is not closed"
        return Mend(fault_at(spot.began, spot.began_column, "bracket", says), None)
    if "got ':'" in spot.problem:
        return _colon_in_braces(spot, keys)
    text = spot.text
    rest = re.match(r"([^:,{}\[\]]+):", text[spot.column :])
    if "but got '<scalar>'" in spot.problem and rest and rest[1].strip() in keys:
        says = f"a comma is missing before '{rest[1].strip()}'"
        fixed = f"{text[: spot.column].rstrip()}, {text[spot.column :]}"
        return Mend(fault_at(spot.line, spot.column, "comma-missing", says), with_line(spot.lines, spot.line, fixed))
    says = (
        f"between '{opened}' and '{closes}' each item is 'key: value' and a comma stands between "
        "items: put a text with other signs in quotes"
    )
    return Mend(fault_at(spot.line, spot.column, "bracket", says), None)


def _open_to_the_end(lines: Sequence[str]) -> Mend | None:
    """A bracket that nothing closes before the file ends."""
    opened: list[tuple[int, int]] = []
    for n, line in enumerate(lines):
        for column, char in enumerate(re.sub(r"\"[^\"]*\"|'[^']*'", lambda m: " " * len(m[0]), bare_line(line))):
            if char in "{[":
                opened.append((n, column))
            elif char in "}]" and opened:
                opened.pop()
    if not opened:
        return None
    n, column = opened[-1]
    char = lines[n][column]
    says = f"the '{char}' opened here is not closed: put '{_PARTNER[char]}' at the end"
    return Mend(fault_at(n, column, "bracket", says), with_line(lines, n, bare_line(lines[n]) + _PARTNER[char]))


def _colon_in_braces(spot: Spot, keys: frozenset[str]) -> Mend:
    """`{width: 35 height: 20}` lacks a comma, `{name: kitchen: opening}` has a colon in its text."""
    text = spot.text
    item = max(text.rfind("{", 0, spot.column), text.rfind(",", 0, spot.column)) + 1
    first = text.find(":", item)
    words = text[first + 1 : spot.column].split(" ")
    for n in range(1, len(words)):
        key = " ".join(words[n:])
        if key in keys or (n == len(words) - 1 and re.fullmatch(r"[0-9.,]+", "".join(words[:n]))):
            at = spot.column - len(key)
            before = text[:at].rstrip()
            says = f"a comma is missing before '{key}'"
            if before.endswith(";"):
                before = before[:-1].rstrip()
                says = f"a comma is wanted before '{key}', not ';'"
            return Mend(
                fault_at(spot.line, at, "comma-missing", says, f"{before[item:].strip()}, {key}: ..."),
                with_line(spot.lines, spot.line, f"{before}, {text[at:]}"),
            )
    end = min((p for p in (text.find(",", spot.column), text.find("}", spot.column)) if p > 0), default=len(text))
    value = text[first + 1 : end].strip()
    name = text[item:first].strip()
    says = f"the text of '{name}' holds a second colon (:): put the text in quotes"
    fixed = f'{text[: first + 1]} "{value}"{text[end:]}'
    return Mend(
        fault_at(spot.line, spot.column, "colon-in-text", says, f'{name}: "{value}"'),
        with_line(spot.lines, spot.line, fixed),
    )


def braces_missing(spot: Spot, name: str, value: str, start: int, keys: frozenset[str]) -> Mend | None:
    """`rail: width: 35, height: 20`, or `- name: door, in: wall 1`: pairs in a row without their braces."""
    bare = value.strip("() {}")
    if _pairs(bare, keys):
        says = f"the values of '{name}' need braces {{ }} round them"
        fixed = with_line(spot.lines, spot.line, f"{spot.text[:start]}{{{bare}}}")
        return Mend(fault_at(spot.line, start, "bracket", says, f"{name}: {{{bare}}}"), fixed)
    whole = bare_line(spot.text).strip().removeprefix("- ").strip("{}")
    if "," in whole and _pairs(whole, keys):
        says = f"several values stand in one line from '{name}' on: put braces {{ }} round them"
        at = spot.text.index(whole)
        fixed = with_line(spot.lines, spot.line, f"{spot.text[:at]}{{{whole}}}")
        return Mend(fault_at(spot.line, at, "bracket", says, f"{{{whole}}}"), fixed)
    return None


def _pairs(text: str, keys: frozenset[str]) -> bool:
    """Whether a text is `key: value, key: value` throughout."""
    parts = re.split(r" *[,;] *(?![^\[]*\])", text)
    return all(
        re.fullmatch(r"[^:]+: *\S.*", part) and part.split(":")[0].strip() in keys and part.count(": ") < 2
        for part in parts
    )


def colon_before_bracket(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """`rail {width: 35}` and `rail:{width: 35}`."""
    found = re.match(r"( *(?:- )?)([A-Za-z][^:={\[]*?) ?([:=;：]?) *([{\[].*)$", spot.text)
    if found is None or found[2] not in keys or spot.text[found.end(2) :].startswith(": "):
        return None
    guess = f"{found[2]}: {found[4]}"
    fixed = with_line(spot.lines, spot.line, found[1] + guess)
    if found[3] == ":":
        says = f"a blank is missing after the colon of '{found[2]}'"
        return Mend(fault_at(spot.line, found.start(3), "no-blank-after-colon", says, guess), fixed)
    says = f"'{found[2]}' has no colon with a blank before its bracket"
    return Mend(fault_at(spot.line, found.end(2), "no-colon", says, guess), fixed)
