"""The check case: numbers of the trade worked out by hand beforehand (common practice, no published source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from packet.assembly.records import SeamKind, seam_gap
from packet.assembly.ring_geometry import RingGeometry, trim_for_opening
from packet.description import ProjectError, load
from packet.figures import figures, leaf_area
from packet.plan import Plan, make_plan
from packet.tape.hinge_law import NoLand, edge_width, lay, wrap_width
from packet.tape.strips import Role
from tests.conftest import CHECK_CASE, plan_of

INCH = 25.4
FOOT = 304.8


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(CHECK_CASE)


def variant(tmp_path: Path, **lines: str) -> Plan:
    """The check case with some lines of its file replaced: key=value of the last key on the line."""
    text = CHECK_CASE.read_text(encoding="utf-8").splitlines()
    for key, value in lines.items():
        hits = [i for i, line in enumerate(text) if line.strip().startswith(f"{key}:")]
        assert len(hits) == 1, f"{key} stands {len(hits)} times in the check case"
        indent = text[hits[0]][: len(text[hits[0]]) - len(text[hits[0]].lstrip())]
        text[hits[0]] = f"{indent}{key}: {value}"
    file = tmp_path / "variant.yaml"
    file.write_text("\n".join(text), encoding="utf-8")
    return make_plan(load(file))


@pytest.mark.parametrize(("name", "inches"), [
    ("side", 48), ("across_corners", 96), ("across_flats", 83.14), ("rise", 24), ("apex", 72), ("hip", 53.666),
    ("mid_trimmed", 45.5), ("short_edge", 1.25), ("hip_trimmed", 50.87), ("opening_across_corners", 5.00),
    ("opening_across_flats", 4.33), ("opening_across_flats_outer", 5.33), ("gap_corner", 1), ("gap_eave", 1),
    ("gap_hip", 0.5),
])
def test_lengths(plan: Plan, name: str, inches: float) -> None:
    assert figures(plan)["geometry"][name] / INCH == pytest.approx(inches, abs=0.01)


@pytest.mark.parametrize(("name", "degrees"), [
    ("slope", 30), ("angle_corner", 120), ("angle_eave", 120), ("angle_hip", 151.04), ("wedge", 53.13),
])
def test_angles(plan: Plan, name: str, degrees: float) -> None:
    assert figures(plan)["geometry"][name] == pytest.approx(degrees, abs=0.01)


def test_areas_and_volume(plan: Plan) -> None:
    geometry = figures(plan)["geometry"]
    assert geometry["floor_area"] / (FOOT / 1000) ** 2 == pytest.approx(41.57, abs=0.01)
    assert geometry["volume"] / (FOOT / 1000) ** 3 == pytest.approx(194, abs=0.5)
    assert geometry["opening_area"] * 1e6 / INCH**2 == pytest.approx(16.2, abs=0.05)
    assert leaf_area(plan) / (FOOT / 1000) ** 2 == pytest.approx(143.5, abs=0.05)


def test_rise_changes_by_minus_three_and_two(plan: Plan) -> None:
    geometry = figures(plan)["geometry"]
    assert geometry["rise_per_leaf_width"] == pytest.approx(-3, abs=1e-6)
    assert geometry["rise_per_slant"] == pytest.approx(2, abs=1e-6)


def test_rates_agree_with_small_steps() -> None:
    def rise(width: float, slant: float) -> float:
        return RingGeometry(6, width, 48, slant, 2.5, 1).rise

    step = 1e-5
    base = RingGeometry(6, 24, 48, 48, 2.5, 1)
    assert (rise(24 + step, 48) - rise(24 - step, 48)) / (2 * step) == pytest.approx(base.rise_per_leaf_width, 1e-6)
    assert (rise(24, 48 + step) - rise(24, 48 - step)) / (2 * step) == pytest.approx(base.rise_per_slant, 1e-6)


def test_leaf_roof_and_limits_of_other_rings() -> None:
    assert RingGeometry(5, 24, 48, 48, 2.5, 1).apex == pytest.approx(82.83, abs=0.005)
    for walls, apothem in ((7, 49.84), (8, 57.94)):
        assert RingGeometry(walls, 24, 48, 48, 2.5, 1).apothem == pytest.approx(apothem, abs=0.005)
    assert trim_for_opening(RingGeometry(6, 24, 48, 48, 2.5, 1), 5) == pytest.approx(2.89, abs=0.005)


@pytest.mark.parametrize(("walls", "apothem", "widest"), [("7", "49.84", "23.12"), ("8", "57.94", "19.88")])
def test_rings_that_cannot_close_are_refused(tmp_path: Path, walls: str, apothem: str, widest: str) -> None:
    with pytest.raises(ProjectError) as refused:
        variant(tmp_path, walls=walls)
    told = " ".join(str(problem) for problem in refused.value.problems)
    assert f"(the apothem) is {apothem} in" in told
    assert f"leaf_width under {widest} in" in told  # 48 tan(pi / n)


def test_metric_ring() -> None:
    ring = RingGeometry(6, 600, 1200, 1200, 65, 25)
    found = (ring.hip, ring.hip_trimmed, ring.apex, ring.opening_across_corners, ring.opening_across_flats)
    assert found == pytest.approx((1341.6, 1269.0, 1800, 130.0, 112.6), abs=0.05)
    assert (lay(0, 50, (50, 100, 150), combine=True).width, wrap_width(50, 25)) == (100, 150)


@pytest.mark.parametrize(("t", "flat", "wrap", "corner", "eave", "hip"), [
    (0.5, 4, 5, 0.50, 0.50, 0.25), (1, 4, 6, 1.00, 1.00, 0.50),
    (1.5, 4, 7, 1.50, 1.50, 0.75), (2, 4, 8, 2.00, 2.00, 1.00),
])
def test_hinge_law(t: float, flat: float, wrap: float, corner: float, eave: float, hip: float) -> None:
    ring = RingGeometry(6, 24, 48, 48, 2.5, t)
    assert lay(0, 2, (4, 6), combine=True).width == flat
    assert wrap_width(2, t) == wrap
    assert seam_gap(t, ring.angle_corner) == pytest.approx(corner, abs=0.005)
    assert seam_gap(t, ring.angle_eave) == pytest.approx(eave, abs=0.005)
    assert seam_gap(t, ring.angle_hip) == pytest.approx(hip, abs=0.005)


def test_strips_that_no_roll_covers() -> None:
    pair = lay(4, 2, (4, 6), combine=True)
    assert (pair.tapes, pair.overlap, pair.width, pair.land) == ((6, 4), 2, 8, 2)
    alone = lay(4, 2, (6,), combine=False)
    assert (alone.land, alone.thin) == (1.0, True)
    with pytest.raises(NoLand):
        lay(4, 2, (4,), combine=False)


def test_sill_strip() -> None:
    found = lay(1, 1.25, (4, 6), combine=True)
    assert found.tapes == (4,)
    assert found.land == pytest.approx(1.5)
    assert edge_width(found.land, 1) == pytest.approx(4)


def test_relief_cuts_of_the_sill(plan: Plan) -> None:
    sills = {strip.mark for strip in plan.strips if strip.role is Role.SILL}
    cuts = [cut for cut in figures(plan)["relief_cuts"] if cut["strip"] in sills]
    assert [(cut["between"], cut["face"]) for cut in cuts] == [
        ([f"{half}{n}", f"{half}{n + 1}"], face)
        for half in "AB" for n, face in ((2, "outer"), (3, "inner"), (4, "outer"), (5, "inner"))
    ]
    assert all(cut["length"] / INCH == pytest.approx(2.5) for cut in cuts)


def test_wedge_between_roof_leaves(plan: Plan) -> None:
    """53.13 degrees: 2.00 wide, 2 above the eave; the inner eave strip is cut over the roof side alone."""
    wedges = [cut for cut in plan.relief if [str(r) for r in cut.reasons] == ["wedge"]]
    assert {cut.between for cut in wedges} == {
        ("A2R", "A3R"), ("A4R", "A5R"), ("B2R", "B3R"), ("B4R", "B5R")}
    assert all(cut.length / INCH == pytest.approx(2) for cut in wedges)


def test_pack(plan: Plan) -> None:
    pack = figures(plan)["pack"]
    size = [pack[name] / INCH for name in ("width", "length", "thickness")]
    assert size == pytest.approx([48, 93.5, 6])
    assert pack["columns"] == [["A6", "B1", "B2", "B3", "B4", "B5"], ["A5", "A4", "A3", "A2", "A1", "B6"]]
    assert pack["flat_seams"] == ["A5/A6", "B5/B6"]
    # About 1/8 more: 8 x (two strapping of 0.008 and a foil of 0.003), doublers of a door hinge among them.
    assert pack["thickness_at_hinges"] / INCH == pytest.approx(6 + 8 * 0.019)


@pytest.mark.parametrize(("thickness", "stack"), [("1-1/2", 9), ("2", 12)])
def test_thicker_boards(tmp_path: Path, thickness: str, stack: float) -> None:
    assert variant(tmp_path, thickness=thickness).pack.thickness / INCH == pytest.approx(stack)


def test_take_off(plan: Plan) -> None:
    """Flat 108.2 + sill 20.0 = 128.2 ft of 4; wrap 88.2 + outer eaves 20.0 = 108.2 ft of 6; 88.1 ft of cut."""
    def feet(*roles: Role, eaves: bool | None = None) -> float:
        kinds = plan.assembly.seam_by_mark
        return sum(s.length for s in plan.strips if s.role in roles
                   and (eaves is None or (s.seam is not None and kinds[s.seam].kind is SeamKind.EAVE) is eaves)) / FOOT

    assert feet(Role.FLAT) == pytest.approx(108.2, abs=0.05)
    assert feet(Role.SILL) == pytest.approx(20.0, abs=0.05)
    assert feet(Role.WRAP, eaves=False) == pytest.approx(88.2, abs=0.05)
    assert feet(Role.WRAP, eaves=True) == pytest.approx(20.0, abs=0.05)
    by_width = {round(need.roll_width / INCH, 6): need.hinges / FOOT for need in plan.needs if not need.foil}
    assert by_width == pytest.approx({4: 128.2, 6: 108.2}, abs=0.05)
    assert figures(plan)["cut_length"] / FOOT == pytest.approx(88.1, abs=0.05)


def test_boards(plan: Plan) -> None:
    walls = [b for b in plan.boards if not any("R" in p.leaf for p in b.pieces)]
    assert (len(plan.boards), len(walls)) == (5, 3)
    last = figures(plan)["boards"][-1]
    assert [[[x / INCH, y / INCH] for x, y in outline] for outline in last["held"]] == [
        [pytest.approx(p) for p in ([48, 0], [96, 0], [96, 48], [48, 48])]]
    assert all(not board.held for board in plan.boards[:-1])


def test_roof_board_is_a_zigzag(plan: Plan) -> None:
    board = plan.boards[3]
    ends = {(round(x / INCH, 3), round(y / INCH, 3)) for cut in board.cuts if cut.kind == "diagonal"
            for x, y in (cut.a, cut.b)}
    assert ends == {(0, 48), (24, 0), (48, 48), (72, 0), (96, 48)}
    assert [round(cut.a[0] / INCH, 3) for cut in board.cuts if cut.kind == "across"] == [24, 48, 72]
    hands = [plan.assembly.by_mark[piece.leaf].hand for piece in board.pieces]
    assert (hands.count("mid left"), hands.count("mid right")) == (4, 4)
    assert {round(cut.length / INCH, 2) for cut in board.cuts if cut.kind == "diagonal"} == {53.67}


def test_kerf_makes_the_leaf_smaller(tmp_path: Path) -> None:
    text = CHECK_CASE.read_text(encoding="utf-8").replace("boards:", "boards:\n  kerf: 1/8\n  tool: saw", 1)
    file = tmp_path / "kerf.yaml"
    file.write_text(text, encoding="utf-8")
    plan = make_plan(load(file))
    assert plan.fitted.largest.leaf_width / INCH == pytest.approx(23.906, abs=0.001)
    assert plan.form.length(plan.geometry.leaf_width) == "23-7/8"
    assert plan.geometry.apex / INCH == pytest.approx(72.37, abs=0.005)
    assert any("23-7/8" in finding.message for finding in plan.findings)


def test_a_short_board_makes_every_leaf_smaller(tmp_path: Path) -> None:
    rows = "\n  measured:\n    - {length: 96, breadth: 48}\n    - {length: 95-3/4, breadth: 48}"
    text = CHECK_CASE.read_text(encoding="utf-8").replace("boards:", "boards:" + rows, 1)
    file = tmp_path / "short.yaml"
    file.write_text(text, encoding="utf-8")
    plan = make_plan(load(file))
    assert plan.form.length(plan.geometry.leaf_width) == "23-15/16"
    assert plan.geometry.apex / INCH == pytest.approx(72.19, abs=0.005)


def test_boards_of_mixed_size_are_refused(tmp_path: Path) -> None:
    text = CHECK_CASE.read_text(encoding="utf-8").replace(
        "boards:",
        "boards:\n  measured:\n    - {length: 96, breadth: 1200 mm}\n    - {length: 96, breadth: 1220 mm}", 1)
    file = tmp_path / "mixed.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(ProjectError, match="differ in breadth by"):
        make_plan(load(file))


def test_high_walls_take_six_boards_and_leave_no_spare(tmp_path: Path) -> None:
    plan = variant(tmp_path, wall_height="72")
    assert len(plan.boards) == 6
    assert not any(board.held for board in plan.boards)
    assert plan.pack.length / INCH == pytest.approx(117.5)
    assert plan.geometry.apex / INCH == pytest.approx(96)


def test_duct_that_does_not_pass(tmp_path: Path) -> None:
    file = tmp_path / "duct.yaml"
    file.write_text(CHECK_CASE.read_text(encoding="utf-8") + "\nduct: 4 in\n", encoding="utf-8")
    assert make_plan(load(file)).description.duct == pytest.approx(101.6)
    file.write_text(CHECK_CASE.read_text(encoding="utf-8") + "\nduct: 5 in\n", encoding="utf-8")
    with pytest.raises(ProjectError, match="2-15/16 in"):  # 2.89 rounded up to 1/16
        make_plan(load(file))
