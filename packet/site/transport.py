"""What is carried, and whether it passes a clear opening: boxes through a rectangle. mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.description.site_values import Transport
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


def passes(box: Box, given: Transport) -> bool | None:
    """Whether a box goes through the opening, on any side and turned, and lies in the length behind it.

    None where no opening is given. A box may lean in the opening: the rectangle p x q fits into a x b turned where
    Carver's condition holds (W. B. Carver, American Mathematical Monthly 64, 1957; from memory).
    """
    if given.opening is None:
        return None
    for along in range(3):
        deep = box[along]
        face = [side for place, side in enumerate(box) if place != along]
        if (given.length is None or deep <= given.length) and _through(face[0], face[1], *given.opening):
            return True
    return False


def _through(p: float, q: float, a: float, b: float) -> bool:
    long, short = max(p, q), min(p, q)
    a, b = max(a, b), min(a, b)
    if long <= a:
        return short <= b
    if short > b:
        return False
    diagonal = long * long + short * short
    return b >= (2 * long * short * a + (long * long - short * short) * math.sqrt(diagonal - a * a)) / diagonal
