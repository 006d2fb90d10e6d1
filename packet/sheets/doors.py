"""Door and jamb: both leaves as they stand, tops on one line; then how the door is made and which way it swings."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

from packet.assembly.doorway import Doorway, Panelled, doorway
from packet.assembly.records import LeafKind, Point
from packet.assembly.views import cut, horizontal, swing
from packet.description.terms import Face, Swing
from packet.drawing.flow import Block, paragraph, stack, steps
from packet.drawing.lettering import BODY, FINE_BOLD, LARGE, Style
from packet.drawing.marks import Arc, Drawing, Mark, Path, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import NARROW, VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import arrow
from packet.drawing.view import Scale
from packet.plan import Plan
from packet.sheets.door_elevation import DoorElevation
from packet.sheets.kit import Kit
from packet.sheets.panels import Page, Panel, Picture, pages, ticked
from packet.sheets.plates import fitted
from packet.tape.strips import Role
from packet.work.facts import panels
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

ROOM_FOR_A_WORD = 22.0
"""mm from the middle of the plan to a wall, beyond which a word stands clear of the marks."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One set of sheets for all doors that are alike, else one for each; none where there is no door."""
    ways = [doorway(plan.assembly, door, Face.OUTER) for door in plan.assembly.doors]
    if not ways:
        return ()
    if all(_same(way, ways[0]) for way in ways):
        return tuple(_Doors(plan, kit, ways).sheets(1))
    found: list[Sheet] = []
    for way in ways:
        found += _Doors(plan, kit, [way]).sheets(len(found) + 1)
    return tuple(found)


def _same(a: Doorway, b: Doorway) -> bool:
    def shape(panel: Panelled) -> list[tuple[float, float]]:
        return [(round(x, 3), round(y, 3)) for x, y in (*panel.outline, *panel.hinged, *(c for c, _ in panel.holes))]

    return shape(a.door) == shape(b.door) and shape(a.jamb) == shape(b.jamb)


