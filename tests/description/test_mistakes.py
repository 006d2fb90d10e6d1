"""Mistakes that people make, one at a time: where it is, what was written, what is allowed, what to do.

In a spoiled line, ^ stands right before the place that must be pointed at. Every case also gives the lines that
follow the advice; with them the file must load.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import pytest

from packet.description import Kind, render
from packet.description.problems import Problem
from packet.description.resolved import Description
from tests.description.conftest import RIGHT, changed


class Case(NamedTuple):
    """`old` is the line that is right, `new` the spoiled one; then what must be said, and the mended line."""

    old: str
    new: str
    key: str
    value: str
    message: str
    limit: str
    remedy: str
    mended: str
    kind: Kind = Kind.MALFORMED


# fmt: off
KEYS = [
    Case("paper: letter", "^papr: letter", "papr", "papr", "not known",
         "known keys: project", "Write paper.", "paper: letter"),
    Case("  walls: 6", "  ^wals: 6\n  walls: 6", "shelter.wals", "wals", "not known",
         "known keys: preset, walls", "Write walls.", "  walls: 6"),
    Case("  hand: left", "  ^thickness: 1", "doors.thickness", "thickness", "not known",
         "known keys: hand", "in the group `boards:`", "  hand: left"),
    Case("  mark: 1/16", "  ^owner: nobody", "limits.owner", "owner", "not known",
         "known keys: board_spread", "in no group", "  mark: 1/16"),
    Case("  land: 2", "  ^zzz: 2", "tape.zzz", "zzz", "not known",
         "known keys: land", "Take it away", "  land: 2"),
    Case("  land: 2", '  ^"\\e[31m": 2', "tape.<U+001B>[31m", "<U+001B>[31m", "not known",
         "known keys: land", "Take it away", "  land: 2"),
    Case("  walls: 6", "  walls: 6\n  ^walls: 8", "shelter.walls", "walls", "already written in line 7",
         "each key once", "delete the other", "  walls: 6"),
    Case("duct: 3", "^tape.roll: 60 yd", "", "tape.roll", "no dot",
         "one word", "Write `tape:`", "duct: 3"),
]
LENGTHS = [
    Case("  leaf_width: 20", "  leaf_width: ^twenty", "shelter.leaf_width", "twenty", "not a length",
         "2 in to 120 in", "for example, 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", "  leaf_width: ^20 cubits", "shelter.leaf_width", "20 cubits", "'cubits' is not a unit",
         "2 in to 120 in", "Use in, ft, yd, mm, cm or m", "  leaf_width: 50.8 cm"),
    Case("  leaf_width: 20", "  leaf_width: ^508", "shelter.leaf_width", "508", "too large",
         "2 in to 120 in", "from 2 in to 120 in", "  leaf_width: 508 mm"),
    Case("  leaf_width: 20", "  leaf_width: ^1 in", "shelter.leaf_width", "1 in", "too small",
         "2 in to 120 in", "from 2 in to 120 in", "  leaf_width: 20"),
    Case("  leaf_width: 20", "  leaf_width:^", "shelter.leaf_width", "", "value is missing",
         "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", "  leaf_width: ^~", "shelter.leaf_width", "~", "value is missing",
         "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", "  leaf_width: ^[20]", "shelter.leaf_width", "", "one value belongs here, not a list",
         "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", "  leaf_width:\n    ^inches: 20", "shelter.leaf_width", "", "not a group of keys",
         "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", "  leaf_width: ^yes", "shelter.leaf_width", "yes", "not a length",
         "2 in to 120 in", "for example, 20 in", "  leaf_width: 20 in"),
    Case("  wall_height: 54", "  wall_height: ^5.4e1", "shelter.wall_height", "5.4e1", "exponent",
         "4 in to 120 in", "for example, 54 in", "  wall_height: 54 in"),
    Case("  wall_height: 54", "  wall_height: ^.nan", "shelter.wall_height", ".nan", "not a number",
         "4 in to 120 in", "for example, 54 in", "  wall_height: 54 in"),
    Case("  wall_height: 54", "  wall_height: ^012:30", "shelter.wall_height", "012:30", "not a length",
         "4 in to 120 in", "for example, 54 in", "  wall_height: 54 in"),
    Case("  bottom_trim: 3/4", "  bottom_trim: ^-3/4", "doors.bottom_trim", "-3/4", "never negative",
         "0 in to 12 in", "without the minus sign", "  bottom_trim: 3/4"),
    Case("  bottom_trim: 3/4", "  bottom_trim: ^3/0", "doors.bottom_trim", "3/0", "0 below the line",
         "0 in to 12 in", "for example, 3/4 in", "  bottom_trim: 3/4 in"),
    Case("  bottom_trim: 3/4", "  bottom_trim: ^0,75", "doors.bottom_trim", "0,75", "comma",
         "0 in to 12 in", "decimal point", "  bottom_trim: 0.75"),
    Case("  roll: 60 yd", "  roll: ^12", "tape.roll", "12", "too small",
         "1 yd to 1000 yd", "from 1 yd to 1000 yd", "  roll: 12 yd"),
]
SIZES = [
    Case("  size: 48 x 96", "  size: ^48", "boards.size", "48", "not a size",
         "each 6 in to 240 in", "Write it as 48 x 96", "  size: 48 x 96"),
    Case("  size: 48 x 96", "  size: ^4 x 96", "boards.size", "4 x 96", "too small",
         "6 in to 240 in", "from 6 in to 240 in", "  size: 48 x 96"),
    Case("  size: 48 x 96", "  size: ^1 x 48 x 96", "boards.size", "1 x 48 x 96", "two lengths",
         "each 6 in to 240 in", "such as 48 x 96", "  size: 48 x 96"),
    Case("  size: 48 x 96", "  size: ^48 in x 96", "boards.size", "48 in x 96", "some have none",
         "each 6 in to 240 in", "unit once, at the end", "  size: 48 x 96 in"),
    Case("paper: letter", "paper: ^leter", "paper", "leter", "no paper of this name",
         "letter, a4, legal", "Write letter.", "paper: letter"),
    Case("paper: letter", "paper: ^foolscap", "paper", "foolscap", "no paper of this name",
         "letter, a4, legal", "Write letter, a4", "paper: a4"),
    Case("paper: letter", "paper: ^24 by", "paper", "24 by", "not a size",
         "letter, a4, legal", "Write it as", "paper: 24 by 36"),
    Case("paper: letter", "paper: ^1 x 2 x 3", "paper", "1 x 2 x 3", "two lengths",
         "8 x 10-1/2 in", "width x height", "paper: 24 x 36"),
    Case("paper: letter", "paper: ^5 x 8", "paper", "5 x 8", "too small",
         "8 x 10-1/2 in", "Write letter or a4", "paper: a4"),
    Case("paper: letter", "paper: ^36 x 300", "paper", "36 x 300", "too large",
         "200 x 200 in", "smaller size", "paper: 36 x 48"),
]
NUMBERS_AND_WORDS = [
    Case("  walls: 6", "  walls: ^6.0", "shelter.walls", "6.0", "not a whole number",
         "from 4 to 12", "such as 6", "  walls: 6"),
    Case("  walls: 6", "  walls: ^six", "shelter.walls", "six", "not a whole number",
         "from 4 to 12", "such as 6", "  walls: 6"),
    Case("  walls: 6", "  walls: ^2", "shelter.walls", "2", "too small",
         "from 4 to 12", "from 4 to 12", "  walls: 6"),
    Case("  spare: 1", "  spare: ^21", "boards.spare", "21", "too large",
         "from 0 to 20", "from 0 to 20", "  spare: 20"),
    Case("  allowance: 5", "  allowance: ^plenty", "tape.allowance", "plenty", "not a number",
         "0 to 100 percent", "such as 5", "  allowance: 5"),
    Case("  allowance: 5", "  allowance: ^101 %", "tape.allowance", "101 %", "too large",
         "0 to 100 percent", "from 0 to 100", "  allowance: 100 %"),
    Case("  density: 2.0", "  density: ^32", "assume.density", "32", "too large",
         "0.3 to 5 lb/cu ft", "from 0.3 to 5", "  density: 2.0"),
    Case("  hand: left", "  hand: ^rihgt", "doors.hand", "rihgt", "not known",
         "left or right", "Write right.", "  hand: right"),
    Case("  tool: saw", "  tool: ^wire", "boards.tool", "wire", "not known",
         "knife or saw", "Write knife or saw.", "  tool: knife"),
    Case("  combine: yes", "  combine: ^perhaps", "tape.combine", "perhaps", "neither yes nor no",
         "yes or no", "Write yes or no.", "  combine: no"),
    Case("revision: B", "revision: ^BCD", "revision", "BCD", "3 characters",
         "at most 2", "Shorten it to 2", "revision: BC"),
    Case("revision: B", 'revision: ^"\\a"', "revision", "<U+0007>", "cannot be printed",
         "at most 2", "plain characters", "revision: B"),
    Case("project: Beekeepers' shelter", "project: ^''", "project", "", "value is missing",
         "at most 40", "such as a short title", "project: a short title"),
    Case("project: Beekeepers' shelter", "project: ^|\n  Beekeepers\n  unite", "project", "Beekeepers unite",
         "line break", "one line", "on one line", "project: Beekeepers unite"),
    Case("units: in", "units: ^inch", "units", "inch", "not known",
         "in or mm", "Write in.", "units: in"),
]
LISTS_AND_GROUPS = [
    Case("  stock: [4, 6]", "  stock: ^4", "tape.stock", "4", "a list belongs here",
         "a list of at most 12", "such as [4, 6]", "  stock: [4]"),
    Case("  stock: [4, 6]", "  stock: ^[]", "tape.stock", "", "list is empty",
         "a list of at most 12", "such as [4, 6]", "  stock: [4, 6]"),
    Case("  stock: [4, 6]", "  stock: [4, ^six]", "tape.stock.1", "six", "not a length",
         "1/2 in to 24 in", "for example, 4 in", "  stock: [4, 6]"),
    Case("  stock: [4, 6]", "  stock: ^[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]", "tape.stock", "", "13 entries",
         "at most 12", "Keep at most 12", "  stock: [4, 6]"),
    Case("  measured: []", "  measured:\n    - ^96 x 48", "boards.measured.0", "96 x 48", "a group of keys",
         "keys: length, breadth", "on a line of its own", "  measured:\n    - length: 96\n      breadth: 48"),
    Case("  measured: []", "  measured:\n    - {length: 96, ^bredth: 48, breadth: 48}", "boards.measured.0.bredth",
         "bredth", "not known", "known keys: length, breadth", "Write breadth.",
         "  measured: [{length: 96, breadth: 48}]"),
    Case("  measured: []", "  measured:\n    - ^{length: 96}", "boards.measured.0.breadth", "", "missing",
         "must be written", "`breadth:`", "  measured: [{length: 96, breadth: 48}]", Kind.MISSING),
    Case("  density: 2.0", "  ^- 2.0", "assume", "", "a group of keys belongs here",
         "keys: density, tape_thickness, foil_thickness, hinge_bulk", "on a line of its own", "  density: 2.0"),
]
MORE_THAN_PLAIN_VALUES = [
    Case("  land: 2", "  land: ^&usual 2", "tape.land", "&usual", "names a value",
         "plain values", "Write the value out", "  land: 2"),
    Case("  land: 2", "  land: ^*usual", "tape.land", "*usual", "refers to a value",
         "plain values", "Write the value out", "  land: 2"),
    Case("  land: 2", "  land: ^!!float 2", "tape.land", "tag:yaml.org,2002:float", "names a type",
         "plain values", "Write the value out", "  land: 2"),
    Case("  land: 2", "  land: 2\n  ? ^[1, 2]\n  : 3", "tape", "", "is not a word",
         "one word", "Write one word", "  land: 2"),
]
# fmt: on
CASES = [*KEYS, *LENGTHS, *SIZES, *NUMBERS_AND_WORDS, *LISTS_AND_GROUPS, *MORE_THAN_PLAIN_VALUES]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.new.strip().replace("^", ""))
def test_a_mistake_is_told_with_its_place_and_its_remedy(
    case: Case, problems: Callable[[str], tuple[Problem, ...]], loaded: Callable[[str], Description]
) -> None:
    spoiled = changed(case.old, case.new)
    before, after = spoiled.split("^")
    (problem,) = problems(before + after)
    assert (problem.line, problem.column) == (before.count("\n") + 1, len(before.rpartition("\n")[2]) + 1)
    assert (problem.key, problem.value, problem.kind) == (case.key, case.value, case.kind)
    assert case.message in problem.message
    assert case.limit in problem.limit
    assert case.remedy in problem.remedy
    told = str(problem)
    assert told.startswith(f"{problem.file}:{problem.line}:{problem.column}: ")
    words = [word for word in problem.key.split(".") if not word.isdigit()]
    for part in (*words, problem.message, problem.value, problem.limit, problem.remedy):
        assert part in told
    loaded(changed(case.old, case.mended))


@pytest.mark.parametrize(
    ("line", "key", "remedy"),
    [
        ("project: Beekeepers' shelter", "project", "`project:`"),
        ("units: in", "units", "`units:`"),
        ("  walls: 6", "shelter.walls", "`walls:`"),
        ("  slant: 42", "shelter.slant", "`slant:`"),
        ("  size: 48 x 96", "boards.size", "`size:`"),
    ],
)
def test_a_missing_key_is_told_at_the_group_that_it_is_missing_from(
    line: str, key: str, remedy: str, problems: Callable[[str], tuple[Problem, ...]]
) -> None:
    content = f"\n{RIGHT}".replace(f"\n{line}\n", "\n", 1)[1:]
    (problem,) = problems(content)
    group = key.rpartition(".")[0]
    lines = content.split("\n")
    place = (lines.index(f"{group}:") + 1, 1) if group else (1, 1)
    assert (problem.key, problem.kind, (problem.line, problem.column)) == (key, Kind.MISSING, place)
    assert remedy in problem.remedy
    assert "missing" in problem.message


def test_a_missing_group_is_told_with_the_keys_it_needs(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    told = problems("project: a shelter without a shape\nunits: mm\n")
    by_key = {problem.key: problem for problem in told}
    assert [problem.key for problem in told] == ["boards", "shelter"]
    assert "walls, leaf_width, wall_height, slant" in by_key["shelter"].remedy
    assert "size, thickness" in by_key["boards"].remedy


def test_without_units_no_range_is_judged(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    """508 would be too much in inches; without the key nobody can know."""
    content = changed("  leaf_width: 20", "  leaf_width: 508").replace("units: in\n", "")
    assert [problem.key for problem in problems(content)] == ["units"]


def test_all_problems_of_a_file_are_told_together(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    content = (
        changed("units: in", "units: in\nowners: us")
        .replace("  walls: 6\n", "  walls: 7\n  walls: 8\n")
        .replace("  slant: 42\n", "  slant: tall\n")
        .replace("  land: 2\n", "  land: 11\n")
        .replace("  hand: left\n", "  hand: up\n")
        .replace("  thickness: 1\n", "")
        .replace("  density: 2.0\n", "  density: !!python/name:os.system 2\n")
    )
    assert [(problem.line, problem.key, problem.kind) for problem in problems(content)] == [
        (3, "owners", Kind.MALFORMED),
        (8, "shelter.walls", Kind.UNFEASIBLE),
        (9, "shelter.walls", Kind.MALFORMED),
        (13, "shelter.slant", Kind.MALFORMED),
        (16, "doors.hand", Kind.MALFORMED),
        (21, "boards.thickness", Kind.MISSING),
        (27, "tape.land", Kind.UNFEASIBLE),
        (38, "assume.density", Kind.MALFORMED),
    ]


def test_a_problem_is_shown_with_its_line_and_a_caret(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    content = changed("  walls: 6", "  walls: six  # sides")
    (problem,) = problems(content)
    text, line, caret = render(problem, content.split("\n")[problem.line - 1]).split("\n")
    assert text == str(problem)
    assert line.endswith("  walls: six  # sides")
    assert line[caret.index("^") :].startswith("six")


def test_entries_of_a_list_are_counted_from_one(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    (second,) = problems(changed("  stock: [4, 6]", "  stock: [4, six]"))
    assert ": tape.stock 2: " in str(second)
    (inner,) = problems(changed("units: in", "units: in\nopenings:\n  - {leaf: A3, size: 9 x 9, across: 9, up: far}"))
    assert ": openings 1.up: " in str(inner)


@pytest.mark.parametrize(("old", "new", "place"), [
    ("  slant: 42", "  slant: 42\nowner: \"Kettle\nnumber: 7", '"Kettle'),
    ("  slant: 42", "  slant: 42\nopenings: [{leaf: A3\nnumber: 7", "{leaf"),
    ("  stock: [4, 6]", "  stock: [4, 6", "[4, 6"),
])
def test_what_is_never_closed_is_told_where_it_is_opened(
    problems: Callable[[str], tuple[Problem, ...]], old: str, new: str, place: str
) -> None:
    content = changed(old, new)
    (problem,) = problems(content)
    assert content.split("\n")[problem.line - 1][problem.column - 1:].startswith(place)


@pytest.mark.parametrize(("title", "named"), [("Camp \U0001f3d5", "U+1F3D5"), ("\u041b\u0430", "U+041B")])
def test_a_letter_that_no_page_can_show_is_refused_where_it_stands(
    problems: Callable[[str], tuple[Problem, ...]], title: str, named: str
) -> None:
    (problem,) = problems(changed("units: in", f"units: in\nowner: {title}"))
    assert (problem.key, problem.column) == ("owner", 8)
    assert named in problem.message


def test_messages_speak_no_jargon(problems: Callable[[str], tuple[Problem, ...]]) -> None:
    for case in CASES:
        told = " ".join(map(str, problems(changed(case.old, case.new).replace("^", ""))))
        for word in (
            "pydantic",
            "extra",
            "input",
            "type=",
            "float",
            "dict",
            "mapping",
            "sequence",
            "scalar",
            "validation",
        ):
            assert word not in told.replace(case.value, "").replace("tag:", "") or word in case.new, (word, told)


@pytest.mark.parametrize("group", ["tape", "foil"])
def test_a_list_where_tape_belongs(group: str, problems: Callable[[str], tuple[Problem, ...]]) -> None:
    """Their widths are looked at before the rest is checked; a list has none."""
    (problem,) = problems("project: x\nunits: mm\nboards: {size: 1200 x 2400, thickness: 25}\n"
                          "shelter: {walls: 6, leaf_width: 500, wall_height: 1100, slant: 1000}\n"
                          f"{group}:\n  - stock: [50]\n")
    assert problem.key == group
    assert "a group of keys belongs here" in problem.message
