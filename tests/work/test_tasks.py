"""The work derived from the graph: complete, each thing once, in an order that the trade allows, for any ring."""

from __future__ import annotations

import networkx as nx
import pytest

from packet.assembly.records import LeafKind, SeamKind
from packet.boards.blanks import rough_size
from packet.boards.records import CutKind
from packet.plan import Plan
from packet.tape.strips import Role
from packet.units import INCH
from packet.work.limits import apex_limit, flats_limit, overall_limits
from packet.work.sheet_numbers import board_sheet, sheet_number
from packet.work.task import Task
from packet.work.tasks import tasks
from tests.conftest import CHECK_CASE, plan_of
from tests.work.kinds import FIVE, OTHERS, PLAIN
from tests.zoo import zoo, zoo_plan

NAMES = tuple(name for name in zoo() if zoo_plan(name).ring is not None and not any(
    seam.removable for seam in zoo_plan(name).assembly.seams))
"""Rings of two interlocked halves."""


@pytest.fixture(params=[*NAMES, "check case"])
def plan(request: pytest.FixtureRequest) -> Plan:
    return plan_of(CHECK_CASE) if request.param == "check case" else zoo_plan(request.param)


@pytest.fixture(params=[*NAMES, "check case", *OTHERS])
def any_plan(request: pytest.FixtureRequest) -> Plan:
    if request.param in OTHERS:
        return OTHERS[request.param]
    return plan_of(CHECK_CASE) if request.param == "check case" else zoo_plan(request.param)


def graph(work: tuple[Task, ...]) -> nx.DiGraph:
    made = nx.DiGraph()
    made.add_nodes_from(task.key for task in work)
    made.add_edges_from((before, task.key) for task in work for before in task.after)
    return made


def place(work: tuple[Task, ...], mark: str) -> int:
    """The place in the order of the one task that lays a strip."""
    found = [index for index, task in enumerate(work) if mark in task.strips]
    assert len(found) == 1, f"{mark} is laid by {len(found)} tasks"
    return found[0]


def test_the_zoo_has_every_even_wall_count() -> None:
    assert {zoo_plan(name).geometry.walls for name in NAMES} == {4, 6, 8, 10, 12}


def test_the_order_is_topological(any_plan: Plan) -> None:
    work = tasks(any_plan)
    at = {task.key: index for index, task in enumerate(work)}
    assert len(at) == len(work)
    assert nx.is_directed_acyclic_graph(graph(work))
    assert all(at[before] < at[task.key] for task in work for before in task.after)


def test_nothing_is_left_when_the_lead_inspects(any_plan: Plan) -> None:
    work = tasks(any_plan)
    assert work[-1].step == "inspect"
    assert nx.ancestors(graph(work), "inspect") == {task.key for task in work[:-1]}


def test_every_strip_is_laid_once(any_plan: Plan) -> None:
    laid = [mark for task in tasks(any_plan) for mark in task.strips]
    assert sorted(laid) == sorted(strip.mark for strip in any_plan.strips)


def test_every_cut_is_made_once(any_plan: Plan) -> None:
    made = [cut for task in tasks(any_plan) for cut in task.cuts]
    assert sorted(made) == sorted((board.mark, cut.number) for board in any_plan.boards for cut in board.cuts)


def test_every_slit_is_made_once_and_with_its_strip(any_plan: Plan) -> None:
    work = tasks(any_plan)
    made = [cut for task in work for cut in task.relief]
    key = [(cut.strip, cut.between) for cut in made]
    assert sorted(key) == sorted((cut.strip, cut.between) for cut in any_plan.relief)
    assert all(cut.strip in task.strips for task in work for cut in task.relief)


def test_every_bonded_seam_gets_its_strips_in_the_order_of_its_kind(any_plan: Plan) -> None:
    """Hinge law: flat strip, fold, wrap; at a hip the wrap in the pack comes first and the flat strip last."""
    work = tasks(any_plan)
    for seam in any_plan.assembly.bonded():
        flat, wrap = place(work, f"flat {seam.mark}"), place(work, f"wrap {seam.mark}")
        if seam.kind is SeamKind.HIP:
            assert wrap < flat
            assert work[wrap].station == "J"
            assert work[flat].station == "X"
        elif flat == wrap:
            order = work[flat].strips
            assert order.index(f"flat {seam.mark}") < order.index(f"wrap {seam.mark}")
        else:
            assert flat < wrap


