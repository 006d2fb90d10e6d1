"""Relief map: a half laid flat, inner and outer view one above the other, every cut at its place; then the list."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from packet.assembly.records import LeafKind, Point
from packet.assembly.unfolded import LaidLeaf, alike
from packet.description.terms import Face
from packet.drawing.dimension import linear
from packet.drawing.flow import paragraph
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, NUMBER, Style
from packet.drawing.marks import Drawing, Line, Mark, Path, Text, Viewport, rectangle
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
from packet.tape.relief_map import ReliefMap, Slit, numbered_cuts, relief_map
from packet.work.stations import Station

SLIT = Pen(1.4)
TAPE_GREY = 0.86
MARGIN = 22.0
"""mm left of a view for the words on its edges."""
ON_SILL, UNDER_EAVE, ON_EAVE = 17.5, 11.0, 13.0
"""mm of paper that a broken view keeps beyond the strips: above the sill, below the eave, above the eave."""
HEADING = 8.0
FOLD = 3.0
"""mm of paper between two parts of a broken view."""
RADIUS = 3.3


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A map per half, one for all halves that are alike, and the list of cuts."""
    return _Relief(plan, kit).sheets()


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
            found.append(self._map_sheet(half, len(found) + 1))
            found += self._list_sheets(half, len(found) + 1)
        return tuple(found)

    # --- the map ---------------------------------------------------------------------------------

    def _map_sheet(self, half: str, page: int) -> Sheet:
        maps = [relief_map(self._plan.assembly, self._plan.strips, self._plan.relief, half, face)
                for face in (Face.INNER, Face.OUTER)]
        foot, above = self._kit.room.cut_bottom(BODY.height * 1.7, 2.0)
        scale, axes = self._fitted(maps, above)
        marks: Drawing = ()
        views = []
        top = above.top
        for each, axis in zip(maps, axes, strict=True):
            room = Room(above.left, top - HEADING - axis.height, above.right, top)
            drawn, rect = self._view(each, room, scale, axis)
            marks += drawn
            views.append(Viewport(rect, scale.ratio, f"{each.face} view"))
            top = room.bottom - (above.height - sum(a.height + HEADING for a in axes))
        words = self._kit.words
        note = words.text("relief.alike", count=len(self._cuts(half)), list=sheet_number("relief", page + 1))
        marks += paragraph(foot.top_left, foot.width, note, BODY, self._lettering).marks
        return self._sheet("", half, page, marks, scale.label, tuple(views))

    def _fitted(self, maps: list[ReliefMap], room: Room) -> tuple[Scale, list[_Axis]]:
        """The largest standard scale at which both views fit, whole or with their middles left out."""
        wide = max(point[0] for leaf in maps[0].leaves for point in leaf.outline)
        most = room.height - 2 * HEADING - 4.0
        for scale in series(self._kit.system):
            if wide / scale.ratio > room.width - MARGIN - 2.0:
                continue
            for broken in (False, True):
                axes = [self._axis(each, scale, broken) for each in maps]
                if sum(axis.height for axis in axes) <= most:
                    return scale, axes
        raise LayoutError("the relief map does not fit this paper at any scale")

    def _axis(self, each: ReliefMap, scale: Scale, broken: bool) -> _Axis:
        top = max(point[1] for leaf in each.leaves for point in leaf.outline)
        low = -each.sill_edge
        if not broken:
            return _Axis(scale.ratio, 0.0, ((low, top),))
        sill, eave = _reaches(each)
        kept = [(low, min(sill + ON_SILL * scale.ratio, each.eave)),
                (max(0.0, each.eave - eave - UNDER_EAVE * scale.ratio),
                 min(top, each.eave + each.band + eave + ON_EAVE * scale.ratio))]
        if kept[0][1] >= kept[1][0]:
            kept = [(low, kept[1][1])]
        return _Axis(scale.ratio, 0.0, tuple(kept))

    def _view(self, each: ReliefMap, room: Room, scale: Scale, axis: _Axis) -> tuple[Drawing, tuple[float, float, float, float]]:
        axis = _Axis(axis.ratio, room.bottom, axis.kept)
        wide = max(point[0] for leaf in each.leaves for point in leaf.outline) / scale.ratio
        left = max(room.centre[0] - wide / 2, room.left + MARGIN)
        drawn = _Drawn(self._kit, each, scale, axis, left, self._mates)
        return drawn.marks(room), (left, room.bottom, left + wide, room.bottom + axis.height)

    # --- the list --------------------------------------------------------------------------------

    def _list_sheets(self, half: str, page: int) -> list[Sheet]:
        words, room = self._kit.words, self._kit.room
        count = len(self._cuts(half))
        parts = room.columns(1, 1, gap=6.0)
        rules = [ticked(part.width, [text], BODY, self._lettering)
                 for part, text in zip(parts, words.texts("relief.rules", count=count), strict=True)]
        foot, above = room.cut_bottom(max(rule.height for rule in rules), 4.0)
        widths = spread(room.width, 62, 106, 64)
        scale = self._strip_scale(half, widths[1] - 4.0)
        columns = [Column(width) for width in widths]
        rows = self._rows(half, scale)
        header = list(words.entry("relief.header"))
        sheets = []
        while rows:
            fitting = fit(columns, rows, header, above.height, self._lettering)
            if not fitting:
                raise LayoutError("a row of the relief list is taller than the page")
            marks = table(above.top_left, columns, rows[:fitting], header, self._lettering).marks
            for part, rule in zip(parts, rules, strict=True):
                marks += rule.moved((part.left, foot.top)).marks
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

    def __init__(self, kit: Kit, each: ReliefMap, scale: Scale, axis: _Axis, left: float,
                 mates: dict[str, tuple[str, ...]]) -> None:
        self._kit, self._map, self._scale, self._axis = kit, each, scale, axis
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
        text, wide = ", ".join(marks_of), right - left
        style = self._largest(text, wide * 0.8)
        top = self._axis(min(self._axis.kept[0][1], self._map.eave))
        found: list[Mark] = [Text(((left + right) / 2, top - style.height - 1.5), text, style, "centre")]
        if leaf.door:
            words = self._kit.words
            roof = self._mates.get(f"{leaf.mark}R", (f"{leaf.mark}R",))
            for line, hangs in ((words.text("relief.no_eave", roof=", ".join(roof)), True), (words.text("relief.no_sill"), False)):
                block = paragraph((0.0, 0.0), wide - 2.0, line, FINE_BOLD, self._lettering, "centre")
                y = self._axis(self._map.eave) - 1.0 if hangs else self._axis(0.0) + 0.5 + block.height
                found += block.moved((left + 1.0, y)).marks
        return tuple(found)

    def _roof_names(self, leaf: LaidLeaf, marks_of: tuple[str, ...], left: float, right: float) -> Drawing:
        """One below the other, towards the mid edge, where the leaf is widest."""
        style = min((self._largest(mark, (right - left) * 0.6, (BODY_BOLD, FINE_BOLD)) for mark in marks_of),
                    key=lambda s: s.height)
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
        marks: list[Mark] = []
        for key, low, high in (("sill_edge", -each.sill_edge, 0.0), ("eave_edges", each.eave, each.eave + each.band)):
            if high - low < 1e-6:
                continue
            y = (self._axis(low) + self._axis(high)) / 2
            marks.append(Text((self._left - 2.0, y - FINE.height / 2), words.text(f"relief.{key}"), FINE, "right"))
        return tuple(marks)

    def _slit(self, slit: Slit) -> Drawing:
        """The cut, its number and its length, in the wall beside the strip."""
        x, low, high = self._x(slit.x), self._axis(slit.low), self._axis(slit.high)
        sill, eave = _reaches(self._map)
        centre = (self._axis(sill) + 1.0 + RADIUS if slit.cut.along == "sill"
                  else self._axis(self._map.eave - eave) - 1.0 - RADIUS)
        text = self._kit.form.length(slit.cut.length)
        style: Style = BODY_BOLD
        wide = self._lettering.width(text, style)
        box = (x + RADIUS + 0.8, centre - style.height / 2 - 0.6, x + RADIUS + wide + 1.6, centre + style.height / 2 + 0.6)
        return (Line((x, low), (x, high), SLIT), rectangle(box, None, 1.0),
                Text((x + RADIUS + 1.2, centre - style.height / 2), text, style),
                *circled((x, centre), str(slit.number), self._lettering, RADIUS, FINE_BOLD))


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
