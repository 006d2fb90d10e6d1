"""Tasks before any tape: the lead's briefing, receiving, marking, cutting, sorting (stations L, P, C)."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from packet.assembly.records import Leaf, LeafKind, polygon_area
from packet.assembly.splicing import parts_of
from packet.boards.alike import Alike, numbers
from packet.boards.delivered import smallest
from packet.boards.records import Board, CutKind
from packet.plan import Plan
from packet.work.sheet_numbers import board_sheet, sheet_number
from packet.work.stations import Station
from packet.work.task import Task

LeafType = tuple[LeafKind, str, float, float]


def bench_tasks(plan: Plan) -> Iterator[Task]:
    """From the briefing to sorted leaves, in the order the work is meant."""
    yield from _before(plan)
    yield from _boards(plan)
    yield _keep(plan)
    for half in plan.assembly.halves:
        yield _sort(plan, half)


def cut_keys(plan: Plan, leaves: tuple[str, ...] | None = None) -> tuple[str, ...]:
    """Keys of the cutting tasks of the boards that hold these leaves, or of all boards."""
    return tuple(f"cut:{run.first.mark}" for run in plan.runs
                 if leaves is None or any(plan.owners[piece.leaf] in leaves for piece in run.first.pieces))


def _before(plan: Plan) -> Iterator[Task]:
    least = [(each, smallest(plan.description.boards, each.size)) for each in plan.supply.sizes]
    trim = 2 * plan.description.boards.edge_trim
    yield Task("brief", Station.L, (), (sheet_number("cautions"),), ())
    yield Task("print_check", Station.L, (), (sheet_number("cover", 2),), ("brief",))
    yield Task("materials", Station.P, (), (sheet_number("order"),), ("brief",),
               {"boards": len(plan.boards), "spare": plan.description.boards.spare,
                "sizes": tuple((plan.form.size(each.breadth, each.length), each.cut) for each in plan.supply.sizes)})
    yield Task("receive", Station.P, (), (sheet_number("receiving"),), ("materials", "print_check"), hold=True,
               values={"sizes": tuple((each.breadth, each.length, breadth + trim, length + trim)
                                  for each, (length, breadth) in least)})


def _boards(plan: Plan) -> Iterator[Task]:
    """Mark and cut; whatever type a board brings first is measured before the next board is marked."""
    firsts = _firsts(plan)
    gates: tuple[str, ...] = ("receive",)
    batch: list[Alike] = []
    done: list[str] = []
    runs = plan.runs
    for run in runs:
        board = run.first
        batch.append(run)
        if board.mark not in firsts and run is not runs[-1]:
            continue
        yield from (_mark(plan, waiting, gates) for waiting in batch)
        for waiting in batch:
            # A board with a part to hold is cut last: that part makes good the miscuts of the others.
            yield _cut(plan, waiting, tuple(done) if waiting.first.held else ())
            done.append(f"cut:{waiting.first.mark}")
        if board.mark in firsts:
            yield _first_pieces(plan, run, firsts[board.mark])
            gates = (*gates, f"first_pieces:{board.mark}")
        batch = []


def _firsts(plan: Plan) -> dict[str, tuple[Leaf, ...]]:
    """The first leaf of each type, by the mark of the board it is cut from."""
    known: set[LeafType] = set()
    found: dict[str, tuple[Leaf, ...]] = {}
    for board in plan.boards:
        for piece in board.pieces:
            leaf = plan.cut.by_mark[piece.leaf]
            if _type(leaf) not in known:
                known.add(_type(leaf))
                found[board.mark] = (*found.get(board.mark, ()), leaf)
    return found


def _type(leaf: Leaf) -> LeafType:
    """What a wrong first piece would be repeated in: hand of a roof leaf, size; other leaves are cut alike."""
    length, breadth = (round(side, 3) for side in _extent(leaf))
    return leaf.kind, str(leaf.hand) if leaf.kind is LeafKind.ROOF else "", length, breadth


def _mark(plan: Plan, run: Alike, after: tuple[str, ...]) -> Task:
    board = run.first
    leaves = [plan.cut.by_mark[piece.leaf] for piece in board.pieces]
    diagonals: dict[str, float] = {}
    for type_, leaf in {_type(leaf): leaf for leaf in reversed(leaves)}.items():
        if leaf.kind is LeafKind.ROOF or _rectangular(leaf):
            diagonals.setdefault(_blank(plan, leaf), math.hypot(*type_[2:]))
    return Task(
        f"mark:{board.mark}", Station.C, _owners(plan, board), (board_sheet(run.number),), after,
        {"boards": run.marks, "count": len(run.boards), "lines": len(board.cuts), "diagonals": tuple(diagonals.items()),
         "board_diagonal": math.hypot(board.stock.length, board.stock.breadth)})


def _blank(plan: Plan, leaf: Leaf) -> str:
    """What a blank is called: by its kind where a kind has one size, else by its leaf."""
    sizes = {_type(other)[2:] for other in plan.cut.of_kind(leaf.kind)}
    return str(leaf.kind) if len(sizes) == 1 else leaf.mark


def _owners(plan: Plan, board: Board) -> tuple[str, ...]:
    """The leaves that a board gives or gives a part of."""
    return tuple(dict.fromkeys(plan.owners[piece.leaf] for piece in board.pieces))


def _cut(plan: Plan, run: Alike, after: tuple[str, ...]) -> Task:
    board = run.first
    now = tuple(cut.number for cut in board.cuts if cut.kind is not CutKind.DOOR)
    later = tuple(cut.number for cut in board.cuts if cut.kind is CutKind.DOOR)
    return Task(
        f"cut:{board.mark}", Station.C, _owners(plan, board), (board_sheet(run.number),),
        (f"mark:{board.mark}", *after), {"boards": run.marks, "count": len(run.boards), "now": now, "later": later},
        cuts=tuple((each.mark, number) for each in run.boards for number in now))


def _first_pieces(plan: Plan, run: Alike, leaves: tuple[Leaf, ...]) -> Task:
    board = run.first
    return Task(
        f"first_pieces:{board.mark}", Station.C, tuple(dict.fromkeys(plan.owners[leaf.mark] for leaf in leaves)),
        (board_sheet(run.number),), (f"cut:{board.mark}",),
        {"board": board.mark, "some": tuple(leaf.mark for leaf in leaves), "pieces": tuple(_sizes(leaf) for leaf in leaves)},
        hold=True)


def _sizes(leaf: Leaf) -> dict[str, Any]:
    """What is measured on a leaf as it leaves the cutting table, mm: `form` says which sizes are given."""
    if leaf.kind is LeafKind.ROOF and {"eave", "mid", "hip", "tip"} <= set(leaf.edges):
        edges = {name: math.dist(*leaf.edge(name)) for name in leaf.edges}
        return {"mark": leaf.mark, "form": "roof", "hand": str(leaf.hand), **edges}
    width, height = _extent(leaf)
    if _rectangular(leaf):
        return {"mark": leaf.mark, "form": "rectangle", "width": width, "height": height,
                "diagonal": math.hypot(width, height)}
    return {"mark": leaf.mark, "form": "listed",
            "edges": tuple((name, math.dist(*leaf.edge(name))) for name in leaf.edges)}


def _rectangular(leaf: Leaf) -> bool:
    width, height = _extent(leaf)
    return abs(abs(polygon_area(leaf.rough)) - width * height) < 1.0  # mm2


def _extent(leaf: Leaf) -> tuple[float, float]:
    """Breadth and height of a leaf before its trims, mm."""
    xs, ys = [p[0] for p in leaf.rough], [p[1] for p in leaf.rough]
    return max(xs) - min(xs), max(ys) - min(ys)


def _keep(plan: Plan) -> Task:
    held: list[dict[str, Any]] = []
    sheets = numbers(plan.runs)
    for board in plan.boards:
        for outline in board.held:
            xs, ys = [p[0] for p in outline], [p[1] for p in outline]
            held.append({"board": board.mark, "length": max(xs) - min(xs), "breadth": max(ys) - min(ys)})
    return Task("keep", Station.C, (), tuple(board_sheet(sheets[part["board"]]) for part in held),
                (*cut_keys(plan), *(f"first_pieces:{mark}" for mark in _firsts(plan))),
                {"held": tuple(held)})


def _sort(plan: Plan, half: str) -> Task:
    leaves = [leaf for leaf in plan.assembly.leaves if leaf.half == half]
    marks = tuple(leaf.mark for leaf in leaves)
    roofs = [leaf for leaf in leaves if leaf.kind is LeafKind.ROOF]
    hands = tuple((str(hand), tuple(leaf.mark for leaf in roofs if leaf.hand is hand))
                  for hand in dict.fromkeys(leaf.hand for leaf in roofs))
    return Task(
        f"sort:{half}", Station.C, marks, (sheet_number("arrangement"), sheet_number("halves")),
        (*cut_keys(plan, marks), "keep"),
        {"half": half, "walls": len(leaves) - len(roofs), "roofs": len(roofs), "hands": hands,
         "pieces": sum(len(parts_of(leaf)) for leaf in leaves) if any(leaf.splices for leaf in leaves) else 0})
