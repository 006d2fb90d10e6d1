"""Sizes of a regular ring with a pyramid roof, in closed form.

All lengths in mm, angles in degrees; they describe the inner faces, where corners, hips and eaves
pivot. Formulas: regular polygon (apothem w / tan(pi/n), circumradius w / sin(pi/n) for side 2 w) and
the right triangles of the gore leaf (legs w and L). Hip angle from the compound-angle relation
sin B = sin(pi/n) sin p with fold 2 B, as printed on compound mitre charts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RingGeometry:
    """Every figure of a ring that a sheet or a check may quote."""

    walls: int
    leaf_width: float
    wall_height: float
    slant: float
    tip_trim: float
    thickness: float

    @property
    def side(self) -> float:
        return 2 * self.leaf_width

    @property
    def circumradius(self) -> float:
        return self.leaf_width / math.sin(math.pi / self.walls)

    @property
    def apothem(self) -> float:
        return self.leaf_width / math.tan(math.pi / self.walls)

    @property
    def across_corners(self) -> float:
        """Widest inside measure: corner to corner, or corner to opposite wall when n is odd."""
        return self.circumradius + (self.circumradius if self.walls % 2 == 0 else self.apothem)

    @property
    def across_flats(self) -> float:
        """Mid wall to the opposite wall, or to the opposite corner when n is odd."""
        return self.apothem + (self.apothem if self.walls % 2 == 0 else self.circumradius)

    @property
    def rise(self) -> float:
        """Height of the peak over the eave; the slant must be longer than the apothem."""
        return math.sqrt(self.slant**2 - self.apothem**2)

    @property
    def slope(self) -> float:
        """Pitch of a gore against the ground."""
        return math.degrees(math.acos(self.apothem / self.slant))

    @property
    def apex(self) -> float:
        return self.wall_height + self.rise

    @property
    def hip(self) -> float:
        """Eave corner to the untrimmed tip."""
        return math.hypot(self.leaf_width, self.slant)

    @property
    def _kept(self) -> float:
        return 1.0 - self.tip_trim / self.slant

    @property
    def hip_trimmed(self) -> float:
        return self.hip * self._kept

    @property
    def mid_trimmed(self) -> float:
        return self.slant - self.tip_trim

    @property
    def short_edge(self) -> float:
        """Edge that the tip trim leaves at the peak, square to the mid edge."""
        return self.leaf_width * self.tip_trim / self.slant

    @property
    def opening_across_corners(self) -> float:
        """Peak opening, inner faces, corner to corner (odd n: corner to opposite side)."""
        radius = self.short_edge / math.sin(math.pi / self.walls)
        return 2 * radius if self.walls % 2 == 0 else radius * (1 + math.cos(math.pi / self.walls))

    @property
    def opening_across_flats(self) -> float:
        """Largest round thing that passes: twice the opening's apothem, inner faces."""
        return 2 * self.tip_trim * self.apothem / self.slant

    @property
    def opening_across_flats_outer(self) -> float:
        """The same at the outer face: tip edges are square to the board, so they lean outward."""
        return self.opening_across_flats + 2 * self.thickness * math.sin(math.radians(self.slope))

    @property
    def opening_area(self) -> float:
        """mm2, measured in the plan of the inner tip edges."""
        return self.walls * self.short_edge * self.opening_across_flats / 2

    @property
    def floor_area(self) -> float:
        """mm2 inside the walls."""
        return self.walls * self.leaf_width * self.apothem

    @property
    def volume(self) -> float:
        """mm3 inside: prism of the walls and the full pyramid over it."""
        return self.floor_area * (self.wall_height + self.rise / 3)

    @property
    def angle_corner(self) -> float:
        return 180.0 - 360.0 / self.walls

    @property
    def angle_eave(self) -> float:
        return 90.0 + self.slope

    @property
    def angle_hip(self) -> float:
        bevel = math.asin(math.sin(math.pi / self.walls) * math.sin(math.radians(self.slope)))
        return 180.0 - 2 * math.degrees(bevel)

    @property
    def sector_hip(self) -> float:
        """Angle of the gore leaf at the eave corner, between eave and hip."""
        return math.degrees(math.atan2(self.slant, self.leaf_width))

    @property
    def wedge(self) -> float:
        """Angle between neighbouring roof leaves at a corner while the half lies flat."""
        return 180.0 - 2 * self.sector_hip

    @property
    def rise_per_leaf_width(self) -> float:
        """d rise / d leaf width = -a cot(pi/n) / rise; grows without bound near the limit."""
        return -self.apothem / math.tan(math.pi / self.walls) / self.rise

    @property
    def rise_per_slant(self) -> float:
        """d rise / d slant = L / rise."""
        return self.slant / self.rise


def trim_for_opening(geometry: RingGeometry, diameter: float) -> float:
    """Tip trim that lets a round duct of that diameter pass the inner opening, mm."""
    return diameter / 2 * geometry.slant / geometry.apothem
