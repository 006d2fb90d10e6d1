"""Eight rings against models that share no code with the program: meshes, path graphs and exact algebra."""

from __future__ import annotations

import math

import networkx
import numpy as np
import pytest
import sympy
import trimesh

from packet.assembly.pack import pack
from packet.assembly.records import Assembly, SeamKind
from packet.assembly.ring import RingDoors, ring_assembly
from packet.assembly.ring_geometry import RingGeometry
from packet.description.terms import Face, Side

# walls, leaf width, wall height, slant, tip trim, thickness; mm
RINGS = [
    (4, 610, 1500, 700, 80, 25), (4, 300, 900, 420, 40, 12), (6, 480, 1300, 900, 60, 38), (6, 700, 2000, 1300, 120, 50),
    (8, 380, 1400, 1000, 70, 30), (10, 320, 1200, 1100, 60, 20), (12, 250, 1000, 1000, 50, 25), (12, 300, 1800, 1400, 90, 40),
]


def made(ring: tuple[float, ...], face: Face = Face.INNER) -> tuple[RingGeometry, Assembly]:
    geometry = RingGeometry(int(ring[0]), *ring[1:])
    return geometry, ring_assembly(geometry, RingDoors(Side.RIGHT, 20, ring[2] / 2, 110, 33), face)


@pytest.mark.parametrize("ring", RINGS)
def test_inner_shell_as_a_mesh(ring: tuple[float, ...]) -> None:
    """A closed mesh of the inner faces with the floor: its volume, area and dihedral angles."""
    walls, width, height, slant = int(ring[0]), ring[1], ring[2], ring[3]
    # Built from plane geometry alone: corners on a circle, apex over the centre.
    radius = width / math.sin(math.pi / walls)
    rise = math.sqrt(slant**2 - (width / math.tan(math.pi / walls)) ** 2)
    at = [math.radians(-90 + 360 / walls * (k + 0.5)) for k in range(walls)]  # the first wall faces -y
    low = [(radius * math.cos(a), radius * math.sin(a), 0.0) for a in at]
    high = [(x, y, height) for x, y, _ in low]
    points = np.array([*low, *high, (0, 0, 0), (0, 0, height + rise)])
    faces = []
    for k in range(walls):
        n = (k + 1) % walls
        faces += [(k, n, walls + n), (k, walls + n, walls + k), (walls + k, walls + n, 2 * walls + 1), (n, k, 2 * walls)]
    mesh = trimesh.Trimesh(points, faces, process=False)
    assert mesh.is_watertight
    geometry, assembly = made(ring)
    assert geometry.volume == pytest.approx(mesh.volume)
    folds = {round(math.degrees(a), 6) for a in mesh.face_adjacency_angles if a > 1e-6}
    expected = {180 - geometry.angle_corner, 180 - geometry.angle_eave, 180 - geometry.angle_hip, 90.0}
    assert len(folds) <= 4
    assert all(min(abs(fold - e) for e in expected) < 1e-4 for fold in folds)
    # Every corner of every untrimmed leaf lies on that mesh.
    for corner in (leaf.open_pose.place(p) for leaf in assembly.leaves for p in leaf.rough):
        nearest = trimesh.triangles.closest_point(mesh.triangles, np.tile(corner, (len(mesh.triangles), 1)))
        assert np.linalg.norm(nearest - corner, axis=1).min() < 1e-6


@pytest.mark.parametrize("ring", RINGS)
@pytest.mark.parametrize("face", Face)
def test_boards_as_solids(ring: tuple[float, ...], face: Face) -> None:
    """Each leaf extruded by its thickness: volume, and the boards stay outside the room and off the ground."""
    _, assembly = made(ring, face)
    for leaf in assembly.leaves:
        front = [leaf.open_pose.place(p) for p in leaf.outline]
        back = [leaf.open_pose.place(p, leaf.thickness) for p in leaf.outline]
        hull = trimesh.convex.convex_hull(np.array([*front, *back]))
        area = trimesh.path.polygons.Polygon(leaf.outline).area
        assert hull.volume == pytest.approx(area * leaf.thickness)
        assert hull.bounds[0][2] > -1e-6


@pytest.mark.parametrize("ring", RINGS)
def test_columns_as_paths(ring: tuple[float, ...]) -> None:
    """Without the two seams that stay flat the ring of wall leaves falls into two paths: the columns."""
    geometry, assembly = made(ring)
    graph = networkx.Graph()
    for seam in assembly.seams:
        if seam.kind in (SeamKind.WALL_MID, SeamKind.CORNER) and seam.angle_packed == 0:
            graph.add_edge(*seam.leaves)
    columns = pack(assembly).columns
    parts = list(networkx.connected_components(graph))
    assert sorted(map(sorted, parts)) == sorted(map(sorted, columns))
    for column in columns:
        ends = [mark for mark in column if graph.degree(mark) == 1]
        assert networkx.shortest_path(graph, *ends) in (list(column), list(reversed(column)))
        assert len(column) == geometry.walls


def test_exact_values_of_the_check_case() -> None:
    """Exact algebra: rise 24, apex 72, opening 5 and 5 sqrt(3)/2, hip dihedral from the normals."""
    w, slant = sympy.Integer(24), sympy.Integer(48)
    apothem = w / sympy.tan(sympy.pi / 6)
    rise = sympy.sqrt(slant**2 - apothem**2)
    ring = RingGeometry(6, 24, 48, 48, 2.5, 1)
    assert sympy.simplify(rise - 24) == 0
    assert ring.rise == pytest.approx(24, abs=1e-12)
    opening = 2 * sympy.Rational(5, 2) * apothem / slant
    assert ring.opening_across_flats == pytest.approx(float(opening), abs=1e-12)
    normals = [sympy.Matrix([rise * sympy.cos(a), rise * sympy.sin(a), apothem]) for a in (0, sympy.pi / 3)]
    cosine = sympy.simplify(normals[0].dot(normals[1]) / (normals[0].norm() * normals[1].norm()))
    assert ring.angle_hip == pytest.approx(180 - math.degrees(float(sympy.acos(cosine))), abs=1e-9)
    assert sympy.simplify(sympy.diff(sympy.sqrt(slant**2 - (sympy.Symbol("w") / sympy.tan(sympy.pi / 6)) ** 2),
                                     sympy.Symbol("w")).subs(sympy.Symbol("w"), w) + 3) == 0
