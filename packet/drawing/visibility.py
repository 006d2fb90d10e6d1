"""What hides what: the intervals of edges and the parts of faces that stand behind convex faces.

Everything is in picture axes: x to the right, y up, z toward the viewer, in model mm. All pairs that may meet are worked
out at once, in arrays; only areas that are cut from one another go through shapely, many in a call.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from heapq import heapify, heappop, heappush
from typing import TYPE_CHECKING, Any

from packet.drawing.marks import Point

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]
    Bools = npt.NDArray[np.bool_]
    Numbers = npt.NDArray[np.intp]

_NEAR = 1e-3  # mm of depth under which two things lie level
# mm an edge may lie outside a face's outline and still be hidden by it: one that runs exactly behind an
# outline, or behind the joint of two faces, is hidden by the line drawn there.
_RIM = 1e-4
_SPECK = 0.05  # mm: shorter pieces, seen or hidden, are what these tolerances leave over
_GRID = 1e-6  # mm
_TOUCH = 1e-9  # mm by which areas may overlap that only touch


@dataclass(frozen=True, slots=True, eq=False)
class Faces:
    """Convex faces as arrays, none seen exactly on edge, all with as many corners as the one with most (one of a face's
    own stands again for those it lacks).

    corners: (faces, corners, 3), counter-clockwise on the picture. inward, level: of every side the unit vector into the
    face and its dot product with the points of the side; a side without length has level -inf, so that all points are
    inside it. plane: c, a, b of the depth c + ax + by. low, high: the box on the picture and in depth.
    """

    corners: Floats
    inward: Floats
    level: Floats
    plane: Floats
    low: Floats
    high: Floats

    def only(self, which: Bools) -> Faces:
        """Some of them."""
        return Faces(self.corners[which], self.inward[which], self.level[which], self.plane[which], self.low[which],
                     self.high[which])


def as_faces(corners: Floats, normals: Floats) -> Faces:
    """The faces of these corners and unit normals."""
    import numpy as np

    corners = np.where(normals[:, 2, None, None] > 0, corners, corners[:, ::-1])
    sides = np.roll(corners[:, :, :2], -1, axis=1) - corners[:, :, :2]
    lengths = np.hypot(sides[:, :, 0], sides[:, :, 1])
    none = lengths <= 1e-9
    lengths[none] = 1.0
    inward = np.stack([-sides[:, :, 1], sides[:, :, 0]], axis=2) / lengths[:, :, None]
    inward[none] = 0.0
    level = np.einsum("fki,fki->fk", inward, corners[:, :, :2])
    level[none] = -np.inf
    through = np.einsum("fi,fi->f", normals, corners[:, 0])
    plane = np.stack([through, -normals[:, 0], -normals[:, 1]], axis=1) / normals[:, 2, None]
    return Faces(corners, inward, level, plane, corners.min(axis=1), corners.max(axis=1))


def hidden_intervals(ends: Floats, faces: Faces) -> list[list[tuple[float, float]]]:
    """For each edge (its two ends) the parameter intervals in which some face hides it."""
    import numpy as np

    covered: list[list[tuple[float, float]]] = [[] for _ in ends]
    if not len(ends) or not len(faces.corners):
        return covered
    edges, hiders = _may_hide(ends, faces)
    x, y, z = ends[edges, 0].T
    dx, dy, dz = (ends[:, 1] - ends[:, 0])[edges].T
    low, high = np.zeros(len(edges)), np.ones(len(edges))

    def keep(value: Floats, slope: Floats) -> None:
        """What lies on the positive side of value + slope t."""
        flat = np.abs(slope) < 1e-12
        crossing = -value / np.where(flat, 1.0, slope)
        np.maximum(low, crossing, out=low, where=~flat & (slope > 0))
        np.minimum(high, crossing, out=high, where=~flat & (slope < 0))
        high[flat & (value <= 0)] = -1.0

    # Half-planes of the face's outline, then its depth: the edge must lie behind by more than _NEAR.
    for side in range(faces.corners.shape[1]):
        across, up = faces.inward[hiders, side].T
        keep(x * across + y * up - (faces.level[hiders, side] - _RIM), dx * across + dy * up)
    c, a, b = faces.plane[hiders].T
    keep(c + a * x + b * y - z - _NEAR, a * dx + b * dy - dz)
    met = high - low > 1e-9
    for edge, start, stop in zip(edges[met].tolist(), low[met].tolist(), high[met].tolist(), strict=True):
        covered[edge].append((start, stop))
    return covered


def _may_hide(ends: Floats, faces: Faces) -> tuple[Numbers, Numbers]:
    """The pairs of edge and face whose boxes meet, the face not wholly behind the edge."""
    import numpy as np

    low, high = ends.min(axis=1), ends.max(axis=1)
    # Within the rim round a steep face its plane runs on, a little nearer than its nearest corner.
    nearest = faces.high[:, 2] + 2 * _RIM * np.abs(faces.plane[:, 1:]).sum(axis=1)
    may = low[:, None, 2] < nearest
    for axis in (0, 1):
        may &= low[:, None, axis] <= faces.high[:, axis] + _RIM
        may &= high[:, None, axis] >= faces.low[:, axis] - _RIM
    edges, hiders = np.nonzero(may)
    return edges, hiders


def pieces(spans: Sequence[tuple[float, float]], length: float) -> list[tuple[float, float, bool]]:
    """The unit interval along an edge of `length` mm on the picture, cut into visible and hidden pieces
    (start, stop, hidden), in order."""
    if length <= _SPECK:
        return [(0.0, 1.0, bool(spans))]
    speck = _SPECK / length
    joined: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        before = joined[-1][1] if joined else 0.0
        start = low if low - before > speck else before
        if joined and start == before:
            joined[-1] = (joined[-1][0], max(high, before))
        else:
            joined.append((start, high))
    found: list[tuple[float, float, bool]] = []
    at = 0.0
    for low, high in joined:
        end = high if 1.0 - high > speck else 1.0
        if end - low <= speck:
            continue
        if low > at:
            found.append((at, low, False))
        found.append((low, end, True))
        at = end
    if at < 1.0:
        found.append((at, 1.0, False))
    return found


Parts = tuple[tuple[Point, ...], ...]
"""Polygons of a face."""


def visible_parts(faces: Faces, wanted: Sequence[bool]) -> list[Parts]:
    """Of each face that is wanted, all of which look at the viewer, the polygons that no other hides; none of the rest."""
    import numpy as np

    flat = _flat(faces)
    before, crossing = _before(faces)
    nested = _nested(faces)
    gone = np.zeros(len(flat), dtype=bool)
    found: list[Parts] = [()] * len(flat)
    # The nearest first: what is hidden wholly hides nothing that its hiders do not hide.
    for own in np.argsort(-faces.corners[:, :, 2].mean(axis=1), kind="stable").tolist():
        if wanted[own]:
            hides = np.nonzero(before[own] & ~gone)[0]
            hides = hides[~nested[hides[:, None], hides].any(axis=1)]
            found[own] = _cut(faces, flat, own, [*hides.tolist(), *crossing.get(own, ())])
            gone[own] = not found[own]
    return found


def painted(faces: Faces) -> list[tuple[int, Parts]]:
    """Faces that all look at the viewer, in an order in which each covers what it hides of those drawn before it: their
    numbers and polygons. A face that another covers wholly is left out; only where no order will do are faces cut."""
    import numpy as np

    rings = faces.corners[:, :, :2].tolist()
    before, crossing = _before(faces)
    before = before.copy()
    covered = (before & _nested(faces, ties=True)).any(axis=1)
    before[covered] = before[:, covered] = False
    waiting = {own: set(np.nonzero(before[:, own])[0].tolist()) for own in np.nonzero(~covered)[0].tolist()}
    cuts: dict[int, list[int | _Part]] = {own: list(parts) for own, parts in crossing.items()}
    flat = _flat(faces)
    depth = faces.corners[:, :, 2].mean(axis=1).tolist()
    ready = [(depth[own], own) for own, behind in waiting.items() if not behind]
    heapify(ready)
    found: list[tuple[int, Parts]] = []
    while waiting:
        if not ready:
            # They hide one another in a ring: the farthest is drawn, and cut out of those that should have come first.
            _, own = min((depth[own], own) for own in waiting)
            for behind in waiting[own]:
                cuts.setdefault(behind, []).append(own)
        else:
            _, own = heappop(ready)
        del waiting[own]
        found.append((own, _cut(faces, flat, own, cuts[own]) if own in cuts else (_ring(rings[own]),)))
        for front in np.nonzero(before[own])[0].tolist():
            if front in waiting:
                waiting[front].discard(own)
                if not waiting[front]:
                    heappush(ready, (depth[front], front))
    return found


_Part = tuple[int, "Floats"]
"""A face before another in a part only, and its lead on that one: c, a, b of c + ax + by."""


def _flat(faces: Faces) -> Any:
    import shapely

    return shapely.polygons(faces.corners[:, :, :2])


def _cut(faces: Faces, flat: Any, own: int, hiding: Sequence[int | _Part]) -> Parts:
    """What others leave of a face, in polygons without holes."""
    if not hiding:
        return (_ring(faces.corners[own, :, :2].tolist()),)
    # One cut: made one after the other, cuts that share an edge can come out wrong.
    return _polygons(_without(flat[own], [
        flat[each] if isinstance(each, int) else _nearer_part(faces.corners[each[0]], each[1]) for each in hiding]))


def _ring(corners: Sequence[Sequence[float]]) -> tuple[Point, ...]:
    """The corners of a face without those that stand again."""
    ring = [(x, y) for x, y in corners]
    return tuple([point for place, point in enumerate(ring) if point != ring[place - 1]])


def _without(face: Any, hiding: Sequence[Any]) -> Any:
    """A face less all that hides it."""
    import shapely

    try:
        return shapely.difference(face, shapely.union_all(hiding))
    except shapely.errors.GEOSException:
        # Edges that all but coincide, as in a tall pack, can defeat the overlay at full precision; on a grid it holds.
        return shapely.difference(face, shapely.union_all(hiding, grid_size=_GRID), grid_size=_GRID)


def _polygons(visible: Any) -> tuple[tuple[Point, ...], ...]:
    """The corners of an area, in polygons without holes."""
    import shapely

    return tuple(
        tuple([(x, y) for x, y in shapely.get_coordinates(whole).tolist()[:-1]])
        for part in shapely.get_parts(visible)
        if part.geom_type == "Polygon" and part.area > 1e-6
        for whole in _without_holes(part)
    )


@lru_cache(maxsize=8)  # what is painted and what is seen of a picture are asked for one after the other
def _before(faces: Faces) -> tuple[Bools, dict[int, list[_Part]]]:
    """Whether a face (row) has another (column) before it wherever they overlap; and for each face those that are before
    it in a part only, with the lead they have: c, a, b of c + ax + by."""
    import numpy as np

    own, other = _overlapping(faces)
    gap = faces.plane[other] - faces.plane[own]
    # How far the other stands before the own face is linear in the picture, and greatest and least at corners: of the
    # faces for a first look, of their overlap where that does not tell.
    at_own, at_other = _leads(gap, faces.corners[own]), _leads(gap, faces.corners[other])
    least = np.maximum(at_own.min(axis=1), at_other.min(axis=1))
    most = np.minimum(at_own.max(axis=1), at_other.max(axis=1))
    unsure = (most > _NEAR) & (least <= _NEAR)
    least[unsure], most[unsure] = _lead_range(faces, own[unsure], other[unsure], gap[unsure])
    leads = most > _NEAR
    whole = leads & (least >= -_NEAR)
    before = np.zeros((len(faces.corners), len(faces.corners)), dtype=bool)
    before[own[whole], other[whole]] = True
    crossing: dict[int, list[_Part]] = {}
    for index in np.nonzero(leads & ~whole)[0].tolist():
        crossing.setdefault(int(own[index]), []).append((int(other[index]), gap[index]))
    return before, crossing


def _lead_range(faces: Faces, own: Numbers, other: Numbers, gap: Floats) -> tuple[Floats, Floats]:
    """The least and greatest lead at the corners of the overlap of each pair: the corners of either that lie in the other,
    and where their sides cross."""
    import numpy as np

    least, most = np.full(len(own), np.inf), np.full(len(own), -np.inf)

    def met(leads: Floats, there: Bools) -> None:
        np.minimum(least, np.where(there, leads, np.inf).min(axis=1), out=least)
        np.maximum(most, np.where(there, leads, -np.inf).max(axis=1), out=most)

    for one, two in ((own, other), (other, own)):
        inside = np.ones((len(own), faces.corners.shape[1]), dtype=bool)
        for distances in _distances(faces, one, two):
            inside &= distances >= -_TOUCH
        met(_leads(gap, faces.corners[one]), inside)
    start, stop = faces.corners[own], np.roll(faces.corners[own], -1, axis=1)
    for side, distances in enumerate(_distances(faces, own, other)):
        a, b = distances, np.roll(distances, -1, axis=1)
        cross = (a > 0) != (b > 0)
        share = (a / np.where(cross, a - b, 1.0))[:, :, None]
        points = start + share * (stop - start)
        ends = faces.corners[other, side], np.roll(faces.corners, -1, axis=1)[other, side]
        along = ends[1] - ends[0]
        run = ((points - ends[0][:, None]) * along[:, None])[:, :, :2].sum(axis=2)
        there = cross & (run >= 0) & (run <= (along[:, :2] ** 2).sum(axis=1)[:, None])
        met(_leads(gap, points), there)
    return least, most


def _overlapping(faces: Faces) -> tuple[Numbers, Numbers]:
    """The pairs (own, other) of faces that overlap on the picture."""
    import numpy as np

    boxes = ~np.eye(len(faces.corners), dtype=bool)
    for axis in (0, 1):
        boxes &= faces.low[:, None, axis] < faces.high[:, axis] - _TOUCH
        boxes &= faces.high[:, None, axis] > faces.low[:, axis] + _TOUCH
    own, other = np.nonzero(boxes)
    # Convex areas are apart when all of one lies outside a side of the other.
    apart = np.zeros(len(own), dtype=bool)
    for one, two in ((own, other), (other, own)):
        for distances in _distances(faces, one, two):
            apart |= distances.max(axis=1) <= _TOUCH
    return own[~apart], other[~apart]


def _distances(faces: Faces, inner: Numbers, outer: Numbers) -> Iterator[Floats]:
    """For each side of the outer face of all pairs: how far inside it the corners of the inner one lie."""
    corners = faces.corners[inner]
    for side in range(faces.corners.shape[1]):
        across, up = faces.inward[outer, side].T
        yield corners[:, :, 0] * across[:, None] + corners[:, :, 1] * up[:, None] - faces.level[outer, side][:, None]


def _within(faces: Faces, inner: Numbers, outer: Numbers) -> Bools:
    """Whether all of the inner face of each pair lies within the outer one, on the picture."""
    import numpy as np

    within = np.ones(len(inner), dtype=bool)
    for distances in _distances(faces, inner, outer):
        within &= distances.min(axis=1) >= -_TOUCH
    return within


@lru_cache(maxsize=8)
def _nested(faces: Faces, ties: bool = False) -> Bools:
    """Whether a face (row) lies within another (column) on the picture; of two that are alike, the later in the earlier,
    or each in the other."""
    import numpy as np

    boxes = ~np.eye(len(faces.corners), dtype=bool)
    for axis in (0, 1):
        boxes &= faces.low[:, None, axis] >= faces.low[:, axis] - _TOUCH
        boxes &= faces.high[:, None, axis] <= faces.high[:, axis] + _TOUCH
    inner, outer = np.nonzero(boxes)
    within = _within(faces, inner, outer)
    nested = np.zeros_like(boxes)
    nested[inner[within], outer[within]] = True
    return nested if ties else nested & ~np.triu(nested & nested.T)


def _leads(gap: Floats, corners: Floats) -> Floats:
    return gap[:, :1] + gap[:, 1:2] * corners[:, :, 0] + gap[:, 2:] * corners[:, :, 1]


def _nearer_part(ring: Floats, lead: Floats) -> Any:
    """The part of a projected face in which its lead on another is positive; convex, as the face is."""
    import shapely

    g0, gx, gy = lead.tolist()
    kept: list[Point] = []
    corners = [(x, y, g0 + gx * x + gy * y) for x, y, _ in ring.tolist()]
    for (ax, ay, a), (bx, by, b) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if a >= 0:
            kept.append((ax, ay))
        if (a > 0 > b) or (a < 0 < b):
            share = a / (a - b)
            kept.append((ax + share * (bx - ax), ay + share * (by - ay)))
    return shapely.Polygon(kept)


def _without_holes(polygon: Any) -> list[Any]:
    """A polygon with holes cut through each hole into pieces without."""
    import shapely

    if not polygon.interiors:
        return [polygon]
    x = polygon.interiors[0].centroid.x
    left, bottom, right, top = polygon.bounds
    halves = (shapely.box(left - 1, bottom - 1, x, top + 1), shapely.box(x, bottom - 1, right + 1, top + 1))
    pieces = []
    for half in halves:
        for part in shapely.get_parts(polygon.intersection(half)):
            if part.geom_type == "Polygon" and part.area > 1e-9:
                pieces += _without_holes(part)
    return pieces
