"""Says in plain words what is wrong with a line that cannot be read, and mends it so that the rest can be.

Works on the place where PyYAML gave up. What was probably meant is decided from the lines round it; where that
is not sure, nothing is mended and reading ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import yaml

from packgen.project.mend_brackets import brackets, colon_before_bracket
from packgen.project.mend_dash import no_dash, section_inside
from packgen.project.mend_indent import row_of_table, uneven_indent
from packgen.project.mend_signs import (
    after_bar,
    after_quote,
    colon_in_text,
    dash_after_colon,
    no_colon,
    odd_start,
    open_quote,
    question_mark,
)
from packgen.project.spot import Mend, Spot, fault_at


def mend(lines: Sequence[str], error: yaml.MarkedYAMLError, keys: frozenset[str]) -> Mend:
    """`keys` are the words that may stand before a colon somewhere in a project file."""
    mark = error.problem_mark or error.context_mark
    began = error.context_mark or mark
    assert mark is not None
    assert began is not None
    spot = Spot(
        lines,
        min(mark.line, len(lines) - 1),
        mark.column,
        min(began.line, len(lines) - 1),
        began.column,
        error.context or "",
        error.problem or "",
    )
    rules: tuple[Callable[[Spot, frozenset[str]], Mend | None], ...] = (
        question_mark,
        open_quote,
        odd_start,
        dash_after_colon,
        after_bar,
        colon_before_bracket,
        brackets,
        after_quote,
        row_of_table,
        colon_in_text,
        no_colon,
        section_inside,
        no_dash,
        uneven_indent,
    )
    for rule in rules:
        found = rule(spot, keys)
        if found is not None:
            return found
    says = (
        "this line cannot be read here: every line is 'key: value' or '- item', and lines that belong "
        "together start in one column"
    )
    return Mend(fault_at(spot.line, spot.column, "cannot-read", says), None)
