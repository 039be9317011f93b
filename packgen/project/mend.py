"""Says in plain words what is wrong with a line that cannot be read, and mends it so that the rest can be.

Works on the place where PyYAML gave up. What was probably meant is decided from the lines round it; where that
is not sure, nothing is mended and reading ends.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import yaml

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.guess import list_keys, top_keys

_ENTRY = re.compile(
    r"(?P<indent> *)(?P<dash>(?:- "
    r"+)*)(?P<key>[^\s#:{}\[\],&*!|>'\"%@`-][^:#{}\[\]\"]*?|\"[^\"]*\"|'[^']*') *:(?P<value>(?: .*)?)$"
)
PAIR_LISTS = ("walls", "check tapes", "layers from the top")  # lists of single pairs, each with its own dash
_REMARK = re.compile(r"(?:^|\s)#.*$")


@dataclass(frozen=True)
class Mend:
    """What was wrong, and the lines with it mended; None where it is not sure what was meant."""

    fault: Fault
    lines: list[str] | None


@dataclass(frozen=True)
class Spot:
    """Where PyYAML gave up: line and column from 0; `began` where the part began that it was reading."""

    lines: Sequence[str]
    line: int
    column: int
    began: int
    began_column: int
    context: str
    problem: str

    @property
    def text(self) -> str:
        return self.lines[self.line] if self.line < len(self.lines) else ""


def mend(lines: Sequence[str], error: yaml.MarkedYAMLError, keys: frozenset[str]) -> Mend:
    """`keys` are the words that may stand before a colon somewhere in a project file."""
    mark = error.problem_mark or error.context_mark
    began = error.context_mark or mark
    assert mark is not None
    assert began is not None
    spot = Spot(
        lines,
        min(mark.line, len(lines) - 1),
        mark.column,
        began.line,
        began.column,
        error.context or "",
        error.problem or "",
    )
    rules: tuple[Callable[[Spot, frozenset[str]], Mend | None], ...] = (
        _question_mark,
        _open_quote,
        _odd_start,
        _dash_after_colon,
        _after_bar,
        _brackets,
        _after_quote,
        _row_of_table,
        _colon_in_text,
        _no_colon,
        _section_inside,
        _no_dash,
        _indent,
    )
    for rule in rules:
        found = rule(spot, keys)
        if found is not None:
            return found
    says = (
        "this line cannot be read here: every line is 'key: value' or '- item', and lines that belong "
        "together start in one column"
    )
    return Mend(_fault(spot.line, spot.column, "cannot-read", says), None)


# --------------------------------------------------------------------------------- small helpers


def _fault(line: int, column: int, code: str, says: str, guess: str | None = None) -> Fault:
    return Fault(Place(line + 1, column + 1), code, says, guess)


def _with(lines: Sequence[str], n: int, text: str) -> list[str]:
    return [*lines[:n], text, *lines[n + 1 :]]


def _content(line: str) -> str:
    return _REMARK.sub("", line).rstrip()


def _filled(line: str) -> bool:
    return bool(_content(line).strip())


def _before(lines: Sequence[str], n: int) -> int | None:
    return next((m for m in range(n - 1, -1, -1) if _filled(lines[m])), None)


def _after(lines: Sequence[str], n: int) -> int | None:
    return next((m for m in range(n + 1, len(lines)) if _filled(lines[m])), None)


def _indent_of(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _name(line: str) -> str:
    entry = _ENTRY.fullmatch(_content(line))
    if entry:
        return entry["key"].strip("\"'")
    return " ".join(_content(line).strip("- ").split()[:4])


def _quoted(line: str, start: int) -> str:
    """The line with its text from `start` on in quotes, its remark kept out."""
    content = _content(line)
    text = content[start:].replace("\\", "\\\\").replace('"', '\\"')
    return f'{content[:start]}"{text}"'


def _value_start(line: str) -> int | None:
    entry = _ENTRY.fullmatch(_content(line).split(": ", 1)[0] + ":")
    at = _content(line).find(": ")
    if entry is None or at < 0:
        return None
    return at + 2 + len(line[at + 2 :]) - len(line[at + 2 :].lstrip())


# --------------------------------------------------------------------------------- quotes and odd beginnings


def _question_mark(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A value that is only '?', which is a sign of its own."""
    for n in range(min(spot.line, len(spot.lines) - 1), max(-1, spot.line - 3), -1):
        start = _value_start(spot.lines[n])
        if start is not None and _content(spot.lines[n])[start:] == "?":
            says = (
                f"the value of '{_name(spot.lines[n])}' is '?': find it out, or write 'unknown' where that is allowed"
            )
            return Mend(_fault(n, start, "odd-start", says), _with(spot.lines, n, _quoted(spot.lines[n], start)))
    return None


