"""Cover and key facts: which job, which plan, and whether work may start."""

from __future__ import annotations

from typing import Literal

from packgen.booklet.drawing.plan_view import key_plan
from packgen.booklet.facts import SHORT
from packgen.booklet.rows import BODY_MM
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import day, level, listed, number, plain, whole
from packgen.core.finding import GATES, gate_holds
from packgen.plan import Plan

GIVES_WAY = ("rails, legs, stock lengths", "build-up above the rail", "weight while working", "walk on all of it from")
SAID_SHORTER = ("floor", "finished level", "build-up above the rail", "rail top")
OTHER_MM = 8.0 + 8.0 + 10.0 + 50.0 + 13.0  # heading, link, heading of the list, list of 36 sheets, line to sign
HOLD_MM, NAME_MM, VALUE_MM = 88.0, 48.0, 51.0
PLAN_MM = (72.0, 74.0)


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One sheet."""
    facts, brief = _fitting(plan)
    return (
        Sheet(
            slug="cover",
            title="Cover and key facts",
            purpose=plan.project.project.aim or "Which job, which plan, and whether work may start.",
            template="cover.html",
            view={
                "facts": facts,
                "brief": brief,
                "plan": key_plan(plan, *PLAN_MM),
                "doors": _doors(plan),
                "window": _window(plan),
            },
        ),
    )


def _fitting(plan: Plan) -> tuple[tuple[tuple[str, str], ...], bool]:
    """The rows that the sheet has room for below the gates, and whether holds are said in one line for it.

    Long rows are said shorter first, then the least needed give way, then the holds are cut; the end is never cut off.
    """
    holds = [gate_holds(plan.findings, gate) for gate in GATES]
    said = sum(lines_of(h[0].says[:SHORT], 9, HOLD_MM) if h else 1 for h in holds)
    room = BODY_MM - OTHER_MM - said * 4.0 - len(GATES) * 1.3

    def tall(some: tuple[tuple[str, str], ...]) -> float:
        return sum(max(lines_of(a, 10, NAME_MM), lines_of(b, 10, VALUE_MM, True)) * 4.3 + 1.5 for a, b in some)

    kept = key_facts(plan)
    if tall(kept) > room:
        short = dict(key_facts(plan, short=True))
        kept = tuple((a, short[a] if a in SAID_SHORTER else b) for a, b in kept)
        kept = tuple((a, b.split("; ")[0] if a.endswith(" is") else b) for a, b in kept)
    for name in GIVES_WAY:
        if tall(kept) > room:
            kept = tuple(row for row in kept if row[0] != name)
    brief = tall(kept) > room
    if brief:
        room += (said - len(GATES)) * 4.0
    while tall(kept) > room:
        kept = (*kept[:-3], *kept[-2:])
    return kept, brief


def key_facts(plan: Plan, short: bool = False) -> tuple[tuple[str, str], ...]:
    """At most 16 rows; each figure as its own sheet prints it. short: zones as a range, rooms by their area alone."""
    datum, heights, q = plan.project.datum, plan.heights, plan.quantities
    depth, legs = heights.depth, plan.heights.legs
    rows: list[tuple[str, str]] = [
        ("floor", _areas(plan, short)),
        (f"{datum.name} is", f"{datum.where}{f'; {datum.means}' if datum.means else ''}"),
        ("finished level", _zones(plan, "finished", short)),
        ("build-up above the rail", _zones(plan, "finish", short)),
        ("rail top", _zones(plan, "rail", short)),
        ("legs", _legs(plan)),
        ("fill", _fill(plan)),
        ("mean depth, for ordering", f"{plain(depth.mean_mm, 1)} mm"),
        (
            "smallest depth, for strength",
            f"{_depth(depth.least_mm)}; least allowed {plain(heights.rule.least_mm, 1)}",
        ),
        ("greatest depth, for drying", f"{number(depth.most_mm)} mm; most allowed {plain(heights.rule.most_mm, 1)}"),
        ("weight for good", _weight(q.weight.dry_kn_m2, q.weight.allowed_dry_kn_m2)),
        ("weight while working", _weight(q.weight.fresh_with_people_kn_m2, q.weight.allowed_working_kn_m2)),
        ("pour days", _pours(plan)),
    ]
    dates = plan.sequence.dates
    for key, says in (("walk_on", "walk on all of it from"), ("test_not_before", "moisture test not before")):
        if key in dates:
            rows.append((says, day(dates[key])))
    cuts = plan.layout.cut_list
    rows.append(
        (
            "rails, legs, stock lengths",
            f"{number(len(plan.layout.rails))}, {number(len(legs))},  + ".join(
                f"{number(s.number)} of {number(s.stock_mm)}" for s in cuts.stocks
            ),
        )
    )
    return tuple(rows[:16])


def _depth(mm: float) -> str:
    """A depth; where the base stands above the rail top it is said so."""
    return f"{number(mm)} mm" if whole(mm) >= 0 else f"none: the base stands {number(-mm)} mm too high"


def _doors(plan: Plan) -> tuple[tuple[str, str], ...]:
    """What the floor meets at each opening, in words; the eight first where there are more."""
    rows = []
    for d in plan.heights.doors:
        step = whole(d.step_mm)
        meets = "flush" if step == 0 else f"floor {abs(step)} {'higher' if step > 0 else 'lower'}"
        limit = f", {plain(d.limit_mm, 1)} allowed" if d.judged and step else ""
        rows.append((d.door, meets + limit))
    more = [("", f"and {len(rows) - 8} more")] if len(rows) > 8 else []
    return tuple(rows[:8] + more)


def _window(plan: Plan) -> str:
    """Between which finished levels every rule holds, and which rule ends it on each side."""
    window, datum = plan.heights.window, plan.project.datum.name
    if not window.at_least or not window.at_most:
        return ""
    low, high = window.at_least[0], window.at_most[0]
    if window.empty:
        return (
            f"No finished level fits: {low.rule} ({low.place}) asks for {level(low.level_mm, datum)} or more, "
            f"{high.rule} ({high.place}) for {level(high.level_mm, datum)} or less."
        )
    offer = ""
    if window.offered_mm is not None and window.asked_mm is not None and window.offered_mm != window.asked_mm:
        offer = f" Asked: {level(window.asked_mm, datum)}; offered: {level(window.offered_mm, datum)}."
    if whole(low.level_mm) == whole(high.level_mm):
        rules = f"{low.rule}, {low.place}; {high.rule}, {high.place}"
        return f"Only the finished level {level(low.level_mm, datum)} keeps every rule ({rules}).{offer}"
    return (
        f"A finished level from {level(low.level_mm, datum)} ({low.rule}, {low.place}) to "
        f"{level(high.level_mm, datum)} ({high.rule}, {high.place}) keeps every rule.{offer}"
    )


def _areas(plan: Plan, short: bool) -> str:
    rooms = plan.survey.rooms
    if short:
        return f"{number(sum(r.area_m2 for r in rooms), 2)} m²"
    if len(rooms) == 1:
        return f"{rooms[0].name}, {number(rooms[0].area_m2, 2)} m²"
    total = sum(r.area_m2 for r in rooms)
    return f"{listed([r.name for r in rooms], most=4)}, {number(total, 2)} m²"


def _zones(plan: Plan, what: Literal["finished", "finish", "rail"], short: bool) -> str:
    """One value for all zones, else each zone's own, or in short the range."""
    datum, zones = plan.project.datum.name, plan.heights.zones
    values = {
        "finished": [z.finished_mm for z in zones],
        "finish": [z.build_up.finish_mm for z in zones],
        "rail": [z.rail_top_mm for z in zones],
    }[what]
    texts = [f"{plain(v, 1)} mm" if what == "finish" else level(v, datum) for v in values]
    if short and len(set(texts)) > 1:
        low, high = texts[values.index(min(values))], texts[values.index(max(values))]
        return f"{low} to {high}, by zone"
    said: dict[str, list[str]] = {}
    for z, text in zip(zones, texts, strict=True):
        falls = f" where the fall starts, then {plain(z.fall_per_m, 1)} per metre down" if z.fall_per_m else ""
        said.setdefault(text + (falls if what != "finish" and not short else ""), []).append(z.name)
    if len(said) == 1:
        return next(iter(said))
    return "; ".join(f"{listed(names, most=3)} {text}" for text, names in list(said.items())[:4])


