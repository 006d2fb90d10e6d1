"""Fit the leaf to the boards that really came and to what the blade takes.

A leaf is as large as the smallest measured board and the kerf allow, the same for all leaves: the
count of boards is what the nominal sizes promise, and the sizes give way until the layout fits.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from packet.boards.nest import DoesNotFit

SMALLEST = 0.9
"""Share of a nominal size below which more boards are the better answer."""

RATHER = 4.0
"""How many times less height or slant must lose than the width to give way in its place: a leaf that is a hair narrower
leaves the layout and its held board as they were (common practice, no source)."""

STEPS = 32
"""Halvings; a tenth of a metre comes down to far below a millionth of a mm."""


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


def refit(nominal: Sizes, promised: int, needs: Callable[[Sizes], int], round_down: Callable[[float], float]
          ) -> Refit:
    """Reduce one size until `needs` keeps the promise: the width, unless height or slant can do it for far less. Where none
    can alone, reduce height and slant, then the width as well.

    `needs(sizes)` is the number of boards with real boards and kerf; it may raise DoesNotFit. Where
    no size down to nine tenths keeps the count, the nominal sizes stay and the count grows.
    """
    def fits(sizes: Sizes) -> bool:
        try:
            return needs(sizes) <= promised
        except DoesNotFit:
            return False

    if fits(nominal):
        return Refit(nominal, nominal)
    alone = [found for name in ("leaf_width", "wall_height", "slant")
             if (found := _giving(nominal, (name,), fits, round_down))]
    if alone:
        return min(alone, key=lambda found: _lost(nominal, found.sizes))
    for giving in (("wall_height", "slant"), ("wall_height", "slant", "leaf_width")):
        found = _giving(nominal, giving, fits, round_down)
        if found:
            return found
    return Refit(nominal, nominal)


def _giving(nominal: Sizes, giving: tuple[str, ...], fits: Callable[[Sizes], bool], round_down: Callable[[float], float]
            ) -> Refit | None:
    """The largest sizes of which those named give way; None where nine tenths of them are still too large."""
    largest = _with(nominal, giving, {name: getattr(nominal, name) * SMALLEST for name in giving})
    if not fits(largest):
        return None
    for name in reversed(giving):
        largest = _largest(largest, name, getattr(nominal, name), fits)
    rounded = _with(largest, giving, {
        name: getattr(nominal, name) if getattr(largest, name) == getattr(nominal, name)
        else round_down(getattr(largest, name)) for name in giving})
    return Refit(rounded, largest)


def _lost(nominal: Sizes, cut: Sizes) -> float:
    """How much the sizes lose, as a share of each; of height and slant it weighs more."""
    return sum(weight * (1.0 - after / before)
               for before, after, weight in zip(_each(nominal), _each(cut), (1.0, RATHER, RATHER), strict=True))


def _each(sizes: Sizes) -> tuple[float, float, float]:
    return sizes.leaf_width, sizes.wall_height, sizes.slant


def _with(sizes: Sizes, names: tuple[str, ...], values: dict[str, float]) -> Sizes:
    kept = {"leaf_width": sizes.leaf_width, "wall_height": sizes.wall_height, "slant": sizes.slant}
    return Sizes(**{**kept, **{name: values[name] for name in names}})


def _largest(sizes: Sizes, name: str, nominal: float, fits: Callable[[Sizes], bool]) -> Sizes:
    """The largest value of one size, up to nominal, that still fits with the others as they are."""
    whole = _with(sizes, (name,), {name: nominal})
    if fits(whole):
        return whole
    low, high = getattr(sizes, name), nominal
    for _ in range(STEPS):
        middle = (low + high) / 2
        if fits(_with(sizes, (name,), {name: middle})):
            low = middle
        else:
            high = middle
    return _with(sizes, (name,), {name: low})
