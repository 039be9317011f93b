"""Words on drawings: their widths are those of the printed fonts, they find free places, they are written compactly."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from packgen.booklet.drawing.labels import Label, Room, around, centred, width, wrapped, written

FONTS = Path(__file__).parent.parent.parent / "templates" / "fonts"


SYMBOLS = "⌀≤≥☐☑✓→←↑↓↔−△▲▼▽◯○●⊕≈≠√∞⟦⟧"


@pytest.mark.parametrize(
    ("file", "bold"), [("pack-regular.ttf", False), ("pack-bold.ttf", True), ("sym-regular.ttf", False)]
)
def test_widths_are_those_of_the_font_files(file: str, bold: bool) -> None:
    ttf = pytest.importorskip("fontTools.ttLib")
    font = ttf.TTFont(FONTS / file)
    em = font["head"].unitsPerEm
    for code, glyph in font.getBestCmap().items():
        letter = chr(code)
        if file.startswith("sym") and letter not in SYMBOLS:
            continue
        assert width(letter, 1000.0, bold) == pytest.approx(font["hmtx"][glyph][0] * 1000 / em, abs=1), hex(code)


def test_figures_are_tabular() -> None:
    assert len({width(d, 1.0) for d in "0123456789"}) == 1
    assert len({width(d, 1.0, True) for d in "0123456789"}) == 1


def test_every_letter_has_its_place_and_no_text_holds_more_than_a_hundred_labels() -> None:
    labels = [Label(10 + i % 40, 10 + i // 40, f"A{i}") for i in range(250)]
    found = list(written(labels))
    assert len(found) == 3
    letters = 0
    for text in found:
        xs = re.search(r' x="([^"]*)"', text)
        body = re.search(r">([^<]*)</text>", text)
        assert xs
        assert body
        assert len(xs.group(1).split()) == len(body.group(1))
        letters += len(body.group(1).replace("\u00a0", ""))
    assert letters == sum(len(one.text) for one in labels)


def test_words_are_escaped() -> None:
    text = "".join(written([Label(1, 1, "<b>&")]))
    assert "<b>" not in text
    assert "&lt;b&gt;&amp;" in text


def test_a_label_goes_where_nothing_is() -> None:
    room = Room((0, 0, 100, 100))
    first = room.place(around(50, 50, "C4", 1.0))
    second = room.place(around(50, 50, "C4", 1.0))
    assert first
    assert second
    assert room.cost(first.box) > 0
    a, b = first.box, second.box
    assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_a_label_that_would_cover_too_much_is_left_out() -> None:
    room = Room((0, 0, 100, 100))
    room.take((0, 0, 100, 100))
    assert room.place([centred(50, 50, "C4")], most_cost=1.0) is None


def test_cost_is_the_covered_area() -> None:
    room = Room((0, 0, 100, 100))
    room.take((12.0, 3.0, 31.0, 17.0))
    assert room.cost((20.0, 10.0, 40.0, 30.0)) == pytest.approx(11 * 7)
    assert room.cost((40.0, 10.0, 60.0, 30.0)) == 0
    assert room.cost((-2.0, 10.0, 6.0, 30.0)) == pytest.approx(200)


def test_wrapped_lines_keep_all_words_and_stay_narrow() -> None:
    text = "separating layer turned up at the wall on the room side"
    lines = wrapped(text, 3.2, 26.0)
    assert " ".join(lines) == text
    assert all(width(line, 3.2) <= 26.0 for line in lines)
