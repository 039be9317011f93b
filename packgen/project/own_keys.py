"""The keys of a record: misspelt ones, ones that belong elsewhere, and maps written as something else."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from pydantic.fields import FieldInfo

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.annotations import bare, is_record
from packgen.project.guess import key_home, likely_key, plain_key
from packgen.project.model import WHOLE_FILES, Project
from packgen.project.record import Record
from packgen.project.shorthand import FREE_KEYS
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar
from packgen.project.work_model import Fill

MOST_KEYS_TOLD = 16


@dataclass
class Job:
    """What is gathered while a file is fitted."""

    faults: list[Fault] = field(default_factory=list)
    absent: set[str] = field(default_factory=set)  # sections the file has to have and does not

    def fault(self, place: Place, code: str, says: str, guess: str | None = None) -> None:
        self.faults.append(Fault(place, code, says, guess))


def with_own_keys(
    model: type[Record], node: Mapping, name: str, keys: dict[str, FieldInfo], job: Job
) -> Mapping | None:
    """The map with the keys the record knows: each misspelt one under the key it probably stands for."""
    if node.flow and node.entries and all(isinstance(v, Scalar) and not v and k[:1].isdigit() for k, v in node.entries):
        says, guess = by_name(model, Listing(node.place, tuple(k for k, _ in node.entries), True), name)
        job.fault(node.place, "map-wanted", says, guess)
        return None
    node = _gathered(_cut_at_lost_head(node, name, keys, job), keys, job)
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


def by_name(model: type[Record], node: Node, name: str) -> tuple[str, str | None]:
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
        given = re.findall(r"[0-9][0-9.]*(?: ?(?:kg|g|l|mm|cm|m|kN|bar|C|%)\b)?", node)
    if len(given) == 4 and wanted == ["from", "to"]:
        given = [f"[{given[0]}, {given[1]}]", f"[{given[2]}, {given[3]}]"]
    fits = len(given) == len(wanted) and (wanted != ["from", "to"] or given[0].startswith("["))
    guess = _braces(list(zip(wanted, given, strict=True))) if fits else None
    shape = guess or _braces([(k, "...") for k in wanted])
    lead = f"nothing stands under {name}: it" if isinstance(node, Scalar) and not node else name
    return f"{lead} needs its values by name, for example {shape}", guess


def _braces(pairs: list[tuple[str, str]]) -> str:
    return "{" + ", ".join(f"{k}: {v}" for k, v in pairs) + "}"


def _gathered(node: Mapping, keys: dict[str, FieldInfo], job: Job) -> Mapping:
    """`bag:` with its own keys in the column of `bag` itself: they are taken in."""
    entries = list(node.entries)
    for n, (key, value) in enumerate(node.entries):
        kind = bare(keys[str(key)].annotation) if str(key) in keys else None
        if not is_record(kind) or not isinstance(value, Scalar) or value or value.quoted:
            continue
        theirs = {i.alias or k for k, i in kind.model_fields.items()}
        run: list[tuple[Scalar, Node]] = []
        for entry in node.entries[n + 1 :]:
            if str(entry[0]) in keys or str(entry[0]) not in theirs:
                break
            run.append(entry)
        if run:
            says = (
                f"'{run[0][0]}' belongs to '{key}': let what stands under '{key}' start further in than '{key}' itself"
            )
            job.fault(run[0][0].place, "indent", says)
            entries[n] = (key, Mapping(run[0][0].place, tuple(run)))
            entries = [e for e in entries if e not in run]
    return Mapping(node.place, tuple(entries), node.flow)


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
                    f"from '{key}' on, the keys of '{section}' stand in {name}: is the line '{section}:' missing above?"
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
    if model in WHOLE_FILES and isinstance(value, Mapping) and _like(value, Fill) >= 3:
        says = (
            f"'{key}' has the keys of a fill and stands here in the first column: let it start further "
            "in, under 'fills'"
        )
        job.fault(key.place, "indent", says)
        return None
    home = key_home(plain_key(key))
    guess_key = likely_key(key, keys)
    if guess_key is None and isinstance(value, Mapping):
        guess_key = _by_content(value, keys)
    if guess_key is None and home == plain_key(key) and model not in WHOLE_FILES:
        says = f"'{home}' is a section of its own and stands here in {name}: let it start in the first column"
        job.fault(key.place, "key-elsewhere", says)
        return None
    if guess_key is None and home and model not in WHOLE_FILES:
        job.fault(key.place, "key-elsewhere", f"'{key}' does not belong here in {name}: it belongs under {home}")
        return None
    says = f"'{key}' is not a word I know in {name}"
    if guess_key is None and len(keys) <= MOST_KEYS_TOLD:
        says += f", which has {', '.join(repr(k) for k in keys)}"
    job.fault(key.place, "unknown-key", says, guess_key)
    return guess_key


def _like(value: Mapping, kind: type[Record]) -> int:
    """How many of the keys are keys of this record."""
    known = {i.alias or n for n, i in kind.model_fields.items()}
    return sum(str(k) in known for k, _ in value.entries)


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
