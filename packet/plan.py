"""The whole pipeline on one page: from a description to everything the sheets draw.

    description -> sizes fitted to the boards -> assembly -> checks -> boards, strips, relief, take-off

Nothing here computes; each line names the module that does. `make_plan` raises ProjectError with every
fault that makes the shelter impossible; what is merely worth knowing stands in `Plan.findings`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, partial

from packet.assembly.closure import Closure, closure
from packet.assembly.mobility import Mobility, mobility
from packet.assembly.pack import Pack, pack
from packet.assembly.records import Assembly
from packet.assembly.ring import RingDoors, ring_assembly
from packet.assembly.ring_geometry import RingGeometry
from packet.assembly.tolerance import ClosureGap, closure_gap
from packet.assembly.vertices import Vertex, vertices
from packet.boards.layout import lay_out
from packet.boards.nest import DoesNotFit, Nest, nest
from packet.boards.records import Board, Stock
from packet.boards.refit import Refit, Sizes, refit
from packet.description.problems import Problem, ProjectError
from packet.description.resolved import Description
from packet.findings import board_faults, does_not_fit, no_land, structure_faults, warnings
from packet.tape.hinge_law import NoLand
from packet.tape.relief import ReliefCut, relief_cuts
from packet.tape.strips import Rules, Strip, strips
from packet.tape.takeoff import Item, TapeNeed, take_off, tape_needs
from packet.units import Format, floor_to


@dataclass(frozen=True)
class Plan:
    """Everything the packet rests on. Lengths in mm, angles in degrees."""

    description: Description
    form: Format
    fitted: Refit
    geometry: RingGeometry
    assembly: Assembly
    closure: Closure
    pack: Pack
    nest: Nest
    boards: tuple[Board, ...]
    strips: tuple[Strip, ...]
    relief: tuple[ReliefCut, ...]
    needs: tuple[TapeNeed, ...]
    takeoff: tuple[Item, ...]
    findings: tuple[Problem, ...]

    # Not every sheet needs these, and one board's page should not wait for them.

    @cached_property
    def mobility(self) -> Mobility:
        return mobility(self.assembly)

    @cached_property
    def vertices(self) -> tuple[Vertex, ...]:
        return vertices(self.assembly)

    @cached_property
    def gap(self) -> ClosureGap:
        return closure_gap(self.assembly, self.description.limits.mark, self.description.limits.cut)


def make_plan(description: Description) -> Plan:
    """Run the pipeline. Raises ProjectError when the shelter cannot close, fold, pack or be cut."""
    faults = board_faults(description)
    if faults:
        raise ProjectError(faults)
    try:
        fitted = _fit(description)
        geometry = _geometry(description, fitted.sizes)
        assembly = _assemble(description, geometry)
        nested = nest(assembly, _real_stock(description))
    except DoesNotFit as fault:
        raise ProjectError([does_not_fit(description, fault)]) from None
    closed, packed = closure(assembly), pack(assembly)
    boards = lay_out(assembly, nested)
    faults = structure_faults(description, geometry, assembly, closed, packed, boards)
    try:
        laid = strips(assembly, _rules(description))
    except NoLand as fault:
        raise ProjectError([*faults, no_land(description, fault)]) from None
    if faults:
        raise ProjectError(faults)
    needs = tape_needs(description, laid)
    return Plan(
        description=description, form=Format(description.system), fitted=fitted, geometry=geometry,
        assembly=assembly, closure=closed, pack=packed, nest=nested, boards=boards, strips=laid,
        relief=relief_cuts(assembly, laid), needs=needs,
        takeoff=take_off(description, assembly, boards, needs),
        findings=warnings(description, fitted, geometry, nested, laid),
    )


def _geometry(description: Description, sizes: Sizes) -> RingGeometry:
    return RingGeometry(description.ring.walls, sizes.leaf_width, sizes.wall_height, sizes.slant,
                        description.ring.tip_trim, description.boards.thickness)


def _assemble(description: Description, geometry: RingGeometry) -> Assembly:
    doors = description.doors
    return ring_assembly(
        geometry,
        RingDoors(doors.hand, doors.bottom_trim, doors.latch_below_head, doors.latch_from_free_edge,
                  doors.latch_hole),
        description.boards.printed_face)


def _rules(description: Description) -> Rules:
    tape, foil = description.tape, description.foil
    return Rules(tape.land, tape.sill_land, tape.stock, tape.combine, foil.stock, foil.margin, foil.overlap)


def _nominal_stock(description: Description) -> Stock:
    boards = description.boards
    return Stock(boards.length - 2 * boards.edge_trim, boards.breadth - 2 * boards.edge_trim, boards.thickness)


def _real_stock(description: Description) -> Stock:
    """The smallest board that came, and what the blade takes."""
    boards = description.boards
    lengths = [length for length, _ in boards.measured] or [boards.length]
    breadths = [breadth for _, breadth in boards.measured] or [boards.breadth]
    return Stock(min(lengths) - 2 * boards.edge_trim, min(breadths) - 2 * boards.edge_trim,
                 boards.thickness, boards.kerf)


def _fit(description: Description) -> Refit:
    """Sizes that keep the board count promised by nominal boards and a blade without width."""
    def needs(sizes: Sizes, stock: Stock) -> int:
        return len(nest(_assemble(description, _geometry(description, sizes)), stock).boards)

    ring = description.ring
    nominal = Sizes(ring.leaf_width, ring.wall_height, ring.slant)
    promised = needs(nominal, _nominal_stock(description))
    return refit(nominal, promised, partial(needs, stock=_real_stock(description)),
                 partial(floor_to, system=description.system))
