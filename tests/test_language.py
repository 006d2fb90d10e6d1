"""No English word stands on a page of another language: all that is printed goes through the sentences or the names.

The pages are drawn in a language made up here: every vowel of the sentences has an accent, so that words are as long as they
were and the pages stay as they are. A word without an accent came past the sentences.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import yaml

from packet.description import load
from packet.description.terms import Language
from packet.drawing.full_size import Correction, correction_note
from packet.drawing.marks import Text
from packet.drawing.page import FinishedSheet, copy_note
from packet.plan import Plan, make_plan
from packet.printing import drawn, full_size_sheets
from packet.resources import languages, samples, sentences
from packet.units import System
from tests.zoo import zoo_plan

ACCENTS = str.maketrans("aeiouyAEIOUY", "áéíóúýÁÉÍÓÚÝ")

READ = ("when", "picture", "injury", "certain", "stations")
"""Entries that the program reads and does not print."""

TAG = re.compile(r"(\{\{.*?\}\}|\{%.*?%\}|\{\w+\})", re.DOTALL)
COMPARED = re.compile(r"(?:[!=]=\s*'[^']*')|(?:'[^']*'\s*[!=]=)|(?:(?<=in )\([^)]*\))|(?:\b(?:sheet|map|format)\('[^']*')"
                      r"|(?:\([^()]*\)\s*\|\s*name)|(?:'[^']*'\s*\|\s*name)")
LITERAL = re.compile(r"'[^']*'")

WORD = re.compile(r"[^\W\d_]{2,}")
VOWEL = re.compile(r"[aeiouyAEIOUY]")
UNITS = {"in", "cu", "BTU", "Pa"}


def other(text: str) -> str:
    """A sentence in the made-up language; what it compares stays."""
    return "".join(_tag(part) if place % 2 else part.translate(ACCENTS) for place, part in enumerate(TAG.split(text)))


def _tag(tag: str) -> str:
    loop = tag.startswith("{% for")
    kept = "" if loop else "|".join(re.escape(found) for found in COMPARED.findall(tag))
    parts = re.split(f"({kept})", tag) if kept else [tag]
    return "".join(part if place % 2 else LITERAL.sub(lambda found: found[0].translate(ACCENTS), part)
                   for place, part in enumerate(parts))


def translated(entry: Any, key: str = "") -> Any:
    if key in READ and not isinstance(entry, dict) and "{" not in str(entry):
        return entry
    match entry:
        case dict():
            return {name: translated(value, str(name)) for name, value in entry.items()}
        case list():
            return [translated(value, key) for value in entry]
        case str():
            return other(entry)
    return entry


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("language")
    for file in sentences("en").glob("*.yaml"):
        entries = translated(yaml.safe_load(file.read_text(encoding="utf-8")))
        (made / file.name).write_text(yaml.safe_dump(entries, allow_unicode=True, sort_keys=False), encoding="utf-8")
    return made


def said(sheet: FinishedSheet) -> Iterator[str]:
    yield from (mark.string for mark in (*sheet.clipped, *sheet.marks) if isinstance(mark, Text))


def leaks(plan: Plan, sheets: tuple[FinishedSheet, ...]) -> dict[str, str]:
    """Words without an accent, each with a text it stands in; the project's own words and serials are left out."""
    given = plan.description
    own = {str(getattr(given.identity, name)) for name in given.identity.__slots__} | {given.title, given.paper_name}
    own |= {given.fingerprint, *plan.assembly.by_mark, *(seam.mark for seam in plan.assembly.seams)}
    own |= {pause.reason for pause in given.crew.pauses} | {sheet.serial for sheet in sheets}
    words = {word for text in own for word in WORD.findall(text)} | UNITS
    found: dict[str, str] = {}
    for sheet in sheets:
        for text in said(sheet):
            bare = re.sub(r"\b[0-9A-Z]{3}-[0-9A-Z]{4}\b", "", text)
            for word in WORD.findall(bare):
                if word.isascii() and VOWEL.search(word) and word not in words:
                    found.setdefault(word, f"{sheet.number}: {text}")
    return found


@pytest.fixture(scope="module", params=["frost_watch", "ticket_booth", "screen", "seven metric"])
def plan(request: pytest.FixtureRequest) -> Plan:
    file = samples() / f"{request.param}.yaml"
    return make_plan(load(file)) if file.exists() else zoo_plan(request.param)


def test_every_word_of_a_page_comes_from_the_sentences(plan: Plan, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("packet.words.sentences", lambda language: folder)
    parts = [plan.assembly.leaves[0].mark, plan.assembly.leaves[-1].mark, f"board {plan.boards[0].mark}"]
    sheets = (*drawn(plan), *full_size_sheets(plan, parts, None))
    assert leaks(plan, sheets) == {}
    noted = tuple(replace(sheet, marks=(*copy_note(sheet, 2), *correction_note(sheet, Correction(1.01, 0.99))), clipped=())
                  for sheet in (sheets[0], sheets[-1]))
    assert leaks(plan, noted) == {}
    assert all(other(sheet.station) == sheet.tag != sheet.station for sheet in sheets)


def test_a_word_that_came_past_the_sentences_is_found(plan: Plan) -> None:
    """English itself: nearly every word of its sentences stands on some page."""
    found = leaks(plan, drawn(plan))
    assert {"INNER", "PREPARE", "Project", "board"} <= found.keys()
    assert len(found) > 500


FUNCTION_WORDS = {"the", "and", "of", "with", "from", "is", "are", "each", "for", "at", "its", "not", "when", "this", "that"}
"""English words that no other language of the packet has."""


def spoken(language: str) -> Iterator[tuple[str, str]]:
    """Every entry of a language by file: its own words, and those that it writes inside its tags, comparisons apart."""
    for file in sorted(sentences(language).glob("*.yaml")):
        for text in _strings(yaml.safe_load(file.read_text(encoding="utf-8"))):
            parts = TAG.split(text)
            inside = (found for tag in parts[1::2] for found in LITERAL.findall(COMPARED.sub("", tag)))
            yield file.name, " ".join((*parts[::2], *inside))


def _strings(entry: Any, key: str = "") -> Iterator[str]:
    if key in READ and not isinstance(entry, dict) and "{" not in str(entry):
        return
    match entry:
        case dict():
            for name, value in entry.items():
                yield from _strings(value, str(name))
        case list():
            for value in entry:
                yield from _strings(value, key)
        case str():
            yield entry


def spelled(text: str) -> set[str]:
    return {word.lower() for word in WORD.findall(text)}


OTHERS = [language for language in languages() if language != "en"]


@pytest.mark.parametrize("language", OTHERS)
def test_no_sentence_is_left_in_english(language: str) -> None:
    left = [(file, text) for file, text in spoken(language) if spelled(text.replace("packet gauge", "")) & FUNCTION_WORDS]
    assert left == []


@pytest.mark.parametrize("language", OTHERS)
def test_no_page_has_a_word_that_is_english_alone(plan: Plan, language: str) -> None:
    english, own = ({word for _, text in spoken(each) for word in spelled(text)} for each in ("en", language))
    told = replace(plan, description=replace(plan.description, language=Language(language)))
    sheets = drawn(told)
    found = leaks(told, sheets)
    assert len(found) > 500  # the pages are there
    assert {word: where for word, where in found.items() if word.lower() in english - own} == {}
    wrong = "." if told.form.system is System.METRIC and language == "es" else ","
    decimals = [text for sheet in sheets for text in said(sheet) if re.search(r"\d[.,]\d", text)]
    assert len(decimals) > 20
    assert [text for text in decimals if re.search(rf"\d[{wrong}]\d", text)] == []
