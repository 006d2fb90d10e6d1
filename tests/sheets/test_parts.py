"""Part cards: every leaf on one card, with its sizes, its face, its hand and its count."""

from __future__ import annotations

import math

import pytest

from packet.sheets.parts import draw
from packet.units import INCH
from packet.work.part_kinds import part_kinds
from tests.conftest import CHECK_CASE, SAMPLES, plan_of
from tests.sheets.drawn import kit_of, prose, texts
from tests.zoo import plain_zoo, releasable_zoo, zoo, zoo_plan

EVERY = [*zoo(), *plain_zoo(), *releasable_zoo()]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_leaf_takes_much_of_its_page(path: object) -> None:
    """A scale of the standard series is at most two and a half times the next one, so 0.35 of the room is in reach."""
    plan = plan_of(path)  # type: ignore[arg-type]
    kit = kit_of(plan)
    for sheet in draw(plan, kit):
        shares = [max((right - left) / kit.room.width * len(sheet.viewports), (top - bottom) / kit.room.height)
                  for left, bottom, right, top in (view.rect for view in sheet.viewports)]
        assert max(shares) > 0.35, sheet.number


@pytest.mark.parametrize("name", EVERY)
def test_every_leaf_is_on_one_card_with_its_like(name: str) -> None:
    plan = zoo_plan(name)
    kinds = part_kinds(plan)
    assert sorted(mark for kind in kinds for mark in kind.marks) == sorted(leaf.mark for leaf in plan.assembly.leaves)
    for kind in kinds:
        sizes = {tuple(sorted(round(math.dist(a, b), 2) for a, b in zip(leaf.outline, leaf.outline[1:], strict=False)))
                 for leaf in plan.assembly.leaves if leaf.mark in kind.marks}
        assert len(sizes) == 1


def test_cards_of_the_check_case() -> None:
    """Sizes worked out by hand: leaf 24 x 48, door 47, roof 24 / 45.5 / 50.87 / 1.25 (common practice, no source)."""
    plan = plan_of(CHECK_CASE)
    sheets = draw(plan, kit_of(plan))
    said = " ".join(prose(sheet) for sheet in sheets)
    figures = {text for sheet in sheets for text in texts(sheet)}
    assert {"24", "48", "47", "45-1/2", "50-7/8"} <= figures
    for wanted in ("tip 1-1/4", "Door leaf", "Trim 1 in off the bottom", "centre 23 below the top", "INNER"):
        assert wanted in said
    assert sum(int(text.split()[0]) for sheet in sheets for text in texts(sheet) if text.endswith(("piece", "pieces"))) == 24


def test_edges_tell_the_tape_that_lies_on_them() -> None:
    """Strips of 1 in board with a land of 2: flat 4, wrap 6 (common practice, no source); a door has no hinge but its mid."""
    plan = plan_of(CHECK_CASE)
    kinds = {kind.marks[0]: kind for kind in part_kinds(plan)}
    door = {each.edge: [(role, round(width / INCH, 2)) for role, _, width in each.strips] for each in kinds["A1"].tape}
    assert door["mid"] == [("flat", 4.0), ("wrap", 6.0)]
    assert all(role == "seal" for edge in ("corner", "eave", "sill") for role, _ in door[edge])
    wall = {each.edge: [role for role, _, _ in each.strips] for each in kinds["A3"].tape}
    assert wall == {"mid": ["flat", "wrap"], "corner": ["flat", "wrap"], "eave": ["flat", "wrap"], "sill": ["sill"]}
