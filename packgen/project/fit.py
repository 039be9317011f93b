"""Fits the tree to the records: shorthand written out, keys and shapes checked, marks added. Values stay texts.

What comes out is what pydantic takes: dicts with the records' own keys, lists, texts with their places.
"""

from __future__ import annotations

import re
import types
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal, TypeGuard, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from packgen.core.figures import listed
from packgen.core.finding import Fault
from packgen.core.place import Marks, Place
from packgen.project.guess import key_home, likely_key, likely_word, plain_key
from packgen.project.model import Project
from packgen.project.record import Record
from packgen.project.shorthand import FREE_KEYS, SHORTHAND, SPEAKS
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar

NOTHING = ("none", "unknown", "no", "not known", "-", "n/a")
GRIDS = ("columns at", "rows at")
MOST_KEYS_TOLD = 16
BROKEN: Any = object()  # a fault was given for the value
ABSENT: Any = object()  # the value says that there is none


class Items(list[Any]):
    """A list of texts that is one value, with its place: a point."""

    place: Place
    label: str


@dataclass
class Job:
    """What is gathered while a file is fitted."""

    faults: list[Fault] = field(default_factory=list)
    absent: set[str] = field(default_factory=set)  # sections the file has to have and does not

    def fault(self, place: Place, code: str, says: str, guess: str | None = None) -> None:
        self.faults.append(Fault(place, code, says, guess))


def fit_record(model: type[Record], node: Node, name: str, job: Job) -> Any:
    """A dict for `model`, or BROKEN. `name` is what a message calls the record."""
    keys = {info.alias or n: info for n, info in model.model_fields.items() if n not in ("marks", "file_name")}
    if isinstance(node, Mapping) and model not in FREE_KEYS:
        own = _with_own_keys(model, node, name, keys, job)
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
        says, guess = _by_name(model, node, name)
        job.fault(node.place, "map-wanted", says, guess)
        return BROKEN
    if model in FREE_KEYS:
        node = _with_own_keys(model, node, name, keys, job) or node
    if model is Project:
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
    if model is Project:
        lacking = [alias for alias in lacking if alias in job.absent]
    if lacking:
        words = listed([f"'{a}'" for a in lacking], most=len(lacking))
        job.fault(node.place, "missing-key", f"{name} lacks {words}")
    data["(marks)"] = Marks(node.place, tuple(named.items()), tuple(marks.items()))
    return data


def _with_own_keys(
    model: type[Record], node: Mapping, name: str, keys: dict[str, FieldInfo], job: Job
) -> Mapping | None:
    """The map with the keys the record knows: each misspelt one under the key it probably stands for."""
    if node.flow and node.entries and all(isinstance(v, Scalar) and not v and k[:1].isdigit() for k, v in node.entries):
        says, guess = _by_name(model, Listing(node.place, tuple(k for k, _ in node.entries), True), name)
        job.fault(node.place, "map-wanted", says, guess)
        return None
    node = _cut_at_lost_head(node, name, keys, job)
    entries: list[tuple[Scalar, Node]] = []
    taken = {str(key) for key, _ in node.entries}
    before: tuple[Scalar, Node] | None = None
    for key, value in node.entries:
        if str(key) in keys:
            entries.append((key, value))
        else:
            alias = _misspelt(model, key, value, before, node.flow, name, keys, job)
            if alias is not None and alias not in taken:
                taken.add(alias)
                lost = isinstance(value, Scalar) and not value
                entries.append((Scalar(alias, key.place), Refused(value.place) if lost else value))
        before = (key, value)
    return Mapping(node.place, tuple(entries), node.flow)


