"""Relief cuts by the relief law (common practice, no published source), each expectation worked out by hand.

A strip is cut where it crosses a hinge on that hinge's opening face, over a board edge across a hinge, and over the
wedge between leaves that part; a closing face alone needs no cut.
"""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packet.assembly.free import SIDES, ListedLeaf, ListedSeam, chain_assembly, free_assembly, rectangle
from packet.assembly.records import Assembly
from packet.assembly.unfolded import parting
from packet.description.terms import Face
from packet.tape.relief import Along, Part, Reason, ReliefCut, relief_cuts
from packet.tape.strips import Rules, strips
from packet.work.tasks import tasks
from tests.conftest import CHECK_CASE, plan_of
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

LAND, THICK = 50.0, 25.0
RULES = Rules(LAND, LAND, (50.0, 100.0, 150.0, 200.0), True, (75.0,), 25.0, 12.0)

# The corner of ONE at (1000, 0) is acute: its edges 1 and 2 (600, 800, 1000) meet at 53.13 degrees, sine 0.8.
ONE = ListedLeaf("ONE", ((0.0, 0.0), (1000.0, 0.0), (400.0, 800.0), (0.0, 800.0)), ("1", "2", "3", "4"))
TWO = ListedLeaf("TWO", rectangle(500.0, 1000.0), SIDES)
BASE = ListedLeaf("BASE", rectangle(1000.0, 400.0), SIDES)


def _leaning(second: Face, third: Face, *, bonded: bool = True) -> Assembly:
    """TWO hangs on the slanted edge of ONE, BASE on its bottom edge."""
    seams = (ListedSeam(("ONE", "2"), ("TWO", "left"), second, 120.0, 0.0, bonded),
             ListedSeam(("ONE", "1"), ("BASE", "top"), third, 90.0, 180.0, True))
    return free_assembly((ONE, TWO, BASE), seams, THICK, Face.INNER, first_lies=False)


def _cuts(assembly: Assembly) -> tuple[ReliefCut, ...]:
    return relief_cuts(assembly, strips(assembly, RULES))


def _told(cuts: tuple[ReliefCut, ...]) -> set[tuple[str, str, str]]:
    return {(cut.strip, "/".join(cut.between), str(cut.face)) for cut in cuts}


def test_a_wrap_that_reaches_over_a_slanted_hinge_is_cut_and_the_flat_strip_is_not() -> None:
    """Both hinges close inner: the flats cross the other hinge on its closing face, the wraps on its opening face.

    A land of 50 meets a line at 53.13 degrees over 50 / 0.8 = 62.5; the foil goes on with its wrap.
    """
    cuts = _cuts(_leaning(Face.INNER, Face.INNER))
    assert _told(cuts) == {("wrap ONE/BASE", "ONE/TWO", "outer"), ("wrap ONE/TWO", "ONE/BASE", "outer")}
    for cut in cuts:
        assert cut.parts == ((Part.WALL, pytest.approx(62.5)),)
        assert (cut.along, cut.reasons) == (Along.SEAM, (Reason.OPENING_FACE,))


def test_hinges_that_close_on_opposite_faces_lock_each_others_flat_strips() -> None:
    """ONE/BASE closes outer: its flat lies outer, where ONE/TWO opens, and the flat of ONE/TWO inner, where it opens."""
    assert _told(_cuts(_leaning(Face.INNER, Face.OUTER))) == {
        ("flat ONE/BASE", "ONE/TWO", "outer"), ("flat ONE/TWO", "ONE/BASE", "inner")}


def test_tape_that_reaches_into_the_air_needs_no_cut() -> None:
    """Nothing is hinged at the slanted edge: strapping that reaches over it is trimmed. The seal round that edge is laid
    from a 75 roll, 25 onto each face, and reaches over the hinge of BASE, where the outer face opens: 25 / 0.8."""
    (cut,) = _cuts(_leaning(Face.INNER, Face.INNER, bonded=False))
    assert (cut.strip, cut.between, cut.face) == ("seal ONE 2", ("ONE", "BASE"), Face.OUTER)
    assert cut.length == pytest.approx(31.25)


