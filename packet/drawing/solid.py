"""Pictorial views of solids made of convex plane faces, with hidden lines removed by computation.

Orthographic projection. Every edge is clipped exactly by every face that stands before it; every visible face
is cut by the faces before it. Nothing is rastered. Faces must not pass through one another.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache, partial
from typing import TYPE_CHECKING, NamedTuple

from packet.drawing.marks import Drawing, Line, Mark, Path, Point, Rect
from packet.drawing.pens import HIDDEN, NARROW, VISIBLE, Pen
from packet.drawing.view import View
from packet.drawing.visibility import Faces, as_faces, hidden_intervals, painted, pieces, visible_parts

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]
    Bools = npt.NDArray[np.bool_]

Point3 = tuple[float, float, float]

_SHARP = math.cos(math.radians(20))  # faces that turn by more meet in a sharp edge


class Face3(NamedTuple):
    """A convex plane face: corners in model mm, counter-clockwise seen from outside; `key` says what it
    belongs to; `grey` fixes its tone (None: lit from the upper left, before the sheet)."""

    points: tuple[Point3, ...]
    key: str = ""
    grey: float | None = None


@dataclass(frozen=True, slots=True)
class Camera:
    """Where the viewer stands: azimuth in degrees counter-clockwise from the model's x axis, elevation in
    degrees above the horizon. (-90, 0) looks along +y at a front; (-90, 90) looks down on a plan with x to
    the right."""

    azimuth: float
    elevation: float

    def axes(self) -> tuple[Point3, Point3, Point3]:
        """Unit vectors: right and up on the picture, and toward the viewer."""
        return _axes(self.azimuth, self.elevation)

    def project(self, point: Point3) -> Point:
        """A model point on the picture plane, in model mm."""
        right, up, _ = self.axes()
        return (_dot(right, point), _dot(up, point))


class Segment(NamedTuple):
    """A piece of an edge on the picture, in model mm; `bold` for outlines and sharp edges."""

    a: Point
    b: Point
    bold: bool
    hidden: bool


class Region(NamedTuple):
    """A visible piece of a face: a polygon in model mm, the key of its face, and its tone."""

    points: tuple[Point, ...]
    key: str
    grey: float


@dataclass(frozen=True)
class Picture:
    """A pictorial view in model mm on the picture plane. Its tones, and what is seen of a face, which must be cut out, are
    worked out where they are asked for."""

    segments: tuple[Segment, ...]
    paint: Callable[[], tuple[Region, ...]]
    cut: Callable[[Collection[str] | None], tuple[Region, ...]]

    @cached_property
    def fills(self) -> tuple[Region, ...]:
        """Its tones in the order in which they are drawn, each covering what it hides."""
        return self.paint()

    @cached_property
    def regions(self) -> tuple[Region, ...]:
        """All visible parts of faces, the farthest first; none for a picture without tones."""
        return self.cut(None)

    def visible(self, keys: Collection[str]) -> tuple[Region, ...]:
        """The visible parts of the faces of these keys."""
        return self.cut(keys)

    @property
    def bounds(self) -> Rect:
        """Left, bottom, right, top of the visible segments. Raises ValueError when there are none."""
        ends = [point for segment in self.segments if not segment.hidden for point in (segment.a, segment.b)]
        if not ends:
            raise ValueError("an empty picture has no bounds")
        xs, ys = [x for x, _ in ends], [y for _, y in ends]
        return (min(xs), min(ys), max(xs), max(ys))

    def drawing(
        self, view: View, fills: bool = True, hidden: bool = False, wide: Pen = VISIBLE, narrow: Pen = NARROW
    ) -> Drawing:
        """The picture on paper: tones first, then hidden lines if wanted, then visible ones."""
        marks: list[Mark] = []
        if fills:
            marks += [Path(view.points(region.points), None, region.grey) for region in self.fills]
        if hidden:
            marks += [Line(view.point(s.a), view.point(s.b), HIDDEN) for s in self.segments if s.hidden]
        for bold, pen in ((False, narrow), (True, wide)):
            marks += [
                Line(view.point(s.a), view.point(s.b), pen)
                for s in self.segments
                if not s.hidden and s.bold is bold
            ]
        return tuple(marks)


def prism(
    polygon: Sequence[Point3], normal: Point3, thickness: float, key: str = "", grey: float | None = None
) -> tuple[Face3, ...]:
    """The faces of a plate: a convex plane polygon and its copy `thickness` mm along the unit `normal`."""
    length = math.sqrt(_dot(normal, normal))
    n = tuple(value / length for value in normal)
    base = [tuple(map(float, point)) for point in polygon]
    if _dot(_newell(base), n) < 0:
        base.reverse()
    top = [tuple(p + thickness * d for p, d in zip(point, n, strict=True)) for point in base]
    rings = [tuple(top), tuple(reversed(base))]
    count = len(base)
    rings += [(base[i], base[(i + 1) % count], top[(i + 1) % count], top[i]) for i in range(count)]
    if thickness < 0:
        rings = [tuple(reversed(ring)) for ring in rings]
    return tuple(Face3(ring, key, grey) for ring in rings)  # type: ignore[arg-type]


def picture(
    faces: Iterable[Face3],
    camera: Camera,
    lines: Iterable[tuple[Point3, Point3]] = (),
    with_hidden: bool = False,
    with_regions: bool = True,
) -> Picture:
    """The view of the faces from a camera, with further `lines` that lie on them (drawn narrow).

    An edge is bold where it is an outline, ends a face that has no neighbour, or turns by more than 20
    degrees.
    Source of the method: each edge is a line in the picture whose depth is linear along it, so that the part
    behind a convex face is one interval, found from the face's half-planes and its depth.
    """
    return _picture(tuple(faces), camera, tuple(lines), with_hidden, with_regions)


@lru_cache(maxsize=32)  # several sheets show the same; a packet has fewer views than this
def _picture(solid: tuple[Face3, ...], camera: Camera, lines: tuple[tuple[Point3, Point3], ...], with_hidden: bool,
             with_regions: bool) -> Picture:
    import numpy as np

    rotation = np.array(camera.axes())
    corners = _stacked([face.points for face in solid])
    normals = _normals(corners) @ rotation.T
    towards = normals[:, 2]
    edges, bold = _edges(solid, corners, normals)
    ends = np.array([*edges, *lines], dtype=float).reshape(-1, 2, 3) @ rotation.T
    flags = [*bold, *(False for _ in lines)]
    # What is seen exactly on edge hides nothing.
    shades = np.abs(towards) > 1e-9
    hiding = as_faces((corners @ rotation.T)[shades], normals[shades])
    covered = hidden_intervals(ends, hiding)
    segments: list[Segment] = []
    for ((ax, ay, _), (bx, by, _)), flag, spans in zip(ends.tolist(), flags, covered, strict=True):
        dx, dy = bx - ax, by - ay
        for low, high, hidden in pieces(spans, math.hypot(dx, dy)):
            if (with_hidden or not hidden) and (high - low) * math.hypot(dx, dy) > 1e-6:
                segments.append(Segment((ax + low * dx, ay + low * dy), (ax + high * dx, ay + high * dy), flag, hidden))
    if not with_regions:
        return Picture(tuple(segments), tuple, _nothing)
    front = normals[shades, 2] > 0
    faces = hiding.only(front)
    whole = [Region((), solid[index].key, _tone(solid[index], normals[index]))
             for index in np.nonzero(shades)[0][front].tolist()]
    return Picture(tuple(segments), partial(_fills, faces, whole), partial(_regions, faces, whole))


def _nothing(keys: Collection[str] | None) -> tuple[Region, ...]:
    return ()


def _stacked(rings: Sequence[Sequence[Point3]]) -> Floats:
    """The corners of the faces as one array; the last corner stands again where a face has fewer than others."""
    import numpy as np

    most = max(map(len, rings), default=3)
    corners: Floats = np.array([(*ring, *(ring[-1],) * (most - len(ring))) for ring in rings], dtype=np.float64)
    return corners.reshape(-1, most, 3)


def _normals(corners: Floats) -> Floats:
    """The unit normals of plane polygons (Newell)."""
    import numpy as np

    less, more = corners - np.roll(corners, -1, axis=1), corners + np.roll(corners, -1, axis=1)
    area: Floats = (np.roll(less, -1, axis=2) * np.roll(more, -2, axis=2)).sum(axis=1)
    units: Floats = area / np.sqrt((area**2).sum(axis=1))[:, None]
    return units


def _edges(faces: Sequence[Face3], corners: Floats, normals: Floats) -> tuple[list[tuple[Point3, Point3]], list[bool]]:
    """Every edge once, and whether it is bold. Edges of one key only are joined: leaves that touch keep
    outlines of their own."""
    import numpy as np

    owners: dict[tuple[str, int, int], list[int]] = {}
    ends: list[tuple[Point3, Point3]] = []
    numbers: dict[tuple[float, ...], int] = {}
    # Rounded, so that corners that are one for the eye are one; adding 0 makes -0 a 0.
    for index, (face, ring) in enumerate(zip(faces, (np.round(corners, 4) + 0.0).tolist(), strict=True)):
        points = face.points
        names = [numbers.setdefault(tuple(point), len(numbers)) for point in ring[:len(points)]]
        for place, (one, two) in enumerate(zip(names, (*names[1:], names[0]), strict=True)):
            edge = (face.key, one, two) if one < two else (face.key, two, one)
            if edge in owners:
                owners[edge].append(index)
            else:
                owners[edge] = [index]
                ends.append((points[place], points[(place + 1) % len(points)]))
    pairs = np.array([members if len(members) == 2 else (members[0], members[0]) for members in owners.values()],
                     dtype=int).reshape(-1, 2)
    first, second = normals[pairs[:, 0]], normals[pairs[:, 1]]
    outline = (first[:, 2] > 1e-9) != (second[:, 2] > 1e-9)
    turned = (first * second).sum(axis=1) < _SHARP
    alone = pairs[:, 0] == pairs[:, 1]
    return ends, (outline | turned | alone).tolist()


def _fills(faces: Faces, whole: Sequence[Region]) -> tuple[Region, ...]:
    """The faces in an order in which each covers what it hides."""
    return tuple(Region(part, whole[index].key, whole[index].grey) for index, parts in painted(faces) for part in parts)


def _regions(faces: Faces, whole: Sequence[Region], keys: Collection[str] | None) -> tuple[Region, ...]:
    """The visible parts of the faces of these keys, or of all, the farthest first."""
    depths = faces.corners[:, :, 2].mean(axis=1).tolist()
    found = visible_parts(faces, [keys is None or face.key in keys for face in whole])
    far = sorted(range(len(whole)), key=depths.__getitem__)
    return tuple(Region(part, whole[index].key, whole[index].grey) for index in far for part in found[index])


def _tone(face: Face3, normal: Floats) -> float:
    return _lit(normal) if face.grey is None else face.grey


def _lit(normal: Floats) -> float:
    """Tone of a face from its normal in picture axes: light from the upper left, before the sheet. Kept light
    enough for black lettering to stand on."""
    light = (-0.45, 0.75, 0.5)
    cosine = _dot(_unit(light), (float(normal[0]), float(normal[1]), float(normal[2])))
    return round(0.82 + 0.16 * max(-0.5, cosine), 3)


@lru_cache(maxsize=64)
def _axes(azimuth: float, elevation: float) -> tuple[Point3, Point3, Point3]:
    a, e = math.radians(azimuth), math.radians(elevation)
    right = (-math.sin(a), math.cos(a), 0.0)
    up = (-math.sin(e) * math.cos(a), -math.sin(e) * math.sin(a), math.cos(e))
    near = (math.cos(e) * math.cos(a), math.cos(e) * math.sin(a), math.sin(e))
    # Directions along the axes come out exact, not as 6e-17: areas are cut more soundly so.
    return _trimmed(right), _trimmed(up), _trimmed(near)


def _trimmed(vector: Point3) -> Point3:
    x, y, z = (round(value, 15) + 0.0 for value in vector)
    return (x, y, z)


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _unit(vector: Sequence[float]) -> Point3:
    length = math.sqrt(_dot(vector, vector))
    return (vector[0] / length, vector[1] / length, vector[2] / length)


def _newell(points: Sequence[Sequence[float]]) -> Point3:
    """Twice the area vector of a plane polygon (Newell)."""
    x = y = z = 0.0
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        x += (a[1] - b[1]) * (a[2] + b[2])
        y += (a[2] - b[2]) * (a[0] + b[0])
        z += (a[0] - b[0]) * (a[1] + b[1])
    return (x, y, z)
