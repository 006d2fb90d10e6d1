"""A page by itself, ready to be bound, whatever others there are."""

from __future__ import annotations

import zlib
from dataclasses import dataclass

from packet.drawing.full_size import Correction
from packet.drawing.marks import Link, Viewport
from packet.drawing.page import FinishedSheet, copy_note
from packet.pdf.fonts import lettering
from packet.pdf.measure import POINTS
from packet.pdf.operators import Used, note_operators, page_operators
from packet.units import System

_PRESSED = 4
"""How hard zlib presses: half the time of its usual 6 for a twentieth more bytes."""


@dataclass(frozen=True, slots=True)
class PageContent:
    """A page ready to be bound: `stream` and `note` (what stands over it in a copy) are operators, deflated; `letters` are
    the cuts of the type in use, with what they set beside ASCII. `size` in points, `links` and `viewports` in mm."""

    number: str
    title: str
    station: str
    tag: str
    serial: str
    size: tuple[float, float]
    stream: bytes
    note: bytes
    letters: tuple[tuple[str, str], ...]
    links: tuple[Link, ...]
    viewports: tuple[Viewport, ...]
    system: System
    correction: Correction | None


def content_of(sheet: FinishedSheet, correction: Correction | None = None, copy: int = 0) -> PageContent:
    """The page of a sheet. `correction` makes up for a printer on a full-size page, about its middle, and is written on it.

    `copy` says which copy of its serial it is; that stands in a stream of its own, so that the drawing's stream is the same
    in every copy.
    """
    applied = correction if sheet.window else None
    letters, used = lettering(), Used()
    stream = _pressed(page_operators(letters, used, sheet, applied))
    note = _pressed(note_operators(letters, used, copy_note(sheet, copy))) if copy else b""
    return PageContent(sheet.number, sheet.title, sheet.station, sheet.tag, sheet.serial,
                       (sheet.paper.width * POINTS, sheet.paper.height * POINTS), stream, note,
                       tuple((cut, "".join(sorted(beside))) for cut, beside in used.items()), sheet.links, sheet.viewports,
                       sheet.system, applied)


def _pressed(operators: str) -> bytes:
    return zlib.compress(operators.encode("ascii"), _PRESSED)
