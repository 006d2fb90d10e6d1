"""Stations: the tables at which people work, in the order the work passes them."""

from __future__ import annotations

from enum import StrEnum


class Station(StrEnum):
    """A station's letter; `word` stands on the tag of its sheets, `work` says what is done there."""

    P = "P"
    C = "C"
    H = "H"
    E = "E"
    R = "R"
    J = "J"
    X = "X"
    L = "L"

    @property
    def word(self) -> str:
        return _WORDS[self][0]

    @property
    def work(self) -> str:
        return _WORDS[self][1]


_WORDS = {
    Station.P: ("PREPARE", "prepare and measure"),
    Station.C: ("CUT", "mark and cut"),
    Station.H: ("HINGE", "hinge the leaves"),
    Station.E: ("EDGES", "edges and doors"),
    Station.R: ("ROOF", "roof to walls"),
    Station.J: ("JOIN", "join the halves"),
    Station.X: ("ERECT", "erect and finish"),
    Station.L: ("LEAD", "brief, hold, inspect"),
}
