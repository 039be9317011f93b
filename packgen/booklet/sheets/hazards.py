"""Hazards and cautions: what can hurt a person or the floor, and what to do."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.hazard_texts import CEMENT, HAZARDS, NOT_YOURS, STANDING, Hazard
from packgen.booklet.numbered import PEOPLE, numbered
from packgen.booklet.rows import BODY_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.booklet.sheets.holds import found_and_limit
from packgen.booklet.signs import mark
from packgen.booklet.small_plans import hazard_plan
from packgen.core.finding import Finding
from packgen.core.plane import Point, centroid
from packgen.plan import Plan

FORM_MM = 34.0
MOST_PLAN_MM = 150.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """People first, then the floor; a small plan with the numbers where there is room."""
    people, floor = _people(plan), _floor(plan)
    pages: list[list[Table]] = [[]]
    left = BODY_MM - FORM_MM
    for table in (people, floor):
        if not table.rows:
            continue
        parts = parted(table, left, BODY_MM) if left > 50 else parted(table, BODY_MM)
        if left <= 50:
            pages.append([])
            left = BODY_MM
        for i, part in enumerate(parts):
            if i:
                pages.append([])
                left = BODY_MM
            pages[-1].append(part)
            left -= part.height_mm
    drawing = hazard_plan(plan, _places(plan), min(MOST_PLAN_MM, left - 4))
    return tuple(
        Sheet(
            slug="hazards" if n == 1 else f"hazards-{n}",
            title="Hazards and cautions",
            purpose="What can hurt a person or the floor here, what to do, and whom to ask.",
            template="hazards.html",
            view={
                "first": n == 1,
                "tables": tuple(tables),
                "drawing": drawing if n == len(pages) else None,
                "no_cautions": not floor.rows,
                "not_yours": NOT_YOURS,
            },
            part=n,
            parts=len(pages),
        )
        for n, tables in enumerate(pages, 1)
    )


def _people(plan: Plan) -> Table:
    found: dict[str, list[tuple[int, Finding]]] = {}
    for n, f in numbered(plan):
        if f.code in PEOPLE and f.kind != "note":
            found.setdefault(f.code, []).append((n, f))
    standing = {s.code: s for s in ((CEMENT, *STANDING) if plan.project.fills.used.cement else STANDING)}
    rows: list[Row] = []
    for code in PEOPLE:
        text = HAZARDS[code]
        for n, f in found.get(code, []):
            rows.append(_row(mark(f.kind, n), f.says, f.where, "; ".join(f.cures), text))
        if code not in found and code in standing:
            s = standing[code]
            rows.append(_row(Markup(""), s.says, s.where, s.do, text))
    return Desk(
        (
            Column("no.", width_mm=10),
            Column("hazard", width_mm=60),
            Column("where, and who", width_mm=32),
            Column("what you do", width_mm=40),
            Column("if it happens"),
        ),
        tuple(rows),
        "What hurts people",
    )


def _row(sign: Markup, says: str, where: str, do: str, text: Hazard) -> Row:
    place = f"{first_upper(where)}\n{text.who}"
    cells = (sign, f"{text.title}: {says}", place, first_upper(do), text.if_it_happens)
    return Row(cells, "light")


def _floor(plan: Plan) -> Table:
    rows = [
        Row(
            (
                mark(f.kind, n),
                first_upper(f.where) or "Whole job",
                first_upper(f.says),
                found_and_limit(f),
                first_upper("; or ".join(f.cures)),
            ),
            "light",
        )
        for n, f in numbered(plan)
        if f.kind == "caution" and f.code not in PEOPLE
    ]
    return Desk(
        (
            Column("no.", width_mm=10),
            Column("where", width_mm=26),
            Column("caution"),
            Column("found, limit", width_mm=25),
            Column("what you do", width_mm=55),
        ),
        tuple(rows),
        "What hurts the floor",
    )


# ------------------------------------------------------------------------------ where


def _places(plan: Plan) -> tuple[tuple[int, Point], ...]:
    """Places of the cautions and person hazards that name something with a place in the plan."""
    known = _known_places(plan)
    out: list[tuple[int, Point]] = []
    taken: set[tuple[int, int]] = set()
    for n, f in numbered(plan):
        if f.kind == "note" or (f.kind == "stop" and f.code not in PEOPLE):
            continue
        for name, at in known:
            spot = (round(at[0] / 300), round(at[1] / 300))
            if _names(f.where, name) and spot not in taken:
                taken.add(spot)
                out.append((n, at))
                break
    return tuple(out)


def _names(where: str, name: str) -> bool:
    words = where.replace(",", " ").split()
    return name in words if " " not in name else name in where


def _known_places(plan: Plan) -> Sequence[tuple[str, Point]]:
    places: list[tuple[str, Point]] = [(n.id, n.at) for n in plan.layout.nodes]
    for room in plan.survey.rooms:
        for d in room.doors:
            places.append((d.name, ((d.line.a[0] + d.line.b[0]) / 2, (d.line.a[1] + d.line.b[1]) / 2)))
        places += [(c.name, centroid(c.shape)) for c in room.cut_outs]
        for w in room.walls:
            places.append((w.name, ((w.line.a[0] + w.line.b[0]) / 2, (w.line.a[1] + w.line.b[1]) / 2)))
    for run in plan.layout.services:
        if run.stretches:
            s = max(run.stretches, key=lambda s: s.length_mm)
            places.append((run.name, ((s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2)))
    for j in plan.layout.joints:
        places.append((f"joint {j.number}", ((j.line.a[0] + j.line.b[0]) / 2, (j.line.a[1] + j.line.b[1]) / 2)))
    return places
