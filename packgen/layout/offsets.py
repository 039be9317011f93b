"""Where the first lines of a room lie best: every whole mm both ways, in a stated order of preference.

Each merit is a table over all pairs of first lines. The best pairs in the first merit go on to the second, and so on.
What a few mm at setting out can spoil is held at its worst within those mm, so that what the paper says outlasts the
tape.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from packgen.layout.merits import (
    ALONG_RAILS,
    COUNTED,
    FEET,
    SHIFTED,
    Field,
    feet_merit,
    line_merits,
    rail_merits,
    read_merit,
)
from packgen.project.work_model import Merit

SAME = 0.5  # figures are whole


@dataclass(frozen=True, slots=True)
class Pick:
    """A pair of first lines in whole mm from corner 1, and the merit in which the plainest was left behind."""

    firsts: tuple[int, int]
    decided: Merit | None


def picks(fields: Sequence[Field], order: Sequence[Merit], plain: tuple[float, float], off_mm: int) -> Iterator[Pick]:
    """The best pair for all rooms together, then the best among those not near to one that was given before.

    `plain` is taken to the nearest whole mm. Ends with the plainest itself.
    """
    there = (round(plain[0]), round(plain[1]))
    if len(fields) == 0 or all(stays(field, order, there, off_mm) for field in fields):
        yield Pick(there, None)
        return
    tables = shifted(_together(fields), off_mm)
    live = np.ones_like(tables["few legs"], dtype=bool)
    while live.any():
        pick = best(tables, order, there, live)
        yield pick
        if pick.decided is None:
            return
        near = np.arange(-off_mm, off_mm + 1)
        live[np.ix_(*((first + near) % size for first, size in zip(pick.firsts, live.shape, strict=True)))] = False
        live[there] = True


def _together(fields: Sequence[Field]) -> dict[Merit, np.ndarray]:
    tables: dict[Merit, np.ndarray] = {}
    for field in fields:
        for name in COUNTED:
            tables.setdefault(name, field.empty())
        for found in (rail_merits(field), line_merits(field)):
            for name, table in found.items():
                tables[name] += table
        for name in FEET:
            tables[name] += feet_merit(field, name)
        tables["legs on readings"] += read_merit(field)
    return tables


def shifted(tables: Mapping[Merit, np.ndarray], off_mm: int) -> dict[Merit, np.ndarray]:
    """Every table that setting out can spoil at its worst within `off_mm` both ways; a module on it begins again."""
    return {name: worst(table, off_mm) if name in SHIFTED else table for name, table in tables.items()}


def worst(table: np.ndarray, off_mm: int) -> np.ndarray:
    """The greatest figure within `off_mm` both ways, by windows that double until they are as wide as wanted."""
    found, wide = table, 2 * off_mm + 1
    for axis in (0, 1):
        span = 1
        while span < wide:
            step = min(span, wide - span)
            found = np.maximum(found, np.roll(found, step, axis))
            span += step
        found = np.roll(found, -off_mm, axis)
    return found


def best(tables: Mapping[Merit, np.ndarray], order: Sequence[Merit], plain: tuple[int, int], live: np.ndarray) -> Pick:
    """The first pair of those `live` by the order; what is equal in all goes by the distance to the plainest."""
    rows, columns = np.nonzero(live)
    far = _from_plain(live.shape, plain)[rows, columns]
    decided: Merit | None = None
    for name in order:
        values = far if name == "plain first lines" else tables[name][rows, columns]
        keep = values <= values.min() + SAME if name != "plain first lines" else values == values.min()
        before = far.min()
        rows, columns, far = rows[keep], columns[keep], far[keep]
        if decided is None and before == 0 and far.min() > 0:
            decided = name
    k = int(np.lexsort((columns, rows, far))[0])
    return Pick((int(rows[k]), int(columns[k])), decided)


def _from_plain(shape: tuple[int, ...], plain: tuple[int, int]) -> np.ndarray:
    """How far each pair lies from the plainest, along x and y together, the shorter way round a module."""
    ways = []
    for size, at in zip(shape, plain, strict=True):
        way = np.abs(np.arange(size) - at)
        ways.append(np.minimum(way, size - way))
    far: np.ndarray = np.add.outer(*ways)
    return far


def stays(field: Field, order: Sequence[Merit], plain: tuple[int, int], off_mm: int) -> bool:
    """Whether the plainest can be seen to be best without all tables: nothing is missing in the first merits, and in
    the next no other pair is as good."""
    along: Mapping[Merit, np.ndarray] | None = None
    for name in order:
        if name == "plain first lines":
            return True
        if name in ALONG_RAILS:
            along = along or rail_merits(field, plain)
            if along[name][plain] > SAME:
                return False
            continue
        table = worst(_one(field, name), off_mm)
        here = table[plain]
        if here <= SAME:
            continue
        return bool(np.count_nonzero(table <= here + SAME) == 1)
    return True


def _one(field: Field, name: Merit) -> np.ndarray:
    if name in FEET:
        return feet_merit(field, name)
    return read_merit(field) if name == "legs on readings" else line_merits(field)[name]
