"""Rooms: rectangles of a page, split and inset to lay out what stands in them."""

from __future__ import annotations

from dataclasses import dataclass

from packet.drawing.marks import Point, Rect


class LayoutError(ValueError):
    """Something does not fit the place it has on a sheet."""


@dataclass(frozen=True, slots=True)
class Room:
    """A rectangle of the page in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def size(self) -> tuple[float, float]:
        return (self.width, self.height)

    @property
    def rect(self) -> Rect:
        return (self.left, self.bottom, self.right, self.top)

    @property
    def top_left(self) -> Point:
        return (self.left, self.top)

    @property
    def centre(self) -> Point:
        return ((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def inset(
        self, left: float, bottom: float | None = None, right: float | None = None, top: float | None = None
    ) -> Room:
        """Smaller by so much on each side; one number for all sides, two for left/right and bottom/top."""
        low = left if bottom is None else bottom
        return Room(
            self.left + left,
            self.bottom + low,
            self.right - (left if right is None else right),
            self.top - (low if top is None else top),
        )

    def columns(self, *shares: float, gap: float = 0.0) -> tuple[Room, ...]:
        """Side by side from the left, widths in proportion to the shares: `columns(1, 1, 1)`."""
        unit = (self.width - gap * (len(shares) - 1)) / sum(shares)
        rooms, x = [], self.left
        for share in shares:
            rooms.append(Room(x, self.bottom, x + unit * share, self.top))
            x += unit * share + gap
        return tuple(rooms)

    def rows(self, *shares: float, gap: float = 0.0) -> tuple[Room, ...]:
        """One below the other from the top, heights in proportion to the shares."""
        unit = (self.height - gap * (len(shares) - 1)) / sum(shares)
        rooms, y = [], self.top
        for share in shares:
            rooms.append(Room(self.left, y - unit * share, self.right, y))
            y -= unit * share + gap
        return tuple(rooms)

    def cut_top(self, height: float, gap: float = 0.0) -> tuple[Room, Room]:
        """A strip of `height` mm along the top, and the rest."""
        edge = self.top - height
        return Room(self.left, edge, self.right, self.top), Room(
            self.left, self.bottom, self.right, edge - gap
        )

    def cut_bottom(self, height: float, gap: float = 0.0) -> tuple[Room, Room]:
        """A strip of `height` mm along the bottom, and the rest."""
        edge = self.bottom + height
        return Room(self.left, self.bottom, self.right, edge), Room(
            self.left, edge + gap, self.right, self.top
        )

    def cut_left(self, width: float, gap: float = 0.0) -> tuple[Room, Room]:
        """A strip of `width` mm along the left, and the rest."""
        edge = self.left + width
        return Room(self.left, self.bottom, edge, self.top), Room(
            edge + gap, self.bottom, self.right, self.top
        )

    def cut_right(self, width: float, gap: float = 0.0) -> tuple[Room, Room]:
        """A strip of `width` mm along the right, and the rest."""
        edge = self.right - width
        return Room(edge, self.bottom, self.right, self.top), Room(
            self.left, self.bottom, edge - gap, self.top
        )
