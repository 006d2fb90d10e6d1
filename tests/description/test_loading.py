"""What a project file comes to: defaults, units, samples, starter files, fingerprint."""

from __future__ import annotations

import math
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from packet import resources
from packet.description import ProjectError, load
from packet.description.paper import with_paper
from packet.description.resolved import Description
from packet.description.starter import starter_text
from packet.description.terms import Face, Side, Tool
from packet.units import System
from tests.description.conftest import RIGHT, Write, changed

Load = Callable[[str], Description]
INCH = 25.4

TEN_LINES = """\
project: Ten lines
units: in
shelter:
  walls: 6
  leaf_width: 20
  wall_height: 54
  slant: 42
boards:
  size: 96 x 48
  thickness: 1
"""


def test_ten_lines_are_enough(loaded: Load) -> None:
    """Every default of an inch project, as the manual gives them."""
    assert len(TEN_LINES.splitlines()) == 10
    project = loaded(TEN_LINES)
    assert (project.title, project.system, project.paper_name) == ("Ten lines", System.INCH, "letter")
    assert project.identity.revision == "A"
    assert project.identity.replaces == "none"
    assert project.shape.tip_trim == pytest.approx(3 * INCH)
    doors = project.doors
    assert doors.hand is Side.RIGHT
    assert doors.bottom_trim == pytest.approx(0.75 * INCH)
    assert doors.latch_below_head == pytest.approx(27 * INCH)  # half of 54
    assert (doors.latch_from_free_edge, doors.latch_hole) == pytest.approx((4 * INCH, 1.315 * INCH))
    boards = project.boards
    assert (boards.breadth, boards.length) == pytest.approx((48 * INCH, 96 * INCH))
    assert (boards.printed_face, boards.tool, boards.kerf, boards.spare) == (Face.INNER, Tool.KNIFE, 0, 0)
    assert (boards.edge_trim, boards.measured) == (0, ())
    tape = project.tape
    assert tape.stock == pytest.approx((4 * INCH, 6 * INCH))
    assert (tape.land, tape.sill_land, tape.roll) == pytest.approx((2 * INCH, 1.25 * INCH, 60 * 914.4))
    assert (tape.combine, tape.allowance) == (True, 5)
    foil = project.foil
    assert (*foil.stock, foil.margin, foil.overlap) == pytest.approx((3 * INCH, INCH, 0.5 * INCH))
    assert foil.roll == pytest.approx(50 * 914.4)
    assert project.duct is None
    limits = project.limits
    assert (limits.board_spread, limits.mark, limits.cut, limits.diagonal) == pytest.approx(
        (INCH / 4, INCH / 16, INCH / 8, INCH / 8)
    )
    assert project.assume.density == pytest.approx(2 * 16.01846, rel=1e-6)  # 2 lb per cubic foot, NIST factor
    assert project.assume.hinge_bulk is None
    assert project.assume.tape_thickness == pytest.approx(0.008 * INCH)


def test_metric_defaults(loaded: Load) -> None:
    project = loaded(
        "project: p\nunits: mm\nshelter: {walls: 6, leaf_width: 500, wall_height: 1110, slant: 1000}\n"
        "boards: {size: 1200 x 2500, thickness: 40, tool: saw}\n"
    )
    assert (project.paper_name, project.paper) == ("a4", (210, 297))
    assert project.shape.tip_trim == 75
    assert (project.doors.bottom_trim, project.doors.latch_from_free_edge) == (20, 100)
    assert project.doors.latch_below_head == 560  # half of 1110 is 555, to 10 mm
    assert project.doors.latch_hole == 33.4
    assert project.boards.kerf == 3
    assert project.tape.stock == (50, 100, 150)
    assert (project.tape.land, project.tape.sill_land, project.tape.roll) == (50, 32, 50_000)
    assert (*project.foil.stock, project.foil.margin, project.foil.overlap, project.foil.roll) == (75, 25, 12, 45_000)
    limits = project.limits
    assert (limits.board_spread, limits.mark, limits.cut, limits.diagonal) == (6, 1, 3, 3)
    assert (project.assume.density, project.assume.foil_thickness) == (32, 0.08)


@pytest.mark.parametrize("unit", ["kg/m3", "kg/m³", ""])
def test_a_unit_is_taken_as_keyboards_and_as_pages_have_it(loaded: Load, unit: str) -> None:
    project = loaded("project: p\nunits: mm\nshelter: {walls: 6, leaf_width: 500, wall_height: 1110, slant: 1000}\n"
                     f"boards: {{size: 1200 x 2500, thickness: 40}}\nassume: {{density: 35 {unit}}}\n")
    assert project.assume.density == 35


