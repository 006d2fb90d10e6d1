"""How every page looks: nothing collides, nothing leaves the room, nothing is pale or small, no page is nearly empty; line
widths, lettering and scales come from the series of the drafting standards."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterator

import numpy as np

from packet.drawing.collisions import text_conflicts
from packet.drawing.full_size import EDGE
from packet.drawing.marks import Arc, Circle, Line, Path, Point, Rect, Text, bounds
from packet.drawing.page import FinishedSheet, frame_rect
from packet.drawing.room import Room
from packet.units import System
from tests.packets.packet import Packet, content, pixels, texts
from tests.sheets.drawn import INCHES, TOUCH, letters

FULL = 1 / 3
CONTRAST = 4.5
"""Least contrast of lettering with its ground (WCAG 2.x, success criterion 1.4.3)."""

EMPTY = {
    "Register, continued": "what the cover cannot hold of the register, however little that is",
    "Site and anchors": "laid out for letter and A4; a larger paper leaves it room",
    "Load of each anchor": "a line for every anchor; few anchors fill few lines",
    "Splices": "sections stand at full size, and those of a thin board are small",
    "Corners: tape": "sections stand at full size, and those of a thin board are small",
    "Eaves: tape": "sections stand at full size, and those of a thin board are small",
    "Part cards": "a card for every kind of leaf, all at one scale, however few the last page holds",
    "Strips: make up": "as many strips as the hinges of the project take, all at one scale",
    "All leaves laid out": "the next standard scale would leave the page",
}
"""Sheets, by the beginning of their titles, that may be emptier than a third, and why."""

# ISO 128-2, line widths in mm; ISO 3098-1, nominal sizes of lettering in mm, from 2.5, the least that is read at arm's length.
WIDTHS = {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}
HEIGHTS = {2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0}
OUTLINE, THIN = 0.5, 0.25
"""The wide and the narrow line of the packet, 2 : 1 (ISO 128-2, 4.2): every page with a view to scale has both."""
# ISO 5455: full size and reductions 1:2, 1:5, 1:10 and their tenfold; and the architect's scales, so many inches to the
# foot (common practice): 12 over 12, 6, 3, 1-1/2, 1, 3/4, 1/2, 3/8, 1/4, 3/16, 1/8, 3/32.
SCALES = {System.METRIC: {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000},
          System.INCH: {1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128}}


def collisions(packet: Packet) -> Iterator[str]:
    """Text that touches text or a line wider than the hatching, is covered, or leaves the page."""
    for sheet in packet.sheets:
        page = frame_rect(sheet.paper)
        if sheet.window:
            page = Room(0.0, 0.0, sheet.paper.width, sheet.paper.height).inset(EDGE).rect
        for conflict in text_conflicts(sheet.marks, letters(), page, wider_than=0.2):
            yield f"{sheet.number}: {conflict}"


def outside(packet: Packet) -> Iterator[str]:
    """Content drawn outside its room."""
    least = packet.kit.room.inset(-TOUCH)
    for sheet in packet.sheets:
        if sheet.window:  # what stands outside the window there is cut off
            continue
        left, bottom, right, top = bounds(content(sheet), letters())
        # A bar of 6 in is longer than the room of A4 is high: there it may use some of the 2 mm kept clear round it.
        if sheet.title == packet.kit.words.text("cover.bars.title"):
            bottom, top = bottom + 1.0, top - 1.0
        if left < least.left or bottom < least.bottom or right > least.right or top > least.top:
            yield f"{sheet.number}: drawn outside the room"


def foreign_units(packet: Packet) -> Iterator[str]:
    """Inches in a metric packet."""
    if packet.kit.system is System.METRIC:
        for sheet in packet.sheets:
            yield from (f"{sheet.number}: inches in {mark.string!r}" for mark in texts(sheet) if INCHES.search(mark.string))


def pale(packet: Packet) -> Iterator[str]:
    """Lettering whose darkest and lightest dot, in the picture of the page, are too near each other."""
    for sheet, image in zip(packet.sheets, packet.pictures, strict=True):
        for mark in texts(sheet):
            if mark.string.strip(" .,·-"):
                corners = letters().box(mark)
                xs, ys = [x for x, _ in corners], [y for _, y in corners]
                seen = pixels(image, (min(xs), min(ys), max(xs), max(ys)))
                if seen.size and contrast(int(seen.min()), int(seen.max())) < CONTRAST:
                    yield f"{sheet.number}: {mark.string!r} is pale"


def contrast(dark: int, light: int) -> float:
    """Contrast ratio of two greys 0..255 (WCAG 2.x, relative luminance)."""
    def luminance(grey: int) -> float:
        share = grey / 255
        return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)

    return (luminance(light) + 0.05) / (luminance(dark) + 0.05)


def room_of(sheet: FinishedSheet) -> Rect:
    """The part of a page that its own content may fill."""
    if sheet.window:
        return sheet.window
    left, bottom, right, top = frame_rect(sheet.paper)
    return (left + 2, bottom + 22, right - 2, top - 17)


def empty(packet: Packet) -> Iterator[str]:
    """Pages of which less than a third of the cells of a grid of 12 x 8 hold any ink."""
    for sheet, image in zip(packet.sheets, packet.pictures, strict=True):
        ink = pixels(image, room_of(sheet)) < 200
        cells = [part.any() for row in np.array_split(ink, 8, axis=0) for part in np.array_split(row, 12, axis=1)]
        share = sum(map(bool, cells)) / len(cells)
        if share < FULL and not sheet.title.startswith(tuple(EMPTY)):
            yield f"{sheet.number} {sheet.title}: {share:.0%} filled"


def small(packet: Packet) -> Iterator[str]:
    """Capitals under 2.5 mm in the file (their height is 668 thousandths of the em in this type)."""
    for sheet, written in zip(packet.sheets, packet.written, strict=True):
        yield from (f"{sheet.number}: {one.string!r} is {one.size * 0.668:.2f} mm high" for one in written
                    if one.size * 0.668 < 2.49)


def out_of_series(packet: Packet) -> Iterator[str]:
    """Line widths, lettering heights and scales that no standard has; a view that lacks its wide or its narrow line."""
    allowed = SCALES[packet.kit.system]
    for sheet in packet.sheets:
        strokes = {mark.pen.width for mark in (*sheet.marks, *sheet.clipped)
                   if isinstance(mark, Line | Path | Circle | Arc) and mark.pen}
        heights = {mark.style.height for mark in texts(sheet)}
        yield from (f"{sheet.number}: a line of {width} mm" for width in sorted(strokes - WIDTHS))
        yield from (f"{sheet.number}: lettering of {height} mm" for height in sorted(heights - HEIGHTS))
        yield from (f"{sheet.number}: scale 1:{view.ratio:g}" for view in sheet.viewports if view.ratio not in allowed)
        if sheet.viewports and not {OUTLINE, THIN} <= strokes:
            yield f"{sheet.number}: a view drawn with lines of {sorted(strokes)} mm"


def scale_without_view(packet: Packet) -> Iterator[str]:
    """A title block that states a scale where no view has it."""
    said = packet.kit.words.name("Scale")
    for sheet in packet.sheets:
        strings = [mark.string for mark in texts(sheet)]
        if said in strings and not sheet.viewports and re.search(r"\d", strings[strings.index(said) + 1]):
            yield f"{sheet.number}: a scale is stated and nothing is drawn to it"


def misread(packet: Packet) -> Iterator[str]:
    """Strings that the file does not have where the drawing has them: what is checked on the marks holds on paper."""
    for sheet, written in zip(packet.sheets, packet.written, strict=True):
        there: dict[str, list[Point]] = defaultdict(list)
        wanted: dict[str, list[Point]] = defaultdict(list)
        for one in written:
            there[_solid(one.string)].append((one.x, one.y))
        for mark in (*sheet.clipped, *sheet.marks):
            if isinstance(mark, Text):
                wanted[_solid(mark.string)].append(_start(mark))
        there.pop("", None)
        wanted.pop("", None)
        for string in there.keys() | wanted.keys():
            if len(there[string]) != len(wanted[string]) or _apart(there[string], wanted[string]) > 0.01:
                yield f"{sheet.number}: {string!r} is not in the file where it is in the drawing"


def _solid(string: str) -> str:
    """Without blanks: a reader may take two of them for one."""
    return re.sub(r"\s", "", string)


def _start(mark: Text) -> Point:
    """Where a line of lettering begins."""
    back = {"left": 0.0, "centre": 0.5, "right": 1.0}[mark.anchor] * letters().width(mark.string, mark.style)
    turn = math.radians(mark.angle)
    return (mark.at[0] - back * math.cos(turn), mark.at[1] - back * math.sin(turn))


def _apart(first: list[Point], second: list[Point]) -> float:
    """The largest distance from a point of either list to the nearest of the other, mm."""
    away = np.linalg.norm(np.array(first)[:, None] - np.array(second)[None], axis=2)
    return float(max(away.min(axis=0).max(), away.min(axis=1).max()))


CHECKS = (collisions, outside, foreign_units, pale, empty, small, out_of_series, scale_without_view, misread)
