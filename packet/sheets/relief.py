"""Relief map: a half laid flat, inner and outer view one above the other, every cut at its place; then the list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby

from packet.assembly.records import LeafKind, Point
from packet.assembly.unfolded import LaidLeaf, alike
from packet.description.terms import Face
from packet.drawing.dimension import linear
from packet.drawing.flow import paragraph, wrap
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, NUMBER, Style
from packet.drawing.marks import Anchor, Drawing, Line, Mark, Path, Text, Viewport, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import NARROW, VISIBLE, Pen
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import FaceSide, circled, face_patch
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.drawing.view import Scale, pick_scale, series
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.numbers import sheet_number
from packet.sheets.panels import ticked
from packet.sheets.section_view import break_line
from packet.tape.relief import Part, ReliefCut
from packet.tape.relief_map import ReliefMap, Slit, numbered_cuts, parted, relief_map
from packet.work.stations import Station

SLIT = Pen(1.4)
TAPE_GREY = 0.86
MARGIN = 22.0
"""mm left of a view for the words on its edges."""
HEADING = 8.0
FOLD = 3.0
"""mm of paper between two parts of a broken view."""
RADIUS = 3.3


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A map per half, one for all halves that are alike, and the list of cuts."""
    return _Relief(plan, kit).sheets()


@dataclass(frozen=True, slots=True)
class _Style:
    """How a view is lettered. In `narrow` leaves names and lengths stand below each other, and what is said of
    doors stands beside them. `on_sill`, `under_eave` and `on_eave` are the mm of paper that names and numbers need
    beyond the strips; `right` is the margin right of the view."""

    narrow: bool
    on_sill: float
    under_eave: float
    on_eave: float
    right: float


_Fit = tuple[Scale, _Style, list["_Axis"]]

ROOMY = _Style(False, 17.5, 12.5, 12.0, 2.0)
NARROW_LEAVES = _Style(True, 20.0, 12.5, 9.5, 26.0)
MOST_PARTS = 6
"""Sheets that the map of one half may take side by side."""


@dataclass(frozen=True, slots=True)
class _Axis:
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


