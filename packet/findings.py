"""Faults and warnings in the words of the trade: where, what value, which limit, what to do."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from packet.assembly.closure import CLOSES_WITHIN, Closure
from packet.assembly.openings import Misplaced
from packet.assembly.pack import Pack
from packet.assembly.records import Assembly, LeafKind, Opening
from packet.assembly.ring_geometry import RingGeometry, trim_for_opening
from packet.assembly.splicing import in_parts
from packet.assembly.vertices import vertices
from packet.boards.alike import alike
from packet.boards.check import layout_faults, splice_faults
from packet.boards.delivered import size_measured, skew, squared_length, thickness
from packet.boards.nest import DoesNotFit, Measure, Nest
from packet.boards.records import Board
from packet.boards.refit import Refit
from packet.boards.splice import crossed
from packet.description.buying_values import amount
from packet.description.problems import Kind, Problem, Severity
from packet.description.resolved import Description, MeasuredBoard
from packet.description.terms import Preset
from packet.description.value_kind import nearest
from packet.tape.hinge_law import NoLand, wrap_width
from packet.tape.strips import Strip
from packet.units import Format, ceil_to

SLACK = 1e-6
"""mm"""

MOST_RUNS = 80
"""Marking sheets that the numbers of station C can count."""

def _problem(description: Description, key: str, value: str, message: str, limit: str, remedy: str, *,
             severity: Severity = Severity.ERROR) -> Problem:
    line, column = description.position(key) if key else (0, 0)
    return Problem(str(description.source), line, column, key, value, message, limit, remedy,
                   Kind.UNFEASIBLE, severity)


def board_faults(description: Description) -> list[Problem]:
    """Measured boards that differ too much to be used in one shelter."""
    boards, limits = description.boards, description.limits
    readings: list[tuple[str, float, list[tuple[MeasuredBoard, float, float]]]] = []
    for size in range(len(boards.sizes)):
        measured = [board for board in boards.measured if size_measured(boards, board) == size]
        readings += [("length", limits.board_spread, [(b, squared_length(b), squared_length(b)) for b in measured]),
                     ("breadth", limits.board_spread, [(b, b.breadth, b.breadth) for b in measured])]
    readings.append(("thickness", limits.thickness_spread,
                     [(b, min(b.thickness), max(b.thickness)) for b in boards.measured if b.thickness]))
    found = [_spread(description, name, spans, allowed) for name, allowed, spans in readings if spans]
    return [problem for problem in found if problem is not None]


def _spread(description: Description, name: str, read: list[tuple[MeasuredBoard, float, float]], allowed: float
            ) -> Problem | None:
    """The problem of boards whose readings, (board, least, most) each, lie further apart than allowed; None if they do
    not."""
    form = Format(description.system)
    spans = [(low, high) for _, low, high in read]
    least, most = min(low for low, _ in spans), max(high for _, high in spans)
    if most - least <= allowed + SLACK:
        return None
    # The largest set that agrees: all that lie from one reading up to the allowed spread above it.
    agreeing = max(([base <= low and high <= base + allowed + SLACK for low, high in spans] for base, _ in spans), key=sum)
    marks = {id(board): board.mark or str(number) for number, board in enumerate(description.boards.measured, 1)}
    odd = [f"board {marks[id(board)]}" for (board, _, _), fits in zip(read, agreeing, strict=True) if not fits]
    return _problem(
        description, "boards.measured", f"{form.length_both(least)} to {form.length_both(most)}",
        f"the boards differ in {name} by {form.length_both(most - least)}", f"spread at most {form.length_unit(allowed)}",
        f"set aside {', '.join(odd)}, or leave out of the list; never mix nominal sizes in one shelter, unless "
        "`boards.also` lists them")


def does_not_fit(description: Description, fault: DoesNotFit, splices_help: bool) -> Problem:
    """`splices_help`: the project could be built if its leaves might be made of parts."""
    form, blank, stock = Format(description.system), fault.blank, fault.stock
    leaf = blank.leaves[0]
    keys = {Preset.RING: "shelter.slant" if leaf.kind is LeafKind.ROOF else "shelter.wall_height",
            Preset.CHAIN: "shelter.height", Preset.FREE: "shelter.leaves"}
    trims = 2 * description.boards.edge_trim
    short, long = (ceil_to(side + trims, description.system) for side in sorted((blank.width, blank.height)))
    bought = description.boards
    needed = form.size(max(short, bought.breadth), max(long, bought.length))
    off = " and take the measured ones off the list" if bought.measured else ""
    return _problem(
        description, keys[description.shape.preset], form.size(blank.width, blank.height),
        f"leaf {leaf.mark} is larger than a board", f"board {form.size(stock.breadth, stock.length)}",
        f"use boards of at least `size: {needed}`{off}, or make the leaf smaller"
        + (", or allow leaves made of parts: `splice: yes` under `boards`" if splices_help else ""))


def no_land(description: Description, fault: NoLand) -> Problem:
    form = Format(description.system)
    enough = ceil_to(wrap_width(description.tape.land, thickness(description.boards)), description.system)
    widths = ", ".join(form.length(width) for width in (*description.tape.stock, enough))
    return _problem(
        description, "tape.stock", form.length_unit(fault.widest),
        "a wrap strip from the widest roll would have no bonded land",
        f"wider than {form.length_unit(fault.needed)}, which goes over the board edges",
        f"add a wider roll, `stock: [{widths}]`, or a thinner board")


def decision_fault(description: Description, fault: LookupError) -> Problem:
    """A decision of the ledger that does not fit the project any more."""
    return _problem(description, "", "", f"a decision on a spoiled part does not fit: {fault}",
                    "the project file as it was when the part was spoiled",
                    "undo the change in the project file, or begin a new ledger for the changed project")


def never_done(description: Description, most: int) -> Problem:
    """Work that this crew does not end in the days that it may take."""
    return _problem(description, "crew", "", "by its rates this crew does not end the work in time", f"{most} days",
                    "look at `rates`, `crew.people` and `crew.hours`, or make fewer shelters at once (`quantity`)")


def unknown_leaves(description: Description, assembly: Assembly) -> list[Problem]:
    """Openings in leaves that the shelter does not have."""
    return [
        _problem(description, f"openings.{number}.leaf", opening.leaf, "there is no leaf of this mark",
                 f"marks: {', '.join(assembly.by_mark)}", nearest(opening.leaf, assembly.by_mark) or "write one of these marks")
        for number, opening in enumerate(description.openings) if opening.leaf not in assembly.by_mark
    ]


def _size(form: Format, opening: Opening) -> str:
    return form.length_unit(opening.width) if opening.round else form.size(opening.width, opening.height)


def opening_faults(description: Description, misplaced: tuple[Misplaced, ...]) -> list[Problem]:
    """Openings that reach into tape, an edge or another opening."""
    form = Format(description.system)
    found = []
    for wrong in misplaced:
        size = _size(form, wrong.opening)
        if wrong.better is None:
            remedy = "take the opening out of this leaf"
        else:
            smaller = wrong.better.width < wrong.opening.width
            key = "diameter" if wrong.opening.round else "size"
            remedy = (f"write {f'`{key}: {_size(form, wrong.better)}` and ' if smaller else ''}"
                      f"`across: {form.decimal(abs(wrong.better.x))} {form.unit}` and "
                      f"`up: {form.decimal(wrong.better.y)} {form.unit}`, "
                      f"the {'largest that has a' if smaller else 'nearest'} clear place")
        found.append(_problem(
            description, f"openings.{wrong.number}", f"{wrong.opening.kind} {size}, leaf {wrong.leaf}",
            "the opening reaches into the tape along an edge, or into another opening",
            f"{form.length_unit(description.tape.land)} of board all round", remedy))
    return found


def structure_faults(description: Description, ring: RingGeometry | None, assembly: Assembly, closed: Closure,
                     packed: Pack, cut: Assembly, boards: tuple[Board, ...]) -> list[Problem]:
    """What keeps the shelter from closing, folding, packing or being cut; normally nothing. `cut` has the leaves as
    they were cut, before any is trimmed to match a spoiled one."""
    form = Format(description.system)
    found = []
    if not closed.closes:
        found.append(_problem(description, "shelter", f"{closed.residual:.2f} mm at {closed.worst_seam}",
                              "the open shelter does not close", f"{CLOSES_WITHIN} mm",
                              "check the sizes of the leaves on both sides of that seam"))
    found += [_problem(description, "shelter", "", f"it does not pack: {fault}",
                       "a folded hinge joins neighbouring layers, and every place holds one leaf", _pack_remedy(description))
              for fault in packed.faults]
    found += [_problem(description, "shelter", f"sectors {', '.join(_degrees(s) for s in vertex.sectors)}",
                       f"the point where {', '.join(vertex.leaves)} meet cannot fold flat",
                       f"alternating sum of the sectors 0, here {_degrees(vertex.alternating)}",
                       "change the leaves' angles until the sums of every other sector agree, or leave one of these "
                       "seams unbonded")
              for vertex in vertices(assembly) if vertex.bonded and not vertex.folds_flat]
    found += [_problem(description, "boards", "", fault, "every leaf once, with its own hand",
                       "report this project file as a fault of the program")
              for fault in (*splice_faults(cut), *layout_faults(in_parts(cut), boards, description.quantity))]
    runs = len(alike(boards))
    if runs > MOST_RUNS:
        found.append(_problem(
            description, "quantity" if description.quantity > 1 else "boards.size",
            f"{len(boards)} boards", f"the boards need {runs} different marking sheets", f"at most {MOST_RUNS} in one packet",
            "make fewer sets from one order, or take larger boards"))
    if ring and description.duct is not None and description.duct > ring.opening_across_flats + 1e-6:
        enough = ceil_to(trim_for_opening(ring, description.duct), description.system)
        found.append(_problem(
            description, "duct", form.length_unit(description.duct),
            "the duct does not pass the peak opening",
            f"{form.length_both(ring.opening_across_flats)} across flats",
            f"write `tip_trim: {form.length_unit(enough)}` or more, or use a smaller duct"))
    return found


def _degrees(degrees: float) -> str:
    return f"{degrees:.2f}"


def _pack_remedy(description: Description) -> str:
    if description.shape.preset is Preset.FREE:
        return ("change `closing` or `packed` of a seam there, make the leaf smaller, or leave the seam unbonded "
                "(`bonded: no`)")
    return "use an even number of walls"


def warnings(description: Description, fitted: Refit | None, ring: RingGeometry | None, assembly: Assembly,
             nested: Nest, laid: tuple[Strip, ...], cut: tuple[Board, ...]) -> tuple[Problem, ...]:
    """What the lead should know although the packet prints."""
    found = (*_layout_warnings(description, nested, laid, cut), *_splice_warnings(description, assembly))
    return (*_ring_warnings(description, fitted, ring), *found) if fitted and ring else found


def _warning(description: Description, key: str, value: str, message: str, limit: str, remedy: str, term: str,
             **values: float | str) -> Problem:
    problem = _problem(description, key, value, message, limit, remedy, severity=Severity.WARNING)
    return replace(problem, term=term, values=tuple(values.items()))


def _ring_warnings(description: Description, fitted: Refit, ring: RingGeometry) -> Iterator[Problem]:
    form, shape = Format(description.system), description.shape
    for key in ("leaf_width", "wall_height", "slant"):
        asked, cut = getattr(shape, key), getattr(fitted.sizes, key)
        if cut < asked - 1e-6:
            yield _warning(description, f"shelter.{key}", form.length_unit(asked),
                           f"every leaf is cut to a {key.replace('_', ' ')} of {form.length_both(cut)}",
                           f"the boards and the kerf allow {form.decimal(getattr(fitted.largest, key))} {form.unit}",
                           "the packet uses the smaller size everywhere", "smaller", asked=asked,
                           size=key.replace("_", " "), cut=cut, most=form.decimal(getattr(fitted.largest, key)))
    steep = description.limits.steep
    if abs(ring.rise_per_leaf_width) > steep:
        moved = abs(ring.rise_per_leaf_width) * description.limits.cut
        yield _warning(description, "shelter.slant", form.length_unit(ring.slant),
                       f"the roof is so flat that each {form.length_unit(description.limits.cut)} of leaf width moves "
                       f"the peak by {form.decimal(moved)} {form.unit}",
                       f"at most {steep:g} times, `limits.steep`",
                       f"a slant of {form.length_unit(ceil_to(_calm_slant(ring, steep), description.system))} or more "
                       "is less sensitive", "flat", slant=ring.slant, cut=description.limits.cut,
                       moved=form.decimal(moved), times=f"{steep:g}",
                       enough=ceil_to(_calm_slant(ring, steep), description.system))


def _layout_warnings(description: Description, nested: Nest, laid: tuple[Strip, ...], cut: tuple[Board, ...]
                     ) -> Iterator[Problem]:
    form, boards = Format(description.system), description.boards
    sizes_laid_out = {board.mark: board.stock.size for board in cut}
    for number, board in enumerate(boards.measured, 1):
        if board.diagonals and abs(board.diagonals[0] - board.diagonals[1]) > description.limits.diagonal + SLACK:
            yield _warning(
                description, f"boards.measured.{number - 1}", form.size(board.breadth, board.length),
                f"board {board.mark or number} leans {form.length_both(skew(board))} over its breadth",
                f"diagonals that agree within {form.length_unit(description.limits.diagonal)}",
                "take its straighter long edge as the datum edge and cut both ends square to it before marking; "
                f"{form.length_both(squared_length(board))} of its length are counted on", "leans",
                size=form.size(board.breadth, board.length), board=board.mark or number, skew=skew(board),
                agree=description.limits.diagonal, counted=squared_length(board))
        size, laid_out = size_measured(boards, board), sizes_laid_out.get(board.mark)
        if laid_out is not None and size != laid_out:
            yield _warning(
                description, f"boards.measured.{number - 1}", form.size(*boards.sizes[size]),
                f"board {board.mark} was measured as one of {form.size(*boards.sizes[size])}",
                f"its marking sheet is made for {form.size(*boards.sizes[laid_out])}",
                "number the boards as the receiving sheet lists them, and put the readings under these numbers",
                "other_size", board=board.mark, read=form.size(*boards.sizes[size]),
                laid_out=form.size(*boards.sizes[laid_out]))
    if abs(thickness(boards) - boards.thickness) > SLACK:
        yield _warning(
            description, "boards.thickness", form.length_both(boards.thickness),
            f"the thickest corner measured is {form.length_both(thickness(boards))}", "the nominal thickness",
            "strips, gaps and pack are worked out for the thickest corner", "thicker",
            nominal=boards.thickness, thickest=thickness(boards))
    if nested.cost > nested.bound and nested.mixed:
        yield _warning(
            description, "boards.also", told_cost(description, nested, nested.cost),
            f"the mix of boards is the {'cheapest' if nested.measure is Measure.PRICE else 'smallest'} that was found",
            f"none takes less than {told_cost(description, nested, nested.bound)}, {nested.proof}",
            "a slightly smaller leaf, or fewer sizes, may do with less", "dearer_mix", by=str(nested.measure),
            cost=told_cost(description, nested, nested.cost), bound=told_cost(description, nested, nested.bound),
            proof=str(nested.proof))
    elif nested.cost > nested.bound:
        yield _warning(
            description, "boards.size", form.size(nested.stock.breadth, nested.stock.length),
            f"the layout needs {len(nested.boards)} boards",
            f"no layout needs fewer than {nested.bound}, {nested.proof}",
            "a slightly smaller leaf or another board size may save a board", "more_boards",
            size=form.size(nested.stock.breadth, nested.stock.length), count=len(nested.boards), bound=nested.bound,
            proof=str(nested.proof))
    for role in dict.fromkeys(strip.role for strip in laid if strip.thin):
        strip = next(s for s in laid if s.thin and s.role is role)
        yield _warning(
            description, "tape.stock", form.length_unit(strip.tapes[0]),
            f"the {role} strips have a land of only {form.length_both(strip.land)}",
            f"land {form.length_both(description.tape.land)}",
            "take them so if the peel test holds, or add a wider roll" if description.tape.combine else
            "add a wider roll, or allow strips to be combined (`combine: yes`)", "thin",
            combined="yes" if description.tape.combine else "", width=strip.tapes[0], role=str(role), land=strip.land,
            asked=description.tape.land)


def told_cost(description: Description, nested: Nest, cost: int) -> str:
    """A cost or a bound of a layout as it is said: money, area, or a count of boards."""
    if nested.measure is Measure.PRICE:
        return amount(cost, description.prices.currency)
    return Format(description.system).area(cost * 1e-8) if nested.mixed else str(cost)


def _splice_warnings(description: Description, assembly: Assembly) -> Iterator[Problem]:
    made = [leaf.mark for leaf in assembly.leaves if leaf.splices]
    if made:
        yield _warning(
            description, "boards.splice", "yes", f"{len(made)} leaves are made of parts, {made[0]} the first: a splice is "
            "weaker than whole board, and its strength is not worked out", "both faces taped",
            "judge a spliced leaf before it is lifted and before it stands in wind, or take boards that give whole leaves",
            "spliced", count=len(made), first=made[0])
    for leaf, met in crossed(assembly, description.tape.land):
        yield _warning(
            description, "boards.splice", leaf,
            f"every splice that leaf {leaf} can have comes within a land of its {met}, which cuts through the splice strips",
            f"{Format(description.system).length_unit(description.tape.land)} of board between them",
            "move it, or take larger boards; else cut it out only after both faces are spliced", "crossed",
            leaf=leaf, met=met, land=description.tape.land)


def _calm_slant(geometry: RingGeometry, steep: float) -> float:
    """Slant at which |d rise / d leaf width| comes down to `steep`: a cot(pi/n) / rise = steep."""
    rise = geometry.apothem / math.tan(math.pi / geometry.walls) / steep
    return math.hypot(geometry.apothem, rise)
