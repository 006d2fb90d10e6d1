"""Check a layout: every leaf once, with its own hand, inside its board, over nobody else."""

from __future__ import annotations

import math

from packet.assembly.records import Assembly, Point, polygon_area
from packet.assembly.splicing import parts_of
from packet.boards.records import Board

SAME = 1e-3
"""mm"""


def layout_faults(assembly: Assembly, boards: tuple[Board, ...], quantity: int = 1) -> tuple[str, ...]:
    """Every fault in plain words; empty when the layout of so many shelters is right."""
    faults: list[str] = []
    placed: dict[str, int] = {}
    for board in boards:
        for piece in board.pieces:
            placed[piece.mark] = placed.get(piece.mark, 0) + 1
            leaf = assembly.by_mark.get(piece.leaf)
            if leaf is None:
                faults.append(f"board {board.mark}: there is no leaf {piece.leaf}")
            elif not congruent(leaf.outline, piece.outline):
                mirrored = tuple((-x, y) for x, y in reversed(leaf.outline))
                wrong = "of the wrong hand" if congruent(mirrored, piece.outline) else "of another shape"
                faults.append(f"board {board.mark}: {piece.mark} is {wrong}")
        faults += _overlaps(board)
    wanted = [f"{copy}-{leaf.mark}" if quantity > 1 else leaf.mark
              for copy in range(1, quantity + 1) for leaf in assembly.leaves]
    faults += [f"{mark} is on {placed.get(mark, 0)} boards" for mark in wanted if placed.get(mark, 0) != 1]
    return tuple(faults)


def splice_faults(assembly: Assembly) -> tuple[str, ...]:
    """Every spliced leaf whose parts do not make it up, side by side and whole."""
    from shapely import Polygon, unary_union

    faults = []
    for leaf in assembly.leaves:
        if not leaf.splices:
            continue
        parts = parts_of(leaf)
        whole, shapes = Polygon(leaf.hinged), [Polygon(part.hinged) for part in parts]
        over = sum(shape.area for shape in shapes) - whole.area
        if abs(over) > 1.0 or unary_union(shapes).symmetric_difference(whole).area > 1.0:
            faults.append(f"the parts {', '.join(part.mark for part in parts)} do not make up leaf {leaf.mark}")
    return tuple(faults)


def congruent(a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    """Whether b is a, turned and shifted but not mirrored, point for point from some start."""
    if len(a) != len(b) or abs(polygon_area(a) - polygon_area(b)) > SAME * 1000:
        return False
    shape = _shape(a)
    other = _shape(b)
    return any(
        all(math.isclose(p, q, abs_tol=SAME) for s, o in zip(shape, other[k:] + other[:k], strict=True)
            for p, q in zip(s, o, strict=True))
        for k in range(len(b))
    )


def _shape(points: tuple[Point, ...]) -> list[tuple[float, float, float]]:
    """Side lengths and the along and across parts of the next side: the same for any turn and shift."""
    found = []
    for i, p in enumerate(points):
        q, r = points[(i + 1) % len(points)], points[(i + 2) % len(points)]
        length = math.dist(p, q)
        ux, uy = (q[0] - p[0]) / length, (q[1] - p[1]) / length
        vx, vy = r[0] - q[0], r[1] - q[1]
        found.append((length, ux * vx + uy * vy, ux * vy - uy * vx))
    return found


def _overlaps(board: Board) -> list[str]:
    from shapely import Polygon, box

    shapes = [(piece.mark, Polygon(piece.outline)) for piece in board.pieces]
    shapes += [("the held part", Polygon(outline)) for outline in board.held]
    sheet = box(0, 0, board.stock.length, board.stock.breadth).buffer(SAME)
    faults = [f"board {board.mark}: {name} reaches over the edge" for name, shape in shapes
              if not sheet.contains(shape)]
    for i, (name, shape) in enumerate(shapes):
        faults += [f"board {board.mark}: {name} and {other} overlap" for other, second in shapes[i + 1:]
                   if shape.intersection(second, grid_size=SAME).area > 1.0]
    return faults
