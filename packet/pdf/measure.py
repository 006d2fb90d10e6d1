"""Measure dictionaries, by which a reader's measuring tool answers in real lengths (ISO 32000-2, 12.9)."""

from __future__ import annotations

from packet.drawing.full_size import Correction
from packet.drawing.marks import Rect, Viewport
from packet.pdf.document import Document, Written, string
from packet.units import System

POINTS = 72 / 25.4  # points per mm


def viewport_array(document: Document, viewports: tuple[Viewport, ...], system: System, size: tuple[float, float],
                   correction: Correction | None = None) -> Written:
    """The value of a page's VP entry. Order matters: the last viewport that holds a point wins.

    `size` of the page in points. Where a page is corrected for its printer, rectangles grow about its middle and
    either axis has a factor of its own. A measure that several views share stands in the document once.
    """
    across, up = (correction.across, correction.up) if correction else (1.0, 1.0)
    middle = (size[0] / 2, size[1] / 2)

    def placed(rect: Rect) -> bytes:
        factors = (across, up) * 2
        ways = [middle[i % 2] + (edge * POINTS - middle[i % 2]) * factors[i] for i, edge in enumerate(rect)]
        return " ".join([f"{way:.4f}" for way in ways]).encode()

    parts: list[bytes | Written] = []
    for viewport in viewports:
        measure = document.shared(_measure(viewport.ratio, system, across, up))
        parts += [b"<< /Type /Viewport /BBox [", placed(viewport.rect), b"] /Name ", string(viewport.name), b" /Measure ",
                  measure, b" >> "]
    return Written(b"[", *parts, b"]")


def _measure(ratio: float, system: System, across: float, up: float) -> bytes:
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
    apart = f" /Y {axes[1]} /CYX 1" if across != up else ""
    return f"<< /Type /Measure /Subtype /RL /R ({rate}) /X {axes[0]}{apart} /D {distance} /A {area} >>".encode()


def _format(unit: str, factor: float, kind: str, precision: int) -> str:
    """A number format array: unit, factor, F for fractions or D for decimals, and their denominator. The factor has as many
    places as it needs: a factor per area needs many."""
    written = f"{factor:.12f}".rstrip("0").rstrip(".")
    return f"[<< /Type /NumberFormat /U ({unit}) /C {written} /F /{kind} /D {precision} >>]"