def test_what_is_assumed_is_named(loaded: Load) -> None:
    assert "doors.latch_below_head" in loaded(TEN_LINES).assumed
    assert "boards.kerf" in loaded(TEN_LINES).assumed
    right = loaded(RIGHT).assumed
    assert {"number", "shelter.preset", "assume.hinge_bulk", "limits.cut"} < set(right)
    assert not {"project", "paper", "shelter.walls", "doors.hand", "tape.stock", "duct"} & set(right)


def test_a_saw_takes_a_kerf_unless_it_is_given(loaded: Load) -> None:
    assert loaded(RIGHT).boards.kerf == pytest.approx(INCH / 8)
    assert loaded(changed("  tool: saw", "  tool: saw\n  kerf: 3/32")).boards.kerf == pytest.approx(INCH * 3 / 32)
    assert loaded(changed("  tool: saw", "  tool: knife")).boards.kerf == 0


def test_lists_are_sorted_and_measured_boards_read(loaded: Load) -> None:
    project = loaded(changed("  stock: [4, 6]", "  stock: [6 in, 4, 100 mm, 4]"))
    assert project.tape.stock == pytest.approx((100, 101.6, 152.4))
    board = "  measured:\n    - {length: 95-7/8, breadth: 48}\n    - {breadth: 1217 mm, length: 8'}"
    first, second = loaded(changed("  measured: []", board)).boards.measured
    assert (first.length, first.breadth) == pytest.approx((95.875 * INCH, 48 * INCH))
    assert (second.length, second.breadth) == pytest.approx((96 * INCH, 1217))
    assert (first.diagonals, first.thickness) == ((), ())


@pytest.mark.parametrize("empty", ["doors:\n", "doors: {}\n", "doors: ~\n", ""])
def test_a_group_without_keys_takes_all_its_defaults(empty: str, loaded: Load) -> None:
    assert loaded(TEN_LINES + empty).fingerprint == loaded(TEN_LINES).fingerprint


@pytest.mark.parametrize(
    ("paper", "size", "name"),
    [
        # ISO 216; ASME Y14.1 (letter is its size A, tabloid its size B); legal 8.5 x 14 in is common practice.
        ("a4", (210, 297), "a4"),
        ("A3", (297, 420), "a3"),
        ("letter", (8.5 * INCH, 11 * INCH), "letter"),
        ("legal", (8.5 * INCH, 14 * INCH), "legal"),
        ("tabloid", (11 * INCH, 17 * INCH), "tabloid"),
        ("24 x 36", (24 * INCH, 36 * INCH), "24 x 36 in"),
        ("841 x 594 mm", (594, 841), "23-3/8 x 33-1/8 in"),
    ],
)
def test_papers(paper: str, size: tuple[float, float], name: str, loaded: Load) -> None:
    project = loaded(changed("paper: letter", f"paper: {paper}"))
    assert project.paper == pytest.approx(size, abs=1e-9)
    assert project.paper_name == name


def test_paper_can_be_changed_when_printing(loaded: Load) -> None:
    project = loaded(RIGHT)
    other = with_paper(project, "a4")
    assert (other.paper, other.paper_name) == ((210, 297), "a4")
    assert other.fingerprint != project.fingerprint
    with pytest.raises(ProjectError) as caught:
        with_paper(project, "foolscap")
    assert str(caught.value).startswith("--paper: there is no paper of this name here (value: foolscap; limit: letter")


def test_the_fingerprint_is_of_the_values_alone(loaded: Load, tmp_path: Path) -> None:
    project = loaded(RIGHT)
    assert len(project.fingerprint) == 8
    int(project.fingerprint, 16)
    turned = "# a comment\n" + changed("  leaf_width: 20", "  leaf_width: 508 mm  # the same")
    turned = turned.replace("units: in\n", "").replace("revision: B\n", "revision: B\nunits: in\n")
    other = tmp_path / "elsewhere.yaml"
    other.write_text(turned)
    assert load(other).fingerprint == project.fingerprint
    assert loaded(RIGHT + "  tape_thickness: 0.008\n").fingerprint == project.fingerprint


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("project: Beekeepers' shelter", "project: Beekeepers' shed"),
        ("revision: B", "revision: C"),
        ("duct: 3", "duct: 3-1/16"),
        ("  leaf_width: 20", "  leaf_width: 20-1/16"),
        ("  hand: left", "  hand: right"),
        ("  stock: [4, 6]", "  stock: [4, 6, 8]"),
        ("  measured: []", "  measured: [{length: 96, breadth: 48}]"),
        ("  combine: yes", "  combine: no"),
        ("  spare: 1", "  spare: 2"),
        ("  density: 2.0", "  density: 2.1"),
    ],
)
def test_any_value_changes_the_fingerprint(old: str, new: str, loaded: Load) -> None:
    assert loaded(changed(old, new)).fingerprint != loaded(RIGHT).fingerprint


