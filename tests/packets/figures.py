"""Lengths as people read them off paper: figures of inches to the sixteenth, of feet, of millimetres and of metres.

Written from what is printed, apart from the program's own formats, and good for reading only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from packet.units import System

INCH = 25.4
NUMBER = r"(?:\d+-\d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
# No part of a word, a mark (A3, C-04), a time (8:00), a ratio (1:20), a range of numbers, nor a longer number.
FREE = rf"(?<![\w.:/+-])({NUMBER})(?![\w:/]|\.\d|-\d)"


@dataclass(frozen=True, slots=True)
class Figure:
    """A length as it is written, the value in mm, and how far the true one may be from it."""

    text: str
    value: float
    within: float

    def is_(self, mm: float) -> bool:
        """Whether this is that length, rounded."""
        return abs(abs(mm) - self.value) <= self.within + 1e-6


def figure(text: str, system: System) -> Figure:
    """One number of the packet's unit: to 1/16 in or as many decimals as it has; whole or half mm."""
    if system is System.METRIC:
        places = len(text.partition(".")[2])
        return Figure(text, float(text), 0.5 * 10.0**-places)
    if "." in text:
        return Figure(text, float(text) * INCH, 0.5 * 10.0 ** -len(text.partition(".")[2]) * INCH)
    whole, _, part = text.rpartition("-") if "-" in text else ("", "", text)
    return Figure(text, float(Fraction(part) + int(whole or 0)) * INCH, INCH / 32)


def figures(text: str, system: System) -> Iterator[Figure]:
    """Every number in a text, as a length in the packet's unit."""
    for found in re.finditer(FREE, text.replace("\u00a0", " ")):
        yield figure(found[1], system)
