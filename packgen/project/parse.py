"""Text to tree: the events of PyYAML, with all that project files do not use refused."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import yaml
from yaml.events import (
    AliasEvent,
    DocumentEndEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from packgen.core.finding import Fault
from packgen.core.place import Place
from packgen.project.tree import Listing, Mapping, Node, Refused, Scalar

MOST_NODES = 20_000  # a hall of 10 000 m² with all its services needs some thousands
MOST_REPEATED = 3  # of one map; more of them say nothing new
MOST_DEPTH = 16  # the records are eight deep at most


class TooMuch(Exception):
    """Reading was given up; the fault says why."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.says)
        self.fault = fault


class Parser:
    """One pass over one text. `faults` holds what was refused on the way; yaml.MarkedYAMLError is the caller's."""

    def __init__(self, lines: Sequence[str]) -> None:
        self.lines = lines
        self.faults: list[Fault] = []
        self.nodes = 0
        self.keys: list[str] = []
        self.events: Iterator[Event] = iter(())

    def tree(self) -> Node | None:
        """The tree of the one document; None for a file without content."""
        self.events = yaml.parse("\n".join(self.lines) + "\n", Loader=yaml.SafeLoader)
        root: Node | None = None
        documents = 0
        for event in self.events:
            if isinstance(event, DocumentStartEvent):
                documents += 1
                if documents == 2:
                    self._refuse(event, "two-documents", "the line '---' cuts the file in two documents: take it away")
                    break
            elif isinstance(event, NodeEvent):
                root = self._node(event, 1)
            elif isinstance(event, DocumentEndEvent | StreamEndEvent):
                continue
        return root

    def _refuse(self, event: Event, code: str, says: str) -> Refused:
        place = _place(event)
        self.faults.append(Fault(place, code, says))
        return Refused(place)

    def _node(self, event: Event, depth: int, in_list: bool = False) -> Node:
        assert isinstance(event, NodeEvent)
        self.nodes += 1
        if self.nodes > MOST_NODES:
            says = f"the file has more than {MOST_NODES} entries: is it a project file?"
            raise TooMuch(Fault(_place(event), "too-many-entries", says))
        if isinstance(event, AliasEvent):
            return self._refuse(
                event,
                "alias",
                f"'*{event.anchor}' repeats another part (an alias), which project files do not use: "
                "write it out, or put a text that starts with '*' in quotes",
            )
        refused = self._anchor_or_tag(event)
        node: Node
        if isinstance(event, ScalarEvent):
            if re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]", event.value):
                says = "an escape in this text stands for a control character: take it away"
                return self._refuse(event, "control-character", says)
            node = self._scalar(event)
        elif isinstance(event, MappingStartEvent | SequenceStartEvent):
            if depth >= MOST_DEPTH:
                raise TooMuch(self._too_deep(event))
            node = (
                self._mapping(event, depth, in_list)
                if isinstance(event, MappingStartEvent)
                else self._listing(event, depth)
            )
        else:
            raise AssertionError(f"unexpected event {event!r}")
        return refused or node

    def _anchor_or_tag(self, event: NodeEvent) -> Refused | None:
        if event.anchor:
            return self._refuse(
                event,
                "anchor",
                f"'&{event.anchor}' names a part for repeating (an anchor), which project files do not "
                "use: write it out, or put a text that starts with '&' in quotes",
            )
        tag = getattr(event, "tag", None)
        if tag and tag != "!":
            return self._refuse(
                event,
                "tag",
                "a word that starts with '!' is a tag, which project files do not use: take it away, or "
                "put the text in quotes",
            )
        return None

    def _too_deep(self, event: Event) -> Fault:
        place = _place(event)
        key = self.keys[-1] if self.keys else "this"
        line = self.lines[place.line - 1]
        opened = line.count("[") + line.count("{")
        if opened >= MOST_DEPTH - 1:
            return Fault(
                place, "too-deep", f"this line opens {opened} brackets: '{key}' wants a line of text or a few values"
            )
        return Fault(
            place, "too-deep", f"'{key}' is nested {MOST_DEPTH} deep, and no part of a project file goes so deep"
        )

    def _scalar(self, event: ScalarEvent) -> Scalar:
        place = _place(event)
        assert event.end_mark is not None
        start = place.line - 1
        last = event.end_mark.line + (0 if event.end_mark.column else -1)
        rows: tuple[tuple[int, str], ...] = ()
        if event.style in ("|", ">"):
            rows = tuple((n + 1, self.lines[n]) for n in range(start + 1, min(last + 1, len(self.lines))))
        elif last > start:
            rows = tuple((n + 1, self.lines[n]) for n in range(start, last + 1))
        return Scalar(event.value, place, event.style is not None, "", rows)

    def _listing(self, start: SequenceStartEvent, depth: int) -> Listing:
        items = []
        for event in self.events:
            if isinstance(event, SequenceEndEvent):
                break
            items.append(self._node(event, depth + 1, True))
        return Listing(_place(start), tuple(items), bool(start.flow_style))

    def _mapping(self, start: MappingStartEvent, depth: int, in_list: bool) -> Mapping:
        entries: list[tuple[Scalar, Node]] = []
        first: dict[str, Place] = {}
        repeated = 0
        lost = False  # whether a dash was missing above: what follows belongs to another item
        for event in self.events:
            if isinstance(event, MappingEndEvent):
                break
            key = self._node(event, depth + 1)
            self.keys.append(str(key) if isinstance(key, Scalar) else "this")
            value = self._node(next(self.events), depth + 1)
            self.keys.pop()
            if not isinstance(key, Scalar):
                if not isinstance(key, Refused):
                    says = "a word is wanted before the colon: put a text that begins with '{', '[' or '?' in quotes"
                    self.faults.append(Fault(key.place, "odd-key", says))
                continue
            if key == "<<":
                self.faults.append(
                    Fault(key.place, "merge-key", "'<<' takes in another part, which project files do not use")
                )
                continue
            if lost or (in_list and len(entries) > 1 and not start.flow_style and key == entries[0][0]):
                if not lost:
                    says = f"'{key}' begins a new item: the '- ' before it is missing"
                    guess = f"- {key}: {value}" if isinstance(value, Scalar) else None
                    self.faults.append(Fault(key.place, "dash", says, guess))
                lost = True
                continue
            if key in first and entries[-1][1] == "" and not repeated and not start.flow_style:
                head = entries.pop()[0]
                says = (
                    f"nothing stands under '{head}', and the keys below it stand here already: does it "
                    "start too far in?"
                )
                self.faults.append(Fault(head.place, "indent", says))
                lost = True
                continue
            if key in first:
                repeated += 1
                says = f"'{key}' stands here twice: it is already in line {first[key].line}"
                if repeated <= MOST_REPEATED:
                    self.faults.append(Fault(key.place, "repeated-key", says))
                continue
            first[key] = key.place
            entries.append((key, value))
        return Mapping(_place(start), tuple(entries), bool(start.flow_style))


def _place(event: Event) -> Place:
    assert event.start_mark is not None
    return Place(event.start_mark.line + 1, event.start_mark.column + 1)
