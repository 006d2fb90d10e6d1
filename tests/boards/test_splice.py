"""Leaves larger than a board: where they are divided, what that costs, and that they stay one rigid leaf."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from shapely import Polygon, box, unary_union

from packet.alternates import compare
from packet.assembly.records import LeafKind
from packet.assembly.splicing import datum_edge, parts_of, splice_places
from packet.boards.check import layout_faults, splice_faults
from packet.description.decided import Remedy
from packet.description.loading import describe
from packet.description.problems import ProjectError
from packet.description.reading import read_text
from packet.description.terms import Face
from packet.miscut.answers import Case, answers
from packet.miscut.damage import Damage
from packet.plan import Plan, make_plan
from packet.tape.cutlist import Place, cut_list
from packet.tape.strips import Role
from tests.conftest import CHECK_CASE
from tests.zoo import SCREEN, spliced_zoo, zoo_plan

INCH = 25.4


def planned(text: str) -> Plan:
    return make_plan(describe(read_text(text, Path("spliced.yaml"))))


def tall(splice: str = "yes", height: str = "110") -> str:
    """The check case with higher walls than its boards are long."""
    text = CHECK_CASE.read_text(encoding="utf-8")
    return text.replace("wall_height: 48", f"wall_height: {height}").replace(
        "  thickness: 1", f"  thickness: 1\n  splice: {splice}")


@pytest.mark.parametrize("name", spliced_zoo())
def test_parts_tile_their_leaf_and_each_is_cut_once(name: str) -> None:
    """Area and union by another library than the clipping."""
    plan = zoo_plan(name)
    assert any(leaf.splices for leaf in plan.assembly.leaves)
    assert splice_faults(plan.assembly) == ()
    assert layout_faults(plan.parts, plan.boards) == ()
    for leaf in plan.assembly.leaves:
        shapes = [Polygon(part.outline) for part in parts_of(leaf)]
        assert sum(shape.area for shape in shapes) == pytest.approx(Polygon(leaf.outline).area)
        assert unary_union(shapes).area == pytest.approx(Polygon(leaf.outline).area)
        assert {part.hand for part in parts_of(leaf)} == {leaf.hand}
    cut = [piece.leaf for board in plan.boards for piece in board.pieces]
    assert sorted(cut) == sorted(part.mark for leaf in plan.assembly.leaves for part in parts_of(leaf))


def test_a_part_that_is_missing_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    plan = zoo_plan("tall screen")
    monkeypatch.setattr("packet.boards.check.parts_of", lambda leaf: parts_of(leaf)[:1])
    assert len(splice_faults(plan.assembly)) == len(plan.assembly.leaves)


def test_walls_110_high_on_the_check_cases_boards() -> None:
    """By hand (no source): 12 walls of 24 x 110 and 6 blanks of 24 x 48 for the roof are 38592 sq in, 8.4 boards of 4608,
    so 9 at least; two strips of 4 over 24 on each wall are 48 ft; a part takes no land at sill and eave."""
    plan = planned(tall())
    walls = plan.assembly.of_kind(LeafKind.WALL)
    assert [len(leaf.splices) for leaf in walls] == [1] * 12
    assert not any(leaf.splices for leaf in plan.assembly.of_kind(LeafKind.ROOF))
    assert len(plan.boards) == 9
    laid = [strip for strip in plan.strips if strip.role is Role.SPLICE]
    assert sum(strip.length for strip in laid) == pytest.approx(48 * 12 * INCH)
    assert {strip.width for strip in laid} == {4 * INCH}
    assert {strip.tapes for strip in laid} == {(4 * INCH,)}
    for leaf in walls:
        faces = [strip.faces for strip in laid if strip.leaves == (leaf.mark,)]
        assert faces == [(Face.INNER,), (Face.OUTER,)]
        for part in parts_of(leaf):
            xs, ys = zip(*part.rough, strict=True)
            assert max(ys) - min(ys) <= 96 * INCH
            assert max(xs) - min(xs) <= 24 * INCH + 1e-6
    foil = [strip for strip in plan.strips if strip.role is Role.FOIL and (strip.edge or "").startswith("splice")]
    assert len(foil) == 12


def test_splices_change_nothing_of_the_graph() -> None:
    """The same shelter from boards long enough to need none."""
    parted, whole = planned(tall()), planned(tall().replace("48 x 96", "48 x 110"))
    assert not any(leaf.splices for leaf in whole.assembly.leaves)
    assert [replace(leaf, splices=()) for leaf in parted.assembly.leaves] == list(whole.assembly.leaves)
    assert parted.assembly.seams == whole.assembly.seams
    assert parted.pack == whole.pack
    assert parted.mobility == whole.mobility
    assert [s for s in parted.strips if s.role is Role.SPLICE or (s.edge or "").startswith("splice")] == [
        s for s in parted.strips if s not in whole.strips]


@pytest.mark.parametrize("name", spliced_zoo())
def test_no_line_is_nearer_than_two_lands_to_an_edge_along_it_nor_a_land_to_a_hole(name: str) -> None:
    plan = zoo_plan(name)
    land = plan.description.tape.land
    for leaf in plan.assembly.leaves:
        for splice, (_, edge) in zip(leaf.splices, splice_places(leaf), strict=True):
            axis = 0 if abs(splice.a[0] - splice.b[0]) < 1e-6 else 1
            assert edge
            levels = [point[axis] for point in leaf.outline]
            assert splice.a[axis] - min(levels) >= 2 * land - 1e-6
            assert max(levels) - splice.a[axis] >= 2 * land - 1e-6
            for hole in leaf.holes:
                off = abs((hole.x, hole.y)[axis] - splice.a[axis])
                assert off >= hole.diameter / 2 + land - 1e-6


def test_a_splice_goes_round_an_opening() -> None:
    """A vent where the line would be otherwise."""
    free = planned(SCREEN.replace("1800", "2600").replace("thickness: 25", "thickness: 25, splice: yes"))
    at = free.assembly.leaves[0].splices[0].a[1]
    vent = f"\nopenings:\n  - {{leaf: A2, kind: vent, across: 250, up: {at:g}, size: 150 x 200}}\n"
    plan = planned(SCREEN.replace("1800", "2600").replace("thickness: 25", "thickness: 25, splice: yes") + vent)
    assert all(abs(leaf.splices[0].a[1] - at) >= 100 + 50 - 1e-6 for leaf in plan.assembly.leaves)
    assert [one.term for one in plan.findings] == ["spliced"]


def test_a_part_of_half_a_board_s_length_saves_boards() -> None:
    """By hand, six leaves of 500 x 2600 on boards of 1000 x 2400, two side by side: of halves of 1300 no two follow each
    other, six boards. 1200 + 1400 take three boards for the longer parts and two for the shorter, of which two follow each
    other. Windows keep the line off the ends; close to one, 1050 + 1550 take five boards as well, but are less even."""
    windows = "".join(f"  - {{leaf: A2, kind: window, across: 250, up: {up}, size: 150 x 850}}\n" for up in (575, 2025))
    plan = planned(SCREEN.replace("1800", "2600").replace("thickness: 25", "thickness: 25, splice: yes").replace(
        "1200 x", "1000 x") + f"\nopenings:\n{windows}")
    lines = {round(splice.a[1], 3) for leaf in plan.assembly.leaves for splice in leaf.splices}
    assert lines in ({1200.0}, {1400.0})
    assert len(plan.boards) == 5


def test_refusal_offers_splices_only_where_they_help() -> None:
    with pytest.raises(ProjectError) as refused:
        planned(tall("no"))
    assert "`splice: yes`" in refused.value.problems[0].remedy
    assert planned(tall("yes")).boards
    huge = SCREEN.replace("leaf_width: 500, height: 1800", "leaf_width: 3000, height: 3000").replace(
        "1200 x 2400", "300 x 400")
    for splice in ("no", "yes"):
        with pytest.raises(ProjectError) as refused:
            planned(huge.replace("thickness: 25", f"thickness: 25, splice: {splice}"))
        assert "splice" not in refused.value.problems[0].remedy
        assert "larger than a board" in refused.value.problems[0].message


def test_boards_large_enough_are_not_spliced() -> None:
    assert not any(leaf.splices for leaf in planned(tall(height="96")).assembly.leaves)


def test_strips_of_splices_are_on_the_cut_list() -> None:
    plan = planned(tall())
    lines = [line for line in cut_list(plan.assembly, plan.strips) if line.place is Place.SPLICE]
    assert [(line.role, line.count, line.length) for line in lines if not line.foil] == [
        (Role.SPLICE, 24, pytest.approx(24 * INCH))]


@pytest.mark.parametrize("mark", ["A1a", "A3a", "A3b", "A1Ra", "A1Rb"])
def test_a_lost_part_is_cut_new(mark: str) -> None:
    plan = zoo_plan("tall roof metric")
    part = plan.parts.by_mark[mark]
    found = answers(Case(plan, part, Damage(lost=True), "lost"))
    possible = [answer for answer in found if answer.possible]
    assert possible
    assert all(answer.remedy in (Remedy.BLANK, Remedy.BOARD) for answer in possible)
    assert found[-1].remedy is Remedy.BOARD
    decided = make_plan(replace(plan.description, decided=tuple(
        answer.decision for answer in possible[-1:] if answer.decision is not None)))
    assert [recut.leaf for recut in decided.mended.recuts] == [mark]
    assert datum_edge(part) == ("splice" if mark in ("A3a", "A1a", "A1Rb") else "eave")


def test_each_part_bears_the_mark_of_its_leaf() -> None:
    plan = planned(tall())
    assert plan.owners["A3a"] == plan.owners["A3b"] == "A3"
    assert plan.owners["A3R"] == "A3R"
    lengths = [math.dist(splice.a, splice.b) for leaf in plan.assembly.leaves for splice in leaf.splices]
    assert lengths == [pytest.approx(24 * INCH)] * 12


@pytest.mark.parametrize(("also", "spliced"), [("48 x 72", 12), ("48 x 120", 0)])
def test_all_sizes_of_an_order_are_looked_at(also: str, spliced: int) -> None:
    """Nothing is spliced that any size of the order takes whole; what is spliced costs no more than with one size."""
    text = tall().replace("size: 48 x 96", f"size: 48 x 96\n  also:\n    - {{size: {also}}}")
    plan = planned(text)
    assert sum(bool(leaf.splices) for leaf in plan.assembly.leaves) == spliced
    assert layout_faults(plan.parts, plan.boards) == ()
    assert splice_faults(plan.assembly) == ()
    used = sum(board.stock.area for board in plan.boards)
    alone = planned(tall()) if spliced else planned(tall().replace("48 x 96", also))
    assert used <= sum(board.stock.area for board in alone.boards) + 1e-6


@pytest.mark.parametrize("name", spliced_zoo())
def test_strips_cover_the_joint_over_their_whole_width(name: str) -> None:
    """The leaf between two lines half a strip from the splice, by shapely: as long as the strip, across a leaning edge too."""
    plan = zoo_plan(name)
    laid = {strip.edge: strip for strip in plan.strips if strip.role is Role.SPLICE}
    for leaf in plan.assembly.leaves:
        for splice in leaf.splices:
            strip = laid[f"splice {splice.mark}"]
            axis = 0 if abs(splice.a[0] - splice.b[0]) < 1e-6 else 1
            low, high = splice.a[axis] - strip.width / 2, splice.a[axis] + strip.width / 2
            band = box(-1e5, low, 1e5, high) if axis else box(low, -1e5, high, 1e5)
            left, bottom, right, top = Polygon(leaf.hinged).intersection(band).bounds
            assert strip.length == pytest.approx(right - left if axis else top - bottom)


def test_each_set_of_an_order_has_its_parts() -> None:
    plan = planned(tall() + "\nquantity: 2\n")
    assert layout_faults(plan.parts, plan.boards, 2) == ()
    cut = sorted(piece.mark for board in plan.boards for piece in board.pieces)
    assert cut == sorted(f"{number}-{leaf.mark}" for number in (1, 2) for leaf in plan.parts.leaves)


def test_an_alternate_that_gives_whole_leaves_is_compared() -> None:
    """The same boards and a longer one: 12 walls of 24 x 110 lie two side by side on 6 boards of 48 x 120, and the roof on
    2 more, since 10 in are left of each."""
    text = tall().replace("thickness: 1", "thickness: 1\n  alternates:\n    - {size: 48 x 120, thickness: 1}")
    plan = planned(text)
    found, spare = compare(plan), plan.description.boards.spare
    assert found is not None
    own, longer = found.boards
    assert own.bought is not None and longer.bought is not None
    assert (own.bought, longer.bought) == (9 + spare, 8 + spare)


def test_a_packer_is_not_glued_to_a_splice() -> None:
    plan = zoo_plan("tall six")
    case = Case(plan, plan.parts.by_mark["A3b"], Damage(shaved=("splice", 12.7)), "short")
    packer = next(answer for answer in answers(case) if answer.remedy is Remedy.PACKER)
    assert packer.no == "packer_splice"


def test_tape_of_a_part_that_is_bonded_is_that_of_its_leaf() -> None:
    plan = zoo_plan("tall six")
    part = plan.parts.by_mark["A3b"]
    whole = sum(strip.length * len(strip.tapes) for strip in plan.strips if "A3" in strip.leaves)
    assert Case(plan, part, Damage(lost=True), "lost", ("A3b", "A3")).tape == pytest.approx(whole)
    assert Case(plan, part, Damage(lost=True), "lost").tape == 0.0


def test_a_leaf_that_no_line_clears_of_its_opening_is_told() -> None:
    """By hand: a line keeps 100 off both ends, and this vent with a land at either end leaves 70 there."""
    text = SCREEN.replace("1800", "2600").replace("thickness: 25", "thickness: 25, splice: yes")
    plan = planned(text + "\nopenings:\n  - {leaf: A2, kind: vent, across: 250, up: 1300, size: 150 x 2360}\n")
    assert [one.term for one in plan.findings] == ["spliced", "crossed"]
    assert plan.findings[1].value == "A2"
