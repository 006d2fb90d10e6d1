"""What is wrong with a piece, and what of it is still good."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from packet.assembly.records import Leaf, Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

FAR = 1e5
"""mm; beyond any leaf."""


@dataclass(frozen=True, slots=True)
class Damage:
    """Actual sizes of a piece as it was measured, mm; what is None is as it should be.

    `width` is measured from the mid edge (or the left edge, seen on the printed face), `height` from the eave, the sill or
    the bottom. `shaved` is an edge of the leaf and how far it lies inside its line. `skew` is the difference of
    the piece's two diagonals. `hole` is a centre (across from the mid or left edge, up) and a diameter.
    """

    width: float | None = None
    height: float | None = None
    shaved: tuple[str, float] | None = None
    skew: float | None = None
    hole: tuple[float, float, float] | None = None
    wrong_hand: bool = False
    lost: bool = False


@dataclass(frozen=True, slots=True)
class Loss:
    """A straight strip that a piece lacks along one edge: how wide, and what the two edges beside it lose.

    `tapers` where the loss was measured at one end of a slanting edge and the other end may be whole.
    """

    edge: str
    by: float
    beside: tuple[tuple[str, float], ...]
    tapers: bool = False


def sound(leaf: Leaf, damage: Damage) -> BaseGeometry | None:
    """The part of the piece that can be used, in the leaf's frame before any trim; None where there is none."""
    from shapely import Point as Place
    from shapely import Polygon, box
    from shapely.affinity import scale

    if damage.lost:
        return None
    good: BaseGeometry = Polygon(leaf.rough)
    x0, y0, x1, y1 = good.bounds
    if damage.wrong_hand:
        good = scale(good, -1.0, 1.0, origin=(0.0, 0.0))
    sign = leaf.hand.sign if "mid" in leaf.edges else 1
    start = (x0 if sign > 0 else x1) if "mid" not in leaf.edges else 0.0
    if damage.width is not None:
        reach = start + sign * damage.width
        good = good.intersection(box(min(start, reach), -FAR, max(start, reach), FAR))
    if damage.height is not None:
        good = good.intersection(box(-FAR, y0, FAR, y0 + damage.height))
    if damage.shaved is not None:
        good = good.intersection(_inside(*leaf.edge(damage.shaved[0]), damage.shaved[1]))
    if damage.skew is not None:
        good = good.intersection(_leaning(x0, y0, x1, y1, sign, lean(x1 - x0, y1 - y0, damage.skew)))
    if damage.hole is not None:
        across, up, diameter = damage.hole
        good = good.difference(Place(start + sign * across, y0 + up).buffer(diameter / 2))
    return good


def turned(leaf: Leaf) -> tuple[Point, ...]:
    """The leaf's outline as it comes out when it is cut as the other hand, counter-clockwise."""
    return tuple((-x, y) for x, y in reversed(leaf.hinged))


def lean(width: float, height: float, skew: float) -> float:
    """How far the top of a piece is shifted over its height, mm, from the difference of its diagonals.

    In a parallelogram d1^2 - d2^2 = 4 W e, and d1 + d2 is close to twice the diagonal of the rectangle.
    """
    return skew * math.hypot(width, height) / (2 * width)


def losses(leaf: Leaf, damage: Damage) -> Iterator[Loss]:
    """Where the piece merely lacks a straight strip along one edge, that strip; other damage gives none."""
    if damage.lost or damage.wrong_hand or damage.hole is not None or damage.skew is not None:
        return
    ys, xs = [y for _, y in leaf.rough], [abs(x) for x, _ in leaf.rough]
    if damage.width is not None and damage.width < max(xs) - min(xs):
        # The width of a roof leaf is lost where the hip meets the eave; what lies along the hip is less.
        side = next(name for name in ("corner", "hip", "right", leaf.edges[1 % len(leaf.edges)]) if name in leaf.edges)
        by = (max(xs) - min(xs) - damage.width) * _slant(leaf, side)
        yield Loss(side, by, _beside(leaf, side, by), _slant(leaf, side) < 1.0 - 1e-9)
    if damage.height is not None and damage.height < max(ys) - min(ys):
        top = next(name for name in ("eave", "tip", "top", leaf.edges[2 % len(leaf.edges)]) if name in leaf.edges)
        if "tip" in leaf.edges:
            top = "tip"
        by = max(ys) - min(ys) - damage.height
        yield Loss(top, by, ())
    if damage.shaved is not None:
        yield Loss(*damage.shaved, _beside(leaf, *damage.shaved))


