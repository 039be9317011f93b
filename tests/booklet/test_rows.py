"""Tables parted by the program: nothing lost, nothing too tall, no heading left alone."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from packgen.booklet.rows import BODY_MM, Column, Row, Table, evenly, parted
from packgen.booklet.signs import mark
from packgen.booklet.textsize import lines_of, printable

WORDS = st.text(alphabet="abc defgh ij", max_size=120)
ROWS = st.lists(st.builds(lambda a, b, keep: Row((a, b), keep=keep), WORDS, WORDS, st.booleans()), max_size=60)


def table(rows: list[Row]) -> Table:
    return Table((Column("one", width_mm=40), Column("two")), tuple(rows))


@given(ROWS, st.floats(60, 240))
def test_parts_hold_every_row_in_order_and_fit(rows: list[Row], room: float) -> None:
    parts = parted(table(rows), room)
    assert [r for p in parts for r in p.rows] == rows
    for part in parts:
        one_block = all(r.keep for r in part.rows[1:])
        assert part.height_mm <= room + 1e-6 or one_block


@given(ROWS, st.floats(100, 240))
def test_spreading_evenly_loses_nothing_and_adds_no_part(rows: list[Row], room: float) -> None:
    parts = evenly(table(rows), room)
    assert [r for p in parts for r in p.rows] == rows
    assert len(parts) == len(parted(table(rows), room))


def test_a_title_never_ends_a_part() -> None:
    rows = [Row((f"title {i}",), title=True) if i % 3 == 0 else Row(("a", "b")) for i in range(90)]
    for part in parted(table(rows), 70):
        assert not part.rows[-1].title


def test_columns_share_what_the_fixed_ones_leave() -> None:
    columns = (Column("a", width_mm=30), Column("b"), Column("c"))
    assert Table(columns, ()).widths_mm == (30, 74, 74)


def test_a_shape_in_a_cell_counts_as_a_shape_and_not_as_its_markup() -> None:
    plain = table([Row((Markup(mark("stop", 1)), "short"))])
    assert plain.height_mm < table([Row(("x", "short " * 60))]).height_mm < BODY_MM


def test_words_break_into_the_lines_that_their_widths_ask_for() -> None:
    # 10 pt figures are 0.572 em = 2.018 mm wide in Noto Sans, so 19 of them fill 40 mm and 20 do not
    assert lines_of("1" * 19, 10, 40) == 1
    assert lines_of("1" * 20, 10, 40) == 2
    assert lines_of("11111 " * 6, 10, 40) == 2


def test_letters_without_a_glyph_are_written_out() -> None:
    assert printable("a\u202eb \u4e2d ½ ⌀16 ≤ 5") == "a[U+202E]b [U+4E2D] ½ ⌀16 ≤ 5"
