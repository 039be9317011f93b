"""Shorthand of a room's walls written out: length, turn, angle, bearing, curve."""

from __future__ import annotations

import re

from packgen.core.finding import Fault
from packgen.core.lengths import tidy
from packgen.project.guess import likely_word
from packgen.project.pairs import one_pair
from packgen.project.pieces import key_at, map_of, part
from packgen.project.tree import Mapping, Node, Scalar

_WALL = re.compile(r"(?P<length>.*?)[\s,;/–—-]+(?P<turn>(?:turn|skew|right|left|straight)\S*.*)", re.IGNORECASE)
_NUMBER = r"[0-9](?:[0-9.,']*[0-9])?(?: ?(?:mm|cm|m)\b)?"
_CURVE = re.compile(
    r"\b(?:bow|curv)(?:s|es|e|ed)?,? (?P<way>out|in)(?:wards?)?,? *"
    r"(?:by |(?:(?:with |on )?(?:a )?(?P<round>radius)(?: of)? ))?"
    rf"(?P<much>{_NUMBER})",
    re.IGNORECASE,
)
_SIGNS = r"°'’′\"″"
_BEARING = re.compile(
    rf"\bbearing:? *(?P<angle>[NS]?\s*[0-9][0-9.]*(?:[\s{_SIGNS}-]+[0-9][0-9.]*){{0,2}}[\s{_SIGNS}]*"
    r"(?:deg(?:rees?)?\b)?\s*[EW]?)(?=\s*(?:[,;]|$))",
    re.IGNORECASE,
)
_TURNS = ("turn right", "turn left", "straight on", "skew", "skew left")


def wall(node: Node, name: str, faults: list[Fault]) -> Node | None:
    """`wall 3: 2100, turn right` to number, length and turn; also `bows out 350` and `bearing 126.5`."""
    label, value = one_pair(node, "wall 3: 2100, turn right", faults)
    if label is None or value is None:
        return None
    number = re.fullmatch(r"wall ?([0-9]+)", tidy(label), re.IGNORECASE)
    if number is None:
        guess = None
        if digits := re.search(r"[0-9]+", label):
            guess = f"wall {digits[0]}"
        faults.append(
            Fault(
                label.place,
                "wall-name",
                f"'{label}' is not the name of a wall: walls are called 'wall 1', 'wall 2' and so on",
                guess,
            )
        )
        return None
    called = f"wall {int(number[1])}"
    if isinstance(value, Mapping):
        return Mapping(
            value.place, ((key_at("number", label.place), Scalar(number[1], label.place, label=called)), *value.entries)
        )
    if not isinstance(value, Scalar):
        says = f"{called}: a length and a turn are wanted, as in '{called}: 2100, turn right', without brackets"
        faults.append(Fault(value.place, "one-value-wanted", says))
        return None
    first = ("number", Scalar(number[1], label.place, label=called))
    return _written_out(value, called, first, faults)


def _written_out(value: Scalar, called: str, first: tuple[str, Node], faults: list[Fault]) -> Node | None:
    """The parts of a wall's text. What says how it is curved or bears is blanked out, so that places stay."""
    text, curve = str(value), None
    if re.search(r"\b(?:bow|curv)", text, re.IGNORECASE):
        curve = _CURVE.search(text)
        if curve is None:
            at = re.search(r"\b(?:bow|curv)", text, re.IGNORECASE)
            assert at is not None
            says = f"{called}: a curved wall says which way and how far: 'bows out 350', or 'curves in, radius 2100'"
            faults.append(Fault(part(value, at.start(), "").place, "not-a-curve", says, "bows out 350"))
            return None
        text = _blanked(text, curve)
    bearing = _BEARING.search(text)
    if bearing is None and (word := re.search(r"\bbearing", text, re.IGNORECASE)):
        says = (
            f"{called}: a bearing is an angle from north round by east: 'bearing 126.5', 'bearing 126 55 17' or "
            "'bearing N 22 36 40 W'"
        )
        faults.append(Fault(part(value, word.start(), "").place, "not-a-bearing", says, "bearing 126.5"))
        return None
    if bearing is not None:
        text = _blanked(text, bearing)
    more: list[tuple[str, Node | None]] = []
    if curve is not None:
        more.append(("curve", part(value, curve.start("way"), curve["way"].casefold(), called)))
        more.append(("radius" if curve["round"] else "rise", part(value, curve.start("much"), curve["much"], called)))
    if bearing is not None:
        more.append(("bearing", part(value, bearing.start("angle"), bearing["angle"].strip(), called)))
        if not re.search(r"[a-z]{4}", text, re.IGNORECASE):
            return map_of(value.place, first, ("length", part(value, 0, text.strip(" ,;"), called)), *more)
    split = _WALL.fullmatch(text)
    if split is None:
        faults.append(_no_turn(value, called))
        return None
    if re.match(r"(?:turn|skew|right|left|straight)", split["length"], re.IGNORECASE):
        says = f"{called}: the length comes first, then the turn at the end of the wall: '{called}: 2100, turn right'"
        faults.append(Fault(value.place, "no-turn", says))
        return None
    turn = _turn(split["turn"])
    if turn is None:
        said = split["turn"].strip(" ,;")
        guess = likely_word(" ".join(said.split()), _TURNS) if said.casefold() != "turn" else None
        says = f"{called}: '{said}' is not a turn: write 'turn right', 'turn left', 'skew' or 'skew left'"
        faults.append(Fault(part(value, split.start("turn"), said).place, "not-a-turn", says, guess))
        return None
    way, angle = turn
    begins = split.start("turn")
    return map_of(
        value.place,
        first,
        ("length", part(value, 0, split["length"].strip(" ,;"), called)),
        ("turn", part(value, begins, way, called)),
        ("angle", part(value, begins, angle, called) if angle else None),
        *more,
    )


def _blanked(text: str, found: re.Match[str]) -> str:
    return text[: found.start()] + " " * (found.end() - found.start()) + text[found.end() :]


def _no_turn(value: Scalar, called: str) -> Fault:
    if not value:
        says = f"{called}: how long is it, and which way does the next corner turn? Write '{called}: 2100, turn right'"
        return Fault(value.place, "empty", says)
    says = f"{called}: '{value}' does not say how the corner at its end turns"
    return Fault(value.place, "no-turn", says, f"{value}, turn right")


def _turn(text: str) -> tuple[str, str] | None:
    plain = " ".join(tidy(text).casefold().replace(",", " ").split())
    if plain in ("straight", "straight on", "straight ahead"):
        return "straight", ""
    found = re.fullmatch(
        r"(?:(?:turns?|turning) )?(right|left|skew(?: left| right)?)(?: +(?:angle )?([0-9.]+ ?(?:°|deg(?:rees?)?)?))?",
        plain,
    )
    if found is None:
        return None
    return {"skew right": "skew"}.get(found[1], found[1]), found[2] or ""
