"""Amounts that are no lengths: masses, loads, rates, times, dates, money. Text as typed to a float in one unit."""

from __future__ import annotations

import calendar
import datetime
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


def words(text: str) -> str:
    plain = " ".join(text.split())
    if not plain:
        raise NotUnderstood("a text is wanted and nothing stands here", code="empty")
    return plain


def figure(text: str) -> float:
    return number(text)


def _not_below_zero(value: float, text: str, what: str) -> float:
    if value < 0:
        raise NotUnderstood(f"'{text}' is less than nothing: {what} is 0 or more", code="negative")
    return value


def size(text: str) -> float:
    """A length that is not below 0."""
    return _not_below_zero(length(text), text, "a length")


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
    value = _not_below_zero(number(text), text, "a number of things")
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
    return _not_below_zero(measure(text, units, what, told=next(iter(units))), text, what)


def mass(text: str) -> float:
    return _positive(text, _MASSES, "a mass")


def area_mass(text: str) -> float:
    return _positive(text, _AREA_MASS, "a mass on an area")


def density(text: str) -> float:
    return _positive(text, _DENSITY, "a density")


def volume(text: str) -> float:
    return _positive(text, _LITRES, "a volume")


def force(text: str) -> float:
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
    value = _not_below_zero(measure(text, {**area, **litres}, "a rate", told=told), text, "a rate")
    unit = re.sub(r"^[0-9.,'’ ]+", "", tidy(text)).casefold()
    return PersonRate(value, "m2" if unit in area else "l")


def _no_currency(text: str) -> None:
    figures = " ".join(re.sub(r"[€$£¥]|\b[A-Z]{3}\b", " ", tidy(text)).split())
    if figures != tidy(text) and re.match(r"[0-9]", figures):
        says = f"'{text}' has a currency: it is said once, under 'prices' with 'currency: EUR'"
        raise NotUnderstood(says, figures, "currency")


def money(text: str) -> float:
    _no_currency(text)
    return _not_below_zero(number(text), text, "an amount of money")


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
    return Price(_not_below_zero(number(split[1]), text, "a price"), per)


# --------------------------------------------------------------------------------- times and days


def days(text: str) -> int:
    units = {
        **dict.fromkeys(("days", "day", "d"), 1.0),
        **dict.fromkeys(("weeks", "week"), 7.0),
        **dict.fromkeys(("h", "hours", "hour"), 1 / 24),
    }
    value = _not_below_zero(measure(text, units, "a number of days", bare=1.0), text, "a number of days")
    if abs(value - round(value)) > 1e-9:
        raise NotUnderstood(f"'{text}' is not a whole number of days", code="not-whole")
    return round(value)


_CLOCK = re.compile(r"([0-9]{1,3}) ?(?::|h|hours?) ?([0-9]{1,2})(?: ?(?:h|min|minutes?))?", re.IGNORECASE)


def _hours(text: str, bare: float | None) -> float:
    plain = tidy(text)
    if clock := _CLOCK.fullmatch(plain):
        if int(clock[2]) > 59:
            raise NotUnderstood(f"'{text}' has more than 59 minutes", code="not-a-time")
        return int(clock[1]) + int(clock[2]) / 60
    units = {
        **dict.fromkeys(("hours", "hour", "h", "hrs", "hr"), 1.0),
        **dict.fromkeys(("min", "minutes", "minute", "mins"), 1 / 60),
    }
    return measure(text, units, "a time", bare)


def hours(text: str) -> float:
    """Hours; 7:30 is seven and a half."""
    value = _hours(text, 1.0)
    if not 0 < value <= 24:
        raise NotUnderstood(f"'{text}' is not a number of hours in a day", code="not-a-time")
    return value


def minutes(text: str) -> float:
    """Minutes; the unit must be said, because hours are as likely."""
    plain = tidy(text)
    if re.fullmatch(r"[0-9.,]+", plain):
        raise NotUnderstood(f"'{text}' has no unit: a time is wanted in min or h", f"{plain} min", "no-unit")
    return round(_not_below_zero(_hours(text, None) * 60, text, "a time"), 9)


