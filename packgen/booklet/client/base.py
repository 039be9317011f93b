"""Section 7: the base as it was found: what is known of it, the survey and how well it closed, and the weights."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.base_spots import Spot, place_words, spots
from packgen.booklet.client.blocks import MISSING, Block, Either, Rows, Section, Text
from packgen.booklet.client.tables import pairs
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import Column, Row, Table
from packgen.core.figures import day, level, listed, number, plain, whole
from packgen.plan import Plan
from packgen.survey.model import RoomOutline, Suspect

WHICH = {"high": "least fill", "low": "most fill"}
MOST_SPOTS, MOST_SUSPECTS, MOST_ROOMS = 6, 4, 6


def section(plan: Plan) -> Section:
    """What is stated, what was measured, high and low places, weights."""
    blocks: list[Block] = [
        Rows(pairs(tuple(_stated(plan)), "As stated in the project file")),
        Rows(pairs(tuple(_measured(plan)), "As measured")),
        Either(4, (Rows(_spots(plan)),), ()),
    ]
    if suspects := plan.survey.suspects:
        blocks.append(Text(_suspects(plan, suspects)))
    blocks += [Rows(_weights(plan), whole=True), Text(_allowed(plan))]
    return Section("base", "Base conditions found", tuple(blocks))


def _stated(plan: Plan) -> Iterator[tuple[str, str]]:
    base = plan.project.base
    yield "kind", base.kind
    if not base.timber:
        yield "age", f"{plain(base.age)} days" if base.age is not None else MISSING
    if base.on_ground:
        yield "membrane against ground water", _word(base.membrane)
    yield "insulation", base.insulation
    yield "old covering", _word(base.old_covering)
    yield "damp reading", _damp(plan)
    if base.separating_layer:
        yield "separating layer", base.separating_layer
    if base.joists is not None:
        j = base.joists
        span = f", clear span {plain(j.clear_span)}" if j.clear_span else ""
        yield "joists", f"{plain(j.width)} x {plain(j.depth)} at {plain(j.spacing)}{span}"
    if base.boards is not None:
        yield "boards", f"{plain(base.boards.thickness)}, {base.boards.condition}"
    if base.engineer is not None:
        e = base.engineer
        paper = f", letter {e.letter}" if e.letter else ""
        yield "engineer's word on the structure", f"{e.confirmed}{paper}{f', {day(e.date)}' if e.date else ''}"
    if base.waterproofing is not None:
        w = base.waterproofing
        mat = _word(w.protection_mat_under_the_feet)
        yield "waterproofing", f"{w.kind or 'kind not stated'}; done: {w.done}; protection mat under the feet: {mat}"
    if base.note:
        yield "note", base.note


def _word(said: str) -> str:
    return "unknown: nobody has said" if said == "unknown" else said


def _damp(plan: Plan) -> str:
    damp = plan.project.base.damp_reading
    if damp.state == "not needed":
        return "not needed, by the project file"
    if damp.state != "read" or damp.value is None:
        return "none made"
    date = f", {day(damp.date)}" if damp.date else ", date not stated"
    return f"{plain(damp.value)} {damp.unit} by {damp.method or 'a method not stated'}{date}"


def _measured(plan: Plan) -> Iterator[tuple[str, str]]:
    book, datum = plan.survey.levels, plan.project.datum.name
    setups = plan.project.levels.setups
    days = list(dict.fromkeys(day(s.date) if s.date else "date not stated" for s in setups))
    readers = list(dict.fromkeys(s.by or "nobody named" for s in setups))
    count = sum(line.kind == "between" for line in book.lines)
    yield (
        "levels",
        f"{count} readings from {len(setups)} set-up{'s' if len(setups) > 1 else ''}, {listed(days, most=4)}, by "
        f"{listed(readers, most=3)}",
    )
    if book.misclosure_mm is None:
        yield "closing of the levels", "not known: the levels were not closed on a known height"
    else:
        within = abs(book.misclosure_mm) <= book.allowed_mm
        yield (
            "closing of the levels",
            f"{plain(abs(book.misclosure_mm), 1)} mm, {plain(book.allowed_mm)} mm allowed"
            f"{'; shared out over the set-ups' if within and book.misclosure_mm else ''}",
        )
    levels = [p.level_mm for p in book.points]
    if levels:
        high, low = max(levels), min(levels)
        yield (
            "level of the base",
            f"from {level(high, datum)} to {level(low, datum)}, {whole(whole(high) - whole(low))} mm in all, at "
            f"{len(levels)} places",
        )
    yield "under the legs", _known(plan)
    for room in plan.survey.rooms[:MOST_ROOMS]:
        yield f"walls of {room.name}", _walls(room)


def _known(plan: Plan) -> str:
    legs = plan.heights.legs
    count = {k: sum(leg.known == k for leg in legs) for k in ("read", "between", "beyond")}
    text = f"read under {count['read']} of {len(legs)} legs; under {count['between']} taken between readings"
    return text + (f"; {count['beyond']} lie beyond the outermost readings" if count["beyond"] else "")


def _walls(room: RoomOutline) -> str:
    parts = []
    if room.closing_error_mm is not None:
        parts.append(f"the taped walls close within {plain(room.closing_error_mm, 1)} mm")
    if room.tapes:
        off = max(abs(t.residual_mm) for t in room.tapes)
        tapes = "check tape differs" if len(room.tapes) == 1 else f"{len(room.tapes)} check tapes differ"
        parts.append(f"{tapes} by {plain(off, 1)} mm at most")
    else:
        parts.append("no check tape")
    if room.spare_tapes < 0:
        parts.append("the shape is not fixed by what was measured")
    elif room.spare_tapes == 0:
        parts.append("no measurement to spare")
    return first_upper("; ".join(parts))


def _spots(plan: Plan) -> Table:
    highs, lows = spots(plan)
    found: tuple[Spot, ...] = (*highs[: MOST_SPOTS - len(lows)], *lows)
    rows = []
    for spot in found:
        along, into = place_words(plan, spot.at)
        words = level(spot.level_mm, plan.project.datum.name)
        rows.append(Row((WHICH[spot.kind], spot.name, along, into, words, spot.follows), "light"))
    columns = (
        Column("", width_mm=20),
        Column("read at", width_mm=17),
        Column("along wall 1", "number", 25),
        Column("into the room", "number", 27),
        Column("level", width_mm=36),
        Column("what follows"),
    )
    return Desk(columns, tuple(rows))


def _suspects(plan: Plan, suspects: tuple[Suspect, ...]) -> str:
    parts = [
        f"{s.point} stands {plain(abs(s.off_mm), 0)} {'above' if s.off_mm > 0 else 'below'} "
        f"{'its neighbours' if s.why == 'neighbours' else 'its other sight'}"
        for s in suspects[:MOST_SUSPECTS]
    ]
    more = len(suspects) - MOST_SUSPECTS
    tail = f", and {more} more" if more > 0 else ""
    return f"Readings in doubt, to be taken again: {listed(parts)}{tail}."


def _weights(plan: Plan) -> Table:
    w = plan.quantities.weight

    def allowed(value: float | None) -> str:
        return number(value, 2) if value is not None else MISSING

    rows = (
        Row(
            (
                "for good, dry, with all layers",
                number(w.dry_kg_m2, 1),
                number(w.dry_kn_m2, 2),
                number(w.worst_dry_kn_m2, 2),
                allowed(w.allowed_dry_kn_m2),
            ),
            "light",
        ),
        Row(
            (
                f"while working, fresh, with people {plain(w.people_kn_m2, 2)} kN/m²",
                number(w.fresh_kg_m2, 1),
                number(w.fresh_with_people_kn_m2, 2),
                number(w.worst_fresh_kn_m2 + w.people_kn_m2, 2),
                allowed(w.allowed_working_kn_m2),
            ),
            "light",
        ),
    )
    columns = (
        Column("weight of this floor"),
        Column("without people", "number", 26, "kg/m²"),
        Column("at the mean depth", "number", 27, "kN/m²"),
        Column("worst square metre", "number", 27, "kN/m²"),
        Column("allowed", "number", 24, "kN/m²"),
    )
    caption = f"Weight; worst square metre near {w.worst_at}" if w.worst_at else "Weight"
    return Desk(columns, rows, caption)


def _allowed(plan: Plan) -> str:
    w, base = plan.quantities.weight, plan.project.base
    bags = f" Not more than {w.bags_per_m2} bags on any one square metre." if w.bags_per_m2 is not None else ""
    if w.allowed_dry_kn_m2 is None:
        return f"The project file states no load that is allowed: nothing here is held against one.{bags}"
    letter = f", letter {base.engineer.letter}" if base.engineer and base.engineer.letter else ""
    return (
        f"Allowed for good: the number in the project file{letter}. While working: that number and the imposed load of "
        f"{plain(w.imposed_kn_m2, 2)} kN/m². Whether the structure carries it is the engineer's word, not ours.{bags}"
    )
