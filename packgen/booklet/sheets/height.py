"""Where the floor can finish: the window of levels, the rules in order, and the ways out with their work."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.depth_rules import rule_table
from packgen.booklet.drawing.ladder import Peg, ladder
from packgen.booklet.rows import BODY_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import half_up, level, number, plain, whole
from packgen.heights.model import Bound, Window, ZoneHeights, ZoneTop
from packgen.plan import Plan

PURPOSE = "At which level the floor can finish, what sets both ends, and what giving way would buy."
RULES_SHOWN = 6  # of each side on the ladder
LEAST_LADDER_MM, MOST_LADDER_MM = 60.0, 118.0
FAR_MM = 30.0  # a rule farther than this from the one that binds is left to the table
NOTE = "Hours are common practice, no source: they put the ways in order and price nothing."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One sheet a zone; a long list of ways out goes on."""
    pages = [page for zone in plan.heights.by_zone for page in _pages(plan, zone)]
    return tuple(
        Sheet(
            slug="height" if n == 1 else f"height-{n}",
            title="Where the floor can finish",
            purpose=PURPOSE,
            template="height.html",
            view=page,
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _pages(plan: Plan, zone: ZoneHeights) -> list[dict[str, object]]:
    top = next(z for z in plan.heights.zones if z.name == zone.zone)
    says = _sentence(plan, zone, top)
    heading = f"Zone {zone.zone}" if len(plan.heights.zones) > 1 else ""
    rules, cures, depth = _rules(plan, zone, top), _cures(zone), rule_table(zone.rule)
    used = sum(lines_of(s, 11, 178) * 5.0 + 1.5 for s in says) + (9.0 if heading else 0.0)
    room = BODY_MM - used - rules.height_mm - 2.0
    below = depth.height_mm + 2.0 + (cures.height_mm + 6.0 if cures else 0.0)
    high = min(MOST_LADDER_MM, max(LEAST_LADDER_MM, room - below))
    first: dict[str, object] = {
        "heading": heading,
        "says": says,
        "drawing": _ladder(plan, zone, top, min(high, room)),
        "rules": rules,
        "depth": None,
        "cures": None,
        "note": "",
    }
    if below <= room - high:
        return [{**first, "depth": depth, "cures": cures, "note": NOTE if cures else ""}]
    empty: dict[str, object] = {**first, "says": (), "drawing": "", "rules": None}
    beside = depth.height_mm + 2.0 <= room - LEAST_LADDER_MM
    if beside:
        first |= {"depth": depth, "drawing": _ladder(plan, zone, top, min(high, room - depth.height_mm - 2.0))}
    parts = [] if cures is None else parted(cures, BODY_MM - 20.0)
    rest: list[dict[str, object]] = [{**empty, "cures": part, "note": NOTE} for part in parts]
    if not beside and parts and depth.height_mm + parts[-1].height_mm + 28.0 <= BODY_MM:
        rest[-1]["depth"] = depth
    elif not beside:
        rest.append({**empty, "depth": depth})
    return [first, *rest]


# --------------------------------------------------------------------------------- words


def _sentence(plan: Plan, zone: ZoneHeights, top: ZoneTop) -> tuple[str, ...]:
    datum, window = plan.project.datum.name, zone.window
    start = " where the fall starts" if top.fall_per_m else ""
    if window.empty:
        gap = plain(half_up(window.low_mm - window.high_mm, 1))
        first = (
            f"No finished level{start} keeps every rule: {_rule(window.at_least[0])} asks for "
            f"{level(window.low_mm, datum)} or more, {_rule(window.at_most[0])} for {level(window.high_mm, datum)} or "
            f"less. They are {gap} apart."
        )
    elif whole(window.low_mm) == whole(window.high_mm):
        first = (
            f"The floor fits at one level only, {level(window.low_mm, datum)}{start}: "
            f"{_rule(window.at_least[0])} lets it be no lower, {_rule(window.at_most[0])} no higher."
        )
    else:
        first = (
            f"The floor fits between {level(window.low_mm, datum)} and {level(window.high_mm, datum)}{start}. "
            f"{_rule(window.at_least[0], True)} sets the lower end, {_rule(window.at_most[0])} the upper."
        )
    return first, _chosen(plan, zone, top)


def _chosen(plan: Plan, zone: ZoneHeights, top: ZoneTop) -> str:
    datum, window = plan.project.datum.name, zone.window
    at = level(top.finished_mm, datum)
    if window.asked_mm is None:
        if window.offered_mm is None:
            return f"The file leaves the level open. This pack is drawn with {at}, and nothing may be ordered."
        return (
            f"The file leaves the level open. Offered and drawn: {at} ({window.why_offered}). Somebody has to decide "
            "and write it in the file (finished level)."
        )
    if window.offered_mm is not None and abs(window.offered_mm - top.finished_mm) > 1e-6:
        return (
            f"The file asks for {at}, and this pack is drawn with it. Offered instead: "
            f"{level(window.offered_mm, datum)} ({window.why_offered})."
        )
    return f"The file asks for {at}, and this pack is drawn with it."


def _rule(bound: Bound, first: bool = False) -> str:
    words = bound.rule
    if bound.place and bound.place not in bound.rule:
        words += f" ({bound.place})"
    return words[:1].upper() + words[1:] if first else f"the {words}"


# --------------------------------------------------------------------------------- ladder


def _ladder(plan: Plan, zone: ZoneHeights, top: ZoneTop, high: float) -> object:
    window = zone.window
    pegs = [*_pegs(plan, window), Peg(top.finished_mm, f"this plan: {_short(plan, top.finished_mm)}", "plan", True)]
    title = f"Ladder of finished levels of {zone.zone}: {_sentence(plan, zone, top)[0]}"
    return ladder(pegs, window.low_mm, window.high_mm, high, title, plan.project.datum.name)


def _pegs(plan: Plan, window: Window) -> Iterator[Peg]:
    """The rules that bind first on each side, as near to the window as a drawing can show, and the doors."""
    for side, bounds in (("low", window.at_least), ("high", window.at_most)):
        ends = [b for b in bounds if b is bounds[0] or abs(b.level_mm - bounds[0].level_mm) <= FAR_MM]
        for n, b in enumerate(ends[:RULES_SHOWN]):
            place = f", {b.place}" if b.place and b.place not in b.rule else ""
            yield Peg(b.level_mm, f"{b.rule}{place}: {_short(plan, b.level_mm)}", side, n == 0)
    centre = (window.low_mm + window.high_mm) / 2
    for door in plan.heights.doors:
        if door.judged and abs(door.meets_mm - centre) <= 4 * FAR_MM:
            yield Peg(door.meets_mm, f"{door.door}: {_short(plan, door.meets_mm)}", "door")


def _short(plan: Plan, mm: float) -> str:
    """A level beside the ladder, whose ends say above and below what."""
    name = plan.project.datum.name
    words = level(mm, name)
    return words if words.startswith("same") else words.removesuffix(f" {name}")


# --------------------------------------------------------------------------------- tables


def _rules(plan: Plan, zone: ZoneHeights, top: ZoneTop) -> Table:
    """Every rule in order from the one that binds, with what the plan's level has in hand over it."""
    columns = (
        Column("asks for", "text", 21),
        Column("rule and place", "text", None),
        Column("finished level", "text", 40),
        Column("in this plan", "text", 33),
    )
    datum = plan.project.datum.name
    rows: list[Row] = []
    for word, sign, bounds in (("at least", 1.0, zone.window.at_least), ("at most", -1.0, zone.window.at_most)):
        for n, b in enumerate(bounds):
            left = half_up(sign * (top.finished_mm - b.level_mm), 1)
            place = f", {b.place}" if b.place and b.place not in b.rule else ""
            says = "just fits" if left == 0 else f"{plain(left)} in hand" if left > 0 else f"{plain(-left)} short"
            rows.append(
                Row(
                    (word, f"{b.rule}{place}", level(b.level_mm, datum), says),
                    "heavy" if n == 0 and rows else "",
                    n == 0,
                )
            )
    rows += [
        Row(("advised", f"{b.rule}, {b.place}", f"{level(b.level_mm, datum)} or less", ""), "light")
        for b in zone.window.advised
    ]
    return Table(columns, tuple(rows), "Every rule, the one that binds first")


def _cures(zone: ZoneHeights) -> Table | None:
    if not zone.cures:
        return None
    columns = (
        Column("way out", "text", None),
        Column("answers", "text", 34),
        Column("area", "number", 16, "m²"),
        Column("volume", "number", 17, "L"),
        Column("work", "number", 21, "h"),
    )
    rows = tuple(
        Row(
            (
                f"{c.says[:1].upper()}{c.says[1:]}",
                c.rule,
                "" if c.area_m2 is None else number(c.area_m2, 2),
                "" if c.volume_l is None else number(c.volume_l, 1),
                "not known" if c.hours is None else "none" if c.hours == 0 else number(c.hours, 1),
            )
        )
        for c in zone.cures
    )
    return Table(columns, rows, "Ways to make the level of this plan fit, the least work first")
