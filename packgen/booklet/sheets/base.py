"""The base: accept or repair; its relief, its high and low places, and the level book behind them."""

from __future__ import annotations

from packgen.booklet.base_known import known_words, read_next_table
from packgen.booklet.base_spots import Spot, place_words, spots
from packgen.booklet.book_tables import book_pages
from packgen.booklet.drawing.relief_plan import mixed_levels, relief_plan
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import day, level, listed, number, plain
from packgen.plan import Plan
from packgen.trade.setting_out import setting_rule

PURPOSE = "Accept the base or repair it before anything stands on it."
FOUND_MM = 44.0  # what the reader fills in below the steps
CAPTION_MM = 12.0
LEAST_PLAN_MM = 90.0
GAP_MM = 9.0  # between a drawing, its table and the foot


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """Facts, loads and steps; the relief with its highs and lows; the level book."""
    highs, lows = spots(plan)
    pages: list[dict[str, object]] = [_facts(plan, highs), *_relief(plan, highs, lows), *book_pages(plan)]
    empty: dict[str, object] = {
        "facts": (),
        "loads": None,
        "steps": (),
        "found": False,
        "drawing": "",
        "caption": "",
        "spots": None,
        "tables": (),
        "note": "",
    }
    return tuple(
        Sheet(
            slug="base" if n == 1 else f"base-{n}",
            title="The base",
            purpose=PURPOSE,
            template="base.html",
            view=empty | page,
            behind="base",
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


# --------------------------------------------------------------------------------- facts, loads, steps


def _facts(plan: Plan, highs: tuple[Spot, ...]) -> dict[str, object]:
    return {"facts": _facts_rows(plan), "loads": _loads(plan), "steps": _steps(plan, highs), "found": True}


def _facts_rows(plan: Plan) -> tuple[tuple[str, str], ...]:
    base = plan.project.base
    rows = [("kind", base.kind)]
    if not base.timber:
        rows.append(("age", f"{plain(base.age)} days" if base.age is not None else "unknown"))
    if base.on_ground:
        rows.append(("membrane against ground water", base.membrane))
    rows.append(("insulation", base.insulation))
    rows.append(("old covering", base.old_covering))
    damp = base.damp_reading
    if damp.state != "read" or damp.value is None:
        rows.append(("damp reading", damp.state if damp.state != "read" else "unknown"))
    else:
        date = f", {day(damp.date)}" if damp.date else ""
        rows.append(("damp reading", f"{plain(damp.value)} {damp.unit} by {damp.method or 'method not named'}{date}"))
    if base.joists is not None:
        j = base.joists
        rows.append(("joists", f"{plain(j.width)} x {plain(j.depth)} at {plain(j.spacing)}"))
    if base.boards is not None:
        rows.append(("boards", f"{plain(base.boards.thickness)}, {base.boards.condition}"))
    if base.engineer is not None:
        e = base.engineer
        letter = f", {e.letter}" if e.letter else ""
        date = f", {day(e.date)}" if e.date else ""
        rows.append(("engineer's word on the structure", f"{e.confirmed}{letter}{date}"))
    if base.waterproofing is not None:
        w = base.waterproofing
        rows.append(("waterproofing", f"{w.kind or 'kind not named'}; done: {w.done}"))
    if base.note:
        rows.append(("note", base.note))
    return tuple(rows)


def _loads(plan: Plan) -> Table:
    """Dry for good and fresh on the day, at the mean depth and on the worst square metre, against what is allowed."""
    w = plan.quantities.weight
    rows = [
        Row(
            (
                "for good, dry, with all layers",
                number(w.dry_kn_m2, 2),
                number(w.worst_dry_kn_m2, 2),
                number(w.allowed_dry_kn_m2, 2) if w.allowed_dry_kn_m2 is not None else "not given",
            )
        ),
        Row(
            (
                f"on the day, fresh, with people {plain(w.people_kn_m2, 2)}",
                number(w.fresh_with_people_kn_m2, 2),
                number(w.worst_fresh_kn_m2 + w.people_kn_m2, 2),
                number(w.allowed_working_kn_m2, 2) if w.allowed_working_kn_m2 is not None else "not given",
            )
        ),
    ]
    columns = (
        Column("weight of this floor", "text", 82),
        Column("at the mean depth", "number", 32, "kN/m²"),
        Column("worst square metre", "number", 32, "kN/m²"),
        Column("allowed", "number", None, "kN/m²"),
    )
    caption = f"Weight, worst near {w.worst_at}" if w.worst_at else "Weight"
    return Table(columns, tuple(rows), caption)


def _steps(plan: Plan, highs: tuple[Spot, ...]) -> tuple[str, ...]:
    base, kit, fill = plan.project.base, plan.project.kit, plan.project.fills.used
    lap = plain(setting_rule("foil_lap").value)
    steps = ["Clear, sweep and vacuum. Nothing loose, oily or wet stays."]
    if base.old_covering not in ("none", "unknown") or base.old_covering == "unknown":
        steps.append("Old covering: touch nothing of it before the holds on it are lifted.")
    if base.timber:
        steps.append("Screw loose boards down; no board moves underfoot.")
    if fill.family == "granulate":
        steps.append("Close every gap, knot hole and edge: light fill runs out wherever a pencil goes in.")
    else:
        steps.append("Fill holes and open gaps; tap for hollow spots and mark them below.")
    cut = [s for s in highs if s.take_off_mm]
    if cut:
        steps.append(f"Take down high places: {listed([f'{s.take_off_mm} off at {s.name}' for s in cut])}.")
    else:
        steps.append("No high place has to come down for this plan.")
    if base.waterproofing is not None:
        steps.append("Waterproofing: tested and whole before anything stands on it; a protection mat under every foot.")
    strip = plain(kit.edge_strip)
    if kit.edge_strip:
        steps.append(f"Edge strip {strip} on every wall, column and frame, from the base to above the covering.")
    if base.separating_layer:
        laps = "" if "lap" in base.separating_layer.lower() else f", laps at least {lap} and taped"
        steps.append(f"Separating layer: {base.separating_layer}{laps}; turned up on the room side of the strip.")
    steps.append("Read every high place again after work on it. What differs: enter it in the file and print again.")
    return tuple(steps)


# --------------------------------------------------------------------------------- relief


def _relief(plan: Plan, highs: tuple[Spot, ...], lows: tuple[Spot, ...]) -> list[dict[str, object]]:
    table = _spots_table(plan, (*highs, *lows))
    note = known_words(plan)
    note_mm = lines_of(note, 10, 178) * 4.5 + 3.0
    body = body_below_band(plan, "base")
    parts = parted(table, body - CAPTION_MM - note_mm - LEAST_PLAN_MM, body) if table.rows else ()
    used = parts[0].height_mm if parts else 0.0
    after = read_next_table(plan)
    room = body - CAPTION_MM - note_mm - used - 5.0
    drawing, _ = relief_plan(plan, 178.0, room, {s.name: s.at for s in highs}, {s.name: s.at for s in lows})
    first: dict[str, object] = {
        "drawing": drawing,
        "caption": _figures_say(plan),
        "spots": parts[0] if parts else None,
        "note": note,
    }
    more: list[dict[str, object]] = [{"spots": part} for part in parts[1:]]
    if after is None:
        return [first, *more]
    places = [r.at for r in plan.heights.read_next]
    left = room - after.height_mm - GAP_MM
    if not more and left >= LEAST_PLAN_MM:
        marked = ({s.name: s.at for s in highs}, {s.name: s.at for s in lows})
        return [first | {"drawing": relief_plan(plan, 178.0, left, *marked, places)[0], "tables": (after,)}]
    drawing, _ = relief_plan(plan, 178.0, body - CAPTION_MM - after.height_mm - GAP_MM, {}, {}, places)
    return [first, *more, {"drawing": drawing, "caption": _figures_say(plan), "tables": (after,)}]


def _figures_say(plan: Plan) -> str:
    name = plan.project.datum.name
    if mixed_levels(plan):
        return f"Figures: mm above or below {name}, at the readings and on the level lines."
    levels = [p.level_mm for p in plan.survey.levels.points]
    side = "above" if levels and levels[0] > 0 else "below"
    return (
        f"Figures: mm {side} {name}, at the readings and on the level lines. A bigger figure is a lower base."
        if (side == "below")
        else f"Figures: mm {side} {name}, at the readings and on the level lines."
    )


def _spots_table(plan: Plan, found: tuple[Spot, ...]) -> Table:
    rows = []
    before = ""
    for spot in found:
        along, into = place_words(plan, spot.at)
        rule = "heavy" if before and spot.kind != before else ""
        cells = (spot.name, spot.kind, along, into, level(spot.level_mm, plan.project.datum.name), spot.follows)
        rows.append(Row(cells, rule, strong=spot.take_off_mm > 0))  # type: ignore[arg-type]
        before = spot.kind
    columns = (
        Column("place", "text", 16),
        Column("", "text", 13),
        Column("along wall 1", "number", 25, "from corner 1"),
        Column("into the room", "number", 25, "from wall 1"),
        Column("level", "text", 33),
        Column("what follows", "text", None),
    )
    return Table(columns, tuple(rows), "High and low places")
