"""Boards over the rails: laid out by fill, bought whole, screwed by spacing."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import half_up, plain, round_up
from packgen.core.plane import Polygon, area, band, together, without
from packgen.core.worked import COUNTED, FILE, ON_PLAN, Assumed, Given, Worked
from packgen.layout.board_model import BoardPlan, Rail, Rules
from packgen.layout.boards import lay_boards
from packgen.layout.model import Layout
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import BoardOnTop
from packgen.quantities.model import BayFill, OrderLine
from packgen.quantities.order_rows import Board, Rows, rule_given
from packgen.trade.amounts import amount, amount_rule, layer_density
from packgen.trade.layout_rules import layout_rules

BOARDS = "Boards and screws"
CRUMB_MM2 = 100.0


def board_plans(project: Project, layout: Layout, bays: Sequence[BayFill]) -> tuple[tuple[BoardPlan, BoardOnTop], ...]:
    """The boards of each kind over the bays whose fill wants them, in the order of the bays. Rows are numbered
    through."""
    fills = dict(project.fills.described)
    under: dict[tuple[object, ...], tuple[BoardOnTop, set[str]]] = {}
    for bay in bays:
        board = fills.get(bay.fill, project.fills.used).board_on_top
        if board is not None:
            key = (board.thickness, board.material, board.length, board.width, board.edges)
            under.setdefault(key, (board, set()))[1].add(bay.bay)
    plans: list[tuple[BoardPlan, BoardOnTop]] = []
    for board, names in under.values():
        rows = max((p.row for plan, _ in plans for p in plan.pieces), default=0)
        plans.append((boards_over(project, layout, board, names, rows), board))
    return tuple((plan, board) for plan, board in plans if plan.pieces)


def boards_over(project: Project, layout: Layout, board: BoardOnTop, bays: set[str], rows: int = 0) -> BoardPlan:
    """Boards over these bays; rows: how many there are already."""
    kinds = {line.name: line.kind for line in layout.lines}
    rails = [Rail(kinds[r.line], r.start, r.end) for r in layout.rails]
    floor = _floor(layout, bays)
    near = amount("screw_at_edge")
    return lay_boards(floor, rails, board.material, board.thickness, board_rules(project, board), near, rows)


def board_rules(project: Project, board: BoardOnTop) -> Rules:
    """How this board is laid: as the file says, else as is common."""
    rules = layout_rules()
    return Rules(
        board.length or amount("sheet_long"),
        board.width or amount("sheet_wide"),
        board.edges == "tongue and groove",
        amount("board_stagger") * project.kit.module,
        amount("board_least"),
        amount("board_row"),
        rules.saw_cut if project.kit.saw_cut is None else project.kit.saw_cut,
        rules.overhang,
    )


def _floor(layout: Layout, bays: set[str]) -> tuple[Polygon, ...]:
    """The floor of these bays, parted by the joints that no board may bridge."""
    parts = together(b.shape for b in layout.bays if b.name in bays)
    joints = [band(j.line, max(j.width_mm, 1.0)) for j in layout.joints if j.line.length_mm > 0]
    return tuple(q for p in parts for q in (without(p, joints) if joints else (p,)) if area(q) > CRUMB_MM2)


# --------------------------------------------------------------------------------- order list


def bought_m2(plan: BoardPlan) -> float:
    """Area of the boards bought, to 2 decimals."""
    return half_up(plan.boards * (plan.rules.long_mm / 1000) * (plan.rules.wide_mm / 1000), 2)


def board_lines(made: Rows, project: Project, plan: BoardPlan, board: BoardOnTop) -> None:
    """Boards and their screws on the order list."""
    item = f"{board.material} board {plain(board.thickness)}"
    key, long, wide = f"order/{item}", plan.rules.long_mm / 1000, plan.rules.wide_mm / 1000
    total = bought_m2(plan)
    sides = tuple(
        given(board, side, f"{side} of a board", metres, "m") if said else _assumed_side(made, rule, metres)
        for side, said, metres, rule in (
            ("length", board.length, long, "sheet_long"),
            ("width", board.width, wide, "sheet_wide"),
        )
    )
    made.worked.append(
        Worked(
            key,
            item,
            "boards of the board list x length x width of a board",
            f"{plan.boards} x {plain(long)} x {plain(wide)}",
            total,
            2,
            "m²",
            FILE if board.length else amount_rule("sheet_long").source,
            (),
            (Given(f"boards of {item} in the board list", plan.boards, "boards", COUNTED), *sides),
        )
    )
    mass = made.board_mass(key, item, total, Board(board, layer_density(f"{board.material} board")))
    size = f"{plan.boards} of {plain(plan.rules.long_mm)} x {plain(plan.rules.wide_mm)}"
    one = _one_board(made, plan, mass, key, item)
    made.lines.append(OrderLine(BOARDS, item, total, 2, "m²", "", mass, size, heaviest_kg=one, key=key))
    for rule in ("board_stagger", "board_least", "board_row"):
        made.spare(rule, "pieces of board")
    _screws(made, project, plan, board)


def _one_board(made: Rows, plan: BoardPlan, mass: float, key: str, item: str) -> float:
    """Mass of one board, kg: whoever carries it wants to know."""
    one = half_up(mass / plan.boards, 0)
    figures = (Given(f"boards of {item} in the board list", plan.boards, "boards", COUNTED),)
    numbers = f"{plain(mass)} / {plan.boards}"
    name, needs = f"mass of one board of {item}", (f"{key}/mass",)
    made.further.append(
        Worked(f"{key}/one", name, "mass of all / boards", numbers, one, 0, "kg", COUNTED, needs, figures)
    )
    return one


def _assumed_side(made: Rows, rule: str, metres: float) -> Given:
    long, wide = plain(amount("sheet_long")), plain(amount("sheet_wide"))
    found = amount_rule(rule)
    made.assumed["sheet"] = Assumed(
        "size of a board as bought", f"{long} x {wide}", "mm", found.source, "board on top: length", "pieces of board"
    )
    return Given(found.says, metres, "m", found.source)


def _screws(made: Rows, project: Project, plan: BoardPlan, board: BoardOnTop) -> None:
    """Screws: on rails beside the edges of each piece at the edge distance, on rails within it at the wider one."""
    edge, field, spare = amount("screw_edge") / 1000, amount("screw_field") / 1000, amount("screws")
    edges_m, within_m = half_up(plan.edges_m, 1), half_up(plan.within_m, 1)
    total = round_up((edges_m / edge + within_m / field) * (1 + spare))
    length = project.kit.screw or board.thickness + project.kit.rail.height
    item = f"screws {plain(length)} for {board.material} board {plain(board.thickness)}"
    key = f"order/{item}"
    figures = (
        Given("rails under edges of the pieces of board", edges_m, "m", ON_PLAN),
        Given(amount_rule("screw_edge").says, edge, "m", amount_rule("screw_edge").source),
        Given("rails under the pieces, away from their edges", within_m, "m", ON_PLAN),
        Given(amount_rule("screw_field").says, field, "m", amount_rule("screw_field").source),
        rule_given("screws"),
    )
    formula = "(rails under edges / edge distance + rails within / field distance) x (1 + spare), rounded up"
    first, second = f"{plain(edges_m, 1)} / {plain(edge)}", f"{plain(within_m, 1)} / {plain(field)}"
    numbers = f"ceil(({first} + {second}) x (1 + {plain(spare)}))"
    source = amount_rule("screw_edge").source
    made.worked.append(Worked(key, item, formula, numbers, total, 0, "pieces", source, (), figures))
    for rule in ("screw_edge", "screw_field", "screw_at_edge"):
        made.spare(rule, "number of screws")
    if project.kit.screw is None:
        made.assumed["screw"] = Assumed(
            "screw length: board and rail height, tip just inside the rail",
            plain(length),
            "mm",
            amount_rule("screws").source,
            "kit: screw",
            "screws",
        )
    spare_words = made.spare("screws", "screws")
    made.lines.append(OrderLine(BOARDS, item, total, 0, "pieces", spare_words, None, "boards", key=key))
