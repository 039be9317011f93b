"""A place where a file could not be read: the line, what stands round it, and how a mended line is made."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from packgen.core.finding import Fault
from packgen.core.place import Place

ENTRY = re.compile(
    r"(?P<indent> *)(?P<dash>(?:- "
    r"+)*)(?P<key>[^\s#:{}\[\],&*!|>'\"%@`-][^:#{}\[\]\"]*?|\"[^\"]*\"|'[^']*') *:(?P<value>(?: .*)?)$"
)


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


def fault_at(line: int, column: int, code: str, says: str, guess: str | None = None) -> Fault:
    return Fault(Place(line + 1, column + 1), code, says, guess)


def with_line(lines: Sequence[str], n: int, text: str) -> list[str]:
    return [*lines[:n], text, *lines[n + 1 :]]


def bare_line(line: str) -> str:
    return _REMARK.sub("", line).rstrip()


def filled(line: str) -> bool:
    return bool(bare_line(line).strip())


def line_before(lines: Sequence[str], n: int) -> int | None:
    return next((m for m in range(n - 1, -1, -1) if filled(lines[m])), None)


def line_after(lines: Sequence[str], n: int) -> int | None:
    return next((m for m in range(n + 1, len(lines)) if filled(lines[m])), None)


def indent_of(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def name_in(line: str) -> str:
    entry = ENTRY.fullmatch(bare_line(line))
    if entry:
        return entry["key"].strip("\"'")
    return " ".join(bare_line(line).strip("- ").split()[:4])


def quoted(line: str, start: int) -> str:
    """The line with its text from `start` on in quotes, its remark kept out."""
    content = bare_line(line)
    text = content[start:].replace("\\", "\\\\").replace('"', '\\"')
    return f'{content[:start]}"{text}"'


def value_start(line: str) -> int | None:
    entry = ENTRY.fullmatch(bare_line(line).split(": ", 1)[0] + ":")
    at = bare_line(line).find(": ")
    if entry is None or at < 0:
        return None
    return at + 2 + len(line[at + 2 :]) - len(line[at + 2 :].lstrip())


def next_is_shallow(spot: Spot) -> bool:
    after = line_after(spot.lines, spot.line)
    return after is None or indent_of(spot.lines[after]) <= indent_of(spot.text)


def row_like(line: str) -> bool:
    words = line.split()
    return (
        bool(words)
        and ":" not in line
        and (
            words[0].casefold() in ("row", "rows", "column")
            or (all(re.fullmatch(r"[0-9.,OolI]+|[-–—]|[A-Z]|[A-Z]?[0-9]+", w) for w in words) and len(words) > 1)
        )
    )
