"""The arithmetic of depths: one bay in full by prisms, then the whole floor."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.figures import half_up, plain
from packgen.core.profile import Prism, prisms
from packgen.core.surface import Depths, Surface
from packgen.core.worked import ON_PLAN, Given, Source, Worked
from packgen.layout.model import Bay

PRISM = Source("volume of a prism cut by a plane: plan area x depth at its middle", known="practice")
MOST_PRISMS = 12  # a line longer than this is no longer read


def depth_lines(
    bays: Sequence[Bay], found: Sequence[Depths], whole: Depths, top: Surface, base: Surface
) -> tuple[Worked, ...]:
    """Mean depth of one bay from its prisms, and the mean depth of the floor; metres and mm, so that m² x mm is L."""
    lines = []
    chosen = _bay_to_show(bays, found, top, base)
    if chosen is not None:
        lines.append(_bay_line(*chosen))
    lines.append(_whole_line(whole))
    return tuple(lines)


def _bay_to_show(
    bays: Sequence[Bay], found: Sequence[Depths], top: Surface, base: Surface
) -> tuple[Bay, Depths, tuple[Prism, ...]] | None:
    """The largest bay whose prisms fit on a line; more than one prism where there is such a bay."""
    best: tuple[Bay, Depths, tuple[Prism, ...]] | None = None
    filled = [i for i in range(len(bays)) if found[i].least_mm >= 0]
    order = sorted(filled, key=lambda i: (-round(bays[i].area_m2, 4), i))
    for i in order[:MOST_PRISMS]:
        parts = prisms(top, base, bays[i].shape)
        if 2 <= len(parts) <= MOST_PRISMS:
            return bays[i], found[i], parts
        if best is None and len(parts) == 1:
            best = bays[i], found[i], parts
    return best


def _bay_line(bay: Bay, found: Depths, parts: Sequence[Prism]) -> Worked:
    mean = half_up(found.mean_mm, 1)
    for digits in (2, 3, 4, 5, 6):
        rows = [(half_up(p.area_mm2 / 1e6, digits), half_up(p.mean_mm, digits)) for p in parts]
        area = sum(a for a, _ in rows)
        if min(a for a, _ in rows) > 0 and half_up(sum(a * d for a, d in rows) / area, 1) == mean:
            break
    sums = " + ".join(f"{plain(a, digits)} x {plain(d, digits)}" for a, d in rows)
    areas = " + ".join(plain(a, digits) for a, _ in rows)
    return Worked(
        f"bay/{bay.name}/mean depth",
        f"mean depth of bay {bay.name}",
        "(area x depth at the middle of each prism, added) / area",
        f"({sums}) / ({areas})",
        mean,
        1,
        "mm",
        PRISM,
        tuple(f"bay/{bay.name}/prism {k}" for k in range(1, len(rows) + 1)),
        tuple(Given(f"plan area of prism {k} of bay {bay.name}", a, "m²", ON_PLAN) for k, (a, _) in enumerate(rows, 1)),
    )


def _whole_line(whole: Depths) -> Worked:
    mean, area = half_up(abs(whole.mean_mm), 1), whole.area_mm2 / 1e6
    for digits in (2, 3, 4, 6):
        litres, m2 = half_up(abs(whole.volume_l), digits), half_up(area, digits)
        if half_up(litres / m2, 1) == mean:
            break
    return Worked(
        "depth/mean",
        "mean depth, for ordering" if whole.volume_l >= 0 else "base above rail top, on average",
        "litres of all bays / their area",
        f"{plain(litres, digits)} / {plain(m2, digits)}",
        mean,
        1,
        "mm",
        PRISM,
        given=(
            Given("litres between rail tops and base, not rounded bay by bay", litres, "L", PRISM),
            Given("floor that is filled", m2, "m²", ON_PLAN),
        ),
    )
