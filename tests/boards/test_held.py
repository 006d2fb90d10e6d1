"""What is left whole, what it can become, and the new leaves laid out on it."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import product

import pytest

from packet.assembly.records import Assembly, Hand, LeafKind
from packet.boards.check import layout_faults
from packet.boards.held import blanks_left, can_become, rectangles
from packet.boards.recut import cut_from
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan


def test_half_a_board_becomes_two_walls_or_two_roof_leaves_of_each_hand() -> None:
    """The held half board of the check case (worked out by hand: common practice, no source)."""
    plan = plan_of(CHECK_CASE)
    (blank,) = blanks_left(plan.boards, plan.assembly.leaves)
    assert (blank.mark, blank.board, blank.held) == ("5H1", "5", True)
    assert (blank.length, blank.breadth) == (pytest.approx(48 * 25.4), pytest.approx(48 * 25.4))
    wall, roof = can_become(blank, plan.assembly.leaves)
    assert (wall.kind, wall.counts, wall.more) == (LeafKind.WALL, ((None, 2),), 0)
    assert (roof.kind, dict(roof.counts)) == (LeafKind.ROOF, {Hand.MID_LEFT: 2, Hand.MID_RIGHT: 2})


def test_new_leaves_are_cut_from_it_hands_as_they_are() -> None:
    """Two walls fit and three do not; two roof leaves of each hand fit, three of one hand take both halves."""
    plan = plan_of(CHECK_CASE)
    leaves = plan.assembly.leaves
    (blank,) = blanks_left(plan.boards, leaves)
    walls = [leaf for leaf in leaves if leaf.kind is LeafKind.WALL and not leaf.door]
    roofs = {hand: [leaf for leaf in leaves if leaf.kind is LeafKind.ROOF and leaf.hand is hand] for hand in Hand}
    left, right = roofs[Hand.MID_LEFT], roofs[Hand.MID_RIGHT]
    fitting = (walls[:2], [*left[:2], *right[:2]], [walls[0], *left[:2]], left[:3], [left[0], right[0]])
    for some in fitting:
        board = cut_from(blank, tuple(some))
        assert board is not None and board.mark == blank.mark
        assert layout_faults(Assembly(tuple(some), (), (), blank.thickness), (board,)) == ()
    for too_many in (walls[:3], [*left[:3], right[0]], [walls[0], left[0], right[0]]):
        assert cut_from(blank, tuple(too_many)) is None


def _brute(length: float, breadth: float, width: float, height: float, kerf: float) -> int:
    """Sections in any order, every rectangle tried both ways: exhaustive, first one axis, then the other."""
    def lane(across: float, sides: tuple[float, ...]) -> int:
        return max((1 + lane(across - side - kerf, sides) for side in sides if side <= across + 1e-9), default=0)

    def filled(along: float, across: float) -> int:
        best = 0
        for section in (width, height):
            if section <= along + 1e-9:
                sides = tuple(b for a, b in ((width, height), (height, width)) if a <= section + 1e-9)
                best = max(best, lane(across, sides) + filled(along - section - kerf, across))
        return best

    return max(filled(length, breadth), filled(breadth, length))


def test_count_of_rectangles_against_trying_everything() -> None:
    draw = random.Random(4)
    for _ in range(60):
        width, height = draw.uniform(15, 40), draw.uniform(15, 60)
        length, breadth, kerf = draw.uniform(20, 130), draw.uniform(20, 110), draw.choice((0.0, 1.0))
        assert rectangles(length, breadth, width, height, kerf) == _brute(length, breadth, width, height, kerf)


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo(), *releasable_zoo()])
def test_whatever_a_blank_can_become_can_be_laid_out_on_it(name: str) -> None:
    plan = zoo_plan(name)
    for blank in blanks_left(plan.boards, plan.assembly.leaves):
        found = can_become(blank, plan.assembly.leaves)
        assert found
        for leaves, (hand, count) in ((one.leaves, pair) for one in found for pair in one.counts):
            alike = [leaf for leaf in plan.assembly.leaves if leaf.mark in leaves and hand in (None, leaf.hand)]
            some = tuple(alike[:count])
            if some:
                board = cut_from(blank, some)
                assert board is not None
                assert layout_faults(Assembly(some, (), (), blank.thickness), (board,)) == ()


@pytest.mark.parametrize("name", zoo())
def test_no_other_way_to_part_the_last_board_holds_more(name: str) -> None:
    """The rectangle that is held becomes at least as many leaves as any offcut of its board."""
    plan = zoo_plan(name)
    blanks = [blank for blank in blanks_left(plan.boards, plan.assembly.leaves) if blank.board == plan.boards[-1].mark]
    most = [max(one.total for one in can_become(blank, plan.assembly.leaves)) for blank in blanks]
    assert not blanks or (blanks[0].held and most[0] == max(most))
    assert all(not a.held or not b.held for a, b in product(blanks, blanks) if a is not b)


def test_two_gables_do_not_share_a_rectangle() -> None:
    """A five-cornered leaf turned half round covers itself, so each takes a rectangle; a triangle's half pairs."""
    plan = plan_of(CHECK_CASE)
    (blank,) = blanks_left(plan.boards, plan.assembly.leaves)
    model = next(leaf for leaf in plan.assembly.leaves if leaf.kind is LeafKind.WALL and leaf.hand is Hand.MID_LEFT)
    gable = ((0.0, 0.0), (600.0, 0.0), (600.0, 800.0), (300.0, 1200.0), (0.0, 800.0))
    (found,) = can_become(blank, (replace(model, outline=gable, hinged=gable, rough=gable),))
    assert found.total == rectangles(blank.length, blank.breadth, 600, 1200, 0) == 2
    wedge = ((0.0, 0.0), (600.0, 0.0), (0.0, 1200.0))
    (found,) = can_become(blank, (replace(model, outline=wedge, hinged=wedge, rough=wedge),))
    assert found.total == 4