class _Relief:
    def __init__(self, plan: Plan, kit: Kit) -> None:
        self._plan, self._kit = plan, kit
        self._lettering = kit.lettering
        self._mates = self._alike()
        self._halves = plan.assembly.halves[:1] if self._mates else plan.assembly.halves

    def _alike(self) -> dict[str, tuple[str, ...]]:
        """Marks of all halves by the first half's; empty when halves or their cuts differ."""
        assembly = self._plan.assembly
        try:
            mates = alike(assembly)
        except ValueError:
            return {}
        shapes = {tuple((cut.face, cut.along, round(cut.length, 6), cut.parts) for _, cut in self._cuts(half))
                  for half in assembly.halves}
        return mates if len(shapes) == 1 else {}

    def _cuts(self, half: str) -> tuple[tuple[int, ReliefCut], ...]:
        return numbered_cuts(self._plan.assembly, self._plan.relief, half)

    def sheets(self) -> tuple[Sheet, ...]:
        found: list[Sheet] = []
        for half in self._halves:
            found += self._map_sheets(half, len(found) + 1)
            found += self._list_sheets(half, len(found) + 1)
        return tuple(found)

    # --- the map ---------------------------------------------------------------------------------

    def _map_sheets(self, half: str, page: int) -> list[Sheet]:
        """The half in one map, or in as few parts side by side as are legible."""
        maps = [relief_map(self._plan.assembly, self._plan.strips, self._plan.relief, half, face)
                for face in (Face.INNER, Face.OUTER)]
        foot, above = self._kit.room.cut_bottom(BODY.height * 1.7, 2.0)
        for parts in range(1, MOST_PARTS + 1):
            split = [parted(each, parts) for each in maps]
            # The outer view is mirrored: its last part shows the leaves of the inner view's first.
            pairs = list(zip(split[0], reversed(split[1]), strict=True))
            fitted = [self._fitted(list(pair), above) for pair in pairs]
            if all(fitted):
                count = page + len(pairs)
                return [self._map_sheet(half, page + i, count, list(pair), fit, foot, above)
                        for i, (pair, fit) in enumerate(zip(pairs, fitted, strict=True)) if fit]
        raise LayoutError("the relief map does not fit this paper at any scale")

    def _map_sheet(self, half: str, page: int, list_page: int, maps: list[ReliefMap], fitted: _Fit, foot: Room,
                   above: Room) -> Sheet:
        scale, style, axes = fitted
        marks: Drawing = ()
        views = []
        spare = above.height - sum(axis.height + HEADING for axis in axes)
        top = above.top
        for each, axis in zip(maps, axes, strict=True):
            room = Room(above.left, top - HEADING - axis.height, above.right, top)
            drawn, rect = self._view(each, room, scale, style, axis)
            marks += drawn
            views.append(Viewport(rect, scale.ratio, f"{each.face} view"))
            top = room.bottom - spare
        words = self._kit.words
        note = words.text("relief.alike", count=len(self._cuts(half)), list=sheet_number("relief", list_page))
        marks += paragraph(foot.top_left, foot.width, note, BODY, self._lettering).marks
        return self._sheet("", half, page, marks, scale.label, tuple(views))

    def _fitted(self, maps: list[ReliefMap], room: Room) -> _Fit | None:
        """The largest standard scale at which both views fit, whole or with their middles left out."""
        wide = max(point[0] for leaf in maps[0].leaves for point in leaf.outline)
        most = room.height - 2 * HEADING - 4.0
        for scale in series(self._kit.system):
            style = ROOMY if self._roomy(maps, self._plan.geometry.leaf_width / scale.ratio) else NARROW_LEAVES
            if wide / scale.ratio > room.width - max(MARGIN, style.right) - style.right:
                continue
            for broken in (False, True):
                axes = [self._axis(each, scale, style, broken) for each in maps]
                if sum(axis.height for axis in axes) <= most and self._clear(maps, scale, style):
                    return scale, style, self._grown(maps, scale, style, axes, most) if broken else axes
        return None

    def _grown(self, maps: list[ReliefMap], scale: Scale, style: _Style, axes: list[_Axis], most: float) -> list[_Axis]:
        """Broken views that show as much more as the page has room for."""
        more = (most - sum(axis.height for axis in axes)) / (3 * len(maps))
        grown = replace(style, on_sill=style.on_sill + more, under_eave=style.under_eave + more, on_eave=style.on_eave + more)
        return [self._axis(each, scale, grown, True) for each in maps]

    def _clear(self, maps: list[ReliefMap], scale: Scale, style: _Style) -> bool:
        """Whether the wall is high enough on paper, and a leaf wide enough, for names and numbers."""
        free = min(each.eave - sum(_reaches(each)) for each in maps) / scale.ratio
        return (free >= style.on_sill + style.under_eave
                and self._plan.geometry.leaf_width / scale.ratio > 2 * RADIUS + 1.5)

    def _roomy(self, maps: list[ReliefMap], wide: float) -> bool:
        """Whether a leaf of that width on paper holds its names in one line, a number with its length, and the
        words of a door in two lines."""
        lettering = self._lettering
        names = [", ".join(self._mates.get(leaf.mark, (leaf.mark,))) for leaf in maps[0].leaves
                 if leaf.kind is LeafKind.WALL]
        lengths = [self._plan.form.length(cut.length) for cut in self._plan.relief]
        doors = [text for leaf in maps[0].leaves if leaf.door for text in _of_door(leaf, self._mates, self._kit)]
        return (max(lettering.width(name, FINE_BOLD) for name in names) < wide * 0.8
                and max(lettering.width(text, BODY_BOLD) for text in lengths) + 2 * RADIUS + 3.0 < wide
                and max(len(wrap(text, wide - 2.0, FINE_BOLD, lettering)) for text in doors) <= 2)

    def _axis(self, each: ReliefMap, scale: Scale, style: _Style, broken: bool) -> _Axis:
        top = max(point[1] for leaf in each.leaves for point in leaf.outline)
        low = -each.sill_edge
        if not broken:
            return _Axis(scale.ratio, 0.0, ((low, top),))
        sill, eave = _reaches(each)
        kept = [(low, min(sill + style.on_sill * scale.ratio, each.eave)),
                (max(0.0, each.eave - eave - style.under_eave * scale.ratio),
                 min(top, each.eave + each.band + eave + style.on_eave * scale.ratio))]
        if kept[0][1] >= kept[1][0]:
            kept = [(low, kept[1][1])]
        return _Axis(scale.ratio, 0.0, tuple(kept))

    def _view(self, each: ReliefMap, room: Room, scale: Scale, style: _Style,
              axis: _Axis) -> tuple[Drawing, tuple[float, float, float, float]]:
        axis = _Axis(axis.ratio, room.bottom, axis.kept)
        wide = max(point[0] for leaf in each.leaves for point in leaf.outline) / scale.ratio
        left = max(room.centre[0] - wide / 2, room.left + max(MARGIN, style.right))
        drawn = _Drawn(self._kit, each, scale, style, axis, left, self._mates)
        return drawn.marks(room), (left, room.bottom, left + wide, room.bottom + axis.height)

    # --- the list --------------------------------------------------------------------------------

    def _list_sheets(self, half: str, page: int) -> list[Sheet]:
        words, room = self._kit.words, self._kit.room
        count = len(self._cuts(half))
        parts = room.columns(1, 1, gap=6.0)
        rules = [ticked(part.width, [text], BODY, self._lettering)
                 for part, text in zip(parts, words.texts("relief.rules", count=count), strict=True)]
        foot, above = room.cut_bottom(max(rule.height for rule in rules), 4.0)
        widths = spread(room.width, 82, 104, 54)
        scale = self._strip_scale(half, widths[1] - 4.0)
        columns = [Column(width) for width in widths]
        rows = self._rows(half, scale)
        header = list(words.entry("relief.header"))
        sheets = []
        while rows:
            last = fit(columns, rows, header, above.height, self._lettering) == len(rows)
            fitting = len(rows) if last else fit(columns, rows, header, room.height, self._lettering)
            if not fitting:
                raise LayoutError("a row of the relief list is taller than the page")
            # Rows that would just fill the page leave one for the rules.
            fitting = fitting if last else min(fitting, len(rows) - 1)
            marks = table(above.top_left, columns, rows[:fitting], header, self._lettering).marks
            if last:
                marks += tuple(mark for part, rule in zip(parts, rules, strict=True)
                               for mark in rule.moved((part.left, foot.top)).marks)
            sheets.append(self._sheet("_list", half, page + len(sheets), marks, scale.label))
            rows = rows[fitting:]
        return sheets

    def _strip_scale(self, half: str, width: float) -> Scale:
        widest = max(sum(length for _, length, _ in self._zones(cut)) for _, cut in self._cuts(half))
        return pick_scale(self._kit.system, (widest, 1.0), (width, 10.0))

    def _rows(self, half: str, scale: Scale) -> list[list[Cell]]:
        """One row for all cuts of one kind, sill strips first."""
        def kind(entry: tuple[int, ReliefCut]) -> tuple[bool, str, str, tuple[tuple[Part, float], ...]]:
            cut = entry[1]
            return (cut.along != "sill", cut.along, str(cut.face), cut.parts)

        words = self._kit.words
        rows: list[list[Cell]] = []
        for _, group in groupby(sorted(self._cuts(half), key=kind), kind):
            cuts = list(group)
            cut = cuts[0][1]
            entries = [words.text("relief.entry", number=f"**{number}**", marks="/".join(each.between))
                       for number, each in cuts]
            where = words.text("relief.where", along=words.text(f"relief.along.{cut.along}"),
                               face=cut.face.value.upper(), entries=entries)
            why = ", ".join(words.text(f"relief.reason.{reason}") for reason in cut.reasons)
            rows.append([where, self._strip(cut, scale), why])
        return rows

    def _zones(self, cut: ReliefCut) -> list[tuple[str, float, bool]]:
        """What the strip lies on across its width: word, mm, cut or not."""
        strip = next(s for s in self._plan.strips if s.mark == cut.strip)
        parts = {part for part, _ in cut.parts}
        t, land = self._plan.assembly.thickness, strip.land
        word = {part: self._kit.words.text(f"relief.part.{part}") for part in Part}
        if cut.along == "sill":
            faces = [(face.value.upper(), land, face is cut.face) for face in (Face.INNER, Face.OUTER)]
            return [faces[0], (word[Part.EDGE], t, Part.EDGE in parts), faces[1]]
        zones = [(word[Part.WALL], land, Part.WALL in parts), (word[Part.ROOF], land, Part.ROOF in parts)]
        if strip.role == "wrap":
            zones.insert(1, (self._kit.words.text("relief.part.edges"), 2 * t, Part.EDGE in parts))
        return zones

    def _strip(self, cut: ReliefCut, scale: Scale) -> Drawing:
        """The strip cut across its length: what it lies on, and the slit with its length."""
        high, x, form = 7.0, 0.0, self._plan.form
        marks: list[Mark] = []
        slit: list[float] = []
        for word, length, through in self._zones(cut):
            wide = length / scale.ratio
            marks.append(rectangle((x, 0.0, x + wide, high), NARROW, TAPE_GREY if through else 1.0))
            style = FINE_BOLD if through else FINE
            figure = form.length(length)
            inside = f"{word} {figure}"
            if self._lettering.width(inside, style) > wide - 0.6:
                inside = word
                marks.append(Text((x + wide / 2, -1.0 - FINE.height), figure, style, "centre"))
            if self._lettering.width(inside, style) < wide:
                marks.append(Text((x + wide / 2, high - 0.9 - style.height), inside, style, "centre"))
            if through:
                slit += [x, x + wide]
            x += wide
        marks.append(Line((min(slit), 1.5), (max(slit), 1.5), SLIT))
        marks += linear((min(slit), high), (max(slit), high), 3.0, form.length(cut.length), self._lettering)
        return tuple(marks)

    def _sheet(self, key: str, half: str, page: int, marks: Drawing, label: str,
               views: tuple[Viewport, ...] = ()) -> Sheet:
        words = self._kit.words
        halves = self._plan.assembly.halves if self._mates else (half,)
        named = words.text("relief.halves", halves=halves)
        return Sheet(number=sheet_number("relief", page), title=words.text(f"relief.title{key}"),
                     subtitle=words.text(f"relief.subtitle{key}", halves=named), station=Station.E.word,
                     kind=words.text("relief.kind"), subject=named, marks=marks, scale_label=label, viewports=views)


