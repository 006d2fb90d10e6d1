"""What was decided about spoiled parts. Decisions come from the ledger and are inputs of the plan like the project
file's own; each is applied after those before it. Lengths in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from enum import StrEnum
from typing import Any


class Remedy(StrEnum):
    """What can be done about a spoiled part, in the order in which it is tried."""

    USE = "use"
    SLOT = "slot"
    SPARE = "spare"
    BLANK = "blank"
    PACKER = "packer"
    PARTNER = "partner"
    ALL = "all"
    BOARD = "board"


def part_mark(leaf: str, copy: int) -> str:
    """What is written on a leaf of one shelter of an order; `copy` is its number, 0 where there is one shelter."""
    return f"{copy}-{leaf}" if copy else leaf


@dataclass(frozen=True, slots=True)
class RepairLimits:
    """What is still good: mm, and hours."""

    free_gap: float
    packer: float
    least_packer: float
    glue_hold: float


@dataclass(frozen=True, slots=True)
class Decision:
    """One answer that was taken.

    `leaf` is the spoiled part, `told` what was wrong, as it was asked. USE: as it is; `gap` as below where its own edge
    is free. SLOT: the piece becomes leaf `slot`, whose own blank becomes `leaf`; `gap` is what its free edge lacks.
    SPARE: the spare named `source` takes its place. BLANK, BOARD: cut new out of the blank or board marked `source`.
    PACKER: a strip `amount` wide is glued to `edge`. PARTNER, ALL: `amount` comes off `edge` of the leaves in `trimmed`.
    `keeps` is the mark under which the spoiled piece itself is kept as a spare, of the shape of leaf `shape`: one that was
    cut as the other hand. `copy` is the number of the shelter whose leaves these are, 0 where there is one.
    """

    number: int
    remedy: Remedy
    leaf: str
    told: str
    slot: str = ""
    gap: float = 0.0
    source: str = ""
    edge: str = ""
    amount: float = 0.0
    trimmed: tuple[str, ...] = ()
    keeps: str = ""
    shape: str = ""
    copy: int = 0

    @property
    def mark(self) -> str:
        """What is written on the spoiled leaf."""
        return part_mark(self.leaf, self.copy)

    @property
    def place(self) -> str:
        """What is written on the leaf `slot`; empty where there is none."""
        return part_mark(self.slot, self.copy) if self.slot else ""

    def payload(self) -> dict[str, Any]:
        """The record as plain data, for the ledger."""
        return {**asdict(self), "remedy": str(self.remedy), "trimmed": list(self.trimmed)}

    @staticmethod
    def of(payload: Mapping[str, Any]) -> Decision:
        """The record of such data; where its pages lie is no part of it. Raises ValueError, KeyError or TypeError
        where it is none."""
        own = {key: value for key, value in payload.items() if key not in ("reissue", "part")}
        return Decision(**{**own, "remedy": Remedy(payload["remedy"]), "trimmed": tuple(payload["trimmed"])})
