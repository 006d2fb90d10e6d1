"""What the lead may accept on the erected shelter, from the cutting limit at the bench."""

from __future__ import annotations

import math

from packet.plan import Plan


def apex_limit(plan: Plan) -> float:
    """How far the peak may be off when every leaf is off by the cutting limit the same way, mm.

    First-order sum of the rise's change with leaf width and with slant, and of the wall height itself.
    """
    ring = plan.geometry
    return plan.description.limits.cut * (abs(ring.rise_per_leaf_width) + ring.rise_per_slant + 1.0)


def flats_limit(plan: Plan) -> float:
    """How far the width across flats may be off for the same reason, mm: 2 cut / tan(pi / n)."""
    return 2 * plan.description.limits.cut / math.tan(math.pi / plan.geometry.walls)
