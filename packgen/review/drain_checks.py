"""Checks of drains, and of fills that do not belong in a place."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.finding import Finding
from packgen.core.plane import Point, Polygon, Segment, bounds, centroid, contains, pairs, segment_distance
from packgen.core.surface import level_at
from packgen.core.worked import FILE, PRACTICE, Given, Source
from packgen.heights.settle import fill_of
from packgen.project.given import given
from packgen.project.room_model import Drain
from packgen.review.figure import counted, none
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.survey.doors import wall_number
from packgen.survey.model import CutOut

ROOM = Source("finished level there, or the grating's own, less the base there", known="calculated")
SURFACE = Source("finished level there, with its fall", known="calculated")
AT_WALL_MM = 1.0  # a side of a channel this near to a wall has no floor beyond it


def drains(job: Job) -> Iterator[Finding]:
    """Drains: room for the body, grating not above the surface, no leg in the way."""
    for drain in job.project.drains:
        cuts = _cuts_of(job, drain)
        if not cuts:
            continue
        name, place = cuts[0].name, drain.marks.start
        corners = [p for c in cuts for p in c.shape.shell]
        rooms = [
            ((job.finished_at(p) if drain.top is None else drain.top) - level_at(job.survey.base, p)) for p in corners
        ]
        if drain.body_height is not None and drain.body_height > min(rooms) + 1e-6:
            short = figures.round_up(drain.body_height - min(rooms))
            at = corners[rooms.index(min(rooms))]
            yield found(
                "stop",
                "drain-does-not-fit",
                f"The {name} needs {mm(drain.body_height)} from the base to its grating; near {job.near(at)} there are "
                f"{mm(min(rooms))}. {mm(short)} short: the drain does not fit.",
                where=name,
                number=given(drain, "body height", f"height of the {name}", drain.body_height),
                limit=Given(
                    f"from the base to the grating near {job.near(at)}", figures.half_up(min(rooms), 1), "mm", ROOM
                ),
                unit="mm",
                source=FILE,
                cures=("a lower drain", f"raise the finished level {mm(short)}", "a recess in the base under it"),
                place=drain.marks.of("body height"),
            )
        surface = _surface_at(job, cuts)
        if drain.top is not None and drain.top > surface:
            yield found(
                "stop",
                "drain-blocked",
                f"Water cannot reach the {name}: its grating is {mm(drain.top - surface)} above the surface there.",
                where=name,
                number=given(drain, "top", f"grating of the {name}", drain.top),
                limit=Given("surface there", surface, "mm", SURFACE),
                unit="mm",
                source=PRACTICE,
                cures=("set the grating to the surface", "raise the finished level"),
                place=drain.marks.of("top"),
            )
        inside = [n.id for n in job.layout.nodes if any(_inside(c.shape, n.at) for c in cuts)]
        if inside:
            yield found(
                "stop",
                "drain-blocked",
                f"{many(len(inside), 'leg')} would stand in the {name}: {figures.listed(inside)}.",
                where=name,
                number=counted(f"legs that would stand in the {name}", len(inside), "legs"),
                limit=none("legs that may stand in a drain", "legs"),
                unit="legs",
                source=PRACTICE,
                cures=("stop the rail on each side of the drain", "move the line beside it"),
                place=place,
            )


def _surface_at(job: Job, cuts: list[CutOut]) -> float:
    """The surface that the grating meets: round the middle of a point drain, along the free sides of a channel."""
    corners = [p for c in cuts for p in c.shape.shell]
    if cuts[0].kind == "drain":
        return job.finished_at(centroid(cuts[0].shape))
    walls = [piece for r in job.survey.rooms for w in r.walls for piece in w.pieces]
    sides = [side for c in cuts for side in pairs(c.shape.shell)]
    off = [end for a, b in sides if _off((a, b), walls) for end in (a, b)]
    return min(job.finished_at(p) for p in off or corners)


def _off(side: tuple[Point, Point], walls: list[Segment]) -> bool:
    """Whether there is floor beyond a side: its middle lies at no wall, though its ends may."""
    (x0, y0), (x1, y1) = side
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    return min(segment_distance(middle, wall) for wall in walls) > AT_WALL_MM


def _cuts_of(job: Job, drain: Drain) -> list[CutOut]:
    """The cut-outs of one drain: by its name, else by its kind in the order of the file."""
    name = drain.name or (f"channel along wall {wall_number(drain.along)}" if drain.along is not None else drain.kind)
    return [c for r in job.survey.rooms for c in r.cut_outs if c.kind != "obstacle" and c.name == name]


def _inside(shape: Polygon, at: tuple[float, float]) -> bool:
    x0, y0, x1, y1 = bounds(shape)
    return x0 < at[0] < x1 and y0 < at[1] < y1 and contains(shape, at, 0.0)


def fill_in_place(job: Job) -> Iterator[Finding]:
    """Fills that do not belong where the file puts them; one sentence for each reason."""
    for zone in job.project.finishes:
        fill = fill_of(job.project, zone)
        wet = zone.wet == "yes"
        kind, family = fill.kind, fill.family
        why = None
        if family in ("granulate", "wool") and (wet or job.outside):
            why = f"{kind} must stay dry: not {'outside' if job.outside else 'in a wet room'}."
        elif family == "calcium sulfate" and (wet or job.outside):
            why = f"{kind} softens when wet: not {'outside' if job.outside else 'in a wet room'}."
        elif family == "drainage" and not job.outside:
            why = f"{kind} lets water through: not inside."
        elif family in ("granulate", "wool") and fill.board_on_top is None:
            why = f"{kind} carries nothing without boards on top."
        elif family == "bead" and fill.board_on_top is None:
            why = f"{kind} is no surface to walk on: boards or a screed must follow."
        if why:
            yield found(
                "stop",
                "fill-wrong-place",
                why,
                where=zone.zone,
                source=PRACTICE,
                cures=("another fill", "boards on top, as its sheet says") if "board" in why else ("another fill",),
                place=job.project.fills.marks.of("use"),
            )


CHECKS = (drains, fill_in_place)
