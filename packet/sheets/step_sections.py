"""Small pictures of boards cut across, for the steps of the checklist: where tape lies, how a hinge folds, how a blade
stands. Boards are drawn thick enough to see; angles and faces are the project's."""

from __future__ import annotations

import math

from packet.assembly.records import Point
from packet.description.terms import Face
from packet.drawing.lettering import FINE_BOLD
from packet.drawing.marks import Circle, Drawing, Line, Mark, Path, Text, rectangle, shift
from packet.drawing.pens import NARROW, VISIBLE, Pen
from packet.drawing.room import Room
from packet.drawing.symbols import arrow, turn_arrow
from packet.sheets.kit import Kit
from packet.tape.section import Section, edge_section, hinge_section, offset, stretch

THICK = 3.2
"""mm of paper that a board is thick."""
TAPE = Pen(1.0)
STRONG = Pen(1.4)
BOARD = 0.9
"""Grey of a board that is cut across."""
_OFF = 0.9
"""mm from a board to the middle of the tape on it."""
_WORD = FINE_BOLD.height + 1.2
"""mm that a word takes beside a board."""


def word(kit: Kit, face: Face) -> str:
    """A face as it is written in a small picture: short where its word is long."""
    return kit.words.text(f"checklist.picture.{face}")


def centred(text: str, x: float, y: float) -> Text:
    """Lettering with its middle at a point."""
    return Text((x, y - FINE_BOLD.height / 2), text, FINE_BOLD, "centre")


def shut(kit: Kit, closing: Face, room: Room) -> Drawing:
    """A hinge folded shut on the table, the wrap strip round both board edges; the faces it lies on in words."""
    section, land = _lying(room), 0.6 * (room.width - THICK)
    tape = offset(stretch(section.opening_path, -land - THICK, land + THICK), _OFF)
    x, y = room.centre
    marks: Drawing = (*_boards(section), Path(tuple(tape), TAPE, closed=False))
    right = max(p[0] for p in tape)
    left = min(p[0] for board in section.boards for p in board)
    placed = shift(marks, x - (left + right) / 2, y)
    away = THICK + _OFF + 0.8 + FINE_BOLD.height / 2
    name = word(kit, closing.other)
    return (*placed, centred(name, x, y + away), centred(name, x, y - away))


def _lying(room: Room) -> Section:
    """Two boards on each other, their joint to the right."""
    return hinge_section(THICK, 0.0, room.width - _OFF - 1.0).rotated(-90.0)


def spliced(kit: Kit, room: Room) -> Drawing:
    """Two parts of a leaf butted, a strip over the joint on both faces; the faces in words."""
    (x, y), reach, half = room.centre, room.width / 2 - 1.0, THICK / 2
    marks: list[Mark] = [rectangle((x - reach, y - half, x, y + half), VISIBLE, BOARD),
                         rectangle((x, y - half, x + reach, y + half), VISIBLE, BOARD)]
    for face, side in ((Face.INNER, 1.0), (Face.OUTER, -1.0)):
        level = y + side * (half + _OFF)
        marks += [Path(((x - 0.6 * reach, level), (x + 0.6 * reach, level)), TAPE, closed=False),
                  centred(word(kit, face), x, level + side * (0.8 + FINE_BOLD.height / 2))]
    return tuple(marks)


def flexed(kit: Kit, closing: Face, room: Room) -> Drawing:
    """A hinge part shut, an arrow on either side to fold and open it, the face that closes in words between."""
    angle, reach = 84.0, min(room.height - 3.0, 15.0)
    section = hinge_section(THICK, angle, reach)
    half = angle / 2
    marks: list[Mark] = list(_boards(section))
    for start, stop in ((270.0 - half - 52.0, 270.0 - half - 16.0), (270.0 + half + 52.0, 270.0 + half + 16.0)):
        marks += turn_arrow((0.0, 0.0), reach, start, stop, NARROW, 2.6)
    marks.append(Circle((0.0, 0.0), 0.7, None, 0.0))
    marks.append(centred(word(kit, closing), 0.0, -reach + 1.6))
    return shift(tuple(marks), room.centre[0], room.top - THICK - 0.5)


def standing(kit: Kit, angle: float, closing: Face, room: Room, *, inside: bool) -> Drawing:
    """An open hinge: the strip on its closing face (`inside`), or one over the V with a tab to pull; the face in words."""
    reach = min(0.5 * room.width - 1.0, 13.0)
    section = hinge_section(THICK, angle, reach)
    if inside:
        tape: tuple[Point, ...] = tuple(offset(stretch(section.closing_path, -0.75 * reach, 0.75 * reach), -_OFF))
        face = closing
    else:
        far, near, _, other, end = section.opening_path
        path = (_between(near, far, 0.7), near, other, _between(other, end, 0.7))
        tape, face = tuple(offset(path, _OFF)), closing.other
    marks: list[Mark] = [*_boards(section), Path(tape, TAPE, closed=False)]
    if not inside:
        x, y = tape[-1]
        marks.append(Line((x, y), (x + 1.6, y + 2.4), VISIBLE))  # the tab to pull
    half = math.radians(angle / 2)
    wide = 0.6 * kit.lettering.width(word(kit, face), FINE_BOLD)
    under = min(-0.45 * reach * math.cos(half) - 3.5, -wide / math.tan(half) - 3.0)
    level = under if inside else max(THICK, tape[1][1]) + _WORD
    marks.append(centred(word(kit, face), 0.0, level))
    return shift(tuple(marks), room.centre[0], room.top - THICK - (0.5 if inside else 2.0 + 2 * _WORD))


