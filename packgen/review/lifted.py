"""Entries under `lifted`: a paper lifts its stop, lapses, or fits nothing; no paper lifts a stop by numbers."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches

from packgen.core import figures
from packgen.core.finding import Finding, LiftedBy
from packgen.core.worked import FILE
from packgen.project.room_model import Lifted
from packgen.review.codes import CODES
from packgen.review.job import Job, mm
from packgen.review.say import found
from packgen.review.service_checks import test_age_fault, test_pressures
from packgen.trade.limits import damp_limit, limit

NUMBERED = ("engineer-open", "pressure-test-open", "moisture-open")  # their entries say what number the paper covers


def with_lifts(job: Job, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings with every entry under `lifted` applied, and a finding for each entry that lifts nothing."""
    out, extra = list(findings), []
    for entry in job.project.lifted:
        code = "-".join(entry.stop.lower().split())
        stops = [i for i, f in enumerate(out) if f.code == code and f.kind == "stop"]
        fitting = [i for i in stops if out[i].lift == "paper"]
        if stops and not fitting:
            extra.append(_not_by_paper(entry, out[stops[0]]))
            continue
        chosen = _chosen(entry, fitting, out)
        if chosen is None:
            extra.append(_fits_nothing(entry, code, [out[i] for i in fitting], out))
            continue
        stop = out[chosen]
        if stop.lifted_by is not None:
            continue
        why = lapse(job, stop, entry)
        if why is None:
            out[chosen] = replace(stop, lifted_by=LiftedBy(entry.by, entry.date, entry.paper, entry.covers))
        else:
            out[chosen] = replace(stop, says=f"{stop.says} {why}")
    return (*(_told_once(f) for f in out), *extra)


def _told_once(f: Finding) -> Finding:
    """A stop lifted by a later entry does not tell of an earlier one that had lapsed."""
    if f.lifted_by is None or LAPSED not in f.says:
        return f
    return replace(f, says=f.says[: f.says.index(LAPSED)].rstrip())


LAPSED = "It was lifted by "


def _chosen(entry: Lifted, fitting: list[int], out: list[Finding]) -> int | None:
    """The one stop that an entry means: by its place, which may be left out where there is only one."""
    if entry.where is None:
        return fitting[0] if len(fitting) == 1 else None
    wanted = entry.where.strip().casefold()
    return next((i for i in fitting if out[i].where.casefold() == wanted), None)


def lapse(job: Job, stop: Finding, entry: Lifted) -> str | None:
    """Why an entry does not lift its stop, as a sentence; None where it does."""
    why = _date_fault(job, stop, entry) or _number_fault(job, stop, entry)
    if why is None:
        return None
    covers = f" for {entry.covers}" if entry.covers else ""
    return f"{LAPSED}{entry.by} on {figures.day(entry.date)} ({entry.paper}){covers}; {why}."


def _date_fault(job: Job, stop: Finding, entry: Lifted) -> str | None:
    plan_date = job.project.project.date
    if entry.date > plan_date:
        return f"that day lies after the date of this plan, {figures.day(plan_date)}"
    if stop.code == "pressure-test-open" and stop.where != "while filling":
        old = test_age_fault(job, entry.date)
        return f"it {old}" if old else None
    ages = {
        "damp-base": (limit("damp_reading_age").value, job.first_pour or job.sequence.started),
        "laser-unproved": (limit("laser_age").value, job.sequence.started),
    }
    if stop.code in ages:
        most, needed_on = ages[stop.code]
        age = (needed_on - entry.date).days
        if age > most:
            return f"the paper is {age} days old when it is needed, and {mm(most)} days is the most"
    earliest = {"moisture-open": "test_not_before", "heat-log-open": "heating_done"}.get(stop.code)
    after: datetime.date | None = job.sequence.dates.get(earliest) if earliest else None
    if after is not None and entry.date < after:
        return f"the earliest day that counts is {figures.day(after)}"
    return None


def _number_fault(job: Job, stop: Finding, entry: Lifted) -> str | None:
    figure = covered(entry.covers or "")
    if figure is None:
        needs = stop.code in NUMBERED and stop.where != "while filling"
        return "the entry does not say for which number (for)" if needs else None
    number, unit = figure
    match stop.code:
        case "engineer-open" if stop.number is not None and number < stop.number:
            return f"the plan now needs {figures.number(stop.number, 2)} kN/m²"
        case "pressure-test-open":
            least, most, _ = test_pressures(job)
            if not least <= number <= most:
                return f"{mm(least)} to {mm(most)} bar is asked for"
        case "moisture-open" | "damp-base":
            rule = damp_limit(unit, job.binder, job.heated and stop.code == "moisture-open")
            if number > rule.value:
                return f"{mm(rule.value)} {rule.unit} is the most"
    return None


def covered(text: str) -> tuple[float, str] | None:
    """The number that a paper covers and its unit; the unit of damp is "% RH" or "CM-%".

    >>> covered("0.60 kN/m2"), covered("71 % RH"), covered("1.8 CM-%")
    ((0.6, 'kN/m2'), (71.0, '% RH'), (1.8, 'CM-%'))
    """
    met = re.match(r"\s*(\d+(?:[.,]\d+)?)\s*(.*)", text)
    if met is None:
        return None
    unit = met[2].strip()
    if "rh" in unit.lower():
        unit = "% RH"
    elif "%" in unit:
        unit = "CM-%"
    return float(met[1].replace(",", ".")), unit


def _not_by_paper(entry: Lifted, stop: Finding) -> Finding:
    return found(
        "caution",
        "not-by-paper",
        f"{entry.by} lifted {stop.code} with {entry.paper}: this hold goes only when the numbers change.",
        where=stop.where,
        source=FILE,
        cures=stop.cures,
        place=entry.marks.of("stop"),
    )


def _fits_nothing(entry: Lifted, code: str, fitting: list[Finding], out: Sequence[Finding]) -> Finding:
    """An entry whose code or place is not among the stops of this plan, with what was probably meant."""
    if code not in CODES:
        near = get_close_matches(code, [c for c, row in CODES.items() if row.lift == "paper"], 1, 0.5)
        why = f"there is no stop of that name{f'; did you mean {near[0]}?' if near else ''}"
    elif not fitting:
        why = "no such stop stands in this plan"
    elif entry.where is None:
        why = f"it stands at {figures.listed([f.where for f in fitting])}: say where"
    else:
        places = [f.where for f in fitting]
        near = get_close_matches(entry.where, places, 1, 0.4)
        why = f"there it does not stand{f'; did you mean {near[0]}?' if near else f', but at {figures.listed(places)}'}"
    return found(
        "caution",
        "lift-fits-nothing",
        f"'{entry.stop}'{f' at {entry.where}' if entry.where else ''} is lifted, and {why}".rstrip("?.")
        + ("?" if why.endswith("?") else "."),
        where=entry.where or "",
        source=FILE,
        cures=("correct the entry, or take it out",),
        place=entry.marks.of("where" if code in CODES and fitting and entry.where else "stop"),
    )
