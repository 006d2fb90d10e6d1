"""Opening sheets read as data: every opening at its place and size, handed, with its figures and its seal."""

from __future__ import annotations

from pathlib import Path

import pytest

from packet.description.loading import describe
from packet.description.reading import read_text
from packet.drawing.marks import Circle
from packet.drawing.marks import Path as Outline
from packet.plan import Plan, make_plan
from packet.sheets.openings import draw
from tests.sheets.drawn import faults, kit_of, on_paper, prose, texts
from tests.zoo import plain_zoo, zoo, zoo_plan

BY = "\N{MULTIPLICATION SIGN}"

RING = """
project: Openings
units: in
shelter: {walls: 6, leaf_width: 22, wall_height: 60, slant: 46}
boards: {size: 48 x 96, thickness: 1-1/2}
openings:
  - {leaf: A3, size: 12 x 10, across: 11, up: 40}
  - {leaf: A4R, kind: vent, diameter: 4, across: 6, up: 12}
"""

MANY = """
project: Many openings
units: mm
shelter: {walls: 6, leaf_width: 550, wall_height: 1500, slant: 1150}
boards: {size: 1200 x 2400, thickness: 30, printed_face: outer}
openings:
  - {leaf: A3, size: 120 x 100, across: 150, up: 400}
  - {leaf: A3, size: 200 x 150, across: 275, up: 1000}
  - {leaf: A3, kind: cable sleeve, diameter: 40, across: 350, up: 400}
  - {leaf: B4, size: 250 x 300, across: 275, up: 1000}
  - {leaf: B5, size: 250 x 300, across: 275, up: 1000}
  - {leaf: A4R, kind: vent, diameter: 100, across: 150, up: 300}
  - {leaf: B3R, kind: unit port, size: 150 x 100, across: 180, up: 250}
"""

BOX = plain_zoo()["cool-box"] + """
openings:
  - {leaf: SIDE1, kind: vent, diameter: 60, across: 210, up: 130}
"""


def _plan(text: str) -> Plan:
    return make_plan(describe(read_text(text, Path("openings.yaml"))))


@pytest.mark.parametrize("text", [RING, MANY, BOX], ids=["ring", "many", "box"])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_nothing_collides_or_leaves_the_room(text: str, paper: str) -> None:
    assert list(faults(on_paper(_plan(text), paper), draw)) == []


@pytest.mark.parametrize("name", [*zoo(), *plain_zoo()])
def test_no_opening_no_sheet(name: str) -> None:
    assert draw(zoo_plan(name), kit_of(zoo_plan(name))) == ()


def test_figures_run_from_the_two_edges() -> None:
    # By hand: 11 across and 40 up, 12 x 10: 5, 11, 17 and 35, 40, 45. Round 4 at 6 and 12: 4, 6, 8 and 10, 12, 14.
    plan = _plan(RING)
    (sheet,) = draw(plan, kit_of(plan))
    said = texts(sheet)
    for figure in ("5", "11", "17", "35", "40", "45", "4", "6", "8", "10", "12", "14"):
        assert figure in said
    words = prose(sheet)
    # Round about 2 (12 + 10) = 44; 4 pi = 12.566, that is 12-9/16.
    assert f"window 12 {BY} 10, centre 11 across, 40 up. Edges: seal A3 window, 44 in." in words
    assert "vent 4 across, centre 6 across, 12 up. Edges: seal A4R vent, 12-9/16 in." in words
    assert "Cut after hinging, before sealing." in words
    assert "A3: across from the mid edge, up from the sill." in words and "up from the eave" in words


@pytest.mark.parametrize("text", [RING, MANY], ids=["ring", "many"])
def test_every_leaf_is_drawn_to_scale_and_to_its_hand(text: str) -> None:
    plan = _plan(text)
    sheets = draw(plan, kit_of(plan))
    views = [(sheet, view) for sheet in sheets for view in sheet.viewports]
    leaves = [leaf for leaf in plan.assembly.leaves if leaf.openings]
    assert len(views) == len(leaves)
    for leaf, (sheet, view) in zip(leaves, views, strict=True):
        left, bottom, right, top = view.rect
        for opening in leaf.openings:
            # The datum is the lower corner on the mid edge: right in a mid right leaf.
            corner = left if leaf.hand.sign > 0 else right
            x, y = corner + opening.x / view.ratio, bottom + opening.y / view.ratio
            assert left < x < right and bottom < y < top
            assert any(_drawn_at(mark, x, y, opening.width / view.ratio) for mark in sheet.marks), (leaf.mark, opening)


def _drawn_at(mark: object, x: float, y: float, wide: float) -> bool:
    if isinstance(mark, Circle):
        return (*mark.centre, 2 * mark.radius) == pytest.approx((x, y, wide), abs=1e-6)
    if not isinstance(mark, Outline) or len(mark.points) != 4:
        return False
    xs, ys = [p[0] for p in mark.points], [p[1] for p in mark.points]
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, max(xs) - min(xs)) == pytest.approx((x, y, wide), abs=1e-6)


def test_several_openings_of_a_leaf_are_numbered() -> None:
    plan = _plan(MANY)
    said = " ".join(prose(sheet) for sheet in draw(plan, kit_of(plan)))
    for number, kind in ((1, f"window 120 {BY} 100"), (2, f"window 200 {BY} 150"), (3, "cable sleeve 40 across")):
        assert f"{number} {kind}" in said
    assert "seal A3 window 2" in said


def test_listed_leaves_name_their_own_edges() -> None:
    plan = _plan(BOX)
    (sheet,) = draw(plan, kit_of(plan))
    assert "SIDE1: across from the left edge, up from the bottom edge." in prose(sheet)
