"""What every instruction sheet must say, so that a stranger can do the next step from it alone: what to do, to which
parts, on which face, within which limit, and which sheet comes next."""

from __future__ import annotations

import re
from collections import defaultdict

import pytest

from packet.drawing.marks import Text
from packet.plan import Plan
from packet.printing import drawn
from packet.work.facts import facts
from packet.work.sheet_numbers import binding_order
from packet.work.stations import Station
from packet.work.tasks import tasks
from tests.zoo import zoo_plan

WORKING = (Station.C, Station.H, Station.E, Station.R, Station.J, Station.X)
ACTIONS = ("lay", "fold", "wrap", "cut", "snap", "score", "trim", "bore", "seal", "open", "raise", "press", "turn", "tape",
           "set", "roll", "push", "strap", "flat", "slit", "clear", "measure", "check", "read", "hold", "mark", "stand", "join")
LIMIT = re.compile(r"\d[\d./-]*\s?(in|mm|°|degrees)|\b\d[\d-]*(/\d+)?\b")
CHECKING = ("check", "within", "limit", "off by", "at most", "no more than", "flush", "stop", "must", "never")


def instructions(plan: Plan) -> dict[tuple[int, int], str]:
    """The words of each sheet that work at a table is done by, all its pages together. Recipes of listed seams count on,
    so that their pages belong together by the name before the colon."""
    wanted = {binding_order(number)[:2] for task in tasks(plan) if task.station in WORKING
              for number in task.sheets if number[0] in WORKING}
    found: dict[tuple[int, int], list[str]] = defaultdict(list)
    titled: dict[tuple[str, str], tuple[int, int]] = {}
    for sheet in drawn(plan):
        base = binding_order(sheet.number)[:2]
        name = sheet.title.partition(":")
        if name[1]:
            base = titled.setdefault((sheet.station, name[0]), base)
        if base in wanted:
            found[base] += [mark.string for mark in sheet.marks if isinstance(mark, Text)]
    assert found
    return {base: " ".join(texts) for base, texts in found.items()}


@pytest.mark.parametrize("name", ["six left", "eight outer left", "five", "screen", "booth", "cool-box"])
def test_an_instruction_sheet_says_all_it_must(name: str) -> None:
    plan = zoo_plan(name)
    marks = set(plan.assembly.by_mark) | {seam.mark for seam in plan.assembly.seams}
    known = facts(plan)
    problems = []
    for base, text in instructions(plan).items():
        said = text.lower()
        where = f"{name}, sheet {base}"
        tokens = set(re.findall(r"[A-Za-z0-9/-]+", text))
        said_so = {
            "action": any(re.search(rf"\b{word}\b", said) for word in ACTIONS),
            # A hinge may be named by its kind for the whole half: "all walls of half A".
            "part": bool(tokens & marks) or (known["halved"] and "half" in said),
            "face": bool({"INNER", "OUTER", "BOTTOM", "TOP"} & tokens) or "face" in said,
            "limit": any(word in said for word in CHECKING) and bool(LIMIT.search(text)),
            "sheet that follows": bool(re.search(r"Then ([A-Z][-\d]\d[\dA-Z]|done)", text)),
        }
        problems += [f"{where}: no {what}" for what, there in said_so.items() if not there]
    assert not problems
