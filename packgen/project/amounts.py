"""Amounts that are no lengths: masses, loads, rates, times, dates, money. Text as typed to a float in one unit."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

from packgen.core.figures import KILONEWTON_PER_KG
from packgen.core.lengths import NotUnderstood, length, measure, number, shown, tidy

Per = Literal["m2", "m", "l", "kg", "bag", "piece", "hour", "day", "job"]


@dataclass(frozen=True, slots=True)
class PersonRate:
    """What one person does in an hour; `unit` is "m2" or "l"."""

    value: float
    unit: Literal["m2", "l"]


@dataclass(frozen=True, slots=True)
class Price:
    """A price and what it is for; "job" where the file names no unit: once for the whole job."""

    value: float
    per: Per


# --------------------------------------------------------------------------------- plain figures


LONGEST_TEXT = 2_000  # more fills a page


def words(text: str) -> str:
    plain = " ".join(text.split())
    if not plain:
        raise NotUnderstood("a text is wanted and nothing stands here", code="empty")
    if len(plain) > LONGEST_TEXT:
        raise NotUnderstood(
            f"the text has {len(plain)} characters, and {LONGEST_TEXT} are the most", code="text-too-long"
        )
    return plain


def figure(text: str) -> float:
    return number(text)


def not_below_zero(value: float, text: str, what: str) -> float:
    if value < 0:
        raise NotUnderstood(f"'{text}' is less than nothing: {what} is 0 or more", code="negative")
    return value


def size(text: str) -> float:
    """A length that is not below 0."""
    return not_below_zero(length(text), text, "a length")


LONGEST_BARE_IN_METRES = 100.0


def distance(text: str) -> float:
    """A length on plan: a bare figure with decimals this small was read off in metres."""
    return _no_metres(size(text), text)


def coordinate(text: str) -> float:
    """A distance that may lie outside the room, below 0."""
    return _no_metres(length(text), text)


def _no_metres(mm: float, text: str) -> float:
    if 0 < mm < LONGEST_BARE_IN_METRES and re.fullmatch(r"[0-9]*[.,][0-9]+", tidy(text)):
        raise NotUnderstood(
            f"'{text}' would be {shown(mm)} mm: did you mean {shown(mm)} m ({shown(mm * 1000)})?",
            shown(mm * 1000),
            "metres-without-unit",
        )
    return mm


def wall(text: str) -> int:
    plain = tidy(text)
    if found := re.fullmatch(r"wall ?([0-9]+)", plain, re.IGNORECASE):
        return int(found[1])
    digits = re.findall(r"[0-9]+", plain)
    guess = f"wall {digits[0]}" if len(digits) == 1 else None
    raise NotUnderstood(f"'{text}' is not a wall: write for example 'wall 2'", guess, "not-a-wall")


def count(text: str) -> int:
    value = not_below_zero(number(text), text, "a number of things")
    if value != int(value):
        raise NotUnderstood(f"'{text}' is not a whole number", code="not-whole")
    if value > 1_000_000:
        raise NotUnderstood(f"'{text}' is more than anybody can count here", code="too-large")
    return int(value)


# --------------------------------------------------------------------------------- with units

_PER_HOUR = ("per hour", "/h", "/hour", "an hour", "a hour", "per h")
_PER_DAY = ("per day", "/day", "/d", "a day", "per d")
_PERSON_HOUR = (
    "per person hour",
    "per person and hour",
    "per person per hour",
    "per hour per person",
    "per hour and person",
    "per man hour",
    "/person hour",
    "/ph",
)
_LITRES = {**dict.fromkeys(("l", "litre", "litres", "liter", "liters", "ltr", "dm3"), 1.0), "ml": 0.001, "m3": 1000.0}
_SQUARE = ("m2", "sqm", "sq m", "square metre", "square metres")
_MASSES = {**dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"), 1.0), "g": 0.001, "t": 1000.0}


def _each(units: dict[str, float], endings: tuple[str, ...], times: float = 1.0) -> dict[str, float]:
    out: dict[str, float] = {}
    for ending in endings:
        gap = "" if ending.startswith("/") else " "
        out.update({f"{unit}{gap}{ending}": factor * times for unit, factor in units.items()})
        if not gap:
            out.update({f"{unit} {ending[0]} {ending[1:]}": factor * times for unit, factor in units.items()})
    return out


_AREA_MASS = _each({"kg": 1.0, "g": 0.001}, ("/m2", "per m2", "/sqm", "per square metre"))
_DENSITY = {
    **_each({"kg": 1.0, "t": 1000.0}, ("/m3", "per m3", "per cubic metre")),
    **_each({"kg": 1000.0}, ("/l", "/dm3", "per l", "per litre")),
    **_each({"g": 1000.0}, ("/cm3",)),
}
_FORCES = {"kN": 1.0, "N": 0.001, "kilonewton": 1.0, "kilonewtons": 1.0, "newton": 0.001}
_LOADS = {
    **_each({"kN": 1.0, "N": 0.001}, ("/m2", "per m2", "per square metre")),
    "kPa": 1.0,
    **_each({"kg": KILONEWTON_PER_KG}, ("/m2", "per m2")),
}
_RESISTANCES = {"kPa": 1.0, **_each({"kN": 1.0}, ("/m2", "per m2")), "N/mm2": 1000.0, "MPa": 1000.0}
_PRESSURES = {"bar": 1.0, "mbar": 0.001, "kPa": 0.01, "MPa": 10.0}
_CONDUCTIVITIES = dict.fromkeys(
    ("W/mK", "w/(mk)", "w/(m k)", "w/m k", "w/(m·k)", "w/m·k", "w/(m*k)", "w/m*k", "w/k m", "w/(k m)", "w/(k·m)"), 1.0
)
_CELSIUS = dict.fromkeys(("C", "°c", "deg c", "degc", "celsius", "degrees c", "degrees celsius", "° c"), 1.0)
_DEGREES = dict.fromkeys(("degrees", "degree", "deg", "°"), 1.0)


def _positive(text: str, units: dict[str, float], what: str) -> float:
    return not_below_zero(measure(text, units, what, told=next(iter(units))), text, what)


def mass(text: str) -> float:
    return _positive(text, _MASSES, "a mass")


def area_mass(text: str) -> float:
    return _positive(text, _AREA_MASS, "a mass on an area")


def density(text: str) -> float:
    return _positive(text, _DENSITY, "a density")


def volume(text: str) -> float:
    return _positive(text, _LITRES, "a volume")


def force(text: str) -> float:
    if kilos := re.fullmatch(r"([0-9.,]+) ?kgf?", tidy(text), re.IGNORECASE):
        newtons = shown(round(number(kilos[1]) * KILONEWTON_PER_KG, 2))
        raise NotUnderstood(f"'{text}' is a mass, and a force is wanted in kN", f"{newtons} kN", "wrong-unit")
    return _positive(text, _FORCES, "a force")


def load(text: str) -> float:
    """A load on an area in kN/m²; kg/m² times standard gravity."""
    return _positive(text, _LOADS, "a load on an area")


def resistance(text: str) -> float:
    return _positive(text, _RESISTANCES, "what a board carries")


def pressure(text: str) -> float:
    return _positive(text, _PRESSURES, "a pressure")


def conductivity(text: str) -> float:
    return _positive(text, _CONDUCTIVITIES, "a conductivity")


def temperature(text: str) -> float:
    plain = tidy(text)
    if re.fullmatch(r"[+-]?[0-9.,]+ ?(?:°|deg|degrees)", plain):
        figures = re.sub(r" ?(?:°|deg|degrees)$", "", plain)
        raise NotUnderstood(
            f"'{text}' does not say which degrees: a temperature is wanted in C", f"{figures} C", "no-unit"
        )
    return measure(text, _CELSIUS, "a temperature")


def degrees(text: str) -> float:
    value = measure(text, _DEGREES, "an angle", bare=1.0)
    if not 0 < value < 360:
        raise NotUnderstood(f"'{text}' is not an inside angle: it lies between 0 and 360", code="not-an-angle")
    return value


def bearing(text: str) -> float:
    """Degrees from north round by east, from degrees, minutes and seconds or from a quadrant.

    >>> bearing("126 30"), round(bearing("N 22°36'40\\" W"), 4)
    (126.5, 337.3889)
    """
    plain = tidy(text).upper()
    found = re.fullmatch(
        r"(?P<ns>[NS])?\s*(?P<angle>[0-9.]+(?:[^0-9.NSEW]+[0-9.]+){0,2})[^0-9.NSEW]*(?P<ew>[EW])?", plain
    )
    try:
        parts = [float(p) for p in re.findall(r"[0-9.]+", found["angle"])] if found else []
    except ValueError:
        parts = []
    if found is None or not parts or any(p >= 60 for p in parts[1:]) or (found["ns"] is None) != (found["ew"] is None):
        raise NotUnderstood(f"'{text}' is not a bearing, such as '126.5' or 'N 22 36 40 W'", code="not-a-bearing")
    angle = sum(p / (1, 60, 3600)[k] for k, p in enumerate(parts))
    if found["ns"] is not None:
        if angle > 90:
            raise NotUnderstood(f"'{text}': within a quadrant a bearing is 90 at most", code="not-a-bearing")
        angle = angle if found["ns"] == "N" else 180 - angle
        angle = angle if found["ew"] == "E" else 360 - angle
    if angle > 360:
        raise NotUnderstood(f"'{text}': a bearing goes from 0 to 360", code="not-a-bearing")
    return angle


def share(text: str) -> float:
    """A share of 1 from per cent."""
    plain = tidy(text)
    if not plain.endswith("%") and not plain.lower().endswith(("per cent", "percent")):
        guess = f"{plain} %" if re.fullmatch(r"[0-9.,]+", plain) else None
        value = number(text)
        if 0 < value < 1:
            guess = f"{shown(value * 100)} %"
        raise NotUnderstood(f"'{text}' has no per cent sign", guess, "no-unit")
    value = number(re.sub(r"\s*(?:%|per cent|percent)$", "", plain, flags=re.IGNORECASE))
    if not 0 <= value <= 100:
        raise NotUnderstood(f"'{text}' is not a share: it lies between 0 % and 100 %", code="not-a-share")
    return value / 100


def dry_rate(text: str) -> float:
    return _positive(text, _each({"mm": 1.0, "cm": 10.0}, _PER_DAY), "a rate of drying")


def flow_rate(text: str) -> float:
    """Litres an hour."""
    units = {**_each(_LITRES, _PER_HOUR), **_each(_LITRES, ("per minute", "/min", "a minute", "per min"), 60.0)}
    return _positive(text, units, "an output")


def carry_rate(text: str) -> float:
    """Bags a person carries in an hour."""
    return _positive(text, _each({"bags": 1.0, "bag": 1.0}, _PERSON_HOUR), "a rate of carrying")


def rate(text: str) -> PersonRate:
    """m² or litres a person hour."""
    area = _each(dict.fromkeys(_SQUARE, 1.0), _PERSON_HOUR)
    litres = _each(_LITRES, _PERSON_HOUR)
    told = "m2 per person hour or l per person hour"
    if hour := re.fullmatch(
        r"([0-9.,]+ ?(?:m2|l|litres?)) ?(?:per hour|/ ?h|an hour|/ ?hour)", tidy(text), re.IGNORECASE
    ):
        says = f"'{text}' does not say whose hour: a rate is wanted in {told}"
        raise NotUnderstood(says, f"{hour[1]} per person hour", "wrong-unit")
    value = not_below_zero(measure(text, {**area, **litres}, "a rate", told=told), text, "a rate")
    unit = re.sub(r"^[0-9.,'’ ]+", "", tidy(text)).casefold()
    return PersonRate(value, "m2" if unit in area else "l")


def _no_currency(text: str) -> None:
    figures = " ".join(re.sub(r"[€$£¥]|\b[A-Z]{3}\b", " ", tidy(text)).split())
    if figures != tidy(text) and re.match(r"[0-9]", figures):
        says = f"'{text}' has a currency: it is said once, under 'prices' with 'currency: EUR'"
        raise NotUnderstood(says, figures, "currency")


def money(text: str) -> float:
    _no_currency(text)
    return not_below_zero(number(text), text, "an amount of money")


_PER: dict[str, Per] = {
    **dict.fromkeys(_SQUARE, "m2"),
    **dict.fromkeys(("m", "metre", "meter", "running metre", "lm"), "m"),
    **dict.fromkeys(("l", "litre", "liter"), "l"),
    "kg": "kg",
    "bag": "bag",
    **dict.fromkeys(("piece", "each", "item", "unit", "pc"), "piece"),
    **dict.fromkeys(("hour", "h", "person hour"), "hour"),
    "day": "day",
    **dict.fromkeys(("job", "project"), "job"),
}


def price(text: str) -> Price:
    """A price per unit; without a unit once for the job."""
    _no_currency(text)
    plain = tidy(text)
    split = re.fullmatch(r"([^/]*?)(?:\s*(?:\bper\b|/|\ba\b|\beach\b)\s*(.*))?", plain)
    assert split is not None
    per: Per = "job"
    if split[2] is not None and (split[2] or "each" in plain):
        unit = (split[2] or "each").casefold()
        if unit not in _PER:
            near = get_close_matches(unit, _PER, 1)
            guess = f"{split[1]} per {near[0]}" if near else None
            raise NotUnderstood(
                f"'{text}' has a price per '{split[2]}', and it is wanted per m2, m, l, kg, bag, "
                "piece, hour, day or job",
                guess,
                "wrong-unit",
            )
        per = _PER[unit]
    return Price(not_below_zero(number(split[1]), text, "a price"), per)
