"""Wind speed to pressure and back, by three published rules, and the words for wind.

Speeds in m/s, pressures in Pa, heights in m.
"""

from __future__ import annotations

import math
from bisect import bisect_right

from packet.units import MILE_PER_HOUR, POUND_FORCE, SQUARE_FOOT, System

PSF_PER_SQUARED_MPH = 0.00256
PA_PER_SQUARED_MS = 0.613
"""Velocity pressure by the gust speed squared, in both unit systems (ASCE 7, velocity pressure)."""

DENSITY = 1.25
"""kg/m3, air (EN 1991-1-4, recommended)."""

LEAST_HEIGHT = (1.0, 1.0, 2.0, 5.0, 10.0)
ROUGHNESS = (0.003, 0.01, 0.05, 0.3, 1.0)
"""m, minimum height and roughness length of terrain categories 0 to IV (EN 1991-1-4, Table 4.1; 0.003 of category 0
as read in a worked example, the others from memory)."""

_BEAUFORT = (0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)
"""m/s, least speed of forces 1 to 12 (Beaufort scale of the World Meteorological Organization)."""


def velocity_pressure(speed: float, system: System, exposure: float = 1.0) -> float:
    """q = 0.613 V2 (or 0.00256 V2 in pounds, square feet and miles) times the exposure factors Kz Kzt Kd, Pa."""
    return _per_square(system) * exposure * speed**2


def speed_of(pressure: float, system: System, exposure: float = 1.0) -> float:
    """The gust speed of a velocity pressure, m/s."""
    return math.sqrt(pressure / (_per_square(system) * exposure))


def _per_square(system: System) -> float:
    if system is System.METRIC:
        return PA_PER_SQUARED_MS
    return PSF_PER_SQUARED_MPH * POUND_FORCE / SQUARE_FOOT / MILE_PER_HOUR**2


def peak_pressure(basic: float, height: float, terrain: int) -> float:
    """Peak velocity pressure of EN 1991-1-4, 4.3 to 4.5, Pa: terrain factor 0.19 (z0/0.05)^0.07, logarithmic mean
    wind, turbulence 1/ln(z/z0), qp = (1 + 7 Iv) rho vm2 / 2. No hills, no season or direction factor.

    `basic` is the basic ten-minute wind; heights below the category's minimum count as the minimum.
    """
    rough = ROUGHNESS[terrain]
    log = math.log(max(height, LEAST_HEIGHT[terrain]) / rough)
    mean: float = 0.19 * (rough / 0.05) ** 0.07 * log * basic
    return (1.0 + 7.0 / log) * DENSITY * mean**2 / 2


def beaufort(speed: float) -> int:
    """The Beaufort force of a wind speed, 0 to 12."""
    return bisect_right(_BEAUFORT, speed)
