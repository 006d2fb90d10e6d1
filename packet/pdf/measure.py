"""Measure dictionaries, by which a reader's measuring tool answers in real lengths (ISO 32000-2, 12.9)."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFObject, PDFObjectReference, PDFString

from packet.drawing.full_size import Correction
from packet.drawing.marks import Rect, Viewport
from packet.units import System

POINTS = 72 / 25.4  # points per mm


def shared(document: Any, name: str, make: Callable[[], Any]) -> Any:
    """A reference to the object of that name, which is made when it is asked for first and stands in the document once."""
    return PDFObjectReference(name) if name in document.idToObject else document.Reference(make(), name)


def viewport_array(document: Any, viewports: tuple[Viewport, ...], system: System, size: tuple[float, float],
                   correction: Correction | None = None) -> Any:
    """The value of a page's VP entry in a document. Order matters: the last viewport that holds a point wins.

    `size` of the page in points. Where a page is corrected for its printer, rectangles grow about its middle and
    either axis has a factor of its own.
    """
    across, up = (correction.across, correction.up) if correction else (1.0, 1.0)
    middle = (size[0] / 2, size[1] / 2)

    def placed(rect: Rect) -> list[float]:
        factors = (across, up) * 2
        return [round(middle[i % 2] + (edge * POINTS - middle[i % 2]) * factors[i], 4) for i, edge in enumerate(rect)]

    return PDFArray(
        [
            PDFDictionary(
                {
                    "Type": PDFName("Viewport"),
                    "BBox": PDFArray(placed(viewport.rect)),
                    "Name": PDFString(viewport.name),
                    "Measure": shared(document, f"Measure {viewport.ratio} {system} {across} {up}",
                                      partial(_measure, viewport.ratio, system, across, up)),
                }
            )
            for viewport in viewports
        ]
    )


def _measure(ratio: float, system: System, across: float, up: float) -> Any:
    """Rectilinear measure: x (and y where it differs) in user units to real lengths, then distances and areas in the
    shop's units."""
    if system == "in":
        axes = [_format("in", ratio / 72 / factor, "F", 16) for factor in (across, up)]
        distance = _format("in", 1.0, "F", 16)
        area = _format("sq ft", 1 / 144, "D", 100)
        rate = f"1 in = {ratio:g} in"
    else:
        axes = [_format("mm", ratio / POINTS / factor, "D", 10) for factor in (across, up)]
        distance = _format("mm", 1.0, "D", 10)
        area = _format("m2", 1e-6, "D", 1000)
        rate = f"1 mm = {ratio:g} mm"
    return PDFDictionary(
        {
            "Type": PDFName("Measure"),
            "Subtype": PDFName("RL"),
            "R": PDFString(rate),
            "X": axes[0],
            **({"Y": axes[1], "CYX": _Real(1.0)} if across != up else {}),
            "D": distance,
            "A": area,
        }
    )


def _format(unit: str, factor: float, kind: str, precision: int) -> Any:
    """A number format array: unit, factor, F for fractions or D for decimals, and their denominator."""
    return PDFArray(
        [
            PDFDictionary(
                {
                    "Type": PDFName("NumberFormat"),
                    "U": PDFString(unit),
                    "C": _Real(factor),
                    "F": PDFName(kind),
                    "D": precision,
                }
            )
        ]
    )


class _Real(PDFObject):  # type: ignore[misc]
    """A number written with as many places as it needs: the usual five are too few for a factor per area."""

    def __init__(self, value: float) -> None:
        self._value = value

    def format(self, document: Any) -> bytes:
        return f"{self._value:.12f}".rstrip("0").rstrip(".").encode()
