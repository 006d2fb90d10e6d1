"""Full-size gauges and story sticks: cut out and held against the work, packed on as few pages as they fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packet.drawing.full_size import window
from packet.drawing.marks import Rect, Viewport, bounds, shift
from packet.drawing.page import Sheet
from packet.drawing.room import Room
from packet.drawing.view import full_size
from packet.plan import Plan
from packet.sheets.gauge_cards import Card, gauge_cards
from packet.sheets.kit import Kit
from packet.sheets.stick_rows import stick_rows
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

GAP = 6.0
"""mm between gauges beside or over each other."""
BETWEEN = 3.5
"""mm between the pieces of sticks."""
SIDE = 4.0
"""mm that gauges keep from the sides of the page; sticks run from edge to edge."""

Placed = tuple[Card, float, float]
"""A card and how far it is moved."""


@dataclass(slots=True)
class _Shelf:
    """A row of cards: the page it is on, its top, its height, and what stands in it."""

    page: int
    top: float
    high: float
    cards: list[Card]


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Gauges first, then the sticks in order. What is larger than the page is left to its written dimensions."""
    room = window(kit.paper).inset(0.0, 2.0)
    cards = [card for card in gauge_cards(plan, kit) if _fits(card, room.inset(SIDE, 0.0), kit)]
    cards.sort(key=lambda card: -_size(card, kit)[1])
    shelves = _shelved(cards, room.inset(SIDE, 0.0), kit)
    placed = [(shelf.page, each) for shelf in shelves for each in _row(shelf, room, kit)]
    placed += _sticks(stick_rows(plan, kit, room.width), shelves[-1], room, kit)
    pages = max(page for page, _ in placed)
    return tuple(_sheet(kit, page, [each for own, each in placed if own == page]) for page in range(1, pages + 1))


def _sheet(kit: Kit, page: int, placed: Sequence[Placed]) -> Sheet:
    return Sheet(
        number=sheet_number("gauges", page), title=kit.words.text("gauges.title"), station=Station.P.word,
        kind=kit.words.text("gauges.kind"), subtitle=kit.words.text("gauges.subtitle"),
        scale_label=full_size(kit.system).label, full_size=True,
        marks=tuple(mark for card, dx, dy in placed for mark in shift(card.marks, dx, dy)),
        viewports=tuple(_viewport(card, dx, dy) for card, dx, dy in placed))


def _shelved(cards: Sequence[Card], room: Room, kit: Kit) -> list[_Shelf]:
    """First fit by falling height: each card in the first row with room for it, else in a new row."""
    shelves: list[_Shelf] = []
    foot: dict[int, float] = {}
    for card in cards:
        high = _size(card, kit)[1]
        shelf = next((s for s in shelves if high <= s.high and _width([*s.cards, card], kit) <= room.width), None)
        if shelf is None:
            page = next((p for p, low in foot.items() if low - high >= room.bottom), len(foot) + 1)
            shelf = _Shelf(page, foot.get(page, room.top), high, [])
            foot[page] = shelf.top - high - GAP
            shelves.append(shelf)
        shelf.cards.append(card)
    return sorted(shelves, key=lambda s: (s.page, -s.top))


def _row(shelf: _Shelf, room: Room, kit: Kit) -> list[Placed]:
    """The cards of a row parted evenly."""
    spare = (room.width - _width(shelf.cards, kit)) / (len(shelf.cards) + 1)
    placed: list[Placed] = []
    x = room.left
    for card in shelf.cards:
        left, _, right, high = bounds(card.marks, kit.lettering)
        x += spare
        placed.append((card, x - left, shelf.top - high))
        x += right - left + GAP
    return placed


def _sticks(rows: Sequence[Card], last: _Shelf, room: Room, kit: Kit) -> list[tuple[int, Placed]]:
    """Rows from below the last gauges on, one below the other at the left edge."""
    placed = []
    page, y = last.page, last.top - last.high - GAP
    for row in rows:
        high = _size(row, kit)[1]
        if y - high < room.bottom:
            page, y = page + 1, room.top
        left, _, _, top = bounds(row.marks, kit.lettering)
        placed.append((page, (row, room.left - left, y - top)))
        y -= high + BETWEEN
    return placed


def _width(row: Sequence[Card], kit: Kit) -> float:
    return sum(_size(card, kit)[0] for card in row) + GAP * (len(row) - 1)


def _size(card: Card, kit: Kit) -> tuple[float, float]:
    left, bottom, right, top = bounds(card.marks, kit.lettering)
    return (right - left, top - bottom)


def _fits(card: Card, room: Room, kit: Kit) -> bool:
    wide, high = _size(card, kit)
    return wide <= room.width and high <= room.height


def _viewport(card: Card, dx: float, dy: float) -> Viewport:
    left, bottom, right, top = card.measured
    rect: Rect = (left + dx, bottom + dy, right + dx, top + dy)
    return Viewport(rect, 1.0, card.name)
