"""Section 17: fills compared at the same finished level, the heights reckoned again for each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from packgen.booklet.client.blocks import MISSING, Block, Either, Rows, Section, Text
from packgen.booklet.dense import Desk
from packgen.booklet.facts import first_upper
from packgen.booklet.rows import SHEET_MM, Column, Row, Table
from packgen.core.figures import listed, number, plain, whole
from packgen.plan import Plan
from packgen.quantities.model import FillComparison
from packgen.review.codes import CODES

NAME_MM = 52.0
MOST_FILLS = 4
LESS = ("Finish above the rails, mm", "Legs with extension", "Depth allowed, mm", "Resistance to heat, m²K/W")

Cell = Callable[[Plan, FillComparison], str]


def section(plan: Plan) -> Section:
    """A column a fill."""
    fills = plan.purchase.comparison
    if len(fills) < 2:
        name = fills[0].fill if fills else plan.project.fills.use
        text = (
            f"One fill is described in the project file: {name}. No other was compared. To compare, describe another "
            "fill in the file; its heights, weight, dates and price are then reckoned anew at the same finished level."
        )
        return Section("options", "Options compared", (Text(text),))
    lead = (
        "All at the same finished level. Where a fill takes or leaves a board, the rails move: legs, depths, litres, "
        "weight and dates are reckoned again for each. An option that fails is shown with the code of what it fails."
    )
    blocks: list[Block] = [Text(lead, leads=True), _compared(plan, fills[:MOST_FILLS]), Rows(_when(plan, fills))]
    return Section("options", "Options compared", tuple(blocks))


def _compared(plan: Plan, fills: Sequence[FillComparison]) -> Either:
    """All rows, or without those that the others tell nearly as well."""
    whole = _table(plan, fills)
    fewer = replace(whole, rows=tuple(r for r in whole.rows if r.cells[0] not in LESS))
    return Either(4, (Rows(whole),), (Rows(fewer),))


def _table(plan: Plan, fills: Sequence[FillComparison]) -> Table:
    currency = plan.purchase.money.currency
    lines: tuple[tuple[str, Cell], ...] = (
        ("finish above the rails, mm", lambda _, f: plain(f.finish_mm)),
        ("rails against the chosen fill, mm", lambda _, f: _moved(f)),
        ("legs, shortest to longest, mm", lambda _, f: f"{plain(f.leg_least_mm)} to {plain(f.leg_most_mm)}"),
        ("legs with extension", lambda _, f: str(f.extensions)),
        ("legs that cannot be set", lambda _, f: listed(list(f.legs_not_fitting), most=4) or "none"),
        ("mean depth, mm", lambda _, f: plain(f.mean_mm, 1)),
        ("smallest and greatest depth, mm", lambda _, f: f"{whole(f.smallest_mm)} and {whole(f.greatest_mm)}"),
        ("depth allowed, mm", lambda _, f: f"{plain(f.least_allowed_mm)} to {plain(f.most_allowed_mm)}"),
        ("fill in the floor, L", lambda _, f: number(f.volume_l)),
        ("bags, and their mass", lambda _, f: f"{number(f.bags)}, {number(f.bag_mass_kg)} kg"),
        ("weight for good, kN/m²", lambda _, f: number(f.dry_kn_m2, 2)),
        ("weight fresh, without people, kN/m²", lambda _, f: number(f.fresh_kn_m2, 2)),
        ("allowed for good, kN/m²", lambda p, _: _allowed(p)),
        ("moisture test not before", lambda _, f: _days(f)),
        ("resistance to heat, m²K/W", lambda _, f: _resistance(f)),
        (f"bags and boards, {currency}", lambda _, f: number(f.price, 2) if f.price is not None else "not priced"),
        ("fails", lambda _, f: listed(list(f.fails), most=3) or "nothing"),
    )
    width = (SHEET_MM - NAME_MM) / len(fills)
    columns = (
        Column("", width_mm=NAME_MM),
        *(Column(first_upper(f.fill) + (" (chosen)" if f.used else ""), width_mm=width) for f in fills),
    )
    rows = [Row((first_upper(name), *(cell(plan, f) for f in fills)), "light") for name, cell in lines]
    return Desk(columns, tuple(rows))


def _moved(f: FillComparison) -> str:
    n = whole(f.legs_moved_mm)
    return "the same" if n == 0 else f"{abs(n)} {'higher' if n > 0 else 'lower'}"


def _allowed(plan: Plan) -> str:
    allowed = plan.quantities.weight.allowed_dry_kn_m2
    return number(allowed, 2) if allowed is not None else MISSING


def _days(f: FillComparison) -> str:
    return f"{f.drying_days} days after filling" if f.drying_days is not None else "nothing has to dry"


def _resistance(f: FillComparison) -> str:
    return number(f.resistance_m2k_w, 2) if f.resistance_m2k_w is not None else MISSING


# ------------------------------------------------------------------------------ when to choose


def _when(plan: Plan, fills: Sequence[FillComparison]) -> Table:
    rows = [Row((first_upper(f.fill), _speaks_for(f, fills), _speaks_against(plan, f)), "light") for f in fills]
    columns = (Column("fill", width_mm=34), Column("speaks for it"), Column("speaks against it", width_mm=74))
    return Desk(columns, tuple(rows), "When to choose it, and when not")


def _speaks_for(f: FillComparison, fills: Sequence[FillComparison]) -> str:
    said = []
    if f.dry_kn_m2 == min(o.dry_kn_m2 for o in fills):
        said.append(f"lightest, {number(f.dry_kn_m2, 2)} kN/m² for good")
    if f.drying_days is None:
        said.append("nothing has to dry")
    elif all(o.drying_days is not None for o in fills) and f.drying_days == min(o.drying_days or 0 for o in fills):
        said.append(f"tested first, after {f.drying_days} days")
    if f.price is not None and all(o.price is not None for o in fills) and f.price == min(o.price or 0 for o in fills):
        said.append("lowest price of bags and boards")
    resistances = [o.resistance_m2k_w for o in fills if o.resistance_m2k_w is not None]
    if len(resistances) == len(fills) and f.resistance_m2k_w == max(resistances):
        said.append("keeps most heat from going down")
    return first_upper("; ".join(said)) or "No figure is the best of those compared"


def _speaks_against(plan: Plan, f: FillComparison) -> str:
    if f.fails:
        note = next((n.says for n in plan.findings if n.code == "comparison-fails" and n.where == f.fill), "")
        return first_upper(note) or "; ".join(f"{first_upper(CODES[c].meaning)} ({c})" for c in f.fails[:3])
    said = []
    if f.drying_days:
        said.append(f"{f.drying_days} days until a test")
    if f.extensions:
        said.append(f"{f.extensions} legs need an extension")
    return first_upper("; ".join(said)) or "Nothing in these figures"
