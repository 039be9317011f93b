"""Parts plan and cut list: cut once, mark, put in place."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.booklet.dense import Desk
from packgen.booklet.drawing.operations import clip_on, cut_piece
from packgen.booklet.drawing.parts_plan import parts_plans
from packgen.booklet.flow import Flow
from packgen.booklet.pour_words import counted
from packgen.booklet.room import body_below_band
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.booklet.textsize import lines_of
from packgen.core.figures import listed, number, plain
from packgen.heights.model import LegSetting
from packgen.layout.model import Bar, CutList, Piece, Rail
from packgen.plan import Plan
from packgen.project.work_model import LegPart
from packgen.trade.layout_rules import layout_rule

BARS_A_PAGE = 24
CAPTION_MM = 8.0
PICTURES_MM = 44.0
PURPOSE = "Cut once, mark each piece with its name, put it where the plan shows it."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The plan with the legs by kind, the cut list, the rails piece by piece."""
    kinds, lead = _kinds(plan), _lead(plan)
    body = body_below_band(plan, "order")
    first_mm = body - kinds.height_mm - CAPTION_MM - 5.0
    drawings = parts_plans(plan, 178.0, first_mm, body - CAPTION_MM - 5.0)
    head: list[dict[str, object]] = [{"drawing": d, "caption": _caption(plan)} for d, _ in drawings]
    left = body - drawings[-1][1] - CAPTION_MM - 5.0
    if left < kinds.height_mm:
        head.append({})
        left = body
    head[-1]["kinds"] = kinds
    flow = Flow(left - kinds.height_mm, body)
    cuts = _cut_list(plan)
    pictures = [p for p in (cut_piece(plan), clip_on(plan)) if p is not None]
    lead_mm = lines_of(lead, 10, 178) * 4.5 + 3.0 + PICTURES_MM
    if flow.left_mm < lead_mm + cuts.head_mm + 40.0:
        flow.new_page()
    flow.take(lead_mm)
    lead_page = len(flow.pages)
    flow.add(cuts, even=True, most_rows=BARS_A_PAGE)
    flow.add(_rails(plan), even=True)
    pages: list[dict[str, object]] = [{"tables": tables} for tables in flow.pages]
    pages[lead_page - 1] |= {"lead": lead, "pictures": pictures}
    pages = [*head[:-1], head[-1] | pages[0], *pages[1:]]
    empty: dict[str, object] = {"drawing": "", "caption": "", "kinds": None, "tables": (), "lead": "", "pictures": ()}
    return tuple(
        Sheet(
            slug="parts" if n == 1 else f"parts-{n}",
            title="Parts and cut list",
            purpose=PURPOSE,
            template="parts.html",
            view=empty | page,
            behind="order",
            part=n,
            parts=len(pages),
        )
        for n, page in enumerate(pages, 1)
    )


def _caption(plan: Plan) -> str:
    strip = plain(plan.project.kit.edge_strip)
    return f"Ticks: ends of pieces. Every end of a rail stays {strip} clear of the wall."


