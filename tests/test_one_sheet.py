"""One sheet again: the same drawing, byte for byte, as in the whole packet; a copy says so beside it."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from typing import Any

import pypdf
import pytest
from typer.testing import CliRunner

from packet.cli import app
from packet.description import load
from packet.pdf.fonts import lettering
from packet.plan import make_plan
from packet.printing import drawn, one_sheet, print_finished, print_packet
from packet.sheets.kit import make_kit
from packet.sheets.register import draw_sheet
from packet.work.sheet_numbers import PATTERN, sheet_named, sheet_number
from tests.conftest import CHECK_CASE, SAMPLES, plan_of

BOX = next(path for path in SAMPLES if path.stem == "fish_box")


def run(*arguments: object) -> str:
    ran = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert ran.exit_code == 0, ran.output
    return ran.stdout


def page(pdf: Path, number: str) -> Any:
    found = pypdf.PdfReader(pdf)
    return found.pages[found.page_labels.index(number)]


def streams(pdf: Path, number: str) -> list[bytes]:
    """The content streams of a page, one by one."""
    contents = page(pdf, number)["/Contents"].get_object()
    return [each.get_object().get_data() for each in (contents if isinstance(contents, list) else [contents])]


def test_copies_have_the_drawing_of_the_packet_and_a_note_of_their_own(tmp_path: Path) -> None:
    box = Path(shutil.copy(BOX, tmp_path / "box.yaml"))
    whole, again = tmp_path / "whole.pdf", tmp_path / "again.pdf"
    run("print", box, "-o", whole)
    for number, command in (("C-01", ("board", box, "1")), ("J-01", ("sheet", box, "fold"))):
        run(*command, "-o", again)
        (drawing,) = streams(whole, number)
        assert streams(again, number) == [drawing]
        run("issue", box, "--to", "table", "--sheet", number)
        said = run(*command, "-o", again)
        serial = said.split(f"sheet {number}, serial ")[1].split(";")[0].strip()
        first, note = streams(again, number)
        assert first == drawing and len(note) < 500
        assert f"Copy 2 of serial {serial}" in page(again, number).extract_text()


def test_bytes_of_every_page_are_those_of_the_packet(tmp_path: Path) -> None:
    """Also where the title has letters that no other word has: their codes do not hang on what is drawn first."""
    box = tmp_path / "box.yaml"
    text = BOX.read_text(encoding="utf-8")
    box.write_text(re.sub("(?m)^project: .*", "project: Żółw ďas Ørsted", text), encoding="utf-8")
    plan = make_plan(load(box))
    whole, alone = tmp_path / "whole.pdf", tmp_path / "alone.pdf"
    numbers = [sheet.number for sheet in print_packet(plan, whole)]
    seen = set()
    for name in sorted({sheet_named(number) or "marking" for number in numbers} - {"cover"}):
        for sheet in print_finished(plan, one_sheet(plan, name), alone):
            assert streams(alone, sheet.number) == streams(whole, sheet.number), sheet.number
            seen.add(sheet.number)
    assert seen == {number for number in numbers if sheet_named(number) != "cover"}


@pytest.mark.parametrize("path", [CHECK_CASE, BOX], ids=lambda path: path.stem)
def test_every_page_comes_alone_with_the_serial_it_has_in_the_packet(path: Path) -> None:
    plan = plan_of(path)
    kit = make_kit(plan, lettering())
    packet = {sheet.number: sheet for sheet in drawn(plan)}
    names = {sheet_named(number) or "marking" for number in packet} - {"cover"}
    alone = [sheet for name in sorted(names) for sheet in draw_sheet(plan, kit, name)]
    assert {sheet.number for sheet in alone} == {number for number in packet if sheet_named(number) != "cover"}
    assert all(sheet == packet[sheet.number] for sheet in alone)
    for number in ("L-01", "L-05", "C-02" if "C-02" in packet else "C-01"):
        assert draw_sheet(plan, kit, number.lower()) == (packet[number],)


def test_a_number_leads_to_its_sheet() -> None:
    assert [sheet_named(number) for number in ("L-01", "L-2B", "L-07", "C-03", "H-05", "L30B", "X-31")] == [
        "cover", "cautions", "checklist", None, "recipe.seam", "crew", "strike"]
    assert sheet_named(sheet_number("mending", 3)) == "mending"


def test_no_page_of_a_long_sheet_bears_the_number_of_another() -> None:
    """Two hundred pages of each that counts on, among the first pages of all others; each leads back to its sheet."""
    long = ("checklist", "set_holds", "mending", "recipe.seam")
    others = ("crew", "words", "added", "tent.L", "passing.L", "tent.H", "passing.H", "tent.C", "labels")
    numbers = [sheet_number(name, page) for name in long for page in range(1, 201)] + [sheet_number(name) for name in others]
    assert len(set(numbers)) == len(numbers)
    assert all(re.fullmatch(PATTERN, number) for number in numbers)
    assert {sheet_named(sheet_number(name, page)) for name in long for page in (1, 26, 27, 77, 200)} == set(long)


def test_a_sheet_that_is_not_there_is_refused(tmp_path: Path) -> None:
    box = Path(shutil.copy(BOX, tmp_path / "box.yaml"))
    for name in ("R-09", "doors", "lunch", "../x"):
        refused = CliRunner().invoke(app, ["sheet", str(box), name])
        assert refused.exit_code == 2 and "limit: " in refused.output
    assert [path.name for path in tmp_path.iterdir()] == ["box.yaml"]
