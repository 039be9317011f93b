"""The review: every check of the catalogue over one plan, what the papers lift, and the order on paper."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from packgen.core.finding import GATES, KINDS, Finding
from packgen.heights.model import Heights
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.quantities.model import Quantities
from packgen.review import (
    base_checks,
    drain_checks,
    foot_checks,
    height_checks,
    joined_checks,
    joint_checks,
    kit_checks,
    known_checks,
    load_checks,
    margin_checks,
    note_checks,
    people_checks,
    service_checks,
    survey_checks,
    water_checks,
    weather_checks,
    work_checks,
    zone_checks,
)
from packgen.review.job import Job
from packgen.review.lifted import with_lifts
from packgen.sequence.model import Sequence
from packgen.survey.model import Survey

Check = Callable[[Job], Iterator[Finding]]

CHECKS: tuple[Check, ...] = (
    *survey_checks.CHECKS,
    *joined_checks.CHECKS,
    *known_checks.CHECKS,
    *height_checks.CHECKS,
    *zone_checks.CHECKS,
    *kit_checks.CHECKS,
    *foot_checks.CHECKS,
    *load_checks.CHECKS,
    *base_checks.CHECKS,
    *water_checks.CHECKS,
    *drain_checks.CHECKS,
    *joint_checks.CHECKS,
    *service_checks.CHECKS,
    *weather_checks.CHECKS,
    *work_checks.CHECKS,
    *people_checks.CHECKS,
    *margin_checks.CHECKS,
    *note_checks.CHECKS,
)


def judge(
    project: Project,
    survey: Survey,
    layout: Layout,
    heights: Heights,
    quantities: Quantities,
    sequence: Sequence,
) -> tuple[Finding, ...]:
    """All findings of a plan: stops, cautions, notes; within them by gate, then by place."""
    job = Job(project, survey, layout, heights, quantities, sequence)
    made = [f for check in CHECKS for f in check(job)]
    return tuple(sorted(with_lifts(job, made), key=_order))


def _order(f: Finding) -> tuple[int, int, list[tuple[int, str]], str]:
    gate = GATES.index(f.gate) if f.gate else len(GATES)
    return KINDS.index(f.kind), gate, natural(f.where), f.code


def natural(text: str) -> list[tuple[int, str]]:
    """A key that puts C4 before C10.

    >>> sorted(["C10", "C4", "B7"], key=natural)
    ['B7', 'C4', 'C10']
    """
    return [(int(part), "") if part.isdigit() else (-1, part) for part in re.split(r"(\d+)", text) if part]
