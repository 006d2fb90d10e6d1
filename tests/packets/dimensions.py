"""Every dimension that is drawn: what lies between its two ends on paper, times the scale, is the figure beside it.

The marks of a dimension stand one after another, as ISO 129 builds it up: line, terminators, figure; or, running from one
origin, line, ticks, origin circle, figures. Nothing here asks the sheet or the model what the figure ought to be.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packet.drawing.marks import Arc, Circle, Line, Mark, Path, Point, Text, Viewport
from packet.drawing.page import FinishedSheet
from packet.units import System
from tests.packets.figures import figures
from tests.packets.packet import Packet, content

HEAD = 3.0
"""mm, length of an arrowhead."""
ORIGIN = 1.1
"""mm, radius of the circle at the origin of running dimensions."""
NARROW = 0.25


@dataclass(frozen=True, slots=True)
class Measured:
    """A dimension on paper: its two ends in mm, or the degrees between them, and what is written at it."""

    a: Point
    b: Point
    text: str
    degrees: float | None = None

    @property
    def length(self) -> float:
        return math.dist(self.a, self.b)


def measured(marks: Sequence[Mark]) -> Iterator[Measured]:
    """The dimensions of a drawing that have a figure, in drawing order."""
    for index, mark in enumerate(marks):
        if isinstance(mark, Line) and _narrow(mark):
            yield from _straight(marks, index)
        elif isinstance(mark, Arc) and _narrow(mark):
            yield from _angular(marks, index)
        elif isinstance(mark, Circle) and mark.radius == ORIGIN and mark.fill == 1.0:
            yield from _running(marks, index)


def wrong(packet: Packet) -> Iterator[str]:
    for sheet in packet.sheets:
        for one in measured(content(sheet)):
            yield from _wrong(one, sheet, packet.kit.system)


def _wrong(one: Measured, sheet: FinishedSheet, system: System) -> Iterator[str]:
    where = f"{sheet.number}: {one.text!r}"
    if one.degrees is not None:
        if abs(float(one.text.rstrip("°")) - one.degrees) > 0.05 + 1e-6:
            yield f"{where} is drawn as {one.degrees:.2f} degrees"
        return
    found = list(figures(one.text, system))
    if not found:
        return
    view = _view(one, sheet)
    if view is None:
        yield f"{where} is drawn to no scale"
    elif not any(figure.is_(one.length * view.ratio) for figure in found[:1]):
        yield f"{where} is drawn as {one.length * view.ratio:.2f} mm at 1:{view.ratio:g}"


def _view(one: Measured, sheet: FinishedSheet) -> Viewport | None:
    """The view that a dimension belongs to: the nearest one."""
    x, y = (one.a[0] + one.b[0]) / 2, (one.a[1] + one.b[1]) / 2

    def away(view: Viewport) -> float:
        left, bottom, right, top = view.rect
        return math.hypot(max(left - x, 0.0, x - right), max(bottom - y, 0.0, y - top))

    return min(sheet.viewports, key=away, default=None)


def _narrow(mark: Line | Arc) -> bool:
    return mark.pen.width == NARROW and not mark.pen.dash


def _tip(marks: Sequence[Mark], index: int) -> Point | None:
    """The point of the arrowhead at a place among the marks."""
    mark = marks[index] if index < len(marks) else None
    if isinstance(mark, Path) and mark.pen is None and mark.fill == 0.0 and len(mark.points) == 3:
        tip, left, right = mark.points
        back = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
        if abs(math.dist(tip, back) - HEAD) < 1e-6:
            return tip
    return None


def _straight(marks: Sequence[Mark], index: int) -> Iterator[Measured]:
    first, second = _tip(marks, index + 1), _tip(marks, index + 2)
    if first is None or second is None:
        return
    after = [mark for mark in marks[index + 3:index + 6] if not isinstance(mark, Line | Path)]
    if after and isinstance(after[0], Text):
        yield Measured(first, second, after[0].string)


def _angular(marks: Sequence[Mark], index: int) -> Iterator[Measured]:
    arc, first, second = marks[index], _tip(marks, index + 1), _tip(marks, index + 2)
    after = marks[index + 3] if index + 3 < len(marks) else None
    if isinstance(arc, Arc) and first and second and isinstance(after, Text) and after.string.endswith("°"):
        turns = [math.degrees(math.atan2(y - arc.centre[1], x - arc.centre[0])) for x, y in (first, second)]
        yield Measured(first, second, after.string, (turns[1] - turns[0]) % 360)


def _running(marks: Sequence[Mark], index: int) -> Iterator[Measured]:
    """Before the circle: the line, then extension line and tick of every station; after it, in the same order, the figures,
    each behind its leader where there is one."""
    origin = marks[index]
    if not isinstance(origin, Circle):
        return
    strings: list[str] = []
    for mark in marks[index + 1:]:
        if isinstance(mark, Text):
            strings.append(mark.string)
        elif not isinstance(mark, Line):
            break
    count = 0
    while index - 2 * count - 3 >= 0 and _pair(marks[index - 2 * count - 2], marks[index - 2 * count - 1]):
        count += 1
    ticks = [marks[index - 2 * (count - number) + 1] for number in range(count)]
    for tick, string in zip(ticks, strings, strict=False):
        if isinstance(tick, Line):
            # The origin's tick tells which way the line runs: a tick stands square on it.
            dx, dy = tick.b[0] - tick.a[0], tick.b[1] - tick.a[1]
            x, y = origin.centre
            end = (tick.a[0], y) if abs(dx) < abs(dy) else (x, tick.a[1])
            yield Measured(origin.centre, end, string)


def _pair(extension: Mark, tick: Mark) -> bool:
    return (isinstance(extension, Line) and isinstance(tick, Line) and extension.pen.grey > 0 and tick.pen.grey == 0
            and math.dist(extension.b, tick.a) < 1e-6)
