"""Faults of single figures and of pairs: more than 0, the least not above the most."""

from __future__ import annotations

from collections.abc import Iterable

from packgen.core.figures import plain
from packgen.core.finding import Fault
from packgen.core.place import Marks


def above_zero(marks: Marks, what: str, **values: float | None) -> Iterable[Fault]:
    """A fault for each value of 0 or less; the key is the name with blanks."""
    for name, value in values.items():
        key = name.replace("_", " ")
        if value is not None and value <= 0:
            yield Fault(
                marks.of(key),
                "not-above-zero",
                f"{key}: {what} of {plain(value)} makes no sense: it must be more than 0",
            )


def least_most(
    marks: Marks, what: str, least: float | None, most: float | None, names: tuple[str, str] = ("least", "most")
) -> Iterable[Fault]:
    """A fault where the least is more than the most."""
    if least is not None and most is not None and least > most:
        says = f"{what}: '{names[0]}' is {plain(least)} and '{names[1]}' is {plain(most)}: are the two exchanged?"
        yield Fault(marks.of(names[0]), "least-above-most", says)
