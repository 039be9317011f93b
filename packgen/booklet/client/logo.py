"""The contractor's logo: a picture inside the project's folder, or a fault that says why it cannot be used."""

from __future__ import annotations

from pathlib import Path

from markupsafe import Markup

from packgen.booklet.client.picture import MOST_BYTES, Picture, Unfit, picture_from
from packgen.core.finding import Fault
from packgen.project.model import Project

BOX_MM = (56.0, 20.0)
WANTED = "a PNG, JPEG or SVG in the folder of the project file is wanted"


def logo_of(project: Project, folder: Path) -> Picture | Fault | None:
    """The picture that `project: contractor: logo` names. folder: where the project file lies.

    None where none is named; a Fault at its place in the file where the path leads out of the folder, to nothing, or
    to what is no picture.
    """
    party = project.project.contractor
    if party is None or not party.logo:
        return None
    reason, data = _read(party.logo, folder)
    if data is not None:
        try:
            return picture_from(data)
        except Unfit as fault:
            reason = f"is {fault}"
    return Fault(party.marks.of("logo"), "logo-unfit", f"the logo '{party.logo}' {reason}: {WANTED}")


def _read(path: str, folder: Path) -> tuple[str, bytes | None]:
    """Why it cannot be read, or its bytes. Links are followed before the place is judged."""
    try:
        inside = folder.resolve()
        file = (inside / path).resolve()
        if not file.is_relative_to(inside):
            return "lies outside the folder of the project file", None
        if not file.is_file():
            return "is not there", None
        with file.open("rb") as opened:
            return "", opened.read(MOST_BYTES + 1)
    except (OSError, ValueError, RuntimeError):
        return "cannot be read", None


def letterhead(project: Project, picture: Picture) -> Markup:
    """The picture as large as the letterhead's box allows."""
    party = project.project.contractor
    return picture.markup(f"Logo of {party.name}" if party else "Logo", *BOX_MM)
