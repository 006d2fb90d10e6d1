"""Openings: every leaf that has one, on its marked face, with running dimensions from its datum corner."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from packet.assembly.opening_marks import OpeningMarks, datum_edges, opening_marks, stations
from packet.assembly.records import Leaf, Opening
from packet.drawing.dimension import running
from packet.drawing.flow import Block, paragraph, stack, steps
from packet.drawing.lettering import BODY, FINE_BOLD, HEAD, LARGE, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Rect, Text, bounds, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import CENTRE, VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import FaceSide, circled, datum_corner, face_patch
from packet.drawing.view import Scale, series
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.panels import GAP, Page, Panel, Picture, pages, ticked
from packet.tape.strips import Role, Strip
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

OFF = 9.0
"""mm from the outline to the running dimensions."""
CROSS = 3.0
"""mm that centre lines run past an opening."""
RADIUS = 3.6
"""mm, of the circled number in an opening."""
WAYS = ((True, 74.0), (False, 84.0), (False, 62.0), (False, 46.0))
"""Whether the list of a leaf's openings stands under or beside it, and the mm of width it takes: best to read first."""
PATCH = 20.0
"""mm of width of the face word in a leaf."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Leaves with openings, several to a page as they fit; none where nothing is opened."""
    leaves = tuple(leaf for leaf in plan.assembly.leaves if leaf.openings)
    if not leaves:
        return ()
    large, plain = (_Openings(plan, kit, leaves, style).laid_out() for style in (LARGE, BODY))
    if plain is None:
        raise LayoutError("a leaf with its openings does not fit this paper at any scale")
    # Larger words where the leaves lose nothing by them.
    chosen = large if large and large.scale == plain.scale and len(large.pages) <= len(plain.pages) else plain
    return tuple(_sheet(kit, page, number, chosen.scale) for number, page in enumerate(chosen.pages, 1))


@dataclass(frozen=True, slots=True)
class _LaidOut:
    """The pages of all leaves at one scale."""

    scale: Scale
    pages: tuple[Page, ...]


