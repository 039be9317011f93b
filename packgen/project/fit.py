"""Fits the tree to the records: shorthand written out, keys and shapes checked, marks added. Values stay texts.

What comes out is what pydantic takes: dicts with the records' own keys, lists, texts with their places."""

from __future__ import annotations

import re
import types
from typing import Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from packgen.core.figures import listed
from packgen.core.place import Marks, Place
from packgen.project.annotations import bare, is_point, is_record, optional
from packgen.project.guess import likely_word
from packgen.project.kinds import ONE_OR_MANY
from packgen.project.model import WHOLE_FILES, Project
from packgen.project.own_keys import Job, by_name, with_own_keys
from packgen.project.record import Record
from packgen.project.shorthand import FREE_KEYS, SHORTHAND, SPEAKS
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar
from packgen.project.work_model import Reading

NOTHING = ("none", "unknown", "no", "not known", "-", "n/a")


EXAMPLES = {
    "walls": "'- wall 1: 6200, turn right'",
    "check tapes": "'- corner 1 to corner 3: 6662'",
    "layers from the top": "'- oak board: 14'",
}
CELL = ["row", "column", "value"]
GRIDS = ("columns at", "rows at")


BROKEN: Any = object()  # a fault was given for the value


ABSENT: Any = object()  # the value says that there is none


def fit_record(model: type[Record], node: Node, name: str, job: Job) -> Any:
    """A dict for `model`, or BROKEN. `name` is what a message calls the record."""
    keys = {info.alias or n: info for n, info in model.model_fields.items() if n not in ("marks", "file_name")}
    if isinstance(node, Mapping) and model not in FREE_KEYS:
        own = with_own_keys(model, node, name, keys, job)
        if own is None:
            return BROKEN
        node = own
    if model in SHORTHAND:
        written_out = SHORTHAND[model](node, name, job.faults)
        if written_out is None:
            return BROKEN
        node = written_out
    if isinstance(node, Refused):
        return BROKEN
    if not isinstance(node, Mapping):
        says, guess = by_name(model, node, name)
        job.fault(node.place, "map-wanted", says, guess)
        return BROKEN
    if model in FREE_KEYS:
        node = with_own_keys(model, node, name, keys, job) or node
    if model in WHOLE_FILES:
        job.absent = {a for a in keys if not any(k == a for k, _ in node.entries)}
    data: dict[str, Any] = {}
    marks: dict[str, Place] = {}
    named: dict[str, Place] = {}
    for key, value in node.entries:
        alias = str(key)
        named[alias] = key.place
        if isinstance(value, Refused):
            continue
        marks[alias] = value.place
        fitted = fit_value(keys[alias], value, alias, job)
        if isinstance(value, Mapping) and not isinstance(fitted, dict):
            named.update({f"{alias}/{k}": k.place for k, _ in value.entries})
        if fitted is not BROKEN and fitted is not ABSENT:
            data[alias] = fitted
    lacking = [alias for alias, info in keys.items() if info.is_required() and alias not in named]
    if model in WHOLE_FILES:
        lacking = [alias for alias in lacking if alias in job.absent]
    if lacking:
        words = listed([f"'{a}'" for a in lacking], most=len(lacking))
        job.fault(node.place, "missing-key", f"{name} lacks {words}")
    data["(marks)"] = Marks(node.place, tuple(named.items()), tuple(marks.items()))
    return data


# --------------------------------------------------------------------------------- values by their annotation


def fit_value(info: FieldInfo, node: Node, label: str, job: Job) -> Any:
    kind = bare(info.annotation)
    if isinstance(node, Refused):
        return BROKEN
    if isinstance(node, Listing) and not node.items and info.is_required() and get_origin(kind) is tuple:
        job.fault(node.place, "empty", f"'{label}' is empty, and one item at least is wanted")
        return BROKEN
    if isinstance(node, Scalar):
        given = _nothing(info, kind, node)
        if given is not None:
            return given
    if ONE_OR_MANY in info.metadata and not isinstance(node, Listing):
        one = fit(get_args(kind)[0], node, label, job)
        return BROKEN if one is BROKEN else [one]
    return fit(kind, node, label, job)


