"""What the wind does to the open shelter: drag, uplift, sliding, tipping, and what the anchors must hold.

Statics of a rigid body (common practice): the drag acts at the centroid of the silhouette, the uplift at that of the
roof's plan, the weight at the centre of mass; it tips about an edge of its base. Partial factors as for equilibrium
(EN 1997-1, Table A.1). Newtons, metres, m/s. No engineering approval.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from packet.assembly.records import Point
from packet.description.resolved import Description
from packet.description.site_values import Wind
from packet.plan import Plan
from packet.site.masses import leaf_masses, total
from packet.site.pressure import peak_pressure, speed_of, velocity_pressure
from packet.site.stance import Stance, stance
from packet.units import GRAVITY

SAME = 0.99
"""Share of the greatest distance from which anchors count as equally far from the edge it tips about."""


@dataclass(frozen=True, slots=True)
class Push:
    """A wind against one bottom edge. `area` (m2) with its `height` (m), `along` the share of the drag that turns it
    about the edge; `covered` (m2) with `roof_arm`, `weight` (N) with `weight_arm`: m from the edge. `anchors` is how
    many stand farthest from the edge, at `anchor_arm`; `upwind` how many pull against the drag, of `all_anchors`. Which ones
    they are, by their places in the base, stands in `far` and `windward`; `direction` is where the air goes, degrees."""

    area: float
    height: float
    along: float
    covered: float
    roof_arm: float
    weight: float
    weight_arm: float
    anchors: int
    anchor_arm: float
    upwind: int
    all_anchors: int
    far: tuple[int, ...] = ()
    windward: tuple[int, ...] = ()
    direction: float = 0.0


@dataclass(frozen=True, slots=True)
class Demand:
    """What a push asks for: drag and uplift as they are, then for each anchor the factored hold-down and shear (N)."""

    drag: float
    uplift: float
    hold_down: float
    shear: float

    @property
    def pull(self) -> float:
        """Hold-down and shear together, N."""
        return math.hypot(self.hold_down, self.shear)


@dataclass(frozen=True, slots=True)
class Unanchored:
    """Gust speeds (m/s) at which the shelter moves by its weight alone: doors shut, then one open to windward."""

    slides: float
    tips: float
    slides_open: float
    tips_open: float

    @property
    def moves(self) -> float:
        """The lowest speed at which anything moves with the doors shut."""
        return min(self.slides, self.tips)


@dataclass(frozen=True, slots=True)
class Loads:
    """The worst over all directions and edges, each figure for itself; `opened` with a swing leaf open to windward,
    None where it has none. `pressure` in Pa."""

    pressure: float
    shut: Demand
    opened: Demand | None
    ballast: float
    strike: float | None

    @property
    def worst(self) -> Demand:
        return self.opened or self.shut


def demand(push: Push, pressure: float, wind: Wind, uplift: float) -> Demand:
    """Forces of one push at a pressure in Pa with an uplift coefficient.

    Hold-down: the factored moment that the factored weight leaves, on the anchors farthest from the edge; or the
    whole uplift on all of them, where that is more. Shear: the factored drag on the anchors upwind, no friction.
    """
    drag, lift = wind.drag * pressure * push.area, uplift * pressure * push.covered
    moment = wind.load_factor * (drag * push.along * push.height + lift * push.roof_arm)
    left = moment - wind.weight_factor * push.weight * push.weight_arm
    tipping = left / (push.anchors * push.anchor_arm)
    return Demand(drag, lift, max(tipping, lifting_share(push, pressure, wind, uplift)),
                  wind.load_factor * drag / push.upwind)


def lifting_share(push: Push, pressure: float, wind: Wind, uplift: float) -> float:
    """Every anchor's share (N) of the factored uplift that the factored weight leaves; 0 where it leaves none."""
    left = wind.load_factor * uplift * pressure * push.covered - wind.weight_factor * push.weight
    return max(0.0, left / push.all_anchors)


def slide_pressure(push: Push, wind: Wind, uplift: float) -> float:
    """Pressure (Pa) at which drag equals friction under what weight the uplift leaves."""
    return wind.friction * push.weight / (wind.drag * push.area + wind.friction * uplift * push.covered)


def tip_pressure(push: Push, wind: Wind, uplift: float) -> float:
    """Pressure (Pa) at which drag and uplift lift the windward side; 0 where it topples without wind."""
    turning = wind.drag * push.area * push.along * push.height + uplift * push.covered * push.roof_arm
    return max(0.0, push.weight * push.weight_arm) / turning


