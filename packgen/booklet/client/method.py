"""Section 8: the work step by step, with this plan's numbers, who does it, how it is checked and what is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packgen.booklet.base_spots import spots
from packgen.booklet.client.blocks import Either, Rows, Section
from packgen.booklet.client.refs import see
from packgen.booklet.client.tables import bag_word, by_zone, rail_words
from packgen.booklet.dense import Desk
from packgen.booklet.drawing.setout_plan import first_lines
from packgen.booklet.pour_words import counted, fill_of, fills_in_use, pack_word, range_of
from packgen.booklet.rows import Column, Row
from packgen.booklet.tools import boarded
from packgen.core.figures import clock, day, listed, number, plain, whole
from packgen.plan import Plan
from packgen.quantities.order import SHEETS
from packgen.sequence.model import Pour
from packgen.trade.setting_out import setting_rule
from packgen.trade.site_readings import reading_rule, straightedge_count, test_point_count

MOST_POURS = 5  # more days of filling are said in one step


@dataclass(frozen=True, slots=True)
class Step:
    """says: what is done, with its numbers. who: with the day. check, record: how it is proved, where it is written."""

    says: str
    who: str
    check: str
    record: str


def section(plan: Plan) -> Section:
    """One table, a row a step; without the records where the statement would be too long."""
    found = steps(plan)
    return Section("method", "Method, step by step", (Either(5, (_table(found, True),), (_table(found, False),)),))


def _table(found: tuple[Step, ...], records: bool) -> Rows:
    rows = [
        Row((str(n), s.says, s.who, f"{s.check}. Record: {s.record}." if records else s.check), "light")
        for n, s in enumerate(found, 1)
    ]
    columns = (
        Column("", "number", 9),
        Column("what is done"),
        Column("who, when", width_mm=38),
        Column("check and record" if records else "check", width_mm=54 if records else 44),
    )
    return Rows(Desk(columns, tuple(rows)))


def steps(plan: Plan) -> tuple[Step, ...]:
    """Ten to sixteen steps in the order of doing."""
    parts = (_before, _base, _grid, _pipes, _fill, _after)
    return tuple(step for part in parts for step in part(plan))


def _two(plan: Plan) -> str:
    """Who does what takes two."""
    return "Two persons" if sum(p.number for p in plan.project.crew) > 1 else "Crew and a second person, not stated who"


def _started(plan: Plan) -> str:
    return day(plan.sequence.started)


def _before(plan: Plan) -> Iterator[Step]:
    delivery, weight = plan.purchase.delivery, plan.quantities.weight
    stack = f", not more than {weight.bags_per_m2} bags on a square metre" if weight.bags_per_m2 is not None else ""
    yield Step(
        f"Deliver {counted(delivery.bags, bag_word(plan))} and all else of {see('materials')}, "
        f"{number(delivery.mass_kg)} kg as far as masses are known; store dry{stack}.",
        f"Supplier and crew, by {_started(plan)}",
        "Against the order list and its plan sign",
        "delivery notes",
    )
    datum = plan.project.datum
    yield Step(
        f"Take up {datum.name} ({datum.where}) and test the laser between two marks.",
        f"{_two(plan)}, before setting out",
        f"Start and end of each session differ by {plain(reading_rule('datum_differs').value)} mm at most",
        "datum sheet",
    )


def _base(plan: Plan) -> Iterator[Step]:
    base = plan.project.base
    highs, _ = spots(plan)
    off = [f"{s.take_off_mm} at {s.name}" for s in highs if s.take_off_mm]
    take = f" Take off the base: {listed(off)}." if off else ""
    loose = " Screw loose boards down." if base.timber else ""
    yield Step(
        f"Clear and clean {number(plan.quantities.room_m2, 2)} m² of base.{loose}{take}",
        "Crew, before the rails are laid",
        "Nothing loose, oily or wet; places worked on are read again",
        "base accepted, " + see("signoffs"),
    )
    sheets = [o for o in plan.purchase.order if o.group == SHEETS and not o.total and "tape" not in o.item]
    if sheets:
        said = listed([f"{o.item} ({number(o.quantity, o.digits)} {o.unit})" for o in sheets])
        lap = plain(setting_rule("foil_lap").value)
        foil = any("layer" in o.item or "membrane" in o.item for o in sheets)
        laps = f" Laps {lap} and taped." if foil and "lap" not in (base.separating_layer or "") else ""
        yield Step(
            f"Lay {said}.{laps} The strip stands above the covering.",
            "Crew, before the rails are laid",
            "No wall, column or frame without strip; no hole in the sheet" if foil else "No gap in the strip",
            "photographs",
        )


def _grid(plan: Plan) -> Iterator[Step]:
    layout, heights, kit, q = plan.layout, plan.heights, plan.project.kit, plan.quantities
    firsts = [f for r in plan.survey.rooms[:3] for f in first_lines(plan, r)]
    square = [f"{a} to {b} {whole(mm)}" for a, b, mm in layout.diagonals[:2]]
    near = plain(setting_rule("diagonals").value)
    diagonals = f"Diagonals {listed(square)}, within {near} mm" if square else "Running sizes read from both ends"
    yield Step(
        f"Set out the first lines {listed(firsts, most=6)}, then every line at its running size, module "
        f"{plain(kit.module)}.",
        f"{_two(plan)}, {_set_days(plan)}",
        diagonals,
        "set-out sheet",
    )
    extras = [
        f"{count} {words}"
        for count, words in (
            (q.legs_extended, "with extension"),
            (q.legs_packed, "on packing"),
            (q.legs_not_fitting, "cannot be set: a hold"),
        )
        if count
    ]
    legs = [leg.leg_mm for leg in heights.legs]
    span = f" of {min(legs)} to {max(legs)} mm" if legs else ""
    yield Step(
        f"Cut and lay {counted(len(layout.rails), 'rail')} on {counted(len(legs), 'leg')}{span}"
        f"{' (' + ', '.join(extras) + ')' if extras else ''}.",
        f"Crew, {_set_days(plan)}",
        "Every rail clear of the wall; no foot on a pipe",
        "leg table",
    )
    limits, masters = plan.project.limits, sum(leg.master for leg in heights.legs)
    tops = by_zone(plan, [rail_words(plan, z) for z in heights.zones], most=3)
    yield Step(
        f"Set the rails to height: {tops}. {counted(masters, 'leg')} by laser, the others from them by straightedge, "
        f"{plain(heights.straightedge_mm / 1000, 1)} m long.",
        f"{_two(plan)}, {_set_days(plan)}",
        f"Within {plain(limits.rail_top, 1)} of target, {plain(limits.next_node, 1)} to the next leg",
        "leg table, ticked",
    )
    yield Step(
        "Read the rails a second time, without the targets in sight.",
        "A person who did not set them",
        f"The same limits: {plain(limits.rail_top, 1)} and {plain(limits.next_node, 1)} mm",
        "as-built sheet, grid released",
    )


def _set_days(plan: Plan) -> str:
    days = [w.date for w in plan.sequence.work_days if "grid" in w.task]
    if not days:
        return _started(plan)
    return day(days[0]) if len(days) == 1 else f"{day(days[0])} to {day(days[-1])}"


def _pipes(plan: Plan) -> Iterator[Step]:
    heating = plan.project.heating
    circuits = [s for s in plan.project.services if s.heating]
    if heating is None or not circuits:
        return
    pressure = heating.test_pressure
    bar = f" at {plain(pressure.least)} to {plain(pressure.most)} bar" if pressure else ""
    lengths = [f"{c.service} {number(c.length_m, 1)} m" for c in plan.quantities.circuits]
    keep = {"yes": " The pressure stays on while filling.", "no": " The file says the pressure is not kept on."}.get(
        heating.keep_pressure_during_pour, ""
    )
    yield Step(
        f"Heating fitter: {listed(lengths) if lengths else 'the circuits'}; tested with {heating.test_medium}{bar}."
        + keep,
        "Heating fitter (by others), before filling",
        f"Cover over the pipe {plain(heating.least_cover_over_pipe)} or more"
        if heating.least_cover_over_pipe
        else "Paper of the test",
        "pressure test paper",
    )


def _fill(plan: Plan) -> Iterator[Step]:
    pours = plan.sequence.pours
    if len(pours) <= MOST_POURS:
        for pour in pours:
            yield _day(plan, pour)
    elif pours:
        yield _days(plan)
    for fill in fills_in_use(plan)[:2] if len(pours) > 1 else ():
        yield Step(
            f"{fill.kind[:1].upper()}{fill.kind[1:]}: strike off on the rails, bay by bay"
            + (
                ", finish before the batch is "
                f"{plain(fill.working_time)} minutes old; cover each bay as it is finished."
                if fill.mixed and fill.working_time
                else "; cover each bay as it is finished."
                if fill.mixed
                else f"; it settles {plain(fill.settles * 100, 1)} %, so it is placed that much over."
                if fill.settles
                else "."
            ),
            "Who places, each day of filling",
            "The straight board touches both rails over its whole way",
            "day's log",
        )
    if boarded(plan):
        yield from _boards(plan)


def _day(plan: Plan, pour: Pour) -> Step:
    fill = fill_of(plan, pour)
    bags = counted(pour.bags, pack_word(fill))
    batches = f" in {counted(pour.batches, 'batch', 'batches')}" if fill.mixed and pour.batches else ""
    water = f", water {range_of(pour.water_per_batch_l)} L a batch" if pour.water_per_batch_l else ""
    edges = sum(t.close_edge for t in pour.turns)
    close = f"Close the open edges of {counted(edges, 'bay')} with upright boards or foam. " if edges else ""
    stop = "" if pour.stop_line is None else f" The day ends at {pour.stop_line.says.split(',')[0].rstrip('.')}."
    finish = ""
    if len(plan.sequence.pours) == 1:
        minutes = fill.working_time
        aged = f", finished before the batch is {plain(minutes)} minutes old" if fill.mixed and minutes else ""
        finish = f" Each bay is struck off on the rails{aged}{', then covered' if fill.mixed else ''}."
    limit = f"; nights at least {plain(pour.night_limit_c)} °C" if pour.night_limit_c is not None else ""
    return Step(
        f"{close}Fill {counted(len(pour.turns), 'bay')}, {number(pour.volume_l)} L: {bags}{batches}{water}, from the "
        f"far end towards {f'the {pour.leave_by}' if pour.leave_by else 'the way out'}.{finish}{stop}",
        f"{counted(pour.persons, 'person')}, {day(pour.date)}, {clock(pour.starts_at)} to {clock(pour.ends_at)}",
        f"Bags counted against {pour.bags}{limit}",
        f"day's log {pour.number}",
    )


def _days(plan: Plan) -> Step:
    pours = plan.sequence.pours
    bags, litres = sum(p.bags for p in pours), sum(p.volume_l for p in pours)
    bays = sum(len(p.turns) for p in pours)
    persons = max(p.persons for p in pours)
    return Step(
        f"Fill {counted(bays, 'bay')} on {len(pours)} days, {number(litres)} L: {counted(bags, bag_word(plan))}, each "
        "day from the far end towards the way out and to a grid line; open edges are closed first.",
        f"{counted(persons, 'person')}, {day(pours[0].date)} to {day(pours[-1].date)}",
        "Bags counted each day against the pour sheet",
        "a log for each day",
    )


def _boards(plan: Plan) -> Iterator[Step]:
    board = next(f.board_on_top for f in fills_in_use(plan) if f.board_on_top)
    same = "the same day" if plan.sequence.boards_same_day else "when the fill may be walked on"
    yield Step(
        f"Screw {plain(board.thickness)} {board.material} boards on the rails, "
        f"{number(plan.quantities.boards_m2, 2)} m², joints on rails, rows staggered.",
        f"Crew, {same}",
        "No board springs; no screw over a service",
        "day's log, photographs",
    )


def _after(plan: Plan) -> Iterator[Step]:
    dates = plan.sequence.dates
    if "covered_until" in dates:
        walk = f"; nobody walks on all of it before {day(dates['walk_on'])}" if "walk_on" in dates else ""
        yield Step(
            f"Keep the floor covered{walk}, no load, ladder or trolley before "
            f"{day(dates.get('load', dates['covered_until']))}.",
            f"Nobody enters; cover off {day(dates['covered_until'])}",
            "Notice at the way in" + ("; cover held down" if plan.project.outside else "; windows shut"),
            "waiting calendar",
        )
    if "heat_up_not_before" in dates:
        done = dates.get("cooled_down", dates.get("heating_done"))
        yield Step(
            f"Run up the heating, not before {day(dates['heat_up_not_before'])}"
            f"{f', over and cold by {day(done)}' if done else ''}. It does not prove that the floor is dry.",
            "Heating fitter (by others)",
            "Flow and room temperature, a line a day",
            "heat-up log",
        )
    rooms = plan.survey.rooms
    places = sum(straightedge_count(r.area_m2) for r in rooms)
    yield Step(
        f"Lay a straightedge of 2 m at {places} places and read the levels at the doors.",
        "Second person, when it may be walked on",
        f"Class {plan.project.limits.surface}, see {see('quality')}",
        "straightedge readings",
    )
    if "test_not_before" in dates:
        points = sum(test_point_count(r.area_m2) for r in rooms)
        yield Step(
            f"Test residual moisture at {counted(points, 'point')}, not before {day(dates['test_not_before'])}. The "
            "test decides, not the date.",
            "Who covers the floor, or a tester",
            f"Limits in {see('quality')}",
            "moisture test paper",
        )
    yield Step(
        "Hand over to the one who covers, then to the client, with the plan of what lies below.",
        "Contractor and client",
        "All papers of " + see("signoffs"),
        "handover sheets, signed",
    )
