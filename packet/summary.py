"""Headline figures as lines of text for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from packet.alternates import compare
from packet.assembly.records import overall, seam_gap
from packet.assembly.ring_geometry import RingGeometry
from packet.description.buying_values import amount
from packet.figures import MM2, MM3, board_mass, leaf_area
from packet.findings import told_cost
from packet.plan import Plan
from packet.units import parse_length


def summary(plan: Plan, everything: bool = False) -> Iterator[str]:
    """What `packet check` says; with `everything`, all that `packet figures` says."""
    f, pack = plan.form, plan.pack
    yield f"{plan.description.title}, revision {plan.description.identity.revision}"
    yield f"  closes    yes, largest gap at any seam {plan.closure.residual:.3f} mm"
    stacked = all(len(column) == pack.layers for column in pack.columns)
    layers = _count(pack.layers, "layer") + (f" in {_count(len(pack.columns), 'column')}" if stacked else "")
    more = plan.bulk
    bulk = (f"about {f.length_unit(more.along)} more along the hinges, up to {f.length_unit(more.most)} where strips cross"
            if more.most - more.along > 1e-6 else f"up to {f.length_unit(more.most)} more at hinges")
    flat_at = f", flat at {', '.join(pack.flat_seams)}" if pack.flat_seams else ""
    yield (f"  packs     {f.size(pack.width, pack.length, pack.thickness)}, {layers}{flat_at}; "
           f"{bulk}")
    flat = sum(vertex.folds_flat for vertex in plan.vertices)
    angles = f"angles agree at {flat} of {len(plan.vertices)} points where leaves meet; " if plan.vertices else ""
    yield (f"  folds     layers and hinges agree; {angles}board and tape must give a little: make a trial fold"
           f"{' of each half' if len({leaf.half for leaf in plan.assembly.leaves}) > 1 else ''}")
    if plan.ring is not None:
        yield from _ring_lines(plan, plan.ring)
    else:
        width, depth, height = overall(plan.assembly)
        yield f"  size      {f.size(width, depth, height)} over all as it stands, {len(plan.assembly.leaves)} leaves"
    held = [bool(plan.mended.used(blank.mark)) for blank in plan.mended.held]
    sets = f" for {plan.description.quantity} sets" if plan.description.quantity > 1 else ""
    cut = f", {held.count(True)} cut for spoiled leaves" if any(held) else ""
    yield (f"  boards    {_mix(plan)}, {plan.description.boards.spare} spare, "
           f"{_count(held.count(False), 'part')} held whole{cut}")
    splices = [splice.length for leaf in plan.assembly.leaves for splice in leaf.splices]
    if splices:
        made = sum(bool(leaf.splices) for leaf in plan.assembly.leaves)
        yield (f"  splices   {len(splices)} in {made} {'leaf' if made == 1 else 'leaves'} of a set, {f.feet(sum(splices))} "
               "together, taped on both faces; their strength is not worked out")
    for need in plan.needs:
        kind = "foil" if need.foil else "strapping"
        yield f"  {kind:<9} {f.length_unit(need.roll_width)}: {f.feet(need.net)}{sets}, {_count(need.rolls, 'roll')}"
    yield from _alternate_lines(plan)
    yield f"  mass      {f.mass(board_mass(plan))} without tape, at the assumed density"
    if everything:
        yield from _more(plan)


def _mix(plan: Plan) -> str:
    """Boards that are cut, of which sizes, and what no layout can undercut."""
    f, nested, own = plan.form, plan.nest, plan.description
    sets = f" for {own.quantity} sets" if own.quantity > 1 else ""
    if not nested.mixed:
        stock = nested.stock
        return (f"{len(plan.boards)}{sets} of {f.size(stock.breadth, stock.length, stock.thickness)}"
                f" (fewest possible {nested.bound}, {nested.proof})")
    sizes = " and ".join(f"{each.cut} of {f.size(each.breadth, each.length, each.thickness)}"
                         for each in plan.supply.sizes if each.cut)
    return (f"{len(plan.boards)}{sets}: {sizes} ({nested.measure} {told_cost(own, nested, nested.cost)}, least possible "
            f"{told_cost(own, nested, nested.bound)}, {nested.proof})")


def _alternate_lines(plan: Plan) -> Iterator[str]:
    """The boards that could be bought instead, one a line; nothing where the project lists none."""
    found, f = compare(plan), plan.form
    for place, one in enumerate(found.boards if found else ()):
        name = " and ".join(f.size(*size, one.board.thickness) for size in
                            one.mixed or ((one.board.breadth, one.board.length),))
        if one.bought is None or one.mass is None or one.pack is None:
            yield f"  instead   {name}: not possible: {one.why}"
            continue
        price = "" if one.price is None else f", {amount(one.price, plan.description.prices.currency)}"
        best = [word for word in ("cheapest", "lightest", "thinnest") if found and place in getattr(found, word)]
        smaller = ", leaves cut smaller to fit" if one.smaller else ""
        yield (f"  {'compared' if one.own else 'instead':<9} {name}: {_count(one.bought, 'board')}{price}, {f.mass(one.mass)}, "
               f"packed {f.length_unit(one.pack[2])}{smaller}{': ' + ', '.join(best) if best else ''}")


def _ring_lines(plan: Plan, g: RingGeometry) -> Iterator[str]:
    f, m = plan.form, plan.mobility
    yield (f"  stands    rigid with both doors shut (mobility {m.closed}); one open {m.one_open}: its own swing; both open "
           f"{m.both_open}: open both only to fold, never in wind")
    yield (f"  size      {g.walls} walls, {f.length_unit(g.side)} each; apex {f.length_both(g.apex)}, {f.feet_inches(g.apex)}, "
           f"slope {f.angle(g.slope)}, floor {f.area(g.floor_area * MM2)}")
    yield (f"  opening   {f.decimal(g.opening_across_corners)} / {f.decimal(g.opening_across_flats)} {f.unit} "
           "across corners / flats")


def _more(plan: Plan) -> Iterator[str]:
    f = plan.form
    if plan.ring is not None:
        yield from _ring_figures(plan, plan.ring)
    yield from _site(plan)
    yield "Making"
    yield f"  {'leaf area':<28} {f.area(leaf_area(plan))}"
    yield f"  {'cut length':<28} {f.feet(sum(board.cut_length for board in plan.boards))}"
    yield (f"  {'closure gap to expect':<28} {f.decimal(plan.gap.root_sum_square)} {f.unit}, at worst "
           f"{f.decimal(plan.gap.worst_case)}, for marks within {f.length(plan.description.limits.mark)} and cuts within "
           f"{f.length(plan.description.limits.cut)}")
    yield "What a unit of error does"
    for each in plan.sensitivities:
        # Degrees per mm become degrees per unit of the packet.
        whole = (f"apex {each.apex:+.2f}, slope {each.slope * parse_length(1, f.system):+.3f} degrees, all leaves alike; "
                 if each.apex is not None and each.slope is not None else "")
        yield f"  {'by ' + each.cause:<28} {whole}closure gap {each.gap:.3f} from one leaf alone"
    yield "Pack, lowest layer first"
    for number, column in enumerate(plan.pack.columns, 1):
        yield f"  column {number}: {', '.join(column)}"
    yield "Take-off"
    for item in plan.takeoff:
        quantity = f.feet(item.quantity) if item.unit == "mm" else _count(int(item.quantity), item.unit)
        yield f"  {item.item}: {quantity} ({item.detail})"


def _ring_figures(plan: Plan, g: RingGeometry) -> Iterator[str]:
    f = plan.form
    yield "Geometry, inner faces"
    rows = (
        ("side", g.side), ("circumradius", g.circumradius), ("apothem", g.apothem),
        ("across corners", g.across_corners), ("across flats", g.across_flats), ("rise", g.rise), ("apex", g.apex),
        ("hip", g.hip), ("hip trimmed", g.hip_trimmed), ("mid edge trimmed", g.mid_trimmed),
        ("short edge", g.short_edge), ("opening across corners", g.opening_across_corners),
        ("opening across flats", g.opening_across_flats),
        ("opening across flats, outer", g.opening_across_flats_outer),
    )
    for name, value in rows:
        yield f"  {name:<28} {f.length_both(value)}"
    for name in ("corner", "eave", "hip"):
        angle = getattr(g, f"angle_{name}")
        yield f"  {name + ' open':<28} {angle:.2f} degrees, V of {f.decimal(seam_gap(g.thickness, angle))} {f.unit}"
    yield f"  {'volume':<28} {f.volume(g.volume * MM3)}"
    yield f"  {'rise per unit of leaf width':<28} {g.rise_per_leaf_width:+.2f}"
    yield f"  {'rise per unit of slant':<28} {g.rise_per_slant:+.2f}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


def _site(plan: Plan) -> Iterator[str]:
    """What moves it, and what must hold it."""
    from packet.site.masses import leaf_masses, total
    from packet.site.wind import loads, unanchored  # brings shapely, which `packet check` does without

    f, moved, held = plan.form, unanchored(plan), loads(plan)
    mass, _ = total(leaf_masses(plan))
    yield "Where it stands"
    yield f"  {'mass with tape':<28} {f.mass(mass)}"
    yield f"  {'not anchored, slides at':<28} {f.speed(moved.slides)}"
    yield f"  {'not anchored, tips at':<28} {f.speed(moved.tips)}"
    yield f"  {'each anchor, pull in all':<28} {f.force(held.worst.pull)} at {f.speed(plan.description.wind.speed)}"
    if held.strike is not None:
        yield f"  {'strike at':<28} {f.speed(held.strike)}"
    yield f"  {'':<28} no engineering approval"
