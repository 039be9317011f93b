"""Reads a project file, whole or begun: bytes to a checked record, or every fault of what is there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

import yaml
from pydantic import TypeAdapter, ValidationError

from packgen.core.finding import Fault
from packgen.core.place import Marks, Place, Text
from packgen.project.beside import Beside, no_files
from packgen.project.checks import check
from packgen.project.fit import fit_record
from packgen.project.guess import all_keys, likely_key, top_keys
from packgen.project.kinds import Spoken
from packgen.project.mend import mend
from packgen.project.model import Begun, Project
from packgen.project.own_keys import Job
from packgen.project.parse import Parser, TooMuch
from packgen.project.readings_file import with_readings
from packgen.project.room_names import as_rooms_spell
from packgen.project.text import Lines, read_lines
from packgen.project.tree import Mapping, Node, Scalar

MOST_FAULTS = 60
LONGEST_SENTENCE = 400
MOST_MENDS = 12
NOT_YET = ("shape-not-fixed",)  # faults by which something is still to be measured, not wrong

File = TypeVar("File", Project, Begun)


@dataclass(frozen=True, slots=True)
class ReadResult:
    """What came of reading. `project` is None where the file has any fault; `lines` are the file's own lines."""

    project: Project | None
    faults: tuple[Fault, ...]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BegunResult:
    """What came of reading a file that is still being written. `begun` is None where what is there has any fault."""

    begun: Begun | None
    faults: tuple[Fault, ...]
    lines: tuple[str, ...]


def read_project(data: bytes, file_name: str, beside: Beside = no_files) -> ReadResult:
    """Reads a whole project file, and through `beside` the tables of readings that it names."""
    project, faults, own = _read(Project, data, file_name, beside)
    return ReadResult(as_rooms_spell(project) if project else None, faults, own)


def read_begun(data: bytes, file_name: str, beside: Beside = no_files) -> BegunResult:
    """Reads a file of which only the rooms need be there: what is missing is no fault, what is there is checked."""
    begun, faults, own = _read(Begun, data, file_name, beside)
    return BegunResult(as_rooms_spell(begun) if begun else None, faults, own)


def _read(
    model: type[File], data: bytes, file_name: str, beside: Beside
) -> tuple[File | None, tuple[Fault, ...], tuple[str, ...]]:
    lines = read_lines(data)
    if lines.over:
        return None, _told_once(lines.faults), lines.own
    tree, faults = _tree(lines)
    if tree is None:
        told = faults if _has_sections(lines.clean) else [_no_project(Place(1, 1))]
        return None, _told_once(told), lines.own
    made, more = _fitted(model, tree, file_name, faults, beside)
    retyped = {f.place.line for f in faults}
    faults += [_behind_remark(f, lines.own) for f in more if f.place.file or f.place.line not in retyped]
    return (None, _told_once(faults), lines.own) if faults or made is None else (made, (), lines.own)


def _behind_remark(fault: Fault, own: tuple[str, ...]) -> Fault:
    """An empty value before a remark: perhaps the value was meant to begin with '#'."""
    if fault.place.file:
        return fault
    line = own[fault.place.line - 1] if fault.place.line <= len(own) else ""
    if fault.code != "empty" or not re.search(r":\s+#", line):
        return fault
    return replace(fault, says=f"{fault.says} (what stands behind '#' is a remark)")