def test_the_strip_of_a_lid_ends_at_the_hinges_of_a_wall() -> None:
    """Square corners: the strips of a lid and of the walls end where the other hinges begin, on either face."""
    walls = ("FRONT", "SIDE1", "BACK", "SIDE2")
    for closing in Face:
        leaves = tuple(ListedLeaf(mark, rectangle(600.0 if i % 2 == 0 else 400.0, 400.0), SIDES)
                       for i, mark in enumerate(walls))
        lid = ListedLeaf("LID", rectangle(600.0, 400.0), SIDES)
        seams = (*(ListedSeam((a, "right"), (b, "left"), Face.INNER, 90.0, 0.0, True)
                   for a, b in itertools.pairwise(walls)),
                 ListedSeam(("BACK", "top"), ("LID", "bottom"), closing, 90.0, 180.0, True))
        cuts = _cuts(free_assembly((*leaves, lid), seams, THICK, Face.INNER, first_lies=False))
        # Only the sill strip goes on over corners: land (100 - 25) / 2 wants 125, so a 150 roll with 62.5, and the edge 25.
        assert [(cut.along, cut.between) for cut in cuts] == [
            (Along.SILL, ("FRONT", "SIDE1")), (Along.SILL, ("SIDE1", "BACK")), (Along.SILL, ("BACK", "SIDE2"))]
        assert all(cut.face is Face.OUTER and cut.length == pytest.approx(62.5 + 25) for cut in cuts)


def test_a_roll_wider_than_its_leaf_is_slit_along_the_next_hinge() -> None:
    """Leaves 60 wide, only a roll of 200: flat lands of 100, wrap lands of 75. Hinges close outer and inner in turn, so
    whatever lies on the closing face of one reaches the opening face of the next, 900 long."""
    screen = chain_assembly(3, 60.0, 900.0, 90.0, THICK, Face.INNER)
    wide = Rules(LAND, LAND, (200.0,), True, (75.0,), 25.0, 12.0)
    cuts = [cut for cut in relief_cuts(screen, strips(screen, wide)) if cut.along is Along.SEAM and "foil" not in cut.strip]
    assert _told(tuple(cuts)) == {("flat A1/A2", "A2/A3", "outer"), ("flat A2/A3", "A1/A2", "inner")}
    assert all(cut.length == pytest.approx(900.0) for cut in cuts)
    narrow = Rules(LAND, LAND, (100.0, 150.0), True, (75.0,), 25.0, 12.0)
    # Flats of 100 end 10 before the next hinge; two passes of foil over them, 75 + 75 - 12, lie 69 on each leaf.
    beyond = tuple(cut for cut in relief_cuts(screen, strips(screen, narrow)) if cut.along is Along.SEAM)
    assert _told(beyond) == {("foil over flat A1/A2", "A2/A3", "outer")}


def test_a_slanted_hinge_across_a_sill_is_cut_along_itself() -> None:
    """ONE and TWO alone: both stand; a 150 roll round a 25 edge has lands of 62.5, which the slanted line crosses over
    62.5 / 0.8 = 78.125 on ONE; on TWO, square to the sill, over 62.5: tape lies on both sides along 62.5 and the edge."""
    seam = ListedSeam(("ONE", "2"), ("TWO", "left"), Face.INNER, 90.0, 0.0, True)
    (cut,) = _cuts(free_assembly((ONE, TWO), (seam,), THICK, Face.INNER, first_lies=False))
    assert (cut.along, cut.between, cut.face) == (Along.SILL, ("ONE", "TWO"), Face.OUTER)
    assert cut.parts == ((Part.EDGE, 25.0), (Part.WALL, pytest.approx(62.5)))


