"""The whole pipeline on one page: from a description to everything the sheets draw.

    description -> sizes fitted to the boards -> assembly -> boards -> decisions on spoiled parts
                -> checks -> strips, relief, take-off

Nothing here computes; each line names the module that does. `make_plan` raises ProjectError with every
fault that makes the shelter impossible; what is merely worth knowing stands in `Plan.findings`.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, partial
from typing import TYPE_CHECKING

from packet.assembly.closure import Closure, closure
from packet.assembly.mended import trimmed_ring
from packet.assembly.openings import with_openings
from packet.assembly.pack import Pack, pack
from packet.assembly.records import Assembly, Leaf, Opening
from packet.assembly.ring import RingDoors, ring_assembly
from packet.assembly.ring_geometry import RingGeometry
from packet.assembly.splicing import in_parts, owners, spliced_like
from packet.assembly.vertices import Vertex, vertices
from packet.boards.alike import Alike, alike
from packet.boards.delivered import smallest, thickness
from packet.boards.held import HeldBlank, blanks_left
from packet.boards.layout import lay_out
from packet.boards.mended import Mended, mended
from packet.boards.nest import DoesNotFit, Measure, Nest, nest
from packet.boards.records import Board, Stock
from packet.boards.refit import Refit, Sizes, refit
from packet.boards.splice import spliced
from packet.boards.supply import Supply, supply
from packet.description.problems import Problem, ProjectError
from packet.description.resolved import Chain, Description, Free, Ring
from packet.description.terms import Face, Ground
from packet.findings import (
    board_faults,
    decision_fault,
    does_not_fit,
    no_land,
    opening_faults,
    structure_faults,
    unknown_leaves,
    warnings,
)
from packet.tape.hinge_law import NoLand
from packet.tape.relief import ReliefCut, relief_cuts
from packet.tape.strips import Rules, Strip, strips
from packet.tape.takeoff import Item, TapeNeed, take_off, tape_needs
from packet.units import Format, floor_to, print_step

if TYPE_CHECKING:
    from packet.assembly.mobility import Mobility
    from packet.assembly.sensitivity import Sensitivity
    from packet.assembly.tolerance import ClosureGap
    from packet.tape.bulk import Bulk


@dataclass(frozen=True, eq=False)
class Plan:
    """Everything the packet rests on. Lengths in mm, angles in degrees. A plan is equal to itself only, so that what
    is derived from it can be kept."""

    description: Description
    form: Format
    fitted: Refit | None
    ring: RingGeometry | None
    assembly: Assembly
    cut: Assembly
    """The leaves as the boards give them, before any is trimmed to match a spoiled one."""
    closure: Closure
    pack: Pack
    nest: Nest
    boards: tuple[Board, ...]
    mended: Mended
    strips: tuple[Strip, ...]
    relief: tuple[ReliefCut, ...]
    needs: tuple[TapeNeed, ...]
    takeoff: tuple[Item, ...]
    supply: Supply
    findings: tuple[Problem, ...]
    issued: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Serials under which each sheet (by its number) went out before, the first first."""

    @property
    def geometry(self) -> RingGeometry:
        """The ring's sizes. Raises LookupError for a project that is no ring."""
        if self.ring is None:
            raise LookupError("this project has no ring")
        return self.ring

    @cached_property
    def parts(self) -> Assembly:
        """The leaves as they are cut: those larger than a board in their parts, where the project splices them."""
        return in_parts(self.assembly)

    @cached_property
    def owners(self) -> Mapping[str, str]:
        """The leaf of each piece that is cut, by the mark of the piece."""
        return owners(self.assembly)

    def piece(self, mark: str) -> Leaf:
        """The leaf of that mark, or the part of one. Raises KeyError for a mark that is neither."""
        return self.assembly.by_mark.get(mark) or self.parts.by_mark[mark]

    @cached_property
    def runs(self) -> tuple[Alike, ...]:
        """The boards in their order, those that are cut alike together."""
        return alike(self.boards)

    @cached_property
    def blanks(self) -> tuple[HeldBlank, ...]:
        """What the boards as they are cut leave uncut and held, and the offcuts that can become a leaf."""
        return blanks_left(self.boards, self.parts.leaves)

    # Not every sheet needs these, nor the modules that work them out, and one board's page should not wait for them.

    @cached_property
    def mobility(self) -> Mobility:
        from packet.assembly.mobility import mobility

        return mobility(self.assembly)

    @cached_property
    def vertices(self) -> tuple[Vertex, ...]:
        return vertices(self.assembly)

    @cached_property
    def gap(self) -> ClosureGap:
        from packet.assembly.tolerance import closure_gap

        return closure_gap(self.assembly, self.description.limits.mark, self.description.limits.cut)

    @cached_property
    def sensitivities(self) -> tuple[Sensitivity, ...]:
        from packet.assembly.sensitivity import sensitivities

        return sensitivities(self.assembly, self.ring)

    @cached_property
    def bulk(self) -> Bulk:
        """What tape adds to the pack; what the project file says, where it says it."""
        from packet.tape.bulk import Bulk, bulk

        assume = self.description.assume
        if assume.hinge_bulk is not None:
            return Bulk(assume.hinge_bulk, assume.hinge_bulk)
        return bulk(self.assembly, self.pack, self.strips, assume.tape_thickness, assume.foil_thickness)


