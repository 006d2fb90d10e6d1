"""Keys of the project file on people and time: who works when, and how fast. All of it assumptions."""

from typing import Annotated

from packet.description.clock import Clock, Span
from packet.description.kinds import Count, Length, Listed, Number, Text
from packet.description.section import Section

_HANDS = Count(1, 60, ("4", "4"))


def _minutes(default: str, most: float = 600) -> Number:
    return Number((0, most), (0, most), ("minutes", "minutes"), default=(default, default))


class Seats(Section):
    """How many people find room at each station at once; the lead is not counted."""

    prepare: Annotated[int, _HANDS]
    """People at the tables of station P, prepare and measure."""
    cut: Annotated[int, _HANDS]
    """People at the tables of station C, mark and cut: two to a table."""
    hinge: Annotated[int, _HANDS]
    """People at the tables of station H, hinge the leaves."""
    edges: Annotated[int, _HANDS]
    """People at the tables of station E, edges and doors."""
    roof: Annotated[int, _HANDS]
    """People at station R, roof to walls."""
    join: Annotated[int, Count(1, 60, ("6", "6"))]
    """People at station J, join the halves."""
    erect: Annotated[int, Count(1, 60, ("6", "6"))]
    """People at station X, erect and finish."""


class Pause(Section):
    """A time when no tape is laid."""

    day: Annotated[int, Count(1, 60)]
    """Day of the work, counted from 1."""
    hours: Annotated[tuple[int, int], Span()]
    """From when to when, such as 13:00-15:00."""
    reason: Annotated[str, Text(24, needed=True)]
    """Why, such as rain or cold."""


class Crew(Section):
    """Who works, and when."""

    people: Annotated[int, Count(2, 60, ("8", "8"))]
    """Pairs of hands, besides the lead."""
    start: Annotated[int, Clock(("8:00", "8:00"))]
    """When the work begins each day."""
    hours: Annotated[float, Number((1, 16), (1, 16), ("hours", "hours"), default=("8", "8"))]
    """Hours of work in a day, breaks not counted."""
    breaks: Annotated[
        tuple[Annotated[tuple[int, int], Span()], ...],
        Listed(12, (("10:00-10:15", "12:00-13:00", "15:00-15:15"), ("10:00-10:15", "12:00-13:00", "15:00-15:15")),
               "[10:00-10:15, 12:00-13:00]", True)
    ]
    """Breaks of every day."""
    pauses: Annotated[
        tuple[Pause, ...], Listed(60, ((), ()), "- {day: 1, hours: 13:00-15:00, reason: rain}", empty_allowed=True)
    ]
    """Times when no tape is laid, since it rains, is too cold or too damp; other work goes on."""
    leaves_to_hand: Annotated[int, Count(1, 20, ("4", "4"))]
    """Leaves that one pair of hands steadies when a half or the whole is folded, carried or erected."""


class Rates(Section):
    """How fast two people work at a table. Lengths are done in a minute, minutes are for one."""

    cut: Annotated[float, Length(("1", "100 ft"), ("25", "30 m"), ("2 ft", "0.6 m"))]
    """Length cut in a minute, both passes done."""
    strip: Annotated[float, Length(("1", "100 ft"), ("25", "30 m"), ("3 ft", "0.9 m"))]
    """Length of strapping laid and pressed in a minute, each roll of a strip by itself."""
    foil: Annotated[float, Length(("1", "100 ft"), ("25", "30 m"), ("4 ft", "1.2 m"))]
    """Length of foil laid and pressed in a minute, each pass by itself."""
    line: Annotated[float, _minutes("1.5")]
    """Minutes to measure and snap a line."""
    slit: Annotated[float, _minutes("1")]
    """Minutes to cut a relief slit."""
    piece: Annotated[float, _minutes("2")]
    """Minutes to wipe, label, sort or handle a leaf."""
    board: Annotated[float, _minutes("6")]
    """Minutes to carry, number and measure a board."""
    fold: Annotated[float, _minutes("2")]
    """Minutes to fold or open a seam."""
    check: Annotated[float, _minutes("5")]
    """Minutes the lead needs to read and sign a hold point."""
    hole: Annotated[float, _minutes("10")]
    """Minutes to drill and line a latch hole, or to begin and clean the cut of an opening."""
    talk: Annotated[float, _minutes("20")]
    """Minutes for the briefing, and again for the handing over."""
