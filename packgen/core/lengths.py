"""Numbers, lengths, levels and falls as people write them, to floats: mm, mm above the datum, mm per metre.

Every function takes the text as typed and raises NotUnderstood, a ValueError with one sentence for the reader.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from difflib import get_close_matches

LENGTH_UNITS: Mapping[str, float] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), 1.0),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), 10.0),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), 1000.0),
}
FOOT_MM, INCH_MM = 304.8, 25.4  # exact by definition (international yard and pound agreement, 1959)
_IMPERIAL = {
    **dict.fromkeys(("ft", "foot", "feet", "'", "′"), FOOT_MM),
    **dict.fromkeys(("in", "inch", "inches", '"', "″", "''"), INCH_MM),
}
_MOST_FIGURES = 18  # a double holds no more
_DASHES = dict.fromkeys(map(ord, "‐‑‒–—―−﹣－"), "-")
_QUOTES = "\"'“”„‟‘’‚«»"
_PLAIN = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)")
_GROUPED = re.compile(r"[+-]?[0-9]{1,3}(?:[ '’][0-9]{3})+(?:[.,][0-9]+)?")
_DOUBTFUL = re.compile(r"[+-]?(?!0)[0-9]{1,3}[.,][0-9]{3}")
_MANY_GROUPS = re.compile(r"[+-]?[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]+)?|[+-]?[0-9]{1,3}(?:\.[0-9]{3})+(?:,[0-9]+)?")
_ODD_NUMBER = re.compile(
    r"[+-]?[0-9][0-9.,]*e[+-]?[0-9]+|0x[0-9a-f]+|0o[0-7]+|0b[01]+|[0-9olis|.,]*[0-9][0-9olis|.,]*|"
    r"[+-]?[0-9]+(?:_[0-9]+)+|(?:[0-9]+ )?[0-9]+[/⁄][0-9]+|[+-]?\.?(?:nan|inf|infinity)",
    re.IGNORECASE,
)
_LOOKALIKES = str.maketrans("OoQlI|sS", "00011155")
_ABOUT = re.compile(r"(?:~|≈|±|ca\.?|approx\.?|about|circa|some)\s*|\s*(?:\?+|approx\.?|ca\.?)$", re.IGNORECASE)


class NotUnderstood(ValueError):
    """A text that has no meaning here. `str()` is the sentence, `guess` what was probably meant."""

    def __init__(self, says: str, guess: str | None = None, code: str = "not-a-number") -> None:
        super().__init__(says)
        self.guess = guess
        self.code = code


def tidy(text: str) -> str:
    """One way to write blanks, dashes, full-width and raised figures; quotes round the whole taken off.

    >>> tidy(" −12\\u00a0mm "), tidy("5 kg/m²"), tidy("“6200”")
    ('-12 mm', '5 kg/m2', '6200')
    """
    plain = re.sub(r"\s+", " ", unicodedata.normalize("NFKC", text).translate(_DASHES)).strip()
    if len(plain) > 2 and plain[0] in _QUOTES and plain[-1] in _QUOTES:
        return plain[1:-1].strip()
    return plain


def shown(value: float) -> str:
    """A figure as one would type it again: no needless zeros, no exponent."""
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def number(text: str, three_decimals: bool = False) -> float:
    """A plain figure; decimal point or comma, blanks between thousands.

    `6,200` and `6.200` can be two things and are refused, unless `three_decimals` says that such a figure has
    decimals (metres read to the mm).

    >>> number("12.5"), number("6,2"), number("010"), number("6 200"), number("1,405", three_decimals=True)
    (12.5, 6.2, 10.0, 6200.0, 1.405)
    """
    plain = tidy(text)
    if _DOUBTFUL.fullmatch(plain) and not three_decimals:
        whole, parts = re.sub("[.,]", "", plain), shown(float(plain.replace(",", ".")))
        raise NotUnderstood(f"'{text}' can be {whole} or {parts}: write {whole} or {parts}", whole, "doubtful-number")
    if len(plain) > _MOST_FIGURES:
        raise NotUnderstood(f"'{text[:20]}...' has {len(plain)} figures: no measure is so large", code="too-large")
    if _PLAIN.fullmatch(plain):
        return float(plain.replace(",", ".")) + 0.0
    if _GROUPED.fullmatch(plain):
        return float(re.sub("[ '’]", "", plain).replace(",", "."))
    raise _not_a_number(text, plain)


def _not_a_number(text: str, plain: str) -> NotUnderstood:
    if not plain:
        return NotUnderstood("a number is wanted and nothing stands here", code="empty")
    bare = plain.lower().lstrip("+-.")
    if bare in ("nan", "inf", "infinity"):
        return NotUnderstood(f"'{text}' is not a number", code="not-a-number")
    if re.fullmatch(r"[+-]?[0-9.,]+e[+-]?[0-9]+", plain, re.IGNORECASE):
        try:
            value = float(plain.replace(",", "."))
        except ValueError:
            return NotUnderstood(f"'{text}' is not a number")
        guess = shown(value) if abs(value) < 1e9 else None
        return NotUnderstood(f"'{text}' is not written as a plain number", guess, "not-a-plain-number")
    if re.fullmatch(r"0x[0-9a-f]+|0o[0-7]+|0b[01]+", plain, re.IGNORECASE):
        guess = str(int(plain, 0)) if len(plain) < 10 else None
        return NotUnderstood(f"'{text}' is not written as a plain number", guess, "not-a-plain-number")
    if _MANY_GROUPS.fullmatch(plain):
        decimal = "," if plain.rfind(",") > plain.rfind(".") and plain.count(",") == 1 else "."
        guess = "".join(c if c != decimal else "." for c in plain if c not in {",", "."} - {decimal})
        if plain.count(decimal) > 1:
            guess = re.sub("[.,]", "", plain)
        return NotUnderstood(f"'{text}' is not written as a plain number", guess, "not-a-plain-number")
    if re.fullmatch(r"[+-]?[0-9]+(_[0-9]+)+", plain):
        return NotUnderstood(f"'{text}' is not written as a plain number", plain.replace("_", ""), "not-a-plain-number")
    if fraction := re.fullmatch(r"(?:([0-9]+) )?([0-9]+)[/⁄]([0-9]+)", plain):
        whole, top, below = (int(part or 0) for part in fraction.groups())
        guess = shown(whole + top / below) if below else None
        return NotUnderstood(f"'{text}' is a fraction and a decimal number is wanted", guess, "not-a-plain-number")
    if re.search("[0-9]", plain) and _PLAIN.fullmatch(plain.translate(_LOOKALIKES)):
        letter = next(c for c in plain if c in "OoQlI|sS")
        guess = plain.translate(_LOOKALIKES)
        return NotUnderstood(f"'{text}' has the letter '{letter}' in it: is it {guess}?", guess, "letter-in-number")
    sure = _ABOUT.sub("", plain)
    if sure != plain and _PLAIN.fullmatch(sure):
        return NotUnderstood(f"'{text}' is not sure: measure it and write the figure alone", sure, "not-sure")
    if re.fullmatch(r"[+-]?[0-9]+[.,]+", plain):
        return NotUnderstood(f"'{text}' ends in a point or comma", plain.rstrip(".,"))
    if re.fullmatch(r"[+-]?[0-9][0-9.,]*(?:[ ]?[,;: ][ ]*[0-9.,]+)+", plain):
        return NotUnderstood(f"'{text}' is more than one figure, and one is wanted", code="not-one-figure")
    if plain.casefold() in ("unknown", "tbc", "tba", "?", "~", "null", "none", "-", "x", "n/a", "xxx", "..."):
        return NotUnderstood(f"'{text}' is not a number, and this value has to be known")
    return NotUnderstood(f"'{text}' is not a number")


def _listed(units: Mapping[str, float]) -> str:
    short: dict[float, str] = {}
    for unit, factor in units.items():
        short.setdefault(factor, unit)
    names = list(short.values())
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def measure(text: str, units: Mapping[str, float], what: str, bare: float | None = None, told: str = "") -> float:
    """A figure with a unit, in the base of `units` (written form to its factor; capitals do not matter).

    `what` names the kind with its article ("a mass"); `bare` is the factor of a figure without a unit, None where
    the unit must be said. `told` is the units as shown to the reader, else the first written form of each factor.

    >>> measure("25 kg", {"kg": 1, "g": 0.001}, "a mass")
    25.0
    """
    if bare is not None and text.isascii() and text.isdigit() and len(text) <= _MOST_FIGURES:
        return float(text) * bare  # thousands of cells in a hall's readings are no more than this
    plain = tidy(text)
    split = re.fullmatch(r"([+-]?[0-9.,](?:[0-9.,'’ ]*[0-9.,])?)[ ]*([^0-9.,\s].*)", plain)
    unit = re.sub(r"[ ]+", " ", split[2]).rstrip(". ").casefold() if split else ""
    factor = next((f for written, f in units.items() if written.casefold() == unit), None)
    if split and factor is not None:
        return number(split[1], three_decimals=units is LENGTH_UNITS and factor == LENGTH_UNITS["m"]) * factor
    if split is None or _GROUPED.fullmatch(plain) or _ODD_NUMBER.fullmatch(plain) or _ABOUT.sub("", plain) != plain:
        value = number(text)
        if bare is not None:
            return value * bare
        first = next(iter(units))
        says = f"'{text}' has no unit: {what} is wanted in {told or _listed(units)}"
        raise NotUnderstood(says, f"{plain} {first}", "no-unit")
    if "#" in split[2]:
        raise NotUnderstood(f"'{text}' has a remark in it: a blank must stand before '#'", code="remark")
    if re.match(r"[-+*/x×=:<>~]", split[2]):
        raise NotUnderstood(
            f"'{text}' is not one figure: write the figure alone, with its unit", None, "not-one-figure"
        )
    raise NotUnderstood(
        f"'{text}' ends in '{split[2]}', and {what} is wanted in {told or _listed(units)}",
        _near(split[1], unit),
        "wrong-unit",
    )


def _near(figure: str, unit: str) -> str | None:
    if unit in _IMPERIAL:
        try:
            return shown(number(figure) * _IMPERIAL[unit])
        except NotUnderstood:
            return None
    return None


def length(text: str) -> float:
    """A length in mm; a bare figure is mm.

    >>> length("6.2 m"), length("6,2 m"), length("620 cm"), length("6200 mm"), length("6200"), length("1.405 m")
    (6200.0, 6200.0, 6200.0, 6200.0, 6200.0, 1405.0)
    """
    return measure(text, LENGTH_UNITS, "a length", bare=1.0)


_SAME = re.compile(r"(?:the )?(?:same (?:level |height )?as|level with|flush with|equal to|at)\s+(.+)", re.IGNORECASE)
_OFF = re.compile(r"(.+?)\s+(above|below)\s+(.+)", re.IGNORECASE)
_TURNED = re.compile(r"(above|below|over|under)\s+(.+?)\s+(?:by\s+)?([0-9].*)", re.IGNORECASE)


def level(text: str, datum: str = "TBM") -> tuple[float, str]:
    """A level in words to (mm above the datum it names, that name). `datum` is only for the guess.

    >>> level("12 above TBM"), level("8 mm below TBM"), level("same as TBM"), level("4 cm below TBM 2")
    ((12.0, 'TBM'), (-8.0, 'TBM'), (0.0, 'TBM'), (-40.0, 'TBM 2'))
    """
    plain = tidy(text)
    if not plain:
        raise NotUnderstood(f"a level is wanted, for example '12 below {datum}'", code="empty")
    same = _SAME.fullmatch(plain)
    if same and not re.fullmatch(r"wall ?[0-9]+", same[1], re.IGNORECASE):
        return 0.0, same[1]
    if off := _OFF.fullmatch(plain):
        mm = length(off[1])
        way = off[2].lower()
        if mm < 0:
            guess = f"{shown(-mm)} {way} {off[3]}"
            raise NotUnderstood(f"'{text}' has a minus sign and a word: heights are said in words", guess, "level-sign")
        return (mm if way == "above" else -mm) + 0.0, off[3]
    raise NotUnderstood(*_say_level(text, plain, datum))


def _say_level(text: str, plain: str, datum: str) -> tuple[str, str | None, str]:
    words = f"'{text}' is not a level: say heights in words, for example '12 below {datum}'"
    code = "level-not-in-words"
    if turned := _TURNED.fullmatch(plain):
        way = {"over": "above", "under": "below"}.get(turned[1].lower(), turned[1].lower())
        return words, f"{turned[3]} {way} {turned[2]}", code
    if over := re.fullmatch(r"(.+?)\s+(over|under|higher than|lower than)\s+(.+)", plain, re.IGNORECASE):
        way = "above" if over[2].lower() in ("over", "higher than") else "below"
        return words, f"{over[1]} {way} {over[3]}", code
    near = [get_close_matches(word.lower(), ("above", "below"), 1, 0.7) or [word] for word in plain.split(" ")]
    if (meant := " ".join(word for (word, *_) in near)) != plain and _OFF.fullmatch(meant):
        return words, meant, code
    if re.fullmatch(r"([0-9.,]+(?: ?[a-z]+)?)\s+(above|below)(?:\s+the)?", plain, re.IGNORECASE):
        return f"'{text}' does not say from what: {words.split(': ', 1)[1]}", f"{plain.split(' the')[0]} {datum}", code
    if signed := re.fullmatch(rf"(?:{re.escape(datum)} ?)?([+-]?) ?([0-9].*?)(?: {re.escape(datum)})?", plain):
        try:
            mm = length(signed[2])
        except NotUnderstood:
            return words, None, code
        if mm == 0:
            return words, f"same as {datum}", code
        way = {"-": "below", "+": "above"}.get(signed[1])
        return words, f"{shown(mm)} {way} {datum}" if way else None, code
    if plain.casefold() in (datum.casefold(), "same", "flush", "level"):
        return words, f"same as {datum}", code
    return words, None, code


_WAY = re.compile(
    r"(.*?)[, ]+(?:(?:going|falling|sloping|running) )?(?:down )?from (?:wall )?([0-9]+) (?:down "
    r")?to (?:wall )?([0-9]+)",
    re.IGNORECASE,
)
_PER_METRE = re.compile(r"(.+?) ?(?:per|a|/|in a|to the) ?(?:m|metre|meter)", re.IGNORECASE)
_RATIO = re.compile(r"1 ?(?::|in|/) ?([0-9.,]+)", re.IGNORECASE)


def steepness(text: str) -> float:
    """How steep: mm per metre.

    >>> steepness("15 per metre"), steepness("1.5 %"), steepness("1:50"), steepness("2 cm per m"), steepness("level")
    (15.0, 15.0, 20.0, 20.0, 0.0)
    """
    plain = tidy(text)
    if plain.casefold() in ("level", "none", "no fall", "flat"):
        return 0.0
    if ratio := _RATIO.fullmatch(plain):
        parts = number(ratio[1])
        if parts <= 0:
            raise NotUnderstood(f"'{text}' is not a fall", code="not-a-fall")
        return 1000.0 / parts
    if plain.endswith(("%", "‰")):
        value = number(plain[:-1]) * (10.0 if plain.endswith("%") else 1.0)
    elif per := _PER_METRE.fullmatch(plain):
        value = length(per[1])
    else:
        guess = f"{plain} per metre" if _PLAIN.fullmatch(plain) else None
        if guess and 0 < (share := float(plain.replace(",", "."))) < 0.2:
            guess = f"{shown(share * 1000)} per metre"
        if not plain:
            raise NotUnderstood(
                "nothing stands here: write 'level', or for example '15 per metre, going down from wall 1 to wall 3'",
                code="empty",
            )
        raise NotUnderstood(
            f"'{text}' is not a fall: write 'level', '15 per metre', '1.5 %' or '1:60', and which way",
            guess,
            "not-a-fall",
        )
    if value < 0:
        raise NotUnderstood(f"'{text}' has a minus sign: say which way it falls in words", code="not-a-fall")
    return value


_TO_DRAIN = re.compile(r"(.*?)[, ]+(?:going )?(?:down )?(?:to|towards?) (?:the )?(?!wall\b|[0-9])(.+)", re.IGNORECASE)


def fall_to_drain(text: str) -> tuple[float, str] | None:
    """A fall from all sides to a drain as (mm per metre, the drain's words); None where the text names none.

    >>> fall_to_drain("15 per metre, going down to the shower drain"), fall_to_drain("15 per metre to wall 3")
    ((15.0, 'shower drain'), None)
    """
    way = _TO_DRAIN.fullmatch(tidy(text))
    if way is None or " from " in f" {way[1]} ":
        return None
    return steepness(way[1].strip(", ")), way[2].strip()


def fall(text: str) -> tuple[float, int | None, int | None]:
    """A fall to (mm per metre, from wall, to wall); a level floor has no walls.

    >>> fall("15 per metre, going down from wall 1 to wall 3"), fall("level")
    ((15.0, 1, 3), (0.0, None, None))
    """
    plain = tidy(text)
    if up := re.fullmatch(
        r"(.*?)[, ]+(?:going |rising )?up from (wall )?([0-9]+) (?:up )?to (wall )?([0-9]+)", plain, re.IGNORECASE
    ):
        guess = f"{up[1]}, going down from wall {up[5]} to wall {up[3]}"
        raise NotUnderstood(f"'{text}' goes up, and a fall is said the way the water runs", guess, "fall-way")
    if way := _WAY.fullmatch(plain):
        return steepness(way[1].strip(", ")), int(way[2]), int(way[3])
    first = plain.split(",")[0] if "," in plain and not re.match(r"[0-9]+,[0-9]", plain) else plain
    steep = steepness(first)
    if steep == 0:
        return 0.0, None, None
    guess = f"{first}, going down from wall 1 to wall 3"
    raise NotUnderstood(
        f"'{text}' does not say which way the floor falls: write for example '{guess}'", code="fall-way"
    )
