"""Handouts: together the whole packet, and each station only what it needs."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from packet.cli import app
from packet.drawing.page import FinishedSheet
from packet.pdf.writer import write
from packet.sheets.handouts import handouts
from packet.sheets.register import draw_all
from packet.work.effort import Work, efforts
from packet.work.stations import Station
from packet.work.tasks import tasks
from tests.conftest import SAMPLES, plan_of
from tests.sheets.drawn import kit_of
from tests.zoo import zoo_plan

PLANS = {**{path.stem: plan_of(path) for path in SAMPLES}, "screen": zoo_plan("screen")}
MADE: dict[str, tuple[tuple[FinishedSheet, ...], dict[Station, tuple[FinishedSheet, ...]]]] = {}


@pytest.fixture(params=PLANS)
def name(request: pytest.FixtureRequest) -> str:
    if request.param not in MADE:
        plan = PLANS[request.param]
        packet = draw_all(plan, kit_of(plan))
        MADE[request.param] = packet, handouts(plan, kit_of(plan), packet)
    return str(request.param)


def base(number: str) -> str:
    """A sheet's number without its page: `J-1C` and `J-01` are one sheet."""
    return number[0] + number[1:].strip("-").rstrip("BCDEFGHJKLMNPQRSTUVWXYZ").zfill(2)


def test_together_they_hold_every_page(name: str) -> None:
    packet, found = MADE[name]
    assert {sheet.number for sheet in packet} == {sheet.number for sheets in found.values() for sheet in sheets}
    serials = {sheet.number: sheet.serial for sheet in packet}
    assert all(serials[sheet.number] == sheet.serial for sheets in found.values() for sheet in sheets)


def test_no_page_that_its_station_does_not_need(name: str) -> None:
    """A page is needed at the station of its letter, where a task says see it, where a task stands on it, and, the
    weather, where tape is laid; and where a task says see it, it is there."""
    plan = PLANS[name]
    work = efforts(plan, tasks(plan))
    for station, sheets in MADE[name][1].items():
        own = [each for each in work if each.task.station is station]
        asked = {base(number) for each in own for number in each.task.sheets}
        numbers = [n for n, each in enumerate(work, 1) if each.task.station is station]
        has = {base(sheet.number) for sheet in sheets}
        assert asked <= has
        for sheet in sheets:
            if sheet.number[0] == station or base(sheet.number) in asked:
                continue
            if sheet.number == "P-08":
                assert any(Work.STRIP in each.quantities or Work.FOIL in each.quantities for each in own)
                continue
            listed = {mark.string for mark in sheet.marks if hasattr(mark, "string")}
            assert sheet.number[0] == "L" and listed & {str(number) for number in numbers}, f"{station} {sheet.number}"
        assert sheets[0].number == f"{station}-81"
        assert sheets[-1].number == f"{station}-80"


def test_every_page_stands_alone(name: str) -> None:
    """Project, revision and serial on every page; no link that leads out of the handout."""
    plan = PLANS[name]
    for sheets in MADE[name][1].values():
        inside = {sheet.number for sheet in sheets}
        for sheet in sheets:
            said = " ".join(mark.string for mark in sheet.marks if hasattr(mark, "string"))
            assert plan.description.title in said
            assert sheet.serial in said
            assert re.search(rf"Rev {plan.description.identity.revision}\b", said), sheet.number
            assert all(link.target in inside for link in sheet.links)


def test_bound_under_tabs() -> None:
    plan = PLANS["screen"]
    packet = draw_all(plan, kit_of(plan))
    found = handouts(plan, kit_of(plan), packet)
    target = io.BytesIO()
    write(found[Station.C], target, "one")
    assert PdfReader(target).page_labels == [sheet.number for sheet in found[Station.C]]


def run(*words: object) -> tuple[int, str]:
    done = CliRunner().invoke(app, [str(word) for word in words])
    return done.exit_code, done.output


@pytest.fixture
def project(tmp_path: Path) -> Path:
    path = tmp_path / "box.yaml"
    path.write_bytes(next(path for path in SAMPLES if path.stem == "fish_box").read_bytes())
    return path


def test_the_command_writes_one_station_all_or_tabs(project: Path) -> None:
    folder = project.parent
    assert run("handout", project, "--station", "cut", "--station", "H")[0] == 0
    bound = PdfReader(folder / "box-cut-hinge.pdf")
    tabs = [entry["/Title"] for entry in bound.outline if not isinstance(entry, list)]
    assert [tab.split()[1:] for tab in tabs] == [["C", "CUT"], ["H", "HINGE"]]
    assert run("handout", project, "--all", "-o", folder / "tables")[0] == 0
    assert sorted(path.name for path in (folder / "tables").iterdir()) == [
        f"box-{word}.pdf" for word in ("cut", "edges", "erect", "hinge", "join", "lead", "prepare")]


@pytest.mark.parametrize(("words", "said"), [
    ((), "--station"), (("--all", "--station", "cut"), "--station"), (("--station", "paint"), "C or cut"),
    (("--station", "roof"), "no such station")])
def test_the_command_refuses(project: Path, words: tuple[str, ...], said: str) -> None:
    code, output = run("handout", project, *words)
    assert code == 2
    assert said in output
    assert [path.name for path in project.parent.iterdir()] == ["box.yaml"]
