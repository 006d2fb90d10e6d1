"""Textures clipped to a polygon: parallel lines and dots."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packet.drawing.marks import Circle, Drawing, Line, Point
from packet.drawing.pens import HATCH, Pen


def hatch(polygon: Sequence[Point], spacing: float, angle: float = 45.0, pen: Pen = HATCH) -> Drawing:
    """Parallel lines `spacing` mm apart at `angle` degrees, clipped to a polygon.

    The lines lie on a grid through the page origin, so that neighbouring areas match.
    """
    import shapely

    area = shapely.Polygon(polygon)
    radians = math.radians(angle)
    along, across = (math.cos(radians), math.sin(radians)), (-math.sin(radians), math.cos(radians))
    offsets = [x * across[0] + y * across[1] for x, y in polygon]
    runs = [x * along[0] + y * along[1] for x, y in polygon]
    low, high = min(runs) - 1, max(runs) + 1
    first, last = math.ceil(min(offsets) / spacing), math.floor(max(offsets) / spacing)
    if last < first:
        return ()
    rows = shapely.linestrings([
        [_at(along, across, low, k * spacing), _at(along, across, high, k * spacing)] for k in range(first, last + 1)])
    parts = shapely.get_parts(shapely.intersection(area, rows))
    parts = parts[(shapely.get_type_id(parts) == shapely.GeometryType.LINESTRING) & (shapely.length(parts) > 1e-6)]
    starts, ends = (shapely.get_coordinates(shapely.get_point(parts, at)).tolist() for at in (0, -1))
    return tuple([Line((ax, ay), (bx, by), pen) for (ax, ay), (bx, by) in zip(starts, ends, strict=True)])


def dots(polygon: Sequence[Point], spacing: float, radius: float = 0.25, grey: float = 0.0) -> Drawing:
    """Dots in staggered rows `spacing` mm apart, only those that lie wholly inside the polygon."""
    import shapely

    area = shapely.Polygon(polygon).buffer(-1.5 * radius)
    if area.is_empty:
        return ()
    left, bottom, right, top = area.bounds
    pitch = spacing * math.sqrt(3) / 2
    centres = [
        ((column + (row % 2) / 2) * spacing, row * pitch)
        for row in range(math.ceil(bottom / pitch), math.floor(top / pitch) + 1)
        for column in range(math.floor(left / spacing) - 1, math.ceil(right / spacing) + 1)
    ]
    if not centres:
        return ()
    xs, ys = zip(*centres, strict=True)
    kept = shapely.contains_xy(area, xs, ys)
    return tuple(
        Circle(centre, radius, None, grey) for centre, inside in zip(centres, kept, strict=True) if inside
    )


def _at(along: Point, across: Point, run: float, offset: float) -> Point:
    return (run * along[0] + offset * across[0], run * along[1] + offset * across[1])
