"""Checks of pipes, cables and heating: pressure test, gas, screws, length of circuits, first heating."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Iterator

from packgen.core import figures
from packgen.core.figures import plain
from packgen.core.finding import Finding
from packgen.core.worked import FILE, PRACTICE, By, Given, Source, Worked
from packgen.heights.model import RailOverService
from packgen.project.given import given
from packgen.project.room_model import Service
from packgen.project.work_model import BoardOnTop, Kit
from packgen.quantities.model import CircuitLength
from packgen.review.job import Job, many, mm
from packgen.review.say import found
from packgen.trade.grid_rules import grid_rule
from packgen.trade.limits import limit, pressure_range
from packgen.trade.tables import source
from packgen.trade.waiting import waiting_rule

NOT_DONE = ("", "not done", "no", "none", "unknown", "open", "not needed", "to do", "later")
BARE = ("done", "yes", "ok", "passed")


def test_pressures(job: Job) -> tuple[float, float, Source]:
    """Least and most test pressure, bar: the file's, else the standard's for the medium."""
    heating = job.project.heating
    if heating is not None and heating.test_pressure is not None:
        return heating.test_pressure.least, heating.test_pressure.most, FILE
    return pressure_range(heating.test_medium if heating else "water")


def _least_pressure(job: Job, least: float, from_where: Source) -> Given:
    heating, says = job.project.heating, "least test pressure"
    if heating is not None and heating.test_pressure is not None:
        return given(heating.test_pressure, "least", says, least, "bar")
    return Given(says, least, "bar", from_where)


def pressure_test(job: Job) -> Iterator[Finding]:
    """Each heating circuit: a test with its pressure and date, young enough when filling starts, pressure kept on."""
    for service in job.project.services:
        why = _test_fault(job, service) if service.heating else None
        if why:
            least, most, from_where = test_pressures(job)
            yield found(
                "stop",
                "pressure-test-open",
                f"{_capital(service.name)} {why}. A leak under screed is a new floor.",
                where=service.name,
                limit=_least_pressure(job, least, from_where),
                unit="bar",
                source=from_where,
                cures=(f"test it at {mm(least)} to {mm(most)} bar, keep it on while filling, and enter the sheet",),
                place=service.marks.of("pressure test"),
            )
    heating = job.project.heating
    if heating is not None and heating.keep_pressure_during_pour != "yes":
        yield found(
            "stop",
            "pressure-test-open",
            "Nobody has said that the pressure stays on the heating pipes while the fill goes in.",
            where="while filling",
            source=source("limits", "en_1264_4_test"),
            cures=("keep the pressure on, and write it down (keep pressure during pour: yes)",),
            place=heating.marks.of("keep pressure during pour"),
        )


def _test_fault(job: Job, service: Service) -> str | None:
    said = (service.pressure_test or "").strip().lower()
    if said in NOT_DONE:
        return "has not been tested under pressure"
    if said in BARE:
        return f"is said to be tested ('{service.pressure_test}'), with no pressure, date or paper"
    least, most, _ = test_pressures(job)
    bar = re.search(r"(\d+(?:[.,]\d+)?) ?bar", said)
    if bar and not least <= float(bar[1].replace(",", ".")) <= most:
        return f"was tested at {bar[1]} bar, and {mm(least)} to {mm(most)} is asked for"
    day = re.search(r"\d{4}-\d\d-\d\d", said)
    if day:
        return test_age_fault(job, datetime.date.fromisoformat(day[0]))
    return None


def test_age_fault(job: Job, tested: datetime.date) -> str | None:
    """What is wrong with the date of a pressure test, against the first day of filling."""
    start = job.first_pour or job.sequence.started
    age = limit("pressure_test_age")
    if (start - tested).days > age.value:
        return f"was tested {(start - tested).days} days before filling starts, and {mm(age.value)} is the most"
    return None


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def gas(job: Job) -> Iterator[Finding]:
    for service in job.project.services:
        if re.search(r"\bgas\b", f"{service.kind} {service.name}".lower()):
            yield found(
                "stop",
                "gas-in-floor",
                f"{_capital(service.name)}: a gas pipe is never ours. Stop and ask.",
                where=service.name,
                source=Source("competent person by law in most countries", known="memory"),
                cures=("a person competent for gas looks at it, and gives a certificate",),
                place=service.marks.of("kind"),
            )


def detection(job: Job) -> Iterator[Finding]:
    """Holes in the base, or high spots to take off, where nobody has looked for cables and pipes."""
    if job.project.services_found is not None:
        return
    holes = job.fill.family == "wool"
    high = [leg.node for leg in job.heights.legs if leg.leg_mm < job.project.kit.shortest_leg.shortest]
    if not holes and not high:
        return
    why = (
        "legs in wool are screwed to the base, unless they are glued"
        if holes
        else f"before anything is taken off the base at {figures.listed(high)}"
    )
    yield found(
        "stop" if holes else "caution",
        "services-unknown",
        f"Find cables and pipes before you drill or grind: {why}, and nobody has looked.",
        where="base" if holes else figures.listed(high),
        source=PRACTICE,
        cures=("a detector over the whole base, and write it down (services found)", "glue the legs")
        if holes
        else ("a detector over the place, and write it down (services found)",),
        place=job.project.marks.of("services"),
    )


def screws(job: Job) -> Iterator[Finding]:
    """Board screws longer than board and rail where a service crosses under the rail, or lies close beside it."""
    kit, board = job.project.kit, job.fill.board_on_top
    if kit.screw is None or board is None:
        return
    below = kit.screw - board.thickness - kit.rail.height
    if below <= 0:
        return
    crossings = job.heights.crossings
    if not crossings:
        return
    tight = min(crossings, key=lambda c: c.free_mm)
    free = max(0.0, _gap(job, tight))
    rails = sorted({c.rail for c in crossings})
    yield found(
        "stop",
        "screw-into-service",
        f"A {mm(kit.screw)} screw comes {mm(below)} below the rail; {tight.service} lies {mm(free)} below rail "
        f"{tight.rail}. {many(len(crossings), 'crossing')} on {figures.listed(rails)}.",
        where=f"{tight.service}, {figures.listed(rails)}",
        number=_below_board(kit, board, kit.screw),
        limit=given(kit.rail, "height", "height of the rail", kit.rail.height),
        unit="mm",
        source=limit("screw_service").source,
        cures=(
            f"screws of {mm(board.thickness + kit.rail.height)} or shorter",
            f"no screws within {mm(limit('screw_service').value)} of a crossing, and every crossing marked on the rail",
        ),
        place=kit.marks.of("screw"),
    )


def _below_board(kit: Kit, board: BoardOnTop, screw: float) -> Worked:
    """How far a screw goes below the board."""
    return Worked(
        "screw/below the board",
        "screw below the board",
        "screw - board",
        f"{plain(screw)} - {plain(board.thickness)}",
        figures.half_up(screw - board.thickness, 1),
        1,
        "mm",
        FILE,
        (),
        (
            given(kit, "screw", "length of the screws", screw),
            given(board, "thickness", "thickness of the board", board.thickness),
        ),
    )


def _gap(job: Job, crossing: RailOverService) -> float:
    """Room between the underside of the rail and the top of the service."""
    return crossing.free_mm + grid_rule("over_service").value


def circuits(job: Job) -> Iterator[Finding]:
    for c in job.quantities.circuits:
        if c.fits or c.allowed_m is None:
            continue
        service = job.service(c.service)
        yield found(
            "stop",
            "circuit-too-long",
            f"{_capital(c.service)} would be {figures.number(c.length_m, 1)} m long; {mm(c.allowed_m)} is the most.",
            where=c.service,
            number=By(c.length_m, f"circuit/{c.service}"),
            limit=given(service, "longest allowed", "longest circuit allowed", c.allowed_m, "m")
            if service
            else Given("longest circuit allowed", c.allowed_m, "m"),
            unit="m",
            source=FILE,
            cures=_shorter(c, service),
            place=service.marks.of("longest allowed") if service else None,
        )


def _shorter(circuit: CircuitLength, service: Service | None) -> tuple[str, ...]:
    """Into how many circuits it would have to be split, and the spacing at which one would do."""
    split, wider = "split it into two circuits", "a wider spacing"
    if circuit.allowed_m is None or circuit.allowed_m <= circuit.leads_m:
        return (split, "shorter leads")
    laid, room = circuit.length_m - circuit.leads_m, circuit.allowed_m - circuit.leads_m
    parts = math.ceil(laid / room - 1e-9)
    if parts > 2:
        split = f"split it into {parts} circuits"
    if service is not None and service.spacing:
        wider = f"a spacing of {mm(figures.round_up(service.spacing * laid / room))} or more"
    return (split, wider)


def first_heating(job: Job) -> Iterator[Finding]:
    """The file starts the heating earlier than the rule for this binder."""
    heating = job.project.heating
    if heating is None or heating.heat_up_not_before is None or not job.fill.mixed:
        return
    rule = waiting_rule(job.fill.family, "heat_up")
    if heating.heat_up_not_before < rule.days:
        yield found(
            "stop",
            "heat-too-soon",
            f"Heating starts on day {heating.heat_up_not_before}; day {rule.days} is the earliest.",
            where="heating",
            number=given(heating, "heat up not before", "first heating not before", heating.heat_up_not_before, "days"),
            limit=Given("first heating of this fill not before", rule.days, "days", rule.source),
            unit="days",
            source=rule.source,
            cures=(f"heat up not before {rule.days} days",),
            place=heating.marks.of("heat up not before"),
        )


def heat_log(job: Job) -> Iterator[Finding]:
    if job.heated and job.fill.mixed:
        place = job.project.heating.marks.start if job.project.heating else job.project.fills.marks.of("use")
        yield found(
            "stop",
            "heat-log-open",
            "Nobody has written down that the heating was run up. Functional heating does not prove dryness.",
            where="heating",
            source=waiting_rule(job.fill.family, "heat_up").source,
            cures=("run the programme, fill in the log on sheet Moisture, and enter it",),
            place=place,
        )


CHECKS = (pressure_test, gas, detection, screws, circuits, first_heating, heat_log)
