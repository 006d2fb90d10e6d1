"""The title block at the foot of every sheet: named fields set in lines, and a check bar after the last line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from packet.drawing.lettering import FINE, FINE_BOLD, Lettering
from packet.drawing.marks import Drawing, Line, Mark, Text
from packet.drawing.pens import TABLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.symbols import check_bar
from packet.units import System

Field = tuple[str, str]  # name, and value; an empty value leaves a rule to write on

_LINE = 4.4  # mm, pitch of the lines
_LEAST_LINES = 2
_INDENT = 4.0
_BETWEEN = 5.0  # mm between fields
_PAD = 1.2  # mm above the first line and below the last
_WRITE_IN = 24.0  # mm of rule for a name or date to be written by hand
_BAR_SPACE = 66.0  # mm at the right of the last line for the check bar


def block_height(fields: Sequence[Field], width: float, lettering: Lettering) -> float:
    """Height in mm that the fields need in a title block of `width` mm."""
    return len(_flow(fields, width - 2 * _INDENT, lettering)) * _LINE + 2 * _PAD


def title_block(fields: Sequence[Field], band: Room, lettering: Lettering, system: System) -> Drawing:
    """Field names plain, values bold, lines from the top of the band; the bar at its foot is 2 in or 50 mm long.

    Raises LayoutError when the fields need more lines than the band holds, or one is longer than a line.
    """
    lines = _flow(fields, band.width - 2 * _INDENT, lettering)
    if len(lines) * _LINE > band.height:
        raise LayoutError(f"the title block needs {len(lines)} lines, its band has {band.height:.1f} mm")
    marks: list[Mark] = []
    top = band.top - _PAD
    for row, line in enumerate(lines):
        baseline = top - _LINE * row - (_LINE + FINE.height) / 2
        for offset, (name, value) in line:
            x = band.left + _INDENT + offset
            if name:
                marks.append(Text((x, baseline), name, FINE))
                x += lettering.width(name + " ", FINE)
            if value:
                marks.append(Text((x, baseline), value, FINE_BOLD))
            else:
                marks.append(Line((x, baseline - 0.6), (x + _WRITE_IN, baseline - 0.6), TABLE))
    length, label, parts = (50.8, "2 in", 2) if system == "in" else (50.0, "50 mm", 5)
    start = (band.right - _INDENT - length, band.bottom + _PAD + _LINE / 2)
    return (*marks, *check_bar(start, length, label, lettering, divisions=parts, beside=True))


def _flow(fields: Iterable[Field], width: float, lettering: Lettering) -> list[list[tuple[float, Field]]]:
    """Fields set one after the other into lines: (offset from the left, field). The last line leaves the bar room."""
    lines: list[list[tuple[float, Field]]] = [[]]
    x = 0.0
    for field in fields:
        length = _width(field, lettering)
        if length > width:
            raise LayoutError(f"title block: {field[0]} {field[1]!r} is longer than its line; shorten it")
        if lines[-1] and x + length > width:
            lines.append([])
            x = 0.0
        lines[-1].append((x, field))
        x += length + _BETWEEN
    if len(lines) < _LEAST_LINES or x - _BETWEEN > width - _BAR_SPACE:
        lines.append([])
    return lines


def _width(field: Field, lettering: Lettering) -> float:
    name, value = field
    head = lettering.width(name + " ", FINE) if name else 0.0
    return head + (lettering.width(value, FINE_BOLD) if value else _WRITE_IN)
