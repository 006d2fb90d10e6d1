"""The revised lifting equation: how much a person may lift, and how many people a load asks for.

RWL = LC HM VM DM AM FM CM, in two published forms, metric (23 kg, centimetres) and US (51 lb, inches); NIOSH 1991.
Multipliers as in the applications manual's tables (NIOSH 94-110, read in worksheets of it). Lengths in mm, masses in kg.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.description.site_values import Lift
from packet.description.terms import Grip
from packet.units import INCH, POUND, System

FREQUENCIES = (0.2, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15)
"""Lifts a minute at which the frequency multiplier is tabled; more are none allowed."""

_SHORT = (1.0, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37, 0.34, 0.31, 0.28)
_MIDDLE = (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.21, 0.0, 0.0, 0.0)
_LONG = (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13, 0.0, 0.0, 0.0, 0.0, 0.0)
_LOW = 750.0  # mm: hands that begin lower lose some of the last columns
_NOT_LOW = {(1, 12): 0.0, (1, 13): 0.0, (2, 10): 0.0, (2, 11): 0.0, (0, 14): 0.0, (0, 15): 0.0, (0, 16): 0.0}
"""(duration, place in FREQUENCIES) that count only with hands at 75 cm or higher (table 5; rows beyond the worksheet's
from memory)."""

_GRIPS = {Grip.GOOD: (1.0, 1.0), Grip.FAIR: (0.95, 1.0), Grip.POOR: (0.90, 0.90)}

TEAM = 1.0
"""Greatest lifting index that counts as safe for most people."""


@dataclass(frozen=True, slots=True)
class Multipliers:
    """The equation's six factors; 0 where a limit is passed."""

    horizontal: float
    vertical: float
    distance: float
    asymmetry: float
    frequency: float
    coupling: float

    @property
    def product(self) -> float:
        return math.prod((self.horizontal, self.vertical, self.distance, self.asymmetry, self.frequency, self.coupling))


def multipliers(lift: Lift, system: System) -> Multipliers:
    """The factors of the metric or the US form, which differ a little by rounding."""
    top = lift.height + lift.travel
    return Multipliers(horizontal(lift.reach, system), min(vertical(lift.height, system), vertical(top, system)),
                       distance(lift.travel, system), asymmetry(lift.turn),
                       frequency(lift.per_minute, lift.hours, lift.height), coupling(lift.grip, lift.height))


def limit(lift: Lift, system: System) -> float:
    """The recommended weight limit for one person, kg."""
    return (23.0 if system is System.METRIC else 51 * POUND) * multipliers(lift, system).product


def people(mass: float, lift: Lift, system: System) -> int | None:
    """The fewest people for whom a shared load stays within the limit; None where the lift itself is beyond it."""
    each = limit(lift, system)
    return math.ceil(mass / each / TEAM - 1e-9) if each > 0 else None


def horizontal(mm: float, system: System) -> float:
    """25/H or 10/H: 1 up to 25 cm (10 in), 0 beyond 63 cm (25 in)."""
    value, least, most = (mm / 10, 25.0, 63.0) if system is System.METRIC else (mm / INCH, 10.0, 25.0)
    return 0.0 if value > most + 1e-9 else least / max(value, least)


def vertical(mm: float, system: System) -> float:
    """1 - 0.003 |V - 75| or 1 - 0.0075 |V - 30|; 0 above 175 cm (70 in)."""
    value, middle, slope, most = ((mm / 10, 75.0, 0.003, 175.0) if system is System.METRIC
                                  else (mm / INCH, 30.0, 0.0075, 70.0))
    return 0.0 if value > most + 1e-9 else 1.0 - slope * abs(value - middle)


def distance(mm: float, system: System) -> float:
    """0.82 + 4.5/D or 0.82 + 1.8/D: 1 up to 25 cm (10 in), 0 beyond 175 cm (70 in)."""
    value, top, least, most = (mm / 10, 4.5, 25.0, 175.0) if system is System.METRIC else (mm / INCH, 1.8, 10.0, 70.0)
    return 0.0 if value > most + 1e-9 else min(1.0, 0.82 + top / max(value, least))


def asymmetry(degrees: float) -> float:
    """1 - 0.0032 A; 0 beyond 135 degrees."""
    return 0.0 if degrees > 135 else 1.0 - 0.0032 * degrees


def frequency(per_minute: float, hours: float, height: float) -> float:
    """The table's row at the next higher frequency, for up to 1, 2 or 8 hours."""
    place = next((i for i, each in enumerate(FREQUENCIES) if per_minute <= each + 1e-9), None)
    if place is None:
        return 0.0
    duration = 0 if hours <= 1 else 1 if hours <= 2 else 2
    if height < _LOW and (duration, place) in _NOT_LOW:
        return 0.0
    return (_SHORT, _MIDDLE, _LONG)[duration][place]


def coupling(grip: Grip, height: float) -> float:
    """1, 0.95 or 0.90 where the hands begin below 75 cm; 1, 1 or 0.90 above."""
    return _GRIPS[grip][height >= _LOW]
