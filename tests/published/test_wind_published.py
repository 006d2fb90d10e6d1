"""Wind pressure and statics against published values and figures worked out by hand."""

from __future__ import annotations

import math

import pytest

from packet.description.site_values import Wind
from packet.site.pressure import beaufort, peak_pressure, speed_of, velocity_pressure
from packet.site.wind import Demand, Push, demand, slide_pressure, tip_pressure
from packet.units import FOOT, GRAVITY, MILE_PER_HOUR, POUND, POUND_FORCE, SQUARE_FOOT, System

PSF = POUND_FORCE / SQUARE_FOOT
USUAL = Wind(13.4, None, 1.0, 1.2, 0.8, 1.5, 0.4, 1.5, 0.9, None, 0.5, 0.75)


def test_asce_7_velocity_pressure() -> None:
    """0.00256 Kz Kzt Kd V2 with Kz 0.90, Kd 0.85, V 100 mph: 19.58 psf (arithmetic of a worked line on ASCE 7-05)."""
    assert velocity_pressure(100 * MILE_PER_HOUR, System.INCH, 0.90 * 0.85) / PSF == pytest.approx(19.58, abs=0.005)


def test_both_unit_systems_agree() -> None:
    """0.00256 and 0.613 are one constant rounded twice; half the density of standard air is 0.6125 kg/m3."""
    inch, metric = (velocity_pressure(10.0, system) for system in (System.INCH, System.METRIC))
    assert abs(inch / metric - 1) < 0.002
    assert abs(metric / (0.5 * 1.225 * 100) - 1) < 0.002
    assert speed_of(inch, System.INCH) == pytest.approx(10.0)


@pytest.mark.parametrize(("height", "kilopascal"), [(77.36, 1.658), (28.0, 1.403)])
def test_en_1991_1_4_chain(height: float, kilopascal: float) -> None:
    """A worked example of EN 1991-1-4: basic wind 25 m/s, terrain category 0."""
    assert peak_pressure(25.0, height, 0) / 1000 == pytest.approx(kilopascal, abs=0.0015)


def test_peak_pressure_falls_with_roughness_and_not_below_the_least_height() -> None:
    at_ten = [peak_pressure(25.0, 10.0, terrain) for terrain in range(5)]
    assert at_ten == sorted(at_ten, reverse=True)
    assert peak_pressure(25.0, 1.0, 3) == peak_pressure(25.0, 5.0, 3) < peak_pressure(25.0, 6.0, 3)


# Beaufort scale of the World Meteorological Organization: least speed of each force in m/s.
@pytest.mark.parametrize(("force", "least"), [*enumerate(
    (0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7), 1)])
def test_beaufort(force: int, least: float) -> None:
    assert beaufort(least) == force
    assert beaufort(least - 0.01) == force - 1


@pytest.mark.parametrize(("force", "top"), [*enumerate((1, 3, 7, 12, 18, 24, 31, 38, 46, 54, 63, 72))])
def test_beaufort_in_miles(force: int, top: int) -> None:
    """Greatest whole miles per hour of each force, as the scale is printed: rounded, so not to the very edge."""
    assert beaufort((top - 0.5) * MILE_PER_HOUR) == force
    assert beaufort((top + 1.5) * MILE_PER_HOUR) == force + 1


def check_case(mass_pounds: float) -> Push:
    """Side 40 sq ft with its centroid 2.53 ft up, floor 41.57 sq ft, across flats 83.14 in, six anchors, two of them to
    windward (common practice, no published source)."""
    flat = 83.138 / 12 * FOOT / 1000
    return Push(40 * SQUARE_FOOT, 7.6 / 3 * FOOT / 1000, 1.0, 41.57 * SQUARE_FOOT, flat / 2,
                mass_pounds * POUND * GRAVITY, flat / 2, 2, flat, 2, 6)


def held(mph: float, mass_pounds: float) -> Demand:
    return demand(check_case(mass_pounds), velocity_pressure(mph * MILE_PER_HOUR, System.INCH), USUAL, USUAL.uplift)


@pytest.mark.parametrize(("mph", "pounds", "anchor"), [
    (30, 30, 52.3), (40, 30, 98.2), (30, 15.5, 55.6), (40, 15.5, 101.5)])
def test_hold_down_of_the_check_case(mph: float, pounds: float, anchor: float) -> None:
    """Worked out by hand with the factors 1.5 and 0.9 of EN 1997-1, Table A.1 (EQU)."""
    assert held(mph, pounds).hold_down / POUND_FORCE == pytest.approx(anchor, abs=0.05)


def test_forces_of_the_check_case() -> None:
    found = held(30, 30)
    assert round(found.drag / POUND_FORCE) == 111
    assert round(found.uplift / POUND_FORCE) == 77


@pytest.mark.parametrize(("pounds", "slides", "tips"), [(30, 8.7, 13.1), (15.5, 6.3, 9.4)])
def test_speeds_of_the_check_case(pounds: float, slides: float, tips: float) -> None:
    push = check_case(pounds)
    found = [speed_of(at(push, USUAL, USUAL.uplift), System.INCH) / MILE_PER_HOUR
             for at in (slide_pressure, tip_pressure)]
    assert found == pytest.approx([slides, tips], abs=0.05)


def test_uplift_alone_is_shared_by_all_anchors() -> None:
    """Without drag and with the roof over the far edge the moment asks little: the whole uplift governs."""
    push = Push(0.0, 1.0, 1.0, 4.0, 0.1, 100.0, 1.0, 2, 2.0, 2, 4)
    found = demand(push, 100.0, USUAL, 0.8)
    assert found.hold_down == pytest.approx((1.5 * 0.8 * 100 * 4 - 0.9 * 100) / 4)
    assert math.isclose(found.pull, found.hold_down)