class _Drawn:
    """One view of the map on paper."""

    def __init__(self, kit: Kit, each: ReliefMap, scale: Scale, style: _Style, axis: _Axis, left: float,
                 mates: dict[str, tuple[str, ...]]) -> None:
        self._kit, self._map, self._scale, self._style, self._axis = kit, each, scale, style, axis
        self._left, self._mates, self._lettering = left, mates, kit.lettering

    def marks(self, room: Room) -> Drawing:
        words = self._kit.words
        heading = words.text(f"relief.{self._map.face}")
        patch_right = room.left + 24.0
        marks: list[Mark] = list(face_patch(FaceSide(self._map.face.value.upper()),
                                            (room.left, room.top - 7.0, patch_right, room.top), self._lettering))
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
                    marks.append(Line((self._x(xa), self._at(ya, low, high)), (self._x(xb), self._at(yb, low, high)), VISIBLE))
        return tuple(marks)

    def _breaks(self) -> Drawing:
        """A zigzag through each wall on both sides of what is left out."""
        marks: list[Mark] = []
        for lower, upper in zip(self._axis.kept, self._axis.kept[1:], strict=False):
            for y in (self._at(lower[1], *lower), self._at(upper[0], *upper)):
                for leaf in self._map.leaves:
                    if leaf.kind is LeafKind.WALL:
                        left, right = sorted(self._x(x) for x, _ in leaf.edge("sill"))
                        marks.append(break_line((left, y), (right, y), (0.0, 0.5)))
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
        left, right = sorted(self._x(x) for x, _ in leaf.edge("sill" if leaf.kind is LeafKind.WALL else "eave"))
        if leaf.kind is LeafKind.ROOF:
            return self._roof_names(leaf, marks_of, left, right)
        below = self._map.eave - _reaches(self._map)[1] - self._style.under_eave * self._scale.ratio
        top = self._axis(min(self._axis.kept[0][1], below)) - 2.4
        lines = list(marks_of) if self._style.narrow else [", ".join(marks_of)]
        style = min((self._largest(line, (right - left) * 0.8) for line in lines), key=lambda s: s.height)
        if self._style.narrow:
            style = FINE_BOLD
        found: list[Mark] = [Text(((left + right) / 2, top - style.height - i * 1.36 * style.height), line, style, "centre")
                             for i, line in enumerate(lines)]
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
        for text, hangs in zip(_of_door(leaf, self._mates, self._kit), (True, False), strict=True):
            block = paragraph((0.0, 0.0), wide, text, FINE_BOLD, self._lettering, align)
            marks += block.moved((at, eave - 1.0 if hangs else sill + 0.5 + block.height)).marks
        return marks

    def _roof_names(self, leaf: LaidLeaf, marks_of: tuple[str, ...], left: float, right: float) -> Drawing:
        """One below the other, towards the mid edge, where the leaf is widest."""
        style = min((self._largest(mark, (right - left) * 0.6, (BODY_BOLD, FINE_BOLD)) for mark in marks_of),
                    key=lambda s: s.height)
        if max(self._lettering.width(mark, style) for mark in marks_of) > (right - left) * 0.7:
            return ()  # too narrow: a roof leaf stands over its wall and has the wall's mark and an R
        mid = self._x(leaf.edge("mid")[0][0])
        centre = mid + ((right - left) * 0.36 if mid < (left + right) / 2 else -(right - left) * 0.36)
        base = self._axis(self._map.eave + self._map.band + _reaches(self._map)[1]) + 1.6
        pitch = 1.35 * style.height
        return tuple(Text((centre, base + pitch * (len(marks_of) - 1 - i)), mark, style, "centre")
                     for i, mark in enumerate(marks_of))

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
        sill, eave = _reaches(self._map)
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
        return (Line((x, low), (x, high), SLIT), *length,
                *circled((x, centre), str(slit.number), self._lettering, RADIUS, FINE_BOLD))

    def _pitch(self) -> float:
        """Least distance on paper between neighbouring eave cuts on this face."""
        xs = sorted(self._x(slit.x) for slit in self._map.slits if slit.cut.along == "eave")
        return min((b - a for a, b in zip(xs, xs[1:], strict=False)), default=1e9)


def _of_door(leaf: LaidLeaf, mates: dict[str, tuple[str, ...]], kit: Kit) -> tuple[str, str]:
    """What is not taped at a door's eave and at its sill."""
    roof = ", ".join(mates.get(f"{leaf.mark}R", (f"{leaf.mark}R",)))
    return (kit.words.text("relief.no_eave", roof=roof), kit.words.text("relief.no_sill"))


def _reaches(each: ReliefMap) -> tuple[float, float]:
    """How far sill and eave strips reach over the faces, mm."""
    points = [point for area in each.tapes for point in area]
    middle = each.eave / 2
    return (max((y for _, y in points if y < middle), default=0.0),
            max((each.eave - y for _, y in points if middle < y < each.eave), default=0.0))


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
