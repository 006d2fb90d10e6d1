"""Lines by their role and figures by their place, on every sheet: hidden edges dashed, axes chains, outlines continuous and
wide, dimension lines continuous and narrow (ISO 128-2); figures above their line, read from the bottom or the right (ISO
129-1).

A line's role is told by what it stands on: the plan's holes and outlines, the arrowheads of a dimension. What is dashed and is
none of these is named here, sheet by sheet.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence

from packet.assembly.records import Leaf
from packet.boards.records import CutKind
from packet.drawing.marks import Circle, Line, Mark, Path, Point, Text
from packet.drawing.page import FinishedSheet
from packet.drawing.pens import Pen
from tests.packets.dimensions import HEAD, NARROW, TICKS, Measured, measured
from tests.packets.packet import Packet, content, name_of
from tests.sheets.drawn import letters

WIDE = 2 * NARROW
PAST = 2.0
"""mm that an extension line runs past its dimension line."""
SPREAD = 0.5
"""mm that the middle of a figure may stand beside its tick."""
LED = 1.0
"""mm from the end of a leader to the figure that is led."""
ABOVE = (0.5, 2.5)
"""mm from a dimension line up to the foot of its figure."""

# Lengths of ISO 128-2 in widths of the line, from memory: dashes 12, long dashes 24, gaps 3. Its points of half a width are
# 2 here, since a laser printer loses them.
PATTERNS = {(12.0, 3.0): "dashed", (24.0, 3.0, 2.0, 3.0): "chain", (24.0, 3.0, 2.0, 3.0, 2.0, 3.0): "double chain"}
BROADER = {0.35: 0.25}
"""Widths that are drawn with the dashes of another: what is cut last has those of a narrow line, so that a short trim shows
its kind."""

NAMED = {
    "dashed": {
        "checklist": "diagonals to measure, and edges under another leaf",
        "receiving": "diagonals to measure",
        "relief": "edges of the board under the tape",
        "site": "the ground sheet under the shelter",
        "gauges": "where a piece of a stick is cut off",
        "labels": "where labels are cut apart",
        "tent": "where the card is folded",
    },
    "chain": {
        "parts": "axes of holes", "gauges": "axes of holes", "door": "axes of holes; the line on which both tops lie",
        "openings": "axes of openings", "roof": "the mid lines that must lie in one line", "checklist": "the same in small",
        "relief": "the line of a slit on the far side", "site": "the trench, a line on the ground",
    },
    "double chain": {
        "parts": "what is trimmed off", "marking": "what is cut last", "door": "what is trimmed off",
        "arrangement": "a door fully open", "erect": "doors folded back; the hinge as it is packed",
        "words": "what is trimmed off", "strike": "doors folded back", "cuts": "what is cut last",
    },
}
"""Sheets on which a kind of line stands, and for what. A line of that kind on another sheet is a fault."""

SHOWN: dict[str, tuple[tuple[str, Callable[[Packet], bool]], ...]] = {
    "dashed": (("receiving", lambda packet: True), ("labels", lambda packet: True), ("tent", lambda packet: True),
               ("gauges", lambda packet: True)),
    "chain": (("roof", lambda packet: True), ("door", lambda packet: True)),
    "double chain": (
        ("marking", lambda packet: any(cut.kind is CutKind.DOOR for board in packet.plan.boards for cut in board.cuts)),
        ("parts", lambda packet: any(leaf.rough != leaf.outline for leaf in packet.plan.assembly.leaves)),
        ("door", lambda packet: any(leaf.rough != leaf.outline for leaf in packet.plan.assembly.doors))),
}
"""Sheets that must have a kind of line, and in which projects."""

BESIDE = {
    "marking": "the short edge of a tip is too narrow for its figure, which stands in line with it",
    **dict.fromkeys(("recipe.mid", "recipe.corner", "recipe.eave", "recipe.hip", "recipe.seam"),
                    "the width of the open V begins a sentence that stands clear of the section"),
}
"""Sheets on which a figure stands elsewhere than on its line, and why."""


def misdrawn(packet: Packet) -> Iterator[str]:
    """Lines that are not drawn as their role asks."""
    for sheet in packet.sheets:
        name = _family(name_of(sheet))
        marks = (*sheet.clipped, *content(sheet))
        yield from (f"{sheet.number}: {fault}" for fault in (*_dashes(name, marks), *_axes(packet, sheet, name),
                                                            *_outlines(packet, sheet, name), *_extensions(marks)))
    yield from _not_shown(packet)


def _not_shown(packet: Packet) -> Iterator[str]:
    """Sheets that lack a kind of line they need: what is hidden, an axis or a trim is drawn as something else there."""
    drawn: dict[str, set[str | None]] = defaultdict(set)
    for sheet in packet.sheets:
        drawn[_family(name_of(sheet))] |= {kind_of(mark.pen) for mark in (*sheet.clipped, *sheet.marks)
                                           if not isinstance(mark, Text) and mark.pen}
    for kind, needs in SHOWN.items():
        yield from (f"{name}: no {kind} line" for name, needed in needs
                    if name in drawn and needed(packet) and kind not in drawn[name])


def misplaced(packet: Packet) -> Iterator[str]:
    """Lettering that reads from the left or from above; figures that stand elsewhere than above their line or at their
    tick."""
    for sheet in packet.sheets:
        name = _family(name_of(sheet))
        # The far half of a table tent stands on its head until the card is folded.
        yield from (f"{sheet.number}: {mark.string!r} reads at {mark.angle:.0f} degrees" for mark in sheet.marks
                    if isinstance(mark, Text) and mark.string and not -90.0 + 1e-6 < mark.angle <= 90.0 + 1e-6
                    and name != "tent")
        marks = content(sheet)
        for one in measured(marks):
            if one.degrees is None and not (_on_line(one, name) if one.lined else _at_tick(one, marks)):
                yield f"{sheet.number}: {one.text!r} does not stand where it belongs"


def _family(name: str) -> str:
    """A sheet's name without its station."""
    return name.partition(".")[0] if name.startswith(("tent.", "passing.")) else name


