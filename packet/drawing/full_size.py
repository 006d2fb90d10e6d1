"""The frame of full-size pages: a window for the drawing, and round it, in the margins, bars to check the print.

These pages keep no filing edge and no title block, so that the window is as large as printers allow: on letter paper
254 mm (10 in) the long way, by which a 48 in stick comes in five segments. What a title block says stands in two
fine lines above the window.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from packet.drawing.lettering import FINE, FINE_BOLD, NUMBER, Lettering
from packet.drawing.marks import Drawing, Line, Mark, Point, Text, rectangle
from packet.drawing.pens import DIMENSION, NARROW
from packet.drawing.room import LayoutError, Room
from packet.units import INCH, System

if TYPE_CHECKING:
    from packet.drawing.page import FinishedSheet, Identity, Paper, Sheet

MARGIN = 12.7
"""mm between the edge of the paper and the window."""

EDGE = 5.0
"""mm at the edge of the paper that office printers leave blank (assumption)."""

BARS = {System.INCH: ((6 * INCH, 6), (100.0, 10)), System.METRIC: ((100.0, 10), (150.0, 15))}
"""Length in mm and divisions of the two bars on either axis, by unit system."""

CORRECTED = "corrected: {across} across, {up} up"

_STROKE = 1.6  # mm, end strokes of a bar
_APART = 4.0  # mm between two notes up the margin
_LINES = (4.7, 1.1)  # mm from the window up to the two lines above it


@dataclass(frozen=True, slots=True)
class Correction:
    """By how much a printer's error is made up for: factors on what is drawn across and up the page."""

    across: float
    up: float


def window(paper: Paper) -> Room:
    """What a full-size page leaves for its drawing."""
    return Room(0.0, 0.0, paper.width, paper.height).inset(MARGIN)


def bar_name(system: System, length: float) -> str:
    """A bar is named in its own unit: an inch packet has one of 100 mm as well."""
    inches = length / INCH
    return f"{inches:.0f} in" if system is System.INCH and abs(inches - round(inches)) < 1e-9 else f"{length:.0f} mm"


def frame(sheet: Sheet, identity: Identity, paper: Paper, serial: str, lettering: Lettering, system: System) -> Drawing:
    """What stands round the window: bars on both axes, what the page is, and what it belongs to.

    Raises LayoutError where the paper is too small for the bars or the lines.
    """
    room = window(paper)
    if min(room.width, room.height) < max(length for length, _ in BARS[system]):
        raise LayoutError(f"sheet {sheet.number}: the paper is smaller than the bars that check its size")
    return (*_bars(room, lettering, system), *_lines(sheet, identity, paper, serial, lettering),
            rectangle(room.rect, DIMENSION))


def margin_note(paper: Paper, identity: Identity, text: str, lettering: Lettering) -> Drawing:
    """A line up the right margin, above what the page replaces and came from."""
    x, y = _margin(paper)
    return (Text((x, y + lettering.width(_origin(identity), FINE) + _APART), text, FINE, "left", 90.0),)


def correction_note(sheet: FinishedSheet, correction: Correction) -> Drawing:
    """What a corrected page says of it, at the upper end of the right margin. It is no part of the page's serial."""
    across, up = (f"{factor:.4f}".replace(".", sheet.point) for factor in (correction.across, correction.up))
    return (Text((_margin(sheet.paper)[0], window(sheet.paper).top), sheet.corrected.format(across=across, up=up), FINE,
                 "right", 90.0),)


def _margin(paper: Paper) -> Point:
    """Where lettering up the right margin begins."""
    room = window(paper)
    return (room.right + 1.2 + FINE.height, room.bottom + 1.0)


def _origin(identity: Identity) -> str:
    """What the page replaces and which input it came from."""
    name = identity.name
    replaced = name("none") if identity.replaces in ("", "none") else identity.replaces
    return f"{name('Replaces')} {replaced} · {name('Input')} {identity.fingerprint or '-'}"


def _bars(room: Room, lettering: Lettering, system: System) -> Drawing:
    """Two bars on one line along the foot, and two up the left side: one reads on either side of its line."""
    (first, parts), (second, others) = BARS[system]
    marks: list[Mark] = []
    for length, divisions, side in ((first, parts, 1.0), (second, others, -1.0)):
        name = bar_name(system, length)
        low = room.bottom - 3.4
        left = room.left - 3.4
        marks += [Line((room.left, low), (room.left + length, low), NARROW),
                  Line((left, room.bottom), (left, room.bottom + length), NARROW)]
        for i in range(divisions + 1):
            long = _STROKE * side * (1.0 if i in (0, divisions) else 0.5)
            run = length * i / divisions
            marks += [Line((room.left + run, low), (room.left + run, low + long), NARROW),
                      Line((left, room.bottom + run), (left - long, room.bottom + run), NARROW)]
        past = lettering.width(name, FINE) / 2 + 1.2
        level = 0.25 if side > 0 else -FINE.height - 0.25
        marks += [Text((room.left + length + past, low + level), name, FINE, "centre"),
                  Text((left - level, room.bottom + length + past), name, FINE, "centre", 90.0)]
    return tuple(marks)


def _lines(sheet: Sheet, identity: Identity, paper: Paper, serial: str, lettering: Lettering) -> Drawing:
    """What the page is and whose, above the window; what it replaces and came from, in the right margin."""
    room = window(paper)
    name = identity.name
    scale = sheet.scale_label.replace("SCALE", name("SCALE"))
    head = " · ".join(part for part in (sheet.title, sheet.subject, scale) if part)
    start = room.left + (lettering.width(f"{head}  ", FINE_BOLD) if sheet.subtitle else 0.0)
    foot = f"{identity.project} · {name('Rev')} {identity.revision or '-'} · {name('Page')} {serial}"
    right = room.right - lettering.width(sheet.number, NUMBER) - 4.0
    for text, end in ((f"{head}  {sheet.subtitle}", start + lettering.width(sheet.subtitle, FINE)),
                      (foot, room.left + lettering.width(foot, FINE))):
        if end > right:
            raise LayoutError(f"sheet {sheet.number}: {text!r} is longer than the line above the window; shorten it")
    return (
        Text((room.left, room.top + _LINES[0]), head, FINE_BOLD), Text((start, room.top + _LINES[0]), sheet.subtitle, FINE),
        Text((room.left, room.top + _LINES[1]), foot, FINE),
        Text((room.right, room.top + _LINES[0] - 3.0), sheet.number, NUMBER, "right"),
        Text(_margin(paper), _origin(identity), FINE, "left", 90.0))
