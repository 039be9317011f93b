"""Figures of the project file as leaves of the arithmetic: what they are, and where they stand."""

from __future__ import annotations

from packgen.core.place import NOWHERE, Place
from packgen.core.worked import FILE, PRACTICE, Given
from packgen.project.record import Record


def given(record: Record, key: str, says: str, value: float, unit: str = "mm") -> Given:
    """A figure that the file gives under a key of a record; without a place where the program took its usual one."""
    place = place_of(record, key)
    if place is None and record.marks is not NOWHERE:
        return Given(says, value, unit, PRACTICE)
    return Given(says, value, unit, FILE, place)


def place_of(record: Record, key: str) -> Place | None:
    """Where the value of a key stands; None where the file does not give it."""
    return dict(record.marks.values).get(key) or dict(record.marks.keys).get(key)
