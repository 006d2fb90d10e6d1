"""What is carried, and whether it passes a clear opening: boxes through a rectangle. mm."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from packet.description.site_values import Passage
from packet.plan import Plan

Box = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Load:
    """One thing that is carried as a box: `key` names it (board, boards, pack)."""

    key: str
    box: Box


def carried(plan: Plan) -> tuple[Load, ...]:
    """One board, the largest, all boards on each other, and the pack with its bulk at the hinges."""
    largest = max(plan.supply.sizes, key=lambda size: (size.breadth * size.length, size.length))
    pack = plan.pack
    thick = pack.thickness + plan.bulk.most
    return (Load("board", (largest.breadth, largest.length, largest.thickness)), Load("boards", plan.supply.stack),
            Load("pack", (pack.width, pack.length, thick)))


class Lying(StrEnum):
    """How a load lies in an opening."""

    FLAT = "flat"
    EDGE = "edge"
    LEANING = "leaning"


class First(StrEnum):
    """What of a load goes in first: across its longest side, its middle one, or its shortest."""

    END = "end"
    SIDE = "side"
    FACE = "face"


@dataclass(frozen=True, slots=True)
class Way:
    """How a load passes: how it lies, what goes first, and how deep it reaches in (mm)."""

    lying: Lying
    first: First
    deep: float


def passes(box: Box, given: Passage) -> Way | None:
    """The easiest way of a box through an opening into the length behind it; None where there is none. Flat comes before on
    edge, and that before leaning; of each, the longest side goes in along the way.

    A box leans where the rectangle p x q fits into a x b turned, by Carver's condition (W. B. Carver, American
    Mathematical Monthly 64, 1957; from memory).
    """
    width, height = given.opening
    sides = sorted(box, reverse=True)
    room = math.inf if given.length is None else given.length
    tries = [(deep, sides[:place] + sides[place + 1:], first)
             for place, (deep, first) in enumerate(zip(sides, First, strict=True)) if deep <= room]
    fits: tuple[tuple[Lying, Callable[[float, float], bool]], ...] = (
        (Lying.FLAT, lambda wide, thin: wide <= width and thin <= height),
        (Lying.EDGE, lambda wide, thin: thin <= width and wide <= height),
        (Lying.LEANING, lambda wide, thin: _through(wide, thin, width, height)))
    return next((Way(lying, first, deep) for lying, fit in fits for deep, (wide, thin), first in tries
                 if fit(wide, thin)), None)


def _through(p: float, q: float, a: float, b: float) -> bool:
    long, short = max(p, q), min(p, q)
    a, b = max(a, b), min(a, b)
    if long <= a:
        return short <= b
    if short > b:
        return False
    diagonal = long * long + short * short
    return b >= (2 * long * short * a + (long * long - short * short) * math.sqrt(diagonal - a * a)) / diagonal