def _slant(leaf: Leaf, edge: str) -> float:
    """How much of a loss along x lies square to an edge: the sine of the edge's angle with x."""
    a, b = leaf.edge(edge)
    return abs(b[1] - a[1]) / math.dist(a, b)


def _beside(leaf: Leaf, edge: str, by: float) -> tuple[tuple[str, float], ...]:
    """What the neighbours of an edge lose, along themselves, when it moves in by `by`: by over the sine between them.

    Neighbours are those of the leaf before its trims: a hip runs from the eave to the mid edge, whatever the tip.
    """
    a, b = leaf.edge(edge)
    found = []
    for name in leaf.edges:
        p, q = leaf.edge(name)
        if name in (edge, "tip"):
            continue
        length = math.dist(a, b) * math.dist(p, q)
        sine = abs((b[0] - a[0]) * (q[1] - p[1]) - (b[1] - a[1]) * (q[0] - p[0])) / length
        if sine > 1e-6:
            found.append((name, by / sine))
    return tuple(found)


def _inside(a: Point, b: Point, by: float) -> BaseGeometry:
    """The half plane left of a -> b, moved inward by `by`."""
    from shapely import Polygon

    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    px, py = a[0] - by * uy, a[1] + by * ux
    return Polygon([(px - FAR * ux, py - FAR * uy), (px + FAR * ux, py + FAR * uy),
                    (px + FAR * (ux - uy), py + FAR * (uy + ux)), (px - FAR * (ux + uy), py - FAR * (uy - ux))])


def _leaning(x0: float, y0: float, x1: float, y1: float, sign: int, by: float) -> BaseGeometry:
    """The rectangle with its far upright leaning in by `by` at the top; the mid edge is kept straight."""
    from shapely import Polygon

    if sign > 0:
        return Polygon([(x0, y0), (x1, y0), (x1 - by, y1), (x0, y1)])
    return Polygon([(x0, y0), (x1, y0), (x1, y1), (x0 + by, y1)])


def needed(leaf: Leaf) -> tuple[Point, ...]:
    """The outline that a piece must hold to become this leaf: a door only what stays after its trim."""
    return leaf.outline if leaf.door else leaf.hinged


def body(leaf: Leaf) -> BaseGeometry:
    """What a piece must hold to become this leaf: its outline less the holes and openings that are cut in any case."""
    from shapely import Point as Place
    from shapely import Polygon, box

    shape: BaseGeometry = Polygon(needed(leaf))
    for hole in leaf.holes:
        shape = shape.difference(Place(hole.x, hole.y).buffer(hole.diameter / 2))
    for one in leaf.openings:
        half = (one.width / 2, one.height / 2)
        shape = shape.difference(Place(one.x, one.y).buffer(half[0]) if one.round else
                                 box(one.x - half[0], one.y - half[1], one.x + half[0], one.y + half[1]))
    return shape


def fits(leaf: Leaf, good: BaseGeometry, within: float) -> bool:
    """Whether the leaf lies in what is good, its own way up or turned half round, missing no more than `within` mm
    across in all.

    The printed face stays where it is: a piece is turned on the table, never turned over.
    """
    from shapely.affinity import rotate, translate

    if good.is_empty:
        return False
    room = good.buffer(within / 2, join_style="mitre").buffer(1e-6)
    left, bottom, right, top = room.bounds
    for turn in (0.0, 180.0):
        shape = rotate(body(leaf), turn, origin=(0.0, 0.0))
        x0, y0, x1, y1 = shape.bounds
        ways = {(dx, dy) for dx in (0.0, left - x0, right - x1, (left + right - x0 - x1) / 2)
                for dy in (0.0, bottom - y0, top - y1, (bottom + top - y0 - y1) / 2)}
        if any(room.contains(translate(shape, dx, dy)) for dx, dy in sorted(ways)):
            return True
    return False
