"""Mistakes that people make, one at a time: where it is, what was written, what is allowed, what to do.

In a spoiled line, the mark below stands right before the place that must be pointed at. Every case also gives the
line that follows the advice; with it the file must load.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from packet.description import Kind, load
from packet.description.problems import Problem
from packet.description.resolved import Description
from tests.description.conftest import RIGHT, Write, changed

MARK = "\N{BLACK DOWN-POINTING TRIANGLE}"


@dataclass(frozen=True)
class Case:
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


V = MARK
CASES = [
    # Keys.
    Case("paper: letter", f"{V}papr: letter", "papr", "papr", "not known", "known keys: project", "Write paper.", "paper: letter"),
    Case("  walls: 6", f"  {V}wals: 6\n  walls: 6", "shelter.wals", "wals", "not known", "known keys: preset, walls", "Write walls.", "  walls: 6"),
    Case("  hand: left", f"  {V}thickness: 1", "doors.thickness", "thickness", "not known", "known keys: hand", "in the group `boards:`", "  hand: left"),
    Case("  mark: 1/16", f"  {V}owner: nobody", "limits.owner", "owner", "not known", "known keys: board_spread", "in no group", "  mark: 1/16"),
    Case("  land: 2", f"  {V}zzz: 2", "tape.zzz", "zzz", "not known", "known keys: land", "Take it away", "  land: 2"),
    Case("  walls: 6", f"  walls: 6\n  {V}walls: 8", "shelter.walls", "walls", "already written in line 7", "each key once", "delete the other", "  walls: 6"),
    Case("duct: 4", f"duct: 4\n{V}tape.roll: 60 yd", "", "tape.roll", "no dot", "one word", "Write `tape:`", "duct: 4"),
    # Lengths.
    Case("  leaf_width: 20", f"  leaf_width: {V}twenty", "shelter.leaf_width", "twenty", "not a length", "2 in to 120 in", "for example, 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", f"  leaf_width: {V}20 cubits", "shelter.leaf_width", "20 cubits", "'cubits' is not a unit", "2 in to 120 in", "Use in, ft, yd, mm, cm or m", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", f"  leaf_width: {V}508", "shelter.leaf_width", "508", "too large", "2 in to 120 in", "from 2 in to 120 in", "  leaf_width: 508 mm"),
    Case("  leaf_width: 20", f"  leaf_width: {V}1 in", "shelter.leaf_width", "1 in", "too small", "2 in to 120 in", "from 2 in to 120 in", "  leaf_width: 20"),
    Case("  leaf_width: 20", f"  leaf_width:{V}", "shelter.leaf_width", "", "value is missing", "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", f"  leaf_width: {V}~", "shelter.leaf_width", "~", "value is missing", "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", f"  leaf_width: {V}[20]", "shelter.leaf_width", "", "one value belongs here, not a list", "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", f"  leaf_width:\n    {V}inches: 20", "shelter.leaf_width", "", "not a group", "2 in to 120 in", "such as 20 in", "  leaf_width: 20 in"),
    Case("  leaf_width: 20", f"  leaf_width: {V}yes", "shelter.leaf_width", "yes", "not a length", "2 in to 120 in", "for example, 20 in", "  leaf_width: 20 in"),
    Case("  wall_height: 54", f"  wall_height: {V}5.4e1", "shelter.wall_height", "5.4e1", "exponent", "4 in to 120 in", "for example, 54 in", "  wall_height: 54 in"),
    Case("  wall_height: 54", f"  wall_height: {V}.nan", "shelter.wall_height", ".nan", "not a number", "4 in to 120 in", "for example, 54 in", "  wall_height: 54 in"),
    Case("  bottom_trim: 3/4", f"  bottom_trim: {V}-3/4", "doors.bottom_trim", "-3/4", "never negative", "0 in to 12 in", "without the minus sign", "  bottom_trim: 3/4"),
    Case("  bottom_trim: 3/4", f"  bottom_trim: {V}3/0", "doors.bottom_trim", "3/0", "0 below the line", "0 in to 12 in", "for example, 3/4 in", "  bottom_trim: 3/4 in"),
    Case("  bottom_trim: 3/4", f"  bottom_trim: {V}0,75", "doors.bottom_trim", "0,75", "comma", "0 in to 12 in", "decimal point", "  bottom_trim: 0.75"),
    Case("  roll: 60 yd", f"  roll: {V}60", "tape.roll", "60", "too large" if False else "too", "1 yd to 1000 yd", "from 1 yd to 1000 yd", "  roll: 60 yd") if False else
    Case("  roll: 60 yd", f"  roll: {V}12", "tape.roll", "12", "too small", "1 yd to 1000 yd", "from 1 yd to 1000 yd", "  roll: 12 yd"),
    # Sizes and paper.
    Case("  size: 48 x 96", f"  size: {V}48", "boards.size", "48", "not a size", "each 6 in to 240 in", "Write it as 48 x 96", "  size: 48 x 96"),
    Case("  size: 48 x 96", f"  size: {V}4 x 96", "boards.size", "4 x 96", "too small", "each 6 in to 240 in", "from 6 in to 240 in", "  size: 48 x 96"),
    Case("  size: 48 x 96", f"  size: {V}1 x 48 x 96", "boards.size", "1 x 48 x 96", "two lengths", "each 6 in to 240 in", "such as 48 x 96", "  size: 48 x 96"),
    Case("  size: 48 x 96", f"  size: {V}48 in x 96", "boards.size", "48 in x 96", "some have none", "each 6 in to 240 in", "unit once, at the end", "  size: 48 x 96 in"),
    Case("paper: letter", f"paper: {V}leter", "paper", "leter", "no paper of this name", "letter, a4, legal", "Write letter.", "paper: letter"),
    Case("paper: letter", f"paper: {V}foolscap", "paper", "foolscap", "no paper of this name", "letter, a4, legal", "Write letter, a4", "paper: a4"),
    Case("paper: letter", f"paper: {V}5 x 8", "paper", "5 x 8", "too small", "from 7-7/8 x 10-5/8 in", "Write letter or a4", "paper: a4"),
    Case("paper: letter", f"paper: {V}36 x 300", "paper", "36 x 300", "too large", "200 x 200 in", "smaller size", "paper: 36 x 48"),
    # Counts, numbers, words.
    Case("  walls: 6", f"  walls: {V}6.0", "shelter.walls", "6.0", "not a whole number", "from 4 to 12", "such as 6", "  walls: 6"),
    Case("  walls: 6", f"  walls: {V}six", "shelter.walls", "six", "not a whole number", "from 4 to 12", "such as 6", "  walls: 6"),
    Case("  walls: 6", f"  walls: {V}2", "shelter.walls", "2", "too small", "from 4 to 12", "from 4 to 12", "  walls: 4"),
    Case("  spare: 1", f"  spare: {V}21", "boards.spare", "21", "too large", "from 0 to 20", "from 0 to 20", "  spare: 20"),
    Case("  allowance: 5", f"  allowance: {V}plenty", "tape.allowance", "plenty", "not a number", "0 to 100 percent", "such as 5", "  allowance: 5"),
    Case("  allowance: 5", f"  allowance: {V}101", "tape.allowance", "101", "too large", "0 to 100 percent", "from 0 to 100", "  allowance: 100"),
    Case("  density: 2.0", f"  density: {V}32", "assume.density", "32", "too large", "0.3 to 5 lb/cu ft", "from 0.3 to 5", "  density: 2.0"),
    Case("  hand: left", f"  hand: {V}rihgt", "doors.hand", "rihgt", "not known", "left or right", "Write right.", "  hand: right"),
    Case("  tool: saw", f"  tool: {V}wire", "boards.tool", "wire", "not known", "knife or saw", "Write knife or saw.", "  tool: knife"),
    Case("  combine: yes", f"  combine: {V}perhaps", "tape.combine", "perhaps", "neither yes nor no", "yes or no", "Write yes or no.", "  combine: no"),
    # Texts.
    Case("revision: B", f"revision: {V}BCD", "revision", "BCD", "3 characters", "at most 2", "Shorten it to 2", "revision: BC"),
    Case("revision: B", f'revision: {V}"B\\n"', "revision", "", "", "", "", "revision: B") if False else
    Case("revision: B", f'revision: {V}"\\a"', "revision", "\a", "cannot be printed", "at most 2", "plain characters", "revision: B"),
    Case("project: Beekeepers' shelter", f"project: {V}''", "project", "", "value is missing", "at most 40", "such as", "project: a short title"),
    # Lists and groups.
    Case("  stock: [4, 6]", f"  stock: {V}4", "tape.stock", "4", "a list belongs here", "a list of at most 12", "such as [4, 6]", "  stock: [4]"),
    Case("  stock: [4, 6]", f"  stock: {V}[]", "tape.stock", "", "list is empty", "a list of at most 12", "such as [4, 6]", "  stock: [4, 6]"),
    Case("  stock: [4, 6]", f"  stock: [4, {V}six]", "tape.stock.1", "six", "not a length", "1/2 in to 24 in", "for example, 4 in", "  stock: [4, 6]"),
    Case("  stock: [4, 6]", f"  stock: {V}[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]", "tape.stock", "", "13 entries", "at most 12", "Keep at most 12", "  stock: [4, 6]"),
    Case("  measured: []", f"  measured:\n    - {V}96 x 48", "boards.measured.0", "96 x 48", "a group of keys belongs here", "keys: length, breadth", "on a line of its own", "  measured:\n    - length: 96\n      breadth: 48"),
    Case("  measured: []", f"  measured:\n    - {{length: 96, {V}bredth: 48, breadth: 48}}", "boards.measured.0.bredth", "bredth", "not known", "known keys: length, breadth", "Write breadth.", "  measured: [{length: 96, breadth: 48}]"),
    Case("  measured: []", f"  measured:\n    - {V}{{length: 96}}", "boards.measured.0.breadth", "", "missing", "must be written", "`breadth:`", "  measured: [{length: 96, breadth: 48}]", Kind.MISSING),
    Case("limits:\n  mark: 1/16", f"limits: {V}1/16", "limits", "1/16", "a group of keys belongs here", "keys: board_spread, mark", "on a line of its own", "limits:\n  mark: 1/16"),
    # YAML that is more than plain values.
    Case("  land: 2", f"  land: {V}&usual 2", "tape.land", "&usual", "names a value", "plain values", "Write the value out", "  land: 2"),
    Case("  land: 2", f"  land: {V}*usual", "tape.land", "*usual", "refers to a value", "plain values", "Write the value out", "  land: 2"),
    Case("  land: 2", f"  land: {V}!!float 2", "tape.land", "tag:yaml.org,2002:float", "names a type", "plain values", "Write the value out", "  land: 2"),
]  # fmt: skip