def _open_quote(spot: Spot, keys: frozenset[str]) -> Mend | None:
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
    text = _content(spot.lines[line])
    closing = len(text) - len(text.rstrip("}] ")) if text.count("{") + text.count("[") else 0
    closed = text[: len(text) - closing] + mark + text[len(text) - closing :]
    return Mend(
        _fault(line, column, "open-quote", says),
        _with(spot.lines, line, closed) if line != spot.line or "quoted" in spot.context else None,
    )


def _unclosed(line: str) -> int | None:
    """Column of a quotation mark that begins a value and has no partner in its line."""
    begun = re.search(r"(?:: +|- +|[\[{,] *)([\"'])", line)
    if begun is None or line.lstrip().startswith("#"):
        return None
    mark, at = begun[1], begun.start(1)
    rest = line[at + 1 :].replace("''", "") if mark == "'" else re.sub(r"\\.", "", line[at + 1 :])
    return at if mark not in rest else None


def _odd_start(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A text that begins with a character that means something else."""
    start = _value_start(spot.text)
    if start is not None and start == spot.column and spot.text[start] == ",":
        says = (
            f"the value of '{_name(spot.text.split(': ', 1)[0] + ':')}' begins with a comma: something "
            "is missing before it"
        )
        return Mend(
            _fault(spot.line, spot.column, "odd-start", says), _with(spot.lines, spot.line, _quoted(spot.text, start))
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
    name = _name(text)
    guess = None
    fixed = None
    if start is not None and start == column and "{" not in text[:column]:
        fixed = _with(spot.lines, spot.line, _quoted(text, start))
        guess = f'{name}: "{_content(text)[start:]}"'
    return Mend(_fault(spot.line, column, "odd-start", says, guess), fixed)


def _dash_after_colon(spot: Spot, keys: frozenset[str]) -> Mend | None:
    if "sequence entries are not allowed" not in spot.problem:
        return None
    says = (
        f"a '- ' stands in the line of '{_name(spot.text)}': put each '- ' item in a line of its own "
        "below, or a text that begins with '-' in quotes"
    )
    start = _value_start(spot.text)
    fixed = _with(spot.lines, spot.line, _quoted(spot.text, start)) if start is not None else None
    return Mend(_fault(spot.line, spot.column, "dash-after-colon", says), fixed if _after_is_shallow(spot) else None)


def _after_is_shallow(spot: Spot) -> bool:
    after = _after(spot.lines, spot.line)
    return after is None or _indent_of(spot.lines[after]) <= _indent_of(spot.text)


def _after_bar(spot: Spot, keys: frozenset[str]) -> Mend | None:
    if "block scalar" not in spot.context:
        return None
    start = _value_start(spot.text)
    if spot.text[spot.began_column : spot.began_column + 1] == "|" and not _after_is_shallow(spot):
        says = "nothing may stand behind '|': the table begins in the next line"
        return Mend(
            _fault(spot.line, spot.column, "after-bar", says),
            _with(spot.lines, spot.line, spot.text[: spot.began_column + 1]),
        )
    char = spot.text[spot.began_column : spot.began_column + 1]
    says = f"a text that begins with '{char}' must stand in quotes"
    return Mend(
        _fault(spot.line, spot.began_column, "odd-start", says),
        _with(spot.lines, spot.line, _quoted(spot.text, start)) if start is not None else None,
    )


# --------------------------------------------------------------------------------- brackets

_PARTNER = {"{": "}", "[": "]"}


def _brackets(spot: Spot, keys: frozenset[str]) -> Mend | None:
    if found := re.search(r"but found '([}\]])'", spot.problem):
        text = spot.text
        says = f"there is a '{found[1]}' too many here, or the bracket that opens is missing"
        return Mend(
            _fault(spot.line, spot.column, "bracket", says),
            _with(spot.lines, spot.line, text[: spot.column] + " " + text[spot.column + 1 :]),
        )
    if "flow node" in spot.context and "found ','" in spot.problem:
        says = "two commas follow each other here: something is missing between them, or one is too many"
        cut = spot.text[: spot.column] + " " + spot.text[spot.column + 1 :]
        return Mend(_fault(spot.line, spot.column, "bracket", says), _with(spot.lines, spot.line, cut))
    if "flow mapping" not in spot.context and "flow sequence" not in spot.context:
        return None
    opened = spot.lines[spot.began][spot.began_column]
    closes = _PARTNER.get(opened, "}")
    if found := re.search(r"but got '([}\]])'", spot.problem):
        says = f"a '{opened}' is closed with '{found[1]}': it must be closed with '{closes}'"
        text = spot.text
        return Mend(
            _fault(spot.line, spot.column, "bracket", says),
            _with(spot.lines, spot.line, text[: spot.column] + closes + text[spot.column + 1 :]),
        )
    begun = _content(spot.lines[spot.began])
    goes_on = begun.endswith((",", "{", "["))
    if spot.line != spot.began and not goes_on:
        says = f"the '{opened}' opened here is not closed: put '{closes}' at the end"
        return Mend(
            _fault(spot.began, spot.began_column, "bracket", says), _with(spot.lines, spot.began, begun + closes)
        )
    if spot.line >= len(spot.lines) - 1 and spot.line != spot.began:
        says = f"the '{opened}' opened here is not closed"
        return Mend(_fault(spot.began, spot.began_column, "bracket", says), None)
    if "got ':'" in spot.problem:
        return _colon_in_braces(spot, keys)
    text = spot.text
    rest = re.match(r"([^:,{}\[\]]+):", text[spot.column :])
    if "but got '<scalar>'" in spot.problem and rest and rest[1].strip() in keys:
        says = f"a comma is missing before '{rest[1].strip()}'"
        fixed = f"{text[: spot.column].rstrip()}, {text[spot.column :]}"
        return Mend(_fault(spot.line, spot.column, "comma-missing", says), _with(spot.lines, spot.line, fixed))
    says = (
        f"between '{opened}' and '{closes}' each item is 'key: value' and a comma stands between "
        "items: put a text with other signs in quotes"
    )
    return Mend(_fault(spot.line, spot.column, "bracket", says), None)


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
                _fault(spot.line, at, "comma-missing", says, f"{before[item:].strip()}, {key}: ..."),
                _with(spot.lines, spot.line, f"{before}, {text[at:]}"),
            )
    end = min((p for p in (text.find(",", spot.column), text.find("}", spot.column)) if p > 0), default=len(text))
    value = text[first + 1 : end].strip()
    name = text[item:first].strip()
    says = f"the text of '{name}' holds a second colon (:): put the text in quotes"
    fixed = f'{text[: first + 1]} "{value}"{text[end:]}'
    return Mend(
        _fault(spot.line, spot.column, "colon-in-text", says, f'{name}: "{value}"'), _with(spot.lines, spot.line, fixed)
    )


def _after_quote(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """`"Garden" extension` and `'Peter's room'`: text behind the closing quotation mark."""
    start = _value_start(spot.text)
    if "found '" not in spot.problem or start is None or spot.text[start] not in "\"'" or spot.column <= start:
        return None
    name = _name(spot.text.split(": ", 1)[0] + ":")
    value = _content(spot.text)[start:]
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
    fixed = _quoted(spot.text[:start] + meant, start)
    return Mend(_fault(spot.line, spot.column, "after-quote", says, guess), _with(spot.lines, spot.line, fixed))


# --------------------------------------------------------------------------------- tables


def _row_of_table(spot: Spot, keys: frozenset[str]) -> Mend | None:
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
        if bar is None or not _row_like(spot.lines[n]):
            continue
        name = _name(spot.lines[bar])
        first = _after(spot.lines, bar)
        assert first is not None
        deeper = _indent_of(spot.lines[first])
        least = _indent_of(spot.lines[bar]) + 2
        rows = [m for m in range(first, len(spot.lines)) if _filled(spot.lines[m])]
        run = []
        for m in rows:
            if not _row_like(spot.lines[m]):
                break
            run.append(m)
        if deeper < least:
            says = f"the table under '{name}' must start further in than '{name}' itself"
        else:
            says = f"this row of '{name}' starts further left than the first row of its table"
        fixed = list(spot.lines)
        for m in run:
            fixed[m] = " " * max(least, deeper) + spot.lines[m].lstrip()
        return Mend(_fault(n, _indent_of(spot.lines[n]), "table-indent", says), fixed)
    return None


def _row_like(line: str) -> bool:
    words = line.split()
    return (
        bool(words)
        and ":" not in line
        and (
            words[0].casefold() in ("row", "rows", "column")
            or (all(re.fullmatch(r"[0-9.,OolI]+|[-–—]|[A-Z]|[A-Z]?[0-9]+", w) for w in words) and len(words) > 1)
        )
    )


def _bar_above(lines: Sequence[str], n: int) -> int | None:
    """The line `readings: |` that a row stands under."""
    for m in range(n - 1, -1, -1):
        content = _content(lines[m])
        if re.search(r": [|>][+-]?$", content):
            return m
        if _filled(lines[m]) and not _row_like(lines[m]):
            return None
    return None


# --------------------------------------------------------------------------------- colons


def _colon_in_text(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """`note: windy: staff held with a bubble`."""
    if "mapping values are not allowed" not in spot.problem:
        return None
    start = _value_start(spot.text)
    if start is None or start > spot.column:
        return None
    name = _name(spot.text.split(": ", 1)[0] + ":")
    value = _content(spot.text)[start:]
    says = f"the text of '{name}' holds a second colon (:): put the text in quotes, or write a comma"
    guess = f'{name}: "{value}"' if '"' not in value else None
    if value.endswith(":") and value.count(":") == 1:
        says = f"a colon (:) stands at the end of the text of '{name}': take it away, or put the text in quotes"
        guess = f"{name}: {value[:-1]}"
    bare = value.strip("() ")
    pairs = re.split(r" *[,;] *", bare)
    whole = _content(spot.text).strip().removeprefix("- ").rstrip("}")
    if "," in whole and all(
        re.match(r"[^:]+: *\S", p) and p.split(":")[0].strip() in keys for p in re.split(r" *, *", whole)
    ):
        says = f"several values stand in one line from '{name}' on: put braces {{ }} round them"
        at = spot.text.index(whole)
        fixed = f"{spot.text[:at]}{{{whole}}}"
        return Mend(_fault(spot.line, at, "bracket", says, f"{{{whole}}}"), _with(spot.lines, spot.line, fixed))
    if all(re.match(r"[^:]+: *\S", p) and p.split(":")[0].strip() in keys for p in pairs):
        says = f"the values of '{name}' need braces {{ }} round them"
        fixed = f"{spot.text[:start]}{{{bare}}}"
        return Mend(
            _fault(spot.line, start, "bracket", says, f"{name}: {{{bare}}}"), _with(spot.lines, spot.line, fixed)
        )
    if re.fullmatch(r"[0-9][^:]*: *(?:turn|skew|right|left).*", value):
        guess = f"{name}: {value.replace(':', ',', 1)}"
        fixed = spot.text.replace(value, value.replace(":", ",", 1))
        return Mend(_fault(spot.line, spot.column, "colon-in-text", says, guess), _with(spot.lines, spot.line, fixed))
    return Mend(
        _fault(spot.line, spot.column, "colon-in-text", says, guess),
        _with(spot.lines, spot.line, _quoted(spot.text, start)),
    )


def _no_colon(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A line without a colon, or without the blank behind it: `module 600`, `module = 600`, `module:600`."""
    suspects: list[int] = []
    if "simple key" in spot.context:
        suspects = [spot.began]
    elif "not allowed here" in spot.problem or "found '<scalar>'" in spot.problem:
        above = _before(spot.lines, spot.line)
        suspects = [spot.line] + ([above] if above is not None and "not allowed" in spot.problem else [])
    for n in suspects:
        content = _content(spot.lines[n])
        if _ENTRY.fullmatch(content) or ": " in content:
            continue
        return _give_colon(spot.lines, n, content, keys)
    return None


def _give_colon(lines: Sequence[str], n: int, content: str, keys: frozenset[str]) -> Mend:
    column = _indent_of(content)
    text = content.strip()
    lead = content[:column]
    if found := re.fullmatch(r"((?:- )?[^:=：]+?) ?(?::|=|：|;) ?(\S.*)", text):
        sign = text[len(found[1]) :].strip()[0]
        guess = f"{found[1]}: {found[2]}"
        if sign == ":":
            says = f"a blank is missing after the colon in '{text}'"
            return Mend(
                _fault(n, content.index(":"), "no-blank-after-colon", says, guess), _with(lines, n, lead + guess)
            )
        says = f"'{found[1]}' has '{sign}' where a colon with a blank is wanted"
        return Mend(_fault(n, content.index(sign), "no-colon", says, guess), _with(lines, n, lead + guess))
    words = text.removeprefix("- ").split(" ")
    for count in range(len(words), 0, -1):
        key = " ".join(words[:count])
        if key in keys:
            guess = f"{key}: {' '.join(words[count:])}".strip()
            says = f"'{text}' has no colon"
            dash = "- " if text.startswith("- ") else ""
            return Mend(_fault(n, column, "no-colon", says, guess), _with(lines, n, lead + dash + guess))
    says = f"the line '{text[:60]}' has no colon: every line is 'key: value' or '- item'; a remark begins with #"
    return Mend(_fault(n, column, "no-colon", says), _with(lines, n, ""))


# --------------------------------------------------------------------------------- dashes and indents


def _section_inside(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A section's own line, indented."""
    for n in (spot.line, _before(spot.lines, spot.line)):
        line = spot.lines[n] if n is not None else ""
        section = _content(line).strip()
        if n is not None and _indent_of(line) and section.endswith(":") and section[:-1] in top_keys():
            says = f"'{section[:-1]}' is a section of its own: let it start in the first column (indentation)"
            return Mend(_fault(n, _indent_of(line), "indent", says), _with(spot.lines, n, line.lstrip()))
    return None


def _no_dash(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """A line in a list without its dash, or without the blank behind it."""
    text = spot.text
    stripped = text.lstrip(" ")
    column = _indent_of(text)
    if found := re.match(r"-([^\s-].*)", stripped):
        says = f"a blank is missing after the '-' of '{_name(found[1])}'"
        return Mend(
            _fault(spot.line, column, "dash", says, f"- {found[1]}"),
            _with(spot.lines, spot.line, f"{text[:column]}- {found[1]}"),
        )
    if "found '-'" in spot.problem and spot.began < spot.line:
        return _first_without_dash(spot)
    if "found '?'" not in spot.problem:
        return None
    above = _before(spot.lines, spot.line)
    if above is None:
        return None
    parent = _parent(spot.lines, spot.line)
    first = _dash_above(spot.lines, spot.line, column)
    entry = _ENTRY.fullmatch(_content(text))
    key = entry["key"] if entry else ""
    head = _name(spot.lines[first]) if first is not None else ""
    if first is not None and parent in list_keys() and parent not in PAIR_LISTS and key != head:
        return _moved(spot.lines, spot.line, column + 2, first)
    if first is not None and parent in keys and parent not in list_keys():
        says = f"'{parent}' is not a list: take the '- ' before '{head}' away"
        line = spot.lines[first]
        return Mend(_fault(first, column, "dash", says), _with(spot.lines, first, line[:column] + line[column + 2 :]))
    says = f"'{_name(text)}' stands in a list without the '- ' that begins each of its items"
    return Mend(
        _fault(spot.line, column, "dash", says, f"- {_content(stripped)}"),
        _with(spot.lines, spot.line, f"{text[:column]}- {stripped}"),
    )


def _first_without_dash(spot: Spot) -> Mend | None:
    """The first item of a list has no dash, and the next one has."""
    line = spot.lines[spot.began]
    column, dash = _indent_of(line), _indent_of(spot.text)
    if column < dash or column > dash + 2:
        return None
    if found := re.match(r" *-([^\s-].*)", line):
        says = f"a blank is missing after the '-' of '{_name(found[1])}'"
        fixed = _with(spot.lines, spot.began, f"{line[:column]}- {found[1]}")
        return Mend(_fault(spot.began, column, "dash", says, f"- {found[1]}"), fixed)
    says = f"'{_name(line)}' stands in a list without the '- ' that begins each of its items"
    mended = list(spot.lines)
    for n in range(spot.began, spot.line):
        if _filled(mended[n]):
            mended[n] = " " * (dash + 2) + mended[n].lstrip(" ") if column == dash or n == spot.began else mended[n]
    mended[spot.began] = f"{' ' * dash}- {line.lstrip(' ')}"
    if _parent(spot.lines, spot.began) in PAIR_LISTS:
        for n in range(spot.began + 1, spot.line):
            if _filled(spot.lines[n]):
                mended[n] = f"{' ' * dash}- {spot.lines[n].lstrip(' ')}"
    return Mend(_fault(spot.began, column, "dash", says, f"- {_content(line).strip()}"), mended)


def _parent(lines: Sequence[str], n: int) -> str:
    """The key above that the line stands under."""
    indent = _indent_of(lines[n])
    for m in range(n - 1, -1, -1):
        if _filled(lines[m]) and _indent_of(lines[m]) < indent:
            return _name(lines[m])
        if _filled(lines[m]) and _indent_of(lines[m]) == indent and re.fullmatch(r" *[^-\s].*:", _content(lines[m])):
            return _name(lines[m])
    return ""


def _dash_above(lines: Sequence[str], n: int, column: int) -> int | None:
    """The last list item above that starts in this column."""
    for m in range(n - 1, -1, -1):
        if _filled(lines[m]) and _indent_of(lines[m]) == column:
            return m if lines[m][column : column + 2] == "- " else None
        if _filled(lines[m]) and _indent_of(lines[m]) < column:
            return None
    return None


def _indent(spot: Spot, keys: frozenset[str]) -> Mend | None:
    """Lines that belong together and do not start in one column."""
    here = spot.line
    above = _before(spot.lines, here)
    if above is None:
        return None
    below = _after(spot.lines, here)
    own, upper = _indent_of(spot.lines[here]), _indent_of(spot.lines[above])
    lower = _indent_of(spot.lines[below]) if below is not None else -1
    above_that = _before(spot.lines, above)
    if "not allowed here" in spot.problem:
        if above_that is not None and own > upper and _indent_of(spot.lines[above_that]) == own:
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


def _dashed(line: str) -> bool:
    return line.lstrip().startswith("- ")


def _alone(lines: Sequence[str], n: int, indent: int) -> bool:
    above = _before(lines, n)
    return above is None or _indent_of(lines[above]) < indent


def _open_levels(lines: Sequence[str], here: int, dash: bool) -> list[tuple[int, int]]:
    """Indents at which a line may start here, each with the line that stands there already."""
    found: list[tuple[int, int]] = []
    least = 10_000
    for n in range(here - 1, -1, -1):
        if not _filled(lines[n]) or _row_like(lines[n]):
            continue
        line = lines[n]
        starts = [_indent_of(line)]
        if marker := re.match(r" *((?:- +)+)\S", line):
            starts = [marker.end(1), _indent_of(line)]
        for start in starts:
            if start < least and (not dash or line[start : start + 1] == "-"):
                found.append((start, n))
            least = min(least, start)
    return found


def _moved(lines: Sequence[str], n: int, wanted: int, partner: int) -> Mend:
    own = _indent_of(lines[n])
    by = abs(own - wanted)
    way = "further in" if own > wanted else "further left"
    blanks = "one blank" if by == 1 else f"{by} blanks"
    where = "above it" if partner < n else "below it"
    says = (
        f"'{_name(lines[n])}' starts {blanks} {way} than '{_name(lines[partner])}' {where}: let both "
        "start in the same column (indentation)"
    )
    fixed = list(lines)
    for m in range(n, len(lines)):
        indent = _indent_of(lines[m])
        if m > n and _filled(lines[m]) and own < wanted and _dashed(lines[m]) != _dashed(lines[n]):
            break
        if m > n and _filled(lines[m]) and (indent < own or indent == wanted or (own < wanted and indent > own)):
            break
        if _filled(lines[m]):
            fixed[m] = " " * (indent + wanted - own) + lines[m].lstrip(" ")
    return Mend(_fault(n, own, "indent", says), fixed)
