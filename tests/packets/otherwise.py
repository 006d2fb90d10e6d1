"""Lengths that the program finds by a method of its own, found here by another: where packs balance, how high the middle of a
side is, by how much a hip misses itself on the way open, what cutting errors leave open where the ring closes.

What tape adds to the pack is not worked out here: `tests/tape/test_bulk.py` has sums by hand of it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.affinity import affine_transform

from packet.assembly.records import Assembly, Leaf, Point
from packet.tape.strips import Role
from tests.packets.packet import Packet

Ends = Mapping[tuple[int, int, int], NDArray[np.float64]]

FRACTIONS = (0.25, 0.5, 0.75, 1.0)
"""Parts of the way that the corners are open in the last four pictures."""


def balance(packet: Packet) -> Iterator[float]:
    """Where the pack and each half of it balance: areas and centroids of polygons with holes, carried into the pack, weighed
    by density and by the tape on each leaf (shared evenly among the leaves that a strip lies on)."""
    plan, kilograms = packet.plan, leaf_kilograms(packet)
    lies = {leaf.mark: affine_transform(_sheet(leaf), _to_pack(packet, leaf)) for leaf in plan.assembly.leaves}
    hinged = shapely.MultiPoint([plan.pack.flats[leaf.mark].place(p) for leaf in plan.assembly.leaves for p in leaf.hinged])
    left, end, _, _ = hinged.bounds
    for half in (None, *plan.assembly.halves):
        some = [leaf.mark for leaf in plan.assembly.leaves if half in (None, leaf.half)]
        weights = np.array([kilograms[mark] for mark in some])
        centres = np.array([(lies[mark].centroid.x - left, lies[mark].centroid.y - end,
                             (plan.pack.flats[mark].layer - 0.5) * plan.assembly.thickness) for mark in some])
        yield from weights @ centres / weights.sum()


def leaf_kilograms(packet: Packet) -> dict[str, float]:
    """The mass of every leaf with its tape."""
    plan = packet.plan
    site, density = plan.description.site, plan.description.assume.density
    kilograms = {leaf.mark: _sheet(leaf).area * leaf.thickness * 1e-9 * density for leaf in plan.assembly.leaves}
    for strip in plan.strips:
        by_area = site.foil_mass if strip.role in (Role.FOIL, Role.SEAL) else site.strapping_mass
        for mark in strip.leaves:
            kilograms[mark] += sum(strip.tapes) * strip.length * 1e-6 * by_area / len(strip.leaves)
    return kilograms


def _sheet(leaf: Leaf) -> shapely.Polygon:
    """The finished leaf less its openings."""
    cut = [shapely.Point(o.x, o.y).buffer(o.width / 2, quad_segs=64) if o.round else
           shapely.box(o.x - o.width / 2, o.y - o.height / 2, o.x + o.width / 2, o.y + o.height / 2) for o in leaf.openings]
    return shapely.Polygon(leaf.outline).difference(shapely.unary_union(cut))


def _to_pack(packet: Packet, leaf: Leaf) -> list[float]:
    """The plane motion that lays a leaf into the pack, as shapely wants it."""
    flat = packet.plan.pack.flats[leaf.mark]
    (ox, oy), (ax, ay), (bx, by) = (flat.place(p) for p in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))
    return [ax - ox, bx - ox, ay - oy, by - oy, ox, oy]


def silhouettes(packet: Packet) -> Iterator[float]:
    """How high the middle of each side of the open shelter is, mm."""
    return (side.centroid.y for side in sides(packet))


def sides(packet: Packet, square: bool = True) -> Iterator[shapely.Geometry]:
    """The open shelter as the wind sees it: shadows of all boards, hulls of their triangles, joined; mm. From every 15
    degrees, as the sheet says, and `square` to each side of the hull of the feet, of either face."""
    leaves = packet.plan.assembly.leaves
    solids = [[_corners(leaf, triangle) for triangle in _triangles(leaf)] for leaf in leaves]
    angles = {float(turn) for turn in range(0, 180, 15)}
    for depth in (0, 1) if square else ():
        feet = [leaf.open_pose.place(p, depth * leaf.thickness) for leaf in leaves for p in leaf.hinged]
        hull = shapely.MultiPoint([(x, y) for x, y, z in feet if z < 0.5]).convex_hull
        corners = list(hull.exterior.coords) if isinstance(hull, shapely.Polygon) else []
        angles |= {math.degrees(math.atan2(bx - ax, ay - by)) % 180
                   for (ax, ay), (bx, by) in itertools.pairwise(corners)}
    for angle in angles:
        right = np.array([-math.sin(math.radians(angle)), math.cos(math.radians(angle)), 0.0])
        shadows = [shapely.MultiPoint(np.column_stack([body @ right, body[:, 2]])).convex_hull
                   for solid in solids for body in solid]
        yield shapely.unary_union(shadows)


def _triangles(leaf: Leaf) -> list[shapely.Polygon]:
    """A leaf in convex pieces."""
    outline = shapely.Polygon(leaf.outline)
    if outline.convex_hull.area - outline.area < 1e-6 * outline.area:
        return [outline]
    return [piece for piece in shapely.delaunay_triangles(outline).geoms if outline.contains(piece.representative_point())]


def _corners(leaf: Leaf, piece: shapely.Polygon) -> NDArray[np.float64]:
    """The corners of a piece of a board, on both faces."""
    return np.array([leaf.open_pose.place(p, depth) for p in piece.exterior.coords[:-1] for depth in (0.0, leaf.thickness)])


def opening(packet: Packet) -> Iterator[float]:
    """By how much a hip misses itself at most while the corners open evenly.

    A star of 2 n equal sides about the axis: the walls' pivots lie on the inner face at the corners and on the outer one at
    the mid lines, so that a side is the diagonal of a leaf's section and leans from it by atan(t / w). With the corners at
    an angle c, the law of sines in the triangle of axis, mid line and corner gives how far out a corner stands; the law of
    cosines, over the leaf's width, where the inner mid edge stands. From there the roof's mid edge reaches the axis, and
    what lies between that point and the corner is the hip.
    """
    ring = packet.plan.ring
    if ring is None:
        return
    n, w, t = ring.walls, ring.leaf_width, ring.thickness
    even, lean = 2 * math.pi / n, math.atan2(t, w)
    missed = []
    for part in FRACTIONS:
        corner = part * (math.pi - even)
        out = math.hypot(w, t) * math.sin((corner + even) / 2 + lean) / math.sin(math.pi / n)
        middle = math.sqrt(out**2 + w**2 - 2 * out * w * math.cos(corner / 2))
        tall = math.sqrt(max(ring.slant**2 - middle**2, 0.0))
        missed.append(abs(math.hypot(out, tall) - math.hypot(w, ring.slant)))
    yield max(missed)




STEP = 1e-3
"""mm and radians by which things are moved to see what follows."""


def closing(packet: Packet) -> tuple[float, float]:
    """What cutting errors leave open, by the project's limits of marking and cutting."""
    limits = packet.plan.description.limits
    return _closing(packet.plan.assembly, limits.mark, limits.cut)