def _told_once(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults by place, none twice, and not more than anybody reads."""
    first: dict[tuple[Place, bool], Fault] = {}
    for fault in sorted(faults, key=lambda f: (f.place.file, f.place)):
        first.setdefault((fault.place, fault.code == "missing-key"), fault)
    told = [replace(f, says=_one_line(f.says), guess=_one_line(f.guess) if f.guess else None) for f in first.values()]
    if len(told) > MOST_FAULTS:
        left = len(told) - MOST_FAULTS
        told = [
            *told[:MOST_FAULTS],
            Fault(told[MOST_FAULTS].place, "more-faults", f"from here on there are {left} more faults"),
        ]
    return tuple(told)


def _one_line(text: str) -> str:
    """The sentence in one line; a text of the user's that never ends is cut."""
    plain = " ".join(text.split())
    return (
        plain
        if len(plain) <= LONGEST_SENTENCE
        else f"{plain[: LONGEST_SENTENCE // 2]} ... {plain[-LONGEST_SENTENCE // 2 :]}"
    )


def _tree(lines: Lines) -> tuple[Node | None, list[Fault]]:
    """The tree of the mended text; None where it cannot be read on. Its faults."""
    faults, text = list(lines.faults), list(lines.clean)
    for _ in range(MOST_MENDS):
        parser = Parser(text)
        try:
            tree = parser.tree()
        except TooMuch as why:
            return None, [*faults, *parser.faults, why.fault]
        except yaml.MarkedYAMLError as why:
            found = mend(text, why, all_keys())
            if any(f.code == found.fault.code == "indent" and f.place.line == found.fault.place.line for f in faults):
                return None, faults
            faults.append(found.fault)
            if found.lines is None or found.lines == text:
                return None, faults
            text = found.lines
            continue
        return tree, faults + parser.faults
    return None, faults


def _has_sections(lines: Sequence[str]) -> bool:
    """Whether any line looks like the head of a section."""
    heads = (re.match(r"[\s\"'{]*([A-Za-z][A-Za-z _-]*)[\"']?\s*:", line) for line in lines)
    return any(head and likely_key(head[1], top_keys()) for head in heads)


def _no_project(place: Place) -> Fault:
    says = (
        "this is not a project file: it is made of sections such as 'project:', 'rooms:' and "
        "'levels:' with 'key: value' under them"
    )
    return Fault(place, "not-a-project", says)


def _fitted(
    model: type[File], tree: Node, file_name: str, earlier: Sequence[Fault], beside: Beside
) -> tuple[File | None, list[Fault]]:
    if not isinstance(tree, Mapping) or not any(likely_key(str(key), top_keys()) for key, _ in tree.entries):
        return None, [_no_project(tree.place)]
    job = Job()
    tree = with_readings(tree, beside, job.faults)
    data = fit_record(model, tree, "the file", job)
    datum = tree.get("datum")
    name = datum.text("name") if isinstance(datum, Mapping) else None
    spoken = Spoken(str(name) if name else "TBM")
    faults: list[Fault] = list(job.faults)
    made: File | None = None
    try:
        made = model.model_validate({**data, "file_name": file_name}, context=spoken)
    except ValidationError as why:
        faults += _told(why)
    if made is not None and not faults and not earlier:
        sections = {n: getattr(made, n) for n in model.model_fields if n not in ("marks", "file_name")}
    else:
        sections = _whole_sections(model, tree, data, [*earlier, *faults], spoken)
    if model is Begun:
        sections = {n: section for n, section in sections.items() if section is not None}
    found = check({**sections, "spoken": spoken})
    faults += [f for f in found if model is Project or f.code not in NOT_YET]
    if made is None and not faults and not earlier:
        faults.append(Fault(tree.place, "not-understood", "this file cannot be understood, and why is not known"))
    return made, faults


def _whole_sections(
    model: type[File], tree: Mapping, data: dict[str, Any], faults: Iterable[Fault], spoken: Spoken
) -> dict[str, Any]:
    """The sections without a fault between their own key and the next one, read each for itself."""
    begins = sorted((key.place, str(key)) for key, _ in tree.entries)
    faults = list(faults)
    broken = {max((b for b in begins if b[0] <= f.place), default=(f.place, ""))[1] for f in faults if not f.place.file}
    if any(f.place.file for f in faults):
        broken.add("levels")
    out: dict[str, Any] = {}
    for name, info in model.model_fields.items():
        alias = info.alias or name
        if name in ("marks", "file_name") or alias in broken or likely_key(alias, broken):
            continue
        if alias in data:
            try:
                assert info.annotation is not None
                adapter: TypeAdapter[Any] = TypeAdapter(info.annotation)
                out[name] = adapter.validate_python(data[alias], context=Spoken(spoken.datum))
            except ValidationError:
                continue
        elif not info.is_required():
            out[name] = info.get_default(call_default_factory=True)
    return out


def _told(why: ValidationError) -> list[Fault]:
    out = []
    for error in why.errors(include_url=False):
        context: dict[str, Any] = error.get("ctx", {})
        value = context.get("text", error["input"])
        if error["type"] == "missing" or (error["type"] == "string_type" and isinstance(value, dict)):
            continue  # told by `fit`; the other branch of "a text or an area"
        label = value.label if isinstance(value, Scalar) else str(error["loc"][-1])
        says = f"{label}: {context.get('says', error['msg'])}"
        place = value.place if isinstance(value, Text) else Place(1, 1)
        if isinstance(value, dict) and isinstance(value.get("(marks)"), Marks):
            place = value["(marks)"].start
        out.append(Fault(place, context.get("code", error["type"]), says, context.get("guess")))
    return out
