"""A spoiled part: every answer, ranked, each with what it takes and what it does to the shelter.

The order is fixed and the first that is possible is advised: within limits; another slot; a finished spare; a held
blank or an offcut; a glued packer; its partner at the corner trimmed with it; all alike trimmed; a new board. A mate
is never trimmed before the rest is checked.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from packet.assembly.mended import corner_of, moved_in
from packet.assembly.records import Leaf, LeafKind
from packet.assembly.splicing import datum_edge
from packet.boards.check import congruent
from packet.boards.held import HeldBlank, can_become
from packet.boards.mended import new_board, recut, same_blank
from packet.boards.records import Board
from packet.description.decided import Decision, Remedy, part_mark
from packet.description.problems import ProjectError
from packet.miscut.damage import Damage, Loss, fits, losses, needed, sound, turned
from packet.miscut.effects import Effect, drift, ring_effects
from packet.plan import Plan, make_plan

STEP = 0.1
"""mm by which sizes that are measured on a piece may be off."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer. `no` is the reason why it cannot be (a key of the words) or empty; `values` go into the sentences.

    `minutes` at the project's own rates; `hours` of waiting besides; `boards` that are used up. `lines` are the new
    lines to cut, their length in mm; `tape` mm of strips and foil that a leaf which bore some already needs again, at the
    most. `decision` is what the ledger keeps when it is taken.
    """

    remedy: Remedy
    no: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)
    cuts: int = 0
    lines: float = 0.0
    minutes: float = 0.0
    hours: float = 0.0
    boards: int = 0
    tape: float = 0.0
    effects: tuple[Effect, ...] = ()
    decision: Decision | None = None
    board: Board | None = None

    @property
    def possible(self) -> bool:
        return not self.no


@dataclass(frozen=True, slots=True)
class Case:
    """A spoiled leaf before the table: `done` holds the leaves that are sealed or bonded and can be cut no more;
    `told` is the damage as it was asked. Of several shelters it is that of number `copy`, and so are `done`."""

    plan: Plan
    leaf: Leaf
    damage: Damage
    told: str
    done: Collection[str] = ()
    copy: int = 0

    @property
    def mark(self) -> str:
        """What is written on the leaf."""
        return part_mark(self.leaf.mark, self.copy)

    @property
    def number(self) -> int:
        """Of the decision that would be next."""
        return len(self.plan.description.decided) + 1

    def decide(self, remedy: Remedy, **values: Any) -> Decision:
        return Decision(self.number, remedy, self.leaf.mark, self.told, copy=self.copy, **values)

    @property
    def loss(self) -> Loss | None:
        """The one strip that is missing, where that is all."""
        found = tuple(losses(self.leaf, self.damage))
        return found[0] if len(found) == 1 else None

    def kept(self) -> dict[str, str]:
        """Under what mark, and as which leaf's spare, the piece is kept where it was only cut as the other hand."""
        other, shape = turned(self.leaf), ""
        if self.damage == Damage(wrong_hand=True) and self.leaf.mark not in self.done:
            shape = next((leaf.mark for leaf in self.plan.parts.leaves
                          if leaf.hand is not self.leaf.hand and congruent(leaf.hinged, other)), "")
        return {"keeps": f"{self.leaf.mark}-W{self.number}" if shape else "", "shape": shape}

    @property
    def tape(self) -> float:
        """mm of strips on the leaf as it is; 0 while it bears none."""
        if self.leaf.mark not in self.done:
            return 0.0
        whole = self.plan.owners[self.leaf.mark]
        return sum(strip.length * len(strip.tapes) for strip in self.plan.strips if whole in strip.leaves)

    def minutes(self, cuts: int, length: float, pieces: int = 1) -> float:
        """Snapping and cutting so many lines and handling so many pieces, at the project's rates."""
        rates = self.plan.description.rates
        return cuts * rates.line + length / rates.cut + pieces * rates.piece


