"""What people write is read, and what they read is written as the shop writes it."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packet.units import (
    Format,
    LengthError,
    System,
    cascade,
    cascade_parts,
    ceil_to,
    floor_to,
    nearest_fraction,
    parse_length,
    parse_size,
)

INCH, METRIC = Format(System.INCH), Format(System.METRIC)

# Expected values by hand: 1 in = 25.4 mm, 1 ft = 12 in, 1 yd = 3 ft, exact.
WRITTEN_IN_INCHES = {
    "24": 24,
    "24 in": 24,
    "24in": 24,
    "2-1/2": 2.5,
    '2 1/2"': 2.5,
    "2 - 1/2": 2.5,
    "4'": 48,
    "4' 2-1/2\"": 50.5,
    "4'2-1/2\"": 50.5,
    "4'-2\"": 50,
    "4 ft 2 in": 50,
    "4' 2 1/2": 50.5,
    "5 ft": 60,
    "5 feet": 60,
    "60 yd": 2160,
    "1/8": 0.125,
    "3/4 in": 0.75,
    "0.5": 0.5,
    ".5": 0.5,
    "1.315": 1.315,
    "4\u2019 2\u00bd\u201d": 50.5,
    "4\u2032 2\u20131\u20442\u2033": 50.5,
    "2\u00bd": 2.5,
    "\u00be in": 0.75,
    "4''": 4,
    "24 IN": 24,
    "  24  inches ": 24,
    "24\u00a0in": 24,
}
WRITTEN_IN_MILLIMETRES = {
    "600": 600,
    "600 mm": 600,
    "60 cm": 600,
    "1.2 m": 1200,
    "1,5 m": 1500,
    "62,5": 62.5,
    "1/2 m": 500,
    "0,125 m": 125,
    "24 in": 609.6,
    "4'": 1219.2,
}


@pytest.mark.parametrize(("text", "inches"), WRITTEN_IN_INCHES.items())
def test_reads_inches(text: str, inches: float) -> None:
    assert parse_length(text, "in") == pytest.approx(inches * 25.4, abs=1e-9)


@pytest.mark.parametrize(("text", "mm"), WRITTEN_IN_MILLIMETRES.items())
def test_reads_millimetres(text: str, mm: float) -> None:
    assert parse_length(text, "mm") == pytest.approx(mm, abs=1e-9)


def test_reads_numbers_as_they_come_from_a_program() -> None:
    assert parse_length(24, "in") == pytest.approx(609.6)
    assert parse_length(2.5, "mm") == 2.5


def test_a_unit_outweighs_the_unit_of_the_file() -> None:
    assert parse_length("600 mm", "in") == 600
    assert parse_length("10 in", "mm") == pytest.approx(254)


@pytest.mark.parametrize(
    ("text", "bare", "wrong", "remedy"),
    [
        ("", "in", "no length", "write it as 24"),
        ("wide", "in", "not a length", "write it as 24"),
        ("wide", "mm", "not a length", "write it as 600"),
        ("24 x 36", "in", "not a length", "write it as"),
        ("24 furlongs", "in", "'furlongs' is not a unit", "use in, ft, yd, mm, cm or m"),
        ("nan", "in", "not a number", "write it as"),
        (".inf", "mm", "not a number", "write it as"),
        (float("nan"), "mm", "not a number", "write it as"),
        (float("-inf"), "mm", "not a number", "write it as"),
        ("1e3", "in", "exponent", "write it as"),
        (1e300, "in", "exponent", "write it as"),
        ("2.5E+2 mm", "in", "exponent", "write it as"),
        ("-3", "in", "never negative", "without the minus sign"),
        ("\u22123", "in", "never negative", "without the minus sign"),
        ("1/0", "in", "0 below the line", "write it as"),
        ("2-5/4", "in", "not less than one", "write it as"),
        ("1/2/3", "in", "not a length", "write it as"),
        ("1_000", "in", "not a length", "write it as"),
        ("1,5", "in", "comma", "decimal point"),
        ("1,200 mm", "mm", "decimal or thousands", "write 1200 or 1.200"),
        ("4' 13\"", "in", "12 or more inches", "carry them into the feet"),
        ("4.5' 2\"", "in", "whole number", "write it as"),
        ("99999999", "mm", "more than a kilometre", "write it as"),
        ("9" * 41, "mm", "too long", "write it as"),
    ],
)
def test_says_what_is_wrong_and_what_to_write(text: str, bare: str, wrong: str, remedy: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, bare)
    assert wrong in caught.value.wrong
    assert remedy in caught.value.remedy
    assert str(caught.value) == f"{caught.value.wrong}; {caught.value.remedy}"


@given(st.text(max_size=50), st.sampled_from(System))
def test_any_text_is_a_length_or_a_clear_error(text: str, system: System) -> None:
    try:
        mm = parse_length(text, system)
    except LengthError as error:
        assert error.wrong and error.remedy
    else:
        assert 0 <= mm <= 1e6


@given(st.integers(0, 16 * 600))
def test_inch_lengths_survive_a_round_trip(sixteenths: int) -> None:
    mm = sixteenths * 25.4 / 16
    for text in (INCH.length(mm), INCH.length_unit(mm), INCH.feet_inches(mm)):
        assert parse_length(text, "in") == pytest.approx(mm, abs=1e-9)


@given(st.integers(0, 900_000))
def test_metric_lengths_survive_a_round_trip(mm: int) -> None:
    for text in (METRIC.length(mm), METRIC.length_unit(mm), METRIC.feet_inches(mm), METRIC.decimal(mm)):
        assert parse_length(text, "mm") == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "bare", "mm"),
    [
        ("48 x 96", "in", (1219.2, 2438.4)),
        ("48x96", "in", (1219.2, 2438.4)),
        ("48 \u00d7 96", "in", (1219.2, 2438.4)),
        ("4' x 8'", "mm", (1219.2, 2438.4)),
        ("48 x 96 in", "mm", (1219.2, 2438.4)),
        ("4 by 8 ft", "mm", (1219.2, 2438.4)),
        ("1200 x 2400", "mm", (1200, 2400)),
        ("1.2 x 2.4 m", "mm", (1200, 2400)),
        ("1 x 2 x 3 cm", "mm", (10, 20, 30)),
    ],
)
def test_reads_sizes(text: str, bare: str, mm: tuple[float, ...]) -> None:
    assert parse_size(text, bare) == pytest.approx(mm)


@pytest.mark.parametrize("text", ["48", "48 x", "x 96", "48 and 96", "", "48 in x 96"])
def test_refuses_what_is_not_a_size(text: str) -> None:
    with pytest.raises(LengthError):
        parse_size(text, "in")


def test_fractions_round_half_away_from_zero() -> None:
    assert nearest_fraction(1 / 32, 16) == (0, 1, 16)
    assert nearest_fraction(-1 / 32, 16) == (0, -1, 16)
    assert nearest_fraction(-2.5, 16) == (-2, -1, 2)
    assert nearest_fraction(1.999, 16) == (2, 0, 1)


@given(st.fractions(-100, 100, max_denominator=4096), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_nearest_fraction_is_nearest_and_reduced(x: Fraction, denominator: int) -> None:
    whole, top, bottom = nearest_fraction(float(x), denominator)
    assert abs(whole + Fraction(top, bottom) - x) <= Fraction(1, 2 * denominator)
    assert math.gcd(top, bottom) == 1
    assert abs(top) < bottom
    assert whole * top >= 0


def test_print_step_downwards_and_upwards() -> None:
    # 23.906 in lies between 23-7/8 and 23-15/16; common practice, the shop prints to 1/16.
    assert floor_to(23.906 * 25.4, System.INCH) == pytest.approx(23.875 * 25.4)
    assert ceil_to(23.906 * 25.4, System.INCH) == pytest.approx(23.9375 * 25.4)
    assert floor_to(23.875 * 25.4 - 1e-6, System.INCH) == pytest.approx(23.875 * 25.4)
    assert floor_to(599.999, System.METRIC) == 599
    assert floor_to(600 - 1e-6, System.METRIC) == 600
    assert ceil_to(600 + 1e-6, System.METRIC) == 600
    assert ceil_to(600.001, System.METRIC) == 601


def test_cascade_carries_upwards() -> None:
    feet_and_inches = (("ft", 1), ("in", 12))
    assert cascade(11.99 / 12, feet_and_inches, 8) == "1 ft 0 in"
    assert cascade(1 + 7.95 / 12, feet_and_inches, 8) == "1 ft 8 in"
    assert cascade(0.5 / 12, feet_and_inches, 8) == "1/2 in"
    assert cascade(0, feet_and_inches, 8) == "0 in"
    assert cascade(-1.5, feet_and_inches, 8) == "-1 ft 6 in"
    assert cascade_parts(1.5, (1, 12), 8) == ((1, 6), Fraction(0))


def test_shop_lengths() -> None:
    assert INCH.length(23.875 * 25.4) == "23-7/8"
    assert INCH.length(12.7) == "1/2"
    assert INCH.length(609.6) == "24"
    assert INCH.length(0) == "0"
    assert INCH.length(-0.1) == "0"
    assert INCH.length(-12.7) == "-1/2"
    assert INCH.length(-63.5) == "-2-1/2"
    assert METRIC.length(599.6) == "600"
    assert METRIC.length(62.5) == "63"
    assert METRIC.length(-0.2) == "0"
    assert METRIC.length(62.5, halves=True) == "62.5"
    assert METRIC.length(62.46, halves=True) == "62.5"
    assert METRIC.length(62.4, halves=True) == "62"
    assert METRIC.length(-62.5, halves=True) == "-62.5"


def test_lengths_with_units() -> None:
    assert INCH.length_unit(23.875 * 25.4) == "23-7/8 in"
    assert METRIC.length_unit(600) == "600 mm"
    assert INCH.length_both(53.666 * 25.4) == "53-11/16 in (53.67)"
    assert METRIC.length_both(1269) == "1269 mm"
    assert INCH.decimal(53.6656 * 25.4) == "53.67"
    assert METRIC.decimal(112.58) == "112.6"
    assert INCH.feet(128.2 * 304.8) == "128.2 ft"
    assert METRIC.feet(39_075) == "39.1 m"
    assert INCH.feet_inches(50.5 * 25.4) == "4' 2-1/2\""
    assert INCH.feet_inches(47.99 * 25.4) == "4' 0\""
    assert INCH.feet_inches(2.5 * 25.4) == '2-1/2"'
    assert INCH.feet_inches(12.5 * 25.4) == "1' 1/2\""
    assert METRIC.feet_inches(1590.6) == "1.591 m"
    assert INCH.size(1219.2, 2438.4, 38.1) == "48 x 96 x 1-1/2 in"
    assert METRIC.size(1200, 2400, 30) == "1200 x 2400 x 30 mm"
    assert (INCH.unit, METRIC.unit) == ("in", "mm")


def test_other_quantities() -> None:
    # 41.57 sq ft x 0.09290304 m2; 194 cu ft x 0.028316846592 m3; 30.1 lb x 0.45359237 kg.
    assert INCH.area(41.57 * 0.09290304) == "41.6 sq ft"
    assert METRIC.area(41.57 * 0.09290304) == "3.9 m²"
    assert INCH.area(16.2 * 0.00064516) == "16.2 sq in"
    assert METRIC.area(0.0104) == "104.0 cm²"
    assert INCH.volume(194 * 0.028316846592) == "194.0 cu ft"
    assert METRIC.volume(5.49) == "5.5 m³"
    assert INCH.mass(30.1 * 0.45359237) == "30.1 lb"
    assert METRIC.mass(30.1 * 0.45359237) == "13.7 kg"
    assert INCH.angle(151.04) == "151.0\N{DEGREE SIGN}"
    assert METRIC.angle(-0.01) == "0.0\N{DEGREE SIGN}"


@given(st.floats(0, 1e5))
def test_a_metric_packet_never_shows_an_inch(mm: float) -> None:
    texts = (
        METRIC.length_unit(mm),
        METRIC.length_both(mm),
        METRIC.feet(mm),
        METRIC.feet_inches(mm),
        METRIC.size(mm, mm),
    )
    for text in texts:
        assert text.endswith(("mm", " m"))
        assert not set("\"'/") & set(text)


def test_decimals_have_the_sign_of_the_language() -> None:
    """ISO 80000-1: a point or a comma on the line."""
    form = Format(System.METRIC, ",")
    assert (form.mass(13.6), form.feet(39_100), form.angle(151.04), form.length(62.5, halves=True)) == (
        "13,6 kg", "39,1 m", "151,0°", "62,5")
    assert (form.plain(1.5), form.plain(24), form.length_unit(600), form.area(0.01)) == ("1,5", "24", "600 mm", "100,0 cm²")
