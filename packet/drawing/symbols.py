"""Small signs drawn as marks: circled numbers, tick boxes, arrows, datum corner, check bars, face textures.

They are drawn, not set, so that no typeface has to have them. Every function returns a drawing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from typing import Literal

from packet.drawing.hatch import dots, hatch
from packet.drawing.lettering import BODY_BOLD, FINE, FINE_BOLD, HEAD, Lettering, Style
from packet.drawing.marks import Arc, Circle, Drawing, Line, Path, Point, Rect, Text, rectangle
from packet.drawing.pens import CENTRE, DIMENSION, NARROW, VISIBLE, Pen
from packet.drawing.room import LayoutError

TICK_SIZE = 9.5  # mm, 3/8 in: big enough for a gloved hand
_SIGN_PAD = 1.5  # mm between a signature box and its label
ARROW_RATIO = 3.0  # length over width of a filled head


class FaceSide(StrEnum):
    """The two faces of a board as they are told on paper: by word and by texture."""

    INNER = "INNER"
    OUTER = "OUTER"


def circled(
    at: Point, text: str, lettering: Lettering, radius: float | None = None, style: Style = BODY_BOLD
) -> Drawing:
    """A number in a circle that covers what lies below; the circle grows to hold the text."""
    least = lettering.width(text, style) / 2 + 0.35 * style.height
    size = max(0.95 * style.height if radius is None else radius, least)
    return (
        Circle(at, size, NARROW, 1.0),
        Text((at[0], at[1] - style.height / 2), text, style, "centre"),
    )


def tick_box(at: Point, size: float = TICK_SIZE) -> Drawing:
    """An empty square to tick, `at` its lower left corner."""
    return (rectangle((at[0], at[1], at[0] + size, at[1] + size), Pen(0.35), 1.0),)


def centre_cross(at: Point, reach: float) -> Drawing:
    """The two centre lines of a hole, each `reach` mm to either side."""
    x, y = at
    return (Line((x - reach, y), (x + reach, y), CENTRE), Line((x, y - reach), (x, y + reach), CENTRE))


def arrow(a: Point, b: Point, pen: Pen = VISIBLE, head: float | None = None) -> Drawing:
    """A line from a to b with a filled 3:1 head of `head` mm length at b (10 line widths if left out)."""
    length = math.dist(a, b)
    size = min(10 * pen.width if head is None else head, length) if length else 0.0
    if not size:
        return ()
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    neck = (b[0] - size * ux, b[1] - size * uy)
    return (Line(a, neck, pen), _head(b, ux, uy, size, size / ARROW_RATIO / 2, pen.grey))


def terminator(at: Point, direction: Point, size: float = 3.0) -> Drawing:
    """A narrow filled arrowhead, 15 degrees (ISO 129), its point at `at`, pointing along `direction`."""
    length = math.hypot(*direction)
    ux, uy = direction[0] / length, direction[1] / length
    return (_head(at, ux, uy, size, size * math.tan(math.radians(7.5)), 0.0),)


def _head(tip: Point, ux: float, uy: float, size: float, half: float, grey: float) -> Path:
    x, y = tip[0] - size * ux, tip[1] - size * uy
    return Path((tip, (x - half * uy, y + half * ux), (x + half * uy, y - half * ux)), None, grey)


def datum_corner(at: Point, direction: Point = (-1.0, -1.0), size: float = 6.0) -> Drawing:
    """A solid triangle outside a corner, its point on the corner; `direction` leads away from the piece."""
    length = math.hypot(*direction)
    ux, uy = direction[0] / length, direction[1] / length
    return (_head(at, -ux, -uy, size, size / 2, 0.0),)


def alert_triangle(at: Point, size: float) -> Drawing:
    """A triangle with an exclamation mark, `at` its lower left corner, `size` mm wide; for safety words."""
    height = size * math.sqrt(3) / 2
    x, y = at
    middle = x + size / 2
    stem = (middle - size * 0.045, middle + size * 0.045)
    return (
        Path(((x, y), (x + size, y), (middle, y + height)), None, 0.0),
        Path(
            (
                (stem[0], y + 0.27 * height),
                (stem[1], y + 0.27 * height),
                (stem[1] + 0.02 * size, y + 0.64 * height),
                (stem[0] - 0.02 * size, y + 0.64 * height),
            ),
            None,
            1.0,
        ),
        Circle((middle, y + 0.15 * height), 0.06 * size, None, 1.0),
    )


def turn_arrow(
    centre: Point, radius: float, start: float, stop: float, pen: Pen = VISIBLE, head: float = 3.5
) -> Drawing:
    """An arc with a head at its `stop` end, degrees counter-clockwise; stop < start turns clockwise."""
    turn = math.copysign(1.0, stop - start)
    trim = math.degrees(min(head, abs(math.radians(stop - start)) * radius) / radius) * 0.9
    body = (start, stop - trim) if turn > 0 else (stop + trim, start)
    end = math.radians(stop)
    tip = (centre[0] + radius * math.cos(end), centre[1] + radius * math.sin(end))
    # The head follows the chord of its own length, so that it sits on the arc and not beside it.
    back = math.radians(stop - turn * math.degrees(head / radius))
    tail = (centre[0] + radius * math.cos(back), centre[1] + radius * math.sin(back))
    reach = math.dist(tail, tip)
    ux, uy = (tip[0] - tail[0]) / reach, (tip[1] - tail[1]) / reach
    return (
        Arc(centre, radius, body[0], body[1], pen),
        _head(tip, ux, uy, head, head / ARROW_RATIO / 2, pen.grey),
    )


def station_tag(top_right: Point, text: str, lettering: Lettering, style: Style = HEAD) -> Drawing:
    """White lettering on a black block that hangs from its top right corner."""
    pad = 0.55 * style.height
    width, height = station_tag_size(text, lettering, style)
    right, top = top_right
    return (
        rectangle((right - width, top - height, right, top), None, 0.0),
        Text((right - width / 2, top - height + pad * 0.98), text, style, "centre", grey=1.0),
    )


def station_tag_size(text: str, lettering: Lettering, style: Style = HEAD) -> tuple[float, float]:
    """Width and height in mm of a station tag."""
    pad = 0.55 * style.height
    return (lettering.width(text, style) + 3 * pad, style.height + 2 * pad)


def signature_box(at: Point, width: float, label: str, lettering: Lettering, height: float = 16.0) -> Drawing:
    """A box to sign, `at` its lower left; the label stands in its upper left. Raises LayoutError when the
    label is wider than the box."""
    x, y = at
    if lettering.width(label, FINE) > width - 2 * _SIGN_PAD:
        raise LayoutError(f"the label {label!r} is wider than its signature box of {width:.0f} mm")
    return (
        rectangle((x, y, x + width, y + height), Pen(0.35), 1.0),
        Text((x + _SIGN_PAD, y + height - _SIGN_PAD - FINE.height), label, FINE),
        Line((x + 3, y + 3.5), (x + width - 3, y + 3.5), Pen(0.18)),
    )


def check_bar(
    at: Point,
    length: float,
    label: str,
    lettering: Lettering,
    direction: Literal["horizontal", "vertical"] = "horizontal",
    divisions: int = 5,
    beside: bool = False,
) -> Drawing:
    """A bar of `length` paper mm to lay a rule against, from `at` to the right or up.

    It measures from the middle of the first end stroke to the middle of the last. Divisions are marked with
    short strokes; the label stands above a horizontal bar, or `beside` its left end, and left of a vertical one.
    Raises LayoutError when it is longer than the bar.
    """
    if lettering.width(label, FINE) > length:
        raise LayoutError(f"the label {label!r} is longer than its check bar of {length:.0f} mm")
    x, y = at
    end = 1.6
    if direction == "horizontal":
        bar = [Line((x, y), (x + length, y), VISIBLE)]
        bar += [
            Line(
                (x + length * i / divisions, y - (end if i in (0, divisions) else 0.0)),
                (x + length * i / divisions, y + end * (1.0 if i in (0, divisions) else 0.6)),
                NARROW,
            )
            for i in range(divisions + 1)
        ]
        if beside:
            return (*bar, Text((x - end, y - FINE.height / 2), label, FINE, "right"))
        return (*bar, Text((x + length / 2, y + end + 0.5), label, FINE, "centre"))
    bar = [Line((x, y), (x, y + length), VISIBLE)]
    bar += [
        Line(
            (x - end * (1.0 if i in (0, divisions) else 0.6), y + length * i / divisions),
            (x + (end if i in (0, divisions) else 0.0), y + length * i / divisions),
            NARROW,
        )
        for i in range(divisions + 1)
    ]
    return (*bar, Text((x - end - 0.5, y + length / 2), label, FINE, "centre", 90.0))


def face_texture(face: FaceSide, polygon: Sequence[Point], spacing: float = 2.5) -> Drawing:
    """The texture of a board face inside a polygon: dots inside the shelter, diagonal lines outside."""
    if face is FaceSide.INNER:
        return dots(polygon, spacing)
    return hatch(polygon, spacing, 45.0, Pen(0.18))


def face_patch(face: FaceSide, word: str, rect: Rect, lettering: Lettering, style: Style = FINE_BOLD) -> Drawing:
    """A framed patch of a face's texture with the word for it on a clear ground in the middle."""
    left, bottom, right, top = rect
    outline = ((left, bottom), (right, bottom), (right, top), (left, top))
    x, y = (left + right) / 2, (bottom + top) / 2
    half = lettering.width(word, style) / 2 + 0.4 * style.height
    ground = (x - half, y - 0.9 * style.height, x + half, y + 0.9 * style.height)
    return (
        *face_texture(face, outline),
        rectangle(rect, DIMENSION),
        rectangle(ground, None, 1.0),
        Text((x, y - style.height / 2), word, style, "centre"),
    )
