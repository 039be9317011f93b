"""What the project file did not give: the value taken instead, its source, and the key that overrules it."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.worked import FILE, PRACTICE, Assumed, Source
from packgen.heights.model import Heights
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.project.record import Record
from packgen.quantities.model import Quantities
from packgen.review.foot_checks import under_the_legs
from packgen.review.job import Job, mm
from packgen.review.limits_used import limits_used
from packgen.sequence.model import Sequence
from packgen.survey.model import Survey
from packgen.trade.cures import cure_rate
from packgen.trade.grid_rules import grid_rule
from packgen.trade.layout_rules import layout_rule
from packgen.trade.setting_out import assumed_setting
from packgen.trade.survey import between

# What a wrong value would change, the worst first: an assumption is sorted by the key that overrules it.
EFFECT = (
    "base: insulation",
    "base: engineer",
    "base: imposed load",
    "base: pads",
    "rooms: place",
    "finishes: wet",
    "fills: thickness",
    "finishes",
    "base",
    "heating",
    "services",
    "openings",
    "levels",
    "kit",
    "fills",
    "calendar",
    "limits",
    "plant",
    "crew",
    "rates",
)


def list_assumed(
    project: Project,
    survey: Survey,
    layout: Layout,
    heights: Heights,
    quantities: Quantities,
    sequence: Sequence,
) -> tuple[Assumed, ...]:
    """Everything taken without the file's word, sorted by what it would change.

    What a stage itself says about a key goes before what the review would say.
    """
    job = Job(project, survey, layout, heights, quantities, sequence)
    told = [*heights.assumed, *quantities.assumed, *sequence.assumed]
    keys = {a.overrule for a in told if a.overrule}
    parts = (_site, _openings, _services, _kit, _levels, _heights, _work, _waiting, limits_used)
    made = [*told, *(a for part in parts for a in part(job) if a.overrule not in keys)]
    once = {(a.what, a.value): a for a in reversed(made)}
    return tuple(sorted(once.values(), key=lambda a: (_effect(a), a.overrule, a.what, a.value)))


def _effect(a: Assumed) -> int:
    return next((i for i, key in enumerate(EFFECT) if a.overrule.startswith(key)), len(EFFECT))


def said(record: Record, key: str) -> bool:
    """Whether the file gives this key; a record made by the program gives none."""
    return any(k == key for k, _ in (*record.marks.keys, *record.marks.values))


def _inferred(what: str, value: str, overrule: str, used_for: str) -> Assumed:
    return Assumed(what, value, "", FILE, overrule, used_for)


def _practice(what: str, value: str, unit: str, overrule: str, used_for: str) -> Assumed:
    return Assumed(what, value, unit, PRACTICE, overrule, used_for)


def _site(job: Job) -> Iterator[Assumed]:
    base, project = job.project.base, job.project
    for room in project.rooms:
        if room.place is None:
            value = "outside" if job.outside else "inside"
            yield _inferred(f"where {room.name} lies", value, "rooms: place", "steps, frost, membrane, fills")
    for zone in project.finishes:
        if zone.wet == "unknown" and not job.outside:
            yield _inferred(f"wet room: {zone.zone}", "no", "finishes: wet", "waterproofing, falls, fills")
    if not said(base, "insulation") and not base.timber:
        yield _inferred("insulation under the feet", "none", "base: insulation", "pressure under the feet")
    if base.pads is None and under_the_legs(job):
        yield _practice("pads or blocks under the feet", "none", "", "base: pads", "pressure under the feet")
    if base.built is None and base.old_covering.lower() != "none":
        yield _practice("year the house was built", "unknown", "", "base: built", "asbestos")
    if project.project.house_lived_in == "unknown" and project.project.reader == "site":
        yield _practice("house lived in", "yes", "", "project: house lived in", "children and pets")
    if project.laser is None:
        yield _practice("laser tested", "no", "", "laser: tested", "levels")


def _openings(job: Job) -> Iterator[Assumed]:
    for o in job.project.openings:
        if o.depth is None:
            yield _practice(
                f"doorway of the {o.name}", "not filled", "", "openings: depth", "litres, floor to the door"
            )
        if o.ramp_strip == "no" and not said(o, "ramp strip"):
            yield _practice(f"ramp strip at the {o.name}", "none", "", "openings: ramp strip", "steps")
    for room in job.survey.rooms:
        inside = [d for d in room.doors if not d.outside]
        if len(inside) == 1 and not room.outside and job.opening(inside[0].name).others_behind == "unknown":
            yield _practice(f"people behind {room.name}", "none", "", "openings: others behind", "ways out")


def _services(job: Job) -> Iterator[Assumed]:
    for s in job.project.services:
        if s.heating and not said(s, "saddle"):
            yield _practice(f"saddles under feet on {s.name}", "none", "", "services: saddle", "feet on pipes")
    if job.project.services_found is None:
        yield _practice("cables and pipes looked for", "no", "", "services found", "drilling and grinding")


def _kit(job: Job) -> Iterator[Assumed]:
    kit = job.project.kit
    if not kit.rail.stock:
        stock = job.layout.cut_list.stock_mm
        yield _practice("length of a stock rail", f"{stock}", "mm", "kit: rail: stock", "cut list: one module")
    if kit.saw_cut is None:
        rule = layout_rule("saw_cut")
        yield Assumed(rule.what, mm(rule.value_mm), "mm", rule.source, "kit: saw cut", "cut list")
    defaults = {
        "first line from wall": kit.first_line_from_wall,
        "smallest cut piece": kit.smallest_cut_piece,
        "edge strip": kit.edge_strip,
    }
    for key, value in defaults.items():
        if not said(kit, key):
            yield _practice(key, mm(value), "mm", f"kit: {key}", "layout")
    if not said(kit, "mass"):
        yield _practice("mass of the grid", mm(kit.mass), "kg/m²", "kit: mass", "weight")
    board = job.fill.board_on_top
    if kit.screw is None and board is not None:
        length = mm(board.thickness + kit.rail.height)
        yield _practice("board screw, tip just inside the rail", length, "mm", "kit: screw", "services under rails")
    if job.layout.diagonals:
        yield assumed_setting("diagonals", "setting out")
    if job.project.base.separating_layer is not None:
        yield assumed_setting("foil_lap", "the base")
    for name in ("overhang", "joint_leg", "near_service", "needle_bay", "first_line_off"):
        rule = layout_rule(name)
        yield Assumed(rule.what, mm(rule.value_mm), "mm", rule.source, "", "layout")


def _heights(job: Job) -> Iterator[Assumed]:
    """What ranks the ways out of a level that breaks a rule, and how a long drain is told from a round one."""
    hours = [c.hours for z in job.heights.by_zone for c in z.cures if c.hours]
    if hours:
        rate = cure_rate("grind")
        yield Assumed(
            f"work on the base: {rate.says}", mm(rate.value), rate.unit, rate.source, "", "the order of the ways out"
        )
    if any(z.sink is not None for z in job.heights.zones):
        rule = grid_rule("channel_ratio")
        yield Assumed(rule.says, mm(rule.value), rule.unit, rule.source, "drains: size", "falls to a drain")


def _levels(job: Job) -> Iterator[Assumed]:
    book, known = job.project.levels, job.survey.certainty
    if known is None or book.instrument or book.read_as != "staff readings":
        return
    rule = between()
    overrule = "levels: instrument"
    yield Assumed("what one reading scatters by", mm(known.reading_mm), "mm", rule.source, overrule, "how well known")
    if not known.tested:
        what = "what the base strays in a metre between readings"
        yield Assumed(what, mm(rule.rough_mm_per_m), "mm", rule.source, "", "how well known")


def _work(job: Job) -> Iterator[Assumed]:
    calendar, limits = job.project.calendar, job.project.limits
    if not said(calendar, "working days"):
        yield _practice("working days", "Mon to Fri", "", "calendar: working days", "dates")
    if calendar.lowest_night_temperature is None and job.fill.mixed and not job.outside:
        value = "as warm as the fill needs"
        yield _practice("nights inside", value, "", "calendar: lowest night temperature", "frost")
    shown = {
        "rail top": (mm(limits.rail_top), "mm"),
        "next node": (mm(limits.next_node), "mm"),
        "surface": (limits.surface, ""),
        "step without ramp strip": (mm(limits.step_without_ramp_strip), "mm"),
    }
    for key, (value, unit) in shown.items():
        if not said(limits, key):
            yield _practice(f"limit: {key}", value, unit, f"limits: {key}", "checking the grid and the floor")
    rule = job.heights.rule
    if rule.rule_mm is not None and rule.rule_mm >= rule.least_mm and rule.source != "project file":
        yield Assumed(
            "least depth by the published rule",
            mm(rule.rule_mm),
            "mm",
            _source(rule.source),
            "fills: thickness",
            "depth too small",
        )


def _waiting(job: Job) -> Iterator[Assumed]:
    """Waiting times that do not come from the file."""
    keys = {
        "covered_until": "keep covered",
        "walk_on": "walk on after",
        "load": "load after",
        "heat_up_not_before": "heat up not before",
        "test_not_before": "drying",
    }
    for w in job.sequence.waiting:
        if "file" not in w.source and w.key in keys:
            under = "heating" if w.key == "heat_up_not_before" else "fills"
            overrule = f"{under}: {keys[w.key]}"
            yield Assumed(w.event, figures.number(w.days), "days", _source(w.source), overrule, "dates")


def _source(text: str) -> Source:
    """A source that a stage handed on as text, with how it is known told by its tail."""
    if text.endswith("(from memory, verify)"):
        return Source(text.removesuffix(" (from memory, verify)"), known="memory")
    return PRACTICE if text == str(PRACTICE) else Source(text, known="read")
