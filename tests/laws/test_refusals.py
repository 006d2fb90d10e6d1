"""Random projects, feasible and not: every refusal names a remedy, and the remedy, applied, removes it."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml

from packet.description import ProjectError, load
from packet.description.problems import Kind, Problem
from packet.plan import make_plan


def project(dice: random.Random) -> dict[str, object]:
    """A project in inches or millimetres whose values can all be read but need not go together."""
    metric = dice.random() < 0.5
    unit = 25.0 if metric else 1.0

    def length(low: float, high: float) -> float:
        return round(dice.uniform(low, high) * unit, 0 if metric else 2)

    boards: dict[str, object] = {
        "size": f"{length(40, 60)} x {length(80, 110)}", "thickness": length(0.5, 4), "edge_trim": 0}
    if dice.random() < 0.3:
        breadth, long = length(44, 50), length(90, 100)
        boards["measured"] = [{"length": long + dice.choice((0, 0, 0.1, 1)) * unit, "breadth": breadth + dice.choice(
            (0, 0, 0.1, 1)) * unit} for _ in range(dice.randint(1, 6))]
    found: dict[str, object] = {
        "project": "Random", "units": "mm" if metric else "in",
        "shelter": {"walls": dice.choice((4, 5, 6, 6, 7, 8, 10, 12)), "releasable": "no", "leaf_width": length(9, 30),
                    "wall_height": length(30, 110), "slant": length(25, 120), "tip_trim": length(1, 6)},
        "boards": boards,
        "tape": {"land": length(1, 3), "stock": sorted({length(1.5, 8) for _ in range(dice.randint(1, 3))}),
                 "combine": dice.choice(("yes", "no"))},
    }
    if dice.random() < 0.3:
        found["duct"] = length(2, 8)
    if dice.random() < 0.5:
        found["openings"] = [
            {"leaf": dice.choice(("A3", "A2R", "B4")), "size": f"{length(2, 20)} x {length(2, 20)}",
             "across": length(1, 20), "up": length(1, 50)} for _ in range(dice.randint(1, 2))]
    return found


def plain_project(dice: random.Random) -> dict[str, object]:
    """A folding screen or a free shape, with sizes that may or may not go together."""
    metric = dice.random() < 0.5
    unit = 25.4 if metric else 1.0

    def length(low: float, high: float) -> float:
        return round(dice.uniform(low, high) * unit, 0 if metric else 2)

    boards = {"size": f"{length(30, 60)} x {length(60, 110)}", "thickness": length(0.5, 4), "edge_trim": length(0, 2)}
    tape = {"land": length(1, 3), "stock": sorted({length(1.5, 8) for _ in range(dice.randint(1, 3))}),
            "combine": dice.choice(("yes", "no"))}
    height = length(20, 100)
    if dice.random() < 0.5:
        shelter: dict[str, object] = {"preset": "chain", "leaves": dice.randint(2, 9), "leaf_width": length(8, 50),
                                      "height": height}
    else:
        widths = [length(8, 50) for _ in range(3)]
        shelter = {
            "preset": "free",
            "leaves": [{"mark": mark, "size": f"{width} x {height}"} for mark, width in zip("KLM", widths, strict=True)],
            "seams": [{"join": "K.left / L.right", "packed": dice.choice(("shut", "flat"))},
                      {"join": "K.right / M.left", "closing": dice.choice(("inner", "outer"))}]}
    return {"project": "Random", "units": "mm" if metric else "in", "shelter": shelter, "boards": boards, "tape": tape}


def problems(data: dict[str, object], file: Path) -> tuple[Problem, ...]:
    file.write_text(yaml.safe_dump(data), encoding="utf-8")
    try:
        make_plan(load(file))
    except ProjectError as refused:
        return refused.problems
    return ()


def applied(data: dict[str, object], problem: Problem, advice: list[str]) -> dict[str, object]:
    """The project with `key: value` advice written where the problem is, or with the named boards left out."""
    changed: dict[str, object] = yaml.safe_load(yaml.safe_dump(data))
    if problem.key == "boards.measured":
        out = {int(n) for n in re.findall(r"board (\d+)", problem.remedy)}
        boards = changed["boards"]
        boards["measured"] = [b for n, b in enumerate(boards["measured"], 1) if n not in out]  # type: ignore[index]
        return changed
    if "off the list" in problem.remedy:
        del changed["boards"]["measured"]  # type: ignore[attr-defined]
    if problem.remedy == "take the opening out of this leaf":
        del changed["openings"][int(problem.key.split(".")[1])]  # type: ignore[attr-defined]
        return changed
    for text in advice:
        key, value = text.split(": ", 1)
        if problem.key.startswith("openings."):
            holder = changed["openings"][int(problem.key.split(".")[1])]  # type: ignore[index]
        elif key == "duct":
            holder = changed
        else:
            holder = changed[{"stock": "tape", "land": "tape", "size": "boards", "splice": "boards"}.get(
                key, "doors" if key.startswith(("latch", "bottom")) else "shelter")]
        if not isinstance(holder, dict):
            raise AssertionError(key)
        holder[key] = yaml.safe_load(value) if value.startswith("[") else value
    return changed


def ways(problem: Problem) -> list[list[str]]:
    """The alternatives in a remedy; two pieces of advice joined by `and` belong together."""
    found: list[list[str]] = []
    for match in re.finditer(r"(and )?`([^`]+: [^`]+)`", problem.remedy):
        if match[1] and found:
            found[-1].append(match[2])
        else:
            found.append([match[2]])
    return found


@pytest.mark.parametrize(
    ("made", "seed"), [*((project, seed) for seed in range(250)), *((plain_project, seed) for seed in range(60))])
def test_every_refusal_names_a_remedy_that_passes(
    made: Callable[[random.Random], dict[str, object]], seed: int, tmp_path: Path
) -> None:
    data, file = made(random.Random(seed)), tmp_path / "project.yaml"
    for problem in problems(data, file):
        assert problem.kind in (Kind.UNFEASIBLE, Kind.MALFORMED)
        assert problem.limit, str(problem)
        assert problem.remedy, str(problem)
        choices: list[list[str]] = ways(problem) or [[]]
        for choice in choices:
            changed = applied(data, problem, choice)
            assert changed != data, str(problem)
            after = problems(changed, file)
            same = [p for p in after if (p.key, p.message) == (problem.key, problem.message)]
            assert not same, (str(problem), choice, [str(p) for p in after])


@pytest.mark.parametrize(("made", "refused", "built"), [(project, 5, 2), (plain_project, 6, 6)])
def test_the_random_projects_are_of_both_sorts(
    made: Callable[[random.Random], dict[str, object]], refused: int, built: int, tmp_path: Path
) -> None:
    """At least so many of either sort; no more are made than show it."""
    seen = Counter[bool]()
    for seed in reversed(range(0, 250 if made is project else 60, 5)):
        seen[bool(problems(made(random.Random(seed)), tmp_path / "p.yaml"))] += 1
        if seen[True] >= refused and seen[False] >= built:
            return
    pytest.fail(f"{seen[True]} refused, {seen[False]} built")
