"""What the lead may accept on the erected shelter, from the cutting limit at the bench."""

from __future__ import annotations

import math

from packet.assembly.records import overall
from packet.plan import Plan


def apex_limit(plan: Plan) -> float:
    """How far the peak may be off when every leaf is off by the cutting limit the same way, mm.

    First-order sum of the rise's change with leaf width and with slant, and of the wall height itself.
    """
    ring = plan.geometry
    return plan.description.limits.cut * (abs(ring.rise_per_leaf_width) + ring.rise_per_slant + 1.0)


def flats_limit(plan: Plan) -> float:
    """How far the width across flats, of an odd ring from wall to corner, may be off for the same reason, mm.

    All widths of a regular ring grow in proportion to its leaves: cut times the width over the leaf width.
    """
    return plan.description.limits.cut * plan.geometry.across_flats / plan.geometry.leaf_width


def overall_limits(plan: Plan) -> tuple[float, float, float]:
    """How far width, depth and height over all may be off for the same reason, mm.

    Along each axis, the cutting limit for every leaf that fits end to end into the size: no more leaves than
    that can add their errors there. At least one leaf's.
    """
    sizes = overall(plan.assembly)
    reach = [0.0, 0.0, 0.0]
    for leaf in plan.assembly.leaves:
        corners = [leaf.open_pose.place(point) for point in leaf.outline]
        for axis in range(3):
            along = [corner[axis] for corner in corners]
            reach[axis] = max(reach[axis], max(along) - min(along))
    width, depth, height = (
        plan.description.limits.cut * max(1, math.floor(size / most)) if most else plan.description.limits.cut
        for size, most in zip(sizes, reach, strict=True))
    return width, depth, height