def test_the_fingerprint_is_the_same_in_every_process(write: Write) -> None:
    path = write(RIGHT)
    script = "import sys; from packet.description import load; print(load(sys.argv[1]).fingerprint)"
    prints = {
        subprocess.run(
            [sys.executable, "-c", script, str(path)],
            capture_output=True,
            text=True,
            check=True,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(resources.__file__).parents[1])},
        ).stdout
        for seed in ("1", "2")
    }
    assert prints == {load(path).fingerprint + "\n"}


def test_positions_of_keys_and_of_defaults(loaded: Load) -> None:
    project = loaded(RIGHT)
    assert project.position("shelter.walls") == (7, 10)
    assert project.position("tape.stock") == (27, 10)
    assert project.position("assume.hinge_bulk") == (36, 1)  # the group that it would stand in
    assert project.position("number") == (1, 1)


SAMPLES = {
    # size, tape and doors as the two samples are specified; in mm.
    "frost_watch.yaml": (System.INCH, "letter", 6, (22, 60, 46, 3), (48, 96, 1.5), (4, 6), (0.75, 29, 4), 2, 1, INCH),
    "tide_gauge.yaml": (
        System.METRIC, "a4", 8, (440, 1150, 1150, 75), (1200, 2400, 30), (50, 100, 150), (20, 540, 100), 50, 0, 1,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SAMPLES)
def test_samples(name: str) -> None:
    system, paper, walls, ring, boards, stock, doors, land, spare, unit = SAMPLES[name]
    project = load(resources.samples() / name)
    assert (project.system, project.paper_name, project.shape.walls) == (system, paper, walls)
    got = project.shape
    assert (got.leaf_width, got.wall_height, got.slant, got.tip_trim) == pytest.approx([n * unit for n in ring])
    got_boards = project.boards
    assert (got_boards.breadth, got_boards.length, got_boards.thickness) == pytest.approx([n * unit for n in boards])
    assert project.tape.stock == pytest.approx([n * unit for n in stock])
    got_doors = project.doors
    assert (got_doors.bottom_trim, got_doors.latch_below_head, got_doors.latch_from_free_edge) == pytest.approx(
        [n * unit for n in doors]
    )
    assert project.tape.land == pytest.approx(land * unit)
    assert got_boards.spare == spare


def test_every_sample_loads() -> None:
    presets = {path.stem: load(path).shape.preset for path in resources.samples().glob("*.yaml")}
    assert presets == {"frost_watch": "ring", "tide_gauge": "ring", "ticket_booth": "free", "fish_box": "free"}


def test_the_check_case_is_read() -> None:
    project = load(Path(__file__).parents[1] / "projects" / "check_case.yaml")
    ring = project.shape
    assert (ring.walls, ring.leaf_width, ring.wall_height, ring.slant, ring.tip_trim) == pytest.approx(
        (6, 24 * INCH, 48 * INCH, 48 * INCH, 2.5 * INCH)
    )
    assert project.doors.latch_below_head == pytest.approx(23 * INCH)


@pytest.mark.parametrize("system", System)
def test_starter_files_load_and_teach(system: System, loaded: Load) -> None:
    text = starter_text(system)
    project = loaded(text)
    ring = project.shape
    assert project.system is system
    assert ring.leaf_width / math.tan(math.pi / ring.walls) < ring.slant
    assert 40 <= len(text.splitlines()) <= 75
    assert text.count("#") > 25
    assert max(map(len, text.splitlines())) <= 110
    foreign = (" mm", " m\n", "millim") if system is System.INCH else (" in\n", " in)", "inch", '"', "1/2")
    for word in foreign:
        assert word not in text.replace("in or mm", "").replace("mm or in", "").replace("600 mm", "").replace('""', "")


@pytest.mark.parametrize("system", System)
def test_commented_lines_of_starter_files_load_as_well(system: System, loaded: Load) -> None:
    text = starter_text(system)
    for comment in ("# duct:", "  # measured:", "  #   - {"):
        assert comment in text
        text = text.replace(comment, comment.replace("# ", "", 1))
    project = loaded(text)
    assert project.duct is not None
    assert len(project.boards.measured) == 2


def test_the_facade_is_light() -> None:
    """Commands that read no project must not wait for the modules that do."""
    script = "import sys, packet.description; print([m for m in ('pydantic', 'yaml') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
