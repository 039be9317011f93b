"""The lines of the project file that a prepared survey leads to: `levels`, with a blank for every reading."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packgen.core.figures import plain
from packgen.survey.fieldwork_model import Fieldwork, Named

BLANK = "...."  # no figure: a file in which one is left is refused
COLUMNS = 8  # of a block of readings; more stand in a further block below


def levels_lines(rooms: Sequence[Fieldwork], datum: str) -> str:
    """The section `levels`: the columns and rows of all rooms, and a set-up a room that starts and closes on the datum.

    The places where nobody reads have a '-', those to be read four points.
    """
    lines = ["levels:", "  read as: staff readings"]
    lines += _named("columns at", [pair for r in rooms for pair in r.columns])
    lines += _named("rows at", [pair for r in rooms for pair in r.rows])
    lines.append("  setups:")
    for n, room in enumerate(rooms, 1):
        lines.append(f"    - name: S{n}")
        if len(rooms) > 1:
            lines.append(f"      room: {_quoted(room.outline.name)}")
        lines.append(f"      start on: {{point: {_quoted(datum)}, reading: {BLANK}}}")
        lines.append("      readings: |")
        lines += [f"        {row}" for row in _table(room)]
        lines.append(f"      close on: {{point: {_quoted(datum)}, reading: {BLANK}}}")
    return "\n".join(lines)


def _named(key: str, pairs: Named | list[tuple[str, float]]) -> list[str]:
    words = [f"{name}: {plain(mm)}" for name, mm in pairs]
    rows = [", ".join(words[k : k + COLUMNS]) for k in range(0, len(words), COLUMNS)]
    return [f"  {key}: {{{rows[0]}" + ("}" if len(rows) == 1 else ","), *_rest(rows[1:])]


def _rest(rows: Sequence[str]) -> Iterator[str]:
    for k, row in enumerate(rows, 1):
        yield f"    {row}{'}' if k == len(rows) else ','}"


def _table(room: Fieldwork) -> Iterator[str]:
    """Rows of readings, in blocks of a few columns; rows of a block without a point are left out."""
    read = {(p.column, p.row) for p in room.points}
    for start in range(0, len(room.columns), COLUMNS):
        names = [name for name, _ in room.columns[start : start + COLUMNS]]
        yield f"row  {'  '.join(f'{name:>4}' for name in names)}"
        for row, _ in room.rows:
            cells = [BLANK if (name, row) in read else "-" for name in names]
            if BLANK in cells:
                yield f"{row:<3}  {'  '.join(f'{cell:>4}' for cell in cells)}"


def _quoted(text: str) -> str:
    """A name as a value: in quotes, so that no sign in it means anything."""
    plain_name = text.replace(" ", "").replace("-", "").isalnum() and not text[:1].isdigit()
    return text if plain_name else '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
