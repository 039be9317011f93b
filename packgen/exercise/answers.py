"""Answers as pupils write them, to values and back: levels in words, misclosures high or low, ticks, dates."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass

from packgen.core import lengths
from packgen.core.figures import day, half_up, number, plain, whole
from packgen.exercise.model import Blank

NOTHING = ("", "-", "–", "?", "none given", "no answer", "blank")
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
ABOVE, BELOW = ("above", "over", "up", "higher"), ("below", "under", "down", "lower")
RISE, FALL = ("rise", "rises", "up", "higher", "r"), ("fall", "falls", "down", "lower", "f")
HIGH, LOW = ("high", "above", "over"), ("low", "below", "under")
LITRES_PER_M3 = 1000.0
WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
FIGURE = re.compile(r"[+-]? ?[0-9][0-9 .,'’\u202f]*")
LONGER = re.compile(r" ?(cm|centimet(?:re|er)s?|m|met(?:re|er)s?)\b(?! ?[0-9])")  # units of a length that are not mm
ADD, TAKE = ("add", "plus", "up"), ("take", "off", "subtract", "minus", "down", "less")


@dataclass(frozen=True, slots=True)
class ReadAnswer:
    """value None: nothing readable stands there; `unread` then holds the text, "" where nothing was written.

    sided: whether the side (above or below, high or low, add or take off) was said; without it only the size counts.
    """

    value: float | None
    sided: bool = True
    unread: str = ""


def read_answer(blank: Blank, text: str) -> ReadAnswer:
    """What a pupil wrote, as a value of the blank."""
    plain_text = _result(lengths.tidy(text).casefold())
    if plain_text in NOTHING and not (blank.writing == "choice" and plain_text == "none"):
        return ReadAnswer(None)
    if blank.writing == "choice":
        return _choice(blank, plain_text, text)
    if blank.writing == "date":
        return _date(plain_text, text)
    if blank.writing == "level" and re.fullmatch(r"(the )?(same|level|flush)( as| with)?( .*)?", plain_text):
        return ReadAnswer(0.0)
    found = FIGURE.search(plain_text)
    if found is None:
        return ReadAnswer(None, unread=text)
    longer = LONGER.match(plain_text, found.end()) if blank.unit == "mm" else None
    figure = found[0].replace("\u202f", " ").replace("- ", "-").strip(" .,")
    if blank.digits == 0 and longer is None:  # whole answers: a sign before three figures parts thousands
        figure = re.sub(r"^([+-]?[1-9][0-9]{0,2})[.,]([0-9]{3})$", r"\1\2", figure)
    try:
        value = lengths.number(figure, three_decimals=True)
    except lengths.NotUnderstood:
        return ReadAnswer(None, unread=text)
    if blank.unit == "L" and re.search(r"m ?3\b", plain_text):
        value *= LITRES_PER_M3
    if longer is not None:
        value = half_up(value * lengths.LENGTH_UNITS[longer[1]], 6)
    return _sided(blank, value, plain_text)


def _result(text: str) -> str:
    """What stands after the last sign of equality, where a whole sum was written; small numbers as figures."""
    last = text.rsplit("=", 1)[-1].strip()
    text = last if any(c.isdigit() for c in last) else text
    if not any(c.isdigit() for c in text):
        text = re.sub(r"[a-z]+", lambda w: str(WORDS.index(w[0])) if w[0] in WORDS else w[0], text)
    return text


def _sided(blank: Blank, value: float, text: str) -> ReadAnswer:
    words = set(re.findall(r"[a-z]+", text))
    plus, minus = {
        "level": (ABOVE, BELOW),
        "rise": (RISE, FALL),
        "misclosure": (HIGH, LOW),
        "correction": (ADD, TAKE),
    }.get(blank.writing, ((), ()))
    if not plus:
        return ReadAnswer(value)
    up, down = bool(words & set(plus)), bool(words & set(minus))
    if up != down:
        return ReadAnswer(abs(value) if up else -abs(value))
    return ReadAnswer(value, sided=value < 0 or "+" in text or value == 0)


def _choice(blank: Blank, text: str, typed: str) -> ReadAnswer:
    names = [c.casefold() for c in blank.choices]
    hits = [i for i, name in enumerate(names) if text == name]
    hits = hits or [i for i, name in enumerate(names) if len(text) > 2 and (text in name or name in text)]
    hits = hits or [
        i for i, n in enumerate(names) if n == "does not fit" and text.startswith(("stop", "not", "no fit"))
    ]
    return ReadAnswer(float(hits[0])) if len(hits) == 1 else ReadAnswer(None, unread=typed)


def _date(text: str, typed: str) -> ReadAnswer:
    iso = re.search(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})", text)
    said = re.search(r"([0-9]{1,2})\.? ?([a-z]{3})[a-z]*\.? ?([0-9]{4})", text)
    try:
        if iso:
            return ReadAnswer(float(datetime.date(int(iso[1]), int(iso[2]), int(iso[3])).toordinal()))
        if said and said[2] in MONTHS:
            month = MONTHS.index(said[2]) + 1
            return ReadAnswer(float(datetime.date(int(said[3]), month, int(said[1])).toordinal()))
    except ValueError:
        pass
    return ReadAnswer(None, unread=typed)


def show_answer(blank: Blank, value: float, datum: str = "TBM") -> str:
    """An answer as it is written on paper, with its unit: "103 below TBM", "2 too high", "take off 1", "743 L"."""
    exact = abs(abs(value) - round(abs(value), blank.digits)) < 1e-9
    size = number(abs(value), blank.digits) if exact else plain(abs(value))
    if blank.writing == "choice":
        return blank.choices[int(value)] if 0 <= value < len(blank.choices) else plain(value)
    if blank.writing == "date":
        return day(datetime.date.fromordinal(whole(value)))
    if blank.writing == "level":
        return f"same as {datum}" if value == 0 else f"{size} {'above' if value > 0 else 'below'}"
    if blank.writing == "rise":
        return "0" if value == 0 else f"{'rise' if value > 0 else 'fall'} {size}"
    if blank.writing == "misclosure":
        return "0" if value == 0 else f"{size} too {'high' if value > 0 else 'low'}"
    if blank.writing == "correction":
        return "0" if value == 0 else f"{'add' if value > 0 else 'take off'} {size}"
    sign = "less than 0: " if value < 0 else ""
    return f"{sign}{size} {blank.unit}".strip()
