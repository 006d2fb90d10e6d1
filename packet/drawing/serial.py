"""Page serials: a short name for exactly what is drawn on a sheet.

The serial changes when anything drawn changes, and stays when only the count of sheets, the packet's revision
or the time of printing does, so that an unchanged page keeps its serial in a reissue.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from functools import lru_cache

from packet.drawing.lettering import Style
from packet.drawing.marks import Arc, Circle, Line, Mark, Path, Text
from packet.drawing.pens import Pen

# Crockford's base 32: no I, L, O, U, so a serial can be read out and written down.
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_LENGTH = 7


def serial_text(content: bytes) -> str:
    """Seven base-32 letters of the sha256 of the content, parted as `K3F-9QZ1`."""
    number = int.from_bytes(hashlib.sha256(content).digest()[:5], "big") >> (40 - 5 * _LENGTH)
    letters = "".join(ALPHABET[(number >> shift) & 31] for shift in range(5 * (_LENGTH - 1), -1, -5))
    return f"{letters[:3]}-{letters[3:]}"


def canonical(words: Iterable[str], marks: Iterable[Mark]) -> bytes:
    """The words and marks as one fixed text: numbers to 1e-4 mm, no negative zero."""
    lines = [f"w{len(word)}:{word}" for word in words]
    lines += [_fields(mark) for mark in marks]
    return "\n".join(lines).encode()


def _numbers(values: Sequence[float]) -> str:
    text = ("%.4f " * len(values) % tuple(values))[:-1]
    # Every number ends after four places, so that nothing else can look like a negative zero.
    return text.replace("-0.0000", "0.0000") if "-0.0000" in text else text


@lru_cache(maxsize=256)  # a packet has a few dozen pens
def _pen(pen: Pen | None) -> str:
    return "-" if pen is None else _numbers((pen.width, pen.grey, *pen.dash)).replace(" ", "/")


def _style(style: Style) -> str:
    return f"{style.height}{'b' if style.bold else ''}{'i' if style.italic else ''}"


def _fill(fill: float | None) -> str:
    return "-" if fill is None else _numbers((fill,))


def _fields(mark: Mark) -> str:
    match mark:
        case Text():
            return (f"T {_numbers((*mark.at, mark.angle, mark.grey))} {_style(mark.style)} {mark.anchor} "
                    f"{len(mark.string)}:{mark.string}")
        case Line():
            return f"L {_numbers((*mark.a, *mark.b))} {_pen(mark.pen)}"
        case Path():
            flat = [value for point in mark.points for value in point]
            return f"P {'c' if mark.closed else 'o'} {_numbers(flat)} {_pen(mark.pen)} {_fill(mark.fill)}"
        case Circle():
            return f"C {_numbers((*mark.centre, mark.radius))} {_pen(mark.pen)} {_fill(mark.fill)}"
        case Arc():
            return f"A {_numbers((*mark.centre, mark.radius, mark.start, mark.stop))} {_pen(mark.pen)}"
