"""Every length that is written with its unit is a length of the model, rounded.

The lengths that a sheet may write are worked out here from the records of the plan (leaves, seams, boards, strips, slits,
pack) and from the project's own values, by closed formulas where there is one; not by the sheet's code, nor in its format.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass

import numpy as np

from packet.assembly.records import Leaf
from packet.drawing.marks import Text
from packet.drawing.page import FinishedSheet
from packet.tape.strips import Role
from packet.units import System
from packet.work.tasks import tasks
from tests.packets.figures import INCH, NUMBER, Figure, figure
from tests.packets.otherwise import balance, closing, opening, silhouettes
from tests.packets.packet import Packet, content, name_of

FOOT = 12 * INCH
LENGTH = re.compile(rf"(?<![\w.:/+-])((?:{NUMBER}(?: x | \u00d7 | ± |, | and | to |-))*{NUMBER}) (in|mm|ft|m)\b"
                    r"(?! ?2|/| a minute|/s)(?: \((\d+\.\d+)\))?")
"""One number or several before a unit; the decimal in brackets stands beside the fraction it repeats."""
IN_A_SENTENCE = re.compile(r" in (?=a |an |all|one|two|each|the |this |place|order|line|its |use|any|day|\d+ passes)")
"""Where `in` is no inch."""

COUNT = re.compile(rf"\b\d+ \u00d7 (?={NUMBER} (?:in|mm) foil)")

Lengths = Iterable[float]


def given(packet: Packet) -> Lengths:
    """What the project says: every length of its groups."""
    d = packet.plan.description
    yield from _floats((d.shape, d.doors, d.boards, d.tape, d.foil, d.limits, d.openings))
    yield from (d.assume.tape_thickness, d.assume.foil_thickness, d.assume.hinge_bulk or packet.plan.bulk.most)


def _floats(thing: object) -> Iterator[float]:
    if isinstance(thing, bool):
        return
    if isinstance(thing, int | float):
        yield float(thing)
    elif isinstance(thing, tuple | list):
        for one in thing:
            yield from _floats(one)
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from _floats(getattr(thing, field.name))


def bounds_at(packet: Packet) -> Lengths:
    """Limits of marks and cuts and of what arrives; what is left of them where faces meet, and in a V beside a cut."""
    limits, (likely, worst) = packet.plan.description.limits, closing(packet)
    yield from _floats(limits)
    close = max(likely, limits.mark)
    yield from (likely, worst, close, close + limits.cut)


def ring(packet: Packet) -> Lengths:
    """Sizes of the open ring, from walls, leaf width, wall height, slant and trim (regular polygon, right triangle)."""
    g = packet.plan.ring
    if g is None:
        return
    n, w, high, slant, trim, t = g.walls, g.leaf_width, g.wall_height, g.slant, g.tip_trim, packet.plan.assembly.thickness
    apothem, radius = w / math.tan(math.pi / n), w / math.sin(math.pi / n)
    rise = math.sqrt(slant**2 - apothem**2)
    hole = trim / slant * apothem  # apothem of the opening, at the inner faces
    doors = packet.plan.description.doors
    if doors:
        yield high - doors.latch_below_head
    yield from (2 * w, w, high, slant, trim, t, 2 * radius, high + rise, high + rise * (1 - trim / slant))
    # Wall to wall where two face each other, else wall to corner.
    yield from (2 * apothem, apothem + radius) if n % 2 else (2 * apothem,)
    yield from (2 * hole, 2 * hole / math.cos(math.pi / n), hole * (1 + 1 / math.cos(math.pi / n)))
    # The outer faces stand off by t square to the roof: outward by t times the sine of its slope, rise over slant.
    outer = hole + t * rise / slant
    yield from (2 * outer, 2 * outer / math.cos(math.pi / n), outer * (1 + 1 / math.cos(math.pi / n)))


def standing(packet: Packet) -> Lengths:
    """Spans of the open shelter over all and of its leaves' corners, along each axis."""
    points = [leaf.open_pose.place(p, depth) for leaf in packet.plan.assembly.leaves for p in leaf.outline
              for depth in (0.0, leaf.thickness)]
    for axis in range(3):
        values = [point[axis] for point in points]
        yield max(values) - min(values)
    yield from {round(point[2], 3) for point in points}


