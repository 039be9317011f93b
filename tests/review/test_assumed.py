"""The list of assumed values: what the file does not say stands in it, what it says does not."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from packgen.plan import Plan

PlanWith = Callable[..., Plan]


@pytest.mark.parametrize("number", ["01", "02", "05", "07", "08"])
def test_every_line_has_a_source_and_none_stands_twice(number: str, plan_with: PlanWith) -> None:
    assumed = plan_with(number).assumed
    assert len({(a.what, a.value, a.unit) for a in assumed}) == len(assumed)
    for a in assumed:
        assert a.what, a
        assert a.value, a
        assert str(a.source), a
        assert a.used_for, a


@pytest.mark.parametrize(
    ("number", "key", "change"),
    [
        ("07", "kit: rail: stock", [["width: 35, height: 20}", "width: 35, height: 20, stock: 3000}"]]),
        ("07", "kit: saw cut", [["  mass: 2.8 kg/m2\n", "  mass: 2.8 kg/m2\n  saw cut: 4\n"]]),
        ("07", "kit: screw", [["  mass: 2.8 kg/m2\n", "  mass: 2.8 kg/m2\n  screw: 35\n"]]),
        ("07", "base: insulation", [["  membrane: yes\n", "  membrane: yes\n  insulation: none\n"]]),
        ("07", "finishes: wet", [["    fall: level\n", "    fall: level\n    wet: no\n"]]),
        ("07", "rooms: place", [["    check tapes:\n", "    place: inside\n    check tapes:\n"]]),
        ("07", "openings: ramp strip", [["sill: none}", "sill: none, ramp strip: no}"]]),
        ("07", "openings: others behind", [["sill: none}", "sill: none, others behind: no}"]]),
        ("07", "laser: tested", [["limits: {", "laser: {tested: 2027-09-01}\nlimits: {"]]),
        ("01", "project: house lived in", [["  reader: site ", "  house lived in: no\n  reader: site "]]),
        ("08", "base: built", [["  age: unknown\n", "  age: unknown\n  built: 1931\n"]]),
        ("02", "services: saddle", [["    leads: 9000\n", "    leads: 9000\n    saddle: no\n"]]),
        ("02", "limits: surface", [["surface: SR1, ", ""]]),
    ],
)
def test_a_key_in_the_file_takes_its_line_out(
    number: str, key: str, change: list[list[str]], plan_with: PlanWith
) -> None:
    before = [a for a in plan_with(number).assumed if a.overrule == key]
    after = [a for a in plan_with(number, change).assumed if a.overrule == key]
    more, fewer = (after, before) if key.startswith("limits") else (before, after)
    assert len(more) > len(fewer)


def test_what_weighs_most_comes_first(plan_with: PlanWith) -> None:
    keys = [a.overrule for a in plan_with("07").assumed]
    assert keys.index("base: insulation") < keys.index("kit: rail: stock") < keys.index("laser: tested")


def test_values_from_memory_say_so(plan_with: PlanWith) -> None:
    people = [a for a in plan_with("01").assumed if "people and hand tools" in a.what]
    assert people
    assert all("verify" in str(a.source) for a in people)
