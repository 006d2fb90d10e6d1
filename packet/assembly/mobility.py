"""Check: can the erected shell move? First-order mobility of rigid leaves on ideal hinges.

Each leaf has six velocities. A hinge makes the velocities of its two leaves agree along its axis, which lies
on the closing face, in the board's real thickness. The mobility is what is left: six times the leaves, less
the rank of all these constraints, less the six motions of the shelter as a whole (counting by the rank of the
constraint Jacobian, the standard test for overconstrained linkages).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from packet.assembly.records import Assembly, Point3

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NOTHING = 1e-7
"""Singular values below this share of the largest count as zero."""


@dataclass(frozen=True, slots=True)
class Mobility:
    """Independent first-order motions of the erected shell, by which swing leaves stand open.

    `closed`: every seam held. `one_open` and `both_open`: that many swing leaves free at corner and eave;
    their own swing counts as one motion each.
    """

    closed: int
    one_open: int
    both_open: int
    swing_leaves: int

    @property
    def more_when_open(self) -> int:
        """Motions beyond the swings themselves while all swing leaves are open."""
        return self.both_open - self.swing_leaves


def mobility(assembly: Assembly) -> Mobility:
    """Count the motions with no swing leaf open, one, and all of them."""
    doors = [door.mark for door in assembly.doors]
    return Mobility(
        closed=motions(assembly, ()),
        one_open=motions(assembly, doors[:1]),
        both_open=motions(assembly, doors),
        swing_leaves=len(doors),
    )


def motions(assembly: Assembly, open_leaves: Iterable[str]) -> int:
    """First-order motions of the erected shell; leaves not named in `open_leaves` are held at every seam."""
    import numpy as np

    values = np.linalg.svd(jacobian(assembly, open_leaves), compute_uv=False)
    rank = int((values > NOTHING * values[0]).sum())
    return 6 * len(assembly.leaves) - rank - 6


def jacobian(assembly: Assembly, open_leaves: Iterable[str]) -> NDArray[np.float64]:
    """Constraints on the stacked (velocity, angular velocity) of all leaves, shape (6 seams, 6 leaves).

    Each held seam gives the three velocity components at both ends of its axis; lengths are scaled by the
    shelter's size so that turning and shifting weigh alike.
    """
    import numpy as np

    free = set(open_leaves)
    held = [s for s in assembly.seams if s.bonded or not free.intersection(s.leaves)]
    place = {leaf.mark: 6 * i for i, leaf in enumerate(assembly.leaves)}
    size = max(abs(c) for leaf in assembly.leaves for p in leaf.hinged for c in leaf.open_pose.place(p))
    rows = np.zeros((6 * len(held), 6 * len(assembly.leaves)))
    for number, seam in enumerate(held):
        leaf = assembly.by_mark[seam.leaves[0]]
        for end, point in enumerate(seam.edge_a):
            at = leaf.open_pose.place(point, leaf.depth(seam.closing_face))
            block = np.hstack([np.eye(3), -_cross_matrix((at[0] / size, at[1] / size, at[2] / size))])
            row = 6 * number + 3 * end
            for mark, sign in zip(seam.leaves, (1.0, -1.0), strict=True):
                rows[row:row + 3, place[mark]:place[mark] + 6] = sign * block
    return rows


def _cross_matrix(p: Point3) -> NDArray[np.float64]:
    """The matrix of p x; a point at p of a body turning at w moves at v - p x w."""
    import numpy as np

    x, y, z = p
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