def _by_name(model: type[Record], node: Node, name: str) -> tuple[str, str | None]:
    """What to say where a record is wanted and something else stands, and how it was probably meant."""
    wanted = [info.alias or n for n, info in model.model_fields.items() if info.is_required()]
    wanted = wanted or [info.alias or n for n, info in list(model.model_fields.items())[:3] if n != "marks"]
    given: list[str] = []
    if isinstance(node, Listing):
        given = [str(item) for item in node.items if isinstance(item, Scalar)]
        pairs = [item.entries[0] for item in node.items if isinstance(item, Mapping) and len(item.entries) == 1]
        if pairs and len(pairs) == len(node.items):
            if not node.flow:
                return f"{name} is not a list: take the '- ' before '{pairs[0][0]}' away", None
            return f"{name} needs braces {{ }} round its values, not brackets [ ]", _braces(
                [(str(k), str(v)) for k, v in pairs]
            )
    elif isinstance(node, Scalar):
        given = re.findall(r"[0-9][0-9.]*", node)
    if len(given) == 4 and wanted == ["from", "to"]:
        given = [f"[{given[0]}, {given[1]}]", f"[{given[2]}, {given[3]}]"]
    guess = _braces(list(zip(wanted, given, strict=True))) if len(given) == len(wanted) else None
    shape = guess or _braces([(k, "...") for k in wanted])
    lead = f"nothing stands under {name}: it" if isinstance(node, Scalar) and not node else name
    return f"{lead} needs its values by name, for example {shape}", guess


def _braces(pairs: list[tuple[str, str]]) -> str:
    return "{" + ", ".join(f"{k}: {v}" for k, v in pairs) + "}"


def _cut_at_lost_head(node: Mapping, name: str, keys: dict[str, FieldInfo], job: Job) -> Mapping:
    """A section without the keys of the next one, whose head is missing in the file."""
    for n, (key, _) in enumerate(node.entries):
        if str(key) in keys or likely_key(key, keys):
            continue
        for section in sorted(job.absent):
            kind = bare(Project.model_fields[section.replace(" ", "_")].annotation)
            theirs = {i.alias or k for k, i in kind.model_fields.items()} if is_record(kind) else set()
            rest = {str(k) for k, _ in node.entries[n:]}
            if len(rest & theirs) > len(rest) / 2:
                says = (
                    f"from '{key}' on the keys of '{section}' stand in {name}: is the line '{section}:' missing above?"
                )
                job.fault(key.place, "section-missing", says, f"{section}:")
                job.absent.discard(section)
                return Mapping(node.place, node.entries[:n], node.flow)
    return node


def _misspelt(
    model: type[Record],
    key: Scalar,
    value: Node,
    before: tuple[Scalar, Node] | None,
    flow: bool,
    name: str,
    keys: dict[str, FieldInfo],
    job: Job,
) -> str | None:
    """Gives the fault for an unknown key; the key it probably stands for, so that no second fault follows."""
    if isinstance(value, Refused):
        return None
    empty = isinstance(value, Scalar) and not value and not value.quoted
    if flow and empty and (joined := re.fullmatch(r"([^:=]+?) ?([:=]) ?(.+)", key)):
        guess = f"{joined[1]}: {joined[3]}"
        if joined[2] == ":":
            job.fault(key.place, "no-blank-after-colon", f"a blank is missing after the colon in '{key}'", guess)
        else:
            job.fault(key.place, "no-colon", f"'{key}' has '=' where a colon with a blank is wanted", guess)
        return likely_key(joined[1], keys)
    if flow and empty and before is not None and plain_key(key) not in keys:
        last = before[1]
        if isinstance(last, Scalar) and last.startswith("("):
            return None  # a place in round brackets, which gets its own fault
        if isinstance(last, Scalar) and last[-1:].isdigit() and key[:1].isdigit():
            guess = f"{last}.{key}"
            says = (
                f"{before[0]}: inside {{ }} a comma starts a new item, so '{last},{key}' reads as '{last}' and a key "
                f"'{key}' in {name}"
            )
            job.fault(key.place, "comma-in-braces", says, guess)
        else:
            says = (
                f"inside {{ }} a comma starts a new item, so '{key}' reads as a key without a value: "
                "put a text with a comma in quotes"
            )
            guess_key = likely_key(key, keys)
            job.fault(key.place, "comma-in-braces", says, f"{guess_key}: ..." if guess_key else None)
        return None
    home = key_home(plain_key(key))
    guess_key = likely_key(key, keys)
    if guess_key is None and isinstance(value, Mapping):
        guess_key = _by_content(value, keys)
    if guess_key is None and home == plain_key(key) and model is not Project:
        says = f"'{home}' is a section of its own and stands here in {name}: let it start in the first column"
        job.fault(key.place, "key-elsewhere", says)
        return None
    if guess_key is None and home and model is not Project:
        job.fault(key.place, "key-elsewhere", f"'{key}' does not belong here in {name}: it belongs under {home}")
        return None
    says = f"'{key}' is not a word I know in {name}"
    if guess_key is None and len(keys) <= MOST_KEYS_TOLD:
        says += f", which has {', '.join(repr(k) for k in keys)}"
    job.fault(key.place, "unknown-key", says, guess_key)
    return guess_key


