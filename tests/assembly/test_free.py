"""Screens, booths and boxes: listed leaves and seams go through the same checks as a ring."""

from __future__ import annotations

import math

import pytest

from packet.assembly.closure import closure
from packet.assembly.free import SIDES, ListedLeaf, ListedSeam, chain_assembly, free_assembly, rectangle
from packet.assembly.pack import pack
from packet.assembly.ring import RingDoors, ring_assembly
from packet.assembly.ring_geometry import RingGeometry
from packet.description.terms import Face, Side
from packet.tape.strips import bare_edges, runs


def booth(side: float) -> tuple[tuple[ListedLeaf, ...], tuple[ListedSeam, ...]]:
    leaves = (ListedLeaf("BACK", rectangle(1000, 1900), SIDES), ListedLeaf("LEFT", rectangle(side, 1900), SIDES),
              ListedLeaf("RIGHT", rectangle(side, 1900), SIDES))
    seams = (ListedSeam(("BACK", "left"), ("LEFT", "right"), Face.INNER, 90, 0, True),
             ListedSeam(("BACK", "right"), ("RIGHT", "left"), Face.INNER, 90, 0, True))
    return leaves, seams


def test_a_screen_of_six_leaves_is_one_column_of_six_thicknesses() -> None:
    """An open chain folds into one column (common practice, no published source)."""
    found = pack(chain_assembly(6, 500, 1800, 120, 30, Face.INNER))
    assert (found.faults, found.columns) == ((), (("A1", "A2", "A3", "A4", "A5", "A6"),))
    assert (found.thickness, found.width, found.length) == pytest.approx((180, 500, 1800))


def test_a_screen_stands_in_a_zigzag() -> None:
    screen = chain_assembly(4, 500, 1800, 120, 30, Face.INNER)
    spots = [leaf.open_pose.place((0, 0)) for leaf in screen.leaves]
    # Every other leaf points the same way, and neighbours are 60 degrees apart.
    assert screen.leaves[0].open_pose.x == pytest.approx(screen.leaves[2].open_pose.x)
    turn = sum(a * b for a, b in zip(screen.leaves[0].open_pose.x, screen.leaves[1].open_pose.x, strict=True))
    assert math.degrees(math.acos(turn)) == pytest.approx(60)
    assert all(abs(z) < 1e-9 for _, _, z in spots)


def test_sides_that_would_overlap_in_the_pack_are_found() -> None:
    assert pack(free_assembly(*booth(500), 30, Face.INNER, False)).packs
    wide = pack(free_assembly(*booth(700), 30, Face.INNER, False))
    assert wide.faults == ("LEFT and RIGHT want the same place in layer 2",)


def test_a_box_of_six_leaves() -> None:
    sizes = {"FRONT": (600, 400), "SIDE1": (400, 400), "BACK": (600, 400), "SIDE2": (400, 400), "BASE": (600, 400),
             "LID": (600, 400)}
    leaves = tuple(ListedLeaf(mark, rectangle(*size), SIDES) for mark, size in sizes.items())
    seams = tuple(ListedSeam(a, b, Face.INNER, 90, packed, True) for a, b, packed in (
        (("FRONT", "right"), ("SIDE1", "left"), 180), (("SIDE1", "right"), ("BACK", "left"), 0),
        (("BACK", "right"), ("SIDE2", "left"), 180), (("SIDE2", "right"), ("FRONT", "left"), 0),
        (("FRONT", "bottom"), ("BASE", "top"), 180), (("BACK", "top"), ("LID", "bottom"), 180)))
    box = free_assembly(leaves, seams, 30, Face.INNER, False)
    assert closure(box).closes
    found = pack(box)
    assert (found.faults, found.thickness) == ((), 60)
    # It stands on its base board, so no wall has a sill strip; twelve edges stay bare.
    assert runs(box) == ()
    assert len(tuple(bare_edges(box))) == 12


def test_rounding_in_a_ring_of_four_is_no_clash() -> None:
    """Leaves that touch along an edge to the last bit once counted as overlapping."""
    ring = RingGeometry(4, 233, 400, 466.00000000000006, 20, 10)
    assert pack(ring_assembly(ring, RingDoors(Side.RIGHT, 5, 200, 110, 33), Face.INNER)).packs