def test_foil_on_a_wrap_goes_on_in_the_same_task(any_plan: Plan) -> None:
    """Laid on an erected V it tears at the first folding."""
    work = tasks(any_plan)
    wraps = [s.mark for s in any_plan.strips if s.role is Role.WRAP and f"foil over {s.mark}" in
             {f.mark for f in any_plan.strips}]
    assert wraps
    assert all(place(work, mark) == place(work, f"foil over {mark}") for mark in wraps)


def test_no_tape_before_the_surface_is_ready_and_the_leaves_are_sorted(any_plan: Plan) -> None:
    work = tasks(any_plan)
    made = graph(work)
    by_mark = any_plan.assembly.by_mark
    for task in work:
        if task.strips:
            before = nx.ancestors(made, task.key)
            assert "surface" in before
            assert {f"sort:{by_mark[mark].half}" for mark in task.marks} <= before


def test_one_marking_and_one_cutting_task_for_each_board(any_plan: Plan) -> None:
    work = tasks(any_plan)
    for step in ("mark", "cut"):
        assert [task.key for task in work if task.step == step] == [f"{step}:{b.mark}" for b in any_plan.boards]
    for board in any_plan.boards:
        marked = next(task for task in work if task.key == f"mark:{board.mark}")
        assert marked.marks == tuple(dict.fromkeys(any_plan.owners[piece.leaf] for piece in board.pieces))


def test_door_trims_and_the_held_board_come_last_among_the_cuts(plan: Plan) -> None:
    order = [cut for task in tasks(plan) for cut in task.cuts]
    kinds = {(board.mark, cut.number): cut.kind for board in plan.boards for cut in board.cuts}
    doors = [kinds[cut] is CutKind.DOOR for cut in order]
    assert sum(doors) == len(plan.assembly.doors)
    assert doors == sorted(doors)
    held = {board.mark for board in plan.boards if board.held}
    on_held = [cut[0] in held for cut in order if kinds[cut] is not CutKind.DOOR]
    assert on_held == sorted(on_held)
    # Not by chance of the order: the held board waits for all others.
    made = graph(tasks(plan))
    others = {f"cut:{board.mark}" for board in plan.boards}
    assert all(others - {f"cut:{mark}"} <= nx.ancestors(made, f"cut:{mark}") for mark in held)


def test_every_hold_point_of_the_trade_is_there(plan: Plan) -> None:
    holds = {task.key: task for task in tasks(plan) if task.hold}
    halves = plan.assembly.halves
    expected = {"receive", "interlock", "erect", *(f"relief:{h}" for h in halves), *(f"fold:{h}" for h in halves),
                "first_hinge:wall mid", "first_hinge:corner", "first_hinge:gore mid"}
    firsts = {key for key in holds if key.startswith("first_pieces:")}
    assert set(holds) - firsts == expected
    held = {mark for key in firsts for mark in holds[key].marks}
    types = {(leaf.kind, leaf.hand if leaf.kind is LeafKind.ROOF else None)
             for leaf in map(plan.assembly.by_mark.__getitem__, held)}
    assert types == {(LeafKind.WALL, None)} | {(LeafKind.ROOF, leaf.hand) for leaf in plan.assembly.leaves}


def test_a_first_piece_holds_every_later_piece_of_its_type(any_plan: Plan) -> None:
    work = tasks(any_plan)
    made, by_mark = graph(work), any_plan.parts.by_mark
    for hold in (task for task in work if task.step == "first_pieces"):
        board = hold.values["board"]
        for mark in hold.values["some"]:
            leaf = by_mark[mark]
            later = [b.mark for b in any_plan.boards if int(b.mark) > int(board) and any(
                by_mark[p.leaf].kind is leaf.kind and rough_size(by_mark[p.leaf]) == rough_size(leaf) and (
                    leaf.kind is LeafKind.WALL or by_mark[p.leaf].hand is leaf.hand) for p in b.pieces)]
            assert all(hold.key in nx.ancestors(made, f"mark:{other}") for other in later)