def erected(packet: Packet) -> Lengths:
    """How far the open shelter may be off where each leaf is off by the cutting limit: across, in proportion to the leaf's
    width; at the peak, by d rise / d w = -a cot(pi/n) / rise, d rise / d L = L / rise, and the wall's height."""
    cut, g = packet.plan.description.limits.cut, packet.plan.ring
    yield from (cut * count for count in range(1, 13))
    if g:
        turn = math.pi / g.walls
        apothem = g.leaf_width / math.tan(turn)
        rise = math.sqrt(g.slant**2 - apothem**2)
        yield from (cut * 2 / math.tan(turn), cut * 2 / math.sin(turn), cut * (1 / math.tan(turn) + 1 / math.sin(turn)))
        yield from (cut * apothem / math.tan(turn) / rise, cut * (apothem / math.tan(turn) / rise + g.slant / rise + 1))
        # Half of the gap below a door is above its middle.
        yield g.wall_height + rise * (1 - g.tip_trim / g.slant) - packet.plan.description.doors.bottom_trim / 2


def leaves(packet: Packet) -> Lengths:
    """Edges, diagonals and extents of every leaf, as snapped, as hinged and as finished; holes and openings in it."""
    for leaf in packet.plan.assembly.leaves:
        yield from _of_leaf(leaf)


def _of_leaf(leaf: Leaf) -> Lengths:
    yield leaf.thickness
    for outline in (leaf.rough, leaf.hinged, leaf.outline):
        yield from (math.dist(a, b) for a, b in itertools.combinations(outline, 2))
        for axis in (0, 1):
            values = [point[axis] for point in outline]
            yield max(values) - min(values)
    for hole in leaf.holes:
        yield hole.diameter
    for cut in leaf.openings:
        yield from (cut.width, cut.height, math.pi * cut.width if cut.round else 2 * (cut.width + cut.height))


def seams(packet: Packet) -> Lengths:
    """Lengths of seams and of runs of them along one edge; the V that stays open, 2 t sin(turn / 2)."""
    t = packet.plan.assembly.thickness
    for seam in packet.plan.assembly.seams:
        yield math.dist(*seam.edge_a)
        yield 2 * t * math.sin(math.radians(180 - seam.angle_open) / 2)
        yield 2 * t * math.sin(math.radians(180 - seam.angle_packed) / 2)


def _span(leaf: Leaf, axis: int) -> float:
    values = [point[axis] for point in leaf.hinged]
    return max(values) - min(values)


def tape(packet: Packet) -> Lengths:
    """Strips: width, rolls, laps, lands, lengths."""
    d = packet.plan.description
    yield from (*d.tape.stock, *d.foil.stock, d.tape.land, d.tape.sill_land, d.tape.join, d.foil.overlap, d.foil.margin)
    for strip in packet.plan.strips:
        yield from (strip.width, *strip.tapes, strip.overlap, strip.land, strip.length,
                    sum(strip.tapes) - strip.overlap * (len(strip.tapes) - 1))


def rolls(packet: Packet) -> Lengths:
    """Lengths of tape in whole: of each task, of each roll width, bought and left over."""
    plan, d = packet.plan, packet.plan.description
    laid = {strip.mark: strip for strip in plan.strips}
    yield from (d.tape.roll, d.foil.roll)
    for task in tasks(plan):
        for foil in (False, True):
            yield sum(laid[mark].length * len(laid[mark].tapes) for mark in task.strips
                      if (laid[mark].role in (Role.FOIL, Role.SEAL)) == foil)
    for foil in (False, True):
        of = [strip for strip in plan.strips if (strip.role in (Role.FOIL, Role.SEAL)) == foil]
        roll = d.foil.roll if foil else d.tape.roll
        for width in {width for strip in of for width in strip.tapes}:
            whole = sum(strip.length * strip.tapes.count(width) for strip in of)
            yield whole
            # Left over: every roll after the first is lapped where it begins.
            yield from (count * roll - whole - (count - 1) * d.tape.join for count in range(1, 40))


def by_the_length(packet: Packet) -> Lengths:
    """What is bought by its length: weather strip for the free edge and the head of every swing leaf, tape that peels."""
    yield sum(_span(door, 0) + _span(door, 1) for door in packet.plan.assembly.doors)
    yield from (seam.length for seam in packet.plan.assembly.seams if seam.removable)


def together(packet: Packet) -> Lengths:
    """Seams and strips of one kind, end to end."""
    kinds = [*packet.plan.assembly.seams, *packet.plan.strips]
    for key in (lambda s: getattr(s, "kind", None), lambda s: getattr(s, "role", None)):
        for kind in {key(one) for one in kinds}:
            yield sum(one.length for one in kinds if key(one) == kind)
    bonded = packet.plan.assembly.bonded()
    yield sum(seam.length for seam in bonded if str(seam.kind).endswith("mid"))
    for alike in (lambda s: (s.kind, s.removable), lambda s: (s.closing_face, s.angle_open),
                  lambda s: (s.closing_face, s.angle_open, s.angle_packed)):
        for one in bonded:
            yield sum(seam.length for seam in bonded if alike(seam) == alike(one))