def test_eave_cuts_of_the_check_case() -> None:
    """Inches; t 1, land 2. At a corner the wrap, on the outer, opening face of corner and hip, is cut over wall, both
    edges and roof, 2 + 2 + 2, the flat over the wedge, 2; at a mid seam the wrap over the edges alone, 2, the flat,
    inner, where mid seams open, over wall and roof, 2 + 2."""
    plan = plan_of(CHECK_CASE)
    found = {(cut.strip.split()[0], "/".join(cut.between)): [(str(part), round(length / 25.4, 6)) for part, length in cut.parts]
             for cut in plan.relief if cut.along is Along.EAVE and cut.between[0].startswith("A")}
    corner = [("wall", 2.0), ("edge", 2.0), ("roof", 2.0)]
    assert found == {
        ("wrap", "A2/A3"): corner, ("flat", "A2R/A3R"): [("roof", 2.0)],
        ("wrap", "A3/A4"): [("edge", 2.0)], ("flat", "A3/A4"): [("wall", 2.0), ("roof", 2.0)],
        ("wrap", "A4/A5"): corner, ("flat", "A4R/A5R"): [("roof", 2.0)],
        ("wrap", "A5/A6"): [("edge", 2.0)], ("flat", "A5/A6"): [("wall", 2.0), ("roof", 2.0)]}


@pytest.mark.parametrize("name", [*zoo(), *releasable_zoo()])
def test_the_hips_of_a_half_are_what_parts(name: str) -> None:
    assembly = zoo_plan(name).assembly
    half = {leaf.mark: leaf.half for leaf in assembly.leaves}
    hips = {seam.mark for seam in assembly.bonded() if str(seam.kind) == "hip" and len({half[m] for m in seam.leaves}) == 1}
    assert parting(assembly) == hips


SQUARE = [name for name in (*zoo(), *plain_zoo(), *releasable_zoo()) if name != "leaning"]


@pytest.mark.parametrize("name", SQUARE)
def test_square_shelters_are_cut_at_sill_and_eave_only(name: str) -> None:
    """Strips over single seams end at their leaves' corners, or are trimmed there, and lock nothing."""
    assert not [cut for cut in zoo_plan(name).relief if cut.along is Along.SEAM]


FACES = st.sampled_from(list(Face))


@given(FACES, FACES, st.floats(-700, 700), st.floats(400, 1500), st.floats(20, 100), st.lists(
    st.sampled_from([60.0, 80.0, 100.0, 150.0, 200.0, 300.0]), min_size=1, max_size=3, unique=True))
@settings(max_examples=60, deadline=None)
def test_never_cut_on_a_closing_face_alone(second: Face, third: Face, lean: float, high: float, land: float,
                                           stock: list[float]) -> None:
    """Leaning leaves, any closing faces, any rolls: every slit lies on an opening face or an edge, on tape that is there."""
    long = (lean**2 + high**2) ** 0.5
    leaves = (ListedLeaf("ONE", ((0.0, 0.0), (1000.0, 0.0), (1000.0 + lean, high), (0.0, high)), ("1", "2", "3", "4")),
              ListedLeaf("TWO", rectangle(500.0, long), SIDES), BASE)
    seams = (ListedSeam(("ONE", "2"), ("TWO", "left"), second, 120.0, 0.0, True),
             ListedSeam(("ONE", "1"), ("BASE", "top"), third, 90.0, 180.0, True))
    made = free_assembly(leaves, seams, THICK, Face.INNER, first_lies=False)
    laid = strips(made, Rules(land, land, (*stock, 400.0), True, (75.0,), 25.0, 12.0))
    by_mark = {strip.mark: strip for strip in laid}
    for cut in relief_cuts(made, laid):
        hinge = next(seam for seam in made.seams if set(seam.leaves) == set(cut.between))
        assert cut.face is hinge.opening_face or Reason.OPENING_FACE not in cut.reasons
        assert Reason.OPENING_FACE in cut.reasons or Reason.BOARD_EDGE in cut.reasons
        assert cut.face in by_mark[cut.strip].faces
        assert by_mark[cut.strip].seam != hinge.mark
        assert 0 < cut.length <= hinge.length + 2 * THICK + 1e-6


def test_slits_of_hinge_strips_are_made_when_their_strip_is_laid() -> None:
    plan = zoo_plan("leaning")
    assert len(plan.relief) == 2
    for cut in plan.relief:
        (task,) = (task for task in tasks(plan) if cut in task.relief)
        assert cut.strip in task.strips
        assert task.values["slits"]
    (hold,) = (task for task in tasks(plan) if task.step == "relief")
    assert hold.values["total"] == 2
