"""One view of the relief map on paper: leaves, tape, cuts with number and length, what has no tape."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from packet.assembly.records import LeafKind, Point
from packet.assembly.unfolded import LaidLeaf
from packet.drawing.flow import paragraph
from packet.drawing.lettering import BODY_BOLD, FINE, FINE_BOLD, NUMBER, Style
from packet.drawing.marks import Anchor, Drawing, Line, Mark, Path, Text, rectangle
from packet.drawing.pens import VISIBLE, Pen
from packet.drawing.room import Room
from packet.drawing.symbols import FaceSide, circled, face_patch
from packet.drawing.view import Scale
from packet.sheets.kit import Kit
from packet.sheets.section_view import break_line
from packet.tape.relief_map import ReliefMap, Slit

SLIT = Pen(1.4)
TAPE_GREY = 0.86
FOLD = 3.0
"""mm of paper between two parts of a broken view."""
RADIUS = 3.3


@dataclass(frozen=True, slots=True)
class MapStyle:
    """How a view is lettered. In `narrow` leaves names and lengths stand below each other, and what is said of
    doors stands beside them. `on_sill`, `under_eave` and `on_eave` are the mm of paper that names and numbers need
    beyond the strips; `right` is the margin right of the view."""

    narrow: bool
    on_sill: float
    under_eave: float
    on_eave: float
    right: float


ROOMY = MapStyle(False, 17.5, 12.5, 12.0, 2.0)
NARROW_LEAVES = MapStyle(True, 20.0, 12.5, 9.5, 26.0)


@dataclass(frozen=True, slots=True)
class Axis:
    """Model heights to paper heights, with the middle of the walls and the top of the roof left out."""

    ratio: float
    foot: float
    kept: tuple[tuple[float, float], ...]

    def __call__(self, y: float) -> float:
        paper = self.foot
        for index, (low, high) in enumerate(self.kept):
            if y <= high or index == len(self.kept) - 1:
                return paper + (min(max(y, low), high) - low) / self.ratio
            paper += (high - low) / self.ratio + FOLD
        raise ValueError("an axis keeps at least one span")

    @property
    def height(self) -> float:
        return sum(high - low for low, high in self.kept) / self.ratio + FOLD * (len(self.kept) - 1)


class MapView:
    """One view of the map on paper."""

    def __init__(
        self,
        kit: Kit,
        each: ReliefMap,
        scale: Scale,
        style: MapStyle,
        axis: Axis,
        left: float,
        mates: dict[str, tuple[str, ...]],
    ) -> None:
        self._kit, self._map, self._scale, self._style, self._axis = kit, each, scale, style, axis
        self._left, self._mates, self._lettering = left, mates, kit.lettering

    def marks(self, room: Room) -> Drawing:
        words = self._kit.words
        heading = words.text(f"relief.{self._map.face}")
        patch_right = room.left + 24.0
        marks: list[Mark] = list(
            face_patch(
                FaceSide(self._map.face.value.upper()),
                words.name(self._map.face).upper(),
                (room.left, room.top - 7.0, patch_right, room.top),
                self._lettering,
            )
        )
        marks.append(Text((patch_right + 3.0, room.top - 3.5 - BODY_BOLD.height / 2), heading, BODY_BOLD))
        for area in self._map.tapes:
            marks.append(Path(self._clipped(area), None, TAPE_GREY))
        for leaf in self._map.leaves:
            marks += self._leaf(leaf)
        for leaf in self._map.leaves:
            marks += self._names(leaf)
        marks += self._breaks()
        marks += self._edges()
        for slit in self._map.slits:
            marks += self._slit(slit)
        return tuple(marks)

    def _x(self, x: float) -> float:
        return self._left + x / self._scale.ratio

    def _clipped(self, area: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((self._x(x), self._axis(y)) for x, y in area)

    def _leaf(self, leaf: LaidLeaf) -> Drawing:
        """The outline within the spans that are kept."""
        marks: list[Mark] = []
        for a, b in zip(leaf.outline, leaf.outline[1:] + leaf.outline[:1], strict=True):
            for low, high in self._axis.kept:
                part = _within(a, b, low, high)
                if part:
                    (xa, ya), (xb, yb) = part
                    marks.append(
                        Line((self._x(xa), self._at(ya, low, high)), (self._x(xb), self._at(yb, low, high)), VISIBLE)
                    )
        return tuple(marks)

    def _breaks(self) -> Drawing:
        """A zigzag through each wall at the edges of what is left out."""
        marks: list[Mark] = []
        kept = self._axis.kept
        for leaf in self._map.leaves:
            if leaf.kind is LeafKind.ROOF:
                continue
            left, right = sorted(self._x(x) for x, _ in leaf.base)
            top = max(y for _, y in leaf.outline)
            # The top of a roof is cut off without a line.
            levels = [(y, (low, high)) for low, high in kept for y in (low, high) if kept[0][0] < y < top]
            for y, span in levels:
                marks.append(break_line((left, self._at(y, *span)), (right, self._at(y, *span)), (0.0, 0.5)))
        return tuple(marks)

    def _at(self, y: float, low: float, high: float) -> float:
        """Paper height of a point within one kept span."""
        paper = self._axis.foot
        for span in self._axis.kept:
            if span == (low, high):
                return paper + (y - low) / self._axis.ratio
            paper += (span[1] - span[0]) / self._axis.ratio + FOLD
        raise ValueError("not a span of this axis")

    def _names(self, leaf: LaidLeaf) -> Drawing:
        """The leaf's marks, and in words what has no tape."""
        marks_of = self._mates.get(leaf.mark, (leaf.mark,))
        left, right = sorted(self._x(x) for x, _ in leaf.base)
        if leaf.kind is LeafKind.ROOF:
            return self._roof_names(leaf, marks_of)
        below = self._map.eave - reaches(self._map)[1] - self._style.under_eave * self._scale.ratio
        top = self._axis(min(self._axis.kept[0][1], below)) - 2.4
        lines = list(marks_of) if self._style.narrow else [", ".join(marks_of)]
        style = min((self._largest(line, (right - left) * 0.8) for line in lines), key=lambda s: s.height)
        if self._style.narrow:
            style = FINE_BOLD
        found: list[Mark] = [
            Text(((left + right) / 2, top - style.height - i * 1.36 * style.height), line, style, "centre")
            for i, line in enumerate(lines)
        ]
        if leaf.door:
            found += self._door_words(leaf, left, right)
        return tuple(found)

    def _door_words(self, leaf: LaidLeaf, left: float, right: float) -> Drawing:
        """What has no tape: inside the leaf, or beside it where leaves are narrow (a door ends its row)."""
        eave, sill = self._axis(self._map.eave), self._axis(0.0)
        wide, at = right - left - 2.0, left + 1.0
        align: Anchor = "centre"
        if self._style.narrow:
            wide = self._style.right - 2.0
            first = left - self._left < 1.0
            at, align = (left - 1.5 - wide, "right") if first else (right + 1.5, "left")
        marks: Drawing = ()
        for text, hangs in zip(words_of_door(leaf, self._mates, self._kit), (True, False), strict=True):
            block = paragraph((0.0, 0.0), wide, text, FINE_BOLD, self._lettering, align)
            marks += block.moved((at, eave - 1.0 if hangs else sill + 0.5 + block.height)).marks
        return marks

    def _roof_names(self, leaf: LaidLeaf, marks_of: tuple[str, ...]) -> Drawing:
        """One below the other above the strip, between mid edge and hip."""
        foot = self._map.eave + self._map.band + reaches(self._map)[1]
        for style, clear in ((BODY_BOLD, 2.0), (FINE_BOLD, 1.0)):
            pitch = 1.35 * style.height
            tall = 1.6 + pitch * (len(marks_of) - 1) + style.height
            span = _from_mid_to_hip(leaf, foot + tall * self._scale.ratio)
            if not span:
                continue
            mid, hip = (self._x(x) for x in span)
            if max(self._lettering.width(mark, style) for mark in marks_of) < abs(hip - mid) - clear:
                base = self._axis(foot) + 1.6
                return tuple(
                    Text(((mid + hip) / 2, base + pitch * (len(marks_of) - 1 - i)), mark, style, "centre")
                    for i, mark in enumerate(marks_of)
                )
        return ()  # too narrow: a roof leaf stands over its wall and has the wall's mark and an R

    def _largest(self, text: str, wide: float, styles: tuple[Style, ...] = (NUMBER, BODY_BOLD, FINE_BOLD)) -> Style:
        return next((s for s in styles if self._lettering.width(text, s) < wide), styles[-1])

    def _edges(self) -> Drawing:
        """Lines and words for the board edges that carry tape, left of the view."""
        words, each = self._kit.words, self._map
        right = self._x(max(point[0] for leaf in each.leaves for point in leaf.outline))
        door_first = any(leaf.door and min(x for x, _ in leaf.outline) < 1.0 for leaf in each.leaves)
        marks: list[Mark] = []
        anchor: Anchor
        for key, low, high in (("sill_edge", -each.sill_edge, 0.0), ("eave_edges", each.eave, each.eave + each.band)):
            if high - low < 1e-6:
                continue
            y = (self._axis(low) + self._axis(high)) / 2
            # Beside the view, on the side that has no words on a door.
            x, anchor = (right + 2.0, "left") if self._style.narrow and door_first else (self._left - 2.0, "right")
            marks.append(Text((x, y - FINE.height / 2), words.text(f"relief.{key}"), FINE, anchor))
        return tuple(marks)

    def _slit(self, slit: Slit) -> Drawing:
        """The cut, its number and its length, in the wall beside the strip."""
        x, low, high = self._x(slit.x), self._axis(slit.low), self._axis(slit.high)
        sill, eave = reaches(self._map)
        on_sill = slit.cut.along == "sill"
        centre = self._axis(sill) + 1.0 + RADIUS if on_sill else self._axis(self._map.eave - eave) - 1.0 - RADIUS
        text = self._kit.form.length(slit.cut.length)
        style: Style = FINE_BOLD if self._style.narrow else BODY_BOLD
        wide, half = self._lettering.width(text, style), style.height / 2
        middle = (x + RADIUS + 1.2 + wide / 2, centre)
        if self._style.narrow:
            middle = (x, centre + (RADIUS + 1.0 + half) * (1 if on_sill else -1))
        box = (middle[0] - wide / 2 - 0.4, middle[1] - half - 0.5, middle[0] + wide / 2 + 0.4, middle[1] + half + 0.5)
        length: Drawing = (rectangle(box, None, 1.0), Text((middle[0], middle[1] - half), text, style, "centre"))
        if self._style.narrow and wide + 1.5 > self._pitch():
            length = ()  # too narrow: the list of cuts gives the lengths by number
        return (
            Line((x, low), (x, high), SLIT),
            *length,
            *circled((x, centre), str(slit.number), self._lettering, RADIUS, FINE_BOLD),
        )

    def _pitch(self) -> float:
        """Least distance on paper between neighbouring eave cuts on this face."""
        xs = sorted(self._x(slit.x) for slit in self._map.slits if slit.cut.along == "eave")
        return min((b - a for a, b in itertools.pairwise(xs)), default=1e9)


