"""Every language says everything: the same keys, the same kinds of entry, the same values asked for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from jinja2 import Environment
from jinja2.meta import find_undeclared_variables

from packet.assembly.records import Hand, LeafKind, SeamKind
from packet.description.own_words import MARK
from packet.description.terms import Face, Grip, Ground, Language, OpeningKind, Packed, Side, Swing, Tool
from packet.resources import languages, sentences
from packet.tape.cutlist import Place
from packet.tape.relief import Along
from packet.tape.strips import Role
from packet.units import Format, System
from packet.words import Words
from packet.work.cautions import Signal
from packet.work.stations import Station

FILTERS = ("measure", "figure", "both", "long", "angle", "area", "volume", "mass", "name")


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
        elif isinstance(ours[key], str) and (MARK in ours[key]) != (MARK in theirs[key]):
            found.append(f"{key}: a sentence on safety in one of them only")
    return sorted(found)


@pytest.mark.parametrize("language", languages())
def test_no_sentence_is_missing(language: str) -> None:
    assert differences(sentences("en"), sentences(language)) == []
    assert language in tuple(Language)


def test_what_is_missing_is_found(tmp_path: Path) -> None:
    for name, text in (("a", "x: {one: '{{ n }} leaf', two: [a, b]}\nz: 'Stop.{#safety#}'"),
                       ("b", "x: {one: '{{ m }} hoja', two: [a]}\ny: 1\nz: Alto.")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "steps.yaml").write_text(text, encoding="utf-8")
    assert differences(tmp_path / "a", tmp_path / "b") == [
        "steps.x.one: asks for ['m'], not for ['n']", "steps.x.two.1: missing", "steps.y: not in the first",
        "steps.z: a sentence on safety in one of them only"]


def test_a_term_has_the_word_of_its_language(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "names.yaml").write_text('".": ","\ninner: interior\n', encoding="utf-8")
    (tmp_path / "said.yaml").write_text("face: 'cara {{ face | name | upper }}'\n", encoding="utf-8")
    monkeypatch.setattr("packet.words.sentences", lambda language: tmp_path)
    words = Words(Format(System.METRIC))
    assert words.text("said.face", face=Face.INNER) == "cara INTERIOR"
    assert words.name("3") == "3"
    with pytest.raises(KeyError, match="outer"):
        words.name(Face.OUTER)


def test_english_terms_are_their_own_words() -> None:
    names = yaml.safe_load((sentences("en") / "names.yaml").read_text(encoding="utf-8"))
    assert {term: word for term, word in names.items() if term != word} == {}
    fixed = (Face, Side, Hand, LeafKind, SeamKind, Role, Place, Tool, Swing, Packed, OpeningKind, Ground, Grip, Signal)
    assert [term for terms in fixed for term in terms if term not in names] == []
    known = [station.word for station in Station]
    known += [f"{along} {face}" for along in Along for face in Face]
    known += [station.work(dict.fromkeys(("doors", "halved", "enterable"), so)) for station in Station for so in (True, False)]
    known += [f"{along} {face}" for along in Along for face in Face]
    assert [term for term in known if term not in names] == []
