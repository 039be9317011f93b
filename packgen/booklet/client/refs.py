"""Sections by number: the order of a method statement stands in editions.CLIENT."""

from __future__ import annotations

from packgen.booklet.client.order import CLIENT


def number_of(key: str) -> int:
    """The number of a section; ValueError for a key that is no section."""
    return CLIENT.index(key) + 1


def see(*keys: str) -> str:
    """Sections by number in a sentence.

    >>> see("document"), see("document", "unconfirmed")
    ('section 1', 'sections 1 and 2')
    """
    numbers = [str(number_of(k)) for k in keys]
    if len(numbers) == 1:
        return f"section {numbers[0]}"
    return f"sections {', '.join(numbers[:-1])} and {numbers[-1]}"
