"""Every number the packet rests on, as one JSON object: the contract of `packet figures --json`.

Lengths mm, areas m2, volumes m3, angles degrees, masses kg, forces N, times s, money {amount, currency}.
"""

from __future__ import annotations

from typing import Any

from packet.assembly.records import Point, overall, polygon_area, seam_gap
from packet.plan import Plan

MM2 = 1e-6
MM3 = 1e-9


def figures(plan: Plan) -> dict[str, Any]:
    """One object of plain lists, numbers, strings and nulls."""
    return {
        "project": plan.description.title,
        "revision": plan.description.identity.revision,
        "inputs": plan.description.fingerprint,
        "geometry": geometry_figures(plan),
        **_graph(plan),
        **_tape(plan),
        **_boards(plan),
        **_folded(plan),
        **_accuracy(plan),
        "takeoff": [{"item": item.item, "quantity": _number(item.quantity), "unit": str(item.unit),
                     "detail": item.detail} for item in plan.takeoff],
        "alternates": _alternates(plan),
        "quantity": plan.description.quantity,
        "cut_length": _number(sum(board.cut_length for board in plan.boards)),
        "board_mass": _number(board_mass(plan)),
        "warnings": [str(finding) for finding in plan.findings],
    }


def _graph(plan: Plan) -> dict[str, Any]:
    """The leaves, and the seams between them."""
    return {
        "leaves": [
            {"mark": leaf.mark, "kind": str(leaf.kind), "half": leaf.half, "hand": str(leaf.hand),
             "door": leaf.door, "outline": _points(leaf.outline),
             "holes": [{"x": _number(h.x), "y": _number(h.y), "diameter": _number(h.diameter),
                        "purpose": h.purpose} for h in leaf.holes],
             "openings": [{"kind": o.kind, "x": _number(o.x), "y": _number(o.y), "width": _number(o.width),
                           "height": _number(o.height), "round": o.round} for o in leaf.openings],
             "splices": [{"parts": list(s.parts), "from": _point(s.a), "to": _point(s.b), "length": _number(s.length)}
                         for s in leaf.splices]}
            for leaf in plan.assembly.leaves
        ],
        "seams": [
            {"mark": seam.mark, "kind": str(seam.kind), "leaves": list(seam.leaves),
             "closing_face": str(seam.closing_face), "angle_open": _number(seam.angle_open),
             "angle_packed": _number(seam.angle_packed), "bonded": seam.bonded,
             "length": _number(seam.length)}
            for seam in plan.assembly.seams
        ],
    }


def _tape(plan: Plan) -> dict[str, Any]:
    """The strips, and where they are cut."""
    return {
        "strips": [
            {"mark": strip.mark, "role": str(strip.role), "seam": strip.seam, "edge": strip.edge,
             "face": " and ".join(str(face) for face in strip.faces),
             "tape": [_number(tape) for tape in strip.tapes], "overlap": _number(strip.overlap),
             "width": _number(strip.width), "length": _number(strip.length), "land": _number(strip.land)}
            for strip in plan.strips
        ],
        "relief_cuts": [
            {"strip": cut.strip, "between": list(cut.between), "face": str(cut.face),
             "length": _number(cut.length), "along": cut.along, "reasons": [str(r) for r in cut.reasons]}
            for cut in plan.relief
        ],
    }


def _boards(plan: Plan) -> dict[str, Any]:
    """The boards as they are cut, what is bought, how few there can be, and what is held."""
    return {
        "boards": [
            {"mark": board.mark,
             "stock": {"length": _number(board.stock.length), "breadth": _number(board.stock.breadth),
                       "thickness": _number(board.stock.thickness)},
             "pieces": [{"leaf": piece.leaf, "set": piece.copy or 1, "outline": _points(piece.outline)}
                        for piece in board.pieces],
             "held": [_points(outline) for outline in board.held],
             "cuts": [{"number": cut.number, "kind": str(cut.kind), "from": _point(cut.a), "to": _point(cut.b),
                       "length": _number(cut.length)} for cut in board.cuts]}
            for board in plan.boards
        ],
        "board_sizes": [
            {"breadth": _number(each.breadth), "length": _number(each.length), "cut": each.cut, "spare": each.spare}
            for each in plan.supply.sizes],
        "layout": {"least": str(plan.nest.measure), "cost": plan.nest.cost, "bound": plan.nest.bound,
                   "proof": str(plan.nest.proof)},
        "blanks": [
            {"mark": blank.mark, "board": blank.board, "breadth": _number(blank.breadth), "length": _number(blank.length),
             "cut_for": used.mark if used else None}
            for blank in plan.mended.held for used in (plan.mended.used(blank.mark),)
        ],
    }


