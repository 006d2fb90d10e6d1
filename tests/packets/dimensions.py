"""Every dimension that is drawn: what lies between its two ends on paper, times the scale, is the figure beside it.

The marks of a dimension stand one after another, as ISO 129 builds it up: line, terminators, figure; or, running from one
origin, line, ticks, origin circle, figures. Nothing here asks the sheet or the model what the figure ought to be. A
dimension that is built up in another way is not passed over: `unread` finds its terminators left alone.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from packet.assembly.records import SeamKind
from packet.drawing.marks import Arc, Circle, Line, Mark, Path, Point, Text, Viewport
from packet.drawing.page import FinishedSheet
from packet.tape.strips import Role
from packet.units import System
from tests.packets.figures import figures
from tests.packets.packet import Packet, content, name_of

HEAD = 3.0
"""mm, length of an arrowhead."""
SPREAD = 2 * HEAD * math.tan(math.radians(15.0 / 2))
"""mm across the foot of an arrowhead of 15 degrees (ISO 129-1); other arrows are wider."""
TICKS = (3.6, 4.2)
"""mm, lengths of the ticks of running dimensions; the origin's is the longer one."""
LETTERED = ("receiving.picture.length", "receiving.picture.breadth")
"""Dimensions that have a word instead of a figure, since the figure is what is to be measured."""
ORIGIN = 1.1
"""mm, radius of the circle at the origin of running dimensions."""
NARROW = 0.25


@dataclass(frozen=True, slots=True)
class Measured:
    """A dimension on paper: its two ends in mm, or the degrees between them, and the figure that is written at it. `lined`
    is False of the running ones, whose figures stand at their ticks, not on the line."""

    a: Point
    b: Point
    figure: Text
    degrees: float | None = None
    lined: bool = True

    @property
    def text(self) -> str:
        return self.figure.string

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
        elif _is_origin(mark):
            yield from _running(marks, index)


def wrong(packet: Packet) -> Iterator[str]:
    """Dimensions whose figure is not what is drawn, or that have none."""
    lettered = {packet.kit.words.text(key) for key in LETTERED}
    for sheet in packet.sheets:
        for one in measured(content(sheet)):
            if one.text not in lettered:
                yield from _wrong(one, sheet, packet.kit.system)


def unread(packet: Packet) -> Iterator[str]:
    """Terminators and ticks of which no dimension was read, and that no leader ends in."""
    for sheet in packet.sheets:
        marks = content(sheet)
        read = [*measured(marks)]
        known = {end for one in read for end in (one.a, one.b)}
        known |= {mark.points[0] for mark in marks if isinstance(mark, Path) and not mark.closed and mark.pen
                  and mark.pen.width == NARROW}  # leaders
        for index in range(len(marks)):
            tip = _tip(marks, index)
            if tip and tip not in known:
                yield f"{sheet.number}: an arrowhead at {tip} belongs to no dimension that can be read"
        origins = {mark.centre for mark in marks if _is_origin(mark)}
        if origins:
            ticks = sum(isinstance(mark, Line) and _narrow(mark) and mark.pen.grey == 0
                        and any(abs(math.dist(mark.a, mark.b) - long) < 1e-6 for long in TICKS) for mark in marks)
            running = sum(one.a in origins for one in read)
            if ticks != running:
                yield f"{sheet.number}: {ticks} ticks and {running} running dimensions"


def _wrong(one: Measured, sheet: FinishedSheet, system: System) -> Iterator[str]:
    where = f"{sheet.number}: {one.text!r}"
    if one.degrees is not None:
        if abs(float(one.text.rstrip("°")) - one.degrees) > 0.05 + 1e-6:
            yield f"{where} is drawn as {one.degrees:.2f} degrees"
        return
    found = list(figures(one.text.rstrip(":"), system))
    if not found:
        yield f"{where} is a dimension without a figure"
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


def _is_origin(mark: Mark) -> bool:
    return isinstance(mark, Circle) and mark.radius == ORIGIN and mark.fill == 1.0


def _narrow(mark: Line | Arc) -> bool:
    return mark.pen.width == NARROW and not mark.pen.dash


def _tip(marks: Sequence[Mark], index: int) -> Point | None:
    """The point of the arrowhead at a place among the marks."""
    mark = marks[index] if index < len(marks) else None
    if isinstance(mark, Path) and mark.pen is None and mark.fill == 0.0 and len(mark.points) == 3:
        tip, left, right = mark.points
        back = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
        if abs(math.dist(tip, back) - HEAD) < 1e-6 and abs(math.dist(left, right) - SPREAD) < 1e-6:
            return tip
    return None


def _figure_after(marks: Sequence[Mark], index: int) -> Text | None:
    """The lettering behind the terminators: at once, or behind the ground it is cleared on or a line that leads to it."""
    after = (mark for mark in marks[index:index + 4] if not isinstance(mark, Line | Path))
    found = next((mark for mark in after if not (isinstance(mark, Text) and not mark.string)), None)
    return found if isinstance(found, Text) else None


def _straight(marks: Sequence[Mark], index: int) -> Iterator[Measured]:
    first, second = _tip(marks, index + 1), _tip(marks, index + 2)
    figure = _figure_after(marks, index + 3)
    if first and second and figure:
        yield Measured(first, second, figure)


def _angular(marks: Sequence[Mark], index: int) -> Iterator[Measured]:
    arc, first, second = marks[index], _tip(marks, index + 1), _tip(marks, index + 2)
    figure = _figure_after(marks, index + 3)
    if isinstance(arc, Arc) and first and second and figure and figure.string.endswith("°"):
        turns = [math.degrees(math.atan2(y - arc.centre[1], x - arc.centre[0])) for x, y in (first, second)]
        yield Measured(first, second, figure, (turns[1] - turns[0]) % 360)


