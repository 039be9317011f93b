"""A worked line told to a reader: the question, the line, and below it where each of its figures comes from."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Sequence

from packgen.core.figures import half_up, plain
from packgen.core.place import Place
from packgen.core.worked import FILE, PRACTICE, Given, Source, Worked

WIDEST = 100  # columns of a terminal that everybody has
NARROWEST = 40  # of a text, however deep it stands
STEP = "   "
GAP = "   "
LONG = 40  # of where a figure is from: not said twice in a row
ONE = {"days": "day", "bags": "bag", "packs": "pack", "batches": "batch", "legs": "leg", "pieces": "piece"}
FIGURE = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
MOST_OPENED = 6  # lines with more parts than this show the parts as a table and do not open each
MOST_SUMS = 2  # the same for sums of bays
DEEPEST_TABLE = 3  # a table of many parts farther down is left for a question of its own
DEEPEST_SUM = 4  # litres and areas farther down are sums of many bays, each with its own chain
SUMS = ("/litres", "/area")
MOST_DEEP = 14  # from a test date down to a reading

Find = Callable[[str], Worked | None]


class Telling:
    """Rows of text about lines, each line opened once. `used`: the places of the file that came up."""

    def __init__(self, find: Find, ask: str) -> None:
        """find: the line of a key; ask: the command with the file's name, for what is not opened here"""
        self._find = find
        self._ask = ask
        self._seen: set[str] = set()
        self._sources: set[str] = set()
        self._where = ""  # where the figure just told is from
        self.rows: list[str] = []
        self.used: list[Given] = []

    def line(self, line: Worked) -> None:
        """A question of its own: the line, and all below it."""
        if line.key in self._seen:
            return
        self.head(f"{line.name[:1].upper()}{line.name[1:]}: {result(line)}. Why?")
        self.open(line, 1)

    def given(self, figure: Given, depth: int) -> None:
        """A figure that is not worked any further."""
        self._given([figure], None, depth)

    def head(self, text: str) -> None:
        """The first row of an answer, with an empty one above it where another came before."""
        if self.rows:
            self.rows.append("")
        self.say(text)

    def say(self, text: str, depth: int = 0) -> None:
        self.rows += wrapped(text, depth)

    def open(self, line: Worked, depth: int, equals: str = "") -> None:
        """The numbers, the words for them, and in the order of the numbers what each figure is.

        equals: the result, where it does not stand above
        """
        self._seen.add(line.key)
        self._where = ""
        numbers, words = f"= {line.numbers}{equals}", f"({line.formula})"
        if len(STEP) * depth + len(numbers) + len(words) + len(GAP) <= WIDEST:
            self.say(f"{numbers}{GAP}{words}", depth)
        else:
            self.say(numbers, depth)
            self.say(words, depth)
        self._rule(line.source, depth)
        needs = [w for key in line.needs if (w := self._find(key)) is not None]
        if len(needs) > (MOST_SUMS if all(w.key.endswith(SUMS) for w in needs) else MOST_OPENED):
            if depth <= DEEPEST_TABLE:
                self._table(needs, depth + 1)
            else:
                self.say(f"on with {self._ask} {quoted(line.key)}", depth + 1)
            self._given(line.given, line.source, depth + 1)
            return
        parts: list[Worked | list[Given]] = [*needs, *_alike(line.given)]
        for part in sorted(parts, key=lambda part: _stands_at(line.numbers, part)):
            if isinstance(part, Worked):
                self._need(part, depth + 1)
            else:
                self._given(part, line.source, depth + 1)

    def _need(self, line: Worked, depth: int) -> None:
        if line.key in self._seen:
            self.say(f"{result(line)}{GAP}{line.name}: as above", depth)
        elif depth > MOST_DEEP or (depth > DEEPEST_SUM and line.key.endswith(SUMS)):
            self.say(f"{result(line)}{GAP}{line.name}: on with {self._ask} {quoted(line.key)}", depth)
        else:
            self.say(f"{result(line)}{GAP}{line.name}", depth)
            self.open(line, depth + 1)

    def _table(self, lines: Sequence[Worked], depth: int) -> None:
        """Parts that are many: each with its own numbers, not opened."""
        cells = [(result(w), w.name, f"= {w.numbers}" if len(w.numbers) < WIDEST // 2 else "") for w in lines]
        self.rows += aligned(cells, STEP * depth)
        self.say(f"each by itself, for example: {self._ask} {quoted(lines[0].key)}", depth)

    def _given(self, figures: Sequence[Given], rule: Source | None, depth: int) -> None:
        """Figures that are not worked: those of the file with their line, the others by their source."""
        for same in _alike(figures):
            first = same[0]
            values = ", ".join(dict.fromkeys(shown(g.value, g.unit) for g in same))
            where = _where(first, rule)
            likewise = where == self._where and len(where) > LONG
            self._where = where
            self.say(f"{values}{GAP}{first.says}{': likewise' if likewise else where}", depth)
            if first.place is not None:
                self.used += same

    def _rule(self, source: Source | None, depth: int) -> None:
        """The rule that a line follows, once in a telling."""
        if source is None or source.known in ("file", "calculated") or source == PRACTICE:
            return
        text = told(source)
        if text not in self._sources:
            self._sources.add(text)
            self.say(f"by: {text}", depth)


def _stands_at(numbers: str, part: Worked | list[Given]) -> int:
    """Where a figure stands in a line's numbers; at their end where it is not found."""
    value = part.value if isinstance(part, Worked) else part[0].value
    for found in FIGURE.finditer(numbers):
        digits = len(found[0].partition(".")[2])
        if half_up(abs(value), digits) == float(found[0]):
            return found.start()
    return len(numbers)


def wrapped(text: str, depth: int, hang: int | None = None) -> list[str]:
    """A text at a depth of indent, broken at the width of a terminal. hang: indent of its further lines"""
    indent = STEP * depth
    return textwrap.wrap(
        text,
        max(WIDEST, len(indent) + NARROWEST),
        initial_indent=indent,
        subsequent_indent=indent + STEP if hang is None else " " * hang,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _alike(figures: Sequence[Given]) -> list[list[Given]]:
    """Figures of one saying, source and place together, in the order of the first of them."""
    found: dict[tuple[str, Source, Place | None], list[Given]] = {}
    for g in figures:
        found.setdefault((g.says, g.source, g.place), []).append(g)
    return list(found.values())


def _where(figure: Given, rule: Source | None) -> str:
    """Where a figure stands or who says it; nothing where it follows from the rule of its line."""
    if figure.place is not None:
        line = _in_file(figure.place)
        return f": {line}" if figure.source == FILE else f": {told(figure.source)}, {line}"
    return "" if figure.source in (FILE, rule) else f": {told(figure.source)}"


def _in_file(place: Place) -> str:
    return f"row {place.line}, cell {place.column} of {place.file}" if place.file else f"line {place.line} of the file"


def told(source: Source) -> str:
    """A source in words, with how it is known."""
    name = f"{source.title}, {source.clause}" if source.clause else source.title
    match source.known:
        case "practice":
            return "common practice, no source" if name == "common practice" else f"{name}; common practice"
        case "memory":
            return f"{name} (from memory, verify)"
        case _:
            return name


def result(line: Worked) -> str:
    """The result of a line as it is printed; a level of nothing is the datum's own, a date is a day.

    >>> result(Worked("k", "n", "f", "0 + 3", 3, 0, "days after Mon 12 Apr 2027: Thu 15 Apr 2027"))
    'Thu 15 Apr 2027 (day 3)'
    """
    for side in ("mm above ", "mm below "):
        if line.unit.startswith(side) and not line.value:
            return f"same as {line.unit.removeprefix(side)}"
    figure = f"{line.value:.{line.digits}f}"
    unit, _, said = line.unit.partition(": ")
    if said:
        return f"{said} (day {figure})" if unit.startswith("days after ") else f"{said} ({figure} {unit})"
    return _with_unit(figure, unit)


def _with_unit(figure: str, unit: str) -> str:
    """One day, two days."""
    return f"{figure} {ONE.get(unit, unit) if figure == '1' else unit}".rstrip()


def shown(value: float, unit: str) -> str:
    """A figure as it is printed; what lies below is said in words and has no sign.

    >>> shown(-97, "mm below TBM"), shown(-3, "°C")
    ('97 mm below TBM', '-3 °C')
    """
    if unit.startswith("mm below"):
        value = abs(value)
    return _with_unit(plain(value, 9), unit)


def quoted(words: str) -> str:
    """Words of a command, in quotes where they would fall apart."""
    return f'"{words}"' if any(c in words for c in " '()&;") else words


def aligned(cells: Sequence[Sequence[str]], indent: str = "") -> list[str]:
    """Rows of a table with its columns side by side; the first column to the right where it is figures."""
    if not cells:
        return []
    widths = [max(len(row[k]) for row in cells) for k in range(len(cells[0]))]
    figures = all(row[0][:1].isdigit() for row in cells)
    out = []
    for row in cells:
        first = row[0].rjust(widths[0]) if figures else row[0].ljust(widths[0])
        rest = (text.ljust(width) for text, width in zip(row[1:], widths[1:], strict=True))
        out.append(f"{indent}{'  '.join((first, *rest))}".rstrip())
    return out
