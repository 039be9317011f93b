"""Level books from textbooks and examination questions, reduced by height of collimation.

Sources and marks as in the collection of checked values: a page's own figures were recomputed before they were used.
Readings in metres or feet are entered as thousandths. (a / b) is a change point: foresight a, then backsight b.
"""

from __future__ import annotations

import pytest

from packgen.project.work_model import Reading, SetUp, Sight
from packgen.survey.level_book import Reduced, full_check, reduce_book, rises_and_falls, sums
from packgen.trade.survey import misclosure_rule

Book = list[float | tuple[float, float]]


def reduced(readings: Book, first_rl: float, last_known: float | None = None) -> Reduced:
    """The book as set-ups: the first reading is a backsight, pairs are change points, the last a foresight."""
    sight = lambda point, m: Sight.model_construct(point=point, reading=round(m * 1000, 3))  # noqa: E731
    setups, start, cells = [], sight("P0", readings[0]), []

    def close(end: Sight, known: bool) -> None:
        setups.append(
            SetUp.model_construct(
                name=f"S{len(setups) + 1}",
                date=None,
                by="",
                start_on=start,
                readings=tuple(cells),
                leave_on=None if known else end,
                close_on=end if known else None,
            )
        )

    for n, value in enumerate(readings[1:-1], 1):
        if isinstance(value, tuple):
            close(sight(f"P{n}", value[0]), False)
            start, cells = sight(f"P{n}", value[1]), []
        else:
            cells.append(Reading.model_construct(column="P", row=str(n), value=round(value * 1000, 3)))
    last = readings[-1]
    assert isinstance(last, float)
    known = {"P0": first_rl * 1000}
    if last_known is not None:
        known["END"] = last_known * 1000
    close(sight("END", last), last_known is not None)
    return reduce_book(setups, known)


def levels(book: Reduced, adjusted: bool = False) -> list[float]:
    """Reduced levels of all points but the first, in metres to the millimetre, in booking order."""
    return [round((b.level_mm if adjusted else b.raw_level_mm) / 1000, 3) for b in book.lines if b.kind != "back"]


def test_l2_three_set_ups_that_just_miss() -> None:
    """L2: README of the open geodesy library geoengine, section Levelling."""
    book = reduced([1.751, 0.540, (2.100, 0.300), 1.100, 1.260, (2.300, 1.500), 1.110], 100.0, 98.050)
    assert levels(book) == [101.211, 99.651, 98.851, 98.691, 97.651, 98.041]
    assert sums(book.lines) == pytest.approx((3551, 5510))
    assert rises_and_falls(book.lines) == pytest.approx((1601, 3560))
    assert book.runs[0].misclosure_mm == pytest.approx(-9)
    assert misclosure_rule("set-ups").allowed_mm(3, 0.0) < 9
    # by the set-up that observed the foresight, as the collection recommends; the page itself differs at C and F
    assert levels(book, adjusted=True) == [101.214, 99.654, 98.857, 98.697, 97.657, 98.050]


def test_l4_soffit_of_a_beam_with_the_staff_upside_down() -> None:
    """L4: examination question "The reduced level of a factory floor is 36.00 m", cdquestions.com."""
    book = reduced([1.40, -3.67], 36.0)
    assert levels(book) == [41.07]


def test_l5_closing_on_a_second_bench_mark() -> None:
    """L5: teaching slides "Levelling (continued)"; the readings of the second and third set-up derived from them."""
    book = reduced([1.546, (1.562, 1.418), (1.321, 1.011), 2.009], 10.0, 9.090)
    assert [round(s.collimation_mm / 1000, 3) for s in book.setups] == [11.546, 11.402, 11.092]
    assert levels(book) == [9.984, 10.081, 9.083]
    assert sums(book.lines) == pytest.approx((3975, 4892))
    assert book.runs[0].misclosure_mm == pytest.approx(-7)
    assert misclosure_rule("set-ups").allowed_mm(3, 0.0) == pytest.approx(8.66, abs=0.005)
    assert levels(book, adjusted=True) == [9.986, 10.086, 9.090]