def answers(case: Case) -> tuple[Answer, ...]:
    """All eight answers in their order; at least the last is possible."""
    ways: tuple[Callable[[Case], Answer], ...] = (
        _use, _slot, _spare, _blank, _packer, _partner, _all_alike, _board)
    return tuple(way(case) for way in ways)


def unfixed(case: Case) -> tuple[tuple[str, float], ...]:
    """Centre hinges that fold out of their place if the leaf is used as it is: seam mark, mm."""
    loss = case.loss
    if loss is None or loss.edge not in case.leaf.edges:
        return ()
    seams = [seam for seam in case.plan.assembly.seams_of(case.leaf.mark) if seam.bonded]
    index = case.leaf.edges.index(loss.edge)
    ends = {case.leaf.hinged[index], case.leaf.hinged[(index + 1) % len(case.leaf.hinged)]}
    own = [set(s.edge_a if s.leaves[0] == case.leaf.mark else s.edge_b) for s in seams]
    if ends not in own:
        return ()
    return drift(case.plan.assembly, case.leaf.mark, loss.edge, loss.by)


def _use(case: Case) -> Answer:
    good, limit = sound(case.leaf, case.damage), case.plan.description.limits.cut
    if good is None:
        return Answer(Remedy.USE, "lost")
    own = min(_shortfalls(case, case.leaf, good), key=lambda found: found[1], default=None)
    if own is None:
        return Answer(Remedy.USE, "beyond", {"limit": limit})
    edge, gap = own
    trimmed = "tip" in case.leaf.edges or case.leaf.door
    from_edge = datum_edge(case.leaf) if trimmed else ""
    height = max(y for _, y in needed(case.leaf)) - min(y for _, y in needed(case.leaf))
    return Answer(Remedy.USE, values={"limit": limit, "datum": from_edge, "height": height, "gap": gap, "edge": edge},
                  minutes=case.minutes(0, 0.0), effects=(Effect("free_gap", case.mark, 0.0, gap),) if gap else (),
                  decision=case.decide(Remedy.USE, slot=case.leaf.mark if gap else "", gap=gap, edge=edge))


def _slot(case: Case) -> Answer:
    """The piece takes the place of a leaf whose own piece can still become this one."""
    good = sound(case.leaf, case.damage)
    if good is None:
        return Answer(Remedy.SLOT, "lost")
    best: tuple[float, int, Leaf, str] | None = None
    for place, other in enumerate(case.plan.parts.leaves):
        if other.mark == case.leaf.mark or not same_blank(other, case.leaf) or other.mark in case.done:
            continue
        if case.leaf.door and not other.door and _is_trimmed(case):
            continue
        for edge, gap in _shortfalls(case, other, good):
            if best is None or (gap, place) < best[:2]:
                best = (gap, place, other, edge)
    if best is None:
        return Answer(Remedy.SLOT, "no_slot", {"gap": case.plan.description.repair.free_gap})
    gap, _, other, edge = best
    trim = max(y for _, y in needed(other)) - min(y for _, y in needed(other))
    across = max(abs(x) for x, _ in other.hinged) - min(abs(x) for x, _ in other.hinged)
    slot = part_mark(other.mark, case.copy)
    return Answer(
        Remedy.SLOT, values={"slot": slot, "door": other.door, "datum": datum_edge(other) or "top", "height": trim,
                             "gap": gap, "edge": edge},
        cuts=int(other.door), lines=across if other.door else 0.0, minutes=case.minutes(int(other.door), across, 2),
        effects=(Effect("free_gap", slot, 0.0, gap),) if gap else (),
        decision=case.decide(Remedy.SLOT, slot=other.mark, gap=gap, edge=edge))


def _is_trimmed(case: Case) -> bool:
    """A door leaf that has lost its bottom is no longer as high as any other."""
    return case.leaf.outline != case.leaf.hinged and case.leaf.mark in case.done