def boards(packet: Packet) -> Lengths:
    """Board sizes and stacks, where cuts run, how long they are, what is held."""
    plan = packet.plan
    for size in plan.description.boards.sizes:
        yield from (*size, math.hypot(*size))
    t = plan.description.boards.thickness
    yield from (t * count for count in range(1, len(plan.boards) + 4))
    for board in plan.boards:
        yield from (board.stock.length, board.stock.breadth, math.hypot(board.stock.length, board.stock.breadth))
        for cut in board.cuts:
            yield from (*cut.a, *cut.b, cut.length)
        for part in (*board.held, *board.offcuts):
            for axis in (0, 1):
                values = [point[axis] for point in part]
                yield max(values) - min(values)
        for piece in board.pieces:
            yield from (math.dist(a, b) for a, b in itertools.combinations(piece.rough, 2))


def cut_lengths(packet: Packet) -> Lengths:
    """Cuts end to end: of each board and each pass on it, of all."""
    every = [cut for board in packet.plan.boards for cut in board.cuts]
    groups = [[*board.cuts] for board in packet.plan.boards] + [every]
    for group in groups:
        kinds = sorted({cut.kind for cut in group})
        for count in range(1, len(kinds) + 1):
            for some in itertools.combinations(kinds, count):
                whole = sum(cut.length for cut in group if cut.kind in some)
                yield from (whole, 2 * whole)
    for task in tasks(packet.plan):
        yield sum(cut.length for board in packet.plan.boards for cut in board.cuts if (board.mark, cut.number) in task.cuts)


def pack(packet: Packet) -> Lengths:
    """The pack and stacks of its layers, with what tape adds."""
    plan = packet.plan
    t = plan.assembly.thickness
    yield from (plan.pack.width, plan.pack.length)
    for layers in range(1, plan.pack.layers + 1):
        yield from (layers * t, layers * t + plan.bulk.along, layers * t + plan.bulk.most)
    yield from (plan.bulk.along, plan.bulk.most)


def slits(packet: Packet) -> Lengths:
    for cut in packet.plan.relief:
        yield from (cut.length, *(length for _, length in cut.parts))


def calm(packet: Packet) -> Lengths:
    """The least slant from which the peak moves no more than the limit's times a leaf's width: a cot(pi/n) / rise at most
    that, so rise at least a cot(pi/n) / limit; up to the next mm or sixteenth of an inch."""
    g = packet.plan.ring
    if g:
        apothem = g.leaf_width / math.tan(math.pi / g.walls)
        slant = math.hypot(apothem, apothem / math.tan(math.pi / g.walls) / packet.plan.description.limits.steep)
        step = INCH / 16 if packet.kit.system is System.INCH else 1.0
        yield math.ceil(slant / step) * step


def bars(packet: Packet) -> Lengths:
    """Check bars, and their limits of 1.5 %."""
    for bar in (6 * INCH, 100.0, 150.0):
        yield from (bar, bar * 0.985, bar * 1.015)


def hands(packet: Packet) -> Lengths:
    yield from _floats(packet.plan.description.lift)


def ground(packet: Packet) -> Lengths:
    yield from _floats(packet.plan.description.site)


def repairs(packet: Packet) -> Lengths:
    yield from _floats(packet.plan.description.repair)


def rates(packet: Packet) -> Lengths:
    yield from _floats(packet.plan.description.rates)


