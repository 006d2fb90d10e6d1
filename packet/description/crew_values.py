"""What the keys on people and time come to: minutes after midnight, mm per minute, minutes for one."""

from __future__ import annotations

from dataclasses import dataclass

Minutes = tuple[int, int]
"""From and to, minutes after midnight."""


@dataclass(frozen=True, slots=True)
class Pause:
    """On that day, counted from 1, no tape is laid in these hours."""

    day: int
    hours: Minutes
    reason: str


@dataclass(frozen=True, slots=True)
class Seats:
    """People that find room at each station at once."""

    prepare: int
    cut: int
    hinge: int
    edges: int
    roof: int
    join: int
    erect: int


@dataclass(frozen=True, slots=True)
class Crew:
    """`people` besides the lead; the day's work begins at `start` and lasts `hours`, breaks not counted."""

    people: int
    start: int
    hours: float
    breaks: tuple[Minutes, ...]
    pauses: tuple[Pause, ...]
    leaves_to_hand: int
    seats: Seats


@dataclass(frozen=True, slots=True)
class Rates:
    """`cut`, `strip` and `foil` in mm a minute; the others in minutes for one."""

    cut: float
    strip: float
    foil: float
    line: float
    slit: float
    piece: float
    board: float
    fold: float
    check: float
    hole: float
    talk: float
