"""Keys of the project file for the place where the shelter stands: wind, hands, air, weather, transport, cautions.

Every one of them is an assumption with a default; the sheets print it where they use it.
"""

from typing import Annotated

from packet.description.kinds import Choice, Count, Extent, Flag, Length, Listed, Number, Text
from packet.description.section import Section
from packet.description.terms import Compass, Grip, Harm
from packet.units import BTU_INCH, CUBIC_FOOT_PER_MINUTE, FAHRENHEIT_STEP, MILE_PER_HOUR, POUND_FORCE

_PLAIN = ("", "")


class Wind(Section):
    """What the wind loads rest on."""

    speed: Annotated[float, Number((1, 150), (0.5, 67), ("mph", "m/s"), (MILE_PER_HOUR, 1.0), ("30", "13"))]
    """Gust speed that the anchors are to hold; with `terrain`, the basic ten-minute wind speed instead."""
    terrain: Annotated[int | None, Count(0, 4)] = None
    """Terrain category of EN 1991-1-4, 0 (sea) to 4 (town); with it the peak pressure is worked out for the height."""
    exposure: Annotated[float, Number((0.1, 4), (0.1, 4), _PLAIN, default=("1", "1"))]
    """Factor on the pressure for height, hills and direction."""
    drag: Annotated[float, Number((0.1, 4), (0.1, 4), _PLAIN, default=("1.2", "1.2"))]
    """Force coefficient on the side area."""
    uplift: Annotated[float, Number((0, 4), (0, 4), _PLAIN, default=("0.8", "0.8"))]
    """Net uplift coefficient on the roof's plan area, doors shut."""
    uplift_open: Annotated[float, Number((0, 4), (0, 4), _PLAIN, default=("1.5", "1.5"))]
    """Net uplift coefficient on the roof's plan area with a swing leaf open to windward."""
    friction: Annotated[float, Number((0.05, 1), (0.05, 1), _PLAIN, default=("0.4", "0.4"))]
    """Friction between the sill and the ground."""
    load_factor: Annotated[float, Number((1, 3), (1, 3), _PLAIN, default=("1.5", "1.5"))]
    """Partial factor on the wind load."""
    weight_factor: Annotated[float, Number((0.1, 1), (0.1, 1), _PLAIN, default=("0.9", "0.9"))]
    """Partial factor on the weight that holds it down."""
    anchor_capacity: Annotated[
        float | None, Number((1, 20000), (5, 90000), ("lb", "N"), (POUND_FORCE, 1.0))] = None
    """Pull that one anchor holds in this ground when dry, by a test on site."""
    wet_factor: Annotated[float, Number((0.05, 1), (0.05, 1), _PLAIN, default=("0.5", "0.5"))]
    """Share of the anchor's pull that is left in soaked ground."""
    strike_share: Annotated[float, Number((0.1, 1), (0.1, 1), _PLAIN, default=("0.75", "0.75"))]
    """Share of the speed that the anchors hold at which the shelter is struck."""


class Lift(Section):
    """How boards and pack are lifted."""

    reach: Annotated[float, Length(("6", "40"), ("150", "1000"), ("15", "400"))]
    """From the ankles out to the hands."""
    height: Annotated[float, Length(("0", "70"), ("0", "1750"), ("15", "400"))]
    """Height of the hands where the lift begins."""
    travel: Annotated[float, Length(("0", "70"), ("0", "1750"), ("25", "600"))]
    """How far the hands go up."""
    turn: Annotated[float, Number((0, 180), (0, 180), ("degrees", "degrees"), default=("30", "30"))]
    """How far the body turns, in degrees."""
    per_minute: Annotated[float, Number((0.1, 20), (0.1, 20), _PLAIN, default=("0.2", "0.2"))]
    """Lifts in a minute."""
    hours: Annotated[float, Number((0.1, 8), (0.1, 8), _PLAIN, default=("1", "1"))]
    """Hours of lifting without a rest."""
    grip: Annotated[Grip, Choice(Grip, ("poor", "poor"))]
    """How well hands hold it: good, fair or poor."""