def _nothing(info: FieldInfo, kind: Any, node: Scalar) -> Any:
    """ABSENT where the text says that there is nothing; None where it has to be read."""
    if kind is str:
        return ABSENT if not node and not node.quoted and not info.is_required() else None
    speaks = is_record(kind) and kind in SPEAKS
    listing = get_origin(kind) is tuple and not is_point(kind)
    spare = (listing or is_record(kind)) and not info.is_required()
    if node.casefold() in NOTHING and not speaks and (optional(info) or spare):
        return ABSENT
    if not node and not node.quoted and spare and not optional(info):
        return ABSENT
    return None


def fit(kind: Any, node: Node, label: str, job: Job) -> Any:
    """Fits one value to a kind: a record, a list, a list of pairs, one of some words, or a text."""
    kind = bare(kind)
    if isinstance(node, Refused):
        return BROKEN
    if is_record(kind):
        return fit_record(kind, node, f"'{label}'" if "'" not in label else label, job)
    if get_origin(kind) in (Union, types.UnionType):
        record = next((k for k in get_args(kind) if is_record(bare(k))), None)
        if record is not None and not isinstance(node, Scalar):
            return fit(record, node, label, job)
        return fit(str, node, label, job)
    if is_point(kind):
        return _fit_point(node, label, job)
    if get_origin(kind) is tuple:
        inner = get_args(kind)[0]
        pair = bare(inner)
        return _fit_pairs(pair, node, label, job) if is_point(pair) else _fit_list(inner, node, label, job)
    if isinstance(node, Mapping | Listing):
        return _not_a_text(node, label, job)
    if get_origin(kind) is Literal:
        return _fit_word(get_args(kind), node, label, job)
    return node.called(label)


def _not_a_text(node: Mapping | Listing, label: str, job: Job) -> Any:
    if node.flow and isinstance(node, Mapping):
        says = f"'{label}' wants one value, and here stands {{ }}: put a text that starts with '{{' in quotes"
    elif node.flow:
        says = f"'{label}' wants one value, and here stands a list [ ]: put a text that starts with '[' in quotes"
    elif isinstance(node, Mapping):
        says = (
            f"'{label}' wants one value in its own line, and further keys stand under it: is the line "
            "below indented too far?"
        )
    else:
        says = f"'{label}' wants one value, and a list stands under it"
    one = node.items[0] if isinstance(node, Listing) and len(node.items) == 1 else None
    job.fault(node.place, "one-value-wanted", says, str(one) if isinstance(one, Scalar) and one else None)
    return BROKEN


def _fit_word(words: tuple[str, ...], node: Scalar, label: str, job: Job) -> Any:
    plain = " ".join(node.split()).casefold()
    for word in words:
        if plain == word.casefold():
            return word
    told = listed([f"'{w}'" for w in words if w], "or")
    says = f"{label}: '{node}' is not one of the words wanted here: {told}"
    if not node:
        says = f"{label}: nothing stands here: write {told}"
    job.fault(node.place, "not-one-of", says, likely_word(plain, words))
    return BROKEN


def _fit_point(node: Node, label: str, job: Job) -> Any:
    if isinstance(node, Listing) and len(node.items) == 2 and all(isinstance(i, Scalar) for i in node.items):
        return [item.called(label) for item in node.items if isinstance(item, Scalar)]
    says = f"{label}: a place is wanted as [along wall 1, into the room], for example [1200, 900]"
    texts = [node] if isinstance(node, Scalar) else node.items if isinstance(node, Listing) else ()
    figures = re.findall(r"-?[0-9.]+", " ".join(str(t) for t in texts)) if len(texts) == 1 else []
    if isinstance(node, Scalar) and node.startswith("("):
        says = f"{label}: a place stands in square brackets, for example [1200, 900]"
    guess = f"[{', '.join(figures)}]" if len(figures) == 2 else None
    if isinstance(node, Listing) and len(node.items) > 2 and node.flow:
        says += "; inside [ ] a comma starts a new number, so write decimals with a point"
    job.fault(node.place, "not-a-place", says, guess)
    return BROKEN


