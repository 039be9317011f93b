"""The trade's words, each in one sentence, and which of them a pack uses."""

from __future__ import annotations

import re
from collections.abc import Iterable

WORDS: tuple[tuple[str, str], ...] = (("base", "the floor we build on, concrete or boards"),)


def words_used(bodies: Iterable[str], titles: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """The words that stand on the sheets, in the order of the list."""
    text = re.sub(r"<[^>]+>", " ", " ".join([*bodies, *titles])).lower()
    return tuple((word, meaning) for word, meaning in WORDS if re.search(rf"\b{re.escape(word)}s?\b", text))
