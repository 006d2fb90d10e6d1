"""Relief cuts: where tape would otherwise lock a fold, it is slit.

Relief law of the trade (common practice, no published source). A strip is cut where it crosses a hinge
on that hinge's opening face, where it passes over a board edge across a hinge, and where it spans
the wedge between leaves that part. Crossing a closing face alone needs no cut. Lengths in mm.

Every strip is laid as areas on its leaves (`laid_areas`) and met with every hinge line of those leaves but
its own. It crosses a hinge where tape lies on both sides of the line: because its pull goes on over the next
leaf, because a patch lies on both, or because it reaches past the end or the far side of its leaf onto a
neighbour that lies open beside it. Strips over seams that part on the table are laid in the pack and end flush
with their leaves, as do those that reach into the air: also over an eave, since roof and walls are joined last.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from packet.assembly.records import Assembly, Leaf, LeafKind, Point, Seam, SeamKind
from packet.assembly.unfolded import parting
from packet.description.terms import Face
from packet.tape.laid_areas import Area, LaidStrip, laid_areas
from packet.tape.strips import Role, Strip

ON_LINE = 1e-3
"""mm from a hinge line at which a corner of an area still lies on it."""

LEAST = 1.0
"""mm that tape must reach over a hinge, and lie along it, before a blade finds anything to cut."""


class Reason(StrEnum):
    OPENING_FACE = "opening face"
    BOARD_EDGE = "board edge"
    WEDGE = "wedge"


class Part(StrEnum):
    """What a strip lies on, from its one side to the other."""

    WALL = "wall"
    EDGE = "edge"
    ROOF = "roof"


class Along(StrEnum):
    """Which strip is cut, in the order in which cuts are counted: two that are pulled over many leaves, and others."""

    SILL = "sill"
    EAVE = "eave"
    SEAM = "seam"


@dataclass(frozen=True, slots=True)
class ReliefCut:
    """One slit through a strip. `parts` names what is cut, in order across the strip, with the length of each."""

    strip: str
    between: tuple[str, str]
    face: Face
    length: float
    along: Along
    parts: tuple[tuple[Part, float], ...]
    reasons: tuple[Reason, ...]

    @property
    def shape(self) -> tuple[Face, Along, tuple[tuple[Part, float], ...]]:
        """Equal for slits that are made alike; lengths rounded to what no blade tells apart."""
        return self.face, self.along, tuple((part, round(length, 3)) for part, length in self.parts)


@dataclass(frozen=True, slots=True)
class _Zone:
    """A part of a slit, and the hinge it lies on."""

    part: Part
    width: float
    reason: Reason
    hinge: Seam


def relief_cuts(assembly: Assembly, laid: tuple[Strip, ...]) -> tuple[ReliefCut, ...]:
    """Every slit: sills, then eaves, then other strips, each in the order in which the strips are laid.

    Foil is cut again where the strip under it is; it has a slit of its own only where it alone crosses.
    """
    found = list(_Table(assembly, laid).cuts())
    cut = {(each.strip, frozenset(each.between), each.face) for each in found}
    kept = [each for each in found
            if (each.strip.removeprefix("foil over "), frozenset(each.between), each.face) not in cut
            or not each.strip.startswith("foil over ")]
    order = list(Along)
    return tuple(sorted(kept, key=lambda each: order.index(each.along)))


class _Table:
    """Strips as they are laid, one after the other, on leaves that lie flat."""

    def __init__(self, assembly: Assembly, laid: tuple[Strip, ...]) -> None:
        self._assembly = assembly
        self._parting = parting(assembly)
        self._laid = [each for strip in laid for each in laid_areas(assembly, strip, laid)]

    def cuts(self) -> Iterator[ReliefCut]:
        for number, each in enumerate(self._laid):
            following = self._following(number)
            if following:
                yield from self._in_pull(each, following)
            yield from self._within(each)
            if each.strip.role is not Role.PATCH:  # a patch lies on all the leaves that meet under it
                yield from self._over_neighbours(each)

    def _following(self, number: int) -> LaidStrip | None:
        """The next stretch of the same pull."""
        each = self._laid[number]
        if each.pull is None or each.strip.role is Role.FOIL:  # foil is cut where the strip under it is
            return None
        return next((other for other in self._laid[number + 1:] if other.pull == each.pull), None)

    def _in_pull(self, here: LaidStrip, there: LaidStrip) -> Iterator[ReliefCut]:
        """A slit where a pull goes on over the next leaves: both its sides, and the board edges between them."""
        pairs = list(zip(here.areas, there.areas, strict=True))
        hinges = [self._between(a.leaf, b.leaf) for a, b in pairs]
        zones: list[_Zone] = []
        for side, ((a, b), hinge) in enumerate(zip(pairs, hinges, strict=True)):
            if hinge is None:
                continue
            if side == 1 and here.edges:
                first = hinges[0] or hinge
                zones.append(_Zone(Part.EDGE, here.edges, Reason.BOARD_EDGE, first))
            zone = self._crossing(a, b, hinge)
            if zone:
                zones.append(zone)
        if zones:
            yield _cut(here.strip, zones, self._along(here.strip))

    def _crossing(self, a: Area, b: Area, hinge: Seam) -> _Zone | None:
        """What is cut of two areas of one strip on both sides of a hinge."""
        opens = a.face is hinge.opening_face
        if hinge.mark in self._parting:
            # Square across the strip, from the foot of the wedge.
            return _Zone(_part(a.leaf), min(a.reach, b.reach), Reason.OPENING_FACE if opens else Reason.WEDGE, hinge)
        if not opens:
            return None
        length = _overlap(_contact(a.polygon, a.leaf, hinge), _contact(b.polygon, b.leaf, hinge))
        return _Zone(_part(a.leaf), length, Reason.OPENING_FACE, hinge) if length > LEAST else None

    def _within(self, each: LaidStrip) -> Iterator[ReliefCut]:
        """Slits of a strip that lies on both leaves of a hinge that is not its own, as a patch does."""
        for a, b in itertools.combinations(each.areas, 2):
            hinge = self._between(a.leaf, b.leaf)
            if hinge is None or a.face is not b.face or hinge.mark == each.strip.seam or hinge.mark in self._parting:
                continue
            zone = self._crossing(a, b, hinge)
            if zone:
                yield _cut(each.strip, [zone], self._along(each.strip))

    def _over_neighbours(self, each: LaidStrip) -> Iterator[ReliefCut]:
        """Slits where tape reaches over a hinge of its leaf onto a leaf that lies open beside it."""
        if each.strip.seam and not self._lies_open(self._assembly.seam_by_mark[each.strip.seam]):
            return
        for area in each.areas:
            for hinge in self._assembly.seams_of(area.leaf.mark):
                if hinge.mark == each.strip.seam or not self._lies_open(hinge) or hinge.kind is SeamKind.EAVE:
                    continue
                if area.face is not hinge.opening_face or _reach_over(area, hinge) < LEAST:
                    continue
                beside = self._assembly.by_mark[_other(hinge, area.leaf.mark)]
                if beside.mark in each.strip.leaves:
                    continue  # the pull goes on there
                length = _overlap(_contact(area.polygon, area.leaf, hinge),
                                  _contact(_moved(area.polygon, area.leaf, hinge), beside, hinge))
                if length > LEAST:
                    yield _cut(each.strip, [_Zone(_part(area.leaf), length, Reason.OPENING_FACE, hinge)],
                               self._along(each.strip))

    def _lies_open(self, seam: Seam) -> bool:
        """Whether the hinge lies open on the table, its two leaves side by side, while strips are laid."""
        a, b = (self._assembly.by_mark[mark] for mark in seam.leaves)
        return seam.bonded and a.half == b.half and seam.mark not in self._parting

    def _between(self, a: Leaf, b: Leaf) -> Seam | None:
        return next((seam for seam in self._assembly.seams_of(a.mark)
                     if seam.bonded and set(seam.leaves) == {a.mark, b.mark}), None)

    def _along(self, strip: Strip) -> Along:
        if strip.role is Role.SILL:
            return Along.SILL
        eave = strip.seam and strip.pull and self._assembly.seam_by_mark[strip.seam].kind is SeamKind.EAVE
        return Along.EAVE if eave else Along.SEAM


def _cut(strip: Strip, zones: list[_Zone], along: Along) -> ReliefCut:
    hinge = zones[0].hinge
    face = strip.faces[0] if len(strip.faces) == 1 else hinge.opening_face
    return ReliefCut(strip.mark, hinge.leaves, face, sum(zone.width for zone in zones), along,
                     tuple((zone.part, zone.width) for zone in zones),
                     tuple(dict.fromkeys(zone.reason for zone in zones)))


def _part(leaf: Leaf) -> Part:
    return Part.ROOF if leaf.kind is LeafKind.ROOF else Part.WALL


def _other(seam: Seam, mark: str) -> str:
    return seam.leaves[1] if seam.leaves[0] == mark else seam.leaves[0]


def _edge(seam: Seam, mark: str) -> tuple[Point, Point]:
    return seam.edge_a if seam.leaves[0] == mark else seam.edge_b


def _contact(polygon: tuple[Point, ...], leaf: Leaf, hinge: Seam) -> tuple[float, float] | None:
    """From and to which place along a hinge, from its start, the tape of this area lies against it on the leaf."""
    from shapely import Polygon, get_coordinates

    (x0, y0), (x1, y1) = _edge(hinge, leaf.mark)
    long = math.hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    covered = Polygon(polygon).intersection(Polygon(leaf.hinged))
    places = [(x - x0) * ux + (y - y0) * uy for x, y in get_coordinates(covered).tolist()
              if abs((y - y0) * ux - (x - x0) * uy) < ON_LINE]
    return (min(places), max(places)) if places else None


def _overlap(a: tuple[float, float] | None, b: tuple[float, float] | None) -> float:
    return max(0.0, min(a[1], b[1]) - max(a[0], b[0])) if a and b else 0.0


def _reach_over(area: Area, hinge: Seam) -> float:
    """How far an area reaches beyond a hinge line of its leaf, mm."""
    (x0, y0), (x1, y1) = _edge(hinge, area.leaf.mark)
    long = math.hypot(x1 - x0, y1 - y0)
    offs = [((y - y0) * (x1 - x0) - (x - x0) * (y1 - y0)) / long for x, y in (*area.leaf.hinged, *area.polygon)]
    own, tape = offs[:len(area.leaf.hinged)], offs[len(area.leaf.hinged):]
    return max(tape) if -min(own) > max(own) else -min(tape)


def _moved(polygon: tuple[Point, ...], leaf: Leaf, hinge: Seam) -> tuple[Point, ...]:
    """An area of a leaf's frame in the frame of the leaf that lies open beside it over a hinge."""
    (ax, ay), (bx, by) = _edge(hinge, leaf.mark)
    (cx, cy), (dx, dy) = _edge(hinge, _other(hinge, leaf.mark))
    angle = math.atan2(dy - cy, dx - cx) - math.atan2(by - ay, bx - ax)
    cos, sin = math.cos(angle), math.sin(angle)
    return tuple((cx + cos * (x - ax) - sin * (y - ay), cy + sin * (x - ax) + cos * (y - ay)) for x, y in polygon)
