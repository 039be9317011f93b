"""Amounts with their units, times and days: one thing written in several ways is one figure."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.core.lengths import NotUnderstood
from packgen.project import amounts, times
from packgen.project.amounts import PersonRate, Price

SAME: list[tuple[Callable[[str], Any], Any, list[str]]] = [
    (amounts.mass, 25.0, ["25 kg", "25kg", "25 KG", "25,0 kg", "0.025 t", "25000 g"]),
    (amounts.volume, 12.5, ["12.5 l", "12,5 L", "12.5 litres", "0.0125 m3", "12500 ml"]),
    (amounts.area_mass, 2.8, ["2.8 kg/m2", "2.8 kg/m²", "2,8 kg / m2", "2.8 kg per m2"]),
    (amounts.density, 2150.0, ["2150 kg/m3", "2150 kg/m³", "2.15 t/m3", "2.15 kg/l"]),
    (amounts.force, 2.5, ["2.5 kN", "2500 N", "2,5 kn"]),
    (amounts.pressure, 4.0, ["4 bar", "0.4 MPa", "400 kPa"]),
    (amounts.conductivity, 1.2, ["1.2 W/mK", "1.2 W/(mK)", "1.2 W/(m·K)", "1,2 W/m K"]),
    (amounts.share, 0.05, ["5 %", "5%", "5 per cent", "5,0 %"]),
    (amounts.temperature, 5.0, ["5 C", "5 °C", "5°C", "+5 C"]),
    (amounts.dry_rate, 0.5, ["0.5 mm per day", "0.5 mm/day", "0.5 mm / d", "0.05 cm per day"]),
    (amounts.flow_rate, 420.0, ["420 l per hour", "420 l/h", "7 l per minute", "7 l/min"]),
    (amounts.carry_rate, 12.0, ["12 bags per person hour", "12 bags/person hour"]),
    (amounts.rate, PersonRate(3.5, "m2"), ["3.5 m2 per person hour", "3,5 m² per person hour"]),
    (amounts.rate, PersonRate(260.0, "l"), ["260 l per person hour", "260 litres per person hour"]),
    (amounts.price, Price(24.0, "m2"), ["24.00 per m2", "24,00 / m²", "24 per sqm"]),
    (amounts.price, Price(65.0, "job"), ["65.00", "65"]),
    (amounts.price, Price(42.0, "hour"), ["42.00 per hour", "42/h"]),
    (times.hours, 7.5, ["7:30", "7.5", "7,5", "7 h 30 min", "7h30", "450 min"]),
    (times.minutes, 90.0, ["90 min", "1 h 30 min", "1:30", "1.5 h"]),
    (times.days, 21, ["21 days", "21", "3 weeks", "504 h"]),
    (times.weekday, 0, ["Mon", "mon", "Monday", "MONDAY"]),
    (amounts.wall, 3, ["wall 3", "Wall 3", "wall3", "wall 03"]),
    (amounts.distance, 2100.0, ["2100", "2.1 m", "210 cm"]),
]


@pytest.mark.parametrize(("read", "value", "texts"), SAME, ids=[f"{r.__name__}-{t[0]}" for r, _, t in SAME])
def test_one_amount_in_several_ways(read: Callable[[str], Any], value: Any, texts: list[str]) -> None:
    for text in texts:
        found = read(text)
        assert found == (pytest.approx(value) if isinstance(value, float) else value), text


def test_kilograms_on_an_area_become_a_load_by_standard_gravity() -> None:
    """9.80665 m/s² by definition, CGPM 1901."""
    assert amounts.load("100 kg/m2") == pytest.approx(0.980665)


REFUSED: list[tuple[Callable[[str], Any], str, str | None]] = [
    (amounts.mass, "25", "25 kg"),
    (amounts.mass, "25 lb", None),
    (amounts.volume, "12.5 kg", None),
    (amounts.share, "5", "5 %"),
    (amounts.share, "0.05", "5 %"),
    (amounts.share, "105 %", None),
    (amounts.temperature, "5", "5 C"),
    (amounts.temperature, "41 F", None),
    (amounts.force, "250 kg", "2.45 kN"),
    (amounts.price, "24.00 EUR per m2", "24.00 per m2"),
    (amounts.rate, "3.5 m2 per hour", "3.5 m2 per person hour"),
    (times.minutes, "45", "45 min"),
    (times.hours, "25", None),
    (times.hours, "7:75", None),
    (times.days, "2.5 days", None),
    (times.weekday, "Teu", "Tue"),
    (amounts.wall, "3", "wall 3"),
    (amounts.distance, "2.1", "2100"),
    (amounts.count, "2.5", None),
]


@pytest.mark.parametrize(("read", "text", "guess"), REFUSED, ids=[f"{r.__name__}-{t}" for r, t, _ in REFUSED])
def test_what_is_refused_says_what_was_meant(read: Callable[[str], Any], text: str, guess: str | None) -> None:
    with pytest.raises(NotUnderstood) as why:
        read(text)
    assert why.value.guess == guess


@given(st.dates(datetime.date(2000, 1, 1), datetime.date(2099, 12, 31)))
def test_every_day_is_read_and_its_other_forms_are_guessed(day: datetime.date) -> None:
    assert times.day(day.isoformat()) == day
    for form in ("%d.%m.%Y", "%Y/%m/%d", "%Y%m%d", "%d %B %Y", "%B %d, %Y"):
        with pytest.raises(NotUnderstood) as why:
            times.day(day.strftime(form))
        assert why.value.guess == day.isoformat()


@given(st.integers(1, 12), st.integers(1, 12))
def test_a_day_that_can_be_two_is_not_guessed(month: int, day: int) -> None:
    with pytest.raises(NotUnderstood) as why:
        times.day(f"{month:02d}/{day:02d}/2027")
    assert why.value.guess == (f"2027-{month:02d}-{day:02d}" if month == day else None)
