"""Openings cut through leaves: windows, vents, cable sleeves, unit ports.

An opening must stay clear of the tape: one land from every edge of its leaf and from every other opening and
hole. Where it does not, the nearest place that would do is worked out. Lengths in mm, places in the leaf's frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from packet.assembly.records import Assembly, Leaf, Opening, Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

CLEAR = 1e-6
"""mm"""


@dataclass(frozen=True, slots=True)
class Misplaced:
    """An opening that does not stay clear: its number in the list, and the centre or size that would do.

    `better` is the nearest centre that fits; where none does, `most` is the largest width and height that would.
    """

    number: int
    leaf: str
    opening: Opening
    better: Point | None
    most: tuple[float, float]


def with_openings(assembly: Assembly, wanted: tuple[tuple[str, Opening], ...], land: float
                  ) -> tuple[Assembly, tuple[Misplaced, ...]]:
    """The assembly with these openings in its leaves, and those that do not stay clear. Leaf marks must exist."""
    placed: dict[str, list[Opening]] = {}
    wrong = []
    for number, (mark, opening) in enumerate(wanted):
        leaf = assembly.by_mark[mark]
        before = placed.setdefault(mark, [])
        room = _room(leaf, opening, tuple(before), land)
        if not _inside(room, (opening.x, opening.y)):
            wrong.append(Misplaced(number, mark, opening, _nearest(room, (opening.x, opening.y)),
                                   _most(leaf, opening, tuple(before), land)))
        before.append(opening)
    leaves = tuple(replace(leaf, openings=tuple(placed.get(leaf.mark, ()))) for leaf in assembly.leaves)
    return replace(assembly, leaves=leaves), tuple(wrong)


def _room(leaf: Leaf, opening: Opening, others: tuple[Opening, ...], land: float) -> BaseGeometry:
    """Where the centre may lie: the outline moved in by a land and the opening's reach, less what others take."""
    from shapely import Polygon, box

    points = leaf.outline
    room: BaseGeometry = Polygon(points)
    far = 4 * max(abs(c) for p in points for c in p) + 1.0
    for a, b in zip(points, points[1:] + points[:1], strict=True):
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        nx, ny = uy, -ux
        reach = opening.width / 2 if opening.round else abs(nx) * opening.width / 2 + abs(ny) * opening.height / 2
        d = land + reach
        p, q = (a[0] - ux * far - nx * d, a[1] - uy * far - ny * d), (b[0] + ux * far - nx * d, b[1] + uy * far - ny * d)
        room = room.intersection(Polygon([p, q, (q[0] - nx * far, q[1] - ny * far), (p[0] - nx * far, p[1] - ny * far)]))
    taken = [(o.x, o.y, o.width, o.height) for o in others]
    taken += [(h.x, h.y, h.diameter, h.diameter) for h in leaf.holes]
    for x, y, width, height in taken:
        dx, dy = (width + opening.width) / 2 + land, (height + opening.height) / 2 + land
        room = room.difference(box(x - dx, y - dy, x + dx, y + dy))
    return room


def _inside(room: BaseGeometry, point: Point) -> bool:
    from shapely import Point as ShapelyPoint

    return not room.is_empty and bool(room.distance(ShapelyPoint(point)) <= CLEAR)


def _nearest(room: BaseGeometry, point: Point) -> Point | None:
    from shapely import Point as ShapelyPoint
    from shapely.ops import nearest_points

    if room.is_empty:
        return None
    found = nearest_points(room, ShapelyPoint(point))[0]
    return (float(found.x), float(found.y))


def _most(leaf: Leaf, opening: Opening, others: tuple[Opening, ...], land: float) -> tuple[float, float]:
    """The largest opening of the same proportions that has a place somewhere on the leaf."""
    low, high = 0.0, 1.0
    for _ in range(40):
        share = (low + high) / 2
        smaller = replace(opening, width=opening.width * share, height=opening.height * share)
        low, high = (low, share) if _room(leaf, smaller, others, land).is_empty else (share, high)
    return (opening.width * low, opening.height * low)
