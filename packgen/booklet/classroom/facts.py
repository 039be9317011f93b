"""What every class sheet says at its head and foot."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.figures import day, plain
from packgen.exercise.settings import Settings
from packgen.project.model import Project


@dataclass(frozen=True, slots=True)
class ClassFacts:
    """Finished strings of one volume. foot: stands in every foot; document, describes: the file's title, subject."""

    name: str
    foot: str
    document: str
    describes: str
    prepared_by: str
    date_iso: str


@dataclass(frozen=True, slots=True)
class Place:
    """Where a sheet stands: whose it is, its number in that pupil's sheets, its anchor and its line in the outline."""

    who: str
    number: str
    anchor: str
    outline: str
    sign: str = ""


def class_facts(project: Project, settings: Settings, level: int, volume: str) -> ClassFacts:
    """Facts of a volume: "exercise" for pupils, or the teacher's."""
    info = project.project
    name = " ".join(part for part in (info.name, info.reference) if part)
    time = f" · {plain(settings.time_min)} min" if settings.time_min else ""
    cls = f"class {settings.cls}" if settings.cls != "class" else "class set"
    return ClassFacts(
        name=name,
        foot=f"{name} · {cls} · level {level}{time} · {day(info.date)}",
        document=f"{name}, {cls}, {volume}",
        describes=f"{volume}, level {level}",
        prepared_by=info.prepared_by,
        date_iso=info.date.isoformat(),
    )