def round_edge(kit: Kit, room: Room) -> Drawing:
    """A board that stands over a table edge, the sill strip round its bottom edge with equal lands, both faces in words."""
    reach = room.height - 2.0
    section = edge_section(1.3 * THICK, reach).rotated(180.0)
    tape = offset(stretch(section.opening_path, -0.55 * reach - THICK / 2, 0.55 * reach + THICK / 2), _OFF)
    marks: Drawing = (*_boards(section), Path(tuple(tape), TAPE, closed=False))
    x = room.centre[0]
    placed = shift(marks, x, room.bottom + 1.5)
    level = room.bottom + 0.8 * reach
    apart = THICK
    return (*placed, *(
        Text((x + side * apart, level), word(kit, face), FINE_BOLD, "right" if side < 0 else "left")
        for side, face in ((-1, Face.INNER), (1, Face.OUTER))))


def blade(kit: Kit, knife: bool, room: Room) -> Drawing:
    """A board cut across: the knife scores the marked face (1), the board is turned, the knife goes through (2); or a
    saw square to the face."""
    marks: list[Mark] = []
    places = room.columns(1, 1, gap=3.0) if knife else (room.inset(0.2 * room.width, 0.0),)
    thick = 5.0
    for number, place in enumerate(places, 1):
        low = place.bottom + 4.4
        x, top = place.centre[0], low + thick
        marks.append(rectangle((place.left, low, place.right, top), VISIBLE, BOARD))
        if knife and number == 2:
            marks.append(Line((x, low), (x, low + 0.55 * thick), VISIBLE))  # the score, now below
        depth = top - 0.55 * thick if knife else low - 1.0
        marks += _knife((x, depth), room.top) if knife else _saw((x, depth), room.top)
        marks += _square((x, top))
        if knife:
            marks.append(centred(str(number), x, place.bottom + FINE_BOLD.height / 2))
    if knife:
        first, second = places
        y = room.top - 2.0
        marks += turn_arrow(((first.right + second.left) / 2, y - 3.4), 3.4, 150.0, 30.0, NARROW, 2.4)
    return tuple(marks)


def _knife(tip: Point, top: float) -> Drawing:
    """A blade that stands upright, its point at `tip`."""
    x, y = tip
    neck = top - 4.0
    return (Path(((x, y), (x + 0.9, y + 1.8), (x + 0.9, neck), (x - 0.9, neck), (x - 0.9, y + 1.8)), VISIBLE, 1.0),
            rectangle((x - 1.5, neck, x + 1.5, top), None, 0.0))


def _saw(tip: Point, top: float) -> Drawing:
    x, y = tip
    return (rectangle((x - 0.6, y, x + 0.6, top - 3.0), VISIBLE, 1.0), rectangle((x - 2.0, top - 3.0, x + 2.0, top), None, 0.0))


def _square(foot: Point) -> Drawing:
    """That it stands square to the face: a small square beside its foot."""
    x, y = foot
    return (Path(((x + 0.9, y + 2.2), (x + 3.1, y + 2.2), (x + 3.1, y)), NARROW, closed=False),)


def peeled(kit: Kit, room: Room) -> Drawing:
    """Tape on an offcut, one end pulled up; the roller that pressed it."""
    left, right = room.left + 1.0, room.right - 1.0
    top = room.bottom + THICK + 1.0
    middle = room.left + 0.5 * room.width
    lifted = tuple((middle + 7.0 * math.sin(a), top + _OFF + 7.0 - 7.0 * math.cos(a)) for a in
                   (math.radians(step) for step in range(0, 151, 15)))
    end, roller = lifted[-1], (left + 6.0, top + 2 * _OFF + 3.2)
    return (rectangle((left, room.bottom, right, top), VISIBLE, BOARD),
            Path(((left + 1.0, top + _OFF), *lifted), TAPE, closed=False),
            Circle(roller, 3.2, VISIBLE, 1.0), Circle(roller, 0.6, None, 0.0), Line(roller, (left + 1.5, room.top), VISIBLE),
            *arrow((end[0] - 2.0, end[1] - 0.5), (end[0] - 7.0, end[1] + 0.5), NARROW, 2.6))


def slit(kit: Kit, room: Room) -> Drawing:
    """A strip across the joint of two boards, slit where they meet; the joint goes on dashed."""
    clear = room.inset(0.12 * room.width, 0.5)
    x = clear.centre[0]
    low, high = clear.bottom + 0.22 * clear.height, clear.bottom + 0.66 * clear.height
    return (rectangle(clear.rect, VISIBLE, 1.0), Line((x, clear.bottom), (x, clear.top), NARROW),
            rectangle((clear.left, low, clear.right, high), NARROW, 0.7),
            rectangle((x - 0.7, low, x + 0.7, high), None, 1.0), Line((x, low), (x, high), TAPE))


def _boards(section: Section) -> Drawing:
    return tuple(Path(board, VISIBLE, BOARD) for board in section.boards)


def _between(a: Point, b: Point, part: float) -> Point:
    return (a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1]))
