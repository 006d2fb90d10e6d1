"""The small square code on every page: what it says, how large it is, and where it stands.

A QR code (ISO/IEC 18004) of one size on all pages: version 3, error correction M, which holds 61 characters of the
alphanumeric set and bears dust over 15 % of it. The title block keeps 4 modules of quiet round it.
"""

from __future__ import annotations

import string
import unicodedata
from dataclasses import dataclass

from packet.drawing.marks import Point
from packet.drawing.room import Room

VERSION = 3
MODULES = 4 * VERSION + 17
"""Modules on a side."""
CAPACITY = 61
"""Characters of the alphanumeric set (ISO/IEC 18004, table 7: version 3, level M)."""
MODULE = 0.45
"""mm; a desktop scanner and a telephone at arm's length read 0.4 and more (common practice, no source)."""
QUIET = 4
"""Modules left white on every side (ISO/IEC 18004)."""

SIDE = (MODULES + 2 * QUIET) * MODULE
"""mm on a side, quiet zone included."""

_ALPHABET = frozenset(string.digits + string.ascii_uppercase + " $%*+-./:")
_BETWEEN = "/"


@dataclass(frozen=True, slots=True)
class PageCode:
    """What a code says, and the lower left corner of its first module in paper mm."""

    text: str
    at: Point


def code_text(serial: str, sheet: str, fingerprint: str, project: str) -> str:
    """`SERIAL/SHEET/FINGERPRINT/PROJECT` in the letters a code may hold; the project is cut where it is too long."""
    plain = unicodedata.normalize("NFKD", project).encode("ascii", "ignore").decode().upper()
    parts = (serial, sheet, fingerprint.upper(), plain)
    return "".join(letter if letter in _ALPHABET else " " for letter in _BETWEEN.join(parts))[:CAPACITY].rstrip()


def serial_in(scanned: str) -> str:
    """The serial in what a scanner read, or in what was typed."""
    return scanned.partition(_BETWEEN)[0].strip().upper()


def sheet_in(scanned: str) -> tuple[str, ...]:
    """The sheet number in what a scanner read; nothing in a bare serial."""
    number = scanned.partition(_BETWEEN)[2].partition(_BETWEEN)[0].strip().upper()
    return (number,) if number else ()


def page_code(text: str, band: Room) -> PageCode:
    """The code at the right of the title block's band, middle high."""
    inset = QUIET * MODULE
    return PageCode(text, (band.right - SIDE + inset, (band.bottom + band.top - SIDE) / 2 + inset))