Source = Callable[[Packet], Lengths]
HINGES: tuple[Source, ...] = (seams, tape, together, leaves, bounds_at)
SHEETS: dict[str, tuple[Source, ...]] = {
    "cover": (calm, erected, ring, standing, leaves, pack, bars, given, hands, ground, repairs, rates),
    "cautions": (),
    "arrangement": (ring, standing, leaves, seams, pack),
    "checklist": (bounds_at, given, leaves, seams, tape, boards, pack, slits, ring, standing, erected),
    "crew": (rolls, cut_lengths),
    "words": (),
    "added": (),
    "order": (boards, tape, rolls, given),
    "alternates": (boards, rolls),
    "strips": (tape, rolls),
    "cuts": (boards, cut_lengths, bounds_at),
    "receiving": (boards, bounds_at),
    "parts": (leaves, tape, given),
    "gauges": (leaves, seams, slits, bars, boards),
    "marking": (boards, cut_lengths, leaves, bounds_at),
    "mending": (leaves, bounds_at),
    "halves": (leaves, seams, bounds_at),
    "recipe.mid": HINGES,
    "recipe.corner": HINGES,
    "recipe.seam": HINGES,
    "splice": (*HINGES, boards, given),
    "recipe.sill": (tape, together, slits, bounds_at),
    "recipe.eave": HINGES,
    "recipe.hip": HINGES,
    "recipe.release": HINGES,
    "relief": (slits, bounds_at),
    "door": (leaves, given, bounds_at),
    "openings": (leaves, tape, bounds_at),
    "roof": (tape, leaves, bounds_at),
    "fold": (pack, opening),
    "erect": (ring, standing, seams, tape, pack, bounds_at, erected),
    "labels": (),
    "inspection": (ring, seams, leaves, pack, bounds_at, given, standing, erected),
    "set_up": (),
    "strike": (pack,),
    "weather": (),
    "carry": (boards, pack, balance, hands),
    "site": (ground,),
    "wind": (silhouettes,),
    "air": (leaves, ring, standing, erected),
    "keep": (tape, rolls, boards, ground),
    **{f"tent.{letter}": () for letter in "PCHERJXL"},
    **{f"passing.{letter}": (rolls, cut_lengths) for letter in "PCHERJXL"},
}
"""Where the lengths of each sheet come from. A sheet that is not here has none."""


LONG = {"order": (rolls,), "alternates": (rolls, boards)}
"""Where lengths in feet and metres come from, on sheets on which some are rounded up, so that none of the short ones passes
for them."""
UP = {"order": by_the_length}
"""Lengths that are rounded up to the next tenth, never down: what is bought must be enough."""


def unexplained(packet: Packet) -> Iterator[str]:
    """Lengths with a unit that are none of the model's, each where it stands."""
    made: dict[Source, np.ndarray] = {}

    def of(source: Source) -> np.ndarray:
        if source not in made:
            made[source] = np.unique(np.abs(np.array([*source(packet)], dtype=float)))
        return made[source]

    for sheet in packet.sheets:
        name = name_of(sheet)
        if name not in SHEETS:
            yield f"{sheet.number}: it is not known where the lengths of sheet {name!r} come from"
            continue
        model = _all(map(of, SHEETS[name]))
        long = _all(map(of, LONG[name])) if name in LONG else model
        said = read(sheet)
        for found in LENGTH.finditer(said):
            for wanted in _lengths(found, packet.kit.system):
                known = long if found[2] in ("ft", "m") else model
                if not any((np.abs(known - one.value) <= one.within + 1e-6).any() for one in wanted) \
                        and not (name in UP and _enough(wanted[0], of(UP[name]))):
                    yield f"{sheet.number} {name}: {wanted[0].text} in {said[max(0, found.start() - 30):found.end() + 12]!r}"


def _all(lists: Iterable[np.ndarray]) -> np.ndarray:
    return np.concatenate([*lists, np.array([])])


def _enough(figure: Figure, model: np.ndarray) -> bool:
    """Whether a figure is one of the lengths, or the next tenth above it."""
    more = figure.value - model
    return bool(((more > -1e-6) & (more < 2 * figure.within)).any())


def read(sheet: FinishedSheet) -> str:
    """All that the sheet's drawing says, wrapped lines joined, without the count in `2 x 75 mm foil`."""
    said = " ".join(mark.string for mark in content(sheet) if isinstance(mark, Text)).replace("\u00a0", " ")
    return COUNT.sub("", IN_A_SENTENCE.sub(" ", re.sub(" +", " ", said)))


def _lengths(found: re.Match[str], system: System) -> Iterator[list[Figure]]:
    numbers, unit, decimal = found[1], found[2], found[3]
    parts = re.split(r" x | \u00d7 | ± |, | and | to ", numbers)
    for text in parts:
        yield [_in_unit(text, unit, system)]
    if decimal:
        yield [_in_unit(decimal, unit, system)]


def _in_unit(text: str, unit: str, system: System) -> Figure:
    """The figure in mm, as near as its decimals tell."""
    if unit in ("ft", "m"):
        size = FOOT if unit == "ft" else 1000.0
        return Figure(text, float(text) * size, (0.05 if "." in text else 0.5) * size)
    return figure(text, System.INCH if unit == "in" else System.METRIC)