BOOKS: list[tuple[str, Book, float, list[float], tuple[float, float], tuple[float, float] | None]] = [
    (
        "L6",
        [0.578, 0.933, 1.768, 2.450, (2.005, 0.567), 1.888, 1.181, (3.679, 0.612), 0.705, 1.810],
        58.250,
        [57.895, 57.060, 56.378, 56.823, 55.502, 56.209, 53.711, 53.618, 52.513],
        (1.757, 7.494),
        (1.152, 6.889),
    ),
    (
        "L7",
        [0.855, 1.545, 2.335, 3.115, (3.825, 0.455), 1.380, 2.055, 2.855, (3.455, 0.585), 1.015, 1.850, 2.755, 3.845],
        380.500,
        [379.810, 379.020, 378.240, 377.530, 376.605, 375.930, 375.130, 374.530, 374.100, 373.265, 372.360, 371.270],
        (1.895, 11.125),
        (0.0, 9.230),
    ),
    (
        "L8",
        [0.485, 1.210, 1.635, 3.395, (3.775, 0.650), 1.400, 1.795, 2.575, 3.375, (3.895, 1.735), 0.635, 1.605],
        100.0,
        [99.275, 98.850, 97.090, 96.710, 95.960, 95.565, 94.785, 93.985, 93.465, 94.565, 93.595],
        (2.870, 9.275),
        (1.100, 7.505),
    ),
    (
        "L10",
        [0.355, 0.485, 0.625, (1.755, 1.895), 2.350, (1.780, 0.345), 0.685, 1.230, 2.150],
        255.500,
        [255.370, 255.230, 254.100, 253.645, 254.215, 253.875, 253.330, 252.410],
        (2.595, 5.685),
        None,
    ),
    (
        "L11",  # from memory: B.C. Punmia, Surveying vol. I, levelling; one set-up has no intermediate sight
        [2.228, 1.606, (0.988, 2.090), 2.864, (1.262, 0.602), (1.982, 1.044), 2.684],
        432.384,
        [433.006, 433.624, 432.850, 434.452, 433.072, 431.432],
        (5.964, 6.916),
        (2.842, 3.794),
    ),
]


@pytest.mark.parametrize(("name", "readings", "first", "wanted", "totals", "steps"), BOOKS, ids=[b[0] for b in BOOKS])
def test_consecutive_readings(name, readings, first, wanted, totals, steps) -> None:
    """L6-L10: "consecutive readings" questions, askfilo.com (readings from the page, levels recomputed); L11 above."""
    book = reduced(readings, first)
    assert levels(book) == wanted
    back, fore = sums(book.lines)
    assert (back, fore) == pytest.approx((totals[0] * 1000, totals[1] * 1000))
    assert back - fore == pytest.approx((wanted[-1] - first) * 1000)
    if steps:
        assert rises_and_falls(book.lines) == pytest.approx((steps[0] * 1000, steps[1] * 1000), abs=1e-6)
    left, right = full_check(book.lines)
    assert left == pytest.approx(right)


def test_l9_last_level() -> None:
    """L9: askfilo.com; only the last level and the sums were recomputed."""
    readings: Book = [
        0.585,
        1.010,
        1.735,
        3.295,
        (3.775, 0.350),
        1.300,
        1.795,
        2.575,
        3.375,
        (3.895, 1.735),
        0.635,
        1.605,
    ]
    book = reduced(readings, 150.0)
    assert levels(book)[-1] == 143.395
    assert sums(book.lines) == pytest.approx((2670, 9275))


@pytest.mark.parametrize(("setups", "mm"), [(1, 5.0), (2, 7.07), (3, 8.66), (4, 10.0), (6, 12.25), (9, 15.0)])
def test_l15_rule_of_thumb(setups, mm) -> None:
    """L15: 5 times the root of the number of set-ups, teaching slides "Levelling (continued)"."""
    assert misclosure_rule("set-ups").allowed_mm(setups, 0.0) == pytest.approx(mm, abs=0.005)


@pytest.mark.parametrize(("km", "mm"), [(0.1, 3.79), (0.25, 6.0), (0.5, 8.49), (1, 12.0)])
def test_l15_third_order(km, mm) -> None:
    """L15: 12 times the root of the way in km, third order (a poor copy of a page, and from memory)."""
    assert misclosure_rule("third order").allowed_mm(1, km) == pytest.approx(mm, abs=0.011)


def test_l15_levelling_in_construction() -> None:
    """L15: 10 times the root of 0.25 km, level-online.net, lf-einfuehrung-bsp2."""
    assert misclosure_rule("building").allowed_mm(4, 0.25) == 5.0
