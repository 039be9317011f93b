"""The way of the numbers on one screen: each stage takes what earlier ones returned and returns one record."""

from __future__ import annotations

from dataclasses import dataclass

from packgen.core.finding import Finding
from packgen.core.worked import Assumed, Worked
from packgen.heights.model import Heights
from packgen.heights.settle import find_heights
from packgen.layout.arrange import arrange
from packgen.layout.model import Layout
from packgen.project.model import Project
from packgen.purchase.buy import buy
from packgen.purchase.model import Purchase
from packgen.quantities.model import Quantities
from packgen.quantities.takeoff import take_off
from packgen.review.assume import list_assumed
from packgen.review.judge import judge
from packgen.sequence.model import Sequence
from packgen.sequence.schedule import schedule
from packgen.survey.model import Survey
from packgen.survey.reduce import survey_project


@dataclass(frozen=True)
class Plan:
    """Everything that is known about a job."""

    project: Project
    survey: Survey
    layout: Layout
    heights: Heights
    quantities: Quantities
    sequence: Sequence
    purchase: Purchase
    assumed: tuple[Assumed, ...]
    findings: tuple[Finding, ...]

    @property
    def worked(self) -> tuple[Worked, ...]:
        survey = (self.survey.levels.worked, *(room.worked for room in self.survey.rooms))
        later = (self.heights.worked, self.quantities.worked, self.sequence.worked, self.purchase.worked)
        return tuple(line for part in (*survey, *later) for line in part)

    @property
    def further(self) -> tuple[Worked, ...]:
        """Lines that others need, or that explain a printed figure, and that no sheet prints."""
        survey = (self.survey.levels.further, *(room.further for room in self.survey.rooms))
        later = (self.heights.further, self.quantities.further, self.sequence.further, self.purchase.further)
        return tuple(line for part in (*survey, *later) for line in part)


def make_plan(project: Project) -> Plan:
    survey = survey_project(project)
    layout = arrange(project, survey)
    return plan_from_heights(project, survey, layout, find_heights(project, survey, layout))


def plan_from_heights(project: Project, survey: Survey, layout: Layout, heights: Heights) -> Plan:
    """The rest of the way, for a floor whose heights are known: other bags, prices or people move no leg."""
    quantities = take_off(project, survey, layout, heights)
    sequence = schedule(project, survey, layout, heights, quantities)
    purchase = buy(project, survey, quantities, sequence)
    assumed = list_assumed(project, survey, layout, heights, quantities, sequence)
    findings = judge(project, survey, layout, heights, quantities, sequence)
    return Plan(project, survey, layout, heights, quantities, sequence, purchase, assumed, findings)
