"""The lines of the project file that an explanation ends at, as the user wrote them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from packgen.core.worked import Given
from packgen.explain.tell import shown

LONGEST = 90  # of a line as much is shown as stands beside its number on a terminal


def quote(figures: Iterable[Given], lines: Sequence[str]) -> list[str]:
    """Each line once, in the file's order, with a mark under every figure that was used."""
    places: dict[int, dict[int, str]] = {}
    for g in figures:
        if g.place is not None and not g.place.file and 1 <= g.place.line <= len(lines):
            places.setdefault(g.place.line, {})[g.place.column] = shown(g.value, g.unit)
    if not places:
        return []
    width = len(str(max(places)))
    out = []
    for number in sorted(places):
        text = lines[number - 1].replace("\t", " ").rstrip()
        tail = "…" if len(text) > LONGEST else ""
        out.append(f"  line {number:>{width}} | {text[:LONGEST]}{tail}")
        marks = [" "] * (max(places[number]) + 1)
        for column in places[number]:
            marks[column - 1] = "^"
        under = "".join(marks).rstrip()
        if len(under) <= LONGEST:
            out.append(f"  {' ' * (5 + width)} | {under}")
    return out