@lru_cache(maxsize=2)  # a project's papers are tested one after another
def _closing(assembly: Assembly, mark: float, cut: float) -> tuple[float, float]:
    """What is left open at the worst seam, mm, when every end of every edge may be off by the limits of marking and cutting:
    by root sum of squares, and if all add up.

    Leaves are moved and edges shifted a little, one after another, and what the ends of the seams do is read off; what
    motions cannot take up of each shift is what least squares leave. The worst case adds up both directions square to a seam
    apart and joins them at a right angle.
    """
    seams = assembly.seams

    def ends(leaf: Leaf, outline: Sequence[Point]) -> dict[tuple[int, int, int], NDArray[np.float64]]:
        """Where a leaf's corners at its seams stand: by seam, end and side of the seam."""
        found = {}
        for number, seam in enumerate(seams):
            for side, edge in enumerate((seam.edge_a, seam.edge_b)):
                if seam.leaves[side] == leaf.mark:
                    for end, corner in enumerate(edge):
                        index = min(range(len(outline)), key=lambda i: math.dist(leaf.hinged[i], corner))
                        depth = leaf.depth(seam.closing_face)
                        found[number, end, side] = np.array(leaf.open_pose.place(outline[index], depth))
        return found

    square = []
    for seam in seams:
        first = assembly.by_mark[seam.leaves[0]]
        a, b = (np.array(first.open_pose.place(p)) for p in seam.edge_a)
        out = np.array(first.open_pose.z)
        within = np.cross((b - a) / np.linalg.norm(b - a), out)
        square.append(np.array([within, out]))

    def column(before: Ends, after: Ends) -> NDArray[np.float64]:
        """By how much each seam end opens, in both directions square to it, per mm or radian."""
        opened = np.zeros((len(seams), 2, 2))
        for (number, end, side), place in after.items():
            opened[number, end] += (1 - 2 * side) * square[number] @ (place - before[number, end, side]) / STEP
        return opened.reshape(-1)

    moved, shifted = [], []
    for leaf in assembly.leaves:
        still = ends(leaf, leaf.hinged)
        middle = np.mean(list(still.values()), axis=0) if still else np.zeros(3)
        for axis in np.eye(3):
            moved.append(column(still, {key: place + STEP * axis for key, place in still.items()}))
            turned = {key: place + np.cross(STEP / 1000 * axis, place - middle) for key, place in still.items()}
            moved.append(column(still, turned))
        for edge in range(len(leaf.hinged)):
            for corner in (edge, (edge + 1) % len(leaf.hinged)):
                shifted.append(column(still, ends(leaf, _shifted(leaf.hinged, edge, corner))))
    motions, errors = np.array(moved).T, np.array(shifted).T
    left = errors - motions @ np.linalg.lstsq(motions, errors, rcond=1e-9)[0]
    gaps = left.reshape(len(seams) * 2, 2, -1)
    worst = np.hypot(*np.abs(gaps).sum(axis=2).T).max() * (mark + cut)
    return float(np.sqrt((gaps**2).sum(axis=(1, 2))).max() * math.hypot(mark, cut)), float(worst)


def _shifted(outline: Sequence[Point], edge: int, corner: int) -> list[Point]:
    """The outline with one corner where it comes to lie when the line of an edge is a step too far out there."""
    count = len(outline)
    other = (corner - 1) % count if corner == edge else corner  # the other edge that meets it there
    (ax, ay), (bx, by) = outline[edge], outline[(edge + 1) % count]
    long = math.hypot(bx - ax, by - ay)
    nx, ny = (by - ay) / long * STEP, (ax - bx) / long * STEP
    line = ((ax + nx, ay + ny), (bx + nx, by + ny))
    crossed = _crossing(line, (outline[other], outline[(other + 1) % count]))
    return [crossed if index == corner else point for index, point in enumerate(outline)]


def _crossing(first: tuple[Point, Point], second: tuple[Point, Point]) -> Point:
    """Where two lines cross."""
    (ax, ay), (bx, by) = first
    (cx, cy), (dx, dy) = second
    share = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / ((bx - ax) * (dy - cy) - (by - ay) * (dx - cx))
    return (ax + share * (bx - ax), ay + share * (by - ay))
