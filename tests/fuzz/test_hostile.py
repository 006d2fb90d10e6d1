"""Files that mean harm are refused in a second, in little memory, and leave nothing behind."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from itertools import islice
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packet.description import ProjectError
from packet.description.loading import describe
from packet.description.meanings import meanings
from packet.description.reading import read_text
from packet.ledger.store import Ledger, LedgerError
from tests.fuzz import hostile_options
from tests.fuzz.hostile import PLAIN
from tests.fuzz.hostile_values import BASES, cases, fault
from tests.fuzz.hostile_values import VALUES as HARMFUL
from tests.fuzz.ledgers import chained
from tests.fuzz.mutations import VALUES, one
from tests.fuzz.trials import command_trial, ledger_trial, seeds, trial

ROOT = Path(__file__).parent.parent.parent


def test_hostile_files(tmp_path: Path) -> None:
    said = subprocess.run([sys.executable, "-m", "tests.fuzz.hostile"], cwd=ROOT, capture_output=True, text=True, check=True)
    found = json.loads(said.stdout)
    for name, what in found["files"].items():
        assert what["wrong"] == "", name
        assert what["code"] == (0 if name.startswith("good") else 2), name
        assert what["strays"] == [], name
        # The first file also pays for the imports; an honest one is printed whole.
        assert what["seconds"] < (4 if name.startswith("good") else 1), name
    assert found["megabytes"] < 300


@pytest.mark.parametrize("base", BASES.values(), ids=map(str, BASES))
def test_what_hostile_values_are_put_into_is_sound(base: str) -> None:
    assert fault(base) == ("", False)


def test_values_that_mean_harm_under_every_key() -> None:
    """Every eighth here, so that every key and every value is among them; all of them, with their time and memory, are
    `python -m tests.fuzz.hostile_values`."""
    refused = Counter[bool]()
    keys, values = set(), set()
    for key, name, text in islice(cases(), None, None, 8):
        wrong, told = fault(text)
        assert not wrong, (key, name, wrong)
        refused[told] += 1
        keys.add(key)
        values.add(name)
    assert keys == set(meanings())
    assert values == set(HARMFUL)
    assert refused[True] > 8 * refused[False] > 0


def test_options_that_mean_harm(tmp_path: Path) -> None:
    """A sample here, so that every line and every value is among them; all are `python -m tests.fuzz.hostile_options`."""
    chosen = list(hostile_options.cases())[::20]
    assert {line for line, _ in chosen} == set(hostile_options.LINES)
    found_once = (["done", "hut.yaml", "cut:1", "--quantity=inf"], ["done", "hut.yaml", "A2", "--page=\udcff"],
                  ["board", "hut.yaml", "1", f"--out={'a' * 5000}"])
    for words in (*(words for _, words in chosen), *found_once):
        assert hostile_options.faults(words, tmp_path) == [], words


def test_a_title_cannot_reach_into_the_page(tmp_path: Path) -> None:
    """What looks like operators or a template is lettered, not obeyed."""
    from pypdf import PdfReader

    from packet.plan import make_plan
    from packet.printing import print_packet
    from tests.fuzz.hostile import hostile

    for name, title in (("good: an operator of PDF", "(x) Tj ET Q endstream endobj"),
                        ("good: a sentence of jinja", "{{ 7*7 }} {% set x = 1 %}")):
        target = tmp_path / "hut.pdf"
        print_packet(make_plan(describe(read_text(hostile()[name].decode(), Path("hut.yaml")))), target)
        reader = PdfReader(target)
        assert reader.metadata is not None
        assert reader.metadata.title == title
        assert title in reader.pages[0].extract_text().replace("\n", " ")


def test_a_short_run_of_the_fuzz(tmp_path: Path) -> None:
    """The long one is `python -m tests.fuzz.run 100000`."""
    texts = seeds()
    codes = set()
    for number in range(150):
        wrong, code = trial(one(texts, number), tmp_path, printing=number % 50 == 0)
        assert not wrong, (number, wrong)
        codes.add(code)
    assert codes == {0, 2}


@pytest.mark.parametrize("kind", [ledger_trial, command_trial])
def test_a_short_run_of_ledgers_and_of_command_lines(kind: Callable[[int, Path], tuple[str, int]], tmp_path: Path) -> None:
    """The long ones are `python -m tests.fuzz.run 2000 0 0 ledger`, and `command`."""
    codes = set()
    for number in range(120):
        wrong, code = kind(number, tmp_path)
        assert not wrong, (number, wrong)
        codes.add(code)
    assert codes == {0, 2}


@pytest.mark.parametrize(("said", "why"), [
    ({"kind": "decided", "decision": {"reissue": "x.pdf", "part": "hut.yaml"}}, "no names of pages"),
    ({"kind": "decided", "decision": {"reissue": "../x.pdf", "part": ".../x.pdf.a.part"}}, "no names of pages"),
    ({"kind": "decided", "decision": {"told": "\x1b[2J"}}, "no line of text"),
    ({"kind": "measured", "board": "one", "length": 1.0, "breadth": 1.0}, "no number of a board"),
    ({"kind": "measured", "board": "1", "length": float("nan"), "breadth": 1.0}, "no number that can be recorded"),
    ({"kind": "measured", "board": "1", "length": 2400.0, "breadth": 1200.0, "diagonals": [1.0]}, "0 or 2 lengths"),
    ({"kind": "done", "task": "brief", "station": "L", "hands": 10 ** 30}, "no count"),
    ({"kind": ["done"]}, "no such kind"),
    ({"kind": "done", "task": "brief"}, "lacks something"),
    ({"kind": "gauged", "across": [], "up": [[100.0, 0.0]]}, "no one or two bars"),
])
def test_a_ledger_by_mail(said: dict[str, object], why: str, tmp_path: Path) -> None:
    """A ledger with sound checksums and an entry that no command writes: refused before anything is done by it."""
    (tmp_path / "hut.yaml").write_text(PLAIN, encoding="utf-8")
    (tmp_path / "hut.ledger").write_bytes(chained([{"act": 1, "at": "2031-05-02T09:30:00Z", "entries": [said]}]))
    with pytest.raises(LedgerError, match=why) as caught:
        Ledger.of(tmp_path / "hut.yaml")
    assert str(caught.value).isprintable()
    assert (tmp_path / "hut.yaml").read_text(encoding="utf-8") == PLAIN


def test_a_refusal_shows_no_control_characters(tmp_path: Path) -> None:
    assert command_trial(1176, tmp_path) == ("", 2)  # collects a page whose serial is a null byte


@pytest.mark.parametrize(("content", "why"), [(b"[" * 100_000, "nested deeper"), (b" " * 20_000_001, "too large")])
def test_a_ledger_without_bound(content: bytes, why: str, tmp_path: Path) -> None:
    (tmp_path / "hut.ledger").write_bytes(content)
    with pytest.raises(LedgerError, match=why):
        Ledger.of(tmp_path / "hut.yaml")


KEYS = st.sampled_from(("project", "units", "paper", "shelter", "boards", "tape", "foil", "doors", "openings", "limits",
                        "assume", "walls", "leaf_width", "size", "thickness", "preset", "leaves", "seams", "mark",
                        "join", "unknown"))
TREES = st.recursive(
    st.sampled_from([value for value in VALUES if len(value) < 50]) | st.text(max_size=8) | st.integers().map(str),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=6), max_leaves=25)


@given(st.dictionaries(KEYS, TREES, max_size=8))
@settings(max_examples=200, deadline=None)
def test_any_tree_of_keys_is_taken_or_refused(tree: dict[str, object]) -> None:
    """JSON is YAML: whatever stands where, the answer is a project or a list of problems."""
    try:
        describe(read_text(json.dumps(tree), Path("hut.yaml")))
    except ProjectError as fault:
        assert fault.problems
        assert all(problem.remedy and problem.message for problem in fault.problems)
