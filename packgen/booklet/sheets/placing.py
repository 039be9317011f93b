"""Placing and finishing: how, in order, with pictures of this job's bay."""

from __future__ import annotations

from markupsafe import Markup

from packgen.booklet.drawing import work_pictures as pictures
from packgen.booklet.placing_steps import FLOAT_EDGE_MM, STRIKE_OVER_MM, board_steps, over_mm, placing_steps
from packgen.booklet.pour_words import fills_in_use
from packgen.booklet.sheet import Sheet
from packgen.plan import Plan
from packgen.project.work_model import BoardOnTop, Fill

NOT_TO_SCALE = "Not to scale."
SECTION = "Section 1:10."


def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """One sheet for each fill in use, one more where boards lie on it."""
    parts: list[tuple[str, str, dict[str, object]]] = []
    for fill in fills_in_use(plan):
        says = f"{fill.kind}: what to do, and how you see it is right."
        parts.append(
            (
                "Placing and finishing",
                says,
                {"steps": placing_steps(plan, fill), "pictures": _pictures(plan, fill), "notes": ()},
            )
        )
        if fill.board_on_top is not None:
            view = _board_view(plan, fill, fill.board_on_top)
            parts.append(("Boards on the rails", "Boards lie on the rails and are screwed to them.", view))
    return tuple(
        Sheet(
            slug="placing" if n == 1 else f"placing-{n}",
            title=title,
            purpose=purpose[:1].upper() + purpose[1:],
            template="placing.html",
            view=view,
            behind="fill",
        )
        for n, (title, purpose, view) in enumerate(parts, 1)
    )


def _pictures(plan: Plan, fill: Fill) -> list[tuple[Markup, str]]:
    strike = (pictures.strike_off(plan, STRIKE_OVER_MM), f"Strike off on two rails. {SECTION}")
    edge = (pictures.closed_edge(plan), f"An open edge, closed before filling. {SECTION}")
    if fill.family == "wool":
        return [(pictures.wool_in_bay(plan), f"Wool in a bay. {SECTION}")]
    if not fill.mixed:
        return [(pictures.rake_and_rap(plan, over_mm(plan, fill)), f"Rake, rap, strike off. {SECTION}"), edge]
    if fill.family in ("drainage", "bead"):
        return [edge, strike]
    return [
        edge,
        strike,
        (pictures.float_edge(FLOAT_EDGE_MM), f"The float's edge. {NOT_TO_SCALE}"),
        (pictures.circles(), f"The large float, seen from above. {NOT_TO_SCALE}"),
    ]


def _board_view(plan: Plan, fill: Fill, board: BoardOnTop) -> dict[str, object]:
    picture = pictures.board_on_rails(plan, board.thickness, plan.project.kit.edge_strip)
    services = [s.name for s in plan.layout.services]
    notes = (f"Services under this floor: {', '.join(services)}. See the pipe sheet before the first screw.",)
    return {
        "steps": board_steps(plan, fill),
        "pictures": [(picture, f"Board ends on rails. {SECTION}")],
        "notes": notes if services else (),
    }
