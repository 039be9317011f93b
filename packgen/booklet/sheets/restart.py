"""Stopping and starting again: anywhere at a grid line, and on from there without a joint."""

from __future__ import annotations

from packgen.booklet.drawing import work_pictures as pictures
from packgen.booklet.pour_words import bags_left, counted, fill_of, fills_in_use, line_of, pack_word
from packgen.booklet.rows import Column, Row, Table
from packgen.booklet.sheet import Sheet
from packgen.core.figures import day, plain
from packgen.plan import Plan
from packgen.sequence.model import Pour

STOPS_MM = 66.0  # room for the table of stop lines
RIGHT = "You see it is right when"


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One sheet. With so many days that their stop lines find no room here, they stand on the days' own sheets only."""
    if not plan.sequence.pours:
        return ()
    stops = _stops(plan)
    fits = stops.height_mm <= STOPS_MM
    return (
        Sheet(
            slug="restart",
            title="Stopping and starting again",
            purpose="Stop at a rail, go on against the same rail.",
            template="restart.html",
            view=_view(plan) | {"stops": stops if fits else None},
            behind="fill",
        ),
    )


def _view(plan: Plan) -> dict[str, object]:
    return {
        "drawing": pictures.end_at_rail(plan, _any_cement(plan)),
        "stopping": _stopping(plan),
        "starting": _starting(plan),
        "trouble": _trouble(plan),
        "joint": _joint(plan),
    }


def _any_cement(plan: Plan) -> bool:
    return any(f.cement for f in fills_in_use(plan))


def _stopping(plan: Plan) -> tuple[tuple[str, str], ...]:
    mixed = any(f.mixed for f in fills_in_use(plan))
    steps = [
        (
            "Fill the last bay full depth, up to a rail.",
            f"{RIGHT} the face stands upright under the rail, full depth.",
        ),
        (
            "Cut off what spilled to the far side of the rail. Clean the rail top and the clips.",
            f"{RIGHT} the next bay's base is bare up to the rail.",
        ),
    ]
    if mixed:
        steps.append(("Cover the surface and the edge.", f"{RIGHT} the cover hangs over the face."))
    else:
        steps.append(
            (
                "Lay the last board over the edge, or hold the edge with an upright board.",
                f"{RIGHT} no grain rolls when the rail is tapped.",
            )
        )
    steps.append(("Write line and time on the log.", f"{RIGHT} the next person finds the line without asking."))
    return tuple(steps)


def _starting(plan: Plan) -> tuple[tuple[str, str], ...]:
    cement = _any_cement(plan)
    steps = [
        (
            "Read the TBM, then two masters of the next bays.",
            f"{RIGHT} each master stands within {plain(plan.project.limits.rail_top)} of its target.",
        ),
        (
            "Sweep the base and the edge." + (" Damp the edge; no water stands on the base." if cement else ""),
            f"{RIGHT} nothing loose comes off under the brush.",
        ),
        (
            "Go on against the rail.",
            f"{RIGHT} a straightedge across the stop line touches both sides.",
        ),
    ]
    if cement:
        steps.append(
            (
                "More than one night between: lay the straightedge over yesterday's edge before the first batch.",
                f"{RIGHT} it does not rock on an edge that has lifted.",
            )
        )
    return tuple(steps)


def _trouble(plan: Plan) -> tuple[str, ...]:
    mixed = any(f.mixed for f in fills_in_use(plan))
    half = "A bay more than half full: fill it. Less than half: pull the fill back to the rail and take it out."
    out = [
        "Rain, a dead mixer, somebody hurt: people first, then the nearest rail."
        if mixed
        else "Somebody hurt, a burst pipe: people first, then the nearest rail.",
        half,
    ]
    if mixed:
        out.append("What is in the mixer goes into the bay or out of the house. It is not kept.")
    return tuple(out)


def _joint(plan: Plan) -> str:
    says = "The rail stays in, so the stop line needs no joint profile (common practice, no source)."
    if plan.layout.joints:
        says += " Movement joints of the plan stay joints, also where work stops on them."
    return says


def _stops(plan: Plan) -> Table:
    return Table(
        (
            Column("day", width_mm=40),
            Column("if late, stop 1"),
            Column("if late, stop 2"),
            Column("tonight"),
        ),
        tuple(Row(_row(plan, p), "light") for p in plan.sequence.pours),
        "Stop lines of each day",
    )


def _row(plan: Plan, pour: Pour) -> tuple[str, ...]:
    word = pack_word(fill_of(plan, pour))
    early = [
        f"{line_of(s)}, after {s.after_bay}, {counted(bags_left(pour, s), word)} left" for s in pour.earlier_stops[:2]
    ]
    tonight = line_of(pour.stop_line) if pour.stop_line else "the floor is full"
    return (f"{pour.number}, {day(pour.date)}", *early, *("–" for _ in range(2 - len(early))), tonight)
