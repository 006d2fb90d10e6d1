"""From pack to open: joined edges, true sizes, and what must flex."""

from __future__ import annotations

import math

import pytest

from packet.assembly.opening_states import opening_states, pack_plates
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

RINGS = [*zoo(), *releasable_zoo()]
CLOSED = 1e-6
"""mm"""


@pytest.mark.parametrize("name", [*RINGS, *plain_zoo()])
def test_pack_and_open_state_are_whole(name: str) -> None:
    plan = zoo_plan(name)
    states = opening_states(plan.assembly)
    assert len(states) == 8
    assert states[0].apart == pytest.approx(0.0, abs=CLOSED) == states[-1].apart
    for state in states:
        assert sorted(plate.mark for plate in state.plates) == sorted(plan.assembly.by_mark)


@pytest.mark.parametrize("name", [*RINGS, *plain_zoo()])
def test_the_last_state_is_the_open_shelter(name: str) -> None:
    plan = zoo_plan(name)
    last = {plate.mark: plate for plate in opening_states(plan.assembly)[-1].plates}
    for leaf in plan.assembly.leaves:
        middle = [sum(leaf.open_pose.place(p, leaf.thickness / 2)[i] for p in leaf.outline) / len(leaf.outline)
                  for i in range(3)]
        plate = last[leaf.mark]
        there = [sum(p[i] for p in plate.outline) / len(plate.outline) + plate.into[i] * plate.thickness / 2
                 for i in range(3)]
        assert there == pytest.approx(middle, abs=1e-3)


@pytest.mark.parametrize("name", [*RINGS, *plain_zoo()])
def test_the_first_state_is_as_thick_as_the_pack(name: str) -> None:
    """Across the boards the pack measures its layers; some direction square to a leaf must show that."""
    plan = zoo_plan(name)
    plates = opening_states(plan.assembly)[0].plates
    across = plates[0].into
    depths = [sum(p[i] * across[i] for i in range(3)) + off for plate in plates for p in plate.outline
              for off in (0.0, sum(plate.into[i] * across[i] for i in range(3)) * plate.thickness)]
    assert max(depths) - min(depths) == pytest.approx(plan.pack.thickness, abs=1e-6)


@pytest.mark.parametrize("name", RINGS)
def test_pages_turn_without_flexing_and_corners_do_not(name: str) -> None:
    """The hip between a corner at C and the axis: with plan distances m and c of mid and corner from the axis its
    length would be sqrt(c2 - m2 + slant2), by Pythagoras twice over the same height."""
    plan = zoo_plan(name)
    states = opening_states(plan.assembly)
    assert all(state.apart < CLOSED for state in states[:4])
    assert all(state.apart > 1.0 for state in states[4:-1])
    ring = plan.geometry
    # Thickness moves the mid and corner lines apart by little; a thin board's ring gives the bound.
    half = math.pi / ring.walls
    def missing(m: float) -> float:
        c = m * math.cos(half) + math.sqrt(ring.leaf_width**2 - (m * math.sin(half)) ** 2)
        return math.sqrt(c**2 - m**2 + ring.slant**2) - ring.hip
    most = max(abs(missing(ring.apothem * step / 200)) for step in range(201))
    assert max(state.apart for state in states) < most + 3 * ring.thickness


@pytest.mark.parametrize("name", plain_zoo())
def test_without_a_roof_every_edge_stays_together(name: str) -> None:
    assert max(state.apart for state in opening_states(zoo_plan(name).assembly)) < CLOSED


@pytest.mark.parametrize("name", [*RINGS, *plain_zoo()])
def test_pack_plates_fill_the_pack(name: str) -> None:
    plan = zoo_plan(name)
    plates = pack_plates(plan.assembly, plan.pack)
    assert max(p[2] for plate in plates for p in plate.outline) == pytest.approx(
        plan.pack.thickness - plan.assembly.thickness)
    assert sorted(plate.mark for plate in plates) == sorted(plan.assembly.by_mark)
