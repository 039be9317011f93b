"""What every drawing promises: a spoken title, no classes, nothing too thin or too small, nothing cut off."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from markupsafe import Markup

from packgen.booklet.drawing.cutaway import cutaway
from packgen.booklet.drawing.datum_section import block_section
from packgen.booklet.drawing.depth_plan import depth_plan
from packgen.booklet.drawing.labels import LEAST_MM
from packgen.booklet.drawing.leg_plan import leg_plan
from packgen.booklet.drawing.operations import clip_on, cut_piece
from packgen.booklet.drawing.parts_plan import parts_plans
from packgen.booklet.drawing.plan_view import key_plan
from packgen.booklet.drawing.relief_plan import relief_plan
from packgen.booklet.drawing.section import all_sections
from packgen.booklet.drawing.services_plan import services_plan
from packgen.booklet.drawing.setout_plan import draw_setout, setout_views
from packgen.plan import Plan


def drawings(plan: Plan) -> dict[str, Markup]:
    found = {
        "key": key_plan(plan, 90, 70),
        "legs": leg_plan(plan, 178, 130)[0],
        "depths": depth_plan(plan, 178, 160)[0],
        "relief": relief_plan(plan, 178, 140, {}, {})[0],
        "services": services_plan(plan, 178, 150, [])[0],
        "parts": parts_plans(plan, 178, 150, 200)[0][0],
        "datum": block_section(plan)[0],
        "cutaway": cutaway(plan),
        "clip": clip_on(plan),
    }
    for room in plan.survey.rooms:
        for n, view in enumerate(setout_views(plan, room, 178, 200)):
            draw_setout(view, plan, room, {})
            found[f"setout {room.name} {n}"] = view.canvas.svg("set-out")
    found |= {f"section {s.key}": s.drawing for s in all_sections(plan)}
    cut = cut_piece(plan)
    return found | ({"cut": cut} if cut is not None else {})


def test_drawings_keep_their_promises(any_plan: Plan) -> None:
    for name, svg in drawings(any_plan).items():
        root = ElementTree.fromstring(str(svg))
        assert root.find("{*}title") is not None, name
        assert (root.find("{*}title").text or "").strip(), name  # type: ignore[union-attr]
        assert "class=" not in svg, name
        assert "<style" not in svg, name
        widths = [float(w) for w in re.findall(r'stroke-width="([\d.]+)"', str(svg))]
        assert min(widths) >= 0.25, name
        sizes = [float(s) for s in re.findall(r'font-size="([\d.]+)"', str(svg))]
        assert all(size >= LEAST_MM for size in sizes), name
        assert root.get("width", "").endswith("mm"), name


def test_words_stay_on_the_drawing(any_plan: Plan) -> None:
    for name, svg in drawings(any_plan).items():
        root = ElementTree.fromstring(str(svg))
        _, _, wide, high = (float(v) for v in root.get("viewBox", "").split())
        for text in root.findall(".//{*}text"):
            xs = [float(x) for x in text.get("x", "").split()]
            ys = [float(y) for y in text.get("y", "").split()]
            assert min(xs) >= -0.5, name
            assert max(xs) <= wide + 0.5, name
            assert min(ys) >= 2.0, name
            assert max(ys) <= high + 0.5, name


def test_same_plan_same_drawing(any_plan: Plan) -> None:
    assert drawings(any_plan) == drawings(any_plan)


def test_corner_1_top_left_and_wall_1_above(any_plan: Plan) -> None:
    from packgen.booklet.drawing.plan_view import plan_view

    view = plan_view(any_plan, 178, 170)
    room = any_plan.survey.rooms[0]
    first, second = view.at(room.corners[0]), view.at(room.corners[1])
    assert second[0] > first[0]
    assert second[1] == pytest.approx(first[1], abs=0.01)
    inner = [view.at(c)[1] for c in room.corners[2:]]
    assert all(y >= first[1] - 0.01 for y in inner)
