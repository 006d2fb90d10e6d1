"""Panels: pictures with the words that belong to them, side by side, on as few pages as they need."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, Lettering, Style
from packet.drawing.marks import Drawing, Mark, Rect, Viewport, bounds, shift
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import TICK_SIZE, tick_box

GAP = 8.0
"""mm between panels, and between a picture and its words."""
WordsOf = Callable[[float], Block]
"""Words set into a given width in mm; the block may hang from anywhere."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing, or what makes it once a page with it is taken, its bounds, and the part of it that is to scale, in its
    own paper mm. It is measured once, and tried on many pages."""

    made: Drawing | Callable[[], Drawing]
    box: Rect
    measured: Rect | None

    @property
    def marks(self) -> Drawing:
        return self.made if isinstance(self.made, tuple) else self.made()

    @staticmethod
    def of(marks: Drawing, lettering: Lettering, measured: Rect | None) -> Picture:
        return Picture(marks, bounds(marks, lettering), measured)

    @property
    def width(self) -> float:
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        return self.box[3] - self.box[1]


@dataclass(frozen=True, slots=True)
class Panel:
    """A picture over its words; either may be missing. `least` is the narrowest width for the words, mm."""

    picture: Picture | None
    words: WordsOf | None
    least: float


@dataclass(frozen=True, slots=True)
class Page:
    """Marks of a page, or what makes them once the page is taken, and the rectangles of its views to scale."""

    made: Drawing | Callable[[], Drawing]
    views: tuple[Rect, ...]

    @property
    def marks(self) -> Drawing:
        return self.made if isinstance(self.made, tuple) else self.made()

    def viewports(self, ratio: float, name: str) -> tuple[Viewport, ...]:
        return tuple(Viewport(rect, ratio, name) for rect in self.views)


def one_page(panels: Sequence[Panel], room: Room, *, beside: bool) -> Page | None:
    """The panels side by side on one page, the words of each under its picture or `beside` it, which then may take the
    whole height; None where they do not fit."""
    return _laid_beside(panels, room) if beside else _laid(panels, room)


def pages(panels: Sequence[Panel], room: Room) -> tuple[Page, ...]:
    """The panels in order, as many to a page as fit side by side.

    A panel too tall for the page puts its words beside its picture instead. Raises LayoutError when a
    picture or its words alone are larger than the page.
    """
    found: list[Page] = []
    rest = list(panels)
    while rest:
        tries = ((n, _laid(rest[:n], room)) for n in range(len(rest), 0, -1))
        count, page = next(((n, page) for n, page in tries if page is not None), (0, None))
        if page is None:
            first = rest[0]
            if not first.picture or first.words is None:
                raise LayoutError("a picture or its words are larger than the page")
            rest[:1] = [Panel(first.picture, None, 0.0), Panel(None, first.words, first.least)]
            continue
        found.append(page)
        rest = rest[count:]
    return tuple(found)


def _laid(panels: Sequence[Panel], room: Room) -> Page | None:
    """The panels side by side: pictures centred above and words level below; None when they do not fit."""
    needed = [max(panel.picture.width if panel.picture else 0.0, panel.least if panel.words else 0.0) for panel in panels]
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
    for panel, block in zip(panels, blocks, strict=True):
        # A picture without words may use the height of its neighbours' words too.
        foot = room.bottom + (below if panel.words else 0.0)
        top = room.bottom + below - GAP if panel.picture else room.top
        if (panel.picture and panel.picture.height > room.top - foot + 1e-6) or (
                block and top - block.height < room.bottom - 1e-6):
            return None
    parts: list[_Hung | Block] = []
    x = room.left
    for panel, width, block in zip(panels, widths, blocks, strict=True):
        picture = panel.picture
        if picture:
            foot = room.bottom + (below if panel.words else 0.0)
            dx = x + (width - picture.width) / 2 - picture.box[0]
            dy = foot + (room.top - foot - picture.height) / 2 - picture.box[1]
            parts.append((picture, dx, dy))
        if block:
            top = room.bottom + below - GAP if picture else room.top
            parts.append(block.moved((x, top)))
        x += width + GAP
    return _page(parts)


def _laid_beside(panels: Sequence[Panel], room: Room) -> Page | None:
    """The panels side by side, each with its words to the right of its picture, all level at the top; None when they do
    not fit."""
    each = (room.width - GAP * (len(panels) - 1)) / len(panels)
    widths = [each - (panel.picture.width + GAP if panel.picture else 0.0) for panel in panels]
    if any(width < (panel.least if panel.words else 0.0) for panel, width in zip(panels, widths, strict=True)):
        return None
    found = [(panel.picture, panel.words(width) if panel.words else None)
             for panel, width in zip(panels, widths, strict=True)]
    tallest = max(max(picture.height if picture else 0.0, block.height if block else 0.0) for picture, block in found)
    if tallest > room.height:
        return None
    top = room.top - (room.height - tallest) / 2
    parts: list[_Hung | Block] = []
    x = room.left
    for picture, block in found:
        if picture:
            parts.append((picture, x - picture.box[0], top - picture.box[3]))
        if block:
            parts.append(block.moved((x + (picture.width + GAP if picture else 0.0), top)))
        x += each + GAP
    return _page(parts)


_Hung = tuple[Picture, float, float]
"""A picture, and by how many mm it is moved to its place."""


def _page(parts: Sequence[_Hung | Block]) -> Page:
    views = []
    for part in parts:
        if not isinstance(part, Block) and part[0].measured:
            (left, bottom, right, top), dx, dy = part[0].measured, part[1], part[2]
            views.append((left + dx, bottom + dy, right + dx, top + dy))
    return Page(partial(_drawn, parts), tuple(views))


def _drawn(parts: Sequence[_Hung | Block]) -> Drawing:
    marks: list[Mark] = []
    for part in parts:
        marks += part.marks if isinstance(part, Block) else shift(part[0].marks, part[1], part[2])
    return tuple(marks)


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
