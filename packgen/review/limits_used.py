"""The trade's limits that this plan is held against: those the file neither gives nor makes needless."""

from __future__ import annotations

from collections.abc import Iterator

from packgen.core import figures
from packgen.core.worked import Assumed
from packgen.review.job import Job, mm
from packgen.trade.grid_rules import grid_rule
from packgen.trade.limits import air_limit, cm_limit, field_rule, limit, pressure_range
from packgen.trade.survey import measuring
from packgen.trade.waiting import night_least


def limits_used(job: Job) -> Iterator[Assumed]:
    yield from _measuring(job)
    yield from _services(job)
    yield from _fill(job)
    if job.outside:
        yield from _outside()


def _of(name: str, what: str, used_for: str, overrule: str = "") -> Assumed:
    rule = limit(name)
    percent = rule.unit.startswith("of the") and rule.value < 1
    value = f"{figures.plain(rule.value * 100, 1)} %" if percent else figures.plain(rule.value)
    return Assumed(what, value, rule.unit, rule.source, overrule, used_for)


def _measuring(job: Job) -> Iterator[Assumed]:
    m = measuring()
    yield Assumed("tape against outline", mm(m.largest_residual_mm), "mm", m.source, "", "tapes that disagree")
    yield Assumed("reading off its neighbours", mm(m.stands_off_mm), "mm", m.source, "", "readings to take again")
    yield _of("reading_reach", "legs farther than this from a reading are guessed", "readings of the base")
    yield _of("reading_far", "legs farther than this count towards a survey too thin", "readings of the base")
    yield _of("thin_share", "share of such legs that stops the work", "readings of the base")
    yield _of("laser_age", "a two-peg test counts for", "laser", "laser: tested")
    yield _of("margin_mm", "little left: within", "cautions")
    yield _of("margin_load", "little left: within", "cautions")


def _services(job: Job) -> Iterator[Assumed]:
    if job.project.services:
        rule = grid_rule("over_service")
        yield Assumed(rule.says, mm(rule.value), rule.unit, rule.source, "", "rails over pipes")
    heating = job.project.heating
    if any(s.heating for s in job.project.services):
        yield _of("pressure_test_age", "a pressure test counts for", "pressure test", "services: pressure test")
        if heating is None or heating.test_pressure is None:
            least, most, source = pressure_range(heating.test_medium if heating else "water")
            yield Assumed(
                "test pressure", f"{mm(least)} to {mm(most)}", "bar", source, "heating: test pressure", "pressure test"
            )


def _fill(job: Job) -> Iterator[Assumed]:
    if job.fill.mixed:
        nights = night_least(job.fill.family)
        yield Assumed(
            "nights after filling that must not be cold",
            f"{max(nights.nights, job.fill.keep_covered or 0)}",
            "nights",
            nights.source,
            "fills: keep covered",
            "frost",
        )
        if job.fill.lowest_temperature is None:
            yield Assumed(
                "coldest night", mm(nights.celsius), "°C", nights.source, "fills: lowest temperature", "frost"
            )
    if job.fill.mixed and not job.outside:
        cm, air = cm_limit(job.binder, job.heated), air_limit()
        yield Assumed("most residual moisture", f"{mm(cm.value)}", cm.unit, cm.source, "", "moisture test")
        yield Assumed("most damp over base or fill", mm(air.value), air.unit, air.source, "", "damp, moisture test")
    if job.project.base.damp_reading.state == "read":
        yield _of("damp_reading_age", "a damp reading counts for", "damp of the base", "base: damp reading")
    if job.screed and not job.outside:
        rule = field_rule(job.binder, job.heated)
        size = f"{mm(rule.area_m2)} m², {mm(rule.side_m)} m long"
        yield Assumed("largest field between joints", size, "", rule.source, "joints", "joints")


def _outside() -> Iterator[Assumed]:
    yield _of("terrace_fall", "least fall outside", "falls", "finishes: fall")
    for name in ("outside_drop", "outside_drop_channel"):
        rule = grid_rule(name)
        yield Assumed(rule.says, mm(rule.value), rule.unit, rule.source, "", "sill over the surface outside")
