"""The cut list: how far the blade runs on each board, kind by kind, and in how many passes."""

from __future__ import annotations

from dataclasses import dataclass

from packet.boards.alike import Alike, alike
from packet.boards.records import Board, CutKind
from packet.description.terms import Tool


@dataclass(frozen=True, slots=True)
class KindLine:
    """The cuts of one kind on one board: numbers `first` to `last`, and their length together, mm."""

    kind: CutKind
    first: int
    last: int
    length: float


@dataclass(frozen=True, slots=True)
class CutLine:
    """Boards that are cut alike: what is cut on each of them."""

    run: Alike
    kinds: tuple[KindLine, ...]

    @property
    def each(self) -> float:
        """mm of line on one of the boards."""
        return sum(line.length for line in self.kinds)

    @property
    def total(self) -> float:
        """mm of line on all of the boards."""
        return self.each * len(self.run.boards)

    def of(self, kind: CutKind) -> KindLine | None:
        return next((line for line in self.kinds if line.kind is kind), None)


def cut_lines(boards: tuple[Board, ...]) -> tuple[CutLine, ...]:
    """One line for boards that are cut alike, in the order they are cut."""
    return tuple(CutLine(run, tuple(_kinds(run.first))) for run in alike(boards))


def _kinds(board: Board) -> list[KindLine]:
    found = []
    for kind in CutKind:
        cuts = [cut for cut in board.cuts if cut.kind is kind]
        if cuts:
            found.append(KindLine(kind, cuts[0].number, cuts[-1].number, sum(cut.length for cut in cuts)))
    return found


def passes(tool: Tool) -> int:
    """How often the blade runs along each line: a knife scores the marked face and cuts the other, a saw runs once."""
    return 2 if tool is Tool.KNIFE else 1
