"""The checklist with its pictures, read as data."""

from __future__ import annotations

import pytest

from packet.assembly.records import SeamKind
from packet.assembly.unfolded import laid_pair
from packet.description.terms import Face
from packet.drawing.marks import Text, bounds
from packet.sheets.step_pictures import WIDTH, step_picture
from packet.work.tasks import tasks
from tests.sheets.drawn import kit_of, letters
from tests.zoo import zoo_plan

NO_PICTURE = {"brief", "materials", "inspect"}
"""Steps of which nothing is to be seen: words, a list, a walk round."""


@pytest.mark.parametrize("name", ["six left", "four inch", "screen", "booth", "cool-box", "tall roof metric"])
def test_each_step_that_has_something_to_show_has_a_picture(name: str) -> None:
    plan = zoo_plan(name)
    kit = kit_of(plan)
    for task in tasks(plan):
        picture = step_picture(plan, kit, task)
        bare = task.step in NO_PICTURE or (task.step == "keep" and not any(board.held for board in plan.boards))
        assert (picture is None) == bare, task.key
        if picture:
            left, _, right, _ = bounds(picture.marks, letters())
            assert left > -0.6 and right < WIDTH + 0.6, task.key


@pytest.mark.parametrize("name", ["six left", "eight outer left", "across", "leaning"])
def test_a_hinge_says_the_face_that_closes_and_the_wrap_the_other(name: str) -> None:
    """The flat strip lies on the closing face, the wrap on the other one (hinge law, common practice, no source)."""
    plan = zoo_plan(name)
    kit = kit_of(plan)
    for task in tasks(plan):
        if task.step.startswith("hinge_"):
            picture = step_picture(plan, kit, task)
            assert picture
            seam = plan.assembly.seam_by_mark[task.values["seams"][0]]
            words = [mark.string for mark in picture.marks if isinstance(mark, Text)]
            assert words == [seam.closing_face.upper(), *[seam.opening_face.upper()] * 2]


@pytest.mark.parametrize("name", ["six left", "four left thick", "leaning"])
def test_a_pair_lies_on_either_side_of_its_seam(name: str) -> None:
    """Laid flat, no point of one leaf lies across the seam's line, and none of the seam is off either outline."""
    assembly = zoo_plan(name).assembly
    for seam in assembly.bonded(SeamKind.WALL_MID, SeamKind.CORNER, SeamKind.EAVE, SeamKind.SEAM):
        for face in Face:
            first, second, ((ax, ay), (bx, by)) = laid_pair(assembly, seam, face)
            sides = [[(bx - ax) * (y - ay) - (by - ay) * (x - ax) for x, y in ring] for ring in (first, second)]
            assert min(sides[0]) > -1.0 or max(sides[0]) < 1.0
            assert (max(sides[0]) > 1.0) != (max(sides[1]) > 1.0)