def _by_content(value: Mapping, keys: dict[str, FieldInfo]) -> str | None:
    """The key whose record has most of the keys that stand under an unknown one."""
    inner = {str(k) for k, _ in value.entries}
    for alias, info in keys.items():
        kind = bare(info.annotation)
        if is_record(kind) and kind not in FREE_KEYS:
            known = {i.alias or n for n, i in kind.model_fields.items()}
            if len(inner & known) >= 2 and len(inner & known) > len(inner) / 2:
                return alias
    return None


# --------------------------------------------------------------------------------- values by their annotation


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
    return fit(kind, node, label, job)


def _nothing(info: FieldInfo, kind: Any, node: Scalar) -> Any:
    """ABSENT where the text says that there is nothing; None where it has to be read."""
    if kind is str:
        return ABSENT if not node and not node.quoted and not info.is_required() else None
    speaks = is_record(kind) and kind in SPEAKS
    listing = get_origin(kind) is tuple and not _is_point(kind)
    spare = (listing or is_record(kind)) and not info.is_required()
    if node.casefold() in NOTHING and not speaks and (optional(info) or spare):
        return ABSENT
    if not node and not node.quoted and spare and not optional(info):
        return ABSENT
    return None


def _is_point(kind: Any) -> bool:
    args = get_args(kind)
    return get_origin(kind) is tuple and len(args) == 2 and args[1] is not Ellipsis


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
    if _is_point(kind):
        return _fit_point(node, label, job)
    if get_origin(kind) is tuple:
        inner = get_args(kind)[0]
        pair = bare(inner)
        return _fit_pairs(pair, node, label, job) if _is_point(pair) else _fit_list(inner, node, label, job)
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
            says = f"'{label}' is a list: begin each of its items with '- '"
        job.fault(node.place, "list-wanted", says, None if record or not node else f"[{node}]")
        return BROKEN
    if isinstance(node, Mapping):
        if not record:
            job.fault(node.place, "list-wanted", f"'{label}' is a list: write [first, second]")
            return BROKEN
        job.fault(node.place, "list-wanted", f"'{label}' is a list: begin each of its items with '- '")
        return BROKEN
    assert isinstance(node, Listing)
    if record and bare(inner) not in FREE_KEYS and (strange := _from_other_list(bare(inner), node, label)):
        items, section = strange
        says = f"from here on the items have the keys of '{section}': is the line '{section}:' missing above?"
        job.fault(items[0].place, "section-missing", says, f"{section}:")
        node = Listing(node.place, tuple(i for i in node.items if i not in items), node.flow)
    out = [
        fit(inner, item, _item_name(item, n, label) if record else label, job) for n, item in enumerate(node.items, 1)
    ]
    return BROKEN if any(o is BROKEN for o in out) else out


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
