"""What is told of the keys: complete, true to what the reader does, and of use to an editor."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from packet.description import ProjectError
from packet.description.loading import describe
from packet.description.meanings import meanings
from packet.description.reading import read_text
from packet.description.schema import schema
from packet.description.starter import starter_text
from packet.units import System
from tests.conftest import CHECK_CASE, SAMPLES
from tests.test_cli import run
from tests.zoo import plain_zoo, releasable_zoo, zoo

VALIDATOR = jsonschema.Draft202012Validator(schema())
GOOD = {path.stem: path.read_text(encoding="utf-8") for path in (*SAMPLES, CHECK_CASE)}
GOOD |= {f"starter {system}": starter_text(system) for system in System}
GOOD["with prices"] = GOOD["check_case"] + "\nprices: {board: 28, currency: $, tools: 12.50, rolls: [{width: 4, price: 9}]}\n"
GOOD |= zoo() | plain_zoo() | releasable_zoo()


def wrong(text: str) -> list[str]:
    return [fault.message for fault in VALIDATOR.iter_errors(yaml.safe_load(text))]


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("name", GOOD)
def test_what_the_program_takes_the_schema_takes(name: str) -> None:
    assert wrong(GOOD[name]) == []


@pytest.mark.parametrize(("old", "new"), [
    ("units: in", "units: cubits"),
    ("walls: 6", "walls: 99"),
    ("walls: 6", "walls: six"),
    ("walls: 6", "wals: 6"),
    ("boards:", "planks:"),
    ("slant: 48", "slant: none"),
])
def test_what_the_program_refuses_by_its_look_the_schema_refuses(old: str, new: str) -> None:
    text = GOOD["check_case"]
    assert old in text
    changed = text.replace(old, new)
    with pytest.raises(ProjectError):
        describe(read_text(changed, Path("hut.yaml")))
    assert wrong(changed)


def test_every_key_has_a_text_and_a_description_in_the_schema() -> None:
    known = meanings()
    assert all(meaning.text for meaning in known.values())

    def described(node: Any) -> bool:
        return all("description" in key for key in node.get("properties", {}).values())

    assert all(described(group) for group in schema()["$defs"].values())
    # Every key that is written in a sample is known.
    def written(node: Any, parent: str) -> set[str]:
        if isinstance(node, list):
            return set().union(*(written(one, parent) for one in node)) if node else set()
        if not isinstance(node, dict):
            return set()
        return set().union(*({f"{parent}{name}"} | written(inner, f"{parent}{name}.") for name, inner in node.items()))

    for text in GOOD.values():
        assert written(yaml.safe_load(text), "") <= set(known)


def test_explain() -> None:
    said = run("explain", "land")
    assert said.returncode == 0
    for word in ("tape.land", "1/2 in to 12 in", "12 mm to 300 mm", "2 in an inch project, 50 in a metric one"):
        assert word in said.stdout
    unknown = run("explain", "tape.lnad")
    assert unknown.returncode == 2
    assert "Write tape.land." in unknown.stderr


def test_explain_says_where_a_value_appears() -> None:
    said = run("explain", "boards.edge_trim", "--in", SAMPLES[0])
    assert said.returncode == 0
    assert "appears on: " in said.stdout
    assert "C-01 " in said.stdout  # the marking sheet says how much to trim
    assert run("explain", "tape.land", "--in", "no-such.yaml").returncode == 2
    box = next(path for path in SAMPLES if path.stem == "fish_box")
    assert "no sheet depends on it" in run("explain", "doors.hand", "--in", box).stdout
