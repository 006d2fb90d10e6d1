"""Part cards: every kind of leaf once, seen on its marked face, with what it measures, what is laid on it, how many."""

from __future__ import annotations

import math
from functools import partial
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from packet.assembly.records import Leaf, Point, polygon_area
from packet.assembly.splicing import parts_of, splice_places
from packet.boards.marks import bottom_trim
from packet.drawing.collisions import text_conflicts
from packet.drawing.dimension import linear, readable
from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, FINE, HEAD, LARGE, NUMBER, Style
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Text, bounds, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import CENTRE, LAST, LEADER, NARROW, VISIBLE
from packet.drawing.room import LayoutError
from packet.drawing.symbols import FaceSide, face_patch
from packet.drawing.view import Scale, View, series
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.panels import Page, Panel, Picture, one_page
from packet.work.part_kinds import PartKind, part_kinds
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

if TYPE_CHECKING:
    from shapely import Polygon

OFF = 9.0
"""mm from an edge to its dimension line."""
HEADS = 7.0
"""mm that the arrowheads of a dimension take beside its figure."""
LEAST = 72.0
"""mm of width that the words of a card need."""
BESIDE = 46.0
"""mm of width that they need beside the picture of a leaf."""
Way = tuple[Style, Style, bool]
WAYS: tuple[Way, ...] = (
    (LARGE, BODY, True), (LARGE, BODY, False), (BODY, BODY, True), (BODY, BODY, False))
ROOMY: tuple[Way, ...] = ((Style(HEAD.height), LARGE, True), (LARGE, LARGE, True), *WAYS)
"""Lettering of what the leaf is and of the tape on it, and whether they stand beside the picture; the first that
fits. ROOMY are tried once it is known which cards share a page."""
PATCHES = ((24.0, 7.0), (18.0, 6.0), (13.0, 5.5))
"""mm of the patch that tells the face, the first that fits."""
SAME = 0.05
"""mm within which two lengths are one."""
CROSS = 2.0
"""mm that centre lines run past a hole."""
NAMED = 12
"""Marks that a card lists; of more, one counts them."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Cards side by side, as many to a page as leaves the leaves large; fewer pages only where that saves more than one.
    Every page then has the largest scale that it takes."""
    cards = _Cards(plan, kit)
    found: list[tuple[tuple[int, int], ...]] = []
    for scale in series(kit.system):
        ways = [groups for way in WAYS if (groups := cards.groups(scale, way))]
        if ways:
            found.append(min(ways, key=len))
        if len(found) > 2 and min(map(len, found[-2:])) >= min(map(len, found[:-2])):
            break  # smaller pictures save no page
    if not found:
        raise LayoutError("a part card does not fit this paper at any scale")
    fewest = min(map(len, found))
    groups = next(each for each in found if len(each) <= fewest + 1)
    sheets = []
    for number, (start, stop) in enumerate(groups, 1):
        scale, page = cards.largest(start, stop)
        sheets.append(Sheet(
            number=sheet_number("parts", number), title=kit.words.text("parts.title"), station=Station.P.word,
            kind=kit.words.text("parts.kind"), subtitle=kit.words.text("parts.subtitle"), scale_label=scale.label,
            marks=page.marks, viewports=page.viewports(scale.ratio, "part")))
    return tuple(sheets)


