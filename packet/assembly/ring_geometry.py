"""Sizes of a regular ring with a pyramid roof, in closed form.

All lengths in mm, angles in degrees; they describe the inner faces, where corners, hips and eaves
pivot. Formulas: regular polygon (apothem w / tan(pi/n), circumradius w / sin(pi/n) for side 2 w) and
the right triangles of the gore leaf (legs w and L). Hip angle from the compound-angle relation
sin B = sin(pi/n) sin p with fold 2 B, as printed on compound mitre charts.

A ring whose leaves were trimmed at some corners is no regular polygon, but its walls still touch one circle and all
its gores keep one slope; `corner_widths` says how wide the leaves at each corner are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

_HALVINGS = 64
"""From metres to less than float64 tells apart."""


@dataclass(frozen=True, slots=True)
class RingGeometry:
    """Every figure of a ring that a sheet or a check may quote."""

    walls: int
    leaf_width: float
    wall_height: float
    slant: float
    tip_trim: float
    thickness: float
    corner_widths: tuple[float, ...] = ()
    """Of a ring with trimmed leaves: the width of the two leaves at each corner, first corner after the first wall.
    Empty where all are `leaf_width`."""

    @property
    def widths(self) -> tuple[float, ...]:
        """Width of the two leaves that meet at each corner."""
        return self.corner_widths or (self.leaf_width,) * self.walls

    @property
    def side(self) -> float:
        return 2 * self.leaf_width

    @property
    def circumradius(self) -> float:
        if self.corner_widths:
            return math.hypot(self.apothem, max(self.corner_widths))
        return self.leaf_width / math.sin(math.pi / self.walls)

    @property
    def apothem(self) -> float:
        return touched_circle(self.corner_widths) if self.corner_widths else (
            self.leaf_width / math.tan(math.pi / self.walls))

    def turn_at(self, corner: int) -> float:
        """How far the walls turn at a corner, radians: each leaf there takes half."""
        return 2 * math.atan2(self.widths[corner], self.apothem)

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
        return sum(self.widths) * self.tip_trim / self.slant * self.opening_across_flats / 2

    @property
    def floor_area(self) -> float:
        """mm2 inside the walls."""
        return sum(self.widths) * self.apothem

    @property
    def volume(self) -> float:
        """mm3 inside: prism of the walls and the full pyramid over it."""
        return self.floor_area * (self.wall_height + self.rise / 3)

    @property
    def angle_corner(self) -> float:
        """Between two walls at a corner whose leaves are `leaf_width` wide."""
        return self._corner_between(self.leaf_width) if self.corner_widths else 180.0 - 360.0 / self.walls

    def angle_corner_at(self, corner: int) -> float:
        return self._corner_between(self.widths[corner]) if self.corner_widths else self.angle_corner

    def _corner_between(self, width: float) -> float:
        return 180.0 - 2 * math.degrees(math.atan2(width, self.apothem))

    @property
    def angle_eave(self) -> float:
        return 90.0 + self.slope

    @property
    def angle_hip(self) -> float:
        return self._hip_between(self.angle_corner)

    def angle_hip_at(self, corner: int) -> float:
        return self._hip_between(self.angle_corner_at(corner))

    def _hip_between(self, corner: float) -> float:
        """The fold over a corner of that angle: half the turn of the walls takes the place of pi/n."""
        half_turn = math.radians(180.0 - corner) / 2
        return 180.0 - 2 * math.degrees(math.asin(math.sin(half_turn) * math.sin(math.radians(self.slope))))

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

    # Squareness: every roof leaf's mid edge leans by so many mm over the whole slant, away from its hip. By the law of
    # cosines its hip grows by w / hip per mm; corners stay where w and the walls hold them, so with R and hip the legs
    # and hypotenuse of the upright triangle under a hip, rise grows by hip (w / hip) / rise.

    @property
    def rise_per_squareness(self) -> float:
        """d rise / d lean of the mid edge = w / rise."""
        return self.leaf_width / self.rise

    @property
    def slope_per_leaf_width(self) -> float:
        """Degrees per mm; from cos slope = a / L: -cot(pi/n) / rise."""
        return -math.degrees(1 / math.tan(math.pi / self.walls) / self.rise)

    @property
    def slope_per_slant(self) -> float:
        """Degrees per mm; from cos slope = a / L: a / (L rise)."""
        return math.degrees(self.apothem / (self.slant * self.rise))

    @property
    def slope_per_squareness(self) -> float:
        """Degrees per mm; from sin slope = rise / L with L unchanged: w / (a rise)."""
        return math.degrees(self.leaf_width / (self.apothem * self.rise))


@lru_cache(256)  # every leaf of a ring with trimmed leaves asks for it several times
def touched_circle(widths: tuple[float, ...]) -> float:
    """Radius of the circle that all walls touch, mm; `widths` are those of the two leaves at each corner.

    From the point where a wall touches the circle to the corner is one leaf, so the walls turn there by twice
    atan(width / radius), and all turns make one round: sum of atan(width / radius) = pi. The sum falls as the
    radius grows, so halving finds the one root.
    """
    low, high = 0.0, sum(widths)  # with n >= 4 widths the sum at `high` is below pi: atan(x) < x
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if sum(math.atan2(w, middle) for w in widths) > math.pi else (low, middle)
    return (low + high) / 2


def trim_for_opening(geometry: RingGeometry, diameter: float) -> float:
    """Tip trim that lets a round duct of that diameter pass the inner opening, mm."""
    return diameter / 2 * geometry.slant / geometry.apothem