def _shortfalls(case: Case, other: Leaf, good: Any) -> Iterator[tuple[str, float]]:
    """How the piece fits that place: whole, or with a wider gap at one of its free edges: edge, mm."""
    limit = case.plan.description.limits.cut
    if fits(other, good, limit):
        yield "", 0.0
        return
    most = case.plan.description.repair.free_gap
    for edge in _free_edges(case.plan, other):
        if not fits(moved_in(other, edge, most), good, 0.0):
            continue
        low, high = 0.0, most
        while high - low > STEP / 50:
            middle = (low + high) / 2
            low, high = (low, middle) if fits(moved_in(other, edge, middle), good, 0.0) else (middle, high)
        yield edge, round(high, 3)


def _free_edges(plan: Plan, leaf: Leaf) -> Iterator[str]:
    """Upright edges that touch another leaf but are not bonded to it, such as a door's beside its jamb."""
    for name in leaf.edges:
        ends = set(leaf.edge(name))
        for seam in plan.assembly.seams_of(leaf.mark):
            own = seam.edge_a if seam.leaves[0] == leaf.mark else seam.edge_b
            if not seam.bonded and not seam.removable and set(own) == ends and own[0][0] == own[1][0]:
                yield name


def _spare(case: Case) -> Answer:
    for mark, shape in case.plan.mended.spares:
        if congruent(case.plan.parts.by_mark[shape].hinged, case.leaf.hinged):
            kept = case.kept()
            return Answer(Remedy.SPARE, values={"spare": mark, **kept}, minutes=case.minutes(0, 0.0), tape=case.tape,
                          decision=case.decide(Remedy.SPARE, source=mark, **kept))
    return Answer(Remedy.SPARE, "no_spare", {"hand": _hand(case)})


def _hand(case: Case) -> str:
    return str(case.leaf.hand) if case.leaf.kind is LeafKind.ROOF else ""


def _blank(case: Case) -> Answer:
    """Out of the smallest blank that gives the leaf, so that the larger ones stay whole."""
    blanks = sorted(case.plan.mended.blanks, key=lambda one: (one.length * one.breadth, one.mark))
    for blank in blanks:
        found = _new(case, blank, Remedy.BLANK)
        if found is not None:
            more = sum(_count(case, one) for one in blanks)
            return replace(found, values={**found.values, "left": more})
    return Answer(Remedy.BLANK, "no_blank", {"blanks": [blank.mark for blank in blanks]})


def _count(case: Case, blank: HeldBlank) -> int:
    """How many leaves of this shape the blank can become."""
    return max((one.total for one in can_become(blank, case.plan.parts.leaves) if case.leaf.mark in one.leaves), default=0)


def _new(case: Case, blank: HeldBlank, remedy: Remedy) -> Answer | None:
    found = recut(blank, case.leaf, case.number, case.copy)
    if found is None:
        return None
    cuts, length, kept = len(found.board.cuts), found.board.cut_length, case.kept()
    return Answer(remedy, values={"blank": blank.mark, "board": blank.board, "held": blank.held, "spare": found.spare,
                                  "breadth": blank.breadth, "length": blank.length, **kept},
                  cuts=cuts, lines=length, minutes=case.minutes(cuts, length, 2),
                  boards=int(remedy is Remedy.BOARD), tape=case.tape,
                  decision=case.decide(remedy, source=blank.mark, **kept), board=found.board)


def _packer(case: Case) -> Answer:
    loss, repair = case.loss, case.plan.description.repair
    if loss is None:
        return Answer(Remedy.PACKER, "no_strip")
    values = {"edge": loss.edge, "by": loss.by, "least": repair.least_packer, "most": repair.packer}
    if loss.edge in ("mid", "tip"):
        return Answer(Remedy.PACKER, f"packer_{loss.edge}", values)
    if loss.edge.startswith("splice"):
        return Answer(Remedy.PACKER, "packer_splice", values)
    if loss.tapers:
        return Answer(Remedy.PACKER, "packer_tapers", values)
    if not repair.least_packer - STEP <= loss.by <= repair.packer + STEP:
        return Answer(Remedy.PACKER, "packer_size", values)
    a, b = case.leaf.edge(loss.edge)
    length = ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
    return Answer(Remedy.PACKER, values={**values, "length": length, "hours": repair.glue_hold}, cuts=2, lines=2 * length,
                  minutes=case.minutes(2, 2 * length, 2), hours=repair.glue_hold,
                  decision=case.decide(Remedy.PACKER, edge=loss.edge, amount=loss.by))


