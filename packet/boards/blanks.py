"""From leaves to rectangular blanks: what is cut square first and then, on its diagonal, in two.

Two roof leaves of one hand fill one rectangle, the second turned half round. The opposite hand needs
the opposite diagonal, so rectangles of alternating hand side by side give the zigzag.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from packet.assembly.records import Assembly, Hand, Leaf, LeafKind, Point, polygon_area

FILLS = 0.999
"""Share of its rectangle from which a leaf counts as the rectangle itself."""


@dataclass(frozen=True, slots=True)
class Blank:
    """A rectangle `width` by `height` mm (leaf's x and y) and the one or two leaves in it; `copies` are the numbers
    of their shelters, 0 where there is one."""

    width: float
    height: float
    leaves: tuple[Leaf, ...]
    copies: tuple[int, ...]

    def place(self, point: Point, turned: bool) -> Point:
        """A leaf's point in the blank, origin at the blank's lower left corner, eave or sill below."""
        xs = [p[0] for p in self.leaves[0].rough]
        ys = [p[1] for p in self.leaves[0].rough]
        if turned:
            return (max(xs) - point[0], max(ys) - point[1])
        return (point[0] - min(xs), point[1] - min(ys))


SERIES = 4
"""From so many shelters on, leaves of one mark are cut together, so that boards come out alike."""


def blanks(assembly: Assembly, quantity: int = 1) -> tuple[Blank, ...]:
    """Every leaf of so many shelters in one blank, walls before roofs; leaves that pair in a rectangle share it.

    Neighbouring blanks of one size alternate in hand as far as the counts allow.
    """
    shelters = range(1, quantity + 1) if quantity > 1 else (0,)
    parts = [(leaf, copy) for copy in shelters for leaf in assembly.leaves]
    if quantity >= SERIES:
        parts = [(leaf, copy) for leaf in assembly.leaves for copy in shelters]
    groups: dict[tuple[LeafKind, float, float, Hand | None], list[tuple[Leaf, int]]] = {}
    for leaf, copy in parts:
        # A rectangle has no hand; anything else pairs only with its own hand.
        key = (leaf.kind, *rough_size(leaf), None if is_rectangle(leaf) else leaf.hand)
        groups.setdefault(key, []).append((leaf, copy))
    found: dict[tuple[LeafKind, float, float], list[list[Blank]]] = {}
    for (kind, width, height, _), group in groups.items():
        each = 2 if pairs(group[0][0]) else 1
        rows = [Blank(width, height, *zip(*group[i:i + each], strict=True)) for i in range(0, len(group), each)]
        found.setdefault((kind, width, height), []).append(rows)
    return tuple(blank for rows in found.values() for blank in _alternate(rows))


def _alternate(rows: list[list[Blank]]) -> list[Blank]:
    longest = max(len(row) for row in rows)
    return [row[i] for i in range(longest) for row in rows if i < len(row)]


def rough_size(leaf: Leaf) -> tuple[float, float]:
    """Width and height of the rectangle round a leaf before its trims, mm."""
    return _size(leaf.rough)


# Fitting leaves to boards asks for the same few outlines thousands of times.
@lru_cache(1024)
def _size(rough: tuple[Point, ...]) -> tuple[float, float]:
    xs = [p[0] for p in rough]
    ys = [p[1] for p in rough]
    return (round(max(xs) - min(xs), 6), round(max(ys) - min(ys), 6))


def is_rectangle(leaf: Leaf) -> bool:
    """Whether a leaf before its trims fills the rectangle round it, so that it has no hand on a board."""
    return _fills(leaf.rough)


@lru_cache(1024)
def _fills(rough: tuple[Point, ...]) -> bool:
    width, height = _size(rough)
    return abs(polygon_area(rough)) >= FILLS * width * height


def pairs(leaf: Leaf) -> bool:
    """Whether a second leaf, turned half round, fits beside the first in the same rectangle."""
    return not is_rectangle(leaf) and _pairs(leaf.rough)


@lru_cache(1024)
def _pairs(rough: tuple[Point, ...]) -> bool:
    from shapely import Polygon
    from shapely.affinity import rotate

    shape = Polygon(rough)
    x0, y0, x1, y1 = shape.bounds
    turned = rotate(shape, 180, origin=((x0 + x1) / 2, (y0 + y1) / 2))
    return bool(shape.intersection(turned, grid_size=1e-3).area < 1e-6 * math.prod(_size(rough)))
