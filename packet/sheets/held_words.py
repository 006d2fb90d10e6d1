"""What a blank can become, in words."""

from __future__ import annotations

from packet.assembly.records import LeafKind
from packet.boards.held import Becomes, HeldBlank, can_become
from packet.plan import Plan
from packet.sheets.kit import Kit


def becoming(plan: Plan, kit: Kit, blank: HeldBlank) -> tuple[str, ...]:
    """`2 wall leaves`, `2 + 2 roof leaves`: one of these, as the crew says it; the shape with the most leaves first."""
    found = sorted(can_become(blank, plan.parts.leaves), key=lambda one: (list(LeafKind).index(one.kind), -one.total))
    return tuple(_one(plan, kit, one) for one in found)


def _one(plan: Plan, kit: Kit, one: Becomes) -> str:
    """By its kind where a kind has one shape, else by the mark of a leaf of that shape."""
    alike = plan.parts is plan.assembly and len(one.leaves) == len(plan.assembly.of_kind(one.kind))
    roofed = bool(plan.assembly.of_kind(LeafKind.ROOF))
    both = [count for _, count in one.counts if count]
    counts = both or [one.more]
    return kit.words.text(
        "marking.become.leaves", counts=counts, total=sum(counts), name=str(one.kind) if roofed and alike else "",
        mark="" if alike else one.leaves[0], one_hand=not both and one.more > 1)
