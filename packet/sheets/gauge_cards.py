"""The gauges of a project, each drawn at full size about its own origin, with its name and how it is used."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from packet.assembly.records import Point
from packet.assembly.seam_classes import SeamClass, seam_classes
from packet.boards.marks import tip_trims
from packet.drawing.dimension import angular, linear, polar
from packet.drawing.flow import paragraph, stack
from packet.drawing.hatch import hatch
from packet.drawing.lettering import BODY, FINE_BOLD, LARGE, NUMBER
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Rect, Text, bounds, rectangle, shift
from packet.drawing.pens import CUT, HATCH, NARROW
from packet.drawing.symbols import centre_cross
from packet.plan import Plan
from packet.sheets.kit import Kit

LEAST = 58.0
"""mm of width that the words of a gauge take at least."""
OFF = 8.0
"""mm from a gauge to its dimension lines."""
GRIP = 34.0
"""mm that a wedge reaches beyond the board edges it is held between."""
DEEP = 24.0
"""mm of breadth of a bar gauge."""
WIDE = 110.0
"""Degrees of a wedge up to which its angle is written inside it."""
TURN = 0.5
"""Degrees of turn below which a hinge stands in one plane and has no V."""


@dataclass(frozen=True, slots=True)
class Card:
    """A gauge with its words, and the rectangle of it that is to scale, in paper mm."""

    marks: Drawing
    measured: Rect
    name: str


def gauge_cards(plan: Plan, kit: Kit) -> tuple[Card, ...]:
    """Every gauge that the project needs."""
    return tuple(_Cards(plan, kit).all())


class _Cards:
    def __init__(self, plan: Plan, kit: Kit) -> None:
        self._plan, self._kit = plan, kit
        self._form, self._letters = kit.form, kit.lettering

    def all(self) -> Iterator[Card]:
        yield from self._tips()
        yield from self._holes()
        yield from self._ring()
        yield from self._openings()
        yield from self._wedges()
        yield self._lands()
        yield from self._slits()

    # --- the gauges ------------------------------------------------------------------------------

    def _tips(self) -> Iterator[Card]:
        """The triangle that is cut off a roof leaf; turned over it serves the other hand."""
        trims = [found for board in self._plan.boards if (found := tip_trims(self._plan.parts, board))]
        for along, short in sorted({(round(trim.along_mid, 3), round(trim.short_edge, 3)) for trim in trims}):
            triangle: tuple[Point, ...] = ((0.0, 0.0), (short, 0.0), (0.0, along))
            marks = (
                *hatch(triangle, 3.0, 45.0, HATCH), Path(triangle, CUT),
                *linear((0.0, 0.0), (0.0, along), OFF, self._form.length(along), self._letters, NUMBER),
                *linear((0.0, 0.0), (short, 0.0), -OFF, self._form.length(short), self._letters, NUMBER),
            )
            yield self._card("tip", marks, triangle, along=along, short=short)

    def _holes(self) -> Iterator[Card]:
        holes: dict[tuple[float, str], list[str]] = {}
        for leaf in self._plan.assembly.leaves:
            for hole in leaf.holes:
                holes.setdefault((round(hole.diameter, 3), hole.purpose), []).append(leaf.mark)
        for (diameter, purpose), leaves in sorted(holes.items()):
            yield self._card("hole", self._disc(diameter), _square(diameter), diameter=diameter, purpose=purpose,
                             leaves=", ".join(dict.fromkeys(leaves)))

    def _ring(self) -> Iterator[Card]:
        """The peak opening, as the inner edges of the tips leave it."""
        ring = self._plan.ring
        if ring is None:
            return
        radius = ring.short_edge / math.sin(math.pi / ring.walls)
        corners = tuple(polar((0.0, 0.0), radius, 90.0 + (i + 0.5) * 360.0 / ring.walls) for i in range(ring.walls))
        flats, across = ring.opening_across_flats, ring.opening_across_corners
        inner = rectangle((-flats / 2, -flats / 2, flats / 2, flats / 2), None).points
        low = min(y for _, y in corners)
        marks = (
            Path(corners, CUT), Circle((0.0, 0.0), flats / 2, NARROW), *centre_cross((0.0, 0.0), 3.0),
            *linear((-flats / 2, 0.0), (flats / 2, 0.0), low - OFF, self._form.length(flats), self._letters, NUMBER),
        )
        yield self._card("ring", marks, (*corners, *inner), flats=flats, corners=across, walls=ring.walls)

    def _openings(self) -> Iterator[Card]:
        sizes: dict[tuple[str, float, float, bool], list[str]] = {}
        for leaf in self._plan.assembly.leaves:
            for o in leaf.openings:
                sizes.setdefault((o.kind, round(o.width, 3), round(o.height, 3), o.round), []).append(leaf.mark)
        for (kind, width, height, is_round), leaves in sorted(sizes.items()):
            box = ((-width / 2, -height / 2), (width / 2, -height / 2), (width / 2, height / 2), (-width / 2, height / 2))
            marks = self._disc(width) if is_round else (
                Path(box, CUT), *centre_cross((0.0, 0.0), 5.0),
                *linear(box[0], box[1], -OFF, self._form.length(width), self._letters, NUMBER),
                *linear(box[0], box[3], OFF, self._form.length(height), self._letters, NUMBER))
            yield self._card("opening", marks, box, kind=kind, leaves=", ".join(dict.fromkeys(leaves)))

    def _wedges(self) -> Iterator[Card]:
        """The V that stays open on the opening face, one wedge for all hinges of the same turn."""
        turns: dict[float, list[SeamClass]] = {}
        for each in seam_classes(self._plan.assembly):
            turn = round(180.0 - each.angle_open, 2)
            if each.bonded and turn > TURN:
                turns.setdefault(turn, []).append(each)
        for turn, classes in sorted(turns.items(), reverse=True):
            thick = self._plan.assembly.thickness
            reach = thick + GRIP
            low, high = 90.0 - turn / 2, 90.0 + turn / 2
            left, right = polar((0.0, 0.0), reach, high), polar((0.0, 0.0), reach, low)
            a, b = polar((0.0, 0.0), thick, high), polar((0.0, 0.0), thick, low)
            marks: list[Mark] = [Path(((0.0, 0.0), right, left), CUT), Line(a, b, NARROW)]
            chord, figure = left[1], self._form.angle(turn)
            level = chord - 3.0 - 2.0 - NUMBER.height
            inside = 2 * level * math.tan(math.radians(turn / 2)) - self._letters.width(figure, NUMBER)
            if turn <= WIDE and level - a[1] > 2.0 and inside > 8.0:
                marks += angular((0.0, 0.0), chord - 3.0, low, high, "", self._letters)[:-1]
                marks.append(Text((0.0, level), figure, NUMBER, "centre"))
            else:
                marks.append(Text((0.0, chord + 2.0), figure, NUMBER, "centre"))
            marks += linear(a, b, -(a[1] + OFF), self._form.length(classes[0].gap), self._letters, NUMBER)
            names = dict.fromkeys(self._seam_name(each) for each in classes)
            yield self._card("wedge", tuple(marks), ((0.0, 0.0), right, left), angle=turn, gap=classes[0].gap,
                             seams=", ".join(names))

    def _seam_name(self, each: SeamClass) -> str:
        key = f"gauges.seams.{each.kind.value.replace(' ', '_')}"
        return self._kit.words.text(key, marks=", ".join(each.marks[:6]))

    def _lands(self) -> Card:
        """One bar per distinct land, set one over the other on the same edge."""
        lands: dict[float, list[str]] = {}
        for strip in self._plan.strips:
            if strip.land > 0:
                names = lands.setdefault(round(strip.land, 3), [])
                names += [str(strip.role)] if str(strip.role) not in names else []
        marks: list[Mark] = []
        y = 0.0
        for land, roles in sorted(lands.items()):
            marks += [*hatch(((0.0, y), (land, y), (land, y + DEEP), (0.0, y + DEEP)), 4.0, 45.0, HATCH),
                      rectangle((0.0, y, land, y + DEEP), CUT)]
            marks += self._labelled(self._form.length(land), ", ".join(map(self._kit.words.name, roles)), (land, y + DEEP / 2))
            y += DEEP
        wide = max(lands)
        return self._card("land", tuple(marks), ((0.0, 0.0), (wide, 0.0), (wide, y)))

    def _labelled(self, figure: str, words: str, at: Point) -> Drawing:
        """A figure and words to the right of a bar's end."""
        x, y = at
        return (Text((x + 3.0, y - NUMBER.height / 2), figure, NUMBER),
                Text((x + 5.0 + self._letters.width(figure, NUMBER), y - NUMBER.height / 2), words, BODY))

    def _slits(self) -> Iterator[Card]:
        cuts = set()
        for cut in self._plan.relief:
            parts = tuple((str(part), round(length, 3)) for part, length in cut.parts)
            # Turned end for end it is the same gauge.
            cuts.add((round(cut.length, 3), min(parts, parts[::-1]), cut.along))
        for length, parts, along in sorted(cuts):
            marks: list[Mark] = [rectangle((0.0, 0.0, length, DEEP), CUT)]
            x = 0.0
            for term, part in parts:
                name = self._kit.words.name(term)
                if part >= self._letters.width(name, FINE_BOLD) + 2.0:
                    marks.append(Text((x + part / 2, DEEP / 2 - FINE_BOLD.height / 2), name, FINE_BOLD, "centre"))
                x += part
                if x < length - 0.1:
                    marks.append(Line((x, 0.0), (x, DEEP), NARROW))
            marks += linear((0.0, 0.0), (length, 0.0), -OFF, self._form.length(length), self._letters, NUMBER)
            yield self._card("slit", tuple(marks), ((0.0, 0.0), (length, DEEP)), length=length, along=along)

    # --- parts of a card -------------------------------------------------------------------------

    def _disc(self, diameter: float) -> Drawing:
        radius = diameter / 2
        return (
            Circle((0.0, 0.0), radius, CUT), *centre_cross((0.0, 0.0), radius + 1.5),
            *linear((-radius, 0.0), (radius, 0.0), -(radius + OFF + 2.0), self._form.length(diameter), self._letters, NUMBER))

    def _card(self, name: str, marks: Drawing, outline: tuple[Point, ...], **values: object) -> Card:
        """The gauge with its name over it and how to use it below."""
        words = self._kit.words
        left, bottom, right, top = bounds(marks, self._letters)
        wide = max(right - left, LEAST)
        head = paragraph((0.0, 0.0), wide, f"**{words.text(f'gauges.{name}.name', **values)}**", LARGE, self._letters)
        said = stack((0.0, 0.0), [
            paragraph((0.0, 0.0), wide, line, BODY, self._letters) for line in words.texts(f"gauges.{name}.use", **values)],
            0.8, wide)
        dx, dy = (wide - (right - left)) / 2 - left, -head.height - 3.0 - top
        xs, ys = [x + dx for x, _ in outline], [y + dy for _, y in outline]
        return Card((*head.marks, *shift(marks, dx, dy), *said.moved((0.0, bottom + dy - 3.0)).marks),
                    (min(xs), min(ys), max(xs), max(ys)), words.text(f"gauges.{name}.name", **values))


def _square(side: float) -> tuple[Point, ...]:
    return ((-side / 2, -side / 2), (side / 2, -side / 2), (side / 2, side / 2), (-side / 2, side / 2))
