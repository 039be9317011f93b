"""A finding told: what it says, how far its number is from its limit, where both come from, and what to do."""

from __future__ import annotations

import math

from packgen.core.figures import half_up, plain
from packgen.core.finding import Finding
from packgen.core.worked import By, Figure, Given, Worked
from packgen.explain.lines import Lines
from packgen.explain.tell import Telling, result

MOST_DIGITS = 3


def tell_finding(telling: Telling, lines: Lines, finding: Finding) -> None:
    """Adds the finding to a telling."""
    where = f", {finding.where}" if finding.where else ""
    telling.head(f"{finding.kind.capitalize()} {finding.code}{where}")
    telling.say(finding.says, 1)
    line = finding_line(finding, lines)
    figure = finding.number_from or finding.limit_from
    if line is not None:
        telling.open(line, 1, f" = {result(line)}")
    elif isinstance(figure, Given):
        telling.given(figure, 1)
    elif figure is None:
        telling.say("No number stands behind this.", 1)
    if finding.source and (finding.source != "project file" or line is None):
        telling.say(f"rests on: {finding.source}", 1)
    for cure in finding.cures:
        telling.say(f"do: {cure}", 1)
    if finding.lifted_by is not None:
        telling.say(f"lifted by {finding.lifted_by.by}: {finding.lifted_by.paper}", 1)
    if finding.place is not None:
        telling.used.append(Given("where it is", 0, "", place=finding.place))
    for key in finding.more:
        more = lines.find(key)
        if more is not None:
            telling.line(more)


def finding_line(finding: Finding, lines: Lines) -> Worked | None:
    """How far number and limit of a finding are apart; the line of the one that it has where the other is missing.

    None where it has no number, or none that is worked.
    """
    number, limit = finding.number_from, finding.limit_from
    if number is None or limit is None or number == limit:
        only = number or limit
        return _line(only, lines) if only is not None and not isinstance(only, Given) else None
    ends = [(_value(f, lines), _name(f, lines), f) for f in (number, limit)]
    (low, low_name, _), (high, high_name, _) = sorted(ends, key=lambda e: e[0])
    digits = max(_digits(low), _digits(high))
    below = high < 0 or (high == 0 and low < 0)
    more, less = (-low, -high) if below else (high, low)
    more_name, less_name = (low_name, high_name) if below else (high_name, low_name)
    numbers = f"{plain(more)} - {plain(less)}" if less >= 0 else f"{plain(more)} + {plain(-less)}"
    lined = [line for _, _, f in ends if (line := _line(f, lines)) is not None]
    return Worked(
        f"finding/{finding.code}/{finding.where}",
        "limit and number are apart by",
        f"{more_name} {'-' if less >= 0 else '+'} {less_name}",
        numbers,
        half_up(abs(high - low), digits),
        digits,
        finding.unit,
        None,
        tuple(line.key for line in lined),
        tuple(f for _, _, f in ends if isinstance(f, Given)),
    )


def _line(figure: Figure, lines: Lines) -> Worked | None:
    if isinstance(figure, By):
        return lines.find(figure.key)
    return figure if isinstance(figure, Worked) else None


def _value(figure: Figure, lines: Lines) -> float:
    """The figure as it is printed, with its sign."""
    line = _line(figure, lines)
    value = half_up(figure.value, MOST_DIGITS) if line is None else math.copysign(line.value, figure.value)
    return value + 0.0


def _name(figure: Figure, lines: Lines) -> str:
    line = _line(figure, lines)
    return line.name if line is not None else figure.says if isinstance(figure, Given) else ""


def _digits(value: float) -> int:
    return next((d for d in range(MOST_DIGITS) if half_up(value, d) == half_up(value, MOST_DIGITS)), MOST_DIGITS)
