"""Marks: the few kinds of thing that stand on a sheet. A drawing is a tuple of them, drawn in order.

A packet makes tens of thousands of them, so they are named tuples: a frozen dataclass takes four times as long to make.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple

from packet.drawing.lettering import Lettering, Style
from packet.drawing.pens import Pen

Point = tuple[float, float]
Rect = tuple[float, float, float, float]  # left, bottom, right, top
Anchor = Literal["left", "centre", "right"]


class Line(NamedTuple):
    """A straight line from a to b, with square ends exactly at a and b."""

    a: Point
    b: Point
    pen: Pen


class Path(NamedTuple):
    """A polyline or polygon, stroked with `pen` (None: not) and filled with a grey from 0 black to 1 white
    (None: not). A white fill covers what was drawn before."""

    points: tuple[Point, ...]
    pen: Pen | None
    fill: float | None = None
    closed: bool = True


class Circle(NamedTuple):
    """A circle, stroked and filled as a Path is."""

    centre: Point
    radius: float
    pen: Pen | None
    fill: float | None = None


class Arc(NamedTuple):
    """A circular arc from `start` to `stop`, degrees counter-clockwise from the x axis; stop > start."""

    centre: Point
    radius: float
    start: float
    stop: float
    pen: Pen


class Text(NamedTuple):
    """One line of lettering; `at` is on the baseline, `angle` in degrees counter-clockwise about it."""

    at: Point
    string: str
    style: Style
    anchor: Anchor = "left"
    angle: float = 0.0
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Link:
    """A rectangle that leads to another sheet, named by its sheet number."""

    rect: Rect
    target: str


@dataclass(frozen=True, slots=True)
class Viewport:
    """A rectangle of the page that shows a view to scale: `ratio` model mm on one mm of paper."""

    rect: Rect
    ratio: float
    name: str


Mark = Line | Path | Circle | Arc | Text
Drawing = tuple[Mark, ...]


def shift(marks: Iterable[Mark], dx: float, dy: float) -> Drawing:
    """The marks moved by dx, dy mm."""
    if not dx and not dy:
        return tuple(marks)

    return tuple([_shifted(mark, dx, dy) for mark in marks])


def _shifted(mark: Mark, dx: float, dy: float) -> Mark:
    if isinstance(mark, Text):
        (x, y), string, style, anchor, angle, grey = mark
        return Text((x + dx, y + dy), string, style, anchor, angle, grey)
    if isinstance(mark, Line):
        (ax, ay), (bx, by), pen = mark
        return Line((ax + dx, ay + dy), (bx + dx, by + dy), pen)
    if isinstance(mark, Path):
        points, drawn, fill, closed = mark
        return Path(tuple([(x + dx, y + dy) for x, y in points]), drawn, fill, closed)
    if isinstance(mark, Circle):
        return Circle((mark.centre[0] + dx, mark.centre[1] + dy), mark.radius, mark.pen, mark.fill)
    return Arc((mark.centre[0] + dx, mark.centre[1] + dy), mark.radius, mark.start, mark.stop, mark.pen)


def corners(mark: Mark, lettering: Lettering) -> tuple[Point, ...]:
    """Points whose bounding box is that of the mark's geometry (line widths not counted)."""
    if isinstance(mark, Text):  # asked for most often, and this is asked for very often
        return lettering.box(mark)
    if isinstance(mark, Line):
        return (mark.a, mark.b)
    if isinstance(mark, Path):
        return mark.points
    if isinstance(mark, Arc):
        return arc_points(mark)
    (x, y), r = mark.centre, mark.radius
    return ((x - r, y - r), (x + r, y + r))


def arc_points(arc: Arc) -> tuple[Point, ...]:
    """The ends of an arc and its extreme points in x and y, in order."""
    (x, y), r = arc.centre, arc.radius
    first = math.floor(arc.start / 90) + 1
    turns = [quarter * 90 for quarter in range(first, math.ceil(arc.stop / 90))]
    angles = [math.radians(angle) for angle in (arc.start, *turns, arc.stop)]
    return tuple((x + r * math.cos(angle), y + r * math.sin(angle)) for angle in angles)


def bounds(marks: Iterable[Mark], lettering: Lettering) -> Rect:
    """Left, bottom, right, top of everything in a drawing. Raises ValueError for an empty one."""
    points = [point for mark in marks for point in corners(mark, lettering)]
    if not points:
        raise ValueError("an empty drawing has no bounds")
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return (min(xs), min(ys), max(xs), max(ys))


def rectangle(rect: Rect, pen: Pen | None, fill: float | None = None) -> Path:
    """A rectangle as a path."""
    left, bottom, right, top = rect
    return Path(((left, bottom), (right, bottom), (right, top), (left, top)), pen, fill)
