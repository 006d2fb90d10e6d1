"""Stations, trims and check lengths of boards, against the numbers of the check case and hand computation."""

from __future__ import annotations

import math

import pytest

from packet.assembly.records import LeafKind
from packet.boards.marks import (
    bottom_trim,
    check_diagonals,
    edge_stations,
    named_edges,
    size_of,
    tip_trims,
)
from packet.boards.records import Board, Cut, CutKind, Stock
from packet.units import parse_length
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

INCH = 25.4
PLANS = {**{path.stem: (lambda path=path: plan_of(path)) for path in (*SAMPLES, CHECK_CASE)},
         **{name: (lambda name=name: zoo_plan(name)) for name in (*zoo(), *plain_zoo(), *releasable_zoo())}}


def inches(values: tuple[float, ...]) -> list[float]:
    return [round(value / INCH, 6) for value in values]


def board_of(*cuts: tuple[CutKind, tuple[float, float], tuple[float, float]], kerf: float = 0.0) -> Board:
    numbered = tuple(Cut(i, kind, a, b) for i, (kind, a, b) in enumerate(cuts, 1))
    return Board("1", Stock(2400, 1200, 30, kerf), (), numbered, (), ())


def test_stations_of_the_check_case() -> None:
    """Check case: roof board nodes at 0, 24, 48, 72, 96; wall board 24, 48, 72 (common practice, no source)."""
    boards = plan_of(CHECK_CASE).boards
    for board in boards[:4]:
        stations = edge_stations(board)
        assert inches(stations.bottom) == inches(stations.top) == [0, 24, 48, 72, 96]
        assert inches(stations.left) == inches(stations.right) == [0, 48]


def test_a_line_is_measured_at_the_end_it_reaches() -> None:
    stations = edge_stations(board_of(
        (CutKind.ACROSS, (1000, 0), (1000, 1200)), (CutKind.ALONG, (0, 400), (1000, 400)),
        (CutKind.ALONG, (1000, 500), (2400, 500)), (CutKind.ALONG, (1300, 700), (2300, 700))))
    assert stations.left == (0, 400, 1200)
    assert stations.right == (0, 500, 700, 1200)
    assert stations.bottom == (0, 1000, 1300, 2300, 2400)


def test_a_line_along_the_whole_board_is_measured_at_both_ends() -> None:
    stations = edge_stations(board_of((CutKind.ALONG, (0, 400), (2400, 400))))
    assert stations.left == stations.right == (0, 400, 1200)


def test_trims_are_no_stations() -> None:
    stations = edge_stations(board_of((CutKind.TIP, (300, 75), (329, 75)), (CutKind.DOOR, (0, 20), (440, 20))))
    assert stations.bottom == (0, 2400) and stations.left == (0, 1200)


def test_a_diagonal_beyond_a_saw_cut_adds_no_station() -> None:
    cuts = ((CutKind.ACROSS, (600, 0), (600, 1200)), (CutKind.DIAGONAL, (603, 0), (1203, 1200)))
    assert edge_stations(board_of(*cuts, kerf=3.0)).bottom == (0, 600, 1203, 2400)
    assert edge_stations(board_of(*cuts)).bottom == (0, 600, 603, 1203, 2400)


@pytest.mark.parametrize("name", PLANS)
def test_every_end_of_a_cut_has_its_station(name: str) -> None:
    for board in PLANS[name]().boards:
        stations = edge_stations(board)
        near = board.stock.kerf + 0.02
        for cut in board.cuts:
            if cut.kind in (CutKind.TIP, CutKind.DOOR):
                continue
            for x, _ in (cut.a, cut.b):
                assert min(abs(x - s) for s in stations.bottom) <= near
            if cut.kind is CutKind.ALONG:
                assert min(abs(cut.a[1] - s) for s in (*stations.left, *stations.right)) < 0.02


