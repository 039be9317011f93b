"""Readings that stand off what their neighbours would let one expect."""

from __future__ import annotations

import statistics
from collections.abc import Iterator, Sequence

from packgen.survey.model import LevelPoint, Suspect
from packgen.trade.survey import measuring

Guesses = tuple[float, ...]


def suspects(points: Sequence[LevelPoint], staff: bool) -> tuple[Suspect, ...]:
    """Spots to read again, the worst first.

    A spot is guessed along its row and along its column: the straight line between its two neighbours, and the lines
    through the two spots on each side run on to it (a real hump, whose neighbours climb towards it, is met by these).
    It is suspect when it stands above all guesses, or below all, by at least the limit, and by so many times what the
    spots of this floor commonly stand off; a spot with only one neighbour in a line also counts as guessed by it.
    Of spots side by side only the one farthest off is named, since a wrong reading makes its neighbours look wrong.

    staff: readings are staff readings, so that a wrong digit can be looked for.
    """
    m = measuring()
    guessed = {p.id: guesses for p, guesses in _with_guesses(points)}
    off = {p.id: _off(p, guessed[p.id]) for p in points if p.id in guessed}
    common = statistics.median(abs(v) for v in off.values()) if off else 0.0
    limit = max(m.stands_off_mm, m.times_scatter * common)
    far = sorted((p for p in points if abs(off.get(p.id, 0.0)) >= limit), key=lambda p: -abs(off[p.id]))
    near = _neighbours(points)
    named: list[LevelPoint] = []
    for p in far:
        if not any(q.id in near[p.id] and (off[q.id] > 0) != (off[p.id] > 0) for q in named):
            named.append(p)
    stand_off = tuple(_suspect(p, guessed[p.id], staff) for p in named)
    return (*stand_off, *_disagreeing(points, m.two_sights_mm))


def _off(p: LevelPoint, guesses: Guesses) -> float:
    low, high = min(guesses), max(guesses)
    return p.level_mm - high if p.level_mm > high else min(p.level_mm - low, 0.0)


def _with_guesses(points: Sequence[LevelPoint]) -> Iterator[tuple[LevelPoint, Guesses]]:
    found: dict[str, list[float]] = {}
    by_id = {p.id: p for p in points}
    for axis in (0, 1):
        for line in _lines(points, axis):
            for i in range(len(line)):
                found.setdefault(line[i][1].id, []).extend(_guesses(line, i))
    for name, guesses in found.items():
        if guesses:
            yield by_id[name], tuple(guesses)


def _lines(points: Sequence[LevelPoint], axis: int) -> list[list[tuple[float, LevelPoint]]]:
    """Rows (axis 0) or columns (axis 1) of spots, each sorted along itself."""
    lines: dict[float, list[tuple[float, LevelPoint]]] = {}
    for p in points:
        along, across = (p.x_mm, p.y_mm) if axis == 0 else (p.y_mm, p.x_mm)
        lines.setdefault(across, []).append((along, p))
    return [sorted(line, key=lambda s: s[0]) for line in lines.values()]


def _guesses(line: list[tuple[float, LevelPoint]], i: int) -> list[float]:
    at, out = line[i][0], []
    for a, b in ((i - 1, i + 1), (i - 2, i - 1), (i + 2, i + 1)):
        if min(a, b) >= 0 and max(a, b) < len(line):
            (xa, pa), (xb, pb) = line[a], line[b]
            out.append(pa.level_mm + (pb.level_mm - pa.level_mm) * (at - xa) / (xb - xa))
    if i in (0, len(line) - 1) and len(line) > 1:
        out.append(line[1 if i == 0 else -2][1].level_mm)
    return out


def _neighbours(points: Sequence[LevelPoint]) -> dict[str, set[str]]:
    """For each spot the ids up to two places away along its row and column: those it helps to guess."""
    near: dict[str, set[str]] = {p.id: set() for p in points}
    for axis in (0, 1):
        for line in _lines(points, axis):
            ids = [p.id for _, p in line]
            for i, name in enumerate(ids):
                near[name].update(ids[max(0, i - 2) : i + 3])
    return near


def _suspect(p: LevelPoint, guesses: Guesses, staff: bool) -> Suspect:
    off, (setup, reading, _) = _off(p, guesses), p.seen[0]
    if not staff:
        return Suspect(p.id, p.level_mm, p.level_mm - off, off, "neighbours", setup)
    below, above = reading + p.level_mm - max(guesses), reading + p.level_mm - min(guesses)
    likely = likely_reading(reading, below, above) if len(p.seen) == 1 else None
    return Suspect(p.id, p.level_mm, p.level_mm - off, off, "neighbours", setup, reading, likely)


def likely_reading(read_mm: float, from_mm: float, to_mm: float) -> float | None:
    """The reading probably meant: one digit wrong, or two side by side exchanged, and near to what was expected.

    A digit one off (a centimetre or decimetre of the staff misread) is likelier than two exchanged, that likelier than
    any other digit. None where no such reading comes near enough to the range expected.

    >>> likely_reading(1470, 1478, 1482), likely_reading(1394, 1410, 1412)
    (1480.0, None)
    """
    read = f"{round(read_mm)}"
    tries = [(0, round(read_mm) + step * 10**k) for k in (1, 2, 3) for step in (1, -1)]
    tries += [(1, int(read[:i] + read[i + 1] + read[i] + read[i + 2 :])) for i in range(len(read) - 1)]
    tries += [(2, int(read[:i] + d + read[i + 1 :])) for i in range(len(read)) for d in "0123456789"]
    middle, slack = (from_mm + to_mm) / 2, measuring().digit_within_mm
    near = [(n, abs(t - middle), t) for n, t in tries if from_mm - slack <= t <= to_mm + slack and t != round(read_mm)]
    return float(min(near)[2]) if near else None


def _disagreeing(points: Sequence[LevelPoint], limit_mm: float) -> tuple[Suspect, ...]:
    out = []
    for p in points:
        levels = [level for *_, level in p.seen]
        if max(levels) - min(levels) > limit_mm:
            setup, reading, level = p.seen[-1]
            out.append(Suspect(p.id, level, p.seen[0][2], level - p.seen[0][2], "two sights", setup, reading))
    return tuple(out)
