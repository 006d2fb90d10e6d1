"""What hides what: the intervals of edges and the parts of faces that stand behind convex faces.

Everything is in picture axes: x to the right, y up, z toward the viewer, in model mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from packet.drawing.marks import Point, Rect

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]

Plane = tuple[float, float, float]

_NEAR = 1e-3  # mm of depth under which two things lie level
# mm an edge may lie outside a face's outline and still be hidden by it: one that runs exactly behind an
# outline, or behind the joint of two faces, is hidden by the line drawn there.
_RIM = 1e-4
_GRID = 1e-6  # mm
_SPECK = 0.05  # mm: shorter pieces, seen or hidden, are what these tolerances leave over


def hidden_intervals(
    ends: Floats, rings: Sequence[Floats], normals: Floats
) -> list[list[tuple[float, float]]]:
    """For each edge (its two ends) the parameter intervals in which some face hides it."""
    import numpy as np

    covered: list[list[tuple[float, float]]] = [[] for _ in ends]
    if not len(ends):
        return covered
    start, step = ends[:, 0, :], ends[:, 1, :] - ends[:, 0, :]
    for ring, normal in zip(rings, normals, strict=True):
        flat = ring if normal[2] > 0 else ring[::-1]
        sides = np.roll(flat, -1, axis=0) - flat
        lengths = np.hypot(sides[:, 0], sides[:, 1])
        keep = lengths > 1e-9
        inward = np.stack([-sides[keep, 1], sides[keep, 0]], axis=1) / lengths[keep, None]
        level = np.einsum("ij,ij->i", inward, flat[keep, :2]) - _RIM
        # Half-planes of the face's outline, then its depth: the edge must lie behind by more than _NEAR.
        value = start[:, :2] @ inward.T - level
        slope = step[:, :2] @ inward.T
        depth = (normal @ ring[0] - start @ normal) / normal[2] - _NEAR
        fall = -(step @ normal) / normal[2]
        value = np.concatenate([value, depth[:, None]], axis=1)
        slope = np.concatenate([slope, fall[:, None]], axis=1)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            crossing = -value / slope
        flat_rows = np.abs(slope) < 1e-12
        lower = np.where(
            flat_rows, np.where(value > 0, -np.inf, np.inf), np.where(slope > 0, crossing, -np.inf)
        )
        upper = np.where(
            flat_rows, np.where(value > 0, np.inf, -np.inf), np.where(slope < 0, crossing, np.inf)
        )
        low = np.maximum(lower.max(axis=1), 0.0)
        high = np.minimum(upper.min(axis=1), 1.0)
        for index in np.nonzero(high - low > 1e-9)[0].tolist():
            covered[index].append((float(low[index]), float(high[index])))
    return covered


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


def visible_parts(
    rings: Sequence[Floats], normals: Floats
) -> Iterator[tuple[int, tuple[tuple[Point, ...], ...]]]:
    """For each face that looks at the viewer, its number and the polygons of it that no other face hides."""
    import shapely

    front = [i for i in range(len(rings)) if normals[i, 2] > 1e-9]
    flat = [shapely.Polygon(rings[i][:, :2]) for i in front]
    planes = [_plane(rings[i], normals[i]) for i in front]
    boxes = shapely.bounds(flat).reshape(-1, 4).tolist()
    tree = shapely.STRtree(flat)
    for own, i in enumerate(front):
        hiding = []
        for other in sorted(tree.query(flat[own]).tolist()):
            if other == own:
                continue
            # A face that lies wholly behind hides nothing, and is not worth cutting.
            if _most_lead(planes[own], planes[other], boxes[own], boxes[other]) <= _NEAR:
                continue
            part = _before(flat[own], flat[other], planes[own], planes[other])
            if part is not None:
                hiding.append(part)
        visible = flat[own]
        if hiding:
            # One cut: made one after the other, cuts that share an edge can come out wrong.
            visible = _without(visible, hiding)
        yield (
            i,
            tuple(
                tuple((float(x), float(y)) for x, y in whole.exterior.coords[:-1])
                for part in shapely.get_parts(visible)
                if part.geom_type == "Polygon" and part.area > 1e-6
                for whole in _without_holes(part)
            ),
        )


def _without(face: Any, hiding: Sequence[Any]) -> Any:
    """A face less all that hides it."""
    import shapely

    try:
        return shapely.difference(face, shapely.union_all(hiding))
    except shapely.errors.GEOSException:
        # Edges that all but coincide, as in a tall pack, can defeat the overlay at full precision; on a grid it holds.
        return shapely.difference(face, shapely.union_all(hiding, grid_size=_GRID), grid_size=_GRID)


def _plane(ring: Floats, normal: Floats) -> Plane:
    """The depth of a face as c + ax + by."""
    nx, ny, nz = normal.tolist()
    return (float(normal @ ring[0]) / nz, -nx / nz, -ny / nz)


def _most_lead(own: Plane, other: Plane, one: Rect, two: Rect) -> float:
    """The most that the other face can stand before the own where their boxes overlap."""
    g0, gx, gy = other[0] - own[0], other[1] - own[1], other[2] - own[2]
    x0, y0, x1, y1 = max(one[0], two[0]), max(one[1], two[1]), min(one[2], two[2]), min(one[3], two[3])
    return g0 + max(gx * x0, gx * x1) + max(gy * y0, gy * y1)


def _before(a: Any, b: Any, own: Plane, other: Plane) -> Any:
    """The part of the overlap of two projected faces in which the other stands before the own; None for no part."""
    import shapely

    overlap = shapely.intersection(a, b)
    if overlap.area < 1e-9:
        return None
    # How far the other stands before the own face is linear in the picture.
    g0, gx, gy = (b - a for a, b in zip(own, other, strict=True))
    leads = [g0 + gx * x + gy * y for x, y in shapely.get_coordinates(overlap).tolist()]
    if max(leads) <= _NEAR:
        return None
    if min(leads) >= -_NEAR:
        return overlap
    # Keep the side of the zero line on which the lead is positive.
    size = math.hypot(gx, gy)
    ux, uy = gx / size, gy / size
    foot = (-g0 / size * ux, -g0 / size * uy)
    left, bottom, right, top = overlap.bounds
    reach = 2 * (math.hypot(right - left, top - bottom) + math.hypot(left - foot[0], bottom - foot[1]) + 1)
    half_plane = shapely.Polygon(
        [
            (foot[0] - uy * reach, foot[1] + ux * reach),
            (foot[0] + uy * reach, foot[1] - ux * reach),
            (foot[0] + uy * reach + ux * reach, foot[1] - ux * reach + uy * reach),
            (foot[0] - uy * reach + ux * reach, foot[1] + ux * reach + uy * reach),
        ]
    )
    return overlap.intersection(half_plane)


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
