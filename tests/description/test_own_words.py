"""A project's own sentences: they reach the page, and hostile or mistaken ones are refused with file, key and remedy."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from packet.description import ProjectError, load
from packet.description.own_words import MARK, MOST_FILES
from packet.description.resolved import Description
from packet.units import Format, System
from packet.words import SentenceError, Words

PROJECT = """\
project: Own words
units: in
words: ours
shelter: {walls: 6, leaf_width: 20, wall_height: 54, slant: 42}
boards: {size: 48 x 96, thickness: 1}
"""


def described(folder: Path, files: dict[str, str], project: str = PROJECT) -> Description:
    (folder / "ours").mkdir(exist_ok=True)
    for name, text in files.items():
        (folder / "ours" / name).write_text(text, encoding="utf-8")
    (folder / "hut.yaml").write_text(project, encoding="utf-8")
    return load(folder / "hut.yaml")


def refusal(folder: Path, files: dict[str, str], project: str = PROJECT) -> str:
    with pytest.raises(ProjectError) as caught:
        described(folder, files, project)
    return "\n".join(caught.value.rendered())


def test_own_sentences_stand_for_those_of_their_keys(tmp_path: Path) -> None:
    own = described(tmp_path, {"steps.yaml": "brief: {name: Gather round}\nsort:\n  do: [Lay them out as they are built.]\n"})
    words = Words(Format(own.system), own.language, own.words)
    assert words.text("steps.brief.name") == "Gather round"
    assert words.texts("steps.sort.do") == ("Lay them out as they are built.",)
    plain = Words(Format(own.system))
    assert words.text("steps.materials.name") == plain.text("steps.materials.name")
    assert plain.text("steps.brief.name") != "Gather round"


def test_other_sentences_are_another_input(tmp_path: Path) -> None:
    first = described(tmp_path, {"steps.yaml": "brief: {name: Gather round}"}).fingerprint
    second = described(tmp_path, {"steps.yaml": "brief: {name: Come here}"}).fingerprint
    assert first != second


@pytest.mark.parametrize(("said", "told"), [
    ("brief: {name: \"{{ ''.__class__.__mro__ }}\"}", "brief.name: the sentence that this replaces does not ask for that"),
    ("brief: {name: '{% for i in range(10**9) %}x{% endfor %}'}", "does not ask for that"),
    ("brief: {name: \"{{ 'x' * 10**9 }}\"}", "does not ask for that"),
    ("brief: {name: \"{% include '/etc/passwd' %}\"}", "does not ask for that"),
    ("brief: {name: '{{ cycler.__init__ }}'}", "limit: none in this sentence"),
    ("materials: {check: '{{ boards }} {{ boards }} {{ boards }}'}", "not so often"),
    ("materials: {check: '{{ boards'}", "cannot be read as a sentence"),
    ("mark: {check: '{{ length | both }} x'}", "does not ask for that"),
    ("mark: {check: '{{ diagonal | both }}'}", "stands outside the loop"),
    ("mark: {check: '{% if diagonals %} x'}", "cannot be read as a sentence"),
    ("brief: {do: one}", "limit: a list of sentences"),
    ("brief: {name: [a, b]}", "limit: one sentence"),
    ("brief: {nam: x}", "brief.nam: the program has no sentence of this key"),
    ("brief: {name: " + "x" * 1001 + "}", "limit: 1000 characters"),
    ("brief: &a {name: x}\nmark: *a", "steps.yaml:2"),
])
def test_a_sentence_that_does_not_fit_is_refused(tmp_path: Path, said: str, told: str) -> None:
    began = time.perf_counter()
    text = refusal(tmp_path, {"steps.yaml": said})
    assert told in text
    assert "steps.yaml" in text
    assert time.perf_counter() - began < 2.0


def test_cautions_are_not_to_be_replaced(tmp_path: Path) -> None:
    text = refusal(tmp_path, {"cautions.yaml": "messages: {fire: {hazard: Nothing}}"})
    assert "cautions.yaml: the cautions are not to be replaced (limit: add only)" in text
    assert "cautions: extra:" in text


def test_a_file_of_no_known_name_is_refused(tmp_path: Path) -> None:
    assert "Name it steps.yaml" in refusal(tmp_path, {"stps.yaml": "a: b"})


@pytest.mark.parametrize("folder", ["..", "/etc", "ours/../..", ".", "ours/../../elsewhere", "none"])
def test_the_folder_lies_beside_the_project_file(tmp_path: Path, folder: str) -> None:
    text = refusal(tmp_path, {}, PROJECT.replace("words: ours", f"words: {folder}"))
    assert "hut.yaml:3:8: words:" in text
    assert "limit: a folder beside the project file" in text


@pytest.mark.parametrize("name", ["wind", "air", "site", "weather", "carry", "cards", "keep"])
def test_sheets_on_safety_are_not_to_be_reworded(tmp_path: Path, name: str) -> None:
    text = refusal(tmp_path, {f"{name}.yaml": "title: All is well\n"})
    assert "sentences on safety are not to be replaced" in text
    assert "cautions: extra:" in text


STOP = "If it resists, stop. Look for {% if has.relief %}a missed slit{% else %}tape across a fold{% endif %}."


@pytest.mark.parametrize(("file", "said", "lost"), [
    ("steps.yaml", "fold: {do: [Fold the seams in the order given.]}", "If it resists, stop."),
    ("steps.yaml", "brief: {check: All are here.}", "Gloves, eye protection and dust masks"),
    ("steps.yaml", "brief: {check: 'None of this: Gloves, eye protection and dust masks lie on every table that needs them.'}",
     "Gloves, eye protection and dust masks"),
    ("erect.yaml", "finish: {never: [Nothing.]}", "Never cover the peak opening"),
    ("order.yaml", "weight: {lines: [One can lift it.]}", "Two people lift"),
    ("mending.yaml", "packer: [Glue it.]", "Wear gloves."),
])
def test_a_sentence_on_safety_is_not_to_be_left_out(tmp_path: Path, file: str, said: str, lost: str) -> None:
    text = refusal(tmp_path, {file: said})
    assert f"{file}:1:" in text
    assert "this leaves out a sentence on safety" in text
    assert lost in text
    assert "limit: add only" in text


def test_a_sentence_on_safety_may_be_added_to(tmp_path: Path) -> None:
    said = f"fold:\n  do:\n    - Sweep the floor.\n    - '{STOP} Call the lead.'\nbrief:\n  check: "
    own = described(tmp_path, {"steps.yaml": said + "Gloves, eye protection and dust masks lie on every table that needs them. "
                                             "So do helmets.\n"})
    words = Words(Format(own.system), own.language, own.words)
    assert words.texts("steps.fold.do", has={"relief": True}) == (
        "Sweep the floor.", "If it resists, stop. Look for a missed slit. Call the lead.")
    assert words.text("steps.brief.check").endswith("So do helmets.")


def test_the_mark_of_a_sentence_on_safety_is_not_printed() -> None:
    assert MARK in Words(Format(System.INCH)).entry("steps.brief.check")
    assert Words(Format(System.INCH)).text("steps.brief.check").endswith("every table that needs them.")


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no symbolic links here")
def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "secret.yaml").write_text("brief: {name: Secret}", encoding="utf-8")
    (tmp_path / "ours").mkdir()
    (tmp_path / "ours" / "steps.yaml").symlink_to(tmp_path / "secret.yaml")
    assert "no file of sentences" in refusal(tmp_path, {})


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "ours").mkdir()
    os.mkfifo(tmp_path / "ours" / "steps.yaml")
    assert "no file of sentences" in refusal(tmp_path, {})


def test_a_folder_of_far_too_many_files(tmp_path: Path) -> None:
    (tmp_path / "ours").mkdir()
    for number in range(MOST_FILES + 1):
        (tmp_path / "ours" / f"{number}.yaml").touch()
    text = refusal(tmp_path, {})
    assert "too many files" in text
    assert "limit: 200 files" in text
    assert len(text) < 500


def test_a_language_that_is_not_there_is_refused(tmp_path: Path) -> None:
    text = refusal(tmp_path, {}, PROJECT.replace("words: ours", "language: welsh"))
    assert "language: this word is not known here" in text


def test_an_own_sentence_that_fails_on_the_page_says_so() -> None:
    words = Words(Format(System.INCH), "en", (("order.title", "{{ rolls[0] }}"),))
    with pytest.raises(SentenceError, match=r"rolls\[0\]"):
        words.text("order.title", rolls=())
