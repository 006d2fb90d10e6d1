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


def closure_limit(plan: Plan) -> float:
    """Gap between closing faces that meet, mm: what marks and cuts within their limits leave by root sum of squares.

    A row of leaves has no loop and leaves none; then, and at the least, the limit of a mark.
    """
    return max(plan.gap.root_sum_square, plan.description.limits.mark)


def v_limit(plan: Plan) -> float:
    """How far an open V may be off, mm: the closure gap and the cutting limit of the edge it is read at (assumption)."""
    return closure_limit(plan) + plan.description.limits.cut


def pack_limits(plan: Plan) -> tuple[float, float]:
    """How far width and length of the pack may be off, mm: the cutting limit for each leaf that fits end to end."""
    flats = plan.pack.flats
    corners = [[flats[leaf.mark].place(point) for point in leaf.hinged] for leaf in plan.assembly.leaves]
    found = []
    for axis, size in enumerate((plan.pack.width, plan.pack.length)):
        longest = max(max(p[axis] for p in points) - min(p[axis] for p in points) for points in corners)
        found.append(plan.description.limits.cut * max(1, math.ceil(size / longest - 1e-9)))
    return found[0], found[1]
