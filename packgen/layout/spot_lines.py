"""The arithmetic of where legs stand, and of the stock lengths that pieces are cut from."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core.figures import half_up, plain
from packgen.core.plane import Point
from packgen.core.worked import FILE, ON_PLAN, Given, Source, Worked
from packgen.layout.model import Bar, Node, PipeRun
from packgen.project.given import given
from packgen.project.model import Project
from packgen.project.work_model import Kit
from packgen.trade.layout_rules import layout_rule

MODULE = Source("lines stand one module apart", known="calculated")
WAYS = ("along wall 1", "from wall 1")


def spot_lines(project: Project, node: Node, origin: Point) -> Iterator[Worked]:
    """Where a leg stands on the plan, along wall 1 and from wall 1. origin: corner 1 of its room on the plan"""
    for axis, way in enumerate(WAYS):
        yield _spot_line(project, node, axis, way, origin[axis])


def _spot_line(project: Project, node: Node, axis: int, way: str, corner: float) -> Worked:
    kit, at = project.kit, node.at[axis]
    first = kit.starts_mm[axis]
    modules = half_up((at - corner - first) / kit.module)
    key, name = f"node/{node.id}/{way}", f"{node.id} stands {way}"
    digits = next((d for d in (0, 1, 2) if abs(half_up(at, d) - at) < 5e-7), 3)
    regular = modules >= 0 and abs(corner + first + modules * kit.module - at) < 5e-7
    if not regular or at < 0:
        says = f"{node.id} {way}, at a wall, a joint, a short line or off a pipe"
        figure = Given(says, half_up(abs(at), digits), "mm", ON_PLAN)
        words = "as laid out" if at >= 0 else "as laid out, on the other side of corner 1"
        return Worked(key, name, words, plain(abs(at)), figure.value, digits, "mm", ON_PLAN, (), (figure,))
    figures = [
        _first_line(project, axis, first),
        Given("modules further", modules, "", MODULE),
        given(kit, "module", "module of the grid", kit.module),
    ]
    numbers = f"{plain(first)} + {plain(modules)} x {plain(kit.module)}"
    formula = "first line + modules x module"
    if corner:
        figures.append(Given(f"corner 1 of {node.room} on the plan", half_up(corner, 3), "mm", ON_PLAN))
        numbers, formula = f"{plain(corner)} + {numbers}", f"corner 1 of its room + {formula}"
    return Worked(key, name, formula, numbers, half_up(at, digits), digits, "mm", FILE, (), tuple(figures))


def _first_line(project: Project, axis: int, first: float) -> Given:
    says = f"first line {WAYS[axis]}"
    if project.kit.first_lines is not None:
        return given(project.kit.first_lines, WAYS[axis], says, first)
    return given(project.kit, "first line from wall", says, first)


def bar_line(project: Project, bar: Bar) -> Worked:
    """What is left of a stock length: stock less pieces less saw cuts."""
    kit, rule = project.kit, layout_rule("saw_cut")
    own = kit.saw_cut is not None
    cut = given(kit, "saw cut", "width of a saw cut", bar.saw_cut_mm) if own else None
    pieces = " - ".join(plain(mm) for mm in bar.lengths_mm)
    return Worked(
        f"bar/{bar.number}",
        f"left of stock length {bar.number}",
        "stock length - pieces - saw cuts x width of a cut",
        f"{bar.stock_mm} - {pieces} - {bar.saw_cuts} x {plain(bar.saw_cut_mm)}",
        half_up(bar.offcut_mm, 1),
        1,
        "mm",
        FILE,
        (),
        (
            _stock_given(kit, bar),
            *(Given(f"piece {p}", mm, "mm", ON_PLAN) for p, mm in zip(bar.pieces, bar.lengths_mm, strict=True)),
            Given("saw cuts", bar.saw_cuts, "", ON_PLAN),
            cut or Given(rule.what, bar.saw_cut_mm, "mm", rule.source),
        ),
    )


def _stock_given(kit: Kit, bar: Bar) -> Given:
    if bar.at_hand:
        return given(kit.rail, "offcuts at hand", "offcut at hand", bar.stock_mm)
    if kit.rail.stock:
        return given(kit.rail, "stock", "stock length", bar.stock_mm)
    return given(kit, "module", "stock length: one module", bar.stock_mm)


def reach_lines(project: Project, run: PipeRun) -> Iterator[Worked]:
    """From the middle of a service to the middle of a foot that just touches it, and with the clear distance."""
    foot, rule = project.kit.foot, layout_rule("near_service")
    across = Given(f"outside of {run.name}", run.outside_mm)
    for service in project.services:
        if service.name == run.name:
            across = given(service, "outside", f"outside of {run.name}", run.outside_mm)
    reach = foot.diameter / 2 + run.outside_mm / 2
    touching = Worked(
        f"reach/{run.name}",
        f"from the middle of {run.name} to the middle of a foot that touches it",
        "diameter of the foot / 2 + outside / 2",
        f"{plain(foot.diameter)} / 2 + {plain(run.outside_mm)} / 2",
        half_up(reach, 2),
        2,
        "mm",
        FILE,
        (),
        (given(foot, "diameter", "diameter of a foot", foot.diameter), across),
    )
    yield touching
    yield Worked(
        f"reach/{run.name}/clear",
        f"from the middle of {run.name} to the middle of a foot that stands clear of it",
        "touching + clear distance",
        f"{plain(touching.value)} + {plain(rule.value_mm)}",
        half_up(reach + rule.value_mm, 2),
        2,
        "mm",
        rule.source,
        (touching.key,),
        (Given(rule.what, rule.value_mm, "mm", rule.source),),
    )
