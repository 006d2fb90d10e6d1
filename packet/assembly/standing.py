"""Stand leaves up from their seams alone: each open angle fixes the next leaf in space.

Starting from one leaf, the neighbour over a seam is laid beside it in one plane, edge to edge, and turned about
the hinge's axis, which lies on the closing face, until the boards make the open angle. Seams that close a loop
are not used; whether they come together is the closure check's question.
"""

from __future__ import annotations

import math
from dataclasses import replace

from packet.assembly.records import Leaf, Point, Point3, Pose, Seam
from packet.assembly.vectors import cross, dot, minus, plus, unit

UPRIGHT = Pose((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0), (0.0, 0.0, 0.0))
"""A leaf standing on its x axis; its marked face looks towards -y."""

LYING = Pose((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))
"""A leaf on the ground with its marked face up."""


def stand(leaves: tuple[Leaf, ...], seams: tuple[Seam, ...], first: Pose) -> tuple[Leaf, ...]:
    """The leaves with the poses that the open angles give, the first in pose `first`, the lowest point on the ground.

    Bonded seams are followed before unbonded ones. Leaves that no seam reaches keep the pose they had.
    """
    by_mark = {leaf.mark: leaf for leaf in leaves}
    poses = {leaves[0].mark: first}
    queue = [leaves[0].mark]
    for bonded_only in (True, False):
        queue = list(poses)
        while queue:
            mark = queue.pop(0)
            for seam in seams:
                if mark not in seam.leaves or (bonded_only and not seam.bonded):
                    continue
                other = seam.leaves[1] if seam.leaves[0] == mark else seam.leaves[0]
                if other not in poses:
                    poses[other] = across(by_mark[mark], poses[mark], seam)
                    queue.append(other)
    lowest = min(pose.place(p, depth)[2] for mark, pose in poses.items()
                 for p in by_mark[mark].hinged for depth in (0.0, by_mark[mark].thickness))
    return tuple(replace(leaf, open_pose=_lifted(poses.get(leaf.mark, leaf.open_pose), -lowest)) for leaf in leaves)


def across(leaf: Leaf, pose: Pose, seam: Seam) -> Pose:
    """Pose of the seam's other leaf, given this one's."""
    here, there = (seam.edge_a, seam.edge_b) if seam.leaves[0] == leaf.mark else (seam.edge_b, seam.edge_a)
    turn, shift = _beside(here, there)
    x = _combine(pose, turn[0], turn[1])
    y = _combine(pose, -turn[1], turn[0])
    depth = leaf.depth(seam.closing_face)
    start, stop = pose.place(here[0], depth), pose.place(here[1], depth)
    axis = unit(minus(stop, start))
    # Seen along the axis the neighbour lies on one side; it folds towards the closing face.
    side = cross(axis, pose.z)
    interior = pose.place(_middle(leaf.hinged), depth)
    on_left = dot(minus(interior, start), side) > 0
    towards_marked = seam.closing_face is leaf.marked_face
    angle = math.radians(180.0 - seam.angle_open) * (1 if towards_marked == on_left else -1)
    flat_origin = pose.place(shift)
    return Pose(
        _turned(x, axis, angle), _turned(y, axis, angle), _turned(pose.z, axis, angle),
        plus(start, _turned(minus(flat_origin, start), axis, angle)))


def _beside(here: tuple[Point, Point], there: tuple[Point, Point]) -> tuple[Point, Point]:
    """Turn (cosine, sine) and origin that bring `there` onto `here` in one plane, without mirroring."""
    (ax, ay), (bx, by) = here
    (cx, cy), (dx, dy) = there
    angle = math.atan2(by - ay, bx - ax) - math.atan2(dy - cy, dx - cx)
    c, s = math.cos(angle), math.sin(angle)
    return (c, s), (ax - (c * cx - s * cy), ay - (s * cx + c * cy))


def _combine(pose: Pose, a: float, b: float) -> Point3:
    return (a * pose.x[0] + b * pose.y[0], a * pose.x[1] + b * pose.y[1], a * pose.x[2] + b * pose.y[2])


def _turned(v: Point3, axis: Point3, angle: float) -> Point3:
    """Rodrigues' rotation of a vector about a unit axis."""
    c, s = math.cos(angle), math.sin(angle)
    k = dot(axis, v) * (1 - c)
    w = cross(axis, v)
    return (v[0] * c + w[0] * s + axis[0] * k, v[1] * c + w[1] * s + axis[1] * k, v[2] * c + w[2] * s + axis[2] * k)


def _lifted(pose: Pose, height: float) -> Pose:
    x, y, z = pose.origin
    return replace(pose, origin=(x, y, z + height))


def _middle(points: tuple[Point, ...]) -> Point:
    return (sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points))
