"""The chain of the school bay at leg E3, with the values that a teacher worked by hand beforehand.

Values: the demo chain of the trade's rules for class sets (worked by hand from the bay's readings), not this program's.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from packgen.exercise.case import case_of
from packgen.exercise.model import Case, CaseLeg, CaseSpot
from packgen.exercise.questions import Posed, pose
from packgen.exercise.settings import settings_of
from packgen.plan import make_plan
from packgen.project.model import Project
from packgen.project.room_model import Today


@pytest.fixture(scope="module")
def chain(bay: Project) -> Posed:
    """Spots A1 (first set-up) and E3 (second), the leg at E3, today's backsight 1420."""
    today = Today(date=bay.calendar.start, backsight=1420.0)
    plan = make_plan(bay.model_copy(update={"today": today}))
    case: Case = case_of(plan, 1, "by hand", 2)
    spots = (CaseSpot("A1", "S1", 1540.0), CaseSpot("E3", "S2", 1387.0))
    case = replace(case, spots=spots, legs=(CaseLeg("E3", "E3", -90, 0.0),))
    return pose(case, settings_of(bay), 2)


@pytest.mark.parametrize(
    ("blank", "value"),
    [
        ("point/S2", -103),
        ("collimation/S2", 1299),
        ("misclosure", 2),
        ("correction/S1", -1),
        ("correction/S2", -2),
        ("level/A1", -105),
        ("level/E3", -90),
        ("rail top", -41),
        ("leg/E3", 49),
        ("target", 1461),
    ],
)
def test_right_answers(chain: Posed, blank: str, value: float) -> None:
    assert chain.right[blank] == value


@pytest.mark.parametrize(
    ("blank", "code", "then", "value"),
    [
        ("level/E3", "W27", "leg/E3", 47),
        ("level/E3", "W3", "leg/E3", 45),
        ("rail top", "W5", "leg/E3", 70),
        ("rail top", "W6", "leg/E3", 67),
        ("rail top", "W7", "leg/E3", 91),
        ("leg/E3", "W8", "leg/E3", 29),
        ("target", "W9", "target", 1379),
        ("target", "W10", "target", 1469),
        ("target", "W11", "target", 1477),
        ("level/A1", "W4", "level/A1", -106),
    ],
)
def test_wrong_ways(chain: Posed, blank: str, code: str, then: str, value: float) -> None:
    """The mistake's own value, or what comes of it when it is carried on rightly."""
    by_id = {b.id: b for b in chain.blanks}
    slip = next(s for s in by_id[blank].slips if s.code == code)
    way = slip.work(chain.known)
    assert way is not None
    found = way.value if then == blank else by_id[then].work({**chain.known, blank: way.value}).value
    assert found == value


def test_all_to_each_cannot_be_made_at_the_last_set_up(chain: Posed) -> None:
    slip = next(s for b in chain.blanks if b.id == "level/E3" for s in b.slips if s.code == "W4")
    assert slip.work(chain.known) is None
