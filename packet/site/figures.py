"""The site's numbers as plain data, beside those of the plan: N, m/s, Pa, kg, m3, m2, m3/s; lengths mm."""

from __future__ import annotations

from typing import Any

from packet.plan import Plan
from packet.site.air import breath, resistance, transmittance
from packet.site.anchors import anchor_loads
from packet.site.lifting import limit, people
from packet.site.masses import leaf_masses, packed_centre, total
from packet.site.pressure import beaufort
from packet.site.stance import stance
from packet.site.transport import carried, passes
from packet.site.wind import Demand, loads, unanchored


def site_figures(plan: Plan) -> dict[str, Any]:
    """One object of plain lists, numbers and nulls."""
    own, standing, masses = plan.description, stance(plan.assembly), leaf_masses(plan)
    mass, centre = total(masses)
    packed = packed_centre(plan, masses)
    moved, held, air = unanchored(plan), loads(plan), breath(plan)
    return {
        "mass": {"whole": _number(mass), "centre": [_number(each * 1000) for each in centre],
                 "packed_centre": [_number(each) for each in packed],
                 "leaves": [{"mark": each.mark, "board": _number(each.board), "tape": _number(each.tape)}
                            for each in masses]},
        "wind": {
            "sides": [{"direction": _number(side.direction), "area": _number(side.area),
                       "height": _number(side.height * 1000)} for side in standing.sides],
            "covered_area": _number(standing.covered), "pressure": _number(held.pressure),
            "slides_at": _number(moved.slides), "tips_at": _number(moved.tips),
            "slides_at_open": _number(moved.slides_open), "tips_at_open": _number(moved.tips_open),
            "beaufort": beaufort(moved.moves), "anchors": len(standing.base),
            "each": [{"number": each.number, "leaves": list(each.leaves), "hold_down": _number(each.hold_down),
                      "shear": _number(each.shear), "pull": _number(each.pull), "direction": _number(each.direction)}
                     for each in anchor_loads(plan)],
            "shut": _demand(held.shut), "open": None if held.opened is None else _demand(held.opened),
            "ballast": _number(held.ballast), "strike_at": None if held.strike is None else _number(held.strike),
        },
        "lift": {"limit": _number(limit(own.lift, own.system)), "people": people(mass, own.lift, own.system)},
        "transport": [{"what": load.key, "box": [_number(each) for each in load.box],
                       "passes": [
            None if way is None else {"lying": str(way.lying), "first": str(way.first)}
            for way in (passes(load.box, each) for each in own.transport.openings)]} for load in carried(plan)],
        "air": None if air is None else {
            "volume": _number(air.volume), "vent": _number(air.vent), "gaps": _number(air.gaps),
            "flow": _number(air.flow), "people": air.people},
        "thermal": {"resistance": _number(resistance(plan)), "transmittance": _number(transmittance(plan))},
    }


def _demand(found: Demand) -> dict[str, float]:
    return {"drag": _number(found.drag), "uplift": _number(found.uplift), "hold_down": _number(found.hold_down),
            "shear": _number(found.shear), "pull": _number(found.pull)}


def _number(value: float) -> float:
    """Rounded to a millionth, so that the last bits of arithmetic do not show."""
    return round(float(value), 6) + 0.0
