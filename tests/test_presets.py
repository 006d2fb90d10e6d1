"""A screen listed leaf by leaf is the chain preset's screen, and every kind of project prints."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from packet.description import load
from packet.figures import figures
from packet.plan import Plan, make_plan
from packet.printing import print_packet
from tests.conftest import CHECK_CASE, SAMPLES, plan_of

BOARDS = "boards:\n  size: 1200 x 2400\n  thickness: 25\n"
CHAIN = ("project: Screen\nunits: mm\nshelter:\n  preset: chain\n  leaves: 4\n  leaf_width: 520\n  height: 1700\n"
         "  open_angle: 110\n" + BOARDS)
LISTED = ("project: Screen\nunits: mm\nshelter:\n  preset: free\n  leaves:\n"
          + "".join(f"    - {{mark: A{i}, size: 520 x 1700}}\n" for i in (1, 2, 3, 4)) + "  seams:\n"
          + "".join(f"    - {{join: A{i}.right / A{i + 1}.left, closing: {face}, open: 110}}\n"
                    for i, face in ((1, "outer"), (2, "inner"), (3, "outer"))) + BOARDS)


def planned(tmp_path: Path, text: str) -> Plan:
    file = tmp_path / "project.yaml"
    file.write_text(text, encoding="utf-8")
    return make_plan(load(file))


def test_a_listed_screen_is_the_chain_preset(tmp_path: Path) -> None:
    chain, listed = (figures(planned(tmp_path, text)) for text in (CHAIN, LISTED))
    for key in ("geometry", "leaves", "seams", "strips", "relief_cuts", "pack", "boards", "takeoff"):
        assert chain[key] == listed[key], key
    # Four leaves of 25 in one column; each seam turns 70 degrees: the V is 2 x 25 sin 35.
    assert chain["pack"]["thickness"] == pytest.approx(100)
    assert chain["pack"]["columns"] == [["A1", "A2", "A3", "A4"]]


def test_an_odd_ring_is_one_column_and_its_line_comes_apart(tmp_path: Path) -> None:
    text = CHECK_CASE.read_text(encoding="utf-8").replace("walls: 6", "walls: 5\n  releasable: yes")
    plan = planned(tmp_path, text)
    assert plan.form.decimal(plan.geometry.apex) == "82.83"
    assert [len(column) for column in plan.pack.columns] == [10]
    (line,) = [seam for seam in plan.assembly.seams if seam.removable]
    assert not line.bonded
    assert not any(strip.seam == line.mark for strip in plan.strips)
    held = {frozenset(strip.leaves) for strip in plan.strips if len(strip.leaves) > 1}
    assert not any(set(line.leaves) <= leaves for leaves in held)


@pytest.mark.parametrize("project", SAMPLES, ids=lambda p: p.stem)
def test_every_sample_prints_with_its_register(project: Path, tmp_path: Path) -> None:
    target = tmp_path / "out.pdf"
    finished = print_packet(plan_of(project), target)
    found = PdfReader(io.BytesIO(target.read_bytes()))
    assert found.page_labels == [sheet.number for sheet in finished]
    cover = " ".join(page.extract_text() for page, sheet in zip(found.pages, finished, strict=True)
                     if sheet.title == finished[0].title or "egister" in sheet.title)
    for sheet in finished[1:]:
        assert sheet.serial in cover or sheet.number.startswith("L-1"), sheet.number
