"""Mass and centre of mass of every leaf with its tape, and of any set of leaves. kg; centres in m, as it stands open."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from packet.assembly.records import Leaf, Point, Point3, polygon_area
from packet.plan import Plan
from packet.tape.strips import STRAPPING

MM2 = 1e-6
MM3 = 1e-9


@dataclass(frozen=True, slots=True)
class LeafMass:
    """One leaf: its board, the tape on it, and where the middle of both is when the shelter stands."""

    mark: str
    board: float
    tape: float
    centre: Point3

    @property
    def mass(self) -> float:
        return self.board + self.tape


def leaf_masses(plan: Plan) -> tuple[LeafMass, ...]:
    """Every leaf in the plan's order. A strip's mass is shared out evenly among the leaves it lies on; tape counts
    at the middle of its leaf."""
    tape = dict.fromkeys(plan.assembly.by_mark, 0.0)
    site = plan.description.site
    for strip in plan.strips:
        by_area = site.strapping_mass if strip.role in STRAPPING else site.foil_mass
        for mark in strip.leaves:
            tape[mark] += by_area * sum(strip.tapes) * strip.length * MM2 / len(strip.leaves)
    density = plan.description.assume.density
    found = []
    for leaf in plan.assembly.leaves:
        area, (x, y) = _middle(leaf)
        centre = leaf.open_pose.place((x, y), leaf.thickness / 2)
        found.append(LeafMass(leaf.mark, area * leaf.thickness * MM3 * density, tape[leaf.mark],
                              (centre[0] / 1000, centre[1] / 1000, centre[2] / 1000)))
    return tuple(found)


def total(masses: Iterable[LeafMass]) -> tuple[float, Point3]:
    """Mass of all of them and their common centre."""
    listed = tuple(masses)
    mass = sum(each.mass for each in listed)
    x, y, z = (sum(each.mass * each.centre[axis] for each in listed) / mass for axis in range(3))
    return mass, (x, y, z)


def packed_centre(plan: Plan, masses: Iterable[LeafMass]) -> Point3:
    """Centre of mass (mm) of leaves as they lie in the pack: from the side with the least x, from the end that the lowest
    leaf's bottom edge points to, and above the ground; tape counts at the middle of its leaf."""
    flats, by_mark = plan.pack.flats, plan.assembly.by_mark
    corners = [flats[leaf.mark].place(p) for leaf in plan.assembly.leaves for p in leaf.hinged]
    left, end = min(x for x, _ in corners), min(y for _, y in corners)
    whole = x = y = z = 0.0
    for each in masses:
        flat = flats[each.mark]
        along, up = flat.place(_middle(by_mark[each.mark])[1])
        whole, x, y = whole + each.mass, x + each.mass * along, y + each.mass * up
        z += each.mass * (flat.layer - 0.5) * plan.assembly.thickness
    return (x / whole - left, y / whole - end, z / whole)


def _middle(leaf: Leaf) -> tuple[float, Point]:
    """Area of the finished leaf less its openings (mm2), and the centroid of what is left."""
    parts = [(polygon_area(leaf.outline), *_centroid(leaf.outline))]
    sign = 1.0 if parts[0][0] > 0 else -1.0
    parts += [(-sign * opening.area, opening.x, opening.y) for opening in leaf.openings]
    area = sum(part[0] for part in parts)
    return abs(area), (sum(a * x for a, x, _ in parts) / area, sum(a * y for a, _, y in parts) / area)


def _centroid(points: tuple[Point, ...]) -> Point:
    """Centroid of a polygon by the shoelace formula."""
    x = y = 0.0
    for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True):
        cross = ax * by - bx * ay
        x, y = x + (ax + bx) * cross, y + (ay + by) * cross
    area = 6 * polygon_area(points)
    return (x / area, y / area)