def _legs(plan: Plan) -> str:
    legs = plan.heights.legs
    if not legs:
        return "none"
    q = plan.quantities
    extra = [
        f"{count} {says}"
        for count, says in (
            (q.legs_extended, "with extension"),
            (q.legs_packed, "on packing"),
            (q.legs_not_fitting, "do not fit" if q.legs_not_fitting > 1 else "does not fit"),
        )
        if count
    ]
    shortest, longest = min(leg.leg_mm for leg in legs), max(leg.leg_mm for leg in legs)
    least = f"{shortest}" if shortest > 0 else "nothing"
    return f"{least} to {longest} mm{'; ' + ', '.join(extra) if extra else ', all plain'}"


def _fill(plan: Plan) -> str:
    bags: dict[str, int] = {}
    for p in plan.sequence.pours:
        name = p.fill or plan.project.fills.use
        bags[name] = bags.get(name, 0) + p.bags
    kinds = dict(plan.project.fills.described)
    parts = []
    for name, count in bags.items():
        fill = kinds.get(name, plan.project.fills.used)
        word = "packs" if fill.family == "wool" else "bags"
        parts.append(f"{fill.kind}, {number(count)} {word} of {plain(fill.bag.mass, 1)} kg")
    return "; ".join(parts) or plan.project.fills.used.kind


def _weight(found: float, allowed: float | None) -> str:
    limit = f"; allowed {number(allowed, 2)}" if allowed is not None else "; no limit in the file"
    return f"{number(found, 2)} kN/m²{limit}"


def _pours(plan: Plan) -> str:
    pours = plan.sequence.pours
    if not pours:
        return "none"
    if len(pours) == 1:
        return day(pours[0].date)
    return f"{len(pours)} days, {day(pours[0].date)} to {day(pours[-1].date)}"
