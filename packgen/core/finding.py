"""Findings of the review (stop, caution, note) and faults of the project file."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Literal

from packgen.core.place import Place
from packgen.core.worked import Figure

Kind = Literal["stop", "caution", "note"]
Gate = Literal["order", "base", "grid", "fill", "cover", "handover"]
Lift = Literal["numbers", "paper"]

KINDS: tuple[Kind, ...] = ("stop", "caution", "note")
GATES: tuple[Gate, ...] = ("order", "base", "grid", "fill", "cover", "handover")


@dataclass(frozen=True, slots=True)
class Fault:
    """Something in the project file that keeps packgen from planning.

    `says` is one sentence: what was read and what was wanted. `guess` is the word probably meant.
    """

    place: Place
    code: str
    says: str
    guess: str | None = None


@dataclass(frozen=True, slots=True)
class LiftedBy:
    """Who lifted a stop that rests on a missing paper, when, and with which paper."""

    by: str
    date: datetime.date
    paper: str
    covers: str | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One result of the review.

    code      stable name, for example "leg-out-of-range"
    says      the sentence on paper, with its number
    where     a place a person can walk to: a node, a bay, a wall, a service; "" for the whole job
    number, limit, unit   the figure found and the one allowed, in the same unit, where there are such
    gate      the gate that an open stop closes; None for notes without one
    lift      "numbers": goes only when the numbers change; "paper": lifted in the project file
    cures     what to do, the cheapest first
    number_from, limit_from   where the two figures come from; more: keys of lines of other figures in the sentence
    """

    kind: Kind
    code: str
    says: str
    where: str = ""
    number: float | None = None
    limit: float | None = None
    unit: str = ""
    gate: Gate | None = None
    lift: Lift | None = None
    source: str = ""
    cures: tuple[str, ...] = ()
    lifted_by: LiftedBy | None = None
    place: Place | None = None
    number_from: Figure | None = None
    limit_from: Figure | None = None
    more: tuple[str, ...] = ()

    @property
    def open_stop(self) -> bool:
        return self.kind == "stop" and self.lifted_by is None


def gate_holds(findings: tuple[Finding, ...], gate: Gate) -> tuple[Finding, ...]:
    """The open stops of one gate, in the order of the list."""
    return tuple(f for f in findings if f.open_stop and f.gate == gate)


def holds_before(findings: tuple[Finding, ...], gate: Gate) -> tuple[Finding, ...]:
    """The open stops of this gate and of all gates before it: what keeps a sheet behind `gate` from use."""
    reached = GATES[: GATES.index(gate) + 1]
    return tuple(f for g in reached for f in gate_holds(findings, g))