def test_hold_points_stop_what_depends_on_them(plan: Plan) -> None:
    made = graph(tasks(plan))
    for half in plan.assembly.halves:
        assert f"relief:{half}" in nx.ancestors(made, f"fold:{half}")
        assert f"fold:{half}" in nx.ancestors(made, "interlock")
    assert all("interlock" in nx.ancestors(made, key) for key in made if key.startswith("hips:"))
    assert all("erect" in nx.ancestors(made, key) for key in ("hip_flats", "patches", "strike", "inspect"))


def test_hips_go_layer_pair_by_layer_pair_from_the_top(plan: Plan) -> None:
    """Common practice, no source: both columns, layers 6-5, then 4-3, then turn over, 2-1; so for any count."""
    pairs = [task for task in tasks(plan) if task.step == "hips"]
    top = plan.pack.layers
    assert [(task.values["upper"], task.values["lower"]) for task in pairs] == [
        (layer, layer - 1) for layer in range(top, 0, -2)]
    assert [task.values["turned"] for task in pairs] == [False] * (len(pairs) - 1) + [True]
    for task in pairs:
        columns = {mark.removesuffix("R"): i for i, column in enumerate(plan.pack.columns) for mark in column}
        joined = [{columns[mark.removesuffix("R")] for mark in seam.split("/")} for seam in task.values["seams"]]
        assert sorted(map(sorted, joined)) == [[0], [1]]


def test_the_wall_to_press_has_neither_door_nor_jamb(plan: Plan) -> None:
    strike = next(task for task in tasks(plan) if task.step == "strike")
    doors = plan.assembly.doors
    barred = {door.mark for door in doors} | {plan.assembly.jamb_of(door).mark for door in doors}
    pressed = {mark for seam in strike.values["press"] for mark in seam.split("/")}
    assert not pressed & barred
    # Each half has one wall with a door and one with a jamb; all others fold.
    assert len(strike.values["press"]) == plan.geometry.walls - 4


def test_sheets_named_by_tasks_are_sheets_of_the_packet(plan: Plan) -> None:
    known = {sheet_number(name) for name in ("cautions", "order", "receiving", "arrangement", "recipe.mid", "recipe.corner",
                                             "recipe.sill", "relief", "door", "recipe.eave", "roof", "fold",
                                             "recipe.hip", "erect", "inspection", "halves")}
    known |= {sheet_number("splice")} if any(leaf.splices for leaf in plan.assembly.leaves) else set()
    known |= {sheet_number("cover", 2)} | {board_sheet(int(board.mark)) for board in plan.boards}
    named = {number for task in tasks(plan) for number in task.sheets}
    assert named == known
    assert all(len(number) <= 4 for number in named)


def test_check_case_work() -> None:
    """Numbers worked out by hand (common practice, no published source)."""
    plan = plan_of(CHECK_CASE)
    work = {task.key: task for task in tasks(plan)}
    # 8 sill slits in all, each 2.5 long.
    for half, between in (("A", "A2-A6"), ("B", "B2-B6")):
        (count, length), = work[f"sill:{between}"].values["slits"]
        assert (count, round(length / INCH, 6)) == (4, 2.5), half
    assert [key for key in work if key.startswith("hips:")] == ["hips:6-5", "hips:4-3", "hips:2-1"]
    assert work["fold:A"].values["order"] == ("A1/A2", "A2/A3", "A3/A4", "A4/A5")
    assert work["fold:A"].values["flat"] == ("A5/A6",)
    assert work["interlock"].values["columns"] == (
        ("A6", "B1", "B2", "B3", "B4", "B5"), ("A5", "A4", "A3", "A2", "A1", "B6"))
    assert [round(mm / INCH, 6) for mm in work["interlock"].values["pack"]] == [48, 93.5, 6]
    # Two corner seams in each half.
    corners = [seam for key, task in work.items() if task.step == "hinge_corner" for seam in task.values["seams"]]
    assert sorted(corners) == ["A2/A3", "A4/A5", "B2/B3", "B4/B5"]
    # The last half board stays whole: 48 x 48.
    (held,) = work["keep"].values["held"]
    assert (held["board"], round(held["length"] / INCH, 3), round(held["breadth"] / INCH, 3)) == ("5", 48, 48)
    # Five of six leaves carry the sill strip, and eaves are bonded on the same five.
    assert work["sill:A2-A6"].marks == ("A2", "A3", "A4", "A5", "A6")
    assert [mark for mark in work["roof:A"].marks if not mark.endswith("R")] == ["A2", "A3", "A4", "A5", "A6"]


