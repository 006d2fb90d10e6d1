"""Readings of the bars: what they come to, what is refused, and that the next full-size pages make up for them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pdfplumber
import pytest
from typer.testing import CliRunner, Result

from packet.cli import app
from packet.ledger.store import Ledger
from packet.resources import samples

MM = 25.4 / 72


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return Path(shutil.copy(samples() / "fish_box.yaml", tmp_path / "box.yaml"))


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


def readings(across: tuple[object, ...], up: tuple[object, ...]) -> list[object]:
    return [part for name, values in (("--across", across), ("--up", up)) for value in values for part in (name, value)]


def bars_of(pdf: Path, page: int) -> list[float]:
    with pdfplumber.open(pdf) as document:
        return [max(line["width"], line["height"]) * MM for line in document.pages[page].lines]


def test_what_a_bar_measures_corrects_its_axis(project: Path) -> None:
    """99.2 mm for 100: factor 1.0081 (common practice, no source; 100 / 99.2)."""
    done = run("gauge", project, *readings((99.2,), (100.1,)))
    assert done.exit_code == 0
    assert "Across: factor 1.0081. Up: factor 0.9990." in done.stdout
    printed = project.with_suffix(".pdf")
    assert run("full-size", project, "LID", "-o", printed).exit_code == 0
    lengths = bars_of(printed, 1)
    for length in (100.0 * 100 / 99.2, 150.0 * 100 / 99.2, 100.0 * 100 / 100.1, 150.0 * 100 / 100.1):
        assert min(abs(found - length) for found in lengths) < 0.02


def test_the_serials_of_corrected_pages_stay(project: Path, tmp_path: Path) -> None:
    before, after = tmp_path / "before.pdf", tmp_path / "after.pdf"
    run("full-size", project, "LID", "-o", before)
    run("gauge", project, *readings((99.2, 148.8), (100.1, 150.15)))
    run("full-size", project, "LID", "-o", after)
    with pdfplumber.open(before) as first, pdfplumber.open(after) as second:
        words = [[word["text"] for word in pdf.pages[1].extract_words() if word["text"].count("-") == 1][:1]
                 for pdf in (first, second)]
    assert words[0] == words[1] != []


def test_a_corrected_page_that_is_measured_again_builds_on_its_correction(project: Path) -> None:
    """After 99.2 the page is drawn 1.0081 as large; if it then measures 100.2, the printer gives 99.396 %."""
    run("gauge", project, *readings((99.2,), (100,)))
    done = run("gauge", project, *readings((100.2,), (100,)), "--corrected")
    assert f"factor {100 / 99.2 / 1.002:.4f}. Up: factor 1.0000" in done.stdout
    assert len(Ledger.of(project).entries) == 2


@pytest.mark.parametrize(("share", "named"), [(0.941, "A4 on letter"), (0.973, "letter on A4"), (0.96, ""), (1.02, "")])
def test_a_page_printed_to_fit_is_told_and_not_corrected(project: Path, share: float, named: str) -> None:
    """A4 on letter 94.1 %, letter on A4 97.3 % (ratios of ISO 216 and letter sides)."""
    done = run("gauge", project, *readings((100 * share, 150 * share), (100 * share,)))
    assert done.exit_code == 2
    assert "printed to fit" in done.stderr
    assert f"{share:.1%} across" in done.stderr
    assert (f"({named})" in done.stderr) is bool(named)
    assert not project.with_suffix(".ledger").exists()


@pytest.mark.parametrize(("arguments", "said"), [
    ([], "--across: a reading is missing"), (["--across", "99"], "--up: a reading is missing"),
    (readings((99.2, 150.9), (100,)), "do not agree (limit: 0.5 % apart)"),
    (readings((12,), (100,)), "no reading of these bars"),
    (readings(("wide",), (100,)), "not a length"), (readings(("99.2 in",), (100,)), "no reading of these bars")])
def test_readings_that_cannot_be_are_refused(project: Path, arguments: list[object], said: str) -> None:
    done = run("gauge", project, *arguments)
    assert done.exit_code == 2
    assert said in done.stderr
    assert not project.with_suffix(".ledger").exists()


def test_an_inch_project_reads_either_bar_in_its_own_unit(tmp_path: Path) -> None:
    """6 in that measure 5.97: factor 1.0050; 100 mm that measure 99.5: 1.0050."""
    project = Path(shutil.copy(samples() / "frost_watch.yaml", tmp_path / "hut.yaml"))
    done = run("gauge", project, *readings(("5.97", "99.5"), ("6-1/32", "100.5 mm")))
    assert done.exit_code == 0, done.stderr
    assert "Across: factor 1.0050. Up: factor 0.994" in done.stdout