def _dashes(name: str, marks: Sequence[Mark]) -> Iterator[str]:
    for pen in {mark.pen for mark in marks if not isinstance(mark, Text) and mark.pen and mark.pen.dash}:
        kind = kind_of(pen)
        if kind is None:
            yield f"dashes of {pen.dash} mm on a line of {pen.width} mm are none of the standard"
        elif name not in NAMED[kind]:
            yield f"a {kind} line, and it is not known for what"


def kind_of(pen: Pen) -> str | None:
    """The kind of line that a pen draws, by the lengths of its dashes; None where they are of no kind."""
    if not pen.dash:
        return "continuous"
    width = BROADER.get(pen.width, pen.width)
    return next((kind for lengths, kind in PATTERNS.items() if len(lengths) == len(pen.dash)
                 and all(abs(long - times * width) < 1e-6 for long, times in zip(pen.dash, lengths, strict=True))), None)


def _axes(packet: Packet, sheet: FinishedSheet, name: str) -> Iterator[str]:
    """Holes to scale: a wide circle, and two chain lines square to each other through its centre and beyond it."""
    if name not in ("parts", "gauges", "door"):
        return
    holes = {hole.diameter for leaf in packet.plan.assembly.leaves for hole in leaf.holes}
    marks = content(sheet)
    chains = [mark for mark in marks if isinstance(mark, Line) and kind_of(mark.pen) == "chain"]
    for mark in marks:
        if isinstance(mark, Circle) and any(abs(2 * mark.radius * view.ratio - hole) < 1e-3
                                            for view in sheet.viewports for hole in holes):
            through = [line for line in chains if math.dist(_middle(line), mark.centre) < 1e-3
                       and math.dist(line.a, line.b) > 2 * mark.radius and line.pen.width == NARROW]
            if mark.pen is None or mark.pen.width != WIDE or mark.pen.dash:
                yield "a hole is not drawn in a wide continuous line"
            if len(through) != 2 or abs(_turn(through[0]) - _turn(through[1])) % 180 != 90.0:
                yield f"a hole has {len(through)} axes"


