"""Whoever draws a page, it is the same page; a process that fails or is killed fails the whole packet and leaves nobody."""

from __future__ import annotations

import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest

BOX = Path(__file__).parent.parent / "sample_projects" / "fish_box.yaml"


def told(script: str) -> str:
    """What a process of its own says that has no thread but its main one, as pytest's may have."""
    opening = f"""
        import os, signal, sys, threading
        from packet import side_by_side
        from packet.commands.common import plan_of
        from packet.drawing.room import LayoutError
        from packet.pdf.fonts import lettering
        from packet.sheets.kit import make_kit
        from pathlib import Path
        plan = plan_of(Path({str(BOX)!r}))
        kit = make_kit(plan, lettering())
        parent = os.getpid()
        def alone():
            try:
                os.waitpid(-1, os.WNOHANG)
            except ChildProcessError:
                return "alone"
            return "not alone"
    """
    run = subprocess.run([sys.executable, "-W", "error", "-c", textwrap.dedent(opening) + textwrap.dedent(script)],
                         capture_output=True, text=True, check=False, timeout=120)
    assert run.returncode == 0, run.stderr
    return run.stdout.strip()


forks = pytest.mark.skipif(sys.platform != "linux", reason="processes are forked on Linux alone")


@forks
def test_the_packet_is_the_same_from_one_process_and_from_three(tmp_path: Path) -> None:
    files = [tmp_path / f"{jobs}.pdf" for jobs in (1, 3)]
    for jobs, file in zip((1, 3), files, strict=True):
        subprocess.run([sys.executable, "-m", "packet", "print", str(BOX), "-o", str(file), "--jobs", str(jobs)], check=True,
                       stdout=subprocess.DEVNULL)
    assert files[0].read_bytes() == files[1].read_bytes()


@forks
def test_every_process_has_a_share() -> None:
    """Each waits at its first file until the other has one as well: only two processes get past that."""
    assert told("""
        import multiprocessing
        meeting = multiprocessing.Barrier(2)
        met = []
        def draw_file(name, *rest):
            if not met:
                met.append(meeting.wait(60))
            return true(name, *rest)
        true, side_by_side.draw_file = side_by_side.draw_file, draw_file
        pages = side_by_side.pages_of(plan, kit, 2)
        print(len(pages) == len({page.number for page in pages}), alone())
    """) == "True alone"


@forks
@pytest.mark.parametrize("processes", [1, 2, 4])
def test_the_first_fault_is_told_whoever_meets_it(processes: int) -> None:
    assert told(f"""
        def draw_file(name, *rest):
            if name in ("keep", "strips", "order"):
                raise LayoutError(f"no room in {{name}}")
            return ()
        side_by_side.draw_file = draw_file
        try:
            side_by_side.pages_of(plan, kit, {processes})
        except LayoutError as fault:
            print(fault, alone())
    """) == "no room in order alone"


@forks
def test_a_process_that_is_killed_is_told_and_none_stays_behind() -> None:
    assert told("""
        import multiprocessing
        meeting = multiprocessing.Barrier(2)
        met = []
        def draw_file(name, *rest):
            if not met:
                met.append(meeting.wait(60))
                if os.getpid() != parent:
                    os.kill(os.getpid(), signal.SIGKILL)
            return ()
        side_by_side.draw_file = draw_file
        try:
            side_by_side.pages_of(plan, kit, 2)
        except RuntimeError as fault:
            print(fault, alone())
    """) == "a process that drew sheets was ended from outside (exit status -9) alone"


@forks
@pytest.mark.parametrize("given", [0, 1])
def test_where_the_machine_gives_no_more_processes_those_there_are_draw(given: int) -> None:
    """Every file once, and no pipe left open."""
    assert told(f"""
        left, true_fork = [1] * {given}, os.fork
        def counted():
            if left:
                left.pop()
                return true_fork()
            raise BlockingIOError(11, "Resource temporarily unavailable")
        os.fork = counted
        before = len(os.listdir("/proc/self/fd"))
        pages = side_by_side.pages_of(plan, kit, 4)
        numbers = [page.number for page in pages]
        print(len(numbers) > 50, len(numbers) == len(set(numbers)), len(os.listdir("/proc/self/fd")) - before, alone())
    """) == "True True 0 alone"


def test_a_process_with_threads_is_not_forked() -> None:
    assert told("""
        stop = threading.Event()
        thread = threading.Thread(target=stop.wait)
        thread.start()
        os.fork = None
        pages = side_by_side.pages_of(plan, kit, 4)
        stop.set()
        print(len(pages) > 50)
    """) == "True"


@forks
def test_processes_end_after_a_killed_parent(tmp_path: Path) -> None:
    """What they drew finds nobody who reads it, and that is the end of them."""
    parent = subprocess.Popen([sys.executable, "-m", "packet", "print", str(BOX), "-o", str(tmp_path / "box.pdf"),
                               "--jobs", "3"], stdout=subprocess.DEVNULL)
    forked: list[str] = []
    until = time.monotonic() + 60
    while len(forked) < 2 and time.monotonic() < until:
        forked = Path(f"/proc/{parent.pid}/task/{parent.pid}/children").read_text(encoding="ascii").split()
    assert len(forked) == 2
    parent.kill()
    parent.wait()
    while any(Path(f"/proc/{one}").exists() for one in forked) and time.monotonic() < until:
        time.sleep(0.05)
    assert not [one for one in forked if Path(f"/proc/{one}").exists()]
    assert not list(tmp_path.iterdir())
