"""How a fault or a finding is shown: where, what, the user's own line with a caret, and what was probably meant."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from packgen.core.finding import Fault, Finding
from packgen.core.place import Place

WIDEST = 110  # of the user's line as much is shown as fits a terminal beside the indent
INDENT = "    "


def show_fault(fault: Fault, file_name: str, lines: Sequence[str]) -> str:
    """`file:line:column: says`, the line with a caret, and the guess."""
    out = [f"{_place(fault.place, file_name)}: {visible(fault.says)}", *_line_above(fault, lines)]
    out += _excerpt(fault.place, lines)
    if fault.guess:
        out.append(f"{INDENT}did you mean '{visible(fault.guess)}'?")
    return "\n".join(out)


def _place(place: Place, file_name: str) -> str:
    return visible(str(place) if place.file else f"{file_name}:{place}")


def _line_above(fault: Fault, lines: Sequence[str]) -> list[str]:
    """The line above, where what is wrong is how far in a line starts."""
    n = fault.place.line - 2
    if fault.place.file or not fault.code.endswith("indent") or not 0 <= n < len(lines):
        return []
    return [f"{INDENT}{visible(lines[n][:WIDEST])}"]


def show_finding(finding: Finding, file_name: str, lines: Sequence[str]) -> str:
    """Kind, gate and code before the sentence; the cures, cheapest first; who lifted it."""
    where = f"{_place(finding.place, file_name)}: " if finding.place else f"{visible(file_name)}: "
    gate = f" before {finding.gate}" if finding.gate and finding.kind == "stop" else ""
    out = [f"{where}{finding.kind}{gate} [{finding.code}]: {visible(finding.says)}"]
    if finding.place:
        out += _excerpt(finding.place, lines)
    out += [f"{INDENT}do: {visible(cure)}" for cure in finding.cures]
    if finding.lifted_by:
        lifted = finding.lifted_by
        out.append(f"{INDENT}lifted by {visible(lifted.by)} on {lifted.date.isoformat()}: {visible(lifted.paper)}")
    return "\n".join(out)


def visible(text: str) -> str:
    """The text with characters that steer a terminal or turn its direction written as \\u escapes.

    >>> visible("a\\u202eb\\x1b[31m")
    'a\\\\u202eb\\\\x1b[31m'
    """
    return "".join(
        _escaped(c) if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") else c for c in text
    )


def _escaped(char: str) -> str:
    code = ord(char)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def _wide(text: str) -> int:
    """Columns a terminal needs for the text."""
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def _excerpt(place: Place, lines: Sequence[str]) -> list[str]:
    if place.file or not 1 <= place.line <= len(lines):
        return []
    line = lines[place.line - 1]
    column = min(place.column - 1, len(line))
    start = 0 if column < WIDEST - 20 else column - WIDEST // 2
    before, after = line[start:column].replace("\t", " "), line[column : start + WIDEST].replace("\t", " ")
    lead = "…" if start else ""
    tail = "…" if len(line) > start + WIDEST else ""
    shown_before = lead + visible(before)
    if not (shown_before + after).strip():
        return []
    return [f"{INDENT}{shown_before}{visible(after.rstrip())}{tail}", f"{INDENT}{' ' * _wide(shown_before)}^"]
