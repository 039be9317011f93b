"""Depth map: where the fill is thin and thick, with the three depths kept apart."""

from __future__ import annotations

from packgen.booklet.base_spots import place_words, room_words
from packgen.booklet.dense import Desk
from packgen.booklet.depth_rules import source_words
from packgen.booklet.drawing.depth_plan import depth_plan
from packgen.booklet.drawing.floor_section import FloorSection, floor_section
from packgen.booklet.rows import BODY_MM, SHEET_MM, Column, Row, Table, parted, widest_mm
from packgen.booklet.sheet import Sheet
from packgen.core.figures import number, plain, whole
from packgen.core.plane import Point
from packgen.plan import Plan

PURPOSE = "Three depths, three purposes: mean for ordering, smallest for strength, greatest for drying."
CAPTION_MM = 12.0
LEAD_MM = 16.0
PAIR_MM = 16.0  # the lines under two sections side by side, which take more
CUT_MM = 9.0  # the line under a section and the gap after it
HALF_MM = 86.5  # of a section where two stand side by side
GAP_MM = 4.0  # between columns of the bay table
FIGURES_MM = 32.0  # area, mean depth and litres in one


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The map with the three depths, then the bays."""
    three = _three(plan)
    drawing, high = depth_plan(plan, 178.0, BODY_MM - three.height_mm - CAPTION_MM)
    pages: list[dict[str, object]] = [{"three": three, "drawing": drawing, "caption": _caption(plan)}]
    bays = _bays(plan)
    _put_cuts(plan, BODY_MM - three.height_mm - high - CAPTION_MM, pages, bays)
    pages += bays
    empty: dict[str, object] = {
        "three": None,
        "drawing": "",
        "caption": "",
        "thirds": (),
        "lead": "",
        "cuts": (),
        "pair": (),
    }
    return tuple(
        Sheet(
            slug="depths" if n == 1 else f"depths-{n}",
            title="Depth map",
            purpose=PURPOSE,
            template="depths.html",
            view=empty | page,
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _put_cuts(plan: Plan, below_map_mm: float, pages: list[dict[str, object]], bays: list[dict[str, object]]) -> None:
    """Puts both sections below the map or the last bays, side by side where they are too high; else on their own."""
    columns = bays[-1]["thirds"] if bays else ()
    used = max((t.height_mm for t in columns), default=BODY_MM) if isinstance(columns, tuple) else BODY_MM
    places = [(pages[0], below_map_mm), *((page, BODY_MM - LEAD_MM - used) for page in bays[-1:])]
    cuts = _cuts(plan, SHEET_MM)
    left = [room for _, room in places]
    where: list[int] = []
    for cut in cuts:
        tall = cut.high_mm + CUT_MM
        where += [k for k, room in enumerate(left) if room >= tall][:1]
        if where and len(where) == cuts.index(cut) + 1:
            left[where[-1]] -= tall
    if len(where) == len(cuts):
        for k, (page, _) in enumerate(places):
            page["cuts"] = tuple(c for c, at in zip(cuts, where, strict=True) if at == k)
        return
    pair = _cuts(plan, HALF_MM)
    room_for = [page for page, room in places if room >= max(c.high_mm for c in pair) + PAIR_MM]
    if room_for:
        room_for[0]["pair"] = pair
    else:
        pages.append({"cuts": cuts})


def _cuts(plan: Plan, paper_mm: float) -> tuple[FloorSection, FloorSection]:
    """A long section through the thinnest place and a cross section through the thickest."""
    depth = plan.heights.depth
    return (
        floor_section(plan, depth.least_at, "along", "smallest depth", paper_mm),
        floor_section(plan, depth.most_at, "across", "greatest depth", paper_mm),
    )


def _caption(plan: Plan) -> str:
    rule = plan.heights.rule
    least = next((x for x in rule.lines if x.rule == "least depth" and x.governs), None)
    where = f"; the least by {source_words(least.source)}" if least is not None else ""
    return (
        f"Figures: depth of the fill in mm, from the base to the rail top. Allowed {plain(rule.least_mm)} to "
        f"{plain(rule.most_mm)}{where}."
    )


def _three(plan: Plan) -> Table:
    depth, rule = plan.heights.depth, plan.heights.rule
    rows = [
        Row(("mean depth", number(depth.mean_mm, 1), "for ordering: litres, bags, weight", "over the whole floor", "")),
        Row(
            (
                "smallest depth",
                str(whole(depth.least_mm)) if depth.least_mm > 0 else "none",
                "for strength",
                place(plan, depth.least_at),
                f"{plain(rule.least_mm)} least",
            )
        ),
        Row(
            (
                "greatest depth",
                str(whole(depth.most_mm)),
                "for drying, and the longest legs",
                place(plan, depth.most_at),
                f"{plain(rule.most_mm)} most",
            )
        ),
    ]
    covers = sorted(plan.heights.covers, key=lambda c: (c.cover_mm - (c.needed_mm or 0.0), c.service))
    if covers:
        cover = covers[0]
        needed = f"{plain(cover.needed_mm)} least" if cover.needed_mm is not None else "no rule in the file"
        words = (f"over {cover.service}", place(plan, cover.at))
        rows.append(Row(("least cover", str(whole(cover.cover_mm)), *words, needed)))
    columns = (
        Column("", "text", 30),
        Column("mm", "set", 20),
        Column("what it is for", "text", 48),
        Column("where", "text", None),
        Column("allowed", "text", 28),
    )
    return Table(columns, tuple(rows), "The three depths")


def place(plan: Plan, at: Point) -> str:
    """A place in words: the node there or near, and the two distances."""
    along, into = place_words(plan, at)
    return f"{along} along wall 1, {into} into {room_words(plan, at)}"


# --------------------------------------------------------------------------------- bays


def _bays(plan: Plan) -> list[dict[str, object]]:
    """The bay table in columns side by side, its litres summed as printed."""
    name_mm = widest_mm((b.bay for b in plan.quantities.bays), 11.0)
    across = max(2, min(4, int((SHEET_MM + GAP_MM) // (name_mm + FIGURES_MM + GAP_MM))))
    wide = (SHEET_MM - (across - 1) * GAP_MM) / across
    columns = (
        Column("bay", "text", None),
        Column("area", "number", 11.0, "m²"),
        Column("mean", "number", 11.0, "mm"),
        Column("fill", "number", 10.0, "L"),
    )
    rows = tuple(
        Row(
            (b.bay, number(b.area_m2, 2), number(b.mean_depth_mm), number(b.volume_l)),
            "light" if i and i % 5 == 0 else "",
        )
        for i, b in enumerate(plan.quantities.bays)
    )
    if not rows:
        return []
    table = Desk(columns, rows, "", wide)
    total = number(plan.quantities.volume_l)
    lead = f"Bays with area, mean depth and fill. All together {total} litres, the sum of the printed rows; waste and "
    lead += "settling are added in the order."
    most = BODY_MM - LEAD_MM
    count = len(parted(table, most))
    pages = -(-count // across)
    room = most
    while room > 30.0 and len(parted(table, room - 5.0)) <= across * pages:
        room -= 5.0
    parts = parted(table, room)
    return [{"thirds": parts[k : k + across], "lead": lead} for k in range(0, len(parts), across)]