def make_plan(description: Description, refits: bool = True) -> Plan:
    """Run the pipeline. Raises ProjectError when the shelter cannot close, fold, pack or be cut.

    Where it only counts whether there is a plan at all, nothing `refits` the leaves to save a board: that takes longest.
    """
    faults = board_faults(description)
    if faults:
        raise ProjectError(faults, description.lines)
    try:
        fitted = _fit(description, refits)
        ring = _ring(description, fitted)
        assembly, faults = _with_openings(description, _assemble(description, ring))
        stocks = _real_stocks(description)
        assembly = _spliced(description, assembly, stocks)
        whole, cut = assembly, in_parts(assembly)
        nested = _nested(description, cut, stocks)
    except DoesNotFit as fault:
        raise ProjectError([does_not_fit(description, fault, _splices_help(description))], description.lines) from None
    boards = lay_out(cut, nested)
    try:
        ring, assembly = _decided(description, ring, assembly)
        mend = mended(in_parts(assembly), boards, description.decided)
    except LookupError as fault:
        raise ProjectError([decision_fault(description, fault)], description.lines) from None
    closed, packed = closure(assembly), pack(assembly)
    faults += structure_faults(description, ring, assembly, closed, packed, whole, boards)
    try:
        laid = strips(assembly, _rules(description))
    except NoLand as fault:
        raise ProjectError([*faults, no_land(description, fault)], description.lines) from None
    if faults:
        raise ProjectError(faults, description.lines)
    needs, bought = tape_needs(description, laid), supply(boards, description.boards, nested.spare)
    return Plan(
        description=description, form=Format(description.system), fitted=fitted, ring=ring,
        assembly=assembly, cut=cut, closure=closed, pack=packed, nest=nested, boards=mend.boards, mended=mend, strips=laid,
        relief=relief_cuts(assembly, laid), needs=needs,
        takeoff=take_off(description, assembly, bought, needs), supply=bought,
        findings=warnings(description, fitted, ring, assembly, nested, laid, boards),
    )


def _ring(description: Description, fitted: Refit | None) -> RingGeometry | None:
    shape = description.shape
    if not isinstance(shape, Ring) or fitted is None:
        return None
    sizes = fitted.sizes
    return RingGeometry(shape.walls, sizes.leaf_width, sizes.wall_height, sizes.slant, shape.tip_trim,
                        thickness(description.boards))


def _assemble(description: Description, ring: RingGeometry | None) -> Assembly:
    """The preset of the project fills the graph; nothing after this asks which one it was."""
    shape, doors = description.shape, description.doors
    thick, face = thickness(description.boards), description.boards.printed_face
    if isinstance(shape, Chain | Free):
        return _listed(shape, thick, face)
    if ring is None or doors is None:
        raise AssertionError("a ring has sizes and doors")
    return ring_assembly(
        ring, RingDoors(doors.hand, doors.bottom_trim, doors.latch_below_head, doors.latch_from_free_edge,
                        doors.latch_hole),
        face, shape.releasable)


def _listed(shape: Chain | Free, thick: float, face: Face) -> Assembly:
    from packet.assembly.free import ListedLeaf, ListedSeam, chain_assembly, free_assembly

    if isinstance(shape, Chain):
        return chain_assembly(shape.leaves, shape.leaf_width, shape.height, shape.open_angle, thick, face)
    return free_assembly(
        tuple(ListedLeaf(leaf.mark, leaf.outline, leaf.edges) for leaf in shape.leaves),
        tuple(ListedSeam(s.first, s.second, s.closing, s.open, s.packed.angle, s.bonded) for s in shape.seams),
        thick, face, first_lies=shape.first is Ground.LIES)


