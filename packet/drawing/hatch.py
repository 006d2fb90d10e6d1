"""Textures clipped to a polygon: parallel lines and dots."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from packet.drawing.marks import Circle, Drawing, Line, Point
from packet.drawing.pens import HATCH, Pen


def hatch(polygon: Sequence[Point], spacing: float, angle: float = 45.0, pen: Pen = HATCH) -> Drawing:
    """Parallel lines `spacing` mm apart at `angle` degrees, clipped to a polygon.

    The lines lie on a grid through the page origin, so that neighbouring areas match.
    """
    radians = math.radians(angle)
    along, across = (math.cos(radians), math.sin(radians)), (-math.sin(radians), math.cos(radians))
    offsets = [x * across[0] + y * across[1] for x, y in polygon]
    runs = [x * along[0] + y * along[1] for x, y in polygon]
    sides = [*pairwise(zip((*offsets, offsets[0]), (*runs, runs[0]), strict=True))]
    lines: list[Line] = []
    for row in range(math.ceil(min(offsets) / spacing), math.floor(max(offsets) / spacing) + 1):
        level = row * spacing
        # A side counts from its lower end up to, but not with, its upper: so a line enters and leaves by turns.
        crossings = sorted(start + (level - low) / (high - low) * (stop - start)
                           for (low, start), (high, stop) in sides if (low > level) != (high > level))
        lines += [Line(_at(along, across, enter, level), _at(along, across, leave, level), pen)
                  for enter, leave in zip(crossings[::2], crossings[1::2], strict=True) if leave - enter > 1e-6]
    return tuple(lines)


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