def _middle(line: Line) -> Point:
    return ((line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2)


def _turn(line: Line) -> float:
    return round(math.degrees(math.atan2(line.b[1] - line.a[1], line.b[0] - line.a[0])), 3)


def _outlines(packet: Packet, sheet: FinishedSheet, name: str) -> Iterator[str]:
    """Outlines of leaves: wide and continuous; of what is trimmed later, a double chain beside the wide one."""
    if name not in ("parts", "halves", "door", "roof", "openings"):
        return
    leaves = packet.plan.parts.leaves + packet.plan.assembly.leaves
    finished, before = _sides(leaves, "outline"), _sides(leaves, "rough") | _sides(leaves, "hinged")
    wide = 0
    for mark in content(sheet):
        if not (isinstance(mark, Path) and mark.closed and mark.pen and len(mark.points) > 2):
            continue
        found = {_lengths([(x * view.ratio, y * view.ratio) for x, y in mark.points]) for view in sheet.viewports}
        if not found & (finished | before):
            continue
        kind = kind_of(mark.pen)
        wide += kind == "continuous" and mark.pen.width == WIDE
        if kind == "double chain" and not found & before:
            yield "a finished leaf is drawn as one that is trimmed later"
        elif kind != "double chain" and (kind, mark.pen.width) != ("continuous", WIDE):
            yield f"the outline of a leaf is a {kind} line of {mark.pen.width} mm"
    if name == "parts" and not wide:
        yield "no leaf is drawn in a wide continuous line"


def _sides(leaves: Sequence[Leaf], outline: str) -> set[tuple[int, ...]]:
    return {_lengths(getattr(leaf, outline)) for leaf in leaves}


def _lengths(points: Sequence[Point]) -> tuple[int, ...]:
    """The sides of a polygon in whole mm, sorted: the same however it is turned. Sizes are often halves of a mm, or of a
    sixteenth of an inch: a little is added, so that none is rounded up here and down there."""
    return tuple(sorted(round(math.dist(a, b) + 0.0137) for a, b in zip(points, (*points[1:], points[0]), strict=True)))


def _extensions(marks: Sequence[Mark]) -> Iterator[str]:
    """Lines that end just past an arrowhead, square to its dimension: narrow and continuous. (Dimension lines and arcs are
    read only where they are so.)"""
    found = [one for one in measured(marks) if one.degrees is None and one.lined]
    lines = [mark for mark in marks if isinstance(mark, Line) and (mark.pen.width != NARROW or mark.pen.dash)]
    for one in found if lines else ():
        along = ((one.b[0] - one.a[0]) / one.length, (one.b[1] - one.a[1]) / one.length)
        for tip, line in itertools.product((one.a, one.b), lines):
            square = all(abs((end[0] - tip[0]) * along[0] + (end[1] - tip[1]) * along[1]) < 1e-6 for end in (line.a, line.b))
            if square and any(abs(math.dist(end, tip) - PAST) < 1e-6 for end in (line.a, line.b)):
                yield f"an extension line of {one.text!r} is {line.pen.width} mm wide, dashes {line.pen.dash}"


def _on_line(one: Measured, name: str) -> bool:
    """Whether a figure stands parallel to its line and a little above it."""
    turn = math.radians(one.figure.angle)
    up, along = (-math.sin(turn), math.cos(turn)), (math.cos(turn), math.sin(turn))
    high = (one.figure.at[0] - one.a[0]) * up[0] + (one.figure.at[1] - one.a[1]) * up[1]
    off = (one.b[0] - one.a[0]) * up[0] + (one.b[1] - one.a[1]) * up[1]
    parallel = abs(off) < 1e-6 * one.length + 1e-9
    if parallel and ABOVE[0] <= high <= ABOVE[1]:
        # Between its ends, or beyond them with no more room between than the line drawn on beneath it has.
        ends = sorted((end[0] * along[0] + end[1] * along[1]) for end in (one.a, one.b))
        middle = one.figure.at[0] * along[0] + one.figure.at[1] * along[1]
        half = letters().width(one.text, one.figure.style) / 2 + 2 * HEAD + 3.0
        return one.figure.anchor == "centre" and ends[0] - half <= middle <= ends[1] + half
    return name in BESIDE


def _at_tick(one: Measured, marks: Sequence[Mark]) -> bool:
    """Whether a running figure stands at its tick, in line with it, or is led to it."""
    corners = letters().box(one.figure)
    middle = (sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4)
    off = (abs(middle[0] - one.b[0]), abs(middle[1] - one.b[1]))
    across = min(off) if one.length < 1e-6 else off[0] if abs(one.b[1] - one.a[1]) < 1e-6 else off[1]
    if across <= SPREAD and math.dist(middle, one.b) < 20.0:
        return True
    left, right = min(x for x, _ in corners), max(x for x, _ in corners)
    low, high = min(y for _, y in corners), max(y for _, y in corners)
    leaders = [line for line in marks if isinstance(line, Line) and line.pen.width == NARROW and not line.pen.dash
               and math.dist(line.a, one.b) < HEAD and not any(abs(math.dist(line.a, line.b) - tick) < 1e-6 for tick in TICKS)]
    return any(math.hypot(max(left - x, 0.0, x - right), max(low - y, 0.0, y - high)) < LED
               for x, y in (line.b for line in leaders))


