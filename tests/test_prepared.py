"""Sentences that the build prepared are said as those that are compiled when they are said; a stale one never is."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from jinja2.exceptions import SecurityError
from jinja2.sandbox import SandboxedEnvironment

from packet import prepared
from packet.printing import drawn, pdf_of
from packet.resources import samples
from packet.units import Format, System
from packet.words import Words
from tests.conftest import plan_of

ODD = "{% if a %}{{ a | measure }}{% endif %} and {{ 25.4 | measure }}"
HOSTILE = "{% if a %}{{ a.__class__.__mro__ }}{% endif %}"


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Where prepared sentences are looked for; nothing is there yet."""
    monkeypatch.setattr(prepared, "FILE", tmp_path / "sentences.prepared")
    prepared.codes.cache_clear()
    yield prepared.FILE
    prepared.codes.cache_clear()


def prepare(file: Path, monkeypatch: pytest.MonkeyPatch, *sentences: str) -> None:
    """The program's own sentences, or these."""
    if sentences:
        monkeypatch.setattr(prepared, "_sentences", lambda folder: sentences)
    prepared.prepare(file)
    prepared.codes.cache_clear()


def compile_nothing(self: SandboxedEnvironment, source: str) -> None:
    raise AssertionError(f"compiled: {source}")


def test_a_packet_is_the_same_and_nothing_of_it_is_compiled(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plan_of(samples() / "ticket_booth.yaml")
    assert not prepared.codes()
    compiled = pdf_of(plan, drawn(plan))
    prepare(file, monkeypatch)
    monkeypatch.setattr(SandboxedEnvironment, "from_string", compile_nothing)
    assert pdf_of(plan, drawn(plan)) == compiled


def test_a_changed_sentence_is_said_as_changed(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    prepare(file, monkeypatch, ODD)
    words = Words(Format(System.INCH))
    assert words.render(ODD.replace("and", "but"), a=25.4) == "1 in but 1 in"
    own = Words(Format(System.INCH), own=(("fold.title", "Mine: {% if a %}{{ a }}{% endif %}"),))
    assert own.text("fold.title", a=3) == "Mine: 3"


def test_numbers_are_written_when_they_are_said(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A number in a sentence is not written in the units of the build."""
    prepare(file, monkeypatch, ODD)
    monkeypatch.setattr(SandboxedEnvironment, "from_string", compile_nothing)
    assert Words(Format(System.INCH)).render(ODD, a=50.8) == "2 in and 1 in"
    assert Words(Format(System.METRIC)).render(ODD, a=50.0) == "50 mm and 25 mm"


def test_what_reaches_for_the_interpreter_is_refused(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    prepare(file, monkeypatch, HOSTILE)
    assert HOSTILE in prepared.codes()
    with pytest.raises(SecurityError):
        Words(Format(System.INCH)).render(HOSTILE, a=1)


@pytest.mark.parametrize("other", ["jinja2", "python", "module"])
def test_what_something_else_made_is_not_used(file: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, other: str) -> None:
    prepare(file, monkeypatch, ODD)
    assert ODD in prepared.codes()
    prepared.codes.cache_clear()
    if other == "jinja2":
        monkeypatch.setattr(prepared, "version", lambda name: "0")
    elif other == "python":
        monkeypatch.setattr(prepared, "MAGIC_NUMBER", b"0")
    else:
        changed = tmp_path / "prepared.py"
        changed.write_text("# otherwise", encoding="utf-8")
        monkeypatch.setattr(prepared, "__file__", str(changed))
    assert not prepared.codes()