def test_tip_trims_of_the_check_case() -> None:
    """Check case: trim 2.5 along the mid edge, short edge 1.25; so the lines lie 2.5 from either long edge."""
    plan = plan_of(CHECK_CASE)
    assert [tip_trims(plan.assembly, board) for board in plan.boards[:3]] == [None, None, None]
    trims = tip_trims(plan.assembly, plan.boards[3])
    assert trims is not None
    assert (trims.first, trims.last) == (8, 15)
    assert trims.along_mid / INCH == pytest.approx(2.5)
    assert trims.short_edge / INCH == pytest.approx(1.25)
    assert inches(trims.up) == [2.5, 45.5] and trims.along == ()


@pytest.mark.parametrize("name", PLANS)
def test_tip_trims_follow_the_geometry(name: str) -> None:
    plan = PLANS[name]()
    for board in plan.boards:
        trims = tip_trims(plan.assembly, board)
        if trims:
            assert trims.along_mid == pytest.approx(plan.description.shape.tip_trim)
            # Similar triangles: short edge to trim as leaf width to slant.
            assert trims.short_edge / trims.along_mid == pytest.approx(
                plan.geometry.leaf_width / plan.geometry.slant)
            assert [c.number for c in board.cuts if c.kind is CutKind.TIP] == list(
                range(trims.first, trims.last + 1))


def test_check_diagonals() -> None:
    """Check case: leaf 53.67, board 107.33; a wall leaf 22 x 60 has sqrt(22^2 + 60^2) = 63.91."""
    check = plan_of(CHECK_CASE)
    for board, kind in ((check.boards[0], LeafKind.WALL), (check.boards[3], LeafKind.ROOF)):
        found = check_diagonals(check.assembly, board)
        assert [(c.kind, c.leaves) for c in found.leaves] == [(kind, tuple(p.leaf for p in board.pieces))]
        assert found.leaves[0].length / INCH == pytest.approx(53.666, abs=1e-3)
        assert found.board / INCH == pytest.approx(107.331, abs=1e-3)
    frost = plan_of(next(path for path in SAMPLES if path.stem == "frost_watch"))
    both = check_diagonals(frost.assembly, frost.boards[0])
    assert [c.kind for c in both.leaves] == [LeafKind.WALL, LeafKind.ROOF]
    assert [c.length / INCH for c in both.leaves] == pytest.approx([math.hypot(22, 60), math.hypot(22, 46)])


def test_bottom_trim() -> None:
    plan = plan_of(CHECK_CASE)
    assert [round(bottom_trim(door) / INCH, 6) for door in plan.assembly.doors] == [1, 1]


@pytest.mark.parametrize("name", PLANS)
def test_named_edges_are_those_of_the_leaf(name: str) -> None:
    """Lengths do not change on the board, and every leaf keeps its mid edge at right angles to eave or sill."""
    plan = PLANS[name]()
    for board in plan.boards:
        for piece in board.pieces:
            leaf = plan.parts.by_mark[piece.leaf]
            edges = named_edges(piece, leaf)
            for name, edge in edges.items():
                assert leaf.door or math.dist(*edge) == pytest.approx(math.dist(*leaf.edge(name)))
            if plan.ring is None:
                continue
            foot = "sill" if "sill" in edges else "eave"
            assert math.dist(*edges[foot]) == pytest.approx(plan.geometry.leaf_width)
            (ax, ay), (bx, by) = edges["mid"]
            (cx, cy), (dx, dy) = edges[foot]
            assert (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) == pytest.approx(0.0, abs=1e-3)
            assert {edges["mid"][0], edges["mid"][1]} & {edges[foot][0], edges[foot][1]}


def test_size_of() -> None:
    assert size_of(((10, 5), (40, 5), (40, 125), (10, 125))) == (30, 120)


def test_what_is_left_over_by_rounding_never_accumulates() -> None:
    """Leaves of 20.03 in side by side: every station is printed within half a sixteenth of its exact distance, where
    sizes rounded one by one and added up would be off by 4 x 0.03 in = 0.12 in at the end of the fourth."""
    plan = plan_of(CHECK_CASE)
    form = plan.form
    exact = [number * 20.03 * INCH for number in range(1, 5)]
    printed = [parse_length(form.length(mm), form.system) for mm in exact]
    assert max(abs(a - b) for a, b in zip(exact, printed, strict=True)) <= INCH / 32 + 1e-9
    assert abs(4 * printed[0] - exact[3]) > INCH / 16