def _fit_list(inner: Any, node: Node, label: str, job: Job) -> Any:
    record = is_record(bare(inner))
    if isinstance(node, Scalar):
        says = f"nothing stands under '{label}'" if not node else f"'{label}' is a list: write [{node}]"
        if record:
            example = EXAMPLES.get(label)
            more = f", for example {example}" if example else ""
            says = f"'{label}' is a list: begin each of its items with '- '{more}"
        job.fault(node.place, "list-wanted", says, None if record or not node else f"[{node}]")
        return BROKEN
    if isinstance(node, Mapping):
        if not record:
            job.fault(node.place, "list-wanted", f"'{label}' is a list: write [first, second]")
            return BROKEN
        job.fault(node.place, "list-wanted", f"'{label}' is a list: begin each of its items with '- '")
        return BROKEN
    assert isinstance(node, Listing)
    if bare(inner) is Reading and all(isinstance(i, Mapping) and [*map(str, i.keys())] == CELL for i in node.items):
        return [_cell(item) for item in node.items if isinstance(item, Mapping)]
    if record and len(node.items) < 500 and (strange := _from_other_list(bare(inner), node, label)):
        items, section = strange
        says = f"from here on the items have the keys of '{section}': is the line '{section}:' missing above?"
        job.fault(items[0].place, "section-missing", says, f"{section}:")
        node = Listing(node.place, tuple(i for i in node.items if i not in items), node.flow)
    out = [
        fit(inner, item, _item_name(item, n, label) if record else label, job) for n, item in enumerate(node.items, 1)
    ]
    return BROKEN if any(o is BROKEN for o in out) else out


def _cell(item: Mapping) -> dict[str, Any]:
    """A cell as `readings` made it, which has the record's own keys; a hall has thousands."""
    places = tuple((str(key), value.place) for key, value in item.entries)
    return {**{str(key): value for key, value in item.entries}, "(marks)": Marks(item.place, places, places)}


def _from_other_list(kind: type[Record], node: Listing, label: str) -> tuple[list[Node], str] | None:
    """Items that fit another section's records better, and that section."""
    own = {i.alias or n for n, i in kind.model_fields.items()}
    for section, info in Project.model_fields.items():
        other = get_args(bare(info.annotation))[0] if get_origin(bare(info.annotation)) is tuple else None
        if not is_record(other) or section == label or other in FREE_KEYS:
            continue
        theirs = {i.alias or n for n, i in other.model_fields.items()}
        items: list[Node] = []
        for item in node.items:
            keys = {str(k) for k, _ in item.entries} if isinstance(item, Mapping) else set()
            if len(keys & theirs) > len(keys & own):
                items.append(item)
        if items and all(i in items for i in node.items[node.items.index(items[0]) :]):
            return items, (info.alias or section)
    return None


def _item_name(item: Node, n: int, label: str) -> str:
    if isinstance(item, Mapping):
        for key in ("name", "zone", "role", "item", "kind", "stop"):
            text = item.text(key)
            if text:
                return str(text)
    return f"item {n} of '{label}'"


def _fit_pairs(pair: Any, node: Node, label: str, job: Job) -> Any:
    _, second = get_args(pair)
    if not isinstance(node, Mapping):
        example = {"columns at": "{A: 50, B: 650}", "rows at": "{1: 50, 2: 650}"}.get(
            label, "{first: ..., second: ...}"
        )
        job.fault(node.place, "map-wanted", f"'{label}' needs names with their values, for example {example}")
        return BROKEN
    glued = [k for k, v in node.entries if isinstance(v, Scalar) and not v and re.search(r"[^\s][:= ][ ]*[0-9]", k)]
    if glued and node.flow:
        guess = re.sub(r"^(.*?)[:= ] *([0-9].*)$", r"\1: \2", glued[0])
        says = f"'{glued[0]}' in '{label}' has no colon with a blank after it"
        job.fault(glued[0].place, "no-blank-after-colon", says, guess)
        return BROKEN
    out = [
        [key.called(label), fit(second, value, f"{label} {key}" if label in GRIDS else str(key), job)]
        for key, value in node.entries
    ]
    return BROKEN if any(o[1] is BROKEN for o in out) else out
