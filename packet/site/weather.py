"""Dew point, and whether the air is fit for taping. Degrees Celsius; humidity in percent."""

from __future__ import annotations

import math
from enum import StrEnum

from packet.description.site_values import Taping

_A, _B = 17.62, 243.12
"""Magnus coefficients over water, -45 to 60 degrees Celsius (WMO Guide to Instruments, from memory)."""


class Verdict(StrEnum):
    """Whether tape may be laid."""

    GO = "GO"
    HOLD = "HOLD"


def dew_point(air: float, humidity: float) -> float:
    """Temperature at which the air's moisture condenses, by the Magnus formula."""
    gamma = math.log(humidity / 100) + _A * air / (_B + air)
    return _B * gamma / (_A - gamma)


def humidity_at(air: float, dew: float) -> float:
    """The relative humidity that has this dew point: the formula turned round."""
    return 100 * math.exp(_A * dew / (_B + dew) - _A * air / (_B + air))


def verdict(air: float, humidity: float, limits: Taping) -> Verdict:
    """HOLD below the least temperature, or where the dew point is nearer than the least spread."""
    # A reading on the limit is on the good side, whatever its last bits are.
    cold = air < limits.least - 1e-9
    damp = air - dew_point(air, humidity) < limits.spread - 1e-9
    return Verdict.HOLD if cold or damp else Verdict.GO


def dampest(air: float, limits: Taping, step: int = 1) -> int | None:
    """The highest humidity, in whole steps, at which tape may be laid; None where none is."""
    return next((wet for wet in range(100 - step, 0, -step) if verdict(air, wet, limits) is Verdict.GO), None)
