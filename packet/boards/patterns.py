"""The fewest boards, exactly: an integer program over cutting patterns.

Boards are cut in two stages, as people with a straight edge do: full-breadth cuts into sections, then each
section over the breadth into blanks. A section pattern says which blanks lie side by side in a section; a
board pattern says which sections lie one after the other on a board. With every maximal pattern of both kinds
listed, the fewest boards are

    min sum x_p   with, for each section length, sections on boards >= section patterns used,
                  and, for each blank size, blanks in section patterns >= blanks asked

(the cutting-stock formulation of Gilmore and Gomory, in two stages). Lengths in mm. Solved by HiGHS through
scipy; the bound of the solver is the proof.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

SLACK = 1e-6
"""mm"""

MOST_PATTERNS = 60_000
"""More than this are not listed; the heuristic's answer then stands without proof."""


@dataclass(frozen=True, slots=True)
class Demand:
    """So many blanks of `width` by `height` (mm) are asked for."""

    width: float
    height: float
    count: int


@dataclass(frozen=True, slots=True)
class Oriented:
    """A blank size laid one way: `along` the length of the board, `across` its breadth."""

    size: int
    lying: bool
    along: float
    across: float


Sections = tuple[tuple[Oriented, ...], ...]
"""Sections of one board, each as the oriented blanks that lie side by side in it."""


def section_length(section: tuple[Oriented, ...]) -> float:
    """mm of the board's length that a section takes."""
    return max(way.along for way in section)


@dataclass(frozen=True, slots=True)
class Cutting:
    """Boards as sections, and the number of boards that cannot be undercut."""

    boards: tuple[Sections, ...]
    bound: int


def fewest_boards(demands: tuple[Demand, ...], length: float, breadth: float, kerf: float, seconds: float
                  ) -> Cutting | None:
    """The fewest boards for these blanks, then the least section length; None where patterns are too many.

    Within `seconds` of solving; a bound below the boards found says that time ran out before the proof.
    """
    sections = section_patterns(demands, length, breadth, kerf)
    lengths = sorted({section_length(pattern) for pattern in sections}, reverse=True)
    boards = first_of(multisets(lengths, length, kerf), MOST_PATTERNS)
    if boards is None or len(sections) > MOST_PATTERNS:
        return None
    return _solve(demands, sections, boards, lengths, seconds)


def section_patterns(demands: tuple[Demand, ...], length: float, breadth: float, kerf: float
                     ) -> tuple[tuple[Oriented, ...], ...]:
    """Every way to fill the breadth that leaves no room for one more of the blanks that fit the section."""
    ways = [Oriented(i, lying, along, across) for i, d in enumerate(demands)
            for lying, along, across in ((False, d.width, d.height), (True, d.height, d.width))
            if along <= length + SLACK and across <= breadth + SLACK]
    found: dict[tuple[Oriented, ...], None] = {}
    for section in sorted({way.along for way in ways}):
        fitting = sorted((w for w in ways if w.along <= section + SLACK), key=lambda w: (-w.across, w.size, w.lying))
        for picked in multisets([w.across for w in fitting], breadth, kerf):
            pattern = tuple(fitting[i] for i in picked)
            if section_length(pattern) >= section - SLACK:
                found[pattern] = None
            if len(found) > MOST_PATTERNS:
                return tuple(found)
    return tuple(found)


def multisets(sizes: list[float], room: float, kerf: float, start: int = 0) -> Iterator[tuple[int, ...]]:
    """Maximal multisets of sizes that fit the room with a kerf between neighbours, as indices in order."""
    smallest = min(sizes, default=math.inf)
    for i in range(start, len(sizes)):
        if sizes[i] > room + SLACK:
            continue
        rest = room - sizes[i] - kerf
        if smallest > rest + SLACK:
            yield (i,)
        else:
            deeper = False
            for tail in multisets(sizes, rest, kerf, i):
                deeper = True
                yield (i, *tail)
            if not deeper:
                yield (i,)


def first_of(items: Iterator[tuple[int, ...]], most: int) -> list[tuple[int, ...]] | None:
    found = []
    for item in items:
        found.append(item)
        if len(found) > most:
            return None
    return found


def _solve(demands: tuple[Demand, ...], sections: tuple[tuple[Oriented, ...], ...], boards: list[tuple[int, ...]],
           lengths: list[float], seconds: float) -> Cutting | None:
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    count_x, count_y = len(boards), len(sections)
    rows: list[tuple[int, int, float]] = []
    for p, board in enumerate(boards):
        rows += [(k, p, float(board.count(k))) for k in set(board)]
    for q, section in enumerate(sections):
        k = lengths.index(section_length(section))
        rows.append((k, count_x + q, -1.0))
        for size in {o.size for o in section}:
            rows.append((len(lengths) + size, count_x + q, float(sum(o.size == size for o in section))))
    at, column, value = zip(*rows, strict=True)
    # The solver's interface wants 32-bit indices; some scipy versions do not convert them.
    place = (np.array(at, dtype=np.int32), np.array(column, dtype=np.int32))
    matrix = csr_array((value, place), shape=(len(lengths) + len(demands), count_x + count_y))
    least = np.concatenate([np.zeros(len(lengths)), [d.count for d in demands]])
    # Boards count; section length only breaks ties, so all of it together weighs less than one board.
    used = np.array([section_length(section) for section in sections])
    tie = 0.5 / (used.max() * (sum(d.count for d in demands) + 1))
    cost = np.concatenate([np.ones(count_x), tie * used])
    result = milp(cost, constraints=LinearConstraint(matrix, least, np.inf), integrality=np.ones(count_x + count_y),
                  bounds=Bounds(0, sum(d.count for d in demands)), options={"time_limit": seconds})
    if result.x is None:
        return None
    chosen = np.round(result.x).astype(int)
    bound = math.ceil(result.mip_dual_bound - 0.5 - SLACK)
    wanted = [d.count for d in demands]
    return Cutting(filled(wanted, sections, boards, lengths, chosen[:count_x].tolist(), chosen[count_x:].tolist()), bound)


def filled(wanted: list[int], sections: tuple[tuple[Oriented, ...], ...], boards: list[tuple[int, ...]],
           lengths: list[float], times_x: list[int], times_y: list[int]) -> tuple[Sections, ...]:
    """Boards with real sections in them; `wanted` (blanks of each size still asked) is counted down, and blanks
    beyond it are left out again."""
    waiting: dict[int, list[tuple[Oriented, ...]]] = {}
    for pattern, times in zip(sections, times_y, strict=True):
        for _ in range(times):
            taken = []
            for way in pattern:
                if wanted[way.size]:
                    wanted[way.size] -= 1
                    taken.append(way)
            if taken:
                waiting.setdefault(lengths.index(section_length(pattern)), []).append(tuple(taken))
    found = []
    for board, times in zip(boards, times_x, strict=True):
        for _ in range(times):
            content = [waiting[k].pop() for k in board if waiting.get(k)]
            if content:
                found.append(tuple(content))
    return tuple(found)
