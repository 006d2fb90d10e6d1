"""Sentences that are said without jinja2 are said as jinja2 says them."""

from collections.abc import Iterator
from typing import Any

import pytest
import yaml
from jinja2 import StrictUndefined, TemplateSyntaxError, UndefinedError
from jinja2.exceptions import SecurityError
from jinja2.sandbox import SandboxedEnvironment

from packet.prepared import PLAIN
from packet.resources import languages, sentences
from packet.units import Format, System
from packet.words import Words

OWN = {"measure", "figure", "both", "long", "angle", "area", "volume", "mass", "name"}


def lines(entry: Any) -> Iterator[str]:
    if isinstance(entry, dict):
        entry = list(entry.values())
    if isinstance(entry, list):
        for one in entry:
            yield from lines(one)
    else:
        yield str(entry)


def by_jinja(words: Words, sentence: str, values: dict[str, Any]) -> str:
    form = words.form
    environment = SandboxedEnvironment(undefined=StrictUndefined, autoescape=False)
    environment.filters.update(measure=form.length_unit, figure=form.length, both=form.length_both, long=form.feet,
                               angle=form.angle, area=form.area, volume=form.volume, mass=form.mass, name=words.name)
    return environment.from_string(sentence).render(values).strip()


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("system", System)
def test_every_plain_sentence_of_the_program_is_said_as_jinja_says_it(language: str, system: System) -> None:
    words = Words(Format(system), language)
    tried = 0
    for file in sorted(sentences(language).glob("*.yaml")):
        for line in lines(yaml.safe_load(file.read_text(encoding="utf-8"))):
            asked = PLAIN.findall(line)
            own = all(one.strip() in OWN for _, how in asked for one in how.split("|")[1:])
            if asked and own and "{" not in PLAIN.sub("", line):
                values = {name: "wall" if "name" in how else 1234.5 for name, how in asked}
                assert words.render(line, **values) == by_jinja(words, line, values), line
                tried += 1
    assert tried > 200


WORDS = Words(Format(System.INCH))


@pytest.mark.parametrize(("sentence", "values"), [
    ("{{ a }}{{a}} {{ a|measure }}", {"a": 25.4}),
    ("  {{ none }} {{ true }} {{ a }}\n", {"a": "{{ b }}", "none": 3}),
    ("{{ a }}, {{ range(3) | join }}", {"a": None}),
    ("{{ a.b }} {{ a['b'] }}", {"a": {"b": 2}}),
    ("{{ a | upper }} {# not said #}{{ a | length }}", {"a": "mid"}),
    ("{{ a }} {% if a %}once{% endif %}", {"a": ()}),
])
def test_others_are_said_by_jinja(sentence: str, values: dict[str, Any]) -> None:
    assert WORDS.render(sentence, **values) == by_jinja(WORDS, sentence, values)


@pytest.mark.parametrize("sentence", ["{{ a }} {{ b }}", "{{ b | measure }}", "{{ a }} {{ b.c }}"])
def test_a_value_that_is_not_given_is_an_error(sentence: str) -> None:
    with pytest.raises(UndefinedError, match="'b' is undefined"):
        WORDS.render(sentence, a=1)


@pytest.mark.parametrize(("sentence", "fault"), [
    ("{{ a.__class__.__mro__ }}", SecurityError), ("{{ not }}", TemplateSyntaxError), ("{{ a", TemplateSyntaxError),
    ("{{ a }} }} {{ a | nothing }}", TemplateSyntaxError)])
def test_what_jinja_refuses_is_refused(sentence: str, fault: type[Exception]) -> None:
    with pytest.raises(fault):
        WORDS.render(sentence, a=1)