class Air(Section):
    """Fresh air inside."""

    people: Annotated[int, Count(1, 60, ("2", "2"))]
    """People inside."""
    fresh: Annotated[
        float, Number((1, 60), (0.5, 30), ("cfm a person", "l/s a person"), (CUBIC_FOOT_PER_MINUTE, 1e-3), ("15", "7"))]
    """Fresh air that each person needs: cubic feet per minute, or litres per second."""
    warmer: Annotated[float, Number((0, 80), (0, 45), ("F", "K"), (FAHRENHEIT_STEP, 1.0), ("9", "5"))]
    """How much warmer it is inside than outside."""
    discharge: Annotated[float, Number((0.1, 1), (0.1, 1), _PLAIN, default=("0.65", "0.65"))]
    """Discharge coefficient of an opening."""


class Taping(Section):
    """Weather in which tape is laid."""

    least: Annotated[float, Number((-4, 100), (-20, 38), ("F", "C"), default=("50", "10"))]
    """Least temperature of air and board."""
    spread: Annotated[float, Number((0, 36), (0, 20), ("F", "K"), (FAHRENHEIT_STEP, 1.0), ("5.4", "3"))]
    """Least difference between the air's temperature and its dew point."""


class Passage(Section):
    """One clear opening on the way."""

    name: Annotated[str, Text(24, needed=True)]
    """What it is: the van, the shed door."""
    opening: Annotated[tuple[float, float], Extent(Length(("6", "240"), ("150", "6000"), usual=("50", "1300")))]
    """Its clear width x height."""
    length: Annotated[float | None, Length(("12", "600"), ("300", "15000"), usual=("96", "2500"))] = None
    """Clear length behind it."""


class Transport(Section):
    """What the boards and the pack must pass."""

    openings: Annotated[
        tuple[Passage, ...], Listed(6, ((), ()), "- {name: van, opening: 54 x 40, length: 100}", empty_allowed=True)]
    """Clear openings on the way, each with its name, width x height, and the length behind it where that is short."""


class Site(Section):
    """The place itself, and the time it stands there."""

    ground_sheet: Annotated[float, Length(("0", "24"), ("0", "600"), ("2", "50"))]
    """How far inside the walls the ground sheet ends."""
    stake_out: Annotated[float, Length(("2", "240"), ("50", "6000"), ("24", "600"))]
    """From a wall out to the stakes."""
    trench: Annotated[float, Length(("2", "240"), ("50", "6000"), ("48", "1200"))]
    """From a wall out to the trench uphill."""
    wind_from: Annotated[Compass | None, Choice(Compass)] = None
    """Where the wind usually comes from; with it the site plan has north up and turns the shelter."""
    uphill: Annotated[Compass | None, Choice(Compass)] = None
    """Where the ground rises; the trench lies on that side."""
    inspect_days: Annotated[int, Count(1, 90, ("7", "7"))]
    """Days between inspections while it stands."""
    conductivity: Annotated[
        float, Number((0.05, 2), (0.007, 0.3), ("BTU in/(h sq ft F)", "W/(m K)"), (BTU_INCH, 1.0), ("0.2", "0.029"))]
    """Thermal conductivity of the board."""
    strapping_mass: Annotated[float, Number((0.001, 0.5), (0.005, 2.5), ("lb/sq ft", "kg/m²"), (4.882428, 1.0),
                                            ("0.05", "0.25"))]
    """Mass of strapping tape by area."""
    foil_mass: Annotated[float, Number((0.001, 0.5), (0.005, 2.5), ("lb/sq ft", "kg/m²"), (4.882428, 1.0),
                                       ("0.04", "0.2"))]
    """Mass of foil tape by area."""


class ExtraCaution(Section):
    """One safety message of the project's own, in three parts."""

    hazard: Annotated[str, Text(60, needed=True)]
    """What is dangerous."""
    consequence: Annotated[str, Text(120, needed=True)]
    """What it does to a person."""
    avoid: Annotated[str, Text(120, needed=True)]
    """What to do so that it does not happen."""
    harm: Annotated[Harm, Choice(Harm, ("serious", "serious"))]
    """The worst it can do: death, serious, moderate, minor or none."""
    certain: Annotated[bool, Flag(("no", "no"))]
    """Whether it will do that to who does not avoid it; else it could. Death or serious harm that is certain is DANGER."""


class Cautions(Section):
    """Safety messages: a project adds to those of the packet and takes none away."""

    extra: Annotated[
        tuple[ExtraCaution, ...],
        Listed(12, ((), ()), "- {hazard: Bees, consequence: They sting., avoid: Keep off the hives.}", True)]
    """Further messages, each with hazard, consequence and how to avoid it."""
