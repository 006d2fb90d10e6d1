"""The lifting equation, the dew point, stack flow and clear openings against published values and other formulas."""

from __future__ import annotations

import math

import pytest

from packet.description.site_values import Lift, Passage, Taping
from packet.description.terms import Grip
from packet.site import lifting
from packet.site.air import stack_flow
from packet.site.transport import First, Lying, passes
from packet.site.weather import Verdict, dampest, dew_point, humidity_at, verdict
from packet.units import INCH, POUND, System

METRIC, US = System.METRIC, System.INCH


# Multiplier tables of the revised lifting equation (NIOSH 1991), two decimals, as printed on a worksheet of it.
@pytest.mark.parametrize(("cm", "table"), [(25, 1.0), (30, 0.83), (40, 0.63), (60, 0.42), (63, 0.40), (64, 0.0)])
def test_horizontal(cm: float, table: float) -> None:
    assert lifting.horizontal(cm * 10, METRIC) == pytest.approx(table, abs=0.0051)


@pytest.mark.parametrize(("cm", "table"), [(0, 0.78), (75, 1.0), (175, 0.70), (176, 0.0)])
def test_vertical(cm: float, table: float) -> None:
    assert lifting.vertical(cm * 10, METRIC) == pytest.approx(table, abs=0.0051)


@pytest.mark.parametrize(("cm", "table"), [(10, 1.0), (25, 1.0), (40, 0.93), (100, 0.87), (176, 0.0)])
def test_distance(cm: float, table: float) -> None:
    assert lifting.distance(cm * 10, METRIC) == pytest.approx(table, abs=0.0051)


@pytest.mark.parametrize(("degrees", "table"), [(0, 1.0), (45, 0.86), (135, 0.57), (136, 0.0)])
def test_asymmetry(degrees: float, table: float) -> None:
    assert lifting.asymmetry(degrees) == pytest.approx(table, abs=0.0051)


@pytest.mark.parametrize(("hours", "per_minute", "table"), [
    (1, 0.2, 1.00), (1, 1, 0.94), (1, 5, 0.80), (8, 1, 0.75), (8, 5, 0.35), (1, 16, 0.0)])
def test_frequency(hours: float, per_minute: float, table: float) -> None:
    assert lifting.frequency(per_minute, hours, 800) == table


def test_worked_lift() -> None:
    """H 25, V 55, D 95 cm, no turn, FM 0.88 (3 a minute, 1 h), CM 0.95: 15.7 kg; 12 kg makes an index of 0.76.

    A worked exercise on the equation. It takes the height at the start only, so the end is put level with it.
    """
    factors = (lifting.horizontal(250, METRIC), lifting.vertical(550, METRIC), lifting.distance(950, METRIC),
               lifting.asymmetry(0), lifting.frequency(3, 1, 550), lifting.coupling(Grip.FAIR, 550))
    limit = 23 * math.prod(factors)
    assert limit == pytest.approx(15.7, abs=0.06)
    assert 12 / limit == pytest.approx(0.76, abs=0.006)


@pytest.mark.parametrize(("factors", "kilograms"), [
    ((0.50, 1, 0.95), 10.9), ((0.80, 1, 0.95), 17.5), ((0.80, 0.80, 0.86, 0.90), 11.4), ((0.8, 1, 0.95, 0.9), 15.7)])
def test_products_of_multipliers(factors: tuple[float, ...], kilograms: float) -> None:
    """Worked products of an occupational health centre's pages on the equation."""
    padded = (*factors, *(1.0,) * (6 - len(factors)))
    assert 23 * lifting.Multipliers(*padded).product == pytest.approx(kilograms, abs=0.06)


def test_both_forms_and_the_worse_end_count() -> None:
    lift = Lift(400, 400, 600, 30, 0.2, 1, Grip.FAIR)
    metric, us = lifting.limit(lift, METRIC), lifting.limit(lift, US)
    assert us == pytest.approx(metric, rel=0.03)  # 51 lb is 23.13 kg, 10 in is 25.4 cm
    high = Lift(400, 1000, 740, 30, 0.2, 1, Grip.FAIR)
    assert lifting.multipliers(high, METRIC).vertical == pytest.approx(1 - 0.003 * 99)


def test_people() -> None:
    lift = Lift(250, 750, 0, 0, 0.2, 1, Grip.GOOD)
    assert lifting.limit(lift, METRIC) == pytest.approx(23)
    assert [lifting.people(mass, lift, METRIC) for mass in (1, 23, 23.1, 50)] == [1, 1, 2, 3]
    assert lifting.people(10, Lift(700, 750, 0, 0, 0.2, 1, Grip.GOOD), METRIC) is None


