"""Numbers, lengths, levels and falls as people write them: what is written comes back, what is doubtful is refused."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packgen.core.lengths import NotUnderstood, fall, length, level, number, shown, steepness


def outcome(read: Callable[[str], object], text: str) -> str:
    """What is read, or the sentence that says why not; any other exception is a failure."""
    try:
        return repr(read(text))
    except NotUnderstood as why:
        return str(why)


WHOLE = st.integers(0, 999_999)
TENTHS = st.decimals(0, 99_999, places=1)


@given(TENTHS)
def test_comma_and_point_are_the_same(figure: Decimal) -> None:
    text = str(figure)
    assert number(text) == number(text.replace(".", ",")) == float(figure)


@given(st.integers(1, 300_000))
def test_units_agree(mm: int) -> None:
    metres = f"{Decimal(mm) / 1000}"
    assert length(f"{mm}") == length(f"{mm} mm") == length(f"{mm}mm") == mm
    assert length(f"{Decimal(mm) / 10} cm") == pytest.approx(mm)
    assert length(f"{metres} m") == length(f"{metres.replace('.', ',')} m") == pytest.approx(mm)


@given(WHOLE, st.sampled_from([" ", "\u00a0", "\u202f", "'", "’"]))
def test_groups_of_three_read_as_one_number(figure: int, gap: str) -> None:
    assert number(f"{figure:,}".replace(",", gap)) == figure


@given(st.integers(1, 999), st.integers(0, 999), st.sampled_from(",."))
def test_three_figures_behind_comma_or_point_are_doubtful(whole: int, rest: int, sign: str) -> None:
    with pytest.raises(NotUnderstood) as why:
        number(f"{whole}{sign}{rest:03d}")
    assert why.value.guess == f"{whole}{rest:03d}"


@given(WHOLE)
def test_leading_noughts_count_for_nothing(figure: int) -> None:
    assert number(f"0{figure}") == figure


@given(st.floats(0, 1e6, allow_nan=False).map(lambda v: round(v, 3)))
def test_a_figure_shown_is_read_again(value: float) -> None:
    assert float(shown(value)) == value


@given(st.text(max_size=30))
def test_any_text_is_a_length_or_a_sentence(text: str) -> None:
    assert outcome(length, text)


@given(st.text(max_size=40))
def test_any_text_is_a_level_and_a_fall_or_a_sentence(text: str) -> None:
    assert outcome(level, text)
    assert outcome(fall, text)


@pytest.mark.parametrize(
    ("text", "guess"),
    [
        ("149O", "1490"),
        ("1e3", "1000"),
        ("0x10", "16"),
        ("1_000", "1000"),
        ("1,234.5", "1234.5"),
        ("1.234,5", "1234.5"),
        ("1 1/2", "1.5"),
        ("6200?", "6200"),
        ("ca. 6200", "6200"),
        ("8 ft", "2438.4"),
        ("10 in", "254"),
        (".nan", None),
        ("inf", None),
        ("6200-6210", None),
        ("", None),
    ],
)
def test_what_is_no_length_says_what_was_meant(text: str, guess: str | None) -> None:
    with pytest.raises(NotUnderstood) as why:
        length(text)
    assert why.value.guess == guess


@given(WHOLE, st.sampled_from(["TBM", "BM 1", "the hall floor"]))
def test_levels_in_words(mm: int, datum: str) -> None:
    assert level(f"{mm} above {datum}") == (mm, datum)
    assert level(f"{mm} mm below {datum}") == (-mm, datum)
    assert level(f"same as {datum}") == (0.0, datum)


@given(st.integers(1, 5000))
def test_a_signed_level_is_refused_and_its_words_are_read(mm: int) -> None:
    for sign, way in (("-", "below"), ("−", "below"), ("+", "above"), ("TBM - ", "below"), ("TBM + ", "above")):
        with pytest.raises(NotUnderstood) as why:
            level(f"{sign}{mm}")
        assert why.value.guess == f"{mm} {way} TBM"
        assert level(why.value.guess)[0] == (mm if way == "above" else -mm)


@given(st.integers(1, 100))
def test_one_fall_in_four_ways(per_mille: int) -> None:
    percent = f"{Decimal(per_mille) / 10} %"
    ratio = f"1:{Decimal(1000) / per_mille:.6f}"
    assert steepness(f"{per_mille} per metre") == per_mille
    assert steepness(f"{per_mille} mm/m") == per_mille
    assert steepness(percent) == pytest.approx(per_mille)
    assert steepness(ratio) == pytest.approx(per_mille, rel=1e-4)


def test_a_fall_needs_its_way() -> None:
    assert fall("1.5 % from wall 2 to wall 4") == (15.0, 2, 4)
    assert fall("level") == (0.0, None, None)
    with pytest.raises(NotUnderstood, match="which way"):
        fall("15 per metre")
    with pytest.raises(NotUnderstood) as up:
        fall("15 per metre, going up from wall 1 to wall 3")
    assert fall(str(up.value.guess)) == (15.0, 3, 1)
