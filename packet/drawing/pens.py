"""Pens: line widths from one series, and the line types of drawing practice by role."""

from __future__ import annotations

from dataclasses import dataclass

# ISO 128: line widths in mm, each about sqrt(2) times the one before.
WIDTHS = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn: width in mm (one of WIDTHS), dash lengths on/off in mm (empty: continuous), grey
    from 0 (black) to 1 (white). Raises ValueError for a width outside the series."""

    width: float
    dash: tuple[float, ...] = ()
    grey: float = 0.0

    def __post_init__(self) -> None:
        if self.width not in WIDTHS:
            raise ValueError(f"line width {self.width} mm is not in the series {WIDTHS}")
        if not 0 <= self.grey <= 1:
            raise ValueError(f"grey {self.grey} is not between 0 (black) and 1 (white)")
        if any(length <= 0 for length in self.dash):
            raise ValueError(f"dash lengths must be positive: {self.dash}")


WIDE = 0.5
THIN = 0.25  # wide to narrow is 2 to 1 (ISO 128)
BROAD = 1.0


def _dashed(width: float) -> tuple[float, ...]:
    """Dash 12 and gap 3 line widths (ISO 128, from memory)."""
    return (12 * width, 3 * width)


def _chain(width: float, points: int) -> tuple[float, ...]:
    """Long dash 24, gap 3 line widths, and points. A point is 2 widths long, not the half width of the
    standard: that short, a laser printer loses it."""
    return (24 * width, 3 * width) + (2 * width, 3 * width) * points


VISIBLE = Pen(WIDE)
HEAVY = Pen(BROAD)  # outline of the stock, cut faces of a section
NARROW = Pen(THIN)
CUT = Pen(WIDE)  # a line the knife or saw follows
DIMENSION = Pen(THIN)
EXTENSION = Pen(THIN, grey=0.35)
LEADER = Pen(THIN)
HATCH = Pen(0.18)
FOLD = Pen(THIN)  # ISO 128: fold lines are continuous and thin
HIDDEN = Pen(THIN, _dashed(THIN))
CENTRE = Pen(THIN, _chain(THIN, 1))
CUTTING_PLANE = Pen(WIDE, _chain(WIDE, 1))
LAST = Pen(0.35, _chain(0.25, 2))  # long dash, double point: cut last; also an outline before it changes
TABLE = Pen(0.18)
FRAME = Pen(0.7)
RULE = Pen(THIN)