def _kinds(plan: Plan) -> Table:
    """Legs and rails by kind: how many, and where the unusual ones stand."""
    q, kit, cuts = plan.quantities, plan.project.kit, plan.layout.cut_list
    rows = []
    for own in kit.legs:
        mine = [leg for leg in plan.heights.legs if leg.leg_kind == own.name]
        alone = [leg for leg in mine if leg.parts == "plain"]
        if alone or len(kit.legs) == 1:
            words = f"{own.name} alone" if own.name else "leg alone"
            rows.append(Row((words, str(len(alone)), f"{plain(own.shortest)} to {plain(own.longest)} high")))
        rows += [Row((words, str(len(nodes)), f"at {listed(nodes, most=20)}")) for words, nodes in _made_up(own, mine)]
    misfits = [leg.node for leg in plan.heights.legs if not leg.fits]
    if misfits:
        rows.append(Row(("leg that does not fit", str(len(misfits)), f"at {listed(misfits, most=20)}"), strong=True))
    cut = [p for p in plan.layout.pieces if p.cut]
    for k, stock in enumerate(cuts.stocks):
        long, several = plain(stock.stock_mm), f" of {plain(stock.stock_mm)}" if len(cuts.stocks) > 1 else ""
        gives = f", giving {len(cut)} cut pieces" if not several else ""
        row = (f"rail{several}, whole", str(stock.whole), f"pieces of {long}, used as they come")
        rows.append(Row(row, "" if k else "light"))
        rows.append(Row((f"rail{several}, to be cut", str(stock.cut), f"pieces of {long}{gives}")))
    at_hand = [b for b in cuts.bars if b.at_hand]
    if at_hand:
        rows.append(Row(("offcut at hand", str(len(at_hand)), "not bought: the bars marked so in the cut list")))
    rows.append(Row(("edge strip", f"{number(q.strip_m, 1)} m", "walls, columns and frames")))
    columns = (Column("part", "text", 44), Column("number", "number", 22), Column("", "text", None))
    return Table(columns, tuple(rows), "What goes in; spare is added on the order list")


def _made_up(own: LegPart, legs: Sequence[LegSetting]) -> list[tuple[str, list[str]]]:
    """One kind of leg with extensions, and on packing: what it is called and at which nodes."""
    found: dict[str, list[str]] = {}
    name = own.name or "leg"
    for leg in sorted(legs, key=lambda leg: (leg.parts == "packing", leg.extension_kind, leg.extensions)):
        if leg.parts == "packing":
            found.setdefault(f"{name} on packing", []).append(leg.node)
        elif leg.parts == "extension":
            what = leg.extension_kind or ("extension" if leg.extensions == 1 else "extensions")
            number = f"{leg.extensions} x " if leg.extensions > 1 and leg.extension_kind else ""
            found.setdefault(f"{name} with {number}{what}", []).append(leg.node)
    return list(found.items())


# --------------------------------------------------------------------------------- cut list


def _lead(plan: Plan) -> str:
    cuts = plan.layout.cut_list
    if not cuts.bars:
        return "No piece has to be cut. Ends clip on the legs."
    saw = plain(cuts.bars[0].saw_cut_mm)
    ends = " An uncut end clips on a node; the sawn end goes to the wall." if plan.project.kit.clipped else ""
    return (
        f"Saw cut {saw} wide. Mark each piece with its name before it leaves the saw.{ends} "
        f"{_proof(cuts)} {_offcuts(cuts, plan.project.kit.clipped)}"
    )


def _proof(cuts: CutList) -> str:
    """How good the list is, as far as it is proven."""
    number_of, least_mm = cuts.stock_lengths, cuts.bought_mm - sum(b.stock_mm for b in cuts.bars if not b.at_hand)
    made = f"{counted(len(cuts.bars), 'bar is', 'bars are')} cut; {counted(number_of, 'stock length')} in all"
    if len(cuts.stocks) > 1:
        made += f", {number(cuts.bought_mm / 1000, 2)} m"
        good, least = "with less", f"{number((least_mm + cuts.bound_mm) / 1000, 2)} m"
    else:
        good, least = "with fewer", str(cuts.whole + cuts.bound)
    if cuts.proven:
        return f"{made}, and no list can do it {good}."
    return f"{made}; this is not proven the least, and no list can do it with less than {least}."


def _offcuts(cuts: CutList, clipped: bool) -> str:
    """The offcuts that are kept, longest first, and what is waste."""
    kept = [b for b in cuts.bars if b.offcut_mm >= layout_rule("offcut_kept").value_mm]
    waste = sum(b.offcut_mm for b in cuts.bars if b not in kept)
    said = [f"{plain(b.offcut_mm)}{_ends(b) if clipped else ''}" for b in sorted(kept, key=lambda b: -b.offcut_mm)]
    total = sum(b.offcut_mm for b in kept)
    words = f"Offcuts kept: {listed(said, most=12)}, {plain(total)} in all." if kept else "No offcut is worth keeping."
    return f"{words} Waste: {plain(waste)}."


