"""Check: does the open shelter close? Every seam's two edges must be one line in space."""

from __future__ import annotations

import math
from dataclasses import dataclass

from packet.assembly.records import Assembly

CLOSES_WITHIN = 0.01
"""mm; far below what a knife can do, far above rounding in float64."""


@dataclass(frozen=True, slots=True)
class Closure:
    """Largest distance between the two edges of any seam in the open state, mm, and where."""

    residual: float
    worst_seam: str

    @property
    def closes(self) -> bool:
        return self.residual <= CLOSES_WITHIN


def closure(assembly: Assembly) -> Closure:
    """Measure every seam on its closing face, where the pivot lies."""
    worst = Closure(0.0, "")
    for seam in assembly.seams:
        a, b = (assembly.by_mark[mark] for mark in seam.leaves)
        residual = max(
            math.dist(a.open_pose.place(p, a.depth(seam.closing_face)),
                      b.open_pose.place(q, b.depth(seam.closing_face)))
            for p, q in zip(seam.edge_a, seam.edge_b, strict=True)
        )
        if residual > worst.residual or not worst.worst_seam:
            worst = Closure(residual, seam.mark)
    return worst
