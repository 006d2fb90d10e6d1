"""Panels: pictures with the words that belong to them, side by side, on as few pages as they need."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, Lettering, Style
from packet.drawing.marks import Drawing, Mark, Rect, Viewport, bounds, shift
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import TICK_SIZE, tick_box

GAP = 8.0
"""mm between panels, and between a picture and its words."""

_NOTHING: Rect = (0.0, 0.0, 0.0, 0.0)

WordsOf = Callable[[float], Block]
"""Words set into a given width in mm; the block may hang from anywhere."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A picture over its words; either may be missing. `least` is the narrowest width for the words, mm.

    `measured` is the part of the picture that is to scale, in the picture's own paper mm.
    """

    picture: Drawing
    words: WordsOf | None
    least: float
    measured: tuple[float, float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """Marks of a page and the rectangles of its views to scale."""

    marks: Drawing
    views: tuple[tuple[float, float, float, float], ...]

    def viewports(self, ratio: float, name: str) -> tuple[Viewport, ...]:
        return tuple(Viewport(rect, ratio, name) for rect in self.views)


def one_page(panels: Sequence[Panel], room: Room, lettering: Lettering, *, beside: bool) -> Page | None:
    """The panels side by side on one page, the words of each under its picture or `beside` it, which then may take the
    whole height; None where they do not fit."""
    measured = [(panel, bounds(panel.picture, lettering) if panel.picture else _NOTHING) for panel in panels]
    return _laid_beside(measured, room) if beside else _laid(measured, room)


def pages(panels: Sequence[Panel], room: Room, lettering: Lettering) -> tuple[Page, ...]:
    """The panels in order, as many to a page as fit side by side.

    A panel too tall for the page puts its words beside its picture instead. Raises LayoutError when a
    picture or its words alone are larger than the page.
    """
    found: list[Page] = []
    rest = [(panel, bounds(panel.picture, lettering) if panel.picture else _NOTHING) for panel in panels]
    while rest:
        tries = ((n, _laid(rest[:n], room)) for n in range(len(rest), 0, -1))
        count, page = next(((n, page) for n, page in tries if page is not None), (0, None))
        if page is None:
            first, rect = rest[0]
            if not first.picture or first.words is None:
                raise LayoutError("a picture or its words are larger than the page")
            rest[:1] = [(Panel(first.picture, None, 0.0, first.measured), rect),
                        (Panel((), first.words, first.least), _NOTHING)]
            continue
        found.append(page)
        rest = rest[count:]
    return tuple(found)


def _laid(measured: Sequence[tuple[Panel, Rect]], room: Room) -> Page | None:
    """The panels, each with the bounds of its picture, side by side: pictures centred above and words level below;
    None when they do not fit."""
    panels, rects = zip(*measured, strict=True)
    needed = [
        max(rect[2] - rect[0], panel.least if panel.words else 0.0) for rect, panel in zip(rects, panels, strict=True)
    ]
    spare = room.width - sum(needed) - GAP * (len(panels) - 1)
    if spare < 0:
        return None
    # Words profit from width, pictures alone do not.
    wordy = sum(1 for panel in panels if panel.words) or len(panels)
    widths = [
        need + (spare / wordy if panel.words or wordy == len(panels) else 0.0)
        for need, panel in zip(needed, panels, strict=True)
    ]
    blocks = [panel.words(width) if panel.words else None for panel, width in zip(panels, widths, strict=True)]
    below = max(
        (block.height + GAP for block, panel in zip(blocks, panels, strict=True) if block and panel.picture),
        default=0.0,
    )
    # Whether all fit is known before any mark is moved.
    for panel, rect, block in zip(panels, rects, blocks, strict=True):
        # A picture without words may use the height of its neighbours' words too.
        foot = room.bottom + (below if panel.words else 0.0)
        top = room.bottom + below - GAP if panel.picture else room.top
        if (panel.picture and rect[3] - rect[1] > room.top - foot + 1e-6) or (
                block and top - block.height < room.bottom - 1e-6):
            return None
    marks: list[Mark] = []
    views = []
    x = room.left
    for panel, rect, width, block in zip(panels, rects, widths, blocks, strict=True):
        if panel.picture:
            foot = room.bottom + (below if panel.words else 0.0)
            height = rect[3] - rect[1]
            dx = x + (width - (rect[2] - rect[0])) / 2 - rect[0]
            dy = foot + (room.top - foot - height) / 2 - rect[1]
            marks += shift(panel.picture, dx, dy)
            if panel.measured:
                left, bottom, right, top = panel.measured
                views.append((left + dx, bottom + dy, right + dx, top + dy))
        if block:
            top = room.bottom + below - GAP if panel.picture else room.top
            marks += block.moved((x, top)).marks
        x += width + GAP
    return Page(tuple(marks), tuple(views))


def _laid_beside(measured: Sequence[tuple[Panel, Rect]], room: Room) -> Page | None:
    """The panels side by side, each with its words to the right of its picture, all level at the top; None when they do
    not fit."""
    each = (room.width - GAP * (len(measured) - 1)) / len(measured)
    found: list[tuple[Panel, Rect, Block | None]] = []
    for panel, rect in measured:
        width = each - (rect[2] - rect[0] + GAP if panel.picture else 0.0)
        if width < (panel.least if panel.words else 0.0):
            return None
        found.append((panel, rect, panel.words(width) if panel.words else None))
    tallest = max(max(rect[3] - rect[1], block.height if block else 0.0) for _, rect, block in found)
    if tallest > room.height:
        return None
    top = room.top - (room.height - tallest) / 2
    marks: list[Mark] = []
    views = []
    x = room.left
    for panel, rect, block in found:
        dx, dy = x - rect[0], top - rect[3]
        marks += shift(panel.picture, dx, dy)
        if panel.measured:
            left, bottom, right, high = panel.measured
            views.append((left + dx, bottom + dy, right + dx, high + dy))
        if block:
            marks += block.moved((x + (rect[2] - rect[0] + GAP if panel.picture else 0.0), top)).marks
        x += each + GAP
    return Page(tuple(marks), tuple(views))


def ticked(width: float, items: Sequence[str], style: Style, lettering: Lettering, gap: float = 2.0) -> Block:
    """Sentences with a box to tick before each, hung from the origin."""
    indent = TICK_SIZE + 3.0
    blocks = []
    for item in items:
        body = paragraph((0.0, 0.0), width - indent, item, style, lettering)
        tall = max(body.height, TICK_SIZE)
        drop = max(0.0, (TICK_SIZE - body.height) / 2)
        blocks.append(
            Block((*tick_box((0.0, -TICK_SIZE)), *shift(body.marks, indent, -drop)), (0.0, 0.0), width, tall + drop)
        )
    return stack((0.0, 0.0), blocks, gap, width)


def headed(width: float, heading: str, body: Block, lettering: Lettering, style: Style = BODY) -> Block:
    """A bold heading over a block."""
    head = paragraph((0.0, 0.0), width, f"**{heading}**", style, lettering)
    return stack((0.0, 0.0), [head, body], 0.5, width)