def words_of_door(leaf: LaidLeaf, mates: dict[str, tuple[str, ...]], kit: Kit) -> tuple[str, str]:
    """What is not taped at a door's eave and at its sill."""
    roof = ", ".join(mates.get(f"{leaf.mark}R", (f"{leaf.mark}R",)))
    return (kit.words.text("relief.no_eave", roof=roof), kit.words.text("relief.no_sill"))


def reaches(each: ReliefMap) -> tuple[float, float]:
    """How far sill and eave strips reach over the faces, mm."""
    points = [point for area in each.tapes for point in area]
    middle = each.eave / 2
    return (
        max((y for _, y in points if y < middle), default=0.0),
        max((each.eave - y for _, y in points if middle < y < each.eave), default=0.0),
    )


def _from_mid_to_hip(leaf: LaidLeaf, level: float) -> tuple[float, float] | None:
    """x of a roof leaf's mid edge and of its hip at a level; None above the tip."""
    foot, tip = sorted(leaf.edge("hip"), key=lambda point: point[1])
    if not foot[1] <= level <= tip[1]:
        return None
    share = (level - foot[1]) / (tip[1] - foot[1])
    return leaf.edge("mid")[0][0], foot[0] + share * (tip[0] - foot[0])


def _within(a: Point, b: Point, low: float, high: float) -> tuple[Point, Point] | None:
    """The piece of a line between two heights."""
    if abs(b[1] - a[1]) < 1e-9:
        return (a, b) if low - 1e-9 <= a[1] <= high + 1e-9 else None
    places = sorted(((low - a[1]) / (b[1] - a[1]), (high - a[1]) / (b[1] - a[1])))
    start, stop = max(0.0, places[0]), min(1.0, places[1])
    if stop - start < 1e-9:
        return None

    def at(share: float) -> Point:
        return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))

    return at(start), at(stop)