def _folded(plan: Plan) -> dict[str, Any]:
    """The pack, what moves, and the points where leaves meet."""
    return {
        "pack": {
            "width": _number(plan.pack.width), "length": _number(plan.pack.length),
            "thickness": _number(plan.pack.thickness),
            "thickness_at_hinges": _number(plan.pack.thickness + plan.bulk.along),
            "thickness_at_most": _number(plan.pack.thickness + plan.bulk.most),
            "columns": [list(column) for column in plan.pack.columns],
            "flat_seams": list(plan.pack.flat_seams),
        },
        "mobility": {
            "closed": plan.mobility.closed, "one_swing_leaf_open": plan.mobility.one_open,
            "both_swing_leaves_open": plan.mobility.both_open, "more_than_swings": plan.mobility.more_when_open,
        },
        "vertices": [
            {"leaves": list(v.leaves), "sectors": [_number(s) for s in v.sectors],
             "alternating_sum": _number(v.alternating), "folds_flat": v.folds_flat, "bonded": v.bonded}
            for v in plan.vertices
        ],
    }


def _accuracy(plan: Plan) -> dict[str, Any]:
    """What small errors of marking and cutting do."""
    return {
        "tolerance": {
            "mark": _number(plan.description.limits.mark), "cut": _number(plan.description.limits.cut),
            "gap_worst_case": _number(plan.gap.worst_case),
            "gap_root_sum_square": _number(plan.gap.root_sum_square),
        },
        "sensitivities": [
            {"of": str(each.cause), "apex_per_mm": _maybe(each.apex), "slope_per_mm": _maybe(each.slope),
             "gap_per_mm_of_one_leaf": _number(each.gap)}
            for each in plan.sensitivities
        ],
    }


def _alternates(plan: Plan) -> list[dict[str, Any]]:
    """Every board that could be bought, the project's own first; empty where it lists none."""
    from packet.alternates import compare  # which plans anew, and asks here for the mass

    found = compare(plan)
    if found is None:
        return []
    currency = plan.description.prices.currency

    def money(hundredths: int | None) -> dict[str, Any] | None:
        return None if hundredths is None else {"amount": hundredths / 100, "currency": currency}

    return [
        {"breadth": _number(one.board.breadth), "length": _number(one.board.length),
         "thickness": _number(one.board.thickness), "own": one.own, "boards": one.bought,
         "price_each": money(one.board.price), "price": money(one.price),
         "mass": None if one.mass is None else _number(one.mass),
         "pack": [_number(side) for side in one.pack] if one.pack else None, "leaves_smaller": one.smaller,
         "not_possible": one.why,
         "best": [name for name in ("cheapest", "lightest", "thinnest") if place in getattr(found, name)]}
        for place, one in enumerate(found.boards)]


def geometry_figures(plan: Plan) -> dict[str, float]:
    """Sizes of the open shelter; a ring's are its inner faces, its gaps the open V of each hinge on the opening face.

    `width`, `depth` and `height` are over all, outer faces, as it stands.
    """
    bounds = overall(plan.assembly)
    found = {"width": _number(bounds[0]), "depth": _number(bounds[1]), "height": _number(bounds[2]),
             "closure_residual": _number(plan.closure.residual)}
    if plan.ring is None:
        return found
    g = plan.ring
    lengths = ("side", "circumradius", "apothem", "across_corners", "across_flats", "rise", "apex", "hip",
               "hip_trimmed", "mid_trimmed", "short_edge", "opening_across_corners", "opening_across_flats",
               "opening_across_flats_outer")
    angles = ("slope", "angle_corner", "angle_eave", "angle_hip", "wedge")
    found |= {name: _number(getattr(g, name)) for name in lengths + angles}
    found |= {"leaf_width": _number(g.leaf_width), "wall_height": _number(g.wall_height),
              "slant": _number(g.slant), "thickness": _number(g.thickness),
              "floor_area": _number(g.floor_area * MM2), "opening_area": _number(g.opening_area * MM2),
              "volume": _number(g.volume * MM3)}
    for name in ("corner", "eave", "hip"):
        found[f"gap_{name}"] = _number(seam_gap(g.thickness, getattr(g, f"angle_{name}")))
    found["rise_per_leaf_width"] = _number(g.rise_per_leaf_width)
    found["rise_per_slant"] = _number(g.rise_per_slant)
    return found


def leaf_area(plan: Plan) -> float:
    """Area of all finished leaves, m2."""
    return sum(abs(polygon_area(leaf.outline)) - sum(opening.area for opening in leaf.openings)
               for leaf in plan.assembly.leaves) * MM2


def board_mass(plan: Plan) -> float:
    """Mass of the finished leaves without tape, kg, at the assumed density."""
    return leaf_area(plan) * plan.assembly.thickness / 1000 * plan.description.assume.density


def _number(value: float) -> float:
    """Rounded to a millionth of a unit, so that the last bits of arithmetic do not show."""
    return round(float(value), 6) + 0.0


def _maybe(value: float | None) -> float | None:
    return None if value is None else _number(value)


def _point(point: Point) -> list[float]:
    return [_number(point[0]), _number(point[1])]


def _points(points: tuple[Point, ...]) -> list[list[float]]:
    return [_point(p) for p in points]
