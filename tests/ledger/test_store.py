"""The ledger: nothing that was recorded is lost, and nothing half written counts."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from packet.ledger.entries import Collected, Decided, Done, Gauged, Issued, Item, Measured, Piece, State
from packet.ledger.store import Ledger, LedgerError, LedgerMoved

ONE_OF_EACH: tuple[Item, ...] = (
    Issued("C-01", "K3F-9QZ1", "A", "8f3a01bc", "cutting table"),
    Collected("K3F-9QZ1", "cutting table"),
    Measured("3", 2436.0, 1219.0, (2724.0, 2726.0), (25.0, 25.0, 24.5, 25.0)),
    Piece("A3", State.SPOILED, "2", "K3F-9QZ1", {"width": 596.9}),
    Done("mark:board 1", "C", 22.5, 13.4, 2),
    Decided({"remedy": "blank", "leaf": "A3", "trimmed": ["A2", "A4"]}),
    Gauged(((100.0, 99.2),), ((150.0, 148.8), (100.0, 99.1))),
)


def project(folder: Path) -> Path:
    return folder / "hut.yaml"


def test_what_was_recorded_is_read_back(tmp_path: Path) -> None:
    at = datetime(2026, 5, 2, 9, 30, tzinfo=UTC)
    first = Ledger.of(project(tmp_path)).append(ONE_OF_EACH[:3], at)
    second = first.append(ONE_OF_EACH[3:], at)
    read = Ledger.of(project(tmp_path))
    assert read == second
    assert read.acts == 2
    plain = [entry.item for entry in read.entries]
    assert plain[:5] == list(ONE_OF_EACH[:5]) and plain[6] == ONE_OF_EACH[6]
    assert plain[5] == Decided({"remedy": "blank", "leaf": "A3", "trimmed": ["A2", "A4"]})
    assert {entry.at for entry in read.entries} == {"2026-05-02T09:30:00Z"}


def test_an_old_ledger_reads_and_is_continued(tmp_path: Path) -> None:
    old = Path(__file__).with_name("format_1.ledger").read_bytes()
    path = tmp_path / "hut.ledger"
    path.write_bytes(old)
    ledger = Ledger.of(project(tmp_path))
    assert [entry.item for entry in ledger.entries] == [
        Measured("1", 2438.4, 1219.2), Issued("C-02", "7QK-44ZD", "B", "0a1b2c3d", "north table")]
    later = ledger.append([Collected("7QK-44ZD", "north table")])
    assert path.read_bytes().startswith(old)
    assert Ledger.of(project(tmp_path)) == later
    assert later.acts == 3


@pytest.mark.parametrize("kept", range(1, 60, 7))
def test_a_torn_line_counts_for_nothing_and_the_next_act_is_whole(tmp_path: Path, kept: int) -> None:
    ledger = Ledger.of(project(tmp_path)).append(ONE_OF_EACH[:1])
    whole = ledger.path.read_bytes()
    ledger.append(ONE_OF_EACH[1:2])
    ledger.path.write_bytes(ledger.path.read_bytes()[: len(whole) + kept])
    torn = Ledger.of(project(tmp_path))
    assert torn.entries == ledger.entries
    assert "line 3" in torn.notices[0]
    mended = torn.append(ONE_OF_EACH[2:3])
    assert [entry.item for entry in Ledger.of(project(tmp_path)).entries] == [ONE_OF_EACH[0], ONE_OF_EACH[2]]
    assert mended.acts == 2


def test_a_ledger_torn_in_its_first_line_begins_again(tmp_path: Path) -> None:
    (tmp_path / "hut.ledger").write_bytes(b'{"ledger": "pac')
    ledger = Ledger.of(project(tmp_path))
    assert ledger.entries == () and ledger.notices
    ledger.append(ONE_OF_EACH[:1])
    assert [entry.item for entry in Ledger.of(project(tmp_path)).entries] == [ONE_OF_EACH[0]]


def changed(text: str) -> str:
    return text.replace("cutting table", "another table")


def without_a_line(text: str) -> str:
    lines = text.splitlines(keepends=True)
    return "".join(lines[:1] + lines[2:])


def newer(text: str) -> str:
    return text.replace('"format": 2', '"format": 3')


def foreign(text: str) -> str:
    return "[1, 2]\n" + text


@pytest.mark.parametrize(("damage", "said"), [
    (changed, "line 2: was changed"), (without_a_line, "line 2: was changed"), (newer, "format 3 (limit: 2)"),
    (foreign, "line 1: is no line of a ledger")])
def test_what_does_not_read_is_told_and_left_alone(tmp_path: Path, damage, said: str) -> None:  # type: ignore[no-untyped-def]
    ledger = Ledger.of(project(tmp_path)).append(ONE_OF_EACH[:1]).append(ONE_OF_EACH[1:2])
    text = damage(ledger.path.read_text(encoding="utf-8"))
    ledger.path.write_text(text, encoding="utf-8")
    with pytest.raises(LedgerError) as fault:
        Ledger.of(project(tmp_path))
    assert said in str(fault.value)
    with pytest.raises(LedgerError):
        ledger.append(ONE_OF_EACH[2:3])
    assert ledger.path.read_text(encoding="utf-8") == text


def test_an_act_on_what_is_no_longer_so_is_refused(tmp_path: Path) -> None:
    stale = Ledger.of(project(tmp_path))
    stale.append(ONE_OF_EACH[:1])
    before = stale.path.read_bytes()
    with pytest.raises(LedgerMoved):
        stale.append(ONE_OF_EACH[1:2])
    assert stale.path.read_bytes() == before


def test_a_disk_that_fills_up_leaves_the_ledger_as_it_was(tmp_path: Path) -> None:
    ledger = Ledger.of(project(tmp_path)).append(ONE_OF_EACH[:1])
    before = ledger.path.read_bytes()
    code = (
        "import resource, signal, sys; from pathlib import Path\n"
        "from packet.ledger.store import Ledger; from packet.ledger.entries import Collected\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        f"ledger = Ledger.of(Path({str(project(tmp_path))!r}))\n"
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({len(before) + 20}, {len(before) + 20}))\n"
        "try:\n    ledger.append([Collected('x' * 50, 'y')])\n"
        "except OSError as fault: sys.exit(9)\n")
    ran = subprocess.run([sys.executable, "-c", code], check=False)
    assert ran.returncode == 9
    assert ledger.path.read_bytes() == before


WRITER = """
import sys
from pathlib import Path
from packet.ledger.entries import Collected
from packet.ledger.store import Ledger, LedgerMoved
name, count = sys.argv[2], int(sys.argv[3])
for number in range(count):
    while True:
        try:
            Ledger.of(Path(sys.argv[1])).append([Collected(f"{name}-{number}", name), Collected(f"{name}+{number}", name)])
            break
        except LedgerMoved:
            pass
    print(number, flush=True)
