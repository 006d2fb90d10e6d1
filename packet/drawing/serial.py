"""Page serials: a short name for exactly what is drawn on a sheet.

The serial changes when anything drawn changes, and stays when only the count of sheets, the packet's revision
or the time of printing does, so that an unchanged page keeps its serial in a reissue.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from functools import lru_cache

from packet.drawing.lettering import Style
from packet.drawing.marks import Circle, Line, Mark, Path, Text
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
    return "\n".join([*(f"w{len(word)}:{word}" for word in words), *_told(marks)]).encode()


def _told(marks: Iterable[Mark]) -> tuple[str, ...]:
    """A line for each mark, as one text: written at once, they take half the time that they take one by one."""
    forms: list[str] = []
    values: list[float | str] = []
    # A sheet has a few pens and styles, which its marks keep, so that they are known again by their place in memory.
    known: dict[int, str] = {id(None): "-"}
    for mark in marks:
        if isinstance(mark, Line):
            (ax, ay), (bx, by), pen = mark
            forms.append("L %.4f %.4f %.4f %.4f %s")
            values += (ax, ay, bx, by, known.get(id(pen)) or _pen(pen, known))
        elif isinstance(mark, Text):
            (x, y), string, style, anchor, angle, grey = mark
            forms.append("T %.4f %.4f %.4f %.4f %s %s %s:%s")
            values += (x, y, angle, grey, known.get(id(style)) or _style(style, known), anchor, str(len(string)), string)
        elif isinstance(mark, Path):
            points, drawn, fill, closed = mark
            forms.append(_path(len(points), closed))
            for point in points:
                values += point
            values += (known.get(id(drawn)) or _pen(drawn, known), _fill(fill))
        elif isinstance(mark, Circle):
            (x, y), radius, drawn, fill = mark
            forms.append("C %.4f %.4f %.4f %s %s")
            values += (x, y, radius, known.get(id(drawn)) or _pen(drawn, known), _fill(fill))
        else:
            forms.append("A %.4f %.4f %.4f %.4f %.4f %s")
            values += (*mark.centre, mark.radius, mark.start, mark.stop, _pen(mark.pen, known))
    if not forms:
        return ()
    form = "\n".join(forms)
    told = form % tuple(values)
    if "-0.0000" in told:
        told = form % tuple([value if isinstance(value, str) else _positive(value) for value in values])
    return (told,)


@lru_cache(maxsize=256)
def _path(count: int, closed: bool) -> str:
    return f"P {'c' if closed else 'o'} {'%.4f %.4f ' * count}%s %s"


def _positive(value: float) -> float:
    """The value, but 0 for one that is written as a negative zero."""
    return 0.0 if -1e-4 < value <= 0.0 and f"{value:.4f}" == "-0.0000" else value


def _pen(pen: Pen | None, known: dict[int, str]) -> str:
    numbers = () if pen is None else (pen.width, pen.grey, *pen.dash)
    return known.setdefault(id(pen), "/".join(f"{_positive(number):.4f}" for number in numbers))


def _style(style: Style, known: dict[int, str]) -> str:
    return known.setdefault(id(style), f"{style.height}{'b' if style.bold else ''}{'i' if style.italic else ''}")


def _fill(fill: float | None) -> str:
    return "-" if fill is None else f"{_positive(fill):.4f}"
