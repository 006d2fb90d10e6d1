"""Sheets drawn for tests and read as data: their texts, what collides on them, and what leaves the room."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

from packet.drawing.collisions import text_conflicts
from packet.drawing.full_size import EDGE, window
from packet.drawing.lettering import Lettering
from packet.drawing.marks import Text, bounds
from packet.drawing.page import Sheet, finish_all, frame_rect
from packet.drawing.room import Room
from packet.pdf.fonts import lettering
from packet.plan import Plan
from packet.sheets.kit import Kit, make_kit
from packet.units import System

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
INCHES = re.compile(r"""\d\s?in\b|\d"|\binch""")
TOUCH = 0.05
"""mm; pens and rounding at the edge of a room."""

Draw = Callable[[Plan, Kit], tuple[Sheet, ...]]


@cache
def letters() -> Lettering:
    return lettering()


def kit_of(plan: Plan) -> Kit:
    return make_kit(plan, letters())


def on_paper(plan: Plan, name: str, size: tuple[float, float] | None = None) -> Plan:
    """The plan, to be printed on another paper: one of PAPERS, or one of the size given in mm."""
    return replace(plan, description=replace(plan.description, paper=size or PAPERS[name], paper_name=name))


def texts(sheet: Sheet) -> tuple[str, ...]:
    """Every text on the sheet's own drawing, in drawing order."""
    return tuple(mark.string for mark in sheet.marks if isinstance(mark, Text))


def prose(sheet: Sheet) -> str:
    """All texts in one line, so that wrapped sentences can be found."""
    return re.sub(r" +(?=[ .,;:])", "", " ".join(texts(sheet)))


def faults(plan: Plan, draw: Draw) -> Iterator[str]:
    """What is wrong with the look of a sheet file's sheets: collisions, marks outside the room, foreign units."""
    kit = kit_of(plan)
    sheets = draw(plan, kit)
    for sheet, finished in zip(sheets, finish_all(sheets, kit.identity, kit.paper, kit.lettering, kit.system),
                               strict=True):
        page = frame_rect(kit.paper)
        if sheet.full_size:
            page = Room(0.0, 0.0, kit.paper.width, kit.paper.height).inset(EDGE).rect
        for conflict in text_conflicts(finished.marks, kit.lettering, page, wider_than=0.2):
            yield f"{sheet.number}: {conflict}"
        left, bottom, right, top = bounds(sheet.marks, kit.lettering)
        room = (window(kit.paper) if sheet.full_size else kit.room).inset(-TOUCH)
        if left < room.left or bottom < room.bottom or right > room.right or top > room.top:
            yield f"{sheet.number}: drawn outside the room"
        if kit.system is System.METRIC:
            yield from (f"{sheet.number}: inches in {text!r}" for text in texts(sheet) if INCHES.search(text))
