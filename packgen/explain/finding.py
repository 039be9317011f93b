"""A finding told: what it says, its number and its limit worked, and what it rests on."""

from __future__ import annotations

from packgen.core.finding import Finding
from packgen.explain.lines import Lines
from packgen.explain.tell import Telling


def tell_finding(telling: Telling, lines: Lines, finding: Finding) -> None:
    where = f", {finding.where}" if finding.where else ""
    telling.head(f"{finding.kind} {finding.code}{where}")
    telling.say(finding.says, 1)
    telling.say(f"Rests on: {finding.source}", 1)
    for cure in finding.cures:
        telling.say(f"Do: {cure}", 1)
