"""Read me first: the idea, how a staff is read, the costly mistakes, the words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from packgen.booklet.drawing.cutaway import cutaway
from packgen.booklet.drawing.strip import strip
from packgen.booklet.facts import PackFacts
from packgen.booklet.rows import BODY_MM, SHEET_MM
from packgen.booklet.sheet import Sheet
from packgen.booklet.staff import Practice, staff
from packgen.booklet.textsize import lines_of
from packgen.booklet.tools import boarded, mixed
from packgen.core.figures import level, plain, whole
from packgen.plan import Plan

HEADS_MM = 3 * 11.5 + 7.5 + 7.0  # four headings and the line with the telephone
BELOW_MM, ABOVE_MM = 28, 24  # of the staff drawn, round the target


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Two sheets. The words are chosen when all other sheets are made: only those that stand on them."""
    target, sight = _example(plan)
    low, high = target - BELOW_MM, target + ABOVE_MM
    lines = (Practice("a", target), Practice("b", _clear(target - 13)), Practice("c", _clear(target + 9)))
    purpose = "Ten minutes that save a day: the idea, the staff, the mistakes, the words."
    one: dict[str, object] = {
        "idea": _idea(plan),
        "picture": cutaway(plan),
        "strip": strip(plan),
        "staff": staff(low, high, lines),
        "reading": _reading(plan, target, sight),
    }
    two: dict[str, object] = {"mistakes": _mistakes(plan), "stop_for": _stop_for(plan), "tiles": not boarded(plan)}
    pages: tuple[tuple[str, dict[str, object]], ...] = (("first.html", one), ("first_2.html", two))
    return tuple(
        Sheet(
            slug="first" if n == 1 else "first-2",
            title="Read me first",
            purpose=purpose,
            template=template,
            view=view,
            part=n,
            parts=2,
        )
        for n, (template, view) in enumerate(pages, 1)
    )


def words_room(sheets: Sequence[Sheet], facts: PackFacts) -> float:
    """Height that the second sheet has for the words, below the mistakes, the stops and the line of sheets."""
    two = next((s for s in sheets if s.template == "first_2.html"), None)
    if two is None:
        return 0.0
    rest = cast(Sequence[tuple[str, str]], two.view["mistakes"]), cast(Sequence[str], two.view["stop_for"])
    items = [*(f"{name}. {says}" for name, says in rest[0]), *rest[1]]
    listed = sum(lines_of(text, 11, SHEET_MM - 7) * 5.3 + 1.0 for text in items)
    way = lines_of(" → ".join(f"{g.numbers} {g.title}" for g in facts.groups), 10, SHEET_MM * 0.95) * 4.7
    return BODY_MM - listed - way - HEADS_MM


def _clear(reading: int) -> int:
    """The reading moved so that its line does not run through a figure of the staff."""
    return reading + {0: 4, 1: 3, 2: 2, 8: -2, 9: -3}.get(reading % 10, 0)


def _example(plan: Plan) -> tuple[int, int]:
    """A target and the backsight it follows from: today's where the file has it, else that of the first set-up."""
    sight = whole(
        plan.project.today.backsight if plan.project.today else plan.project.levels.setups[0].start_on.reading
    )
    if plan.project.levels.read_as != "staff readings" and not plan.project.today:
        sight = 1400
    return sight - whole(plan.heights.zones[0].rail_top_mm), sight


def _idea(plan: Plan) -> tuple[str, ...]:
    legs = plan.heights.legs
    lengths = [x.leg_mm for x in legs if x.leg_mm > 0] or [0]
    shortest, longest = min(lengths), max(lengths)
    datum, zone = plan.project.datum.name, plan.heights.zones[0]
    top = level(zone.rail_top_mm, datum)
    falls = " where the fall starts" if zone.fall_per_m else ""
    fill = plan.project.fills.used.kind
    last = (
        "Boards go on the rails, then the covering."
        if boarded(plan)
        else "Once it is hard and dry the covering goes on. The rails stay in."
    )
    level_or_fall = (
        f"with a fall of {plain(zone.fall_per_m, 1)} per metre"
        if zone.fall_per_m
        else "level, however crooked the base is"
    )
    return (
        f"The base is crooked; the legs are not all of one length, here {shortest} to {longest} mm.",
        f"Each leg is turned until its rail stands right: top of rail {top}{falls}.",
        f"So the rails lie {level_or_fall}.",
        f"Between them we fill with {fill}, bay by bay, and draw a straight board across two rails.",
        last,
    )


def _reading(plan: Plan, target: int, sight: int) -> tuple[str, ...]:
    datum = plan.project.datum.name
    deep = whole(plan.heights.zones[0].rail_top_mm)
    sum_ = f"{sight} + {-deep} = {target}" if deep <= 0 else f"{sight} - {deep} = {target}"
    return (
        "The laser draws one level line through the room. The staff stands on what we want to know.",
        f"Read the line on the staff, first on {datum}: that is the backsight, for example {sight}.",
        f"The rail must show {sum_}: the target. Every day has its own backsight, so its own target.",
        "A bigger reading is a lower rail: turn up. A smaller reading is a higher rail: turn down.",
        "Hold the staff upright: sway it a little and take the smallest reading.",
        "Practise: read lines a, b and c beside. The answers stand on their heads.",
    )


def _mistakes(plan: Plan) -> tuple[tuple[str, str], ...]:
    datum = plan.project.datum.name
    rows = [
        (
            f"No check of {datum}",
            "Read it first and last, and after every knock. Over 1 mm: read again since the last.",
        ),
        ("An old sheet", "The sign at the foot must be the sign on the cover. If not, throw the sheet away."),
        ("An edge left open", "Close each edge before the bay beside it is filled, or the fill runs out."),
    ]
    if mixed(plan):
        rows.append(("Too much water", "Measure the water of every batch. Wet looks easy and stays weak."))
    else:
        rows.append(("Fill walked on loose", "Lay a board, work backwards, and cover each bay the same day."))
    if any(w.key == "test_not_before" for w in plan.sequence.waiting):
        rows.append(("Covering before the test", "The date says when to test. Only a passed test lets you cover."))
    else:
        rows.append(("A long leg in a short place", "Sort the legs by the leg table before the first is set."))
    return tuple(rows)


def _stop_for(plan: Plan) -> tuple[str, ...]:
    rows = [
        "A pipe, cable, joint or hole that is not on the plan: stop there, write it on the sheet Holds, ask.",
        "A leg that will not reach its target, or a base that gives way: stop there, ask.",
        f"{plan.project.datum.name} or the laser was moved: read everything since the last good check again.",
        "A sheet with a hatched band: what it shows may not be done yet.",
    ]
    if mixed(plan):
        rows.append("A batch too wet, too old or a bag gone hard: do not place it.")
    return tuple(rows)
