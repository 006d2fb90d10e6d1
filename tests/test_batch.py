"""Several projects in one run: each as it would be alone, whatever becomes of the others."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from pypdf import PdfReader

from packet.batch import Job, Outcome, in_order, run, run_all
from packet.resources import samples
from tests.test_cli import run as packet

BOOTH, BOX = samples() / "ticket_booth.yaml", samples() / "fish_box.yaml"


@pytest.fixture(scope="module")
def alone(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Each project printed by itself, by a process of its own."""
    folder = tmp_path_factory.mktemp("alone")
    for project in (BOOTH, BOX):
        assert packet("print", project, "-o", folder / f"{project.stem}.pdf").returncode == 0
    return {path.stem: path.read_bytes() for path in folder.iterdir()}


def test_one_that_fails_does_not_stop_the_others(tmp_path: Path, alone: dict[str, bytes]) -> None:
    for project in (BOOTH, BOX):
        shutil.copy(project, tmp_path)
    bad, gone = tmp_path / "bad.yaml", tmp_path / "gone.yaml"
    bad.write_text(BOX.read_text(encoding="utf-8").replace("units: mm", "units: cubits"), encoding="utf-8")
    said = packet("print", tmp_path, gone, "--jobs", "2")
    assert said.returncode == 2
    assert "2 of 4 projects not printed" in said.stderr
    assert "'cubits'" in said.stderr or "cubits" in said.stderr
    assert f"{gone}: there is no such file" in said.stderr
    assert {path.stem: path.read_bytes() for path in tmp_path.glob("*.pdf")} == alone


def test_bound_into_one(tmp_path: Path) -> None:
    target = tmp_path / "all.pdf"
    said = packet("--quiet", "print", BOX, BOOTH, "--bound", target)
    assert (said.returncode, said.stdout, said.stderr) == (0, "", "")
    found = PdfReader(target)
    counts = [len(run(Job(project, project.read_text(encoding="utf-8"), bound=True)).sheets) for project in (BOX, BOOTH)]
    assert len(found.pages) == sum(counts)
    assert found.page_labels[0] == "1 L-01"
    assert found.page_labels[counts[0]] == "2 L-01"
    tops = [entry for entry in found.outline if not isinstance(entry, list)]
    assert [entry.title.split("  ")[0] for entry in tops] == ["1", "2"]  # type: ignore[union-attr]
    assert [found.get_destination_page_number(entry) for entry in tops] == [0, counts[0]]  # type: ignore[arg-type]
    # Links of the second register lead to pages of the second packet.
    first = found.pages[counts[0]]
    goals = [note.get_object()["/Dest"][0] for note in first["/Annots"]]  # type: ignore[union-attr]
    pages = {page.indirect_reference: number for number, page in enumerate(found.pages)}
    assert goals
    assert all(pages[goal] >= counts[0] for goal in goals)


def test_a_binder_is_whole_or_not_there(tmp_path: Path) -> None:
    bad, target = tmp_path / "bad.yaml", tmp_path / "all.pdf"
    bad.write_text("project: x\n", encoding="utf-8")
    target.write_bytes(b"the good one")
    said = packet("print", BOX, bad, "--bound", target)
    assert said.returncode == 2
    assert "nothing was written" in said.stderr
    assert target.read_bytes() == b"the good one"


def test_what_cannot_be_told_apart_is_refused(tmp_path: Path) -> None:
    one, two = tmp_path / "hut.yaml", tmp_path / "hut.yml"
    for path in (one, two):
        shutil.copy(BOX, path)
    empty = tmp_path / "empty"
    empty.mkdir()
    cases: tuple[tuple[tuple[object, ...], str], ...] = (
        ((tmp_path,), "both be printed"),
        ((empty,), "no project file"),
        ((one, BOOTH, "-o", "no/"), "no folder"),
        ((one, BOOTH, "--bound", one), "is the project file itself"),
        ((one, BOOTH, "--bound", tmp_path / "all.txt"), "ends in .pdf"),
        ((one, two, "-o", tmp_path, "--bound", "x.pdf"), "Leave --out out"),
    )
    for arguments, word in cases:
        said = packet("print", *arguments)
        assert said.returncode == 2, arguments
        assert word in said.stderr
        assert "Traceback" not in said.stderr
    assert not list(tmp_path.glob("*.pdf"))
    assert one.read_bytes() == BOX.read_bytes()


def test_a_fault_of_the_program_is_told_and_does_not_stop_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(*_: object) -> None:
        raise RuntimeError("a bug")

    monkeypatch.setattr("packet.printing.drawn", breaks)
    outcome = run(Job(BOX, BOX.read_text(encoding="utf-8")))
    assert not outcome.done
    assert not outcome.refused
    assert "a bug" in outcome.broken


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="reads which processes there are from /proc")
def test_workers_end_with_a_killed_parent(tmp_path: Path) -> None:
    for number in range(40):
        shutil.copy(samples() / "fish_box.yaml", tmp_path / f"{number}.yaml")
    parent = subprocess.Popen([sys.executable, "-m", "packet", "print", str(tmp_path), "--jobs", "2"],
                              stdout=subprocess.DEVNULL)
    children: list[str] = []
    until = time.monotonic() + 60
    while len(children) < 2 and time.monotonic() < until:
        children = Path(f"/proc/{parent.pid}/task/{parent.pid}/children").read_text(encoding="ascii").split()
    assert len(children) == 2
    parent.kill()
    parent.wait()
    while any(Path(f"/proc/{child}").exists() for child in children) and time.monotonic() < until:
        time.sleep(0.05)
    assert not [child for child in children if Path(f"/proc/{child}").exists()]


def test_no_more_is_asked_for_than_is_taken() -> None:
    """Memory stays flat: jobs far down the list are not handed out before the first are taken."""
    handed: list[Job] = []

    class Now:
        def __init__(self, job: Job) -> None:
            handed.append(job)
            self.job = job

        def result(self) -> Outcome:
            return Outcome(self.job)

    jobs = [Job(Path(str(number)), "") for number in range(100)]
    taken = in_order(Now, jobs, 4)
    got = [next(taken).job, next(taken).job]
    assert got == jobs[:2]
    assert len(handed) <= 6
    assert [outcome.job for outcome in taken] == jobs[2:]


@pytest.mark.filterwarnings("ignore")
def test_on_a_cluster_whose_worker_dies(alone: dict[str, bytes]) -> None:
    distributed = pytest.importorskip("distributed")
    texts = {project: project.read_text(encoding="utf-8") for project in (BOOTH, BOX)}
    jobs = [Job(project, text) for project, text in texts.items()] * 4
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None, processes=True,
                                  silence_logs=50) as cluster:
        outcomes = run_all(jobs, scheduler=cluster.scheduler_address)
        got = [next(outcomes)]
        with distributed.Client(cluster, set_as_default=False) as client:
            victim = next(iter(client.run(os.getpid).values()))
        os.kill(victim, signal.SIGKILL)
        got += outcomes
    assert [outcome.job.project for outcome in got] == [job.project for job in jobs]
    assert all(outcome.pdf == alone[outcome.job.project.stem] for outcome in got)


def test_a_scheduler_that_does_not_answer() -> None:
    said = packet("print", BOX, "--scheduler", "nonsense")
    assert said.returncode == 2
    assert "Traceback" not in said.stderr
    assert "--scheduler nonsense" in said.stderr