class _Cards:
    def __init__(self, plan: Plan, kit: Kit) -> None:
        self._plan, self._kit = plan, kit
        self._form, self._letters = kit.form, kit.lettering
        self._kinds = part_kinds(plan)
        self._drawn: dict[tuple[float, int], Picture] = {}
        self._told = {kind.marks: self._lines(kind) for kind in self._kinds}

    def groups(self, scale: Scale, way: Way) -> tuple[tuple[int, int], ...]:
        """First and past the last card of every page, as many on each as on the others or one fewer; none where a card is
        larger than the page."""
        found: list[tuple[int, int]] = []
        start, count = 0, len(self._kinds)
        while start < count:
            stop = next((stop for stop in range(count, start, -1) if self._page(start, stop, scale, way)), 0)
            if not stop:
                return ()
            found.append((start, stop))
            start = stop
        share, more = divmod(count, len(found))
        # The first kinds, doors and large leaves, have most to tell: a card alone on its page is one of these.
        stops = [0, *accumulate(share + (page >= len(found) - more) for page in range(len(found)))]
        even = tuple(pairwise(stops))
        return even if all(self._page(*each, scale, way) for each in even) else tuple(found)

    def largest(self, start: int, stop: int) -> tuple[Scale, Page]:
        """These cards on a page of their own, at the largest scale at which it takes them."""
        return next((scale, page) for scale in series(self._kit.system) for way in ROOMY
                    if (page := self._page(start, stop, scale, way)))

    def _page(self, start: int, stop: int, scale: Scale, way: Way) -> Page | None:
        style, tapes, beside = way
        if not all(self._may_fit(kind.leaf, scale) for kind in self._kinds[start:stop]):
            return None
        panels = []
        for index, kind in enumerate(self._kinds[start:stop], start):
            panels.append(Panel(self._picture_of(index, scale),
                                lambda width, own=kind: self._words(own, width, style, tapes),  # type: ignore[misc]
                                BESIDE if beside else LEAST))
        return one_page(panels, self._kit.room, beside=beside)

    def _may_fit(self, leaf: Leaf, scale: Scale) -> bool:
        """Whether an outline, with its dimensions, is smaller than the page; cheap, before anything is drawn."""
        xs, ys = zip(*leaf.outline, strict=True)
        wide, high = (float(max(each) - min(each)) / scale.ratio + OFF for each in (xs, ys))
        return wide < self._kit.room.width and high < self._kit.room.height

    def _picture_of(self, index: int, scale: Scale) -> Picture:
        key = (scale.ratio, index)
        if key not in self._drawn:
            self._drawn[key] = self._picture(self._kinds[index].leaf, scale)
        return self._drawn[key]

    # --- the picture -----------------------------------------------------------------------------

    def _picture(self, leaf: Leaf, scale: Scale) -> Picture:
        """The leaf about its own origin; lines that are cut later are dashed."""
        view = View(scale, (0.0, 0.0))
        outline = view.points(leaf.outline)
        marks: list[Mark] = []
        for other in (leaf.rough, leaf.hinged):
            if _extends(other, leaf.outline):
                marks.append(Path(view.points(other), LAST))
        marks.append(Path(outline, VISIBLE))
        for hole in leaf.holes:
            marks += self._round(view.point((hole.x, hole.y)), hole.diameter / scale.ratio / 2)
        for o in leaf.openings:
            x, y = view.point((o.x, o.y))
            wide, high = o.width / scale.ratio / 2, o.height / scale.ratio / 2
            marks += self._round((x, y), wide) if o.round else (rectangle((x - wide, y - high, x + wide, y + high), VISIBLE),)
        marks += [Line(view.point(splice.a), view.point(splice.b), NARROW) for splice in leaf.splices]
        marks += self._edges(leaf, outline, view, tuple(marks))
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        # The middle is within the outline, so that it need not be there to be measured.
        return Picture(partial(self._with_middle, leaf, outline, tuple(marks)), bounds(marks, self._letters),
                       (min(xs), min(ys), max(xs), max(ys)))

    def _with_middle(self, leaf: Leaf, outline: tuple[Point, ...], drawn: Drawing) -> Drawing:
        return drawn + self._middle(leaf, outline, drawn)

    def _round(self, at: Point, radius: float) -> Drawing:
        x, y = at
        reach = radius + CROSS
        return (Circle(at, radius, VISIBLE), Line((x - reach, y), (x + reach, y), CENTRE),
                Line((x, y - reach), (x, y + reach), CENTRE))

    def _edges(self, leaf: Leaf, outline: tuple[Point, ...], view: View, drawn: Drawing) -> Drawing:
        """Every length once: its figure outside, and the edge's name inside where it has room."""
        from shapely import Polygon

        marks: list[Mark] = []
        told: list[tuple[float, float]] = []
        short: list[tuple[tuple[Point, Point], str, float]] = []
        area, taken = Polygon(outline).buffer(-0.6), self._holes(leaf, outline)
        turn = 1.0 if polygon_area(leaf.outline) > 0 else -1.0
        lengths = [math.dist(leaf.outline[i], leaf.outline[(i + 1) % len(outline)]) for i in range(len(outline))]
        for i, name in enumerate(map(self._kit.words.name, leaf.edges)):
            a, b = outline[i], outline[(i + 1) % len(outline)]
            angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180.0
            marks += self._edge_name((a, b), name, turn, area, taken)
            if any(abs(lengths[i] - length) < SAME and abs(angle - other) < 0.1 for length, other in told):
                continue
            told.append((lengths[i], angle))
            out = OFF + _beyond((a, b), turn, [view.points(other) for other in (leaf.rough, leaf.hinged)])
            figure = self._form.length(lengths[i])
            if math.dist(a, b) < self._letters.width(figure, NUMBER) + HEADS:
                short.append(((a, b), f"{name} {figure}", out))
            else:
                marks += linear(a, b, -turn * out, figure, self._letters, NUMBER)
        for edge, text, out in short:
            marks += self._led(edge, text, turn, out, (*drawn, *marks))
        return tuple(marks)

    def _led(self, edge: tuple[Point, Point], text: str, turn: float, out: float, drawn: Drawing) -> Drawing:
        """Name and figure of an edge too short for a dimension line: outside it, where nothing else is."""
        (ax, ay), (bx, by) = edge
        length = math.dist(*edge)
        nx, ny = (by - ay) / length * turn, -(bx - ax) / length * turn
        x, y = (ax + bx) / 2, (ay + by) / 2
        half = self._letters.width(text, NUMBER) / 2
        places = [(far, aside) for far in (out - 4.0, out, out + 5.0, out + 10.0) for aside in (0.0, -0.9, 0.9)]
        options = [self._label((x, y), (nx, ny), far, aside * half, text) for far, aside in places]
        return next((o for o in options if not text_conflicts((*drawn, *o), self._letters, wider_than=0.2)), options[0])

    def _label(self, foot: Point, out: Point, far: float, aside: float, text: str) -> Drawing:
        """A leader `far` mm long and the text beyond it, moved `aside` along the edge."""
        (x, y), (nx, ny) = foot, out
        reach = far + 2.0 + abs(nx) * self._letters.width(text, NUMBER) / 2 + abs(ny) * NUMBER.height / 2
        at = (x + nx * reach - ny * aside, y + ny * reach + nx * aside - NUMBER.height / 2)
        return (Line((x + nx, y + ny), (x + nx * far, y + ny * far), LEADER), Text(at, text, NUMBER, "centre"))

    def _edge_name(self, edge: tuple[Point, Point], name: str, turn: float, area: Polygon, taken: list[Polygon]) -> Drawing:
        """Along the edge inside, at the first place where no hole and no other name is; that place is taken then."""
        from shapely import Polygon

        (ax, ay), (bx, by) = edge
        length = math.dist(*edge)
        ux, uy = (bx - ax) / length, (by - ay) / length
        nx, ny = -uy * turn, ux * turn
        angle = readable(math.degrees(math.atan2(uy, ux)))
        up = (-math.sin(math.radians(angle)), math.cos(math.radians(angle)))
        off = 1.6 + (0.0 if up[0] * nx + up[1] * ny > 0 else FINE.height)
        half = self._letters.width(name, FINE) / 2 + 3.0
        for share in (0.5, 0.3, 0.7, 0.2, 0.8):
            run = share * length
            text = Text((ax + ux * run + nx * off, ay + uy * run + ny * off), name, FINE, "centre", angle)
            box = Polygon(self._letters.box(text))
            if half <= run <= length - half and area.contains(box) and not any(box.intersects(other) for other in taken):
                taken.append(box)
                return (text,)
        return ()

    def _middle(self, leaf: Leaf, outline: tuple[Point, ...], drawn: Drawing) -> Drawing:
        """The face, by word and texture, where the leaf has most room; nothing where a hole or an edge is near."""
        from shapely import Polygon, box

        area = Polygon(outline).buffer(-1.0)
        for hole in self._holes(leaf, outline):
            area = area.difference(hole)
        for mark in drawn:
            if isinstance(mark, Text):
                area = area.difference(Polygon(self._letters.box(mark)).buffer(0.8))
        spots = [(x, y) for x in _range(outline, 0) for y in _range(outline, 1)]
        centre = Polygon(outline).centroid
        across, up = centre.x, centre.y
        spots.sort(key=lambda spot: math.sqrt((spot[0] - across) ** 2 + (spot[1] - up) ** 2))
        for wide, high in PATCHES:
            for x, y in spots:
                rect = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
                if area.contains(box(*rect)):
                    return face_patch(FaceSide(leaf.marked_face.value.upper()), self._kit.words.name(leaf.marked_face).upper(),
                                      rect, self._letters)
        return ()

    def _holes(self, leaf: Leaf, outline: tuple[Point, ...]) -> list[Polygon]:
        from shapely import box

        size = max(x for x, _ in outline) - min(x for x, _ in outline)
        full = max(x for x, _ in leaf.outline) - min(x for x, _ in leaf.outline)
        ratio = full / size
        round_ones = [(h.x, h.y, h.diameter, h.diameter) for h in leaf.holes]
        lines = [box(*(at / ratio for at in (min(s.a[0], s.b[0]), min(s.a[1], s.b[1]), max(s.a[0], s.b[0]),
                                             max(s.a[1], s.b[1])))).buffer(1.0) for s in leaf.splices]
        found = [*round_ones, *((o.x, o.y, o.width, o.height) for o in leaf.openings)]
        return [*lines, *(box((x - w / 2) / ratio, (y - h / 2) / ratio, (x + w / 2) / ratio, (y + h / 2) / ratio).buffer(3.0)
                          for x, y, w, h in found)]

    # --- the words -------------------------------------------------------------------------------

    def _words(self, kind: PartKind, width: float, style: Style, tape: Style) -> Block:
        count, lines, tapes = self._told[kind.marks]
        head = paragraph((0.0, 0.0), width, count, HEAD, self._letters)
        said = [paragraph((0.0, 0.0), width, line, style, self._letters) for line in lines]
        said += [paragraph((0.0, 0.0), width, line, tape, self._letters) for line in tapes]
        return stack((0.0, 0.0), [head, *said], 0.8, width)

    def _lines(self, kind: PartKind) -> tuple[str, list[str], list[str]]:
        """How many there are of a kind of leaf, what is to be known of it, and what is laid along each of its edges."""
        words, leaf = self._kit.words, kind.leaf
        count = words.text("parts.count", count=len(kind.marks), quantity=self._plan.description.quantity)
        marks = ", ".join(kind.marks[:NAMED])
        lines = [words.text("parts.marks", marks=marks, more=max(0, len(kind.marks) - NAMED))]
        lines += words.texts("parts.about", hand=str(leaf.hand), door=leaf.door, kind=str(leaf.kind),
                             face=str(leaf.marked_face), listed=leaf.edges[0] in ("bottom", "1"))
        if leaf.door and bottom_trim(leaf) > SAME:
            lines.append(words.text("parts.door", trim=bottom_trim(leaf)))
        top = max(y for _, y in leaf.outline)
        far = max(abs(x) for x, _ in leaf.outline)
        lines += [words.text("parts.hole", purpose=hole.purpose, size=hole.diameter, down=top - hole.y, off=far - abs(hole.x))
                  for hole in leaf.holes]
        if leaf.openings:
            kinds = tuple(dict.fromkeys(str(o.kind) for o in leaf.openings))
            lines.append(words.text("parts.opening", kinds=kinds, sheet=sheet_number("openings")))
        if leaf.splices:
            whole = [words.text("parts.made_of", parts=[part.mark for part in parts_of(self._plan.assembly.by_mark[mark])])
                     for mark in kind.marks[:1]]
            lines += [*whole, *(words.text("parts.splice", at=at, edge=edge, sheet=sheet_number("splice"))
                                for at, edge in splice_places(leaf))]
        tapes = [words.text("parts.tape", edge=each.edge, strips="; ".join(
            words.text("parts.strip", role=role, faces=faces, width=wide) for role, faces, wide in each.strips))
            for each in kind.tape]
        return count, lines, tapes


def _extends(other: tuple[Point, ...], outline: tuple[Point, ...]) -> bool:
    """Whether an outline before a trim differs from the finished one."""
    return abs(abs(polygon_area(other)) - abs(polygon_area(outline))) > 1.0


def _beyond(edge: tuple[Point, Point], turn: float, outlines: list[tuple[Point, ...]]) -> float:
    """How far outlines reach past an edge, mm."""
    (ax, ay), (bx, by) = edge
    length = math.dist(*edge)
    nx, ny = (by - ay) / length * turn, -(bx - ax) / length * turn
    return max(0.0, *((x - ax) * nx + (y - ay) * ny for outline in outlines for x, y in outline))


def _range(outline: tuple[Point, ...], axis: int) -> list[float]:
    low, high = min(p[axis] for p in outline), max(p[axis] for p in outline)
    return [low + (high - low) * share / 12 for share in range(2, 11)]
