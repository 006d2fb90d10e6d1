"""Laws that every ring obeys, over rings made up at random."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from packet.assembly.closure import closure
from packet.assembly.pack import pack
from packet.assembly.records import Assembly, LeafKind, SeamKind
from packet.assembly.ring import RingDoors, ring_assembly
from packet.assembly.ring_geometry import RingGeometry
from packet.boards.check import layout_faults
from packet.boards.layout import lay_out
from packet.boards.nest import DoesNotFit, nest
from packet.boards.records import Stock
from packet.description.terms import Face, Side
from packet.tape.relief import Reason, relief_cuts
from packet.tape.strips import Role, Rules, strips

RULES = Rules(50, 32, (50, 100, 150), True, (75,), 25, 12)


@st.composite
def assemblies(draw: st.DrawFn) -> tuple[RingGeometry, Assembly]:
    walls = draw(st.sampled_from((4, 6, 8, 10, 12)))
    width = draw(st.floats(220, 900))
    height = draw(st.floats(400, 2300))
    slant = width / math.tan(math.pi / walls) * draw(st.floats(1.02, 2.5))
    geometry = RingGeometry(walls, width, height, slant, draw(st.floats(20, 0.2 * slant)), draw(st.floats(10, 80)))
    doors = RingDoors(draw(st.sampled_from(Side)), draw(st.floats(5, 60)), height / 2, 110, 33)
    return geometry, ring_assembly(geometry, doors, draw(st.sampled_from(Face)))


@given(assemblies())
@settings(max_examples=60, deadline=None)
def test_closes_packs_and_keeps_its_area(made: tuple[RingGeometry, Assembly]) -> None:
    geometry, assembly = made
    assert closure(assembly).closes
    packed = pack(assembly)
    assert packed.faults == ()
    assert packed.thickness == pytest.approx(geometry.walls * geometry.thickness)
    assert packed.width == pytest.approx(2 * geometry.leaf_width)
    assert packed.length == pytest.approx(geometry.wall_height + geometry.mid_trimmed)
    assert [len(column) for column in packed.columns] == [geometry.walls, geometry.walls]
    volume = sum(Polygon(leaf.outline).area * leaf.thickness for leaf in assembly.leaves)
    assert packed.width * packed.length * packed.thickness >= volume
    # Eight times the right triangles make the roof: slope area times cosine is the floor.
    roof = sum(Polygon(leaf.rough).area for leaf in assembly.of_kind(LeafKind.ROOF))
    assert roof * math.cos(math.radians(geometry.slope)) == pytest.approx(geometry.floor_area)


@given(assemblies())
@settings(max_examples=60, deadline=None)
def test_open_angles_agree_with_the_poses(made: tuple[RingGeometry, Assembly]) -> None:
    """The dihedral angle between two leaves' marked faces, from their normals, is the seam's open angle."""
    _, assembly = made
    for seam in assembly.seams:
        a, b = (assembly.by_mark[m].open_pose.z for m in seam.leaves)
        between = math.degrees(math.acos(max(-1.0, min(1.0, sum(p * q for p, q in zip(a, b, strict=True))))))
        assert 180 - between == pytest.approx(seam.angle_open, abs=1e-4)


@given(assemblies())
@settings(max_examples=40, deadline=None)
def test_every_bonded_seam_has_its_flat_and_its_wrap_on_opposite_faces(made: tuple[RingGeometry, Assembly]) -> None:
    _, assembly = made
    laid = strips(assembly, RULES)
    for seam in assembly.seams:
        faces = {s.role: s.faces for s in laid if s.seam == seam.mark and s.role in (Role.FLAT, Role.WRAP)}
        if seam.bonded:
            assert faces == {Role.FLAT: (seam.closing_face,), Role.WRAP: (seam.opening_face,)}
        else:
            assert not faces
    for strip in laid:
        assert strip.length > 0
        assert sum(strip.tapes) - strip.overlap * (len(strip.tapes) - 1) >= strip.width - 1e-6


@given(assemblies())
@settings(max_examples=40, deadline=None)
def test_no_relief_cut_for_a_closing_face_alone(made: tuple[RingGeometry, Assembly]) -> None:
    geometry, assembly = made
    laid = strips(assembly, RULES)
    cuts = relief_cuts(assembly, laid)
    by_pair = {frozenset(seam.leaves): seam for seam in assembly.seams}
    for cut in cuts:
        seam = by_pair[frozenset(cut.between)]
        assert seam.bonded
        if Reason.OPENING_FACE in cut.reasons:
            assert cut.face is seam.opening_face
    sills = [c for c in cuts if c.along == "sill"]
    assert len(sills) == 2 * (geometry.walls - 2)
    assert not any("1" in {m.strip("ABR") for m in c.between} for c in cuts)


@given(assemblies(), st.floats(1000, 1300), st.floats(2200, 3100), st.floats(0, 4))
@settings(max_examples=60, deadline=None)
def test_every_leaf_is_cut_once_and_rightly(made: tuple[RingGeometry, Assembly], breadth: float, length: float,
                                            kerf: float) -> None:
    geometry, assembly = made
    stock = Stock(length, breadth, geometry.thickness, kerf)
    try:
        nested = nest(assembly, stock)
    except DoesNotFit as fault:
        short, long = sorted((fault.blank.width, fault.blank.height))
        assert short > breadth or long > length
        return
    boards = lay_out(assembly, nested)
    assert layout_faults(assembly, boards) == ()
    assert nested.bound <= len(boards)
    area = sum(Polygon(p.outline).area for b in boards for p in b.pieces)
    assert area == pytest.approx(sum(Polygon(leaf.outline).area for leaf in assembly.leaves))
    for board in boards:
        assert [cut.number for cut in board.cuts] == list(range(1, len(board.cuts) + 1))
        assert all(-1e-6 <= x <= length + 1e-6 and -1e-6 <= y <= breadth + 1e-6
                   for cut in board.cuts for x, y in (cut.a, cut.b))


def test_a_mirrored_half_cannot_pack() -> None:
    """Half B mirrored instead of rotated: its mid seams would close the other way (common practice, no source)."""
    geometry = RingGeometry(6, 600, 1200, 1200, 65, 25)
    assembly = ring_assembly(geometry, RingDoors(Side.RIGHT, 20, 500, 100, 33), Face.INNER)
    halves = {leaf.mark: leaf.half for leaf in assembly.leaves}
    mirrored = replace(assembly, seams=tuple(
        replace(s, closing_face=s.closing_face.other)
        if {halves[m] for m in s.leaves} == {"B"} and s.kind is not SeamKind.EAVE else s
        for s in assembly.seams))
    assert not pack(mirrored).packs


def test_a_wrong_closing_face_is_found() -> None:
    geometry = RingGeometry(8, 440, 1150, 1150, 75, 30)
    assembly = ring_assembly(geometry, RingDoors(Side.RIGHT, 20, 500, 100, 33), Face.INNER)
    wrong = replace(assembly, seams=tuple(
        replace(s, closing_face=s.closing_face.other) if s.mark == "A2/A3" else s for s in assembly.seams))
    assert pack(assembly).packs
    assert not pack(wrong).packs
