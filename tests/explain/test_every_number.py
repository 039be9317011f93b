"""Each number of plan.json has a line with that result, reachable by the subject a reader would ask for."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core.figures import half_up
from packgen.core.worked import By, Given, Worked
from packgen.explain.ask import ask
from packgen.explain.finding import finding_line
from packgen.explain.lines import Lines
from packgen.explain.subjects import list_subjects
from packgen.plan import Plan

TENTH = 1  # levels of the window are a sum of printed figures: a thousandth is not theirs
EVERY = 12  # of the questions one in so many is typed, the others are looked up
Expected = tuple[str, str, float | None]  # what is asked, the key that must be among its lines, the number


def nodes(plan: Plan) -> Iterator[Expected]:
    for n in plan.layout.nodes:
        asked, key = f"node {n.id}", f"node/{n.id}"
        yield asked, f"{key}/along wall 1", n.x_mm
        yield asked, f"{key}/from wall 1", n.y_mm
    for leg in plan.heights.legs:
        asked, key = f"node {leg.node}", f"node/{leg.node}"
        yield asked, f"{key}/base", leg.base_mm
        yield asked, f"{key}/leg", leg.leg_mm
        yield asked, f"{key}/depth", leg.depth_mm
        if leg.target_mm is not None:
            yield asked, f"{key}/target", leg.target_mm
        if not leg.fits:
            yield asked, f"{key}/short", leg.short_by_mm
        elif leg.extensions or leg.packing_mm:
            yield asked, f"{key}/screw", None
    for foot in plan.quantities.feet:
        yield f"node {foot.node}", f"node/{foot.node}/pressure", foot.pressure_kpa
        yield f"node {foot.node}", f"node/{foot.node}/force", foot.force_kn


def bays(plan: Plan) -> Iterator[Expected]:
    depths = dict(plan.heights.bay_depths)
    for row in plan.quantities.bays:
        asked, key = f"bay {row.bay}", f"bay/{row.bay}"
        yield asked, f"{key}/litres", row.volume_l
        yield asked, f"{key}/area", row.area_m2
        yield asked, f"{key}/depth", row.mean_depth_mm
        yield asked, f"{key}/smallest", depths[row.bay].least_mm
        yield asked, f"{key}/greatest", depths[row.bay].most_mm


def pours(plan: Plan) -> Iterator[Expected]:
    for p in plan.sequence.pours:
        asked, key = f"pour {p.number}", f"pour/{p.number}"
        yield asked, f"{key}/litres", p.volume_l
        yield asked, f"{key}/bags", p.bags
        yield asked, f"{key}/mass", p.bags_mass_kg
        yield asked, f"{key}/hours", p.hours
        yield asked, f"{key}/end", p.ends_at
        yield asked, f"{key}/start", p.starts_at
        if p.batches:
            yield asked, f"{key}/batches", p.batches
            yield asked, f"{key}/last batch", p.last_batch_bags
            yield "batch bags" if len(plan.sequence.batches) == 1 else f"batch {p.fill} bags", "", p.bags_per_batch
        for name, water in (("all", p.water_l), ("last", p.last_batch_water_l)):
            if water is not None:
                yield asked, f"{key}/water/{name}/least", water[0]
                yield asked, f"{key}/water/{name}/most", water[1]
        if p.water_per_batch_l is not None:
            yield asked, f"{key}/water/least", p.water_per_batch_l[0]
            yield asked, f"{key}/water/most", p.water_per_batch_l[1]


def dates(plan: Plan) -> Iterator[Expected]:
    start = plan.project.calendar.start
    yield "date start", "date/start", (plan.sequence.started - start).days
    yield "date grid", "date/grid", (plan.sequence.work_days[-1].date - start).days
    for p in plan.sequence.pours:
        yield f"date pour {p.number}", f"date/pour {p.number}", (p.date - start).days
    for w in plan.sequence.waiting:
        yield f"date {w.event}", f"date/{w.event}", (w.date - start).days
    for name, date in plan.sequence.dates.items():
        yield name, "", (date - start).days


def weights(plan: Plan) -> Iterator[Expected]:
    w = plan.quantities.weight
    for name, value in (
        ("dry", w.dry_kg_m2),
        ("fresh", w.fresh_kg_m2),
        ("dry/force", w.dry_kn_m2),
        ("fresh/force", w.fresh_kn_m2),
        ("working", w.fresh_with_people_kn_m2),
        ("worst/dry", w.worst_dry_kn_m2),
        ("worst/fresh", w.worst_fresh_kn_m2),
    ):
        yield "weight", f"weight/{name}", value
    if w.allowed_working_kn_m2 is not None:
        yield "weight", "weight/allowed working", w.allowed_working_kn_m2
    if w.bags_per_m2 is not None:
        yield "weight", "weight/bags", w.bags_per_m2


def bought(plan: Plan) -> Iterator[Expected]:
    for line in plan.purchase.order:
        assert line.key
        yield f"order {line.item}", line.key, line.quantity
        if line.mass_kg is not None and not line.total:
            key = line.key.removesuffix("/bags") + "/mass" if line.key.startswith("pour/") else f"{line.key}/mass"
            yield f"order {line.item}", key, line.mass_kg
    money = plan.purchase.money
    for n, row in enumerate(money.rows, 1):
        yield f"price {row.item}", f"money/row {n}", row.amount
    for name, amount in (
        ("net", money.net),
        ("overhead", money.overhead),
        ("tax", money.tax),
        ("total", money.total),
    ):
        if money.rows:
            yield "money", f"money/{name}", amount
    yield "delivery", "delivery/mass", plan.purchase.delivery.mass_kg
    yield "delivery", "delivery/bags", plan.purchase.delivery.bags


def floors(plan: Plan) -> Iterator[Expected]:
    for point in plan.survey.levels.points:
        yield f"reading {point.id}", f"level/{point.id}", point.level_mm
    for s in plan.survey.levels.setups:
        yield "levels", f"collimation/{s.name}", s.collimation_mm
        yield "levels", f"correction/{s.name}", s.correction_mm
    depth, heights = plan.heights.depth, plan.heights
    yield "depth", "depth/mean", depth.mean_mm
    yield "depth", "depth/smallest", depth.least_mm
    yield "depth", "depth/greatest", depth.most_mm
    for z in heights.zones:
        yield f"zone {z.name}", f"zone/{z.name}/rail top", z.rail_top_mm
        yield f"zone {z.name}", f"zone/{z.name}/finish", z.build_up.finish_mm
    for end, bounds in (("at least", heights.window.at_least), ("at most", heights.window.at_most)):
        for n, bound in enumerate(bounds):
            yield "window", f"window/{end}" + (f"/{n}" if n else ""), half_up(bound.level_mm, TENTH)
    for door in (*heights.doors, *heights.edges):
        kind = "door" if door in heights.doors else "edge"
        yield f"{kind} {door.door}", f"{kind}/{door.door}", door.step_mm
    for cover in heights.covers:
        yield f"pipe {cover.service}", f"cover/{cover.service}", cover.cover_mm
        yield f"pipe {cover.service}", f"under rail/{cover.service}", cover.under_rail_needed_mm
    for c in plan.quantities.circuits:
        yield f"pipe {c.service}", f"circuit/{c.service}", c.length_m
    for bar in plan.layout.cut_list.bars:
        yield f"stock length {bar.number}", f"bar/{bar.number}", bar.offcut_mm


ALL = (nodes, bays, pours, dates, weights, bought, floors)


def faults(lines: Lines, asked: dict[str, tuple[str, ...]], wanted: Expected) -> Iterator[str]:
    """What is wrong with one number. asked: the keys of the lines of each subject"""
    subject, key, number = wanted
    reach = asked.get(subject, ())
    key = key or next(iter(reach), "")
    line = lines.find(key)
    if key not in reach or line is None:
        yield f"{subject}: {key} is not among its lines"
    elif number is not None and not same(number, line):
        yield f"{subject}: {key} gives {line.value} where the plan has {number}"


def same(number: float, line: Worked) -> bool:
    digits = TENTH if line.key.startswith(("window/", "zone/")) else line.digits
    return half_up(abs(number), digits) == half_up(line.value, digits)


def typed(plan: Plan, lines: Lines, words: str) -> tuple[str, ...]:
    return tuple(k for s in ask(plan, lines, words.split()).subjects for k in s.keys)


def test_every_number_of_the_plan_can_be_asked_for_and_its_line_gives_it(plan: Plan) -> None:
    lines = Lines(plan)
    wanted = [e for make in ALL for e in make(plan)]
    assert len(wanted) > 300
    asked = {s.asked: s.keys for s in list_subjects(plan, lines)}
    for k, (words, *_) in enumerate(wanted):
        if words not in asked or k % EVERY == 0:
            asked[words] = typed(plan, lines, words)
    wrong = [f for one in wanted for f in faults(lines, asked, one)]
    assert not wrong, f"{len(wrong)} of {len(wanted)}:\n" + "\n".join(wrong[:20])


def test_a_number_without_its_line_is_seen(plan: Plan) -> None:
    lines = Lines(plan)
    leg = plan.heights.legs[0]
    asked = {s.asked: s.keys for s in list_subjects(plan, lines)}
    right = (f"node {leg.node}", f"node/{leg.node}/leg", leg.leg_mm)
    assert not list(faults(lines, asked, right))
    assert list(faults(lines, asked, (*right[:2], leg.leg_mm + 1)))
    assert list(faults(lines, asked, (right[0], "money/total", None)))
    assert list(faults(lines, asked, ("node Q99", "", None)))


def test_every_finding_tells_where_its_number_and_its_limit_come_from(plan: Plan) -> None:
    lines = Lines(plan)
    for f in plan.findings:
        assert (f.number is None) == (f.number_from is None), f.code
        assert (f.limit is None) == (f.limit_from is None), f.code
        for value, figure in ((f.number, f.number_from), (f.limit, f.limit_from)):
            if isinstance(figure, By):
                line = lines.find(figure.key)
                assert line is not None, (f.code, figure.key)
                assert half_up(abs(value or 0.0), line.digits) == half_up(line.value, line.digits), (f.code, line)
            elif isinstance(figure, Given):
                assert figure.value == value
        gap = finding_line(f, lines)
        if f.number_from is not None and f.limit_from is not None and f.number_from != f.limit_from:
            assert isinstance(gap, Worked)
            assert abs(gap.value - abs((f.number or 0.0) - (f.limit or 0.0))) <= 0.51, (f.code, gap)
        for key in f.more:
            assert lines.find(key) is not None, (f.code, key)
        code = ask(plan, lines, [f.code, f.where] if f.where else [f.code])
        assert f in [s.finding for s in code.subjects]
