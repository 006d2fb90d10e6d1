"""Collisions: lettering that touches other lettering, is struck through by a line, or leaves the page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from packet.drawing.dimension import polar
from packet.drawing.lettering import Lettering
from packet.drawing.marks import Arc, Circle, Line, Mark, Path, Rect, Text, corners
from packet.drawing.pens import Pen

if TYPE_CHECKING:
    import shapely

_TOUCH = 0.15  # mm by which boxes may overlap: the box of a string is a little larger than its ink


@dataclass(frozen=True, slots=True)
class Conflict:
    """A text and what it runs into: another text, a line, or the edge of the page (`other` is None)."""

    text: Text
    other: Mark | None
    reason: str

    def __str__(self) -> str:
        x, y = self.text.at
        return f"{self.text.string!r} at ({x:.1f}, {y:.1f}): {self.reason}"


def text_conflicts(
    marks: Sequence[Mark], lettering: Lettering, page: Rect | None = None, wider_than: float = 0.3
) -> list[Conflict]:
    """Every text that overlaps a text, is crossed by a line wider than `wider_than` mm, is covered, or leaves
    `page`.

    A line does not count where a filled area, drawn after it and before the text, covers it. Filled areas
    count only when they are drawn after a text, and so cover it.
    """
    import shapely

    order = [index for index, mark in enumerate(marks) if isinstance(mark, Text) and mark.string.strip()]
    texts = [mark for mark in marks if isinstance(mark, Text) and mark.string.strip()]
    if not texts:
        return []
    boxes = shapely.buffer(shapely.polygons([lettering.box(text) for text in texts]), -_TOUCH, join_style="mitre")
    found: list[Conflict] = []
    if page is not None:
        inside = shapely.covers(shapely.box(*page), boxes)
        found += [Conflict(text, None, "leaves the page") for text, is_in in zip(texts, inside, strict=True) if not is_in]
    tree = shapely.STRtree(boxes)
    found += [
        Conflict(texts[a], texts[b], f"overlaps {texts[b].string!r}") for a, b in _pairs(tree, boxes) if a < b
    ]
    near = _near(marks, tree, lettering, wider_than)
    covers = [(index, mark, area) for index, mark in near for area in _cover(mark)]
    for number, hit in _pairs(tree, [area for _, _, area in covers]):
        place, cover, area = covers[number]
        if place > order[hit] and area.intersection(boxes[hit]).area > 1e-6:
            found.append(Conflict(texts[hit], cover, f"is covered by a {type(cover).__name__.lower()}"))
    strokes = [
        (index, mark, shape.buffer(pen.width / 2, cap_style="flat"))
        for index, mark in near
        for pen, shape in _stroke(mark)
        if pen.width > wider_than
    ]
    for number, hit in _pairs(tree, [shape for _, _, shape in strokes]):
        index, mark, shape = strokes[number]
        crossing = shape.intersection(boxes[hit])
        for place, _, area in covers:
            if index < place < order[hit]:
                crossing = crossing.difference(area)
        if crossing.area > 1e-6:
            found.append(Conflict(texts[hit], mark, f"is crossed by a {type(mark).__name__.lower()}"))
    return found


def _near(
    marks: Sequence[Mark], tree: shapely.STRtree, lettering: Lettering, wider_than: float
) -> list[tuple[int, Mark]]:
    """Filled marks and lines wide enough to count, with their places, whose bounding boxes meet a text: most of a sheet's
    marks are textures far from any lettering, and need no shape."""
    import shapely

    counted: list[tuple[int, Mark]] = []
    rects: list[Rect] = []
    for index, mark in enumerate(marks):
        if isinstance(mark, Text):
            continue
        pen = mark.pen
        stroked = pen is not None and pen.width > wider_than
        if not stroked and getattr(mark, "fill", None) is None:
            continue
        points = corners(mark, lettering)
        half = pen.width / 2 + 0.01 if pen is not None else 0.01
        xs, ys = [x for x, _ in points], [y for _, y in points]
        counted.append((index, mark))
        rects.append((min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half))
    if not counted:
        return []
    lows_and_highs = zip(*rects, strict=True)
    hits, _ = tree.query(shapely.box(*map(list, lows_and_highs)), predicate="intersects")
    return [counted[number] for number in sorted(set(hits.tolist()))]


def _pairs(tree: shapely.STRtree, shapes: Sequence[shapely.Geometry]) -> list[tuple[int, int]]:
    """Which of the shapes meets which of the tree's, by number, in order."""
    if not len(shapes):
        return []
    numbers, hits = tree.query(shapes, predicate="intersects")
    return sorted(zip(numbers.tolist(), hits.tolist(), strict=True))


def _stroke(mark: Mark) -> list[tuple[Pen, shapely.Geometry]]:
    """The pen and the centre line of a stroked mark."""
    import shapely

    match mark:
        case Line() if mark.a != mark.b:
            return [(mark.pen, shapely.LineString([mark.a, mark.b]))]
        case Path() if mark.pen is not None and len(mark.points) > 1:
            ring = (*mark.points, mark.points[0]) if mark.closed else mark.points
            return [(mark.pen, shapely.LineString(ring))]
        case Circle() if mark.pen is not None:
            return [(mark.pen, shapely.Point(mark.centre).buffer(mark.radius, quad_segs=32).exterior)]
        case Arc():
            steps = max(2, int(abs(mark.stop - mark.start) / 3))
            angles = [mark.start + (mark.stop - mark.start) * step / steps for step in range(steps + 1)]
            return [
                (mark.pen, shapely.LineString([polar(mark.centre, mark.radius, angle) for angle in angles]))
            ]
        case _:
            return []


def _cover(mark: Mark) -> list[shapely.Geometry]:
    """The area a filled mark hides."""
    import shapely

    match mark:
        case Path() if mark.fill is not None and len(mark.points) > 2:
            return [shapely.Polygon(mark.points).buffer(0.01)]
        case Circle() if mark.fill is not None:
            return [shapely.Point(mark.centre).buffer(mark.radius, quad_segs=32)]
        case _:
            return []