def unanchored(plan: Plan) -> Unanchored:
    """The gust speeds at which the shelter slides and tips where nothing holds it."""
    wind, found = plan.description.wind, tuple(pushes(plan))
    swings = wind.uplift_open if plan.assembly.doors else wind.uplift

    def speed(pressure: float) -> float:
        exposure = 1.0 if wind.terrain is not None else wind.exposure
        return speed_of(pressure, plan.description.system, exposure)

    return Unanchored(*(speed(min(at(push, wind, uplift) for push in found))
                        for uplift in (wind.uplift, swings) for at in (slide_pressure, tip_pressure)))


def loads(plan: Plan) -> Loads:
    """What the anchors must hold at the project's wind, and the speed at which to strike."""
    wind, found = plan.description.wind, tuple(pushes(plan))
    pressure = pressure_at(plan.description, stance(plan.assembly).height)
    shut = _worst(found, pressure, wind, wind.uplift)
    opened = _worst(found, pressure, wind, wind.uplift_open) if plan.assembly.doors else None
    worst = opened or shut
    ballast = (worst.hold_down + worst.shear / wind.friction) / (wind.weight_factor * GRAVITY)
    return Loads(pressure, shut, opened, ballast, _strike(plan, found))


def _worst(against: tuple[Push, ...], pressure: float, wind: Wind, uplift: float) -> Demand:
    found = [demand(push, pressure, wind, uplift) for push in against]
    return Demand(max(d.drag for d in found), max(d.uplift for d in found), max(d.hold_down for d in found),
                  max(d.shear for d in found))


def pressure_at(description: Description, height: float) -> float:
    """Pressure (Pa) of the project's wind on what is `height` m high."""
    wind = description.wind
    if wind.terrain is not None:
        return peak_pressure(wind.speed, height, wind.terrain)
    return velocity_pressure(wind.speed, description.system, wind.exposure)


def _strike(plan: Plan, against: tuple[Push, ...]) -> float | None:
    """The gust speed (m/s) at which to strike: a share of that at which a wet anchor has no more to give."""
    wind = plan.description.wind
    if wind.anchor_capacity is None:
        return None
    held = wind.anchor_capacity * wind.wet_factor
    uplift = wind.uplift_open if plan.assembly.doors else wind.uplift
    low, high = 0.0, 1.0
    while _worst(against, high, wind, uplift).pull < held:
        high *= 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _worst(against, middle, wind, uplift).pull < held else (low, middle)
    exposure = 1.0 if wind.terrain is not None else wind.exposure
    return wind.strike_share * speed_of(low, plan.description.system, exposure)


def pushes(plan: Plan) -> Iterator[Push]:
    """Every direction against every edge of the base that lies downwind of it."""
    standing = stance(plan.assembly)
    mass, centre = total(leaf_masses(plan))
    for a, b in standing.edges():
        length = math.dist(a, b)
        out = ((b[1] - a[1]) / length, (a[0] - b[0]) / length)
        arms = [_arm(corner, a, out) for corner in standing.base]
        far = tuple(place for place, arm in enumerate(arms) if arm >= SAME * max(arms))
        for side in standing.sides:
            way = (math.cos(math.radians(side.direction)), math.sin(math.radians(side.direction)))
            along = way[0] * out[0] + way[1] * out[1]
            if along > 0:
                windward = _windward(standing, way)
                yield Push(side.area, side.height, along, standing.covered, _arm(standing.middle, a, out),
                           mass * GRAVITY, _arm((centre[0], centre[1]), a, out), len(far),
                           sum(arms[place] for place in far) / len(far), len(windward), len(standing.base), far, windward,
                           side.direction)


def _arm(point: Point, on_edge: Point, out: Point) -> float:
    """m from a bottom edge inward to a point."""
    return (on_edge[0] - point[0]) * out[0] + (on_edge[1] - point[1]) * out[1]


def _windward(standing: Stance, way: Point) -> tuple[int, ...]:
    """Places of the corners that lie on the windward side of the base's middle: an anchor pulls and does not push."""
    x = sum(p[0] for p in standing.base) / len(standing.base)
    y = sum(p[1] for p in standing.base) / len(standing.base)
    return tuple(place for place, p in enumerate(standing.base) if (p[0] - x) * way[0] + (p[1] - y) * way[1] < -1e-6)
