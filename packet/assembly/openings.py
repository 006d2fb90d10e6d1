"""Openings cut through leaves: windows, vents, cable sleeves, unit ports.

An opening must stay clear of the tape: one land from every edge of its leaf and from every other opening and
hole. Where it does not, the nearest place that would do is worked out. Lengths in mm, places in the leaf's frame.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from packet.assembly.records import Assembly, Leaf, Opening, Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

CLEAR = 0.2
"""mm by which an opening may miss its clearance: far below what a knife can do, above the rounding of advice."""


@dataclass(frozen=True, slots=True)
class Misplaced:
    """An opening that does not stay clear: its number in the list, and the nearest that would.

    `better` has the same size and the nearest clear centre, or, where there is none, the largest size of the same
    proportions that has one; None where the leaf has no clear place at all.
    """

    number: int
    leaf: str
    opening: Opening
    better: Opening | None


def with_openings(assembly: Assembly, wanted: tuple[tuple[str, Opening], ...], land: float,
                  round_down: Callable[[float], float]) -> tuple[Assembly, tuple[Misplaced, ...]]:
    """The assembly with these openings in its leaves, and those that do not stay clear. Leaf marks must exist.

    Sizes that are advised are rounded by `round_down`.
    """
    placed: dict[str, list[Opening]] = {}
    wrong = []
    for number, (mark, opening) in enumerate(wanted):
        leaf = assembly.by_mark[mark]
        before = placed.setdefault(mark, [])
        room = _room(leaf, opening, tuple(before), land)
        if not _inside(room, (opening.x, opening.y)):
            wrong.append(Misplaced(number, mark, opening, _better(leaf, opening, tuple(before), land, round_down)))
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


def _better(leaf: Leaf, opening: Opening, others: tuple[Opening, ...], land: float,
            round_down: Callable[[float], float]) -> Opening | None:
    from shapely import Point as ShapelyPoint
    from shapely.ops import nearest_points

    low, high = 0.0, 1.0
    fitting = opening
    room = _room(leaf, opening, others, land)
    if room.is_empty:
        for _ in range(40):
            share = (low + high) / 2
            empty = _room(leaf, _scaled(opening, share), others, land).is_empty
            low, high = (low, share) if empty else (share, high)
        scaled = _scaled(opening, low)
        fitting = replace(opening, width=round_down(scaled.width), height=round_down(scaled.height))
        room = _room(leaf, fitting, others, land)
    if room.is_empty or min(fitting.width, fitting.height) <= 0:
        return None
    found = nearest_points(room, ShapelyPoint(opening.x, opening.y))[0]
    return replace(fitting, x=float(found.x), y=float(found.y))


def _scaled(opening: Opening, share: float) -> Opening:
    return replace(opening, width=opening.width * share, height=opening.height * share)