class _Openings:
    def __init__(self, plan: Plan, kit: Kit, leaves: tuple[Leaf, ...], style: Style) -> None:
        self._plan, self._kit, self._leaves, self._style = plan, kit, leaves, style
        self._lettering, self._form = kit.lettering, kit.form

    def laid_out(self) -> _LaidOut | None:
        """The leaves with the rules at the foot of each page; where none fits above them, the rules have their own page.
        None where a leaf does not fit at any scale."""
        room = self._kit.room
        foot = self._rules(room.width)
        below, above = room.cut_bottom(foot.height, 5.0)
        if chosen := self._scaled(above):
            scale, drawn = chosen
            rules = foot.moved(below.top_left).marks
            return _LaidOut(scale, tuple(Page((*page.marks, *rules), page.views) for page in drawn))
        if not (chosen := self._scaled(room)):
            return None
        scale, drawn = chosen
        return _LaidOut(scale, (*drawn, Page(foot.moved(room.top_left).marks, ())))

    def _scaled(self, room: Room) -> tuple[Scale, tuple[Page, ...]] | None:
        """The largest scale at which every leaf fits the room with its words, or the next where that saves a page."""
        found: list[tuple[Scale, tuple[Page, ...]]] = []
        for scale in series(self._kit.system):
            if not self._clear(scale) or len(found) == 2:
                break
            laid = [drawn for ways in (WAYS, WAYS[::-1]) if (drawn := self._laid(scale, room, ways))]
            if laid:
                found.append((scale, min(laid, key=len)))
        return min(found, key=lambda each: len(each[1])) if found else None

    def _laid(self, scale: Scale, room: Room, ways: tuple[tuple[bool, float], ...]) -> tuple[Page, ...]:
        """The leaves on pages, each set in the first of the ways that fits; none where one fits in no way."""
        panels = []
        for leaf in self._leaves:
            picture, rect = self._picture(leaf, scale)
            cards = (self._card(leaf, picture, under, wide) for under, wide in ways)
            card = next((each for each in cards if self._fits(each, room)), None)
            if card is None:
                return ()
            panels.append(Panel(Picture.of(card, self._lettering, rect), None, 0.0))
        return pages(panels, room)

    def _card(self, leaf: Leaf, picture: Drawing, under: bool, least: float) -> Drawing:
        """A leaf with its words under or beside it, `least` mm wide."""
        left, bottom, right, top = bounds(picture, self._lettering)
        wide = max(right - left, least) if under else least
        words = self._list(leaf, wide)
        at = ((left + right - wide) / 2, bottom - GAP) if under else (right + GAP, (top + bottom + words.height) / 2)
        return (*picture, *words.moved(at).marks)

    def _fits(self, marks: Drawing, room: Room) -> bool:
        left, bottom, right, top = bounds(marks, self._lettering)
        return right - left <= room.width and top - bottom <= room.height

    def _clear(self, scale: Scale) -> bool:
        """Whether an opening is large enough on paper to be seen as what it is."""
        return all(min(o.width, o.height) / scale.ratio > 1.0 for leaf in self._leaves for o in leaf.openings)

    # --- a leaf ----------------------------------------------------------------------------------

    def _picture(self, leaf: Leaf, scale: Scale) -> tuple[Drawing, Rect]:
        """A leaf with its openings and dimensions, and the rectangle of it that is to scale."""

        def at(x: float, y: float) -> tuple[float, float]:
            return (x / scale.ratio, y / scale.ratio)

        sign = leaf.hand.sign
        outline = tuple(at(*point) for point in leaf.outline)
        placed = opening_marks(leaf)
        marks: list[Mark] = [Path(outline, VISIBLE, 1.0)]
        for number, each in enumerate(placed, 1):
            marks += self._opening(each.opening, scale)
            if len(placed) > 1:
                marks += circled(self._beside(leaf, each.opening, scale), str(number), self._lettering, RADIUS, FINE_BOLD)
        marks += self._running(leaf, placed, scale)
        marks += datum_corner((0.0, 0.0), (-sign, -1.0), 5.0)
        xs, ys = [p[0] for p in outline], [p[1] for p in outline]
        # Crowded dimensions may rise over the leaf; the name stands over them.
        top = max(max(ys), bounds(tuple(marks), self._lettering)[3])
        marks += self._names(leaf, (min(xs) + max(xs)) / 2, top)
        return tuple(marks), (min(xs), min(ys), max(xs), max(ys))

    def _opening(self, opening: Opening, scale: Scale) -> Drawing:
        """The hole with its centre lines."""
        x, y = opening.x / scale.ratio, opening.y / scale.ratio
        wide, high = opening.width / scale.ratio / 2, opening.height / scale.ratio / 2
        shape: Mark = (
            Circle((x, y), wide, VISIBLE, 0.88)
            if opening.round
            else rectangle((x - wide, y - high, x + wide, y + high), VISIBLE, 0.88)
        )
        return (
            shape,
            Line((x - wide - CROSS, y), (x + wide + CROSS, y), CENTRE),
            Line((x, y - high - CROSS), (x, y + high + CROSS), CENTRE),
        )

    def _beside(self, leaf: Leaf, opening: Opening, scale: Scale) -> tuple[float, float]:
        """Where the opening's number stands: in a corner of it, or on a side where nothing else is."""
        wide, high = opening.width / scale.ratio / 2, opening.height / scale.ratio / 2
        x, y = opening.x / scale.ratio, opening.y / scale.ratio
        if min(wide, high) > 2 * RADIUS + 1.0:
            return (x + wide / 2, y + high / 2)
        out = CROSS + RADIUS + 0.5
        places = ((x, y + high + out), (x, y - high - out), (x + wide + out, y), (x - wide - out, y))
        return max(places, key=lambda place: self._free(leaf, opening, place, scale))

    def _free(self, leaf: Leaf, opening: Opening, place: tuple[float, float], scale: Scale) -> float:
        """Paper mm from a place to the nearest other opening or edge of the leaf's extent, up to what a number needs."""
        xs, ys = [x / scale.ratio for x, _ in leaf.outline], [y / scale.ratio for _, y in leaf.outline]
        px, py = place
        gaps = [px - min(xs), max(xs) - px, py - min(ys), max(ys) - py]
        for other in leaf.openings:
            if other is not opening:
                dx = abs(px - other.x / scale.ratio) - other.width / scale.ratio / 2
                dy = abs(py - other.y / scale.ratio) - other.height / scale.ratio / 2
                gaps.append(max(dx, dy))
        return min(*gaps, 2 * RADIUS)

    def _running(self, leaf: Leaf, placed: tuple[OpeningMarks, ...], scale: Scale) -> Drawing:
        """Across below the leaf, up beside its datum edge; a mid right leaf runs to the left."""
        sign, form = leaf.hand.sign, self._form
        wide = max(sign * x for x, _ in leaf.outline)
        high = max(y for _, y in leaf.outline)
        across = stations(tuple(each.across for each in placed), wide)
        up = stations(tuple(each.up for each in placed), high)
        return (
            *running((0.0, 0.0), "x", [(sign * d / scale.ratio, form.length(d)) for d in across], -OFF,
                     self._lettering, NUMBER),
            *running((0.0, 0.0), "y", [(d / scale.ratio, form.length(d)) for d in up], -sign * OFF,
                     self._lettering, NUMBER, reading="across"),
        )

    def _names(self, leaf: Leaf, middle: float, top: float) -> Drawing:
        """The leaf's mark and its marked face, over the leaf."""
        wide = self._lettering.width(leaf.mark, HEAD)
        start = middle - (wide + 3.0 + PATCH) / 2
        patch = (start + wide + 3.0, top + 2.5, start + wide + 3.0 + PATCH, top + 9.0)
        return (
            Text((start, top + 3.0), leaf.mark, HEAD),
            *face_patch(FaceSide(leaf.marked_face.value.upper()), self._kit.words.name(leaf.marked_face).upper(), patch,
                        self._lettering),
        )

    # --- words -----------------------------------------------------------------------------------

    def _list(self, leaf: Leaf, width: float) -> Block:
        """Where the leaf's distances run from; then each opening with its size, its centre and its seal."""
        words = self._kit.words
        side, foot = datum_edges(leaf)
        lines = [words.text("openings.from", mark=leaf.mark, side=side, foot=foot)]
        for number, each in enumerate(opening_marks(leaf), 1):
            lines.append(words.text("openings.each", **self._values(leaf, each, number)))
        told = [paragraph((0.0, 0.0), width, line, self._style, self._lettering) for line in lines]
        return stack((0.0, 0.0), told, 1.0, width)

    def _values(self, leaf: Leaf, each: OpeningMarks, number: int) -> dict[str, Any]:
        opening = each.opening
        seal = self._seals(leaf)[number - 1]
        return {
            "number": number if len(leaf.openings) > 1 else 0, "kind": opening.kind, "round": opening.round,
            "width": opening.width, "height": opening.height, "across": each.across.centre, "up": each.up.centre,
            "leaf": leaf.mark, "length": seal.length,
        }

    def _seals(self, leaf: Leaf) -> list[Strip]:
        """The seal strips of a leaf's openings, in the order of the openings."""
        edges = {f"{leaf.mark} {name}" for name in leaf.edges}
        return [s for s in self._plan.strips if s.role is Role.SEAL and s.leaves == (leaf.mark,) and s.edge not in edges]

    def _rules(self, width: float) -> Block:
        """What holds for all of them, in two columns."""
        words = self._kit.words
        left = (width - GAP) * 0.56
        right = width - GAP - left
        seal = self._seals(self._leaves[0])[0]
        limit = self._plan.description.limits.cut
        do = steps((0.0, 0.0), left, words.texts("openings.steps", seal=seal.width), self._lettering, self._style)
        check = ticked(right, words.texts("openings.check", limit=limit), self._style, self._lettering)
        return Block((*do.marks, *check.moved((left + GAP, 0.0)).marks), (0.0, 0.0), width, max(do.height, check.height))


def _sheet(kit: Kit, page: Page, number: int, scale: Scale) -> Sheet:
    words = kit.words
    return Sheet(
        number=sheet_number("openings", number),
        title=words.text("openings.title"),
        subtitle=words.text("openings.subtitle"),
        station=Station.E.word,
        kind=words.text("openings.kind"),
        marks=page.marks,
        scale_label=scale.label,
        viewports=page.viewports(scale.ratio, "leaf"),
    )
