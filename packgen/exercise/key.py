"""The key of a class set as plain data: what stands on every pupil's sheets and how it is marked. For teachers only.

A set is marked from its key alone, so that a project file that was changed since, or another version of the program's
planning, cannot change the marks of papers that are written already.
"""

from __future__ import annotations

import dataclasses
import datetime
import types
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Union, get_args, get_origin, get_type_hints

from packgen.exercise.model import Case, ClassSet
from packgen.exercise.settings import Settings, settings_of

FORM = 1


class KeyFault(ValueError):
    """A key that cannot be used. `str()` is one sentence."""


@dataclass(frozen=True)
class Key:
    """What marking needs. project: its name and reference, for the papers' heads."""

    project: str
    date: datetime.date
    level: int
    settings: Settings
    cases: tuple[Case, ...]
    left_out: tuple[tuple[str, str], ...]


def key_of(made: ClassSet) -> Key:
    info = made.base.project
    return Key(
        " ".join(part for part in (info.name, info.reference) if part),
        info.date,
        made.level,
        settings_of(made.base),
        tuple(v.case for v in made.versions),
        tuple((kind, code) for kind, code, _ in made.left_out),
    )


def key_as_data(key: Key) -> dict[str, Any]:
    """For a JSON file."""
    return {"key": "packgen class set", "form": FORM, **_plain(key)}


def key_from_data(data: object) -> Key:
    """The key again. KeyFault where the data is no key, or one of another form."""
    if not isinstance(data, Mapping) or data.get("key") != "packgen class set":
        raise KeyFault("this is not the key of a class set")
    if data.get("form") != FORM:
        raise KeyFault(f"this key has form {data.get('form')}, and form {FORM} is wanted: make the set again")
    try:
        found: Key = _made(Key, {k: v for k, v in data.items() if k not in ("key", "form")})
    except (KeyError, TypeError, ValueError) as why:
        raise KeyFault(f"the key is damaged: {why}") from why
    return found


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(v) for v in value]
    return value.isoformat() if isinstance(value, datetime.date) else value


def _made(kind: Any, data: Any) -> Any:
    """The value of a type from plain data, as deep as it goes."""
    origin, args = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType):
        inner = [a for a in args if a is not type(None)]
        return None if data is None else _made(inner[0], data)
    if origin is tuple:
        if len(args) == 2 and args[1] is Ellipsis:
            return tuple(_made(args[0], v) for v in data)
        return tuple(_made(a, v) for a, v in zip(args, data, strict=True))
    if origin is not None and issubclass(origin, Mapping):
        return {k: _made(args[1], v) for k, v in data.items()}
    if isinstance(kind, type) and dataclasses.is_dataclass(kind):
        hints = get_type_hints(kind)
        return kind(**{f.name: _made(hints[f.name], data[f.name]) for f in dataclasses.fields(kind)})
    if kind is datetime.date:
        return datetime.date.fromisoformat(data)
    if kind is float and isinstance(data, int | float) and not isinstance(data, bool):
        return float(data)
    if not isinstance(data, kind) or (kind is int and isinstance(data, bool)):
        raise TypeError(f"{data!r} is not {kind.__name__}")
    return data
