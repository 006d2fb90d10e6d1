"""Door and jamb as they stand, seen from outside, tops on one line, with every dimension; in paper mm."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from packet.assembly.doorway import Doorway, Panelled
from packet.assembly.records import Point
from packet.description.terms import Face, Side
from packet.drawing.dimension import leader, linear
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, HEAD, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Rect, Text, bounds, rectangle
from packet.drawing.pens import CENTRE, EXTENSION, HEAVY, LAST, NARROW, VISIBLE, Pen
from packet.drawing.room import LayoutError
from packet.drawing.symbols import FaceSide, face_patch
from packet.drawing.view import Scale, series
from packet.sheets.kit import Kit
from packet.sheets.section_view import break_line

APART = 15.0
"""mm of paper between door and jamb."""
ROOF = 6.0
"""mm of paper of the roof leaf above the door."""
BESIDE = 9.0
"""mm of paper of the leaf that the door is hinged to."""
GROUND = 22.0
"""mm of paper that the ground line runs past the leaves."""
SEAL = 1.1
"""mm that a seal is drawn thick."""


class DoorElevation:
    """The doorways that one drawing serves; the first is drawn, all are named."""

    def __init__(self, ways: list[Doorway], kit: Kit, values: dict[str, Any]) -> None:
        self._ways, self._kit, self._values = ways, kit, values
        self._lettering, self._form = kit.lettering, kit.form

    def fitted(self) -> tuple[Scale, Drawing, Rect]:
        """The largest standard scale at which door, jamb and all their dimensions fit the page."""
        room = self._kit.room
        for scale in series(self._kit.system):
            marks, measured = self._drawn(scale)
            left, bottom, right, top = bounds(marks, self._lettering)
            if right - left <= room.width and top - bottom <= room.height:
                return scale, marks, measured
        raise LayoutError("door and jamb do not fit this paper at any scale")

    def _drawn(self, scale: Scale) -> tuple[Drawing, Rect]:
        way = self._ways[0]
        side = 1.0 if way.hinge is Side.RIGHT else -1.0

        def of_door(point: Point) -> Point:
            return (point[0] / scale.ratio + side * APART / 2, point[1] / scale.ratio)

        def of_jamb(point: Point) -> Point:
            return (point[0] / scale.ratio - side * APART / 2, point[1] / scale.ratio)

        wide = way.door.width / scale.ratio
        ground, foot = way.ground / scale.ratio, way.door.foot / scale.ratio
        outer_door, outer_jamb = side * (APART / 2 + wide), -side * (APART / 2 + way.jamb.width / scale.ratio)
        marks: list[Mark] = []
        jamb = tuple(of_jamb(p) for p in way.jamb.outline)
        door = tuple(of_door(p) for p in way.door.outline)
        marks += [Path(jamb, VISIBLE, 1.0), Path(door, VISIBLE, 1.0)]
        off = tuple(sorted((side * APART / 2, outer_door)))
        trim = ((off[0], ground), (off[1], ground), (off[1], foot), (off[0], foot))
        marks += [*hatch(trim, 1.2), Path(trim, LAST)]
        marks += self._around(way, side, outer_door, ground)
        marks += self._seals(side, outer_door, foot, ground)
        for panel, place, out in ((way.jamb, of_jamb, -side), (way.door, of_door, side)):
            marks += self._holes(
                way, panel, place, out, outer_jamb if panel is way.jamb else outer_door + side * BESIDE, scale
            )
        marks += self._names(way, side, wide, foot)
        # Ground, and the line the tops share.
        ends = (min(outer_jamb, outer_door) - GROUND, max(outer_jamb, outer_door) + GROUND)
        marks.append(Line((ends[0], ground), (ends[1], ground), HEAVY))
        marks.append(
            Text(
                (ends[0] if side > 0 else ends[1], ground - 1.5 - BODY.height),
                self._kit.words.text("doors.ground"),
                BODY,
                "left" if side > 0 else "right",
            )
        )
        marks += self._datum(side, outer_jamb)
        marks += self._measures(way, side, wide, outer_jamb, outer_door, foot, ground)
        xs = [p[0] for p in (*jamb, *door)]
        return tuple(marks), (min(xs), ground, max(xs), 0.0)

    def _around(self, way: Doorway, side: float, outer: float, ground: float) -> Drawing:
        """The roof leaf above the door and the leaf it is hinged to, broken off."""
        words = self._kit.words
        base = 3.0
        inner = side * APART / 2
        roof = ((inner, base + ROOF), (inner, base), (outer, base), (outer, base + ROOF))
        beside = ((outer + side * BESIDE, 0.0), (outer, 0.0), (outer, ground), (outer + side * BESIDE, ground))
        text = words.text("doors.roof", **self._values)
        hinge = words.text("doors.hinge", **self._values)
        holes = [centre[1] / -way.ground * -ground for centre, _ in way.door.holes]
        spans = list(zip([0.0, *holes], [*holes, ground], strict=True))
        # The first span that holds it, for the leader to the trim runs below.
        style, free = next(
            (
                (s, span)
                for s in (BODY, FINE)
                for span in spans
                if self._lettering.width(hinge, s) < span[0] - span[1] - 6.0
            ),
            (FINE, spans[0]),
        )
        middle = (outer + side * BESIDE / 2, (free[0] + free[1]) / 2)
        return (
            Path(roof, VISIBLE, closed=False),
            break_line((inner, base + ROOF), (outer, base + ROOF), (0.0, 0.6)),
            Text((inner, base + ROOF + 2.2), text, FINE_BOLD, "left" if side > 0 else "right"),
            Path(beside, NARROW, closed=False),
            break_line((outer + side * BESIDE, ground), (outer + side * BESIDE, 0.0), (0.6 * side, 0.0)),
            Text((middle[0] + style.height / 2, middle[1]), hinge, style, "centre", 90.0),
        )

    def _seals(self, side: float, outer: float, foot: float, ground: float) -> Drawing:
        """Foil round bare edges: door top, free edge and bottom, jamb edge, roof edge."""
        inner = side * APART / 2
        low, high = sorted((inner, outer))
        pen = Pen(0.25)

        def upright(x: float, bottom: float) -> Path:
            return rectangle((min(x, x - side * SEAL), bottom, max(x, x - side * SEAL), 0.0), pen, 0.5)

        return (
            upright(inner, foot),
            upright(-inner + side * SEAL, ground),
            rectangle((low, 0.0, high, SEAL), pen, 0.5),
            rectangle((low, foot - SEAL, high, foot), pen, 0.5),
            rectangle((low, 3.0 - SEAL, high, 3.0), pen, 0.5),
        )

    def _legend(self, x: float, side: float, ground: float) -> Drawing:
        """What the grey bars are, from x outward, beside the ground line."""
        text = self._kit.words.text("doors.seal")
        y = ground + 20.0
        low, high = sorted((x, x + side * 8.0))
        return (
            rectangle((low, y + 1.0, high, y + 1.0 + SEAL), Pen(0.25), 0.5),
            Text((x + side * 10.0, y), text, BODY, "left" if side > 0 else "right"),
        )

    def _holes(
        self, way: Doorway, panel: Panelled, place: Callable[[Point], Point], out: float, edge: float, scale: Scale
    ) -> Drawing:
        """Each hole with its centre lines, depth below the top and distance from the free edge."""
        marks: list[Mark] = []
        below, free, above = way.below_top(panel), way.from_free_edge(panel), way.above_ground(panel)
        for (centre, diameter), depth, distance, height in zip(panel.holes, below, free, above, strict=True):
            x, y = place(centre)
            radius = max(diameter / 2 / scale.ratio, 0.8)
            reach = radius + 2.5
            marks += [
                Circle((x, y), radius, VISIBLE, 1.0),
                Line((x - reach, y), (x + reach, y), CENTRE),
                Line((x, y - reach), (x, y + reach), CENTRE),
            ]
            ground = way.ground / scale.ratio
            marks += [Line((x, y - reach), (x, ground), EXTENSION)]
            zero = place((0.0, centre[1]))[0]
            offset = 17.0 if out < 0 else -17.0
            marks += linear((zero, ground), (x, ground), offset, self._form.length(distance), self._lettering, NUMBER)
            side_x = edge + out * 11.0
            marks += [Line((x + out * reach, y), (side_x + out * 2.0, y), EXTENSION)]
            marks += linear(
                (side_x, y),
                (side_x, 0.0),
                0.5 if out < 0 else -0.5,
                self._form.length(depth),
                self._lettering,
                NUMBER,
            )
            marks += linear(
                (side_x, ground),
                (side_x, y),
                0.5 if out < 0 else -0.5,
                self._form.length(height),
                self._lettering,
                NUMBER,
            )
        return tuple(marks)

    def _names(self, way: Doorway, side: float, wide: float, foot: float) -> Drawing:
        """Marks large, the word below, in the upper third; face patch in the lower."""
        words = self._kit.words
        marks: list[Mark] = []
        named = (
            ([w.door.mark for w in self._ways], "door", side),
            ([w.jamb.mark for w in self._ways], "jamb", -side),
        )
        hole = max((centre[1] for centre, _ in (*way.door.holes, *way.jamb.holes)), default=way.ground)
        room = -hole * foot / way.door.foot - 8.0
        style, in_line = self._fitting([each for each, _, _ in named], wide - 3.0, room)
        for each, key, where in named:
            lines = [", ".join(each)] if in_line else each
            x, y = where * (APART + wide) / 2, -(room - 1.4 * style.height * len(lines)) / 2 - style.height
            for line in lines:
                marks.append(Text((x, y), line, style, "centre"))
                y -= 1.4 * style.height
            word = words.text(f"doors.{key}", **self._values)
            if room > 1.4 * style.height * len(lines) + 8.0 and self._lettering.width(word, BODY_BOLD) < wide - 2.0:
                marks.append(Text((x, y + 0.4 * style.height - 1.5), word, BODY_BOLD, "centre"))
            half = min(wide / 2 - 2.0, 11.0)
            if half > 8.0:
                marks += face_patch(
                    FaceSide.OUTER, words.name(Face.OUTER).upper(),
                    (x - half, foot * 0.86 - 3.0, x + half, foot * 0.86 + 3.0), self._lettering,
                )
        return tuple(marks)

    def _fitting(self, names: list[list[str]], wide: float, high: float) -> tuple[Style, bool]:
        """The largest lettering for the marks above the holes, and whether they stand in one line."""
        for style in (HEAD, NUMBER, BODY_BOLD):
            for in_line in (True, False):
                lines = [[", ".join(each)] if in_line else each for each in names]
                if (
                    max(self._lettering.width(line, style) for each in lines for line in each) < wide
                    and 1.4 * style.height * len(lines[0]) < high
                ):
                    return style, in_line
        return FINE_BOLD, False

    def _datum(self, side: float, outer_jamb: float) -> Drawing:
        """The line the tops share, with its words over the jamb."""
        start, stop = outer_jamb - side * GROUND, side * APART / 2
        lines = self._kit.words.text("doors.datum").split("\n")
        # Ends short of the roof leaf over the door, and runs outward from there.
        x = -side * 1.0
        marks: list[Mark] = [Line((start, 0.0), (stop, 0.0), CENTRE)]
        for index, line in enumerate(reversed(lines)):
            marks.append(Text((x, 2.4 + index * 5.4), line, BODY_BOLD, "right" if side > 0 else "left"))
        return tuple(marks)

    def _measures(
        self, way: Doorway, side: float, wide: float, outer_jamb: float, outer_door: float, foot: float, ground: float
    ) -> Drawing:
        """Widths and heights of the finished leaves, and what is trimmed."""
        form, words = self._form, self._kit.words
        far_jamb, far_door = outer_jamb - side * 24.0, outer_door + side * (BESIDE + 24.0)
        tall = [
            linear((far_jamb, ground), (far_jamb, 0.0), 0.5 * side, form.length(-way.jamb.foot), self._lettering),
            linear((far_door, foot), (far_door, 0.0), -0.5 * side, form.length(-way.door.foot), self._lettering),
        ]
        across = [
            linear((x0, ground), (x1, ground), -8.0, form.length(panel.width), self._lettering)
            for (x0, x1), panel in (
                (sorted((outer_jamb, -side * APART / 2)), way.jamb),
                (sorted((outer_door, side * APART / 2)), way.door),
            )
        ]
        point = (side * (APART / 2 + wide * 0.8), (foot + ground) / 2)
        knee = (far_door + side * 3.0, ground + 7.0)
        return (
            *(m for marks in tall for m in marks),
            *(m for marks in across for m in self._cleared(marks)),
            *leader(point, knee, words.text("doors.trim", **self._values), self._lettering, BODY_BOLD, "dot"),
            *self._legend(knee[0] + side * 4.0, side, ground),
        )

    def _cleared(self, marks: Drawing) -> Drawing:
        """The marks with clear ground under their texts, for what runs below them."""
        found: list[Mark] = []
        for mark in marks:
            if isinstance(mark, Text):
                half = self._lettering.width(mark.string, mark.style) / 2 + 0.5
                x, y = mark.at
                found.append(rectangle((x - half, y - 0.6, x + half, y + mark.style.height + 0.5), None, 1.0))
            found.append(mark)
        return tuple(found)
