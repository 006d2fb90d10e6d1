"""Scales from the standard series, and views that carry model millimetres to paper millimetres."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from packet.drawing.marks import Point, Rect
from packet.drawing.room import LayoutError
from packet.units import System


@dataclass(frozen=True, slots=True)
class Scale:
    """A drawing scale: `ratio` model mm on one mm of paper, and its inscription."""

    ratio: float
    label: str

    @property
    def title(self) -> str:
        """The inscription without its first word, for a caption of one's own."""
        return self.label.removeprefix("SCALE ")


# ISO 5455: full size and reductions; extended only by powers of ten.
METRIC = tuple(
    Scale(float(ratio), f"SCALE 1:{ratio}") for ratio in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
)
# The architect's scales, each so many inches to the foot: ratio = 12 / inches.
IMPERIAL = (
    Scale(1.0, "SCALE 1:1"),
    Scale(2.0, 'SCALE 6" = 1\'-0"'),
    Scale(4.0, 'SCALE 3" = 1\'-0"'),
    Scale(8.0, 'SCALE 1-1/2" = 1\'-0"'),
    Scale(12.0, 'SCALE 1" = 1\'-0"'),
    Scale(16.0, 'SCALE 3/4" = 1\'-0"'),
    Scale(24.0, 'SCALE 1/2" = 1\'-0"'),
    Scale(32.0, 'SCALE 3/8" = 1\'-0"'),
    Scale(48.0, 'SCALE 1/4" = 1\'-0"'),
    Scale(64.0, 'SCALE 3/16" = 1\'-0"'),
    Scale(96.0, 'SCALE 1/8" = 1\'-0"'),
    Scale(128.0, 'SCALE 3/32" = 1\'-0"'),
    Scale(192.0, 'SCALE 1/16" = 1\'-0"'),
    Scale(384.0, 'SCALE 1/32" = 1\'-0"'),
)


class ScaleError(LayoutError):
    """No standard scale makes the model fit."""


def series(system: System) -> tuple[Scale, ...]:
    """The standard scales of a unit system, largest picture first."""
    return IMPERIAL if system == "in" else METRIC


def full_size(system: System) -> Scale:
    """Scale 1:1."""
    return series(system)[0]


def pick_scale(system: System, model_size: tuple[float, float], space: tuple[float, float]) -> Scale:
    """The standard scale that draws a model of width x height mm as large as fits `space` (paper mm).
    Raises ScaleError when not even the smallest does."""
    for scale in series(system):
        if all(size / scale.ratio <= room + 1e-9 for size, room in zip(model_size, space, strict=True)):
            return scale
    width, height = model_size
    raise ScaleError(
        f"no standard scale fits {width:.0f} x {height:.0f} mm into {space[0]:.0f} x {space[1]:.0f} mm "
        "of paper; use larger paper"
    )


@dataclass(frozen=True, slots=True)
class View:
    """A drawing to scale: the model's (0, 0) stands at `origin` on the paper."""

    scale: Scale
    origin: Point

    def point(self, p: Point) -> Point:
        """Model mm to paper mm."""
        return (self.origin[0] + p[0] / self.scale.ratio, self.origin[1] + p[1] / self.scale.ratio)

    def points(self, ps: Iterable[Point]) -> tuple[Point, ...]:
        """Several points, model mm to paper mm."""
        return tuple(self.point(p) for p in ps)

    def length(self, mm: float) -> float:
        """A model length as it measures on paper."""
        return mm / self.scale.ratio

    @staticmethod
    def centred(scale: Scale, model: Rect, room: Rect) -> View:
        """A view whose model rectangle (left, bottom, right, top in model mm) stands centred in `room`."""
        x = (room[0] + room[2] - (model[0] + model[2]) / scale.ratio) / 2
        y = (room[1] + room[3] - (model[1] + model[3]) / scale.ratio) / 2
        return View(scale, (x, y))
