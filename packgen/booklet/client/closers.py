"""What closes a hold, said to a client: without the keys of the project file and without the site's own sheets."""

from __future__ import annotations

import re

from packgen.core.finding import Finding

FIRST_LINES = re.compile(r"^write first lines: \{(.+)\} under kit: then (.+)$")
FOR_THE_FILE = re.compile(
    r",? and enter (?:it|the sheet)(?: \([^)]*\))?|, entered (?:as|under) .*$|, and write it down(?: \([^)]*\))?"
    r"|, and set [a-z]+: .*$| \([a-z ]+: [a-z0-9]+\)| on sheet [A-Z]\w+|, with its number in the file"
    r"| under the (?:room|zone)$"
)
ONLY_FILE = ("write ", "enter ")


def closers(f: Finding, most: int) -> tuple[str, ...]:
    """The cheapest ways first, so many at most. Empty where only an entry in the project file would do."""
    said = [text for cure in f.cures if (text := _said(cure))]
    return tuple(said[:most])


def _said(cure: str) -> str:
    lines = FIRST_LINES.match(cure)
    if lines:
        return f"move the first lines ({lines.group(1)}): then {lines.group(2)}"
    if cure.startswith(ONLY_FILE):
        return ""
    return FOR_THE_FILE.sub("", cure).strip()
