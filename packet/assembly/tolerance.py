"""What marking and cutting errors do to the erected shelter.

Every straight cut may miss its line at either end. Such errors move the corners of a leaf; the leaves then
settle as well as they can, and what is left between their edges is the closure gap. To first order the leaves'
motions are the columns of the constraint Jacobian J, the misfit of the edges is E p for end errors p, and the
gap is the part of E p that no motion takes up: (I - J J+) E p. From this linear map follow the worst case
(sum of absolute values), the root sum of squares, and a seeded Monte Carlo that must agree with the latter
(linear tolerance stack-up; textbook method).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from packet.assembly.records import Assembly, Leaf, Point, Point3

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

SAMPLES = 4000
SEED = 20
SHARE_OF_DEVIATION = 3.0
"""A tolerance stands for three standard deviations of a normal error."""


@dataclass(frozen=True, slots=True)
class ClosureGap:
    """Gap at the seam that fares worst, mm: if every error adds up, by root sum of squares, by Monte Carlo."""

    seam: str
    worst_case: float
    root_sum_square: float
    monte_carlo: float


@dataclass(frozen=True, slots=True)
class Remaining:
    """Gap per mm of each end error: `gap[2 seams, 2 directions, errors]`, mm per mm, seam ends in order.

    A leaf's errors start at its `first_error`: 2 k and 2 k + 1 are the start and end of its edge k, outward.
    """

    gap: Array
    first_error: dict[str, int]


def closure_gap(assembly: Assembly, mark: float, cut: float) -> ClosureGap:
    """The closure gap for tolerances of marking and cutting at every end of every edge (mm, plus or minus).

    Gaps are measured square to the seam at its ends, in the shell with its swing leaves shut; along the seam
    leaves may be shifted while they are taped, so an edge that is too long is no gap. The worst case bounds
    each of the two directions square to the seam and adds them as a right angle.
    """
    import numpy as np

    left = remaining(assembly)
    gap = left.gap
    worst = np.hypot(*(np.abs(gap[:, i]).sum(axis=1) for i in (0, 1))) * (mark + cut)
    square = np.sqrt((gap**2).sum(axis=(1, 2))) * math.hypot(mark, cut)
    at = int(np.argmax(square))
    dice = np.random.default_rng(SEED)
    misses = (dice.normal(0, mark / SHARE_OF_DEVIATION, (SAMPLES, gap.shape[2]))
              + dice.normal(0, cut / SHARE_OF_DEVIATION, (SAMPLES, gap.shape[2])))
    drawn = misses @ gap[at].T
    monte_carlo = SHARE_OF_DEVIATION * float(np.sqrt((drawn**2).sum(axis=1).mean()))
    return ClosureGap(assembly.seams[at // 2].mark, float(worst.max()), float(square[at]), monte_carlo)


@lru_cache(maxsize=4)
def remaining(assembly: Assembly) -> Remaining:
    """What no motion of the leaves takes up: (I - J J+) E."""
    import numpy as np

    jacobian, errors, first_error = _system(assembly)
    u, values, _ = np.linalg.svd(jacobian, full_matrices=False)
    kept = u[:, values > 1e-9 * values[0]] if values.size else u
    left = errors - kept @ (kept.T @ errors)
    # Two rows are the two directions square to a seam at one of its ends.
    return Remaining(left.reshape(-1, 2, left.shape[1]), first_error)


def _system(assembly: Assembly) -> tuple[Array, Array, dict[str, int]]:
    """Motions to misfits, shape (4 seams, 6 leaves), end errors to misfits, shape (4 seams, 2 edges), and the
    column at which each leaf's errors start."""
    import numpy as np

    leaf_at = {leaf.mark: 6 * i for i, leaf in enumerate(assembly.leaves)}
    first_error: dict[str, int] = {}
    count = 0
    for leaf in assembly.leaves:
        first_error[leaf.mark] = count
        count += 2 * len(leaf.hinged)
    size = max(abs(c) for leaf in assembly.leaves for p in leaf.hinged for c in leaf.open_pose.place(p))
    rows = np.zeros((4 * len(assembly.seams), 6 * len(assembly.leaves)))
    errors = np.zeros((4 * len(assembly.seams), count))
    for number, seam in enumerate(assembly.seams):
        first = assembly.by_mark[seam.leaves[0]]
        ends = [first.open_pose.place(p, first.depth(seam.closing_face)) for p in seam.edge_a]
        square = _square_to(ends[0], ends[1], first)
        for end in (0, 1):
            row = 4 * number + 2 * end
            at = np.array(ends[end]) / size
            turn = np.array([[0.0, at[2], -at[1]], [-at[2], 0.0, at[0]], [at[1], -at[0], 0.0]])
            block = square @ np.hstack([np.eye(3), turn])
            for mark, edge, sign in zip(seam.leaves, (seam.edge_a, seam.edge_b), (1.0, -1.0), strict=True):
                leaf = assembly.by_mark[mark]
                rows[row:row + 2, leaf_at[mark]:leaf_at[mark] + 6] = sign * block
                for column, shift in _corner_shifts(leaf, edge[end]):
                    errors[row:row + 2, first_error[mark] + column] += sign * (square @ shift)
    return rows, errors, first_error


def _square_to(a: Point3, b: Point3, leaf: Leaf) -> Array:
    """Two unit directions square to the seam, shape (2, 3): in the first leaf's face, and out of it."""
    import numpy as np

    along = np.array(b) - np.array(a)
    along = along / np.linalg.norm(along)
    out = np.array(leaf.open_pose.z)
    return np.array([np.cross(along, out), out])


def _corner_shifts(leaf: Leaf, corner: Point) -> list[tuple[int, Array]]:
    """How a corner moves in space per mm of error at the ends of the two edges that meet there.

    Errors are counted 2 k and 2 k + 1 for the start and end of edge k, outward. A corner is where two edges
    cross, so it moves by the vector whose part along either edge's outward normal is that edge's error.
    """
    import numpy as np

    points = leaf.hinged
    index = min(range(len(points)), key=lambda i: math.dist(points[i], corner))
    before, at, after = points[index - 1], points[index], points[(index + 1) % len(points)]
    normals = np.array([_outward(before, at), _outward(at, after)])
    move = np.linalg.inv(normals)
    axes = np.array([leaf.open_pose.x, leaf.open_pose.y])
    edge_before = (index - 1) % len(points)
    return [(2 * edge_before + 1, move[:, 0] @ axes), (2 * index, move[:, 1] @ axes)]


def _outward(a: Point, b: Point) -> tuple[float, float]:
    length = math.dist(a, b)
    return ((b[1] - a[1]) / length, -(b[0] - a[0]) / length)
