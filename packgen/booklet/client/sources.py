"""Sources under short marks, so that a table has room for what it is about: S1, S2, named once below it."""

from __future__ import annotations

from packgen.core.worked import Source


class Marks:
    """Gives each published source a mark in the order of use; practice and the file are words."""

    def __init__(self) -> None:
        self._named: dict[str, str] = {}

    def of(self, source: Source | str) -> str:
        """ "practice", "file", or a mark."""
        text = str(source)
        if isinstance(source, Source) and source.known in ("practice", "file", "calculated"):
            return {"practice": "practice", "file": "file", "calculated": "reckoned"}[source.known]
        if text in ("common practice, no source", "common practice"):
            return "practice"
        if text == "project file":
            return "file"
        return self._named.setdefault(text, f"S{len(self._named) + 1}")

    def line(self) -> str:
        """All marks with what they stand for; "" where none was given."""
        if not self._named:
            return ""
        return "Sources: " + "; ".join(f"{mark} {text}" for text, mark in self._named.items()) + "."
