"""Faults: what is seen, why, what to do now, what to look at later. Only rows that fit this plan's fill."""

from __future__ import annotations

from packgen.booklet.fault_rows import FAULTS, Fault
from packgen.booklet.pour_words import fills_in_use
from packgen.booklet.rows import BODY_MM, Column, Row, Table, parted
from packgen.booklet.sheet import Sheet
from packgen.plan import Plan
from packgen.project.work_model import Fill

LEAD_MM = 8.0


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One sheet, two where many faults can happen. A heavy rule parts grid, filling, surface and the time after."""
    shown = [f for f in FAULTS if fits(plan, f)]
    first = [k == 0 or f.at != shown[k - 1].at for k, f in enumerate(shown)]
    table = Table(
        (
            Column("you see", width_mm=41),
            Column("likely cause", width_mm=40),
            Column("do now", width_mm=53),
            Column("later"),
        ),
        tuple(
            Row((f.see, f.cause, f.now, f.later or "–"), "heavy" if new else "light")
            for f, new in zip(shown, first, strict=True)
        ),
    )
    parts = parted(table, BODY_MM - LEAD_MM)
    return tuple(
        Sheet(
            slug="faults" if n == 1 else f"faults-{n}",
            title="Faults: cause and cure",
            purpose="Find what you see at the left, then do what stands under now.",
            template="faults.html",
            view={"table": part},
            part=n,
            parts=len(parts),
        )
        for n, part in enumerate(parts, 1)
    )


def fits(plan: Plan, fault: Fault) -> bool:
    """Whether a fault can happen on this job."""
    return any(_happens(plan, fill, fault) for fill in fills_in_use(plan))


def _happens(plan: Plan, fill: Fill, fault: Fault) -> bool:
    have = {
        "mixed": fill.mixed,
        "cement": fill.cement,
        "screed": fill.mixed and fill.family in ("sand-cement", "calcium sulfate", "other"),
        "trowelled": fill.mixed and fill.family != "drainage",
        "loose": fill.family == "granulate",
        "boards": fill.board_on_top is not None,
        "heated": plan.project.heating is not None or any(s.heating for s in plan.project.services),
        "mixer": fill.mixed and bool(plan.project.plant),
        "drainage": fill.mixed and fill.family == "drainage",
        "bead": fill.mixed and fill.family == "bead",
        "dries": any(w.key == "test_not_before" for w in plan.sequence.waiting),
    }
    return all(have[n] for n in fault.needs)
