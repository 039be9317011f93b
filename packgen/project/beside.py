"""Files that lie beside a project file: inside its folder only, and not larger than a project file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from packgen.project.text import MOST_BYTES

Beside = Callable[[str], bytes | str]  # a name as typed -> its bytes, or why it cannot be read


def files_in(folder: Path) -> Beside:
    """Reads files by the name that a project file gives them. Links are followed before the place is judged."""

    def read(name: str) -> bytes | str:
        try:
            inside = folder.resolve()
            file = (inside / name).resolve()
            if not file.is_relative_to(inside):
                return "lies outside the folder of the project file"
            if not file.is_file():
                return "is not there"
            with file.open("rb") as opened:
                data = opened.read(MOST_BYTES + 1)
        except (OSError, ValueError, RuntimeError):
            return "cannot be read"
        if len(data) > MOST_BYTES:
            return f"is larger than {MOST_BYTES / 1_000_000:.0f} MB"
        return data

    return read


def no_files(_: str) -> str:
    """Where only the text of a project file is at hand."""
    return "cannot be read from here"
