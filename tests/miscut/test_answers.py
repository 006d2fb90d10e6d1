"""Answers to spoiled leaves. The check case's numbers were worked out by hand (common practice, no published source)."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from packet.boards.mended import same_blank
from packet.description.decided import Decision, Remedy
from packet.description.problems import ProjectError
from packet.miscut.answers import Answer, Case, answers, unfixed
from packet.miscut.damage import Damage
from packet.miscut.telling import lines
from packet.plan import Plan, make_plan
from packet.resources import samples
from packet.units import Format
from packet.words import Words
from tests.conftest import CHECK_CASE, plan_of
from tests.sheets.drawn import INCHES
from tests.zoo import zoo, zoo_plan

INCH = 25.4


def case(mark: str, plan: Plan | None = None, done: tuple[str, ...] = (), **damage: Any) -> Case:
    own = plan or plan_of(CHECK_CASE)
    return Case(own, own.assembly.by_mark[mark], Damage(**damage), "as measured", done)


def ranked(found: Case) -> dict[Remedy, Answer]:
    return {answer.remedy: answer for answer in answers(found)}


def first(found: Case) -> Remedy:
    return next(answer.remedy for answer in answers(found) if answer.possible)


def after(answer: Answer, name: str, of: str = "") -> float:
    return next(effect.after for effect in answer.effects if effect.name == name and of in effect.of)


def test_order_is_fixed() -> None:
    assert [str(answer.remedy) for answer in answers(case("A3", lost=True))] == [
        "use", "slot", "spare", "blank", "packer", "partner", "all", "board"]


def test_short_wall_leaf_becomes_a_door() -> None:
    found = ranked(case("A3", height=47.5 * INCH))
    assert first(case("A3", height=47.5 * INCH)) is Remedy.SLOT
    assert found[Remedy.SLOT].values["slot"] == "A1"
    assert found[Remedy.SLOT].values["height"] == pytest.approx(47 * INCH)
    assert found[Remedy.SLOT].values["gap"] == 0.0


def test_narrow_wall_leaf() -> None:
    narrow = case("A3", width=23.5 * INCH)
    found = ranked(narrow)
    assert dict(unfixed(narrow))["A1/A2"] == pytest.approx(0.5 * INCH)
    assert found[Remedy.SLOT].values["gap"] == pytest.approx(0.5 * INCH, abs=0.01)
    assert found[Remedy.BLANK].values["left"] == 2
    assert found[Remedy.PACKER].hours == 24
    partner = found[Remedy.PARTNER]
    assert partner.decision is not None
    assert set(partner.decision.trimmed) == {"A2", "A2R", "A3R"}
    assert after(partner, "angle_corner", "A2/A3") == pytest.approx(120.87, abs=0.005)
    assert after(partner, "angle_corner", "A4/A5") == pytest.approx(119.83, abs=0.005)
    assert after(partner, "rise") / INCH == pytest.approx(24.25, abs=0.005)
    assert after(partner, "apex") / INCH == pytest.approx(72.25, abs=0.005)
    everything = found[Remedy.ALL]
    assert everything.values["count"] == 24
    assert after(everything, "rise") / INCH == pytest.approx(25.44, abs=0.005)
    assert after(everything, "apex") / INCH == pytest.approx(73.44, abs=0.005)
    assert after(everything, "slope") == pytest.approx(32.0, abs=0.05)


@pytest.mark.parametrize("height", [45.5, 46.0, 47.9])
def test_roof_leaf_short_at_the_tip_is_used(height: float) -> None:
    found = answers(case("A3R", height=height * INCH))[0]
    assert found.possible
    assert found.values["datum"] == "eave"
    assert found.values["height"] == pytest.approx(45.5 * INCH)


def test_roof_leaf_shorter_than_its_trim_is_made_anew() -> None:
    assert first(case("A3R", height=45.25 * INCH)) is Remedy.BLANK


def test_roof_leaf_short_at_the_eave_takes_its_own_hand() -> None:
    """2 + 2 in the held half board: the second leaf of the rectangle is a spare, of the same hand and no other."""
    short = case("A3R", shaved=("eave", 0.5 * INCH))
    found = ranked(short)[Remedy.BLANK]
    assert first(short) is Remedy.BLANK
    assert found.decision is not None
    mended = make_plan(replace(short.plan.description, decided=(found.decision,)))
    (spare, shape), = mended.mended.spares
    same = next(leaf for leaf in mended.assembly.leaves if leaf.mark not in ("A3R",) and leaf.kind is short.leaf.kind
                and leaf.hand is short.leaf.hand)
    other = next(leaf for leaf in mended.assembly.leaves if leaf.kind is short.leaf.kind and leaf.hand is not short.leaf.hand)
    assert (spare, shape) == ("A3R-S1", "A3R")
    assert first(case(same.mark, mended, shaved=("eave", 0.5 * INCH))) is Remedy.SPARE
    assert first(case(other.mark, mended, shaved=("eave", 0.5 * INCH))) is Remedy.BLANK


def test_roof_leaf_shaved_along_the_hip() -> None:
    loss = case("A3R", shaved=("hip", 0.5 * INCH)).loss
    assert loss is not None
    lost = dict(loss.beside)
    assert lost["eave"] / INCH == pytest.approx(0.559, abs=0.0005)
    assert lost["mid"] / INCH == pytest.approx(1.118, abs=0.0005)


def test_held_half_board_gives_two_walls_and_no_third() -> None:
    plan = plan_of(CHECK_CASE)
    for count in (1, 2):
        found = ranked(case("A3", plan, lost=True))[Remedy.BLANK]
        assert found.possible, count
        assert found.decision is not None
        plan = make_plan(replace(plan.description, decided=(*plan.description.decided, found.decision)))
    assert not ranked(case("A3", plan, lost=True))[Remedy.BLANK].possible
    assert first(case("A3", plan, lost=True)) is Remedy.BOARD


@pytest.mark.parametrize("name", [name for name in zoo() if "low" not in name])
def test_circle_against_a_recomputation(name: str) -> None:
    """One corner's leaves 1 % narrower: circle by Brent's method, angles from the normals of planes built anew."""
    plan = zoo_plan(name)
    assert plan.ring is not None
    by = 0.01 * plan.ring.leaf_width
    spoiled = "A3" if "A3" in plan.parts.by_mark else "A3R"  # a wall in parts is not what the others are trimmed to
    decision = Decision(1, Remedy.PARTNER, spoiled, "", edge="corner", amount=by)
    new = make_plan(replace(plan.description, decided=(decision,)))
    assert new.ring is not None
    assert new.closure.closes
    assert new.pack.packs
    width, n, slant = plan.ring.leaf_width, plan.ring.walls, plan.ring.slant
    narrow = width - by
    radius = float(brentq(lambda r: (n - 1) * math.atan(width / r) + math.atan(narrow / r) - math.pi, 0.1 * width, n * width,
                          xtol=1e-12))
    assert new.ring.rise == pytest.approx(math.sqrt(slant**2 - radius**2), abs=1e-6)
    for seam, turn in (("A2/A3", 2 * math.atan(narrow / radius)), ("A2R/A3R", 2 * math.atan(narrow / radius)),
                       ("A1R/A2R", 0.0)):
        # Unit normals of the two planes: walls level, gores leaning by the slope.
        up = radius / slant if seam.endswith("R") else 0.0
        flat = math.sqrt(1 - up**2)
        first_normal = np.array([flat, 0.0, up])
        second_normal = np.array([flat * math.cos(turn), flat * math.sin(turn), up])
        between = 180.0 - math.degrees(math.acos(min(1.0, float(first_normal @ second_normal))))
        assert new.assembly.seam_by_mark[seam].angle_open == pytest.approx(between, abs=1e-4)


def test_a_mate_that_is_taped_is_not_trimmed() -> None:
    found = ranked(case("A3", width=23.5 * INCH, done=("A2R",)))
    assert found[Remedy.PARTNER].no == "taped"
    assert found[Remedy.PARTNER].values["leaves"] == ["A2R"]


def test_a_door_that_is_taped_is_no_place() -> None:
    found = ranked(case("A3", height=47.5 * INCH, done=("A1",)))
    assert found[Remedy.SLOT].values["slot"] == "B1"


def test_swapped_pieces_are_on_each_others_places() -> None:
    found = ranked(case("A3", height=47.5 * INCH))[Remedy.SLOT]
    before = plan_of(CHECK_CASE)
    assert found.decision is not None
    new = make_plan(replace(before.description, decided=(found.decision,)))

    def place(plan: Plan, mark: str) -> tuple[str, Any]:
        return next((board.mark, sorted((round(x, 3), round(y, 3)) for x, y in piece.rough))
                    for board in plan.boards for piece in board.pieces if piece.leaf == mark)

    assert place(new, "A1") == place(before, "A3")
    assert place(new, "A3") == place(before, "A1")
    assert sum(len(board.cuts) for board in new.boards) == sum(len(board.cuts) for board in before.boards)


def test_small_holes_and_holes_in_waste_are_no_damage() -> None:
    assert first(case("A3", hole=(10 * INCH, 20 * INCH, 0.1 * INCH))) is Remedy.USE
    assert first(case("A3R", hole=(0.5 * INCH, 47 * INCH, 0.4 * INCH))) is Remedy.USE
    assert first(case("A3R", hole=(5 * INCH, 10 * INCH, 0.4 * INCH))) is not Remedy.USE


def test_wrong_hand() -> None:
    """A rectangle has no hand until it is drilled; a roof leaf fits only inside out."""
    assert first(case("A3", wrong_hand=True)) is Remedy.USE
    wrong = case("A3R", wrong_hand=True)
    assert first(wrong) is Remedy.BLANK
    decision = ranked(wrong)[Remedy.BLANK].decision
    assert decision is not None and decision.keeps == "A3R-W1"
    kept = make_plan(replace(wrong.plan.description, decided=(decision,)))
    # The spoiled leaf itself serves a leaf of the hand it has; the second one of its rectangle serves its own.
    assert ranked(case("A2R", kept, lost=True))[Remedy.SPARE].values["spare"] == "A3R-W1"
    assert ranked(case("A5R", kept, lost=True))[Remedy.SPARE].values["spare"] == "A3R-S1"
    taped = case("A3R", done=("A3R",), wrong_hand=True)
    assert ranked(taped)[Remedy.BLANK].values["keeps"] == ""
    assert ranked(taped)[Remedy.BLANK].tape > 0.0


@pytest.mark.parametrize("name", ["screen", "booth", "cool-box"])
@pytest.mark.parametrize("damage", [{"width": 200.0}, {"height": 390.0}, {"shaved": ("right", 5.0)}, {"skew": 6.0},
                                    {"hole": (100.0, 100.0, 50.0)}, {"wrong_hand": True}, {"lost": True}], ids=str)
def test_chains_and_free_forms_have_an_answer_or_a_reason(name: str, damage: dict[str, Any]) -> None:
    """A rectangle has no hand; a trim of mates needs a ring; a new leaf is always possible."""
    plan = zoo_plan(name)
    found = case(plan.assembly.leaves[1].mark, plan, **damage)
    own = ranked(found)
    assert own[Remedy.BOARD].possible and first(found) is (Remedy.USE if "wrong_hand" in damage else first(found))
    assert own[Remedy.USE].possible == ("wrong_hand" in damage)
    assert {own[Remedy.PARTNER].no, own[Remedy.ALL].no} <= {"no_strip", "no_ring"}
    assert own[Remedy.PACKER].no in ("no_strip", "packer_size") or damage in ({"height": 390.0}, {"shaved": ("right", 5.0)})
    told = "\n".join(lines(Words(Format(plan.description.system)), found, answers(found)))
    assert "ADVISED" in told and not re.search(r"\beaves?\b", told)


@pytest.mark.parametrize("path", sorted(samples().glob("*.yaml")), ids=lambda path: path.stem)
def test_every_leaf_of_every_sample_has_an_answer_in_its_units(path: Any) -> None:
    plan = plan_of(path)
    words = Words(Format(plan.description.system))
    for leaf in plan.assembly.leaves:
        for damage in ({"lost": True}, {"shaved": (leaf.edges[1], 12.0)}, {"skew": 4.0}):
            told = "\n".join(lines(words, one := case(leaf.mark, plan, **damage), answers(one)))
            assert "ADVISED" in told
            assert plan.description.system != "mm" or not INCHES.search(told)


def test_a_decision_that_does_not_fit_is_refused() -> None:
    description = plan_of(CHECK_CASE).description
    with pytest.raises(ProjectError, match="no blank 9H1"):
        make_plan(replace(description, decided=(Decision(1, Remedy.BLANK, "A3", "", source="9H1"),)))
    with pytest.raises(ProjectError, match="no leaf Z9"):
        make_plan(replace(description, decided=(Decision(1, Remedy.USE, "Z9", ""),)))


def test_only_rectangles_of_one_size_change_places() -> None:
    leaves = {leaf.mark: leaf for leaf in plan_of(samples() / "ticket_booth.yaml").assembly.leaves}
    assert same_blank(leaves["LEFT"], leaves["RIGHT"])
    assert not same_blank(leaves["LEFT"], leaves["FRONT"])
    ring = {leaf.mark: leaf for leaf in plan_of(CHECK_CASE).assembly.leaves}
    assert not same_blank(ring["A2R"], ring["A4R"])


def test_a_spare_that_is_used_is_gone_and_the_other_stays() -> None:
    wrong = case("A3R", wrong_hand=True)
    made = ranked(wrong)[Remedy.BLANK].decision
    assert made is not None
    kept = make_plan(replace(wrong.plan.description, decided=(made,)))
    assert [spare for spare, _ in kept.mended.spares] == ["A3R-S1", "A3R-W1"]
    used = ranked(case("A2R", kept, lost=True))[Remedy.SPARE].decision
    assert used is not None
    after = make_plan(replace(kept.description, decided=(made, used)))
    assert [spare for spare, _ in after.mended.spares] == ["A3R-S1"]