def _decided(description: Description, ring: RingGeometry | None, assembly: Assembly
             ) -> tuple[RingGeometry | None, Assembly]:
    """The graph after what was decided about spoiled parts. Raises LookupError for a leaf that is not there."""
    known = in_parts(assembly).by_mark
    for one in description.decided:
        for mark in (one.leaf, one.slot, one.shape):
            if mark and mark not in known:
                raise LookupError(f"there is no leaf {mark}")
        if one.copy not in (range(1, description.quantity + 1) if description.quantity > 1 else (0,)):
            raise LookupError(f"there is no leaf {one.mark} in an order for {description.quantity}")
    if ring is not None:
        trimmed = trimmed_ring(ring, assembly, description.decided)
        if trimmed != ring:
            again, _ = _with_openings(description, _assemble(description, trimmed))
            ring, assembly = trimmed, spliced_like(again, assembly)
    return ring, assembly


def _with_openings(description: Description, assembly: Assembly) -> tuple[Assembly, list[Problem]]:
    faults = unknown_leaves(description, assembly)
    if faults:
        return assembly, faults
    wanted = tuple(
        (o.leaf, Opening(str(o.kind), assembly.by_mark[o.leaf].hand.sign * o.across, o.up, o.width, o.height, o.round))
        for o in description.openings)
    cut, misplaced = with_openings(assembly, wanted, description.tape.land,
                                   partial(floor_to, system=description.system))
    return cut, opening_faults(description, misplaced)


def _spliced(description: Description, assembly: Assembly, stocks: tuple[Stock, ...], enough: int = 0) -> Assembly:
    """The assembly with splices where the project allows them and a leaf is larger than a board; `enough` as there."""
    if not description.boards.splice:
        return assembly
    return spliced(assembly, stocks, description.tape.land, partial(floor_to, system=description.system),
                   lambda parts: _nested(description, parts, stocks, quick=True).cost, enough)


def _splices_help(description: Description) -> bool:
    """Whether the project could be built if its leaves might be spliced."""
    if description.boards.splice:
        return False
    try:
        make_plan(replace(description, boards=replace(description.boards, splice=True)), refits=False)
    except ProjectError:
        return False
    return True


def _rules(description: Description) -> Rules:
    tape, foil = description.tape, description.foil
    swollen = max(0.0, thickness(description.boards) - description.boards.thickness)
    return Rules(tape.land, tape.sill_land, tape.stock, tape.combine, foil.stock, foil.margin, foil.overlap, swollen)


def _nominal_stocks(description: Description) -> tuple[Stock, ...]:
    boards = description.boards
    return tuple(Stock(length - 2 * boards.edge_trim, breadth - 2 * boards.edge_trim, boards.thickness, size=size)
                 for size, (breadth, length) in enumerate(boards.sizes))


def _real_stocks(description: Description) -> tuple[Stock, ...]:
    """What every board of each size that came can give, and what the blade takes."""
    boards = description.boards
    return tuple(Stock(*smallest(boards, size), thickness(boards), boards.kerf, size) for size in range(len(boards.sizes)))


def _nested(description: Description, assembly: Assembly, stocks: tuple[Stock, ...], quick: bool = False, enough: int = 0
            ) -> Nest:
    """The layout on boards of one size, or on the best mix of several; `quick` and `enough` as there."""
    boards, quantity = description.boards, description.quantity
    if not boards.also:
        return nest(assembly, stocks[0], quantity, quick, enough)
    from packet.boards.mix import mixed_nest
    from packet.boards.mixed_patterns import Offer

    prices = [price for price in (description.prices.board, *(one.price for one in boards.also)) if price]
    if len(prices) == len(stocks):
        return mixed_nest(assembly, tuple(map(Offer, stocks, prices)), Measure.PRICE, quantity, quick, enough)
    areas = [round(breadth * length * 100) for breadth, length in boards.sizes]
    return mixed_nest(assembly, tuple(map(Offer, stocks, areas)), Measure.AREA, quantity, quick, enough)


def _fit(description: Description, refits: bool) -> Refit | None:
    """Sizes of a ring that keep the board count, or the cost of a mix, promised by nominal boards and a blade without
    width."""
    shape = description.shape
    if not isinstance(shape, Ring):
        return None

    def needs(sizes: Sizes, stocks: tuple[Stock, ...], enough: int = 0) -> int:
        trial = _ring(description, Refit(sizes, sizes))
        if trial is None or trial.slant <= trial.apothem:
            return sys.maxsize  # a roof that does not close is no way to save a board
        cut = _spliced(description, _assemble(description, trial), stocks, enough)
        return _nested(description, in_parts(cut), stocks, enough=enough).cost

    nominal = Sizes(shape.leaf_width, shape.wall_height, shape.slant)
    if not refits:
        return Refit(nominal, nominal)
    promised = needs(nominal, _nominal_stocks(description))
    return refit(nominal, promised, partial(needs, stocks=_real_stocks(description), enough=promised),
                 print_step(description.system))
