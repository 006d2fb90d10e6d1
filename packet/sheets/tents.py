"""Table tents: a page folded over its middle that stands on a station's table and is read from both sides."""

from __future__ import annotations

from packet.drawing.flow import paragraph
from packet.drawing.lettering import HEAD, LARGE, Style
from packet.drawing.marks import Arc, Circle, Drawing, Line, Mark, Path, Point, Text, rectangle
from packet.drawing.page import Sheet
from packet.drawing.pens import HIDDEN
from packet.drawing.room import Room
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.station_cards import protection
from packet.work.facts import facts
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks

GIANT = Style(20.0, bold=True)
PANEL = 0.7  # of the height of a side, for the black square of the letter


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One page for each station with work."""
    working = {task.station for task in tasks(plan)}
    return tuple(_tent(plan, kit, station) for station in Station if station in working)


def _tent(plan: Plan, kit: Kit, station: Station) -> Sheet:
    words, room = kit.words, kit.room
    lower = room.rows(1, 1, gap=6.0)[1]
    side = _side(plan, kit, station, lower)
    middle = room.centre[1]
    marks = (*side, *turned_half(side, room.centre),
             Line((room.left, middle), (room.right, middle), HIDDEN))
    return Sheet(
        number=sheet_number(f"tent.{station}"), title=words.text("stations.tent.title", word=words.name(station.word)),
        station=station.word, kind=words.text("stations.tent.kind"), marks=marks,
        subtitle=words.text("stations.tent.subtitle"))


def _side(plan: Plan, kit: Kit, station: Station, room: Room) -> Drawing:
    """The letter on black, the station's word beside it, what is done there and what is worn."""
    size = PANEL * room.height
    square = rectangle((room.left, room.top - size, room.left + size, room.top), None, 0.0)
    letter = Text((room.left + size / 2, room.top - (size + GIANT.height) / 2), str(station), GIANT, "centre", grey=1.0)
    left = room.left + size + 8.0
    word = Text((left, room.top - GIANT.height - 2.0), kit.words.name(station.word), GIANT)
    width = room.right - left
    work = paragraph((left, room.top - GIANT.height - 8.0), width, kit.words.name(station.work(facts(plan))), HEAD,
                     kit.lettering)
    worn = f"**{kit.words.text('stations.card.protection')}:** {', '.join(protection(kit, station))}"
    below = paragraph((room.left, room.top - size - 3.0), room.width, worn, LARGE, kit.lettering)
    return (square, letter, word, *work.marks, *below.marks)


def turned_half(marks: Drawing, centre: Point) -> Drawing:
    """The marks turned upside down about a point."""
    def at(point: Point) -> Point:
        return 2 * centre[0] - point[0], 2 * centre[1] - point[1]

    def turned(mark: Mark) -> Mark:
        match mark:
            case Line():
                return mark._replace(a=at(mark.a), b=at(mark.b))
            case Path():
                return mark._replace(points=tuple(at(point) for point in mark.points))
            case Circle():
                return mark._replace(centre=at(mark.centre))
            case Arc():
                return mark._replace(centre=at(mark.centre), start=mark.start + 180.0, stop=mark.stop + 180.0)
            case Text():
                return mark._replace(at=at(mark.at), angle=mark.angle + 180.0)

    return tuple(turned(mark) for mark in marks)
