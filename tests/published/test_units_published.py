"""Units and rounding against published values and an independent library."""

from __future__ import annotations

import pint
import pytest

from packet.units import FOOT, INCH, POUND, POUND_PER_CUBIC_FOOT, YARD, cascade, nearest_fraction, parse_length

ureg = pint.UnitRegistry()


def test_number_format_cascade_of_iso_32000_2() -> None:
    # ISO 32000-2, 12.9.2, EXAMPLE: 1.4505 mi, feet x 5280, inches x 12 to the nearest 1/8.
    steps = (("mi", 1), ("ft", 5280), ("in", 12))
    assert cascade(1.4505, steps, 8) == "1 mi 2,378 ft 7 5/8 in"


@pytest.mark.parametrize(
    ("decimal", "fraction"),
    # Building Trades Pocketbook, table "Decimal Equivalents of 64ths".
    [
        (0.1330, (9, 64)),
        (0.3670, (23, 64)),
        (0.8979, (57, 64)),
        (0.0156, (1, 64)),
        (0.0313, (1, 32)),
        (0.0938, (3, 32)),
    ],
)
def test_nearest_64th(decimal: float, fraction: tuple[int, int]) -> None:
    assert nearest_fraction(decimal, 64) == (0, *fraction)


def test_common_roundings() -> None:
    # Common practice: 0.3 in is 5/16 to the nearest 16th, 0.7 in is 45/64 to the nearest 64th.
    assert nearest_fraction(0.3, 16) == (0, 5, 16)
    assert nearest_fraction(0.7, 64) == (0, 45, 64)


def test_exact_factors() -> None:
    # 1 in = 25.4 mm, 1 ft = 0.3048 m exact; 1 lb = 0.45359237 kg exact (NIST SP 811 and Handbook 44, from memory).
    assert (INCH, FOOT, YARD) == (25.4, 304.8, 914.4)
    assert POUND == 0.45359237
    # NIST SP 811, B.8, from memory: 1 lb/ft3 = 16.018 46 kg/m3.
    assert pytest.approx(16.01846, abs=5e-6) == POUND_PER_CUBIC_FOOT


@pytest.mark.parametrize("unit", ["in", "ft", "yd", "mm", "cm", "m", "inch", "feet", "yards"])
def test_units_agree_with_an_independent_library(unit: str) -> None:
    assert parse_length(f"7.25 {unit}", "mm") == pytest.approx(ureg.Quantity(7.25, unit).to("mm").magnitude, rel=1e-12)


def test_mass_and_density_agree_with_an_independent_library() -> None:
    assert pytest.approx(ureg.Quantity(1, "lb").to("kg").magnitude, rel=1e-12) == POUND
    assert pytest.approx(ureg.Quantity(1, "lb/ft**3").to("kg/m**3").magnitude, rel=1e-12) == POUND_PER_CUBIC_FOOT
