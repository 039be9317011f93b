"""Where the grid starts: the chosen first lines beside the plainest, in two small plans, figures and words."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from packgen.booklet.drawing.canvas import Pen
from packgen.booklet.drawing.labels import centred
from packgen.booklet.drawing.plan_marks import joints, services
from packgen.booklet.drawing.plan_view import SLIM, plan_view
from packgen.booklet.drawing.walls import cut_outs, walls
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import listed, plain
from packgen.core.plane import Point, Segment
from packgen.layout.clashes import feet_on
from packgen.layout.model import FirstLinesChoice
from packgen.plan import Plan
from packgen.project.work_model import Merit
from packgen.survey.model import RoomOutline
from packgen.trade.layout_rules import layout_rules

PURPOSE = "Why the first lines lie where they do, and what the plainest grid would have cost."
WIDE_MM = 86.0
HIGH_MM = 92.0
DISC_MM = 0.8
RAIL = Pen(0.45)


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """A sheet for each room whose first lines were moved off the plainest; none where all are the plainest."""
    rooms = {room.name: room for room in plan.survey.rooms}
    moved = [c for c in plan.layout.first_lines if c.by == "search" and c.decided is not None]
    return tuple(
        Sheet(
            slug="grid" if n == 1 else f"grid-{n}",
            title="Where the grid starts",
            purpose=PURPOSE,
            template="grid.html",
            view=_view(plan, rooms[choice.room], choice),
            behind="grid",
            part=n,
            parts=len(moved),
        )
        for n, choice in enumerate(moved, 1)
    )


def _view(plan: Plan, room: RoomOutline, choice: FirstLinesChoice) -> dict[str, object]:
    mine = [Segment(r.start, r.end) for r in plan.layout.rails if r.room == room.name]
    spots = [n.at for n in plan.layout.nodes if n.room == room.name]
    foot = plan.project.kit.foot.diameter
    on = [at for at in spots if plan.layout.services and feet_on([at], plan.layout.services, foot)]
    here, there = (f"{plain(x)} along wall 1, {plain(y)} from wall 1" for x, y in (choice.chosen, choice.plain))
    discs = " Black discs: feet on a pipe or cable." if on or choice.plain_on else ""
    return {
        "room": room.name if len(plan.survey.rooms) > 1 else "",
        "says": _says(plan, choice),
        "chosen": _small(plan, room, mine, on, "Chosen grid"),
        "chosen_says": f"Chosen: first lines {here}.{discs}",
        "plainest": _small(plan, room, choice.plain_rails, choice.plain_on, "Plainest grid"),
        "plainest_says": f"Plainest: first lines {there}.",
        "table": _table(plan, choice),
        "order": _order(plan, choice),
    }


def _says(plan: Plan, choice: FirstLinesChoice) -> str:
    tried = round(plan.project.kit.module) ** 2
    won = next((w for w in choice.weighed if w.merit == choice.decided), None)
    gain = ""
    if won is not None and won.plain != won.chosen:
        gain = f" It has {won.chosen or 'none'} where the plainest has {won.plain or 'none'}: {_name(plan, won.merit)}."
    elif won is not None:
        gain = (
            f" Set out up to {plain(layout_rules().first_line_off)} off, the plainest could lose in "
            f"“{_name(plan, won.merit)}”; this one does not."
        )
    return (
        f"Every whole millimetre of a module was looked at both ways, {tried} pairs of first lines, and this pair "
        f"comes first.{gain} What setting out can spoil counts at its worst, with the first lines up to "
        f"{plain(layout_rules().first_line_off)} off."
    )


def _name(plan: Plan, merit: Merit) -> str:
    rules = layout_rules()
    return {
        "no short pieces": f"rail ends shorter than {plain(plan.project.kit.smallest_cut_piece)}",
        "no feet on pipes": "feet on a pipe or cable",
        "no feet near pipes": f"feet nearer to one than {plain(rules.near_service)}, or on it",
        "legs on readings": "spots read on the base with a leg on them",
        "first lines by walls": f"first lines more than {plain(rules.first_line_most)} from their wall",
        "lines at joints": f"sides of a joint without a line within {plain(rules.joint_leg)}",
        "lines at doors": f"doors with the next line {plain(rules.first_line_most)} to {plain(rules.overhang)} away",
        "few legs": "legs",
        "little stock": "stock lengths",
        "few cuts": "pieces to cut",
        "wide edges": f"edges with a strip under {plain(rules.needle_bay)} wide to float",
        "plain first lines": "distance from the plainest",
    }[merit]


def _table(plan: Plan, choice: FirstLinesChoice) -> Table:
    """All merits in the order in which they counted; the one that decided is marked."""
    rows = []
    for n, w in enumerate(choice.weighed, 1):
        more = w.chosen - w.plain
        change = "the same" if more == 0 else f"{abs(more)} {'more' if more > 0 else 'fewer'}"
        decided = w.merit == choice.decided
        rows.append(
            Row(
                (
                    str(n),
                    _name(plan, w.merit),
                    str(w.plain),
                    str(w.chosen),
                    f"{change}{', decided' if decided else ''}",
                ),
                strong=decided,
            )
        )
    columns = (
        Column("", "number", 8.0),
        Column("counted, in the order of preference", "text"),
        Column("plainest", "number", 22.0),
        Column("chosen", "number", 22.0),
        Column("chosen has", "text", 38.0),
    )
    return Table(columns, tuple(rows), "Both grids laid out in full")


def _order(plan: Plan, choice: FirstLinesChoice) -> tuple[str, ...]:
    x, y = choice.plain
    wish = listed([f"“{m}”" for m in choice.order[:2]])
    return (
        f"Another order: write prefer: [{choice.order[1]}, {choice.order[0]}] under kit; what is not named follows in "
        f"the order of the table. Here {wish} come first.",
        f"Your own first lines: write first lines: {{along wall 1: {plain(x)}, from wall 1: {plain(y)}}} under kit, or "
        "prefer: [plain first lines] to keep the plainest.",
    )


def _small(plan: Plan, room: RoomOutline, rails: Sequence[Segment], on: Sequence[Point], title: str) -> Markup:
    view = plan_view(plan, WIDE_MM, HIGH_MM, SLIM, bar=0.0, rooms=(room,))
    services(view, plan, words=False)
    for rail in rails:
        view.line(rail.a, rail.b, RAIL)
    joints(view, plan)
    cut_outs(view, plan)
    walls(view, plan)
    view.canvas.discs([view.at(at) for at in on if view.shows(at, 0.5)], DISC_MM, "#000")
    first = room.walls[0]
    middle = ((first.line.a[0] + first.line.b[0]) / 2, (first.line.a[1] + first.line.b[1]) / 2)
    x, y = view.at(middle)
    view.canvas.place([centred(x, y - 5.0, first.name, 3.5)])
    return view.canvas.svg(f"{title}, wall 1 on top, scale 1 to {view.scale}")
