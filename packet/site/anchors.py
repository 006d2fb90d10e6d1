"""What each anchor must hold, over every wind that reaches the open shelter. N; directions in degrees from +x.

The same statics as in `wind` (common practice), kept apart by anchor: about an edge only the anchors farthest from it
hold, and against the drag only those to windward pull.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.plan import Plan
from packet.site.stance import stance
from packet.site.wind import demand, lifting_share, pressure_at, pushes

NEAR = 3.0
"""Thicknesses within which a leaf's foot counts as standing at a corner of the base."""


@dataclass(frozen=True, slots=True)
class AnchorLoad:
    """One anchor: its number, the leaves that stand at its corner, the greatest factored hold-down and shear that any
    wind asks of it (each for itself), and where the air goes that asks for the hold-down."""

    number: int
    leaves: tuple[str, ...]
    hold_down: float
    shear: float
    direction: float

    @property
    def pull(self) -> float:
        """Hold-down and shear as if one wind asked for both, N: on the safe side."""
        return math.hypot(self.hold_down, self.shear)


def anchor_loads(plan: Plan) -> tuple[AnchorLoad, ...]:
    """Every anchor at the project's wind, in the order of the base; with a swing leaf open to windward where there is
    one, which is never less."""
    wind, standing = plan.description.wind, stance(plan.assembly)
    pressure = pressure_at(plan.description, standing.height)
    uplift = wind.uplift_open if plan.assembly.doors else wind.uplift
    count = len(standing.base)
    held, sheared, ways = [0.0] * count, [0.0] * count, [0.0] * count
    for push in pushes(plan):
        found, lifting = demand(push, pressure, wind, uplift), lifting_share(push, pressure, wind, uplift)
        for place in range(count):
            down = found.hold_down if place in push.far else lifting
            if down > held[place] * (1 + 1e-9):  # of equal winds the first
                held[place], ways[place] = down, push.direction
            if place in push.windward:
                sheared[place] = max(sheared[place], found.shear)
    return tuple(AnchorLoad(place + 1, _at(plan, standing.base[place]), held[place], sheared[place], ways[place])
                 for place in range(count))


def _at(plan: Plan, corner: tuple[float, float]) -> tuple[str, ...]:
    """Marks of the leaves whose feet stand at a corner of the base (m)."""
    reach = NEAR * plan.assembly.thickness
    found = []
    for leaf in plan.assembly.leaves:
        feet = [(x, y) for point in leaf.hinged for depth in (0.0, leaf.thickness)
                for x, y, z in (leaf.open_pose.place(point, depth),) if z < leaf.thickness]
        if any(math.dist(foot, (corner[0] * 1000, corner[1] * 1000)) < reach for foot in feet):
            found.append(leaf.mark)
    return tuple(found)
