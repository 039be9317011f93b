"""The fill of each bay: area, mean depth, litres as printed; their sum, and what is ordered for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packgen.core.figures import half_up, plain, whole
from packgen.core.nearest import first_holding
from packgen.core.plane import Point
from packgen.core.worked import FILE, Given, Worked
from packgen.heights.model import Heights, ZoneTop
from packgen.layout.model import Bay, Layout
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import Fill
from packgen.quantities.beds import drain_beds
from packgen.quantities.model import BayFill
from packgen.survey.model import Survey

MOST_TERMS = 24  # a sum of more rows than this is not written out term by term


def bay_fills(project: Project, survey: Survey, layout: Layout, heights: Heights) -> tuple[BayFill, ...]:
    """A row for each bay, in layout order. Litres = area (4 decimals) x mean depth (2 decimals): m² x mm is litres.

    A bay beside a channel or a drain takes its part of the bed below it.
    """
    beds: dict[str, tuple[float, float]] = {}
    for bed in drain_beds(project, survey, layout, heights):
        more = beds.get(bed.bay, (0.0, 0.0))
        beds[bed.bay] = (more[0] + bed.area_m2, more[1] + bed.volume_l)
    fill_of_zone = {z.zone: z.fill or project.fills.use for z in project.finishes}
    depths = dict(heights.bay_depths)
    middles = [at for at, _ in heights.spot_depths]
    zones = zones_at(heights.zones, middles) if middles else [heights.zones[0].name] * len(layout.bays)
    rows = []
    for bay, zone in zip(layout.bays, zones, strict=True):
        found = depths[bay.name]
        more = beds.get(bay.name, (0.0, 0.0))
        square = found.area_mm2 / 1e6 + more[0]
        area, mean = half_up(square, 4), half_up((found.volume_l + more[1]) / square, 2)
        fill = fill_of_zone.get(zone, project.fills.use)
        rows.append(BayFill(bay.name, area, mean, float(whole(area * mean)), zone, fill))
    return tuple(rows)


def zones_at(zones: Sequence[ZoneTop], at: Sequence[Point]) -> tuple[str, ...]:
    """Name of the zone at each place; the first where there is one zone or none claims it."""
    if len(zones) == 1:
        return (zones[0].name,) * len(at)
    return tuple(zones[k or 0].name for k in first_holding([z.region for z in zones], at))


def order_litres(litres: float, fill: Fill) -> float:
    """Litres to order for litres in place: litres x (1 + settles) x (1 + waste)   [l]

    settles: how far loose fill sinks when rapped; waste: what stays in the bucket. Source: the fill's own figures.
    """
    return litres * (1 + fill.settles) * (1 + fill.waste)


def fill_lines(rows: Sequence[BayFill], bays: Sequence[Bay]) -> tuple[Worked, ...]:
    """The litres of every bay, and their sum as a sum of printed rows."""
    lines = [
        Worked(
            f"bay/{row.bay}/litres",
            f"litres of bay {row.bay}",
            "area x mean depth",
            f"{plain(row.area_m2, 4)} x {plain(row.mean_depth_mm, 2)}",
            row.volume_l,
            0,
            "L",
            needs=(f"bay/{row.bay}/area", f"bay/{row.bay}/depth"),
        )
        for row in rows
    ]
    lines += _sum_lines(rows, bays)
    return tuple(lines)


def _sum_lines(rows: Sequence[BayFill], bays: Sequence[Bay]) -> list[Worked]:
    """The total: bay by bay where they fit on a line, else row of bays by row of bays."""
    groups: dict[tuple[str, int], list[BayFill]] = {}
    for row, bay in zip(rows, bays, strict=True):
        groups.setdefault((bay.room, bay.row), []).append(row)
    lines: list[Worked] = []
    if len(rows) <= MOST_TERMS:
        terms, needs = [plain(r.volume_l) for r in rows], [f"bay/{r.bay}/litres" for r in rows]
    else:
        terms, needs = [], []
        for number, (_, group) in enumerate(sorted(groups.items()), 1):
            key, total = f"fill/row {number}", sum(r.volume_l for r in group)
            lines.append(
                Worked(
                    key,
                    f"litres of the row of bays {group[0].bay} to {group[-1].bay}",
                    "sum of its bays",
                    " + ".join(plain(r.volume_l) for r in group),
                    total,
                    0,
                    "L",
                    needs=tuple(f"bay/{r.bay}/litres" for r in group),
                )
            )
            terms.append(plain(total))
            needs.append(key)
    total = sum(r.volume_l for r in rows)
    name, formula = "litres of fill in place", "sum of the bays" if len(rows) <= MOST_TERMS else "sum of the rows"
    lines.append(Worked("fill/litres", name, formula, " + ".join(terms) or "0", total, 0, "L", needs=tuple(needs)))
    return lines


def order_line(litres: float, fill: Fill, key: str, name: str, needs: tuple[str, ...]) -> Worked:
    """The worked line of litres to order, to 1 decimal."""
    value = half_up(order_litres(litres, fill), 1)
    numbers = f"{plain(litres)} x (1 + {plain(fill.settles, 4)}) x (1 + {plain(fill.waste, 4)})"
    return Worked(
        key, name, "litres x (1 + settles) x (1 + waste)", numbers, value, 1, "L", FILE, needs, more_given(fill)
    )


def more_given(fill: Fill) -> tuple[Given, ...]:
    """What is ordered beyond the litres in place, as figures of the file."""
    return (
        given(fill, "settles", "settles, share of the litres", fill.settles, ""),
        given(fill, "waste", "waste, share of the litres", fill.waste, ""),
    )


def litres_by_fill(rows: Sequence[BayFill], bays: Sequence[Bay]) -> Iterator[Worked]:
    """Where several fills are used: the litres of each, row of bays by row of bays."""
    for name in dict.fromkeys(r.fill for r in rows):
        groups: dict[tuple[str, int], list[BayFill]] = {}
        for row, bay in zip(rows, bays, strict=True):
            if row.fill == name:
                groups.setdefault((bay.room, bay.row), []).append(row)
        keys = []
        for number, (_, group) in enumerate(sorted(groups.items()), 1):
            keys.append(f"fill/litres/{name}/row {number}")
            yield Worked(
                keys[-1],
                f"litres of {name} in the bays {group[0].bay} to {group[-1].bay}",
                "sum of its bays",
                " + ".join(plain(r.volume_l) for r in group),
                sum(r.volume_l for r in group),
                0,
                "L",
                needs=tuple(f"bay/{r.bay}/litres" for r in group),
            )
        sums = [sum(r.volume_l for r in group) for _, group in sorted(groups.items())]
        text = " + ".join(map(plain, sums)) or "0"
        says = f"litres of {name} in place"
        yield Worked(f"fill/litres/{name}", says, "sum of the rows", text, sum(sums), 0, "L", needs=tuple(keys))
