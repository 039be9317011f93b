"""Times and days: hours, minutes, numbers of days, dates, days of the week."""

from __future__ import annotations

import calendar
import datetime
import re
from difflib import get_close_matches

from packgen.core.lengths import NotUnderstood, measure, tidy
from packgen.project.amounts import not_below_zero

_FIRST_YEAR, _LAST_YEAR = 2000, 2100


def days(text: str) -> int:
    units = {
        **dict.fromkeys(("days", "day", "d"), 1.0),
        **dict.fromkeys(("weeks", "week"), 7.0),
        **dict.fromkeys(("h", "hours", "hour"), 1 / 24),
    }
    value = not_below_zero(
        measure(text, units, "a number of days", bare=1.0, told="days or weeks"), text, "a number of days"
    )
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
    return round(not_below_zero(_hours(text, None) * 60, text, "a time"), 9)


_MONTHS = {name.casefold(): n for n, name in enumerate(calendar.month_abbr) if name}


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
