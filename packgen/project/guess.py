"""What a misspelt word probably meant."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from functools import cache
from typing import Any, get_args, get_origin

from packgen.project.model import Project
from packgen.project.record import Record

SAME_THING: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("min", "minimum", "smallest", "from"), ("least", "shortest", "lowest")),
    **dict.fromkeys(("max", "maximum", "largest", "to"), ("most", "longest", "highest")),
    "weight": ("mass",),
    "volume": ("makes",),
    "litres": ("makes",),
    "title": ("name",),
    "author": ("prepared by",),
    "type": ("kind",),
    "diameter": ("outside",),
    "thick": ("thickness",),
    "location": ("where",),
    "wall": ("in", "along"),
    "cost": ("price",),
    "begin": ("start",),
    **dict.fromkeys(("diagonals", "tapes", "diagonal"), ("check tapes",)),
    "holidays": ("not working",),
    "vat": ("tax",),
    "doors": ("openings",),
    "windows": ("openings",),
    "floor": ("finishes",),
    "pipes": ("services",),
    "zones": ("finishes",),
    "materials": ("fills",),
}

SAME_WORD = {
    **dict.fromkeys(("true", "y", "on"), "yes"),
    **dict.fromkeys(("false", "n", "off"), "no"),
    **dict.fromkeys(("expansion", "dilatation"), "movement"),
}


def plain_key(key: str) -> str:
    """A key in lower case with single blanks: the way the file writes it.

    >>> plain_key("Wall_Lengths "), plain_key("pressure-test")
    ('wall lengths', 'pressure test')
    """
    return re.sub(r"[\s_\-‐‑–]+", " ", key.replace("\u00ad", "")).strip().casefold()


def likely_key(key: str, known: Iterable[str]) -> str | None:
    """The known key that was probably meant."""
    keys = {plain_key(k): k for k in known}
    plain = plain_key(key)
    near = get_close_matches(plain, keys, 1, 0.72)
    if near:
        return keys[near[0]]
    begun = [k for k in keys if len(plain) > 3 and k.startswith(f"{plain} ")]
    if len(begun) == 1:
        return keys[begun[0]]
    other = [k for k in SAME_THING.get(plain, ()) if k in keys]
    words = set(plain.split())
    part = [k for k in keys if len(plain) > 3 and (words < set(k.split()) or set(k.split()) < words)]
    return keys[other[0]] if other else keys[part[0]] if len(part) == 1 else None


def likely_word(word: str, known: Iterable[str]) -> str | None:
    """The known word that was probably meant, capitals aside."""
    words = {k.casefold(): k for k in known if k}
    same = SAME_WORD.get(word.casefold())
    if same in words:
        return words[same]
    near = get_close_matches(word.casefold(), words, 1, 0.6)
    begun = [k for k in words if len(word) > 2 and k.startswith(word.casefold())]
    return words[near[0]] if near else words[begun[0]] if len(begun) == 1 else None


def key_home(key: str) -> str | None:
    """The section a key belongs directly under, if it stands nowhere else; a section's own name for a section."""
    if key in top_keys():
        return key
    homes = _homes().get(key, ())
    return homes[0] if len(homes) == 1 and " in " not in homes[0] else None


@cache
def list_keys() -> frozenset[str]:
    """The keys under which a list of records stands."""
    found: set[str] = set()
    _lists(Project, found)
    return frozenset(found)


def _lists(model: type[Record], found: set[str]) -> None:
    for name, info in model.model_fields.items():
        parts = [info.annotation, *get_args(info.annotation)]
        for part in parts:
            inner = get_args(part)[0] if get_origin(part) is tuple else part
            if isinstance(inner, type) and issubclass(inner, Record):
                if inner is not part:
                    found.add(info.alias or name)
                _lists(inner, found)


@cache
def all_keys() -> frozenset[str]:
    """Every word that stands before a colon somewhere in a project file."""
    return top_keys() | frozenset(_homes()) | {"first 40 at", "rest at"}


@cache
def top_keys() -> frozenset[str]:
    """The names of the sections."""
    return frozenset(i.alias or n for n, i in Project.model_fields.items() if n not in ("marks", "file_name"))


@cache
def _homes() -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for name, info in Project.model_fields.items():
        if name not in ("marks", "file_name"):
            _gather(info.annotation, f"'{info.alias or name}'", found, 0)
    return {key: tuple(dict.fromkeys(homes)) for key, homes in found.items()}


def _gather(annotation: Any, path: str, found: dict[str, list[str]], depth: int) -> None:
    if isinstance(annotation, type) and issubclass(annotation, Record):
        for name, info in annotation.model_fields.items():
            if name != "marks":
                key = info.alias or name
                found.setdefault(key, []).append(path)
                _gather(info.annotation, f"'{key}' in {path}", found, depth + 1)
        return
    if depth < 6:
        for part in get_args(annotation):
            _gather(part, path, found, depth)
