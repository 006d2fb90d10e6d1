"""The layout check finds what a crew would find too late."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from packet.assembly.records import Point, polygon_area
from packet.boards.check import layout_faults
from packet.boards.records import Board, Piece
from packet.description.loading import describe
from packet.description.reading import read_text
from packet.plan import make_plan
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import SCREEN, plain_zoo, releasable_zoo, zoo, zoo_plan


def mirrored(points: tuple[Point, ...], axis: float) -> tuple[Point, ...]:
    return tuple((2 * axis - x, y) for x, y in reversed(points))


def changed(pieces: dict[str, Piece]) -> tuple[Board, ...]:
    return tuple(
        replace(board, pieces=tuple(pieces.get(p.leaf, p) for p in board.pieces))
        for board in plan_of(CHECK_CASE).boards)


def test_parallel_diagonals_are_refused() -> None:
    """Parallel instead of zigzag diagonals give eight leaves of one hand."""
    plan = plan_of(CHECK_CASE)
    board = plan.boards[3]
    right = [p for p in board.pieces if plan.assembly.by_mark[p.leaf].hand == "mid right"]
    parallel = {}
    for piece in right:
        xs = [x for x, _ in piece.rough]
        axis = (min(xs) + max(xs)) / 2
        parallel[piece.leaf] = replace(piece, outline=mirrored(piece.outline, axis), rough=mirrored(piece.rough, axis))
    faults = layout_faults(plan.assembly, changed(parallel))
    assert len(parallel) == 4
    assert faults == tuple(f"board 4: {p.leaf} is of the wrong hand" for p in right)


def test_a_leaf_left_out_twice_cut_or_misplaced_is_found() -> None:
    plan = plan_of(CHECK_CASE)
    first = plan.boards[0]
    gone = replace(first, pieces=first.pieces[1:])
    assert layout_faults(plan.assembly, (gone, *plan.boards[1:])) == (f"{first.pieces[0].leaf} is on 0 boards",)
    over = replace(first.pieces[0], outline=tuple((x + 5, y) for x, y in first.pieces[0].outline))
    faults = layout_faults(plan.assembly, changed({over.leaf: over}))
    assert faults == (f"board 1: {over.leaf} and {first.pieces[1].leaf} overlap",)
    out = replace(over, outline=tuple((x - 5, y) for x, y in first.pieces[0].outline))
    assert layout_faults(plan.assembly, changed({out.leaf: out})) == (f"board 1: {out.leaf} reaches over the edge",)


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo(), *releasable_zoo()])
def test_pieces_offcuts_and_what_is_held_make_up_the_board(name: str) -> None:
    for board in zoo_plan(name).boards:
        parts = [*(piece.rough for piece in board.pieces), *board.held, *board.offcuts]
        assert sum(abs(polygon_area(part)) for part in parts) == pytest.approx(board.stock.area)


@pytest.mark.parametrize(("width", "ripped"), [(1199, True), (1200, False)])
def test_a_millimetre_too_much_is_cut_off(width: int, ripped: bool) -> None:
    """The print step of a metric packet: boards of 1200 x 2400 are cut across at 1800, and along where the leaf is less."""
    text = SCREEN.replace("leaves: 6, leaf_width: 500", f"leaves: 2, leaf_width: {width}")
    for board in make_plan(describe(read_text(text, Path("screen.yaml")))).boards:
        assert sorted(cut.length for cut in board.cuts) == pytest.approx([1200.0, *([1800.0] if ripped else [])])
        assert len(board.offcuts) == 1 + ripped


def test_cuts_in_a_row_are_one_cut() -> None:
    """Six leaves of 500 x 700 lie two by three on a board: cut across at 700, 1400 and 2100, and along it at 500 and 1000
    in one go, from its end to the last leaf's."""
    text = SCREEN.replace("height: 1800", "height: 700")
    (board,) = make_plan(describe(read_text(text, Path("screen.yaml")))).boards
    found = {(cut.a, cut.b) for cut in board.cuts}
    across = {((x, 0.0), (x, 1200.0)) for x in (700.0, 1400.0, 2100.0)}
    along = {((0.0, y), (2100.0, y)) for y in (500.0, 1000.0)}
    assert found == across | along
    assert len(board.cuts) == 5
