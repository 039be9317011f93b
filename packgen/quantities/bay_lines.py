"""The arithmetic of one bay: its area by its corners, its depth by prisms, each prism back to the readings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from packgen.core.figures import half_up, plain
from packgen.core.plane import Polygon, centroid, pairs
from packgen.core.profile import prisms
from packgen.core.worked import ON_PLAN, Given, Worked
from packgen.heights.cover_lines import depth_there
from packgen.heights.depth_workings import PRISM
from packgen.heights.model import Heights
from packgen.layout.model import Bay
from packgen.project.model import Project
from packgen.quantities.beds import Bed
from packgen.quantities.model import BayFill
from packgen.survey.model import Survey

SQUARE_MM = 1e-6


def bay_lines(
    project: Project, survey: Survey, heights: Heights, bay: Bay, row: BayFill, beds: Sequence[Bed]
) -> Iterator[Worked]:
    """Area and mean depth of a bay as its litres take them, its smallest and greatest depth, and its prisms.

    beds: what is filled with it under a drain beside it
    """
    yield _area(bay, row, beds)
    if beds:
        yield replace(_area(bay, replace(row, area_m2=half_up(bay.area_m2, 4)), ()), key=f"bay/{bay.name}/own area")
    yield from _depth(project, survey, heights, bay, row, beds)
    found = dict(heights.bay_depths)[bay.name]
    for name, at in (("smallest", found.least_at), ("greatest", found.most_at)):
        yield depth_there(f"bay/{bay.name}/{name}", f"{name} depth of bay {bay.name}", project, survey, heights, at, 1)


def _bed_area(bed: Bed, digits: int) -> Given:
    return Given(f"part of the bed of {bed.drain}", half_up(bed.area_m2, digits), "m²", ON_PLAN)


def _area(bay: Bay, row: BayFill, beds: Sequence[Bed]) -> Worked:
    own = half_up(bay.area_m2, 4)
    for digits in (3, 4, 5, 6, 7):
        text, figures = _by_corners(bay.shape, digits)
        value = sum(sign * _product(f) for sign, f in figures)
        under = [_bed_area(b, max(4, digits)) for b in beds]
        if half_up(value, 4) == own and half_up(value + sum(b.value for b in under), 4) == row.area_m2:
            break
    numbers = " + ".join([text, *(plain(b.value, 7) for b in under)])
    sides = [g for _, pair in figures for g in pair]
    return Worked(
        f"bay/{bay.name}/area",
        f"area of bay {bay.name}",
        f"{_way(bay.shape)}{', and its part of the drain' if beds else ''}",
        numbers,
        row.area_m2,
        4,
        "m²",
        ON_PLAN,
        given=(*sides, *under),
    )


def _way(shape: Polygon) -> str:
    return "length x width" if _upright(shape) else "by coordinates from its first corner: half of x y' - x' y, added"


def _upright(shape: Polygon) -> bool:
    """Whether a shape is a rectangle along the walls' directions."""
    return (
        len(shape.shell) == 4
        and not shape.holes
        and all(min(abs(a[0] - b[0]), abs(a[1] - b[1])) < SQUARE_MM for a, b in pairs(shape.shell))
    )


def _product(pair: tuple[Given, ...]) -> float:
    product = 1.0
    for g in pair:
        product *= g.value
    return product


def _by_corners(shape: Polygon, digits: int) -> tuple[str, list[tuple[float, tuple[Given, ...]]]]:
    """The area in m² as text, and its products with their signs (halves where by coordinates)."""
    x0, y0 = shape.shell[0]
    if _upright(shape):
        size = [half_up(max(abs(c[k] - shape.shell[0][k]) for c in shape.shell) / 1000, digits) for k in (0, 1)]
        pair = (
            Given("length along wall 1", size[0], "m", ON_PLAN),
            Given("length into the room", size[1], "m", ON_PLAN),
        )
        return f"{plain(size[0], digits)} x {plain(size[1], digits)}", [(1.0, pair)]
    plus: list[str] = []
    minus: list[str] = []
    products: list[tuple[float, tuple[Given, ...]]] = []
    for ring in (shape.shell, *shape.holes):
        turn = 1.0 if ring is shape.shell else -1.0
        at = [(half_up((x - x0) / 1000, digits), half_up((y - y0) / 1000, digits)) for x, y in ring]
        area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs(at))
        turn *= 1.0 if area >= 0 else -1.0
        for k, (a, b) in enumerate(pairs(at), 1):
            for sign, p, q in ((turn, a[0], b[1]), (-turn, b[0], a[1])):
                if p == 0 or q == 0:
                    continue
                own = sign if (p < 0) == (q < 0) else -sign
                figures = tuple(
                    Given(f"corner {k} or the next, from the first corner", abs(v), "m", ON_PLAN) for v in (p, q)
                )
                (plus if own > 0 else minus).append(f"{plain(abs(p), digits)} x {plain(abs(q), digits)}")
                products.append((own / 2, figures))
    return f"({' + '.join(plus) or '0'}{''.join(f' - {m}' for m in minus)}) / 2", products


def _depth(
    project: Project, survey: Survey, heights: Heights, bay: Bay, row: BayFill, beds: Sequence[Bed]
) -> Iterator[Worked]:
    """Mean depth to 2 decimals by prisms, each prism's depth at its middle."""
    parts = prisms(heights.rail_top, survey.base, bay.shape)
    keys = [f"bay/{bay.name}/prism {k}" for k in range(1, len(parts) + 1)]
    for digits in (2, 3, 4, 5, 6, 7):
        lines = [
            depth_there(
                key,
                f"depth at the middle of prism {k} of bay {bay.name}",
                project,
                survey,
                heights,
                centroid(p.shape),
                min(digits, 6),
            )
            for k, (key, p) in enumerate(zip(keys, parts, strict=True), 1)
        ]
        rows = [
            (half_up(p.area_mm2 / 1e6, digits), line.value if p.mean_mm >= 0 else -line.value)
            for p, line in zip(parts, lines, strict=True)
        ]
        rows += [(half_up(b.area_m2, digits), half_up(b.volume_l / b.area_m2, min(digits, 6))) for b in beds]
        area = sum(a for a, _ in rows)
        if min(a for a, _ in rows) > 0 and half_up(sum(a * d for a, d in rows) / area, 2) == row.mean_depth_mm:
            break
    sums = " + ".join(f"{plain(a, digits)} x {_signed(d, digits)}" for a, d in rows)
    figures = [Given(f"plan area of prism {k}", a, "m²", ON_PLAN) for k, (a, _) in enumerate(rows[: len(parts)], 1)]
    for bed, (a, d) in zip(beds, rows[len(parts) :], strict=True):
        figures += [Given(f"part of the bed of {bed.drain}", a, "m²", ON_PLAN), Given("its mean depth", d, "mm", PRISM)]
    yield Worked(
        f"bay/{bay.name}/depth",
        f"mean depth of bay {bay.name}",
        "(area x depth at the middle of each prism, added) / area",
        f"({sums}) / ({' + '.join(plain(a, digits) for a, _ in rows)})",
        row.mean_depth_mm,
        2,
        "mm",
        PRISM,
        tuple(keys),
        tuple(figures),
    )
    yield from lines


def _signed(depth: float, digits: int) -> str:
    return plain(depth, digits) if depth >= 0 else f"(0 - {plain(-depth, digits)})"
