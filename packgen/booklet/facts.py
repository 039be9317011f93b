"""What every sheet of a pack knows about the pack: head, foot, gates, hold band, list of sheets."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from markupsafe import Markup, escape

from packgen.booklet.gate_bar import gate_bar
from packgen.booklet.sheet import Sheet
from packgen.booklet.sign import sign_of
from packgen.core.figures import day
from packgen.core.finding import GATES, Gate, gate_holds, holds_before
from packgen.plan import Plan

BAND_LETTERS = 190  # three lines of the band with what follows
BRIEF = 50
SHORT = 118  # letters of a hold's sentence on the cover


@dataclass(frozen=True, slots=True)
class GateState:
    """One box of the gate bar."""

    name: Gate
    holds: int
    first: str  # sentence of the first hold, "" where open
    short: str  # the same, cut to what the cover has room for
    brief: str  # and to one line


@dataclass(frozen=True, slots=True)
class Listed:
    """A line of the list of sheets."""

    number: int
    slug: str
    title: str
    part: int
    parts: int
    held: bool


@dataclass(frozen=True, slots=True)
class ListedGroup:
    """Sheets of one title in the list on the cover: "30 to 37"."""

    numbers: str
    slug: str
    title: str
    held: bool


@dataclass(frozen=True, slots=True)
class Band:
    """What holds a sheet: the gate of the first open stop before it, and what is said under the head."""

    gate: Gate
    says: str


@dataclass(frozen=True, slots=True)
class PackFacts:
    """The finished strings of head and foot, and the list of sheets."""

    name: str
    reference: str
    revision: str
    head: str
    aim: str
    prepared_by: str
    date: str
    date_iso: str
    file: str
    datum: str
    sign: str
    count: int
    gates: tuple[GateState, ...]
    bar: Markup
    contents: tuple[Listed, ...]
    groups: tuple[ListedGroup, ...]
    logo: Markup | None = None  # the contractor's, on the first page of the method statement
    words: tuple[tuple[str, str], ...] = ()  # terms this pack uses, with their meaning; known once the rest is made


def pack_facts(plan: Plan, sheets: Sequence[Sheet]) -> PackFacts:
    """The facts of a pack of these sheets in this order."""
    info = plan.project.project
    revision = f"revision {info.revision}" if info.revision else ""
    head = " · ".join(part for part in (info.name, info.reference, revision) if part)
    gates = tuple(_gate_state(plan, gate) for gate in GATES)
    contents = tuple(
        Listed(n, s.slug, s.title, s.part, s.parts, band_of(plan, s) is not None) for n, s in enumerate(sheets, 1)
    )
    return PackFacts(
        name=info.name,
        reference=info.reference,
        revision=info.revision,
        head=head,
        aim=info.aim,
        prepared_by=info.prepared_by,
        date=day(info.date),
        date_iso=info.date.isoformat(),
        file=plan.project.file_name,
        datum=plan.project.datum.name,
        sign=sign_of(plan),
        count=len(sheets),
        gates=gates,
        bar=gate_bar([(g.name, g.holds) for g in gates]),
        contents=contents,
        groups=_groups(contents),
    )


def _gate_state(plan: Plan, gate: Gate) -> GateState:
    holds = gate_holds(plan.findings, gate)
    first = first_upper(holds[0].says) if holds else ""
    return GateState(gate, len(holds), first, _cut(first, SHORT), _cut(first, BRIEF))


def _cut(text: str, letters: int) -> str:
    """The sentence as far as there is room for it; the sheet Holds has it whole."""
    return text if len(text) <= letters else f"{text[:letters].rsplit(' ', 1)[0]} ..."


def _groups(contents: Sequence[Listed]) -> tuple[ListedGroup, ...]:
    groups: list[ListedGroup] = []
    for line in contents:
        name = line.title.split(", day ")[0]
        last = groups[-1] if groups else None
        if last and last.title == name:
            first = last.numbers.split(" ")[0]
            groups[-1] = replace(last, numbers=f"{first} to {line.number}", held=last.held or line.held)
        else:
            groups.append(ListedGroup(str(line.number), line.slug, name, line.held))
    return tuple(groups)


def first_upper(text: str) -> str:
    """The sentence with a capital at its start."""
    return text[:1].upper() + text[1:]


def band_of(plan: Plan, sheet: Sheet) -> Band | None:
    """The hold band of a sheet: that of the first open stop before its gate; None where nothing holds it."""
    if sheet.behind is None:
        return None
    holds = holds_before(plan.findings, sheet.behind)
    if not holds:
        return None
    first = holds[0]
    gate = first.gate or sheet.behind
    more = f" And {len(holds) - 1} more." if len(holds) > 1 else ""
    when = _passed_on(plan, gate)
    by = f" Dates here count only if it is lifted by {day(when)}." if when else ""
    return Band(gate, f"{_cut(first_upper(first.says), BAND_LETTERS)}{more}{by}")


def _passed_on(plan: Plan, gate: Gate) -> date | None:
    """The day on which the plan passes a gate; None where no day of the plan depends on it."""
    if gate in ("order", "base", "grid"):
        return plan.sequence.started
    if gate == "fill" and plan.sequence.pours:
        return plan.sequence.pours[0].date
    return None


def see_in(contents: Sequence[Listed]) -> Callable[[str], Markup]:
    """A function that names a sheet of the pack by its slug, as a link with its number."""

    def see(slug: str) -> Markup:
        for line in contents:
            if line.slug == slug or line.slug.startswith(f"{slug}-"):
                return Markup('<a href="#{}">sheet {}, {}</a>').format(line.slug, line.number, line.title)
        return Markup(escape(f"the sheet {slug}"))

    return see
