"""Notes: what is right and worth knowing, and what was compared; and boards named twice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.place import Place
from packgen.core.worked import FILE, By, Given, Source
from packgen.heights.build_up import board_materials, is_board
from packgen.heights.settle import fill_of
from packgen.project.given import given
from packgen.project.work_model import Layer, Zone
from packgen.quantities.model import FillComparison
from packgen.review.codes import CODES
from packgen.review.figure import counted, none
from packgen.review.job import Job, many, mm
from packgen.review.load_checks import allowed_given, beyond_key, dry_figure, worst_dry
from packgen.review.say import found

BOARDS = ("osb", "chipboard", "plywood", "gypsum fibre", "cement board", "particle board")


def extensions(job: Job) -> Iterator[Finding]:
    for parts, what in (("extension", "an extension"), ("packing", "packing")):
        legs = [leg for leg in job.heights.legs if leg.parts == parts]
        if legs:
            names = figures.listed([leg.node for leg in legs])
            yield found(
                "note",
                "extension",
                f"{many(len(legs), 'leg')} {'needs' if len(legs) == 1 else 'need'} {what}: {names}.",
                where=names,
                number=counted(f"legs that need {what}", len(legs), "legs"),
                unit="legs",
                source=FILE,
                place=job.project.kit.marks.of(parts),
            )


def weight(job: Job) -> Iterator[Finding]:
    allowed, dry = job.quantities.weight.allowed_dry_kn_m2, worst_dry(job)
    if allowed is not None and dry <= allowed:
        yield found(
            "note",
            "load",
            f"This floor would weigh {figures.number(dry, 2)} kN on a square metre for good; "
            f"{figures.number(allowed, 2)} is the number in the file.",
            where=job.quantities.weight.worst_at,
            number=dry_figure(job),
            limit=allowed_given(job, allowed),
            unit="kN/m²",
            source="engineer's number in the project file",
            place=job.project.base.marks.of("extra load allowed"),
        )


def comparisons(job: Job) -> Iterator[Finding]:
    """Fills that were compared and fail: the codes, and the figures behind them."""
    for other in job.quantities.comparison:
        if other.used or not other.fails:
            continue
        reasons = "; ".join(dict.fromkeys(_reason(job, other, code) for code in other.fails))
        fill = dict(job.project.fills.described).get(other.fill)
        yield found(
            "note",
            "comparison-fails",
            f"{other.fill} was compared and does not do: {reasons} ({', '.join(other.fails)}).",
            where=other.fill,
            source=FILE,
            place=fill.marks.start if fill else job.project.fills.marks.of("compare"),
        )


def _reason(job: Job, other: FillComparison, code: str) -> str:
    allowed = job.quantities.weight.allowed_dry_kn_m2
    match code:
        case "leg-out-of-range":
            legs = f"{mm(other.leg_least_mm)} to {mm(other.leg_most_mm)}"
            return f"legs {legs}, not to be set at {figures.listed(other.legs_not_fitting)}"
        case "depth-too-small":
            return f"smallest depth {mm(other.smallest_mm)} where {mm(other.least_allowed_mm)} is the least"
        case "depth-too-great":
            return f"greatest depth {mm(other.greatest_mm)} where {mm(other.most_allowed_mm)} is the most"
        case "load-over-allowed" if allowed is not None:
            return f"{figures.number(other.dry_kn_m2, 2)} kN/m² where {figures.number(allowed, 2)} is allowed"
        case _:
            return CODES[code].meaning if code in CODES else code


def steps_outside(job: Job) -> Iterator[Finding]:
    """Drops beyond a sill to the outside: printed, not judged."""
    for room in job.survey.rooms:
        for door in room.doors:
            if room.outside or not door.outside or door.floor_there_mm is None:
                continue
            ours = next((d.finished_mm for d in job.heights.doors if d.door == door.name), None)
            if ours is not None and ours != door.floor_there_mm:
                down = "down" if ours > door.floor_there_mm else "up"
                yield found(
                    "note",
                    "step-outside",
                    f"Through the {door.name} it goes {mm(abs(ours - door.floor_there_mm))} {down} to the "
                    f"{door.leads_to or 'outside'}.",
                    where=door.name,
                    number=By(abs(ours - door.floor_there_mm), beyond_key(job, door.name)),
                    unit="mm",
                    source=FILE,
                    place=door.place,
                )


def board_mismatch(job: Job) -> Iterator[Finding]:
    """The board named among the layers and the board of the zone's fill are one board (J7)."""
    materials = (*board_materials(job.project), *BOARDS)
    for zone in job.project.finishes:
        board = fill_of(job.project, zone).board_on_top
        layers = [layer for layer in zone.layers if is_board(layer, materials)]
        named = sum(layer.thickness for layer in layers)
        wanted = board.thickness if board else 0.0
        if named == wanted and (board is None or all(is_board(x, (board.material.casefold(),)) for x in layers)):
            continue
        name = figures.listed([layer.name for layer in layers])
        yield found(
            "stop",
            "board-mismatch",
            f"The layers name {_board(named, name)}, the fill {_board(wanted, board.material if board else '')}.",
            where=zone.zone,
            number=Given("board among the layers", named, "mm", FILE, _place(layers, zone)),
            limit=given(board, "thickness", "board on top of the fill", wanted)
            if board
            else none("board on top of the fill", "mm", Source("the fill names none", known="calculated")),
            unit="mm",
            source=FILE,
            cures=("make the layers and the fill's board on top agree",),
            place=_place(layers, zone),
        )


def _place(layers: Sequence[Layer], zone: Zone) -> Place:
    return layers[0].marks.start if layers else zone.marks.of("layers from the top")


def _board(thickness: float, name: str) -> str:
    if not thickness:
        return "no board"
    return f"{mm(thickness)} of {name}"


CHECKS = (extensions, weight, comparisons, steps_outside, board_mismatch)
