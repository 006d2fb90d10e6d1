"""Files that are not project files, and files made to do harm: refused fast, clearly, and without a traceback."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from packet.description import Kind, ProjectError, load
from packet.description.loading import describe
from packet.description.problems import Problem
from packet.description.reading import read_text
from packet.description.resolved import Description
from packet.description.source import Scalar
from tests.description.conftest import RIGHT, Write, changed

Problems = Callable[[str | bytes], tuple[Problem, ...]]


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(ProjectError) as missing:
        load(tmp_path / "nothing.yaml")
    (problem,) = missing.value.problems
    assert (problem.kind, problem.file) == (Kind.MISSING, str(tmp_path / "nothing.yaml"))
    assert str(problem).endswith("nothing.yaml: there is no such file. Check the name, or write a starter file first.")
    with pytest.raises(ProjectError, match="this is a folder"):
        load(tmp_path)


@pytest.mark.parametrize("content", ["", "\n\n", "# only a comment\n", "---\n", "~\n", "\ufeff"])
def test_empty_file(content: str, problems: Problems) -> None:
    (problem,) = problems(content)
    assert problem.message == "the file is empty"
    assert problem.kind is Kind.MISSING
    assert problem.remedy


@pytest.mark.parametrize(
    ("content", "line", "column", "message", "remedy"),
    [
        (b"project: caf\xe9\n", 1, 13, "not UTF-8", "UTF-8"),
        ("project: hut\n".encode("utf-16"), 0, 0, "UTF-16", "UTF-8"),
        (b"project: hut\nowner: a\x00b\n", 2, 9, "cannot be seen", "Delete it"),
        ("project: hut\nowner: a\u2028b\n", 2, 9, "cannot be seen", "Delete it"),
        ("project: hut\nowner: \x1b[31mred\n", 2, 8, "cannot be seen", "Delete it"),
        ("shelter:\n\twalls: 6\n", 2, 1, "tab", "Indent with spaces"),
        ("shelter:\n  \twalls: 6\n", 2, 3, "tab", "Indent with spaces"),
        ("just words\n", 1, 1, "does not start with keys", "project: a title"),
        ("- a\n- b\n", 1, 1, "does not start with keys", "project: a title"),
        ("project: a: b\n", 1, 11, "second colon", "in quotes"),
        ("project: @home\n", 1, 10, "cannot start with this character", "in quotes"),
        ("project: 'unclosed\nunits: in\n", 1, 10, "never closed", "Close the quote"),
        ("tape:\n  stock: [4, 6\n  land: 2\n", 2, 10, "is not closed", "with ]"),
        ("limits: {mark: 1, cut: 2\n", 1, 9, "is not closed", "with }"),
        ("project: hut\n units: in\nowner: us\n", 2, 7, "second colon", "line the key up"),
        ("project: hut\nunits\nowner: us\n", 3, 1, "no colon", "a colon"),
        ("shelter:\n  walls: 6\n leaf_width: 20\n", 3, 2, "does not line up", "Indent the keys"),
        ('doors:\n  bottom_trim: "2" 1/2\n', 2, 20, "does not line up", "take away the quotes"),
        ("project: hut\n---\nproject: shed\n", 2, 1, "second document", "Delete the line"),
        ("project: - a\n", 1, 10, "dash", "line of its own"),
        ("*a : 3\n", 1, 1, "not a word", "Write one word"),
    ],
)
def test_text_that_is_not_a_project(
    content: str | bytes, line: int, column: int, message: str, remedy: str, problems: Problems
) -> None:
    (problem,) = (problem for problem in problems(content) if message in problem.message)
    assert (problem.line, problem.column) == (line, column), str(problem)
    assert remedy in problem.remedy


def test_several_invisible_characters_are_told_together(problems: Problems) -> None:
    assert [problem.line for problem in problems("a: \x07\nb: 1\nc: \x08\n")] == [1, 3]


def test_windows_and_old_line_ends_and_a_byte_order_mark_are_read(loaded: Callable[[str], Description]) -> None:
    usual = loaded(RIGHT)
    for text in ("\ufeff" + RIGHT, RIGHT.replace("\n", "\r\n"), RIGHT.replace("\n", "\r")):
        assert loaded(text).fingerprint == usual.fingerprint


def test_lines_are_counted_alike_with_any_line_end(problems: Problems) -> None:
    spoiled = changed("  walls: 6", "  walls: six")
    places = {(p.line, p.column) for end in ("\n", "\r\n", "\r") for p in problems(spoiled.replace("\n", end))}
    assert places == {(7, 10)}


def test_words_stay_words() -> None:
    """What YAML would turn into dates, octal numbers, minutes or truths stays as it was written."""
    text = "a: 2026-11-25\nb: 012\nc: 1:30\nd: no\ne: 1.10\nf: ~\ng: 'no'\n"
    data = read_text(text, Path("words.yaml")).data
    assert [value.raw for value in data.values() if isinstance(value, Scalar)] == [
        "2026-11-25", "012", "1:30", "no", "1.10", "~", "no",
    ]  # fmt: skip


def test_texts_are_kept_as_written(loaded: Callable[[str], Description]) -> None:
    project = loaded(changed("revision: B", "revision: 07\nnumber: 1.10\ndate: 2026-11-25\nowner: no"))
    identity = project.identity
    assert (identity.revision, identity.number, identity.date, identity.owner) == ("07", "1.10", "2026-11-25", "no")


def test_positions_of_keys_and_values() -> None:
    source = read_text("a:\n  b: [1,\n      x]\nc: |\n  text\n", Path("places.yaml"))
    places = {key: (p.key_line, p.key_column, p.line, p.column) for key, p in source.positions.items()}
    assert (
        places
        == {
            "a": (1, 1, 2, 3),
            "a.b": (2, 3, 2, 6),
            "a.b.0": (2, 7, 2, 7),
            "a.b.1": (3, 7, 3, 7),
            "c": (4, 1, 4, 4),
        }
        | {"": (1, 1, 1, 1)}
        or "" not in places
    )


BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n" for before, name in zip("abcdefgh", "bcdefghi", strict=True)
)
HOSTILE = {
    "alias bomb": BOMB,
    "alias to itself": "a: &a [*a]\n",
    "merge key": "base: &base {walls: 6}\nshelter:\n  <<: *base\n",
    "object": "a: !!python/object/apply:os.system ['echo harm']\n",
    "deep list": "a: " + "[" * 400_000,
    "deep pairs": "a: " + "{b: " * 100_000,
    "deep blocks": "".join(" " * depth + "a:\n" for depth in range(1000)),
    "deep dashes": "- " * 200_000 + "x",
    "many keys": "".join(f"k{n}: {n}\n" for n in range(15_000)),
    "too many keys": "".join(f"k{n}: {n}\n" for n in range(40_000)),
    "long key": "k" * 900_000 + ": 1\n",
    "long value": "project: " + "x" * 900_000 + "\n",
    "long number": "units: in\nshelter: {leaf_width: " + "9" * 900_000 + "}\n",
    "long word": "units: " + "m" * 900_000 + "\n",
    "long list": "units: mm\ntape: {stock: [" + "50, " * 19_000 + "]}\n",
    "too large": "# " + "x" * 1_000_000 + "\n",
    "many documents": "---\n" * 200_000,
    "many tabs": "\ta\n" * 300_000,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_are_refused_fast(name: str, problems: Problems) -> None:
    start = time.perf_counter()
    found = problems(HOSTILE[name])
    assert time.perf_counter() - start < 5
    assert found
    assert all(len(str(problem)) < 2000 for problem in found)


def test_limits_of_depth_and_count_name_their_place(problems: Problems) -> None:
    (deep,) = problems("a: " + "[" * 30)
    assert (deep.line, deep.column) == (1, 23)  # the root and 19 lists are 20 levels
    assert "20 levels" in deep.limit
    (many,) = problems("".join(f"k{n}: {n}\n" for n in range(40_000)))
    assert many.line == 10_000  # the root, and two for each line
    assert "20,000" in many.limit


@settings(deadline=None)
@given(st.text())
def test_any_text_is_a_project_or_a_clear_error(text: str) -> None:
    try:
        describe(read_text(text, Path("any.yaml")))
    except ProjectError as error:
        assert error.problems
        assert all(problem.message and problem.remedy for problem in error.problems)


LINES = RIGHT.splitlines(keepends=True)
SIGNS = ["\n", " ", "  ", ":", "-", "[", "]", "{", "}", '"', "'", "&a", "*a", "!", "|", "#", ",", "0", "~", "? "]
PIECES = [*RIGHT.split(), *LINES, *SIGNS]


@settings(deadline=None, max_examples=300)
@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join))
def test_any_mixture_of_right_pieces_is_a_project_or_a_clear_error(text: str) -> None:
    try:
        describe(read_text(text, Path("any.yaml")))
    except ProjectError as error:
        assert all(problem.message and problem.remedy and str(problem) for problem in error.problems)


@settings(deadline=None, max_examples=300)
@given(st.integers(0, len(RIGHT) - 1), st.text(max_size=4), st.integers(0, 6))
def test_any_small_change_of_a_right_file_is_a_project_or_a_clear_error(at: int, new: str, cut: int) -> None:
    try:
        describe(read_text(RIGHT[:at] + new + RIGHT[at + cut :], Path("any.yaml")))
    except ProjectError as error:
        assert all(problem.message and problem.remedy and str(problem) for problem in error.problems)


def test_the_parser_without_its_fast_library_reads_the_same(write: Write) -> None:
    """Some builds of the YAML reader have no libyaml; then the slower parser does the work."""
    script = (
        "import sys, yaml; del yaml.CSafeLoader\n"
        "from packet.description import load, ProjectError\n"
        "print(load(sys.argv[1]).fingerprint)\n"
    )
    path = write(RIGHT)
    done = subprocess.run(
        [sys.executable, "-c", script, str(path)], capture_output=True, text=True, check=True, cwd=Path.cwd()
    )
    assert done.stdout.strip() == load(path).fingerprint