TAPE = Taping(10.0, 3.0)


def test_taping_weather() -> None:
    """10 degrees and 85 % is dew 7.6: hold; 20 and 60 % is go (common practice, no source)."""
    assert dew_point(10, 85) == pytest.approx(7.6, abs=0.05)
    assert verdict(10, 85, TAPE) is Verdict.HOLD
    assert verdict(20, 60, TAPE) is Verdict.GO
    assert verdict(9.9, 30, TAPE) is Verdict.HOLD
    assert verdict(10, 30, TAPE) is Verdict.GO


@pytest.mark.parametrize("air", [-10, 0, 10, 20, 35])
@pytest.mark.parametrize("humidity", [20, 50, 85, 99])
def test_dew_point_by_another_formula(air: float, humidity: float) -> None:
    """Buck's equation (A. L. Buck, Journal of Applied Meteorology 20, 1981; from memory), solved by bisection."""
    def pressure(t: float) -> float:
        return 6.1121 * math.exp((18.678 - t / 234.5) * t / (257.14 + t))

    low, high = -60.0, float(air)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if pressure(middle) < pressure(air) * humidity / 100 else (low, middle)
    assert dew_point(air, humidity) == pytest.approx(low, abs=0.25)


def test_humidity_limits() -> None:
    assert humidity_at(18, dew_point(18, 70)) == pytest.approx(70)
    found = dampest(20, TAPE, 5)
    assert found is not None
    assert verdict(20, found, TAPE) is Verdict.GO
    assert verdict(20, found + 5, TAPE) is Verdict.HOLD
    assert dampest(5, TAPE) is None


def test_stack_flow_by_pressures() -> None:
    """The same flow from pressures: each opening drops its share, Q = Cd A sqrt(2 dp / rho), and both share g H d(rho)."""
    vent, gaps, rise, warmer, discharge = 0.0105, 0.02, 1.7, 5.0, 0.65
    flow = stack_flow(vent, gaps, rise, warmer, discharge)
    density = 1.2
    drops = sum(density / 2 * (flow / discharge / area) ** 2 for area in (vent, gaps))
    assert drops == pytest.approx(density * 9.80665 * rise * warmer / 288.15, rel=1e-9)
    assert stack_flow(vent, 0.0, rise, warmer, discharge) == 0


@pytest.mark.parametrize(("box", "opening", "length", "goes"), [
    ((1200, 2400, 25), (1300, 1000), None, True),
    ((1200, 2400, 25), (1100, 400), 2500, False),
    ((1200, 2400, 25), (1100, 900), 2500, True),  # leaning
    ((1200, 2400, 25), (1300, 1000), 2000, False),
    ((1200, 2400, 150), (2500, 1300), 100, False),
    ((1200, 2400, 150), (2500, 1300), 150, True)])
def test_clear_openings(box: tuple[float, float, float], opening: tuple[float, float], length: float | None,
                        goes: bool) -> None:
    assert (passes(box, Passage("", opening, length)) is not None) is goes


# A pack of 1200 x 2400 x 150 at openings as wide and high as said, by hand.
@pytest.mark.parametrize(("opening", "length", "way"), [
    ((1300, 200), None, (Lying.FLAT, First.END)), ((200, 1300), None, (Lying.EDGE, First.END)),
    ((2500, 200), 1300, (Lying.FLAT, First.SIDE)), ((200, 2500), 1300, (Lying.EDGE, First.SIDE)),
    ((1100, 900), None, (Lying.LEANING, First.END)), ((2500, 1300), 200, (Lying.FLAT, First.FACE))])
def test_which_way_a_pack_passes(opening: tuple[float, float], length: float | None, way: tuple[Lying, First]) -> None:
    found = passes((1200, 2400, 150), Passage("", opening, length))
    assert found is not None
    assert (found.lying, found.first) == way


def test_a_leaning_box_by_trying_every_angle() -> None:
    for a, b in ((1100.0, 900.0), (1100.0, 400.0), (1199.0, 80.0), (1190.0, 260.0), (1000.0, 1000.0)):
        tried = any(1200 * math.cos(t) + 25 * math.sin(t) <= a and 1200 * math.sin(t) + 25 * math.cos(t) <= b
                    for t in (i * math.pi / 2 / 4000 for i in range(4001)))
        assert (passes((1200.0, 2400.0, 25.0), Passage("", (a, b), 2400.0)) is not None) is tried


def test_units_of_the_equation() -> None:
    assert lifting.limit(Lift(10 * INCH, 30 * INCH, 0, 0, 0.2, 1, Grip.GOOD), US) == pytest.approx(51 * POUND)
