"""No figure of the method statement is its own: each stands in plan.json, in the site pack or in the project file, or
is worked out here again from those."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from packgen.booklet.make import make_pack
from packgen.plan import Plan
from tests.conftest import SCENARIOS  # type: ignore[import-not-found]

PROJECTS = Path(__file__).parent.parent.parent.parent / "projects"
FIGURE = re.compile(r"(?<![\w.])[0-9]+(?:\.[0-9]+)?(?!\w|\.[0-9])")
GUIDELINE_KG, TWO_A_MINUTE = 25, 0.7  # manual handling guideline, less 30 % at 1 to 2 lifts a minute (INDG143)


def worth_a_look(text: str) -> bool:
    """Numbers of sections, sheets and counts up to 99 stand for too much to be traced."""
    return len(text) >= 3 or "." in text


def figures(value: Any) -> Iterator[str]:
    """Every number of some data as paper may round it, and every figure in its texts."""
    if isinstance(value, dict):
        for v in value.values():
            yield from figures(v)
    elif isinstance(value, list | tuple):
        for v in value:
            yield from figures(v)
    elif isinstance(value, str):
        yield from FIGURE.findall(value)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield from (rounded(abs(value), digits) for digits in range(3))
        yield f"{abs(value):g}"


def rounded(value: float, digits: int) -> str:
    """Half up, as paper rounds."""
    return f"{math.floor(value * 10**digits + 0.5 + 1e-9) / 10**digits:.{digits}f}"


def cents(value: float) -> str:
    return rounded(value, 2)


def derived(plan: Plan, data: dict[str, Any]) -> Iterator[str]:
    """What only a client wants to know, from the plan's own figures by pocket calculator."""
    used = dict(plan.project.fills.described)[plan.project.fills.use]
    if used.bag.price is not None:
        yield cents(10 * (1 + used.settles) * (1 + used.waste) / used.bag.makes * used.bag.price)
        yield cents(sum(p["bags"] for p in data["pours"]) * used.bag.price)
    day_hours = sum(p.number * p.hours_a_day for p in plan.project.crew)
    yield from (cents(day_hours * rate["rate"]) for rate in data["money"]["rows"] if rate["item"] == "labour")
    for _, hours in plan.sequence.person_hours:
        yield rounded(hours, 1)
    yield from figures([c.fresh_kn_m2 for c in plan.quantities.comparison])
    yield f"{plan.quantities.free_edges_m:.2f}"
    yield str(len(plan.layout.service_crossings))
    yield f"{GUIDELINE_KG * TWO_A_MINUTE:g}"
    yield rounded(sum(p["bags"] for p in data["pours"]) * used.bag.makes - sum(p["volume_l"] for p in data["pours"]), 0)
    water = [p["water_l"] for p in data["pours"] if p["water_l"]]
    yield from figures([sum(w[0] for w in water), sum(w[1] for w in water)])


@pytest.mark.parametrize("name", SCENARIOS)
def test_every_figure_is_known(statement_named: Any, read_words: Any, name: str) -> None:
    statement = statement_named(name)
    site = make_pack(statement.plan, "site")
    data = dict(statement.pack.data)
    known = set(FIGURE.findall(" ".join(read_words(s.body) for s in site.sheets)))
    known |= set(figures(data)) | set(derived(statement.plan, data))
    known |= set(FIGURE.findall((PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")))
    strange = [
        statement.words[max(0, m.start() - 40) : m.end() + 20]
        for m in FIGURE.finditer(statement.words)
        if worth_a_look(m[0]) and m[0] not in known
    ]
    assert strange == []


def test_a_figure_of_its_own_is_found(statement_named: Any) -> None:
    """The check can fail: a litre more in one place is a figure that stands nowhere else."""
    data = dict(statement_named("02-extension-heated").pack.data)
    litres = round(data["quantities"]["volume_l"])
    assert str(litres) in set(figures(data))
    assert str(litres + 1) not in set(figures(data))