_MONTHS = {name.casefold(): n for n, name in enumerate(calendar.month_abbr) if name}
_FIRST_YEAR, _LAST_YEAR = 2000, 2100


def day(text: str) -> datetime.date:
    """A day as 2027-04-05: year, month, day."""
    plain = tidy(text)
    iso = re.fullmatch(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})", plain)
    if not plain:
        raise NotUnderstood("a day is wanted, for example 2027-04-05", code="empty")
    if iso is None:
        raise NotUnderstood(
            f"'{text}' is not a day: write year-month-day, for example 2027-04-05", _turned(plain), "not-a-day"
        )
    year, month, date = (int(part) for part in iso.groups())
    if not 1 <= month <= 12:
        turned = f"{year}-{date:02d}-{month:02d}" if 1 <= date <= 12 and 1 <= month <= 28 else None
        raise NotUnderstood(f"there is no day {text}: a year has 12 months (year-month-day)", turned, "no-such-day")
    last = calendar.monthrange(max(year, 1), month)[1]
    if not 1 <= date <= last:
        name = f"{calendar.month_name[month]} {year}"
        raise NotUnderstood(f"there is no day {text}: {name} has {last} days", None, "no-such-day")
    if not _FIRST_YEAR <= year <= _LAST_YEAR:
        raise NotUnderstood(f"'{text}' lies in the year {year}: is that the right year?", None, "no-such-day")
    return datetime.date(year, month, date)


def _turned(plain: str) -> str | None:
    """The day probably meant by another way of writing; None where it could be two."""
    parts: tuple[int, int, int] | None = None
    if found := re.match(r"([0-9]{4}-[0-9]{2}-[0-9]{2})[T ,]", plain):
        return found[1]
    if re.fullmatch(r"[0-9OolI]{4}-[0-9OolI]{1,2}-[0-9OolI]{1,2}", plain):
        plain = plain.translate(str.maketrans("OolI", "0011")).replace("-", "/")
    if found := re.fullmatch(r"([0-9]{4})[./ ]?([0-9]{1,2})[./ ]?([0-9]{1,2})", plain):
        parts = (int(found[1]), int(found[2]), int(found[3]))
    elif found := re.fullmatch(r"([0-9]{1,2})([./-])([0-9]{1,2})[./-]([0-9]{4}|[0-9]{2})", plain):
        first, second, year = int(found[1]), int(found[3]), int(found[4]) + (2000 if len(found[4]) == 2 else 0)
        if len(found[4]) == 2 and found[2] == "-":
            return None
        if found[2] == "." or first > 12 or first == second:
            parts = (year, second, first)
        elif second > 12:
            parts = (year, first, second)
    elif found := re.fullmatch(
        r"(?:[a-z]+,? )?([0-9]{1,2})(?:st|nd|rd|th|\.)? ([a-z]{3})[a-z]*\.?,? ([0-9]{4})", plain, re.I
    ):
        parts = (int(found[3]), _MONTHS.get(found[2].casefold(), 0), int(found[1]))
    elif found := re.fullmatch(r"([0-9]{4})[- ]([a-z]{3})[a-z]*[- ]([0-9]{1,2})", plain, re.I):
        parts = (int(found[1]), _MONTHS.get(found[2].casefold(), 0), int(found[3]))
    elif found := re.fullmatch(r"([a-z]{3})[a-z]*\.? ([0-9]{1,2})(?:st|nd|rd|th)?,? ([0-9]{4})", plain, re.I):
        parts = (int(found[3]), _MONTHS.get(found[1].casefold(), 0), int(found[2]))
    if parts is None:
        return None
    try:
        return datetime.date(*parts).isoformat()
    except ValueError:
        return None


WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def weekday(text: str) -> int:
    """0 for Monday to 6 for Sunday."""
    plain = tidy(text).casefold().rstrip(".")
    for n, name in enumerate(calendar.day_name):
        if len(plain) >= 3 and name.casefold().startswith(plain):
            return n
    near = get_close_matches(plain[:3].capitalize(), WEEKDAYS, 1)
    raise NotUnderstood(
        f"'{text}' is not a day of the week: write Mon, Tue, Wed, Thu, Fri, Sat or Sun",
        near[0] if near else None,
        "not-a-weekday",
    )
