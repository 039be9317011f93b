"""A drawn staff at true size with laser lines on it, for the reader's first practice."""

from __future__ import annotations

from dataclasses import dataclass
from xml.sax.saxutils import escape

from markupsafe import Markup

from packgen.booklet.drawing.labels import short, width

WIDE_MM, STAFF_MM, LEFT_MM = 66.0, 20.0, 14.0
MARGIN_MM = 4.0
CLEAR_MM = 2  # no laser line runs through a figure
SIZE = 3.9  # 11 pt


@dataclass(frozen=True, slots=True)
class Practice:
    """A laser line on the staff: its letter and the reading it shows, whole mm."""

    letter: str
    reading: int


def staff(low: int, high: int, lines: tuple[Practice, ...]) -> Markup:
    """The staff between two readings, bigger figures up, mm for mm; the answers stand on their heads below."""
    tall = high - low + 2 * MARGIN_MM
    out: list[str] = []

    def y(reading: float) -> float:
        return MARGIN_MM + high - reading

    ticks: dict[str, list[str]] = {"0.25": [], "0.35": [], "0.5": []}
    for mm in range(low, high + 1):
        long, pen = (12.0, "0.5") if mm % 10 == 0 else (8.0, "0.35") if mm % 5 == 0 else (5.0, "0.25")
        ticks[pen].append(f"M{LEFT_MM} {short(y(mm))}h{short(long)}")
    out.append(
        f'<path d="M{LEFT_MM} 0v{short(tall)}M{LEFT_MM + STAFF_MM} 0v{short(tall)}" stroke-width="0.5"/>'
        + "".join(f'<path d="{"".join(d)}" stroke-width="{pen}"/>' for pen, d in ticks.items())
    )
    for line in lines:
        at = short(y(line.reading))
        out.append(f'<path d="M2 {at}H{WIDE_MM - 14}" stroke-width="0.35" stroke-dasharray="4 1.2"/>')
    words = [
        _word(LEFT_MM + STAFF_MM + 1.5, y(mm) + 1.3, str(mm), 3.6)
        for mm in range(-(-low // 10) * 10, high + 1, 10)
        if all(abs(mm - line.reading) > CLEAR_MM for line in lines)
    ]
    words += [_word(WIDE_MM - 12, y(line.reading) + 1.4, f"laser {line.letter}", SIZE, True) for line in lines]
    answers = "answers: " + ", ".join(f"{line.letter} {line.reading}" for line in lines)
    foot = tall + 6
    middle = WIDE_MM / 2
    half = width(answers, 3.6) / 2
    words.append(
        f'<g transform="rotate(180 {middle} {short(foot)})">{_word(middle - half, foot + 1.3, answers, 3.6)}</g>'
    )
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE_MM + 6}mm" height="{short(tall + 10)}mm" '
        f'viewBox="0 0 {WIDE_MM + 6} {short(tall + 10)}"><title>A staff at true size with three laser lines</title>'
        f'<g fill="none" stroke="#000">{"".join(out)}</g><g font-family="Pack, Sym">{"".join(words)}</g></svg>'
    )


def _word(x: float, y: float, text: str, size: float, bold: bool = False) -> str:
    weight = ' font-weight="700"' if bold else ""
    return f'<text x="{short(x)}" y="{short(y)}" font-size="{size}"{weight}>{escape(text)}</text>'