def test_limits_of_the_erected_check_case() -> None:
    """By hand: rise changes by -3 per unit of leaf width and +2 per unit of slant; cutting limit 1/8 in.

    Across flats 83.14 for a leaf of 24 changes in proportion to the leaf.
    """
    plan = plan_of(CHECK_CASE)
    assert apex_limit(plan) / INCH == pytest.approx((3 + 2 + 1) / 8, abs=1e-6)
    assert flats_limit(plan) / INCH == pytest.approx(83.14 / 24 / 8, abs=1e-4)


@pytest.mark.parametrize("name", PLAIN)
def test_what_a_project_does_not_need_is_no_task(name: str) -> None:
    steps = {task.step for task in tasks(PLAIN[name])}
    assert not steps & {"door", "jamb", "above_door", "roof", "eave_outer", "interlock", "hips", "hip_flats", "patches",
                        "doubler", "release", "hinge_wall_mid", "hinge_corner", "hinge_gore_mid"}
    assert ("sill" in steps) == (name != "cool-box")
    assert {"fold", "erect", "strike", "inspect", "hinge_seam"} <= steps


@pytest.mark.parametrize("name", PLAIN)
def test_hold_points_of_what_is_no_ring(name: str) -> None:
    plan = PLAIN[name]
    holds = {task.key for task in tasks(plan) if task.hold}
    # Hinges that close the same way to the same angles are made alike.
    alike = {(seam.closing_face, seam.angle_open, seam.angle_packed) for seam in plan.assembly.bonded()}
    assert {"receive", "fold:A", "erect"} <= holds
    assert ("relief:A" in holds) == bool(plan.relief)
    assert sum(key.startswith("first_hinge:") for key in holds) == len(alike)
    types = {tuple(sorted(seen_size(leaf.rough))) for leaf in plan.assembly.leaves}
    held = [mark for task in tasks(plan) if task.step == "first_pieces" for mark in task.marks]
    assert len(held) == len({tuple(seen_size(plan.assembly.by_mark[mark].rough)) for mark in held}) >= len(types)


def seen_size(outline: tuple[tuple[float, float], ...]) -> list[float]:
    return [max(p[i] for p in outline) - min(p[i] for p in outline) for i in (0, 1)]


def test_an_odd_ring_is_stacked_and_its_hips_taped_pair_by_pair() -> None:
    """Ten layers, hips between 9-8, 7-6, 5-4 and 3-2: mid seams fold 10-9, 8-7 and on (pack law, by hand)."""
    work = {task.key: task for task in tasks(FIVE)}
    column = work["interlock"].values["columns"][0]
    assert column == ("A1", "A2", "A3", "A4", "A5", "A6", "B1", "B2", "B3", "B4")
    assert (work["fold:A"].values["layers"], work["fold:B"].values["layers"]) == (6, 4)
    assert [key for key in work if key.startswith("hips:")] == ["hips:9-8", "hips:7-6", "hips:5-4", "hips:3-2"]
    order = list(work)
    assert order.index("hip_flats") < order.index("release:B4R/A1R") < order.index("strike")
    barred = {leaf.mark for door in FIVE.assembly.doors for leaf in (door, FIVE.assembly.jamb_of(door))}
    pressed = {mark for seam in work["strike"].values["press"] for mark in seam.split("/")}
    assert pressed
    assert not pressed & barred


def test_limits_over_all_add_up_along_a_row() -> None:
    """A booth of 40 between wings: one leaf's error each way; a screen of six leaves in zigzag adds up four or more."""
    cut = PLAIN["booth"].description.limits.cut
    assert overall_limits(PLAIN["booth"]) == pytest.approx((cut, cut, cut))
    screen = PLAIN["screen"]
    assert overall_limits(screen)[0] >= 4 * screen.description.limits.cut
    assert overall_limits(screen)[2] == screen.description.limits.cut