"""


def start_writer(folder: Path, name: str, count: int) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, "-c", WRITER, str(project(folder)), name, str(count)], stdout=subprocess.PIPE)


def test_two_at_once_never_interleave(tmp_path: Path) -> None:
    writers = [start_writer(tmp_path, name, 40) for name in "ab"]
    assert [writer.wait(60) for writer in writers] == [0, 0]
    for writer in writers:
        writer.communicate()
    acts: dict[int, list[str]] = {}
    for entry in Ledger.of(project(tmp_path)).entries:
        assert isinstance(entry.item, Collected)
        acts.setdefault(entry.act, []).append(entry.item.serial)
    assert len(acts) == 80
    assert all(first.replace("-", "+") == second for first, second in acts.values())
    for name in "ab":
        assert [one for one, _ in acts.values() if one[0] == name] == [f"{name}-{number}" for number in range(40)]


def test_killed_at_any_moment_nothing_told_as_recorded_is_lost(tmp_path: Path) -> None:
    dice = random.Random(7)
    for round_number in range(int(os.environ.get("PACKET_KILLS", "12"))):
        folder = tmp_path / str(round_number)
        folder.mkdir()
        writer = start_writer(folder, "w", 10_000)
        assert writer.stdout is not None
        writer.stdout.readline()
        time.sleep(dice.uniform(0.0, 0.05))
        writer.send_signal(signal.SIGKILL)
        told = writer.communicate()[0].split()
        ledger = Ledger.of(project(folder))
        serials = [entry.item.serial for entry in ledger.entries if isinstance(entry.item, Collected)]
        last = int(told[-1]) if told else 0
        assert serials[: 2 * (last + 1)] == [f"w{sign}{n}" for n in range(last + 1) for sign in "-+"]
        ledger.append([Collected("after", "lead")])
        assert [e.item for e in Ledger.of(project(folder)).entries][-1] == Collected("after", "lead")


def test_readable_as_text(tmp_path: Path) -> None:
    ledger = Ledger.of(project(tmp_path)).append(ONE_OF_EACH)
    lines = ledger.path.read_text(encoding="utf-8").splitlines()
    assert json.loads(lines[0]) == {"ledger": "packet", "format": 2}
    assert '"holder": "cutting table"' in lines[1]


@pytest.mark.parametrize("item", [
    Done("brief", "L", quantity=float("inf")), Done("brief", "L", minutes=float("nan")), Done("brief", "L", hands=-1),
    Piece("A2", State.CUT, "1", "\udcff"), Piece("A2", State.CUT, "1", "x" * 1001),
    Piece("A2", State.CUT, actual={"width": 1e308}),
])
def test_what_would_not_read_is_not_written(tmp_path: Path, item: Item) -> None:
    first = Ledger(tmp_path / "hut.ledger").append([Done("brief", "L")])
    before = first.path.read_bytes()
    with pytest.raises(LedgerError, match="cannot be recorded"):
        first.append([Done("brief", "L"), item])
    assert first.path.read_bytes() == before
    with pytest.raises(LedgerError):
        Ledger(tmp_path / "new.ledger").append([item])
    assert not (tmp_path / "new.ledger").exists()