def _mates(case: Case, remedy: Remedy) -> tuple[str, tuple[Leaf, ...], float] | str:
    """(edge of the walls, leaves, mm along the eave) that a trim would take, or the reason why not."""
    loss, plan = case.loss, case.plan
    if loss is None:
        return "no_strip"
    if plan.ring is None:
        return "no_ring"
    if case.copy:
        return "other_sets"
    if case.leaf.mark not in plan.assembly.by_mark:
        return "no_set"
    walls, roofs = plan.assembly.of_kind(LeafKind.WALL), plan.assembly.of_kind(LeafKind.ROOF)
    if loss.edge in ("corner", "hip"):
        by = loss.by if loss.edge == "corner" else dict(loss.beside)["eave"]
        if remedy is Remedy.ALL:
            return "corner", (*walls, *roofs), by
        number = corner_of(plan.assembly, case.leaf.mark)
        own = [wall for wall in walls if corner_of(plan.assembly, wall.mark) == number]
        return "corner", (*own, *(plan.assembly.above(wall) for wall in own)), by
    if loss.edge in ("eave", "sill") and case.leaf.kind is LeafKind.WALL and remedy is Remedy.ALL:
        return loss.edge, walls, loss.by
    return "no_set"


def _trim(case: Case, remedy: Remedy) -> Answer:
    found = _mates(case, remedy)
    if isinstance(found, str):
        return Answer(remedy, found, {"edge": case.loss.edge if case.loss else ""})
    edge, leaves, by = found
    others = [leaf for leaf in leaves if leaf.mark != case.leaf.mark]
    taped = [leaf.mark for leaf in others if leaf.mark in case.done]
    if taped:
        return Answer(remedy, "taped", {"leaves": taped})
    decision = case.decide(remedy, edge=edge, amount=by, trimmed=tuple(leaf.mark for leaf in others))
    description = case.plan.description
    try:
        after = make_plan(replace(description, decided=(*description.decided, decision)))
    except ProjectError as fault:
        return Answer(remedy, "impossible", {"why": fault.problems[0].message})
    good = sound(case.leaf, case.damage)
    if good is None or not fits(after.assembly.by_mark[case.leaf.mark], good, description.limits.cut):
        return Answer(remedy, "too_little")
    length = sum(_edge_length(leaf, edge) for leaf in others)
    return Answer(remedy, values={"by": by, "edge": edge, "leaves": [leaf.mark for leaf in others], "count": len(leaves)},
                  cuts=len(others), lines=length, minutes=case.minutes(len(others), length, len(others)),
                  effects=ring_effects(case.plan, after), decision=decision)


def _edge_length(leaf: Leaf, edge: str) -> float:
    name = edge if edge in leaf.edges else "hip"
    a, b = leaf.edge(name)
    return float(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5)


def _partner(case: Case) -> Answer:
    return _trim(case, Remedy.PARTNER)


def _all_alike(case: Case) -> Answer:
    return _trim(case, Remedy.ALL)


def _board(case: Case) -> Answer:
    found = _new(case, new_board(case.plan.mended, case.leaf.mark, case.copy), Remedy.BOARD)
    if found is None:
        raise AssertionError(f"leaf {case.leaf.mark} was cut from a board of this size")
    bought = sum(one.remedy is Remedy.BOARD for one in case.plan.description.decided)
    left = max(0, case.plan.description.boards.spare - bought)
    taken = next(board for board in case.plan.boards
                 if any((piece.leaf, piece.copy) == (case.leaf.mark, case.copy) for piece in board.pieces)).stock
    # A spare board of another size than the leaf was cut from is no answer to it.
    return replace(found, values={**found.values, "spares_left": left if taken.size == case.plan.nest.spare.size else 0})
