"""Stations: the tables at which people work, in the order the work passes them."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum


class Station(StrEnum):
    """A station's letter; `word` stands on the tag of its sheets."""

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

    def work(self, known: Mapping[str, bool]) -> str:
        """What is done there in a project of which these facts (packet.work.facts) are known."""
        if self in _PLAINER:
            fact, plainer = _PLAINER[self]
            return _WORDS[self][1] if known[fact] else plainer
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

_PLAINER = {
    Station.E: ("doors", "edges"),
    Station.J: ("halved", "fold"),
    Station.X: ("enterable", "open and finish"),
}
"""Where the fact is not so, the work is said otherwise."""
