"""What a field of a record wants, from its annotation."""

from __future__ import annotations

import types
from typing import Annotated, Any, TypeGuard, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from packgen.project.record import Record


def bare(annotation: Any) -> Any:
    """The annotation without Annotated and without "or None"."""
    while get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    if get_origin(annotation) in (Union, types.UnionType):
        parts = [a for a in get_args(annotation) if a is not type(None)]
        if len(parts) == 1:
            return bare(parts[0])
    return annotation


def is_record(annotation: Any) -> TypeGuard[type[Record]]:
    return isinstance(annotation, type) and issubclass(annotation, Record)


def optional(info: FieldInfo) -> bool:
    return type(None) in get_args(info.annotation) and not info.is_required()


def is_point(kind: Any) -> bool:
    args = get_args(kind)
    return get_origin(kind) is tuple and len(args) == 2 and args[1] is not Ellipsis
