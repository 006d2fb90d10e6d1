"""Fit the leaf to the boards that really came and to what the blade takes.

A leaf is as large as the smallest measured board and the kerf allow, the same for all leaves: the
count of boards is what the nominal sizes promise, and the sizes give way until the layout fits.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from packet.boards.nest import DoesNotFit

SMALLEST = 0.9
"""Share of a nominal size below which more boards are the better answer."""

RATHER = 4.0
"""How many times less height or slant must lose than the width to give way in its place: a leaf that is a hair narrower
leaves the layout and its held board as they were (common practice, no source)."""

SAME = 1e-6
"""Print steps between sizes that are one."""

HALVINGS = 12
"""Of a print step, to tell how much would just fit: a thousandth of a mm."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """What may give way, mm: leaf width, wall height, slant."""

    leaf_width: float
    wall_height: float
    slant: float


@dataclass(frozen=True, slots=True)
class Refit:
    """Sizes to cut (rounded down to the print step), and the largest that would just fit (mm)."""

    sizes: Sizes
    largest: Sizes


def refit(nominal: Sizes, promised: int, needs: Callable[[Sizes], int], step: float) -> Refit:
    """Reduce one size until `needs` keeps the promise: the width, unless height or slant can do it for far less. Where none
    can alone, reduce height and slant, then the width as well.

    `needs(sizes)` is the number of boards with real boards and kerf; it may raise DoesNotFit. Sizes are looked for among the
    multiples of the print step (mm). Where no size down to nine tenths keeps the count, the nominal sizes stay and the count
    grows.
    """
    def fits(sizes: Sizes) -> bool:
        try:
            return needs(sizes) <= promised
        except DoesNotFit:
            return False

    if fits(nominal):
        return Refit(nominal, nominal)
    alone = [found for name in ("leaf_width", "wall_height", "slant") if (found := _giving(nominal, (name,), fits, step))]
    if alone:
        return _told(nominal, min(alone, key=lambda found: _lost(nominal, found)), fits, step)
    for giving in (("wall_height", "slant"), ("wall_height", "slant", "leaf_width")):
        found = _giving(nominal, giving, fits, step)
        if found:
            return _told(nominal, found, fits, step)
    return Refit(nominal, nominal)


def _giving(nominal: Sizes, giving: tuple[str, ...], fits: Callable[[Sizes], bool], step: float) -> Sizes | None:
    """The largest sizes on print steps of which those named give way; None where nine tenths of them are still too large."""
    lowest = {name: math.ceil(SMALLEST * getattr(nominal, name) / step) for name in giving}
    sizes = replace(nominal, **{name: count * step for name, count in lowest.items()})
    if not fits(sizes):
        return None
    for name in reversed(giving):
        whole = replace(sizes, **{name: getattr(nominal, name)})
        if fits(whole):
            sizes = whole
            continue
        low, high = lowest[name], math.ceil(getattr(nominal, name) / step - SAME)
        while high - low > 1:
            middle = (low + high) // 2
            if fits(replace(sizes, **{name: middle * step})):
                low = middle
            else:
                high = middle
        sizes = replace(sizes, **{name: low * step})
    return sizes


def _told(nominal: Sizes, sizes: Sizes, fits: Callable[[Sizes], bool], step: float) -> Refit:
    """With the sizes that would just fit, each while the others are as they are cut."""
    largest = sizes
    for name in ("leaf_width", "wall_height", "slant"):
        low, most = getattr(sizes, name), getattr(nominal, name)
        high = min(low + step, most)
        for _ in range(HALVINGS if low < most else 0):
            middle = (low + high) / 2
            if fits(replace(sizes, **{name: middle})):
                low = middle
            else:
                high = middle
        largest = replace(largest, **{name: low})
    return Refit(sizes, largest)


def _lost(nominal: Sizes, cut: Sizes) -> float:
    """How much the sizes lose, as a share of each; of height and slant it weighs more."""
    return sum(weight * (1.0 - after / before)
               for before, after, weight in zip(_each(nominal), _each(cut), (1.0, RATHER, RATHER), strict=True))


def _each(sizes: Sizes) -> tuple[float, float, float]:
    return sizes.leaf_width, sizes.wall_height, sizes.slant
