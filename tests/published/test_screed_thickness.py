"""Least thicknesses as the handbooks quote them.

Sources: betontechnische-daten.de, section 15.3 (DIN 18560-2 table and note 1; separating layer; bonded); Concrete
Society, Screeds general (BS 8204-1). BS 8204-7 figures are from memory and say so.
"""

from __future__ import annotations

import pytest

from packgen.trade.thickness import ScreedClass, least_thickness, most_in_one_layer, pipe_cover, screed_class

LOADS = (2.0, 3.0, 4.0, 5.0)
DIN_FLOATING = {
    "CT-F4": (45, 65, 70, 75),
    "CT-F5": (40, 55, 60, 65),
    "CA-F4": (45, 65, 70, 75),
    "CA-F5": (40, 55, 60, 65),
    "CA-F7": (35, 50, 55, 60),
    "CAF-F4": (35, 50, 60, 65),
    "CAF-F5": (35, 45, 50, 55),
    "CAF-F7": (35, 40, 45, 50),
}


def least(rule_set, construction, declared, load=2.0, **more):
    screed = screed_class(declared)
    assert screed is not None
    found = least_thickness(rule_set, construction, screed, load_kn_m2=load, **more)
    return None if found is None else found.least_mm


@pytest.mark.parametrize("declared", DIN_FLOATING)
def test_din_18560_2_on_insulation(declared):
    assert tuple(least("din", "floating", declared, load) for load in LOADS) == DIN_FLOATING[declared]


def test_the_higher_point_load_chooses_the_column():
    """stlb-bau-online.de: 3 kN/m² with 4 kN on a point counts as 5 kN/m²."""
    assert least("din", "floating", "CT-F4", 3.0, point_load_kn=4.0) == 75
    assert least("din", "floating", "CT-F4", 3.0, point_load_kn=2.0) == 65


def test_soft_insulation_asks_for_5_more_and_only_under_light_load():
    assert least("din", "floating", "CT-F4", 2.0, compressible_mm=5) == 45
    assert least("din", "floating", "CT-F4", 2.0, compressible_mm=8) == 50
    assert least("din", "floating", "CT-F4", 2.0, compressible_mm=12) is None
    assert least("din", "floating", "CT-F4", 4.0, compressible_mm=4) is None


def test_beyond_the_table_there_is_no_figure():
    assert least("din", "floating", "CT-F4", 5.5) is None
    assert least("din", "unbonded", "CT-F3") is None
    assert least("din", "bonded", "CT-F4") is None


def test_heated_61_over_a_16_pipe():
    assert least("din", "floating", "CT-C20-F4", pipe_mm=16) == 61
    assert least("din", "unbonded", "CT-C20-F4", pipe_mm=16, under_stone=True) == 61
    assert pipe_cover("din", ScreedClass("CT", 4))[0] == 45


def test_on_a_separating_layer():
    assert least("din", "unbonded", "CT-F4") == 35
    assert least("din", "unbonded", "CAF-F4") == 30
    assert least("din", "unbonded", "CT-F5") == 35
    assert least("din", "unbonded", "CT-F7") == 30
    assert least("din", "unbonded", "CA-F7") == 35
    assert least("din", "unbonded", "CT-F4", under_stone=True) == 45
    assert least("din", "unbonded", "CAF-F4", under_stone=True) == 40


def test_bonded_in_one_layer_not_over_50():
    assert most_in_one_layer("din")[0] == 50
    assert most_in_one_layer("bs") is None


def test_bs_8204_1():
    assert least("bs", "bonded", "CT-C20-F4") == 25
    assert least("bs", "unbonded", "CT-C20-F4") == 50
    assert least("bs", "floating", "CT-C20-F4", 1.5) == 65
    assert least("bs", "floating", "CT-C20-F4", 3.0) == 75
    assert pipe_cover("bs", ScreedClass("CT", 4)) is None


def test_bs_8204_7_from_memory():
    screed = ScreedClass("CAF", 5)
    found = least_thickness("bs", "unbonded", screed, load_kn_m2=1.5)
    assert found is not None
    assert found.least_mm == 30
    assert found.source.known == "memory"


@pytest.mark.parametrize("declared", ["", "mastic", "AS-IC10", "SR-B2,0"])
def test_other_binders_have_no_rule_here(declared):
    assert screed_class(declared) is None
