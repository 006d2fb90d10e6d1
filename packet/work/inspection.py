"""What the inspector reads on the erected shelter and on the pack, each with its nominal value and limit.

Lengths in mm. A reading is `about` its nominal value within `off`, `most` (not over it), or a `count`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from packet.assembly.records import LeafKind, Point3, overall
from packet.assembly.seam_classes import seam_classes
from packet.assembly.views import opening_height
from packet.description.terms import Face
from packet.plan import Plan
from packet.work.limits import apex_limit, closure_limit, flats_limit, overall_limits, pack_limits, v_limit

UPRIGHT = 1e-6
"""Level part of a leaf's plane below which it stands plumb."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing to read; `places` are points where it can be read, best first, for a letter in the picture."""

    key: str
    kind: str
    nominal: float
    off: float = 0.0
    values: Mapping[str, Any] = field(default_factory=dict)
    places: tuple[Point3, ...] = ()


def erected(plan: Plan) -> tuple[Reading, ...]:
    """Sizes, open Vs by class, closure, plumb, doors, cuts and marks."""
    return (*_sizes(plan), *_gaps(plan), *_state(plan))


def packed(plan: Plan) -> tuple[Reading, ...]:
    """Size, thickness along hinges and where strips cross, layers of every column."""
    pack, bulk = plan.pack, plan.bulk
    width, length = pack_limits(plan)
    thick = [Reading("pack_hinges", "most", pack.thickness + bulk.along)] if bulk.most - bulk.along > UPRIGHT else []
    stacks = [Reading("pack_layers", "count", len(column), values={"number": number, "marks": column})
              for number, column in enumerate(pack.columns, 1) if len(column) == pack.layers]
    return (Reading("pack_width", "about", pack.width, width), Reading("pack_length", "about", pack.length, length),
            *thick, Reading("pack_most", "most", pack.thickness + bulk.most), *stacks, Reading("straps", "count", 2))


def _sizes(plan: Plan) -> Iterator[Reading]:
    ring = plan.ring
    if ring is None:
        for key, size, off in zip(("width", "depth", "height"), overall(plan.assembly), overall_limits(plan), strict=True):
            yield Reading(key, "about", size, off)
        return
    flats = flats_limit(plan)
    yield Reading("corners", "about", ring.across_corners, flats * ring.across_corners / ring.across_flats)
    yield Reading("flats", "about", ring.across_flats, flats)
    rim = opening_height(plan.assembly, Face.INNER)
    tips = tuple(leaf.open_pose.place(point, leaf.depth(Face.INNER))
                 for leaf in plan.assembly.of_kind(LeafKind.ROOF) for point in leaf.edge("tip"))
    yield Reading("rim", "about", rim, apex_limit(plan), {"apex": ring.apex}, tips)


def _gaps(plan: Plan) -> Iterator[Reading]:
    off = v_limit(plan)
    for group in seam_classes(plan.assembly):
        if group.bonded and group.gap > UPRIGHT:
            yield Reading("v", "about", group.gap, min(off, group.gap),
                          {"kind": str(group.kind), "face": str(group.closing_face.other), "count": len(group.seams),
                           "first": group.marks[0]},
                          tuple(_middle(plan, mark) for mark in group.marks))


def _middle(plan: Plan, mark: str) -> Point3:
    seam = plan.assembly.seam_by_mark[mark]
    leaf = plan.assembly.by_mark[seam.leaves[0]]
    a, b = (leaf.open_pose.place(point, leaf.depth(seam.opening_face)) for point in seam.edge_a)
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def _state(plan: Plan) -> Iterator[Reading]:
    assembly, limits = plan.assembly, plan.description.limits
    yield Reading("closure", "most", closure_limit(plan), values={"worst": plan.gap.worst_case})
    walls = [leaf for leaf in assembly.of_kind(LeafKind.WALL) if abs(leaf.open_pose.z[2]) < UPRIGHT]
    if walls:
        height = max(max(leaf.open_pose.place(p)[2] for p in leaf.hinged) for leaf in walls)
        yield Reading("plumb", "most", limits.cut, values={"height": height})
    if assembly.doors and plan.description.doors is not None:
        doors, trim = tuple(door.mark for door in assembly.doors), plan.description.doors.bottom_trim
        feet = tuple(leaf.open_pose.place(leaf.edge("sill")[0]) for leaf in assembly.doors if "sill" in leaf.edges)
        yield Reading("door_foot", "about", trim, min(limits.cut, trim), {"doors": doors}, feet)
        yield Reading("swing", "count", len(doors), values={"doors": doors})
    if plan.relief:
        yield Reading("relief", "count", len(plan.relief))
    spliced = [(leaf, splice) for leaf in assembly.leaves for splice in leaf.splices]
    if spliced:
        places = tuple(leaf.open_pose.place(((one.a[0] + one.b[0]) / 2, (one.a[1] + one.b[1]) / 2), leaf.depth(Face.OUTER))
                       for leaf, one in spliced)
        first = {"count": len(spliced), "first": spliced[0][1].mark}
        yield Reading("splice_flat", "most", limits.cut, values=first, places=places)
        yield Reading("splice_gap", "most", limits.mark, values=first)
    yield Reading("marks", "count", len(assembly.leaves))


def nearest_first(places: tuple[Point3, ...], azimuth: float) -> tuple[Point3, ...]:
    """Those places that look most to a viewer who stands at that azimuth (degrees from +x) come first."""
    toward = (math.cos(math.radians(azimuth)), math.sin(math.radians(azimuth)))
    return tuple(sorted(places, key=lambda p: -(p[0] * toward[0] + p[1] * toward[1])))
