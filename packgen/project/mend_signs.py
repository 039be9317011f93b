"""Signs in the wrong place: quotation marks, colons, letters that mean something else at the beginning."""

from __future__ import annotations

import re
from collections.abc import Sequence

from packgen.project.mend_brackets import braces_missing
from packgen.project.spot import (
    ENTRY,
    Mend,
    Spot,
    bare_line,
    fault_at,
    indent_of,
    line_after,
    line_before,
    name_in,
    next_is_shallow,
    quoted,
    row_like,
    value_start,
    with_line,
)

# --------------------------------------------------------------------------------- quotes and odd beginnings


def question_mark(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A value that is only '?', which is a sign of its own."""
    for n in range(min(spot.line, len(spot.lines) - 1), max(-1, spot.line - 3), -1):
        start = value_start(spot.lines[n])
        if start is not None and bare_line(spot.lines[n])[start:] == "?":
            says = (
                f"the value of '{name_in(spot.lines[n])}' is '?': find it out, or write 'unknown' where that is allowed"
            )
            return Mend(fault_at(n, start, "odd-start", says), with_line(spot.lines, n, quoted(spot.lines[n], start)))
    return None


def open_quote(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A quotation mark that is not closed in its line, if what went wrong lies at or behind its end."""
    if "quoted scalar" in spot.context:
        line, column = spot.began, spot.began_column
    else:
        line, column = next(
            ((n, c) for n in range(spot.line) for c in [_unclosed(spot.lines[n])] if c is not None), (-1, -1)
        )
        if line < 0 or (
            "'<" not in spot.problem and "not allowed" not in spot.problem and "expected ':'" not in spot.problem
        ):
            return None
    mark = spot.lines[line][column]
    says = f"the quotation mark {mark} opened here is not closed in this line"
    text = bare_line(spot.lines[line])
    closing = len(text) - len(text.rstrip("}] ")) if text.count("{") + text.count("[") else 0
    closed = text[: len(text) - closing] + mark + text[len(text) - closing :]
    return Mend(
        fault_at(line, column, "open-quote", says),
        with_line(spot.lines, line, closed) if line != spot.line or "quoted" in spot.context else None,
    )


def _unclosed(line: str) -> int | None:
    """Column of a quotation mark that begins a value and has no partner in its line."""
    begun = re.search(r"(?:: +|- +|[\[{,] *)([\"'])", line)
    if begun is None or line.lstrip().startswith("#"):
        return None
    mark, at = begun[1], begun.start(1)
    rest = line[at + 1 :].replace("''", "") if mark == "'" else re.sub(r"\\.", "", line[at + 1 :])
    return at if mark not in rest else None


def odd_start(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A text that begins with a character that means something else."""
    start = value_start(spot.text)
    if start is not None and start == spot.column and spot.text[start] == ",":
        says = (
            f"the value of '{name_in(spot.text.split(': ', 1)[0] + ':')}' begins with a comma: something "
            "is missing before it"
        )
        return Mend(
            fault_at(spot.line, spot.column, "odd-start", says),
            with_line(spot.lines, spot.line, quoted(spot.text, start)),
        )
    if not (
        "cannot start any token" in spot.problem
        or spot.context in ("while scanning an anchor", "while scanning an alias")
        or "while scanning a tag" in spot.context
        or "directive" in spot.context
    ):
        return None
    column = spot.began_column if spot.context.endswith(("anchor", "alias", "tag")) else spot.column
    text = spot.text
    char = text[column : column + 1]
    says = f"a text that begins with '{char}' must stand in quotes"
    name = name_in(text)
    guess = None
    fixed = None
    if start is not None and start == column and "{" not in text[:column]:
        fixed = with_line(spot.lines, spot.line, quoted(text, start))
        guess = f'{name}: "{bare_line(text)[start:]}"'
    return Mend(fault_at(spot.line, column, "odd-start", says, guess), fixed)


def dash_after_colon(spot: Spot, keys: frozenset[str]) -> Mend | None:
    if "sequence entries are not allowed" not in spot.problem:
        return None
    says = (
        f"a '- ' stands in the line of '{name_in(spot.text)}': put each '- ' item in a line of its own "
        "below, or a text that begins with '-' in quotes"
    )
    start = value_start(spot.text)
    fixed = with_line(spot.lines, spot.line, quoted(spot.text, start)) if start is not None else None
    return Mend(fault_at(spot.line, spot.column, "dash-after-colon", says), fixed if next_is_shallow(spot) else None)


def after_bar(spot: Spot, keys: frozenset[str]) -> Mend | None:
    if "block scalar" not in spot.context:
        return None
    start = value_start(spot.text)
    if spot.text[spot.began_column : spot.began_column + 1] == "|" and not next_is_shallow(spot):
        says = "nothing may stand behind '|': the table begins in the next line"
        return Mend(
            fault_at(spot.line, spot.column, "after-bar", says),
            with_line(spot.lines, spot.line, spot.text[: spot.began_column + 1]),
        )
    char = spot.text[spot.began_column : spot.began_column + 1]
    says = f"a text that begins with '{char}' must stand in quotes"
    return Mend(
        fault_at(spot.line, spot.began_column, "odd-start", says),
        with_line(spot.lines, spot.line, quoted(spot.text, start)) if start is not None else None,
    )


def after_quote(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """`"Garden" extension` and `'Peter's room'`: text behind the closing quotation mark."""
    start = value_start(spot.text)
    if "found '" not in spot.problem or start is None or spot.text[start] not in "\"'" or spot.column <= start:
        return None
    name = name_in(spot.text.split(": ", 1)[0] + ":")
    value = bare_line(spot.text)[start:]
    mark = value[0]
    rest = value.replace(mark, "")
    if value.endswith(mark):
        meant = value[1:-1]
        guess = f"{name}: '{meant}'" if mark == '"' else f'{name}: "{meant}"'
    elif re.match(r"wall ?[0-9]", name) or re.fullmatch(r"[0-9.,]+ *[\w/ ]*", rest):
        meant = rest
        guess = f"{name}: {meant}"
    else:
        meant = value
        guess = f"{name}: '{meant}'" if mark == '"' else f'{name}: "{meant}"'
    says = (
        f"the text of '{name}' goes on behind its closing quotation mark {mark}: put all of it in quotes, or none of it"
    )
    fixed = quoted(spot.text[:start] + meant, start)
    return Mend(fault_at(spot.line, spot.column, "after-quote", says, guess), with_line(spot.lines, spot.line, fixed))


# --------------------------------------------------------------------------------- colons


def colon_in_text(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """`note: windy: staff held with a bubble`."""
    if "mapping values are not allowed" not in spot.problem:
        return None
    start = value_start(spot.text)
    if start is None or start > spot.column:
        return None
    name = name_in(spot.text.split(": ", 1)[0] + ":")
    value = bare_line(spot.text)[start:]
    says = f"the text of '{name}' holds a second colon (:): put the text in quotes, or write a comma"
    guess = f'{name}: "{value}"' if '"' not in value else None
    if value.endswith(":") and value.count(":") == 1:
        says = f"a colon (:) stands at the end of the text of '{name}': take it away, or put the text in quotes"
        guess = f"{name}: {value[:-1]}"
    if braces := braces_missing(spot, name, value, start, keys):
        return braces
    if re.match(r" *- ", spot.text) and re.fullmatch(r"[0-9.]+ ?(?:mm)?[,;] *[^:,]+: *[0-9.]+.*", value):
        says = f"two things stand in the line of '{name}': give each a line and a '- ' of its own"
        first = re.split(r"[,;]", value)[0]
        return Mend(
            fault_at(spot.line, spot.column, "colon-in-text", says, f"- {name}: {first}"),
            with_line(spot.lines, spot.line, f"{spot.text[:start]}{first}"),
        )
    if re.fullmatch(r"[0-9][^:]*: *(?:turn|skew|right|left).*", value):
        guess = f"{name}: {value.replace(':', ',', 1)}"
        fixed = spot.text.replace(value, value.replace(":", ",", 1))
        return Mend(
            fault_at(spot.line, spot.column, "colon-in-text", says, guess), with_line(spot.lines, spot.line, fixed)
        )
    return Mend(
        fault_at(spot.line, spot.column, "colon-in-text", says, guess),
        with_line(spot.lines, spot.line, quoted(spot.text, start)),
    )


def no_colon(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A line without a colon, or without the blank behind it: `module 600`, `module = 600`, `module:600`."""
    suspects: list[int] = []
    if "simple key" in spot.context:
        suspects = [spot.began]
    elif "not allowed here" in spot.problem or "found '<scalar>'" in spot.problem:
        above = line_before(spot.lines, spot.line)
        suspects = [spot.line] + ([above] if above is not None and "not allowed" in spot.problem else [])
    elif "found '<block mapping start>'" in spot.problem:
        above = line_before(spot.lines, spot.line)
        suspects = [above] if above is not None and not re.match(r" *[-{\[]", spot.lines[above]) else []
    for n in suspects:
        content = bare_line(spot.lines[n])
        if ENTRY.fullmatch(content) or ": " in content or row_like(content):
            continue
        return _give_colon(spot.lines, n, content, keys)
    return None


def _give_colon(lines: Sequence[str], n: int, content: str, keys: frozenset[str]) -> Mend:
    column = indent_of(content)
    text = content.strip()
    lead = content[:column]
    if found := re.fullmatch(r"((?:- )?[^:=：;]+?) ?(?::|=|：|;) ?(\S.*|)", text):
        sign = text[len(found[1]) :].strip()[0]
        guess = f"{found[1]}: {found[2]}".strip()
        if sign == ":":
            says = f"a blank is missing after the colon in '{text}'"
            return Mend(
                fault_at(n, content.index(":"), "no-blank-after-colon", says, guess), with_line(lines, n, lead + guess)
            )
        says = f"'{found[1]}' has '{sign}' where a colon with a blank is wanted"
        return Mend(fault_at(n, content.index(sign), "no-colon", says, guess), with_line(lines, n, lead + guess))
    words = text.removeprefix("- ").split(" ")
    for count in range(len(words), 0, -1):
        key = " ".join(words[:count])
        if key in keys:
            guess = f"{key}: {' '.join(words[count:])}".strip()
            says = f"'{text}' has no colon"
            dash = "- " if text.startswith("- ") else ""
            return Mend(fault_at(n, column, "no-colon", says, guess), with_line(lines, n, lead + dash + guess))
    below = line_after(lines, n)
    if below is not None and indent_of(lines[below]) > column and len(words) < 5:
        says = f"'{text}' has no colon, and what stands under it is further in"
        return Mend(fault_at(n, column, "no-colon", says, f"{text}:"), with_line(lines, n, f"{content}:"))
    says = f"the line '{text[:60]}' has no colon: every line is 'key: value' or '- item'; a remark begins with #"
    return Mend(fault_at(n, column, "no-colon", says), with_line(lines, n, ""))