def _ends(bar: Bar) -> str:
    return "" if bar.offcut_ends else " (no uncut end)"


def _cut_list(plan: Plan) -> Table:
    """A bar a row; the sum of cuts, saw cuts and offcut is the bar."""
    pieces = {p.id: p for p in plan.layout.pieces}
    keep = layout_rule("offcut_kept").value_mm
    rows = tuple(
        Row(_bar_cells(bar, pieces, keep), "light" if i and i % 5 == 0 else "")
        for i, bar in enumerate(plan.layout.cut_list.bars)
    )
    columns = (
        Column("bar", "text", 12),
        Column("pieces, in sawing order", "text", None),
        Column("uncut ends", "number", 18, "kept"),
        Column("sum of the bar", "text", 52, "mm"),
        Column("offcut", "number", 16, "mm"),
        Column("offcut is", "text", 20),
        Column("cut", "tick", 12),
    )
    sizes = listed([plain(s.stock_mm) for s in plan.layout.cut_list.stocks])
    return Desk(columns, rows, f"Cut list in sawing order, bars of {sizes}")


def _bar_cells(bar: Bar, pieces: dict[str, Piece], keep: float) -> tuple[str, ...]:
    named = ", ".join(f"{name}: {mm}" for name, mm in zip(bar.pieces, bar.lengths_mm, strict=True))
    ends = sum(pieces[name].factory_ends for name in bar.pieces if name in pieces)
    sums = " + ".join(
        [*(str(mm) for mm in bar.lengths_mm), f"{bar.saw_cuts} x {plain(bar.saw_cut_mm)}", plain(bar.offcut_mm)]
    )
    use = "kept" if bar.offcut_mm >= keep else "waste"
    name = f"{bar.number}, at hand" if bar.at_hand else str(bar.number)
    return (name, named, str(ends), f"{sums} = {bar.stock_mm}", plain(bar.offcut_mm), use, "")


# --------------------------------------------------------------------------------- rails


def _rails(plan: Plan) -> Table:
    pieces = {p.id: p for p in plan.layout.pieces}
    kinds = {line.name: line.kind for line in plan.layout.lines}
    rows: list[Row] = []
    for kind, title in (
        ("numbered", "Along the room, pieces from left to right"),
        ("lettered", "Across the room, pieces from wall 1 inward"),
    ):
        rails = [r for r in plan.layout.rails if kinds.get(r.line) == kind]
        if rails:
            rows.append(Row((title,), "heavy" if rows else "", title=True))
        rows += [Row(_rail_cells(r, pieces), "light" if i and i % 5 == 0 else "") for i, r in enumerate(rails)]
    columns = (
        Column("rail", "text", 18),
        Column("over the nodes", "text", 30),
        Column("pieces", "text", None),
        Column("length", "number", 18, "mm"),
        Column("placed", "tick", 16),
    )
    return Desk(columns, tuple(rows), "Rails in laying order, piece by piece")


def _rail_cells(rail: Rail, pieces: dict[str, Piece]) -> tuple[str, ...]:
    nodes = f"{rail.nodes[0]} to {rail.nodes[-1]}" if len(rail.nodes) > 1 else "".join(rail.nodes)
    made = [pieces[name] for name in rail.pieces if name in pieces]
    return (rail.id, nodes, _runs(made), number(rail.length_mm), "")


def _runs(made: Sequence[Piece]) -> str:
    """Neighbouring whole pieces taken together, cut ones by name and length."""
    out: list[str] = []
    run: list[Piece] = []

    def close() -> None:
        if len(run) == 1:
            out.append(f"{run[0].id} whole")
        elif run:
            out.append(f"{run[0].id} to {run[-1].id}, {len(run)} whole")
        run.clear()

    for piece in made:
        if piece.cut:
            close()
            out.append(f"{piece.id} cut {piece.length_mm}")
        else:
            run.append(piece)
    close()
    return "; ".join(out)