def _running(marks: Sequence[Mark], index: int) -> Iterator[Measured]:
    """Before the circle: the line, then extension line and tick of every station; after it, in the same order, the figures,
    each behind its leader where there is one."""
    origin = marks[index]
    if not isinstance(origin, Circle):
        return
    figures_after: list[Text] = []
    for mark in marks[index + 1:]:
        if isinstance(mark, Text):
            figures_after.append(mark)
        elif not isinstance(mark, Line):
            break
    count = 0
    while index - 2 * count - 3 >= 0 and _pair(marks[index - 2 * count - 2], marks[index - 2 * count - 1]):
        count += 1
    ticks = [marks[index - 2 * (count - number) + 1] for number in range(count)]
    for tick, figure in zip(ticks, figures_after, strict=False):
        if isinstance(tick, Line):
            # The origin's tick tells which way the line runs: a tick stands square on it.
            dx, dy = tick.b[0] - tick.a[0], tick.b[1] - tick.a[1]
            x, y = origin.centre
            end = (tick.a[0], y) if abs(dx) < abs(dy) else (x, tick.a[1])
            yield Measured(origin.centre, end, figure, lined=False)


def _pair(extension: Mark, tick: Mark) -> bool:
    return (isinstance(extension, Line) and isinstance(tick, Line) and extension.pen.grey > 0 and tick.pen.grey == 0
            and math.dist(extension.b, tick.a) < 1e-6)


# --- sheets that must have some ------------------------------------------------------------------------


def _edge_ends(packet: Packet) -> int:
    """Places on the edges of the boards at which a cut ends; corners are not counted."""
    count = 0
    for board in packet.plan.boards:
        long, broad = board.stock.length, board.stock.breadth
        ends = {(round(x, 3), round(y, 3)) for cut in board.cuts for x, y in (cut.a, cut.b)}
        count += sum((x in (0.0, long)) != (y in (0.0, broad)) for x, y in ends)
    return count


def _shapes(packet: Packet) -> int:
    """Leaves that differ in outline: two sizes of each are dimensioned at least."""
    return 2 * len({tuple((round(abs(x), 1), round(y, 1)) for x, y in leaf.outline) for leaf in packet.plan.parts.leaves})


def _holds(needed: bool, count: int) -> int:
    return count if needed else 0


def _has(packet: Packet, *kinds: SeamKind) -> bool:
    return bool(packet.plan.assembly.bonded(*kinds))


LEAST: dict[str, Callable[[Packet], int]] = {
    "arrangement": lambda packet: 3,  # wide, deep, high
    "marking": _edge_ends,
    "parts": _shapes,
    "receiving": lambda packet: 2,  # length, breadth
    "gauges": lambda packet: len({round(seam.angle_open, 1) for seam in packet.plan.assembly.bonded()} - {180.0, 0.0}),
    "door": lambda packet: 4 * bool(packet.plan.assembly.doors),  # width and height of door and of jamb
    "openings": lambda packet: 4 * sum(bool(leaf.openings) for leaf in packet.plan.assembly.leaves),  # edges of a hole
    "splice": lambda packet: _holds(any(leaf.splices for leaf in packet.plan.assembly.leaves), 2),  # the two lands
    "relief": lambda packet: bool(packet.plan.relief),
    "mending": lambda packet: 2 * bool(packet.plan.description.decided),  # the blank
    "recipe.mid": lambda packet: _holds(_has(packet, SeamKind.WALL_MID), 3),  # a land on each leaf, flat and folded
    "recipe.corner": lambda packet: _holds(_has(packet, SeamKind.CORNER), 3),
    "recipe.eave": lambda packet: _holds(_has(packet, SeamKind.EAVE), 3),
    "recipe.hip": lambda packet: _holds(_has(packet, SeamKind.HIP), 3),
    "recipe.seam": lambda packet: _holds(_has(packet, SeamKind.SEAM), 3),
    "recipe.release": lambda packet: _holds(any(seam.removable for seam in packet.plan.assembly.seams), 3),  # lands, gap
    "recipe.sill": lambda packet: _holds(any(strip.role is Role.SILL for strip in packet.plan.strips), 3),  # and the edge
}
"""How many dimensions the pages of a sheet have together at least, by what the project has."""

WITHOUT = ("cover", "cautions", "checklist", "crew", "words", "added", "recall", "set_holds", "order", "strips", "cuts",
           "alternates", "halves", "roof", "fold", "erect", "labels", "inspection", "set_up", "strike", "weather", "carry",
           "site", "wind", "air", "keep", *(f"{card}.{letter}" for card in ("tent", "passing") for letter in "PCHERJXL"))
"""Sheets of words, tables and pictures, whose sizes, where they have some, stand in words."""


def missing(packet: Packet) -> Iterator[str]:
    """Sheets with fewer dimensions than what they show needs."""
    count = Counter({name_of(sheet): 0 for sheet in packet.sheets})
    for sheet in packet.sheets:
        count[name_of(sheet)] += sum(1 for _ in measured(content(sheet)))
    unknown = sorted(count.keys() - LEAST.keys() - {*WITHOUT})
    yield from (f"it is not known whether sheet {name!r} needs dimensions" for name in unknown)
    for name, least in LEAST.items():
        if count[name] < least(packet):
            yield f"{name}: {count[name]} dimensions, and it needs {least(packet)}"
