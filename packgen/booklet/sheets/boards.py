"""Boards on the rails: which piece lies where, and which board it is cut from."""

from __future__ import annotations

import itertools

from packgen.booklet.drawing.boards_plan import boards_plans
from packgen.booklet.flow import Flow
from packgen.booklet.pour_words import counted
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import listed, plain
from packgen.layout.board_model import BoardPiece, BoardPlan
from packgen.plan import Plan
from packgen.trade.amounts import amount

CAPTION_MM = 8.0
LEAD_MM = 4.5
PLAN_MM = 150.0
PURPOSE = "Every board end on a rail, rows staggered, the offcut of one row starts the next."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The plan, the rows in laying order, the boards with what is left of them. None where no fill wants boards."""
    plans = plan.quantities.boards
    if not any(p.pieces for p in plans):
        return ()
    body = body_below_band(plan, "fill")
    drawings = boards_plans(plan, 178.0, PLAN_MM, body - CAPTION_MM - 5.0)
    leads = [_lead(plan, boards) for boards in plans]
    lead_mm = sum(lines_of(text, 10, 178) * LEAD_MM + 2.0 for text in leads) + 3.0
    pages: list[dict[str, object]] = [{"drawing": d, "caption": _caption(plan)} for d, _ in drawings]
    left = body - drawings[-1][1] - CAPTION_MM - 5.0
    flow = Flow(left, body)
    flow.take(lead_mm)
    lead_page = len(flow.pages)
    for boards in plans:
        flow.add(_rows(boards), even=True)
        flow.add(_cuts(boards), even=True)
    tables: list[dict[str, object]] = [{"tables": found} for found in flow.pages]
    tables[lead_page - 1] |= {"leads": leads}
    pages = [*pages[:-1], pages[-1] | tables[0], *tables[1:]]
    empty: dict[str, object] = {"drawing": "", "caption": "", "leads": (), "tables": ()}
    return tuple(
        Sheet(
            slug="boards" if n == 1 else f"boards-{n}",
            title="Boards",
            purpose=PURPOSE,
            template="boards.html",
            view=empty | page,
            behind="fill",
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _caption(plan: Plan) -> str:
    return f"Pieces by row and place. Keep {plain(plan.project.kit.edge_strip)} free at every wall and column."


def _lead(plan: Plan, boards: BoardPlan) -> str:
    """What is laid, how many boards, how they are staggered and screwed."""
    rules, rows = boards.rules, len({p.row for p in boards.pieces})
    way = "along wall 1" if boards.along_x else "into the room, square to wall 1"
    good = (
        "no list of these pieces can do it with fewer"
        if boards.proven
        else f"any list of these pieces needs at least {boards.bound}"
    )
    apart = (
        f"Joints of neighbouring rows are {plain(boards.stagger_mm)} apart or more."
        if boards.stagger_mm is not None
        else ""
    )
    off = [p.name for p in boards.pieces if not p.on_rails]
    loose = f" Not wholly on rails, a noggin under the edge: {listed(off)}." if off else ""
    sides = "Long edges are tongue and groove and glued." if rules.free_edges else ""
    edge, field = plain(amount("screw_edge")), plain(amount("screw_field"))
    return " ".join(
        words
        for words in (
            f"{plain(boards.thickness_mm)} {boards.material}, boards of {plain(rules.long_mm)} x "
            f"{plain(rules.wide_mm)}: "
            f"{counted(boards.boards, 'board')} for {counted(len(boards.pieces), 'piece')} in {counted(rows, 'row')} "
            f"{way}; {good}.",
            f"{counted(boards.from_offcuts, 'row starts', 'rows start')} with an offcut of an earlier row."
            if boards.from_offcuts
            else "",
            apart,
            sides,
            f"Screws every {edge} on rails under edges, every {field} on rails within.{loose}",
            "Measure each piece in place before you cut it.",
        )
        if words
    )


def _rows(boards: BoardPlan) -> Table:
    """The pieces in laying order, a piece a row; rows parted by a line."""
    rows: list[Row] = []
    for _, group in itertools.groupby(boards.pieces, key=lambda p: p.row):
        rows += [Row(_cells(p), "" if k else "light") for k, p in enumerate(group)]
    columns = (
        Column("piece", "text", 18),
        Column("long", "number", 18, "mm"),
        Column("wide", "number", 18, "mm"),
        Column("from board", "number", 24),
        Column("", "text", None),
        Column("cut", "tick", 14),
        Column("screwed", "tick", 18),
    )
    return Table(columns, tuple(rows), f"Pieces in laying order, {plain(boards.thickness_mm)} {boards.material}")


def _cells(piece: BoardPiece) -> tuple[str, ...]:
    said = []
    if piece.whole:
        said.append("whole board")
    if piece.shaped:
        said.append("largest sides; cut to shape in place")
    if not piece.on_rails:
        said.append("noggin under the free edge")
    return (piece.name, str(piece.length_mm), str(piece.width_mm), str(piece.board), ", ".join(said), "", "")


def _cuts(boards: BoardPlan) -> Table:
    """Each board with its pieces in sawing order and what is left of it."""
    pieces: dict[int, list[BoardPiece]] = {}
    for p in boards.pieces:
        pieces.setdefault(p.board, []).append(p)
    left: dict[int, list[str]] = {}
    for o in boards.offcuts:
        left.setdefault(o.board, []).append(f"{o.length_mm} x {o.width_mm}")
    rows = tuple(
        Row(
            (
                str(number),
                ", ".join(f"{p.name}: {p.length_mm} x {p.width_mm}" for p in mine),
                ", ".join(left.get(number, ())) or "none to keep",
                "",
            ),
            "light" if number % 5 == 1 and number > 1 else "",
        )
        for number, mine in sorted(pieces.items())
    )
    columns = (
        Column("board", "number", 14),
        Column("pieces, in sawing order", "text", None),
        Column("offcuts left at the end", "text", 66),
        Column("cut", "tick", 14),
    )
    rules = boards.rules
    return Table(columns, rows, f"Board list, boards of {plain(rules.long_mm)} x {plain(rules.wide_mm)}")
