"""The plan of the open shelter: walls cut with their thickness, door swings, marks and inside measures."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.assembly.records import Leaf, LeafKind, Point, Seam, SeamKind, seam_gap
from packet.assembly.views import Swing, centre_of, cut, horizontal, swing, walls_in_order
from packet.description.terms import Face
from packet.drawing.dimension import leader, polar, readable
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, FINE_BOLD, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Rect, Text, Viewport
from packet.drawing.pens import DIMENSION, LAST, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.symbols import arrow, circled, terminator, turn_arrow
from packet.drawing.view import Scale, View, pick_scale
from packet.plan import Plan
from packet.sheets.kit import Kit

_WALL_FILL = 0.85
_BESIDE = 12.0  # mm of paper beside the walls for their numbers
_CALLOUTS = 38.0  # mm of paper left of the plan for what is said about it, where there is room
_MARK_OFF = 2.5  # mm between an inner face and a leaf mark
_MARK_ZONE = 17.0  # mm from a corner or a wall's middle towards the centre in which leaf marks stand
_ALONG = 0.42  # a leaf mark's place along the leaf, counted from the mid edge: marks at a corner keep apart
_LEAST_SWING, _SQUARE, _BACK = 30.0, 90.0, 180.0  # degrees a door is drawn open


@dataclass(frozen=True, slots=True)
class Drawn:
    """A view on the page."""

    marks: Drawing
    scale: Scale
    viewport: Viewport


def plan_view(plan: Plan, kit: Kit, room: Room) -> Drawn:
    """The plan as large as a standard scale allows, callouts at the left edge of the room."""
    return _PlanView(plan, kit, room).drawn()


class _PlanView:
    def __init__(self, plan: Plan, kit: Kit, room: Room) -> None:
        self._plan, self._kit, self._room = plan, kit, room
        self._lettering = kit.lettering
        assembly = plan.assembly
        self._cuts = cut(assembly.of_kind(LeafKind.WALL), horizontal(plan.geometry.wall_height / 2))
        self._swings = tuple(swing(assembly, door) for door in assembly.doors)
        self._jambs = {assembly.jamb_of(door).mark for door in assembly.doors}
        space = room.inset(0.0, 1.0)
        left, bottom, right, top = self._extent(_LEAST_SWING)
        self._scale = pick_scale(kit.system, (right - left, top - bottom), (space.width - 2 * _BESIDE, space.height))
        # The doors swing as far on paper as the page allows at that scale.
        self._open = max(angle for angle in range(int(_LEAST_SWING), int(_SQUARE) + 1, 5)
                         if self._height(angle) <= space.height)
        extent = self._extent(self._open)
        spare = space.width - 2 * _BESIDE - (right - left) / self._scale.ratio
        shifted = space.inset(min(_CALLOUTS, spare), 0.0, 0.0, 0.0)
        self._view = View.centred(self._scale, extent, shifted.rect)
        self._leaf = self._view.length(plan.geometry.leaf_width)
        widest = max(self._cuts, key=lambda mark: kit.lettering.width(mark, NUMBER))
        self._style = _largest(widest, self._leaf * 0.43, kit)

    def _extent(self, opened: float) -> Rect:
        """Walls, and doors opened by so many degrees, model mm."""
        points = [point for polygon in self._cuts.values() for point in polygon]
        for each in self._swings:
            step = math.copysign(opened, each.back - each.shut)
            points.append(polar(each.pivot, each.radius, each.shut + step))
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    def _height(self, opened: float) -> float:
        _, bottom, _, top = self._extent(opened)
        return (top - bottom) / self._scale.ratio

    def drawn(self) -> Drawn:
        marks: list[Mark] = []
        for mark, polygon in self._cuts.items():
            ring = self._view.points(polygon)
            marks += [Path(ring, None, _WALL_FILL), *hatch(ring, 1.6), Path(ring, VISIBLE)]
            marks += self._leaf_mark(self._plan.assembly.by_mark[mark])
        for each in self._swings:
            marks += self._swing(each)
        marks += [*self._wall_numbers(), *self._inside_measures(), *self._gap(), *self._bearing()]
        corners = [self._view.point(p) for polygon in self._cuts.values() for p in polygon]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        viewport = Viewport((min(xs), min(ys), max(xs), max(ys)), self._scale.ratio, "plan")
        return Drawn(tuple(marks), self._scale, viewport)

    def _leaf_mark(self, leaf: Leaf) -> Drawing:
        """The mark inside the wall, with a word below for doors and jambs."""
        style = self._style
        key = "door" if leaf.door else "jamb" if leaf.mark in self._jambs else ""
        word = self._kit.words.text(f"arrangement.plan.{key}") if key else ""
        width = max(self._lettering.width(leaf.mark, style), self._lettering.width(word, FINE))
        height = style.height + (FINE.leading if word else 0.0)
        inward = _inward(leaf)
        mid, corner = (_foot(leaf, edge, Face.INNER) for edge in ("mid", "corner"))
        at = self._view.point((mid[0] + _ALONG * (corner[0] - mid[0]), mid[1] + _ALONG * (corner[1] - mid[1])))
        off = _MARK_OFF + abs(inward[0]) * width / 2 + abs(inward[1]) * height / 2
        x, y = at[0] + inward[0] * off, at[1] + inward[1] * off
        marks = (Text((x, y + height / 2 - style.height), leaf.mark, style, "centre"),)
        return (*marks, Text((x, y - height / 2), word, FINE, "centre")) if word else marks

    def _swing(self, swung: Swing) -> Drawing:
        """The door standing open, and the arc of its free edge: to fully back where the page has room."""
        pivot, radius = self._view.point(swung.pivot), self._view.length(swung.radius)
        sense = math.copysign(1.0, swung.back - swung.shut)
        angle = swung.shut + sense * self._open
        free = polar(pivot, radius, angle)
        # Seen from its edge the open door's inner face looks back to where it came from.
        thick = self._view.length(self._plan.geometry.thickness)
        over = polar((0.0, 0.0), thick, angle - sense * 90)
        door = (pivot, free, (free[0] + over[0], free[1] + over[1]), (pivot[0] + over[0], pivot[1] + over[1]))
        stop = swung.back if self._open == _SQUARE else angle
        return (*turn_arrow(pivot, radius, swung.shut, stop, NARROW, 3.0), Path(door, LAST))

    def _wall_numbers(self) -> Drawing:
        """Wall numbers outside the walls; on a door wall beside the door."""
        style = BODY_BOLD if self._leaf > 10 else FINE_BOLD
        marks: Drawing = ()
        for number, leaves in enumerate(walls_in_order(self._plan.assembly), 1):
            beside = [leaf for leaf in leaves if not leaf.door]
            feet = [centre_of(leaf, Face.OUTER) for leaf in (beside if len(beside) == 1 else leaves)]
            foot = (sum(p[0] for p in feet) / len(feet), sum(p[1] for p in feet) / len(feet))
            outward = _inward(leaves[0])
            away = 7.0 if len(beside) == 2 else min(7.0, max(4.5, self._leaf * 0.4))
            x, y = self._view.point(foot)
            marks += circled((x - outward[0] * away, y - outward[1] * away), str(number), self._lettering, style=style)
        return marks

    def _inside_measures(self) -> Drawing:
        """Across flats from the first door's wall, across corners between the corners nearest a level line."""
        geometry, form, words = self._plan.geometry, self._kit.form, self._kit.words
        flat = _foot(walls_in_order(self._plan.assembly)[0][0], "mid", Face.INNER)
        by_mark = self._plan.assembly.by_mark
        corners = [_foot(by_mark[seam.leaves[0]], "corner", Face.INNER) for seam in self._corners() if seam.bonded]
        if geometry.walls % 2:
            # From a wall's middle to the corner opposite; from every corner it is the same.
            return self._measure(flat, _opposite(flat, geometry.across_flats), form.length_unit(geometry.across_flats),
                                 words.text("arrangement.plan.wall_to_corner"))
        # The texts of a dimension stand towards its far end: that of the flats above, that of the corners below.
        level = min((p for p in corners if p[1] > -1e-6), key=lambda p: (round(p[1], 6), p[0]))
        return tuple(
            mark for point, size, word in ((flat, geometry.across_flats, "across_flats"),
                                           (level, geometry.across_corners, "across_corners"))
            for mark in self._measure(point, _opposite(point, size), form.length_unit(size),
                                      words.text(f"arrangement.plan.{word}")))

    def _measure(self, a: Point, b: Point, number: str, word: str) -> Drawing:
        """A dimension through the centre: its texts stand in the half near b, the number above the line and the
        word below it, between the leaf marks at the wall and the other dimension at the centre."""
        a, b = self._view.point(a), self._view.point(b)
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        angle = readable(math.degrees(math.atan2(uy, ux)))
        space = length / 2 - _MARK_ZONE
        style = BODY_BOLD if self._lettering.width(number, BODY_BOLD) + 2 <= space else FINE_BOLD
        wide = max(self._lettering.width(number, style), self._lettering.width(word, FINE))
        preferred = length / 2 + min(6.5, max(2.0, space - wide)) + wide / 2
        up = polar((0.0, 0.0), 1.0, angle + 90)

        def lettered(run: float) -> tuple[Text, Text]:
            middle = (a[0] + ux * run, a[1] + uy * run)
            return (Text((middle[0] + up[0], middle[1] + up[1]), number, style, "centre", angle),
                    Text((middle[0] - up[0] * 3.7, middle[1] - up[1] * 3.7), word, FINE, "centre", angle))

        # Where leaf marks stand in the way, as at the corner of an odd ring, the texts move along the line.
        runs = (preferred, *(length * share / 20 for share in (11, 10, 9, 8, 7, 12, 6, 13)))
        texts = next((found for found in map(lettered, runs) if self._free_of_marks(found)), lettered(preferred))
        return (Line(a, b, DIMENSION), *terminator(a, (-ux, -uy)), *terminator(b, (ux, uy)), *texts)

    def _free_of_marks(self, texts: tuple[Text, ...]) -> bool:
        """Whether these texts keep off the marks of the leaves."""
        import shapely

        marks = [shapely.Polygon(self._lettering.box(mark)) for leaf in self._cuts
                 for mark in self._leaf_mark(self._plan.assembly.by_mark[leaf]) if isinstance(mark, Text)]
        boxes = [shapely.Polygon(self._lettering.box(text)).buffer(0.3) for text in texts]
        return not any(box.intersects(mark) for box in boxes for mark in marks)

    def _corners(self) -> tuple[Seam, ...]:
        return tuple(seam for seam in self._plan.assembly.seams if seam.kind is SeamKind.CORNER)

    def _gap(self) -> Drawing:
        """The V that stays open on the outside of a corner: the bonded corner nearest the upper left."""
        def tip(seam: Seam) -> Point:
            a, b = (_foot(self._plan.assembly.by_mark[mark], "corner", Face.OUTER) for mark in seam.leaves)
            return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)

        seams = sorted((s for s in self._corners() if s.bonded),
                       key=lambda s: round(tip(s)[1] - tip(s)[0], 6), reverse=True)
        marks = tuple(self._gap_leader(seam, self._view.point(tip(seam)), place) for place in range(3)
                      for seam in seams)
        # The corner nearest the upper left has room beside it, unless a door swings there.
        beside = any(seams[0] in tuple(self._plan.assembly.seams_of(wall)) for door in self._plan.assembly.doors
                     for wall in self._wall_of(door))
        return next((each for each in marks if self._clear(each)), marks[0]) if beside else marks[0]

    def _wall_of(self, door: Leaf) -> tuple[str, ...]:
        """The two leaves of a door's wall."""
        return next(s.leaves for s in self._plan.assembly.seams_of(door.mark) if s.kind is SeamKind.WALL_MID)

    def _gap_leader(self, seam: Seam, point: Point, place: int) -> Drawing:
        """The text at the upper left (0) or upper right (1) of the room, or below the corner (2)."""
        text = self._kit.words.text("arrangement.plan.gap",
                                    gap=seam_gap(self._plan.geometry.thickness, seam.angle_open))
        wide = max(self._lettering.width(line, BODY_BOLD) for line in text.split("\n"))
        high = min(self._room.top - 8.0, point[1] + 40.0)
        knee = ((self._room.left + wide + 5.0, high), (self._room.right - wide - 5.0, high),
                (point[0], point[1] - 12.0))[place]
        return leader(point, knee, text, self._lettering, BODY_BOLD)

    def _clear(self, marks: Drawing) -> bool:
        """Whether no text of a leader stands where anything else does, and no line of it crosses a wall."""
        import shapely

        walls = [shapely.Polygon(self._view.points(polygon)) for polygon in self._cuts.values()]
        taken = [shapely.Point(mark.centre).buffer(mark.radius) for mark in self._wall_numbers()
                 if isinstance(mark, Circle)]
        for each in self._swings:
            pivot, radius = self._view.point(each.pivot), self._view.length(each.radius)
            sense = math.copysign(1.0, each.back - each.shut)
            taken.append(shapely.Polygon((pivot, *(polar(pivot, radius, each.shut + sense * step)
                                                   for step in range(0, int(self._open) + 1, 5)))).buffer(1.0))
        boxes = [shapely.Polygon(self._lettering.box(mark)).buffer(0.6) for mark in marks if isinstance(mark, Text)]
        lines = [shapely.LineString(mark.points) for mark in marks if isinstance(mark, Path) and not mark.closed]
        room = shapely.box(*self._room.rect)
        return not (any(box.intersects(shape) for box in boxes for shape in (*walls, *taken))
                    or any(not room.contains(box) for box in boxes)
                    or any(line.intersection(shape).length > 1.0 for line in lines for shape in (*walls, *taken)))

    def _bearing(self) -> Drawing:
        """Which way the first door looks: the mark by which the plan is turned to the site."""
        centre = (self._room.left + 7.0, self._room.bottom + 15.0)
        text = self._kit.words.text("arrangement.plan.bearing", door=self._plan.assembly.doors[0].mark)
        marks: list[Mark] = [Circle(centre, 6.0, DIMENSION),
                             *arrow((centre[0], centre[1] + 9), (centre[0], centre[1] - 13), VISIBLE, 6)]
        baseline = centre[1] + 11.5
        for line in reversed(text.split("\n")):
            marks.append(Text((self._room.left, baseline), line, BODY_BOLD))
            baseline += BODY.leading
        return tuple(marks)


def _foot(leaf: Leaf, edge: str, face: Face) -> Point:
    """Where the start of an upright edge stands in plan, on a face."""
    x, y, _ = leaf.open_pose.place(leaf.edge(edge)[0], leaf.depth(face))
    return (x, y)


def _inward(leaf: Leaf) -> Point:
    """Unit direction in plan from the outer to the inner face of a wall leaf."""
    (x0, y0), (x1, y1) = (_foot(leaf, "mid", face) for face in (Face.OUTER, Face.INNER))
    length = math.hypot(x1 - x0, y1 - y0)
    return ((x1 - x0) / length, (y1 - y0) / length)


def _opposite(point: Point, size: float) -> Point:
    """The far end of a measure of that size from a point through the centre, mm."""
    away = math.hypot(*point)
    return (point[0] * (away - size) / away, point[1] * (away - size) / away)


def _largest(text: str, width: float, kit: Kit) -> Style:
    """The largest style in which the text is no wider than `width` mm; the least one otherwise."""
    return next((style for style in (NUMBER, BODY_BOLD) if kit.lettering.width(text, style) <= width), FINE_BOLD)