class _Doors:
    def __init__(self, plan: Plan, kit: Kit, ways: list[Doorway]) -> None:
        self._plan, self._kit, self._ways = plan, kit, ways
        self._lettering, self._form = kit.lettering, kit.form
        self._panels = [way.door.mark for way in ways if self._swing(way) is Swing.PANEL]
        self._values = self._named_values()

    def _swing(self, way: Doorway) -> Swing:
        """Whether one walks through a swing leaf: the first always, the other unless the project says otherwise."""
        return Swing.PANEL if way.door.mark in panels(self._plan) else Swing.DOOR

    def _named_values(self) -> dict[str, Any]:
        way, plan = self._ways[0], self._plan
        hole = way.door.holes[0]
        doublers = {
            strip.faces[0]: strip
            for strip in plan.strips
            if strip.role is Role.DOUBLER and way.door.mark in strip.leaves
        }
        return {
            "roofs": [w.roof for w in self._ways],
            "beside": [w.beside for w in self._ways],
            "pairs_up": [(w.door.mark, w.roof) for w in self._ways],
            "trim": way.trim,
            "below": way.below_top(way.door)[0],
            "edge": way.from_free_edge(way.door)[0],
            "above": way.above_ground(way.door)[0],
            "hole": hole[1],
            "sleeve": plan.assembly.thickness,
            "flat": doublers[Face.OUTER].width,
            "wrap": doublers[Face.INNER].width,
            "limit": plan.description.limits.cut,
            "panels": self._panels,
            "swings": [str(self._swing(w)) for w in self._ways],
        }

    def sheets(self, first: int) -> list[Sheet]:
        words = self._kit.words
        pairs = "; ".join(
            words.text("doors.pair", swing=str(self._swing(w)), door=w.door.mark, jamb=w.jamb.mark) for w in self._ways
        )
        scale, picture, measured = DoorElevation(self._ways, self._kit, self._values).fitted()
        front = pages([Panel(Picture.of(picture, self._lettering, measured), None, 0.0)], self._kit.room)
        found: list[Sheet] = []
        key = "subtitle" if len(self._ways) > 1 else "subtitle_one"
        for page in front:
            found.append(self._sheet(page, first + len(found), "title", words.text(f"doors.{key}", **self._values), scale))
        told = words.text("doors.subtitle_plan", pairs=pairs)
        for page in self._making():
            found.append(self._sheet(page, first + len(found), "title_plan", told))
        return found

    def _sheet(self, page: Page, number: int, title: str, subtitle: str, scale: Scale | None = None) -> Sheet:
        words = self._kit.words
        return Sheet(
            number=sheet_number("door", number),
            title=words.text(f"doors.{title}"),
            subtitle=subtitle,
            station=Station.E.word,
            kind=words.text("doors.kind"),
            subject=" ".join(mark for w in self._ways for mark in (w.door.mark, w.jamb.mark))[:24],
            marks=page.marks,
            scale_label=scale.label if scale and page.views else "",
            viewports=page.viewports(scale.ratio, "door") if scale else (),
        )

    # --- how it is made --------------------------------------------------------------------------

    def _making(self) -> list[Page]:
        room = self._kit.room
        for style in (LARGE, BODY):
            try:
                picture = self._plan_view(room.width * 0.36, room.height)
                laid = pages(
                    [Panel(None, partial(self._steps, style=style), 110.0),
                     Panel(Picture.of(picture, self._lettering, None), None, 0.0)], room)
            except LayoutError:
                continue
            if len(laid) == 1 or style is BODY:
                return list(laid)
        raise LayoutError("the steps of the doors do not fit this paper")

    def _steps(self, width: float, style: Style) -> Block:
        words = self._kit.words
        body = steps((0.0, 0.0), width, words.texts("doors.steps", **self._values), self._lettering, style)
        told = [body]
        if self._panels:
            told.append(paragraph((0.0, 0.0), width, words.text("doors.panel", **self._values), style, self._lettering))
        check = ticked(width, [words.text("doors.check", **self._values)], style, self._lettering)
        return stack((0.0, 0.0), [*told, check], 4.0, width)

    def _plan_view(self, wide: float, high: float) -> Drawing:
        """The walls in plan and how the doors swing, as large as the room, their hand in words below; no scale."""
        assembly = self._plan.assembly
        doors = {w.door.mark for w in self._ways}
        sections = cut(assembly.of_kind(LeafKind.WALL), horizontal(self._plan.geometry.wall_height / 2))
        swings = [swing(assembly, assembly.by_mark[w.door.mark]) for w in self._ways]
        xs = [x for polygon in sections.values() for x, _ in polygon]
        ys = [y for polygon in sections.values() for _, y in polygon]
        for each in swings:
            ys += [each.pivot[1] + sign * each.radius for sign in (-1, 1)]
            xs += [each.pivot[0] + sign * each.radius for sign in (-1, 1)]
        text = self._kit.words.text("doors.plan", doors=sorted(doors), panels=self._panels, hand=self._ways[0].hinge)
        label = paragraph((0.0, 0.0), wide, f"**{text}**", BODY, self._lettering, "centre")
        inner = Room(0.0, 0.0, wide - 4.0, high - label.height - 8.0)
        ratio = fitted((min(xs), min(ys), max(xs), max(ys)), inner)

        def at(point: Point) -> Point:
            return (point[0] / ratio, point[1] / ratio)

        marks: list[Mark] = [
            Path(tuple(at(p) for p in polygon), VISIBLE, 0.0 if mark in doors else 1.0)
            for mark, polygon in sections.items()
        ]
        for each in swings:
            pivot, radius = at(each.pivot), each.radius / ratio
            start, stop = sorted((each.shut, each.back))
            square = math.radians((start + stop) / 2)
            marks.append(Arc(pivot, radius, start, stop, NARROW))
            marks += arrow(
                pivot, (pivot[0] + radius * math.cos(square), pivot[1] + radius * math.sin(square)), VISIBLE, 4.0
            )
        for mark, polygon in sections.items():
            marks += self._plan_mark(mark, at(_mean(polygon)))
        if self._plan.geometry.apothem / ratio > ROOM_FOR_A_WORD:
            marks.append(Text((0.0, -BODY.height / 2), self._kit.words.text("doors.inside"), BODY, "centre"))
        return (*marks, *label.moved((-wide / 2, min(ys) / ratio - 3.0)).marks)

    def _plan_mark(self, mark: str, centre: Point) -> Drawing:
        """Marks of doors, jambs and the leaves beside, inside the ring."""
        named = {name for w in self._ways for name in (w.door.mark, w.jamb.mark)}
        if mark not in named:
            return ()
        reach = math.hypot(*centre)
        inward = (-centre[0] / reach, -centre[1] / reach)
        # Jambs stand farther in, so that neighbours do not meet.
        step = 6.0 if mark in {w.door.mark for w in self._ways} else 11.5
        x, y = centre[0] + inward[0] * step, centre[1] + inward[1] * step
        return (Text((x, y - FINE_BOLD.height / 2), mark, FINE_BOLD, "centre"),)


def _mean(points: tuple[Point, ...]) -> Point:
    return (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
