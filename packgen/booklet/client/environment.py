"""Section 14: what leaves the site, where the water goes, noise and dust; amounts from counts."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.booklet.client.blocks import Rows, Section
from packgen.booklet.client.refs import see
from packgen.booklet.dense import Desk
from packgen.booklet.pour_words import counted, fill_of, pack_word
from packgen.booklet.rows import Column, Row
from packgen.booklet.tools import boarded, mixed
from packgen.core.figures import clock, number, plain, whole
from packgen.plan import Plan


def section(plan: Plan) -> Section:
    """One table."""
    rows = [Row(cells, "light") for cells in _rows(plan)]
    columns = (Column("what", width_mm=42), Column("how much, and how reckoned"), Column("where it goes", width_mm=62))
    return Section("environment", "Environment and waste", (Rows(Desk(columns, tuple(rows))),))


def _rows(plan: Plan) -> Iterator[tuple[str, str, str]]:
    yield from _fills(plan)
    left = sum(b.offcut_mm for b in plan.layout.cut_list.bars) - sum(plan.layout.cut_list.offcuts_kept_mm)
    bars = len(plan.layout.cut_list.bars)
    yield (
        "Offcuts of rails",
        f"{number(left / 1000, 1)} m from {counted(bars, 'bar')} cut, by the cut list",
        "sorted, to whoever takes that material back",
    )
    sheets = [o for o in plan.purchase.order if "layer" in o.item or "membrane" in o.item or "mat" in o.item.split()]
    if sheets:
        yield (
            "Offcuts of sheet and strip",
            f"part of the spare in {see('materials')}: laps stay in the floor, the rest is waste",
            "sorted, with plastics or as the local rules say",
        )
    if boarded(plan):
        yield "Offcuts of boards", f"part of the spare in {see('materials')}", "sorted, with wood"
    if mixed(plan):
        water = [p.water_l for p in plan.sequence.pours if p.water_l]
        least, most = (number(whole(sum(w[k] for w in water))) for k in (0, 1))
        yield (
            "Water mixed in",
            f"{least} to {most} L for all batches; it stays in the fill or dries into the air",
            "–",
        )
        yield (
            "Wash water",
            "amount not stated; alkaline, with cement in it",
            "never into a drain or the ground: settled in a tub, water and sludge taken away",
        )
    yield "Dust", "cutting, mixing and sweeping, " + see("risks"), "extraction or wet cutting, doors shut"
    yield "Noise", _noise(plan), "hours as the local rules and the neighbours say"


def _fills(plan: Plan) -> Iterator[tuple[str, str, str]]:
    names = list(dict.fromkeys(p.fill for p in plan.sequence.pours))
    for name in names:
        pours = [p for p in plan.sequence.pours if p.fill == name]
        fill = fill_of(plan, pours[0])
        bags, litres = sum(p.bags for p in pours), sum(p.volume_l for p in pours)
        more = f", {name}" if len(names) > 1 else ""
        yield (
            f"Empty {pack_word(fill)}s{more}",
            f"{number(bags)}; the weight of an empty one is not stated",
            "shaken out, bundled, with paper or as the bag says",
        )
        spare = bags * fill.bag.makes - litres
        yield (
            f"Surplus fill{more}",
            f"at most {number(spare)} L: {number(bags)} x {plain(fill.bag.makes)} less {number(litres)} in the floor"
            + (", less what settles" if fill.settles else ""),
            "hardened, with mineral waste" if fill.mixed else "dry, kept or given back",
        )


def _noise(plan: Plan) -> str:
    pours = plan.sequence.pours
    if not pours:
        return "not stated"
    start, end = min(p.starts_at for p in pours), max(p.ends_at for p in pours)
    return f"working hours of the plan {clock(start)} to {clock(end)}; noise of the plant not stated"
