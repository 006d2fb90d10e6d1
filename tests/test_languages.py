"""Every language says everything: the same keys, the same kinds of entry, the same values asked for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from jinja2 import Environment
from jinja2.meta import find_undeclared_variables

from packet.description.terms import Language
from packet.resources import languages, sentences

FILTERS = ("measure", "figure", "both", "long", "angle", "area", "volume", "mass")


def entries(folder: Path) -> dict[str, Any]:
    """Every entry of a folder of sentences by its key; lists keep their number of entries."""
    found: dict[str, Any] = {}

    def walk(data: Any, key: str) -> None:
        if isinstance(data, dict):
            for name, value in data.items():
                walk(value, f"{key}.{name}")
        elif isinstance(data, list):
            found[f"{key}[]"] = len(data)
            for number, value in enumerate(data):
                walk(value, f"{key}.{number}")
        else:
            found[key] = data

    for file in sorted(folder.glob("*.yaml")):
        walk(yaml.safe_load(file.read_text(encoding="utf-8")), file.stem)
    return found


def asked(sentence: object) -> set[str]:
    environment = Environment(autoescape=True)
    environment.filters.update(dict.fromkeys(FILTERS, str))
    return find_undeclared_variables(environment.parse(str(sentence)))


def differences(first: Path, second: Path) -> list[str]:
    """What the second language lacks, has too much, or asks for otherwise than the first."""
    ours, theirs = entries(first), entries(second)
    found = [f"{key}: missing" for key in ours.keys() - theirs.keys()]
    found += [f"{key}: not in the first" for key in theirs.keys() - ours.keys()]
    for key in ours.keys() & theirs.keys():
        if type(ours[key]) is not type(theirs[key]):
            found.append(f"{key}: of another kind")
        elif isinstance(ours[key], str) and asked(ours[key]) != asked(theirs[key]):
            found.append(f"{key}: asks for {sorted(asked(theirs[key]))}, not for {sorted(asked(ours[key]))}")
    return sorted(found)


@pytest.mark.parametrize("language", languages())
def test_no_sentence_is_missing(language: str) -> None:
    assert differences(sentences("en"), sentences(language)) == []
    assert language in tuple(Language)


def test_what_is_missing_is_found(tmp_path: Path) -> None:
    for name, text in (("a", "x: {one: '{{ n }} leaf', two: [a, b]}"), ("b", "x: {one: '{{ m }} hoja', two: [a]}\ny: 1")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "steps.yaml").write_text(text, encoding="utf-8")
    assert differences(tmp_path / "a", tmp_path / "b") == [
        "steps.x.one: asks for ['m'], not for ['n']", "steps.x.two.1: missing", "steps.y: not in the first"]
