"""Air inside: how much there is, and how much the vent draws. Metres, seconds, cubic metres."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.plan import Plan
from packet.units import GRAVITY

ZERO = 273.15
OUTSIDE = 283.15
"""K, outdoor air that the stack flow is worked out for; the flow hardly depends on it."""

MM2 = 1e-6
MM3 = 1e-9


@dataclass(frozen=True, slots=True)
class Breath:
    """`volume` (m3), `vent` and `gaps` (m2): the peak opening, and what lies open under the doors; `rise` (m) between
    them; `flow` (m3/s) by warmth alone, in still air with the doors shut; `people` whom that flow serves; `minutes`
    until the air inside is changed once."""

    volume: float
    vent: float
    gaps: float
    rise: float
    flow: float
    people: int
    minutes: float


def stack_flow(vent: float, gaps: float, rise: float, warmer: float, discharge: float) -> float:
    """Flow by buoyancy through two openings one above the other, m3/s.

    Q = Cd A sqrt(2 g H dT / T) with A of the two in series, 1/A2 = 1/A1^2 + 1/A2^2 (ASHRAE Handbook, Fundamentals,
    natural ventilation; from memory).
    """
    if min(vent, gaps, rise, warmer) <= 0:
        return 0.0
    both = 1 / math.sqrt(1 / vent**2 + 1 / gaps**2)
    return discharge * both * math.sqrt(2 * GRAVITY * rise * warmer / (OUTSIDE + warmer))


def breath(plan: Plan) -> Breath | None:
    """Air of a ring; None for what people do not live in."""
    if plan.ring is None:
        return None
    ring, own = plan.ring, plan.description
    doors = own.doors
    trim = doors.bottom_trim if doors is not None else 0.0
    vent, gaps = ring.opening_area * MM2, len(plan.assembly.doors) * ring.leaf_width * trim * MM2
    rise = (ring.apex - ring.tip_trim * math.sin(math.radians(ring.slope)) - trim / 2) / 1000
    flow = stack_flow(vent, gaps, rise, own.air.warmer, own.air.discharge)
    volume = ring.volume * MM3
    return Breath(volume, vent, gaps, rise, flow, math.floor(flow / own.air.fresh + 1e-9),
                  volume / flow / 60 if flow else math.inf)


def resistance(plan: Plan) -> float:
    """Thermal resistance of the board alone, m2 K/W: thickness over conductivity."""
    return plan.assembly.thickness / 1000 / plan.description.site.conductivity


def transmittance(plan: Plan) -> float:
    """U of a wall, W/(m2 K), with the surface resistances 0.13 inside and 0.04 outside (ISO 6946)."""
    return 1 / (resistance(plan) + 0.13 + 0.04)
