"""The words of the packet: sentences live in `templates/`, one YAML file per subject, as jinja2 strings.

A key such as `steps.mark.do` names the file and the path in it. Sentences are rendered in a sandbox with
StrictUndefined, so a value that a sentence asks for and does not get is an error here, not a gap on paper.
Filters: `measure` (length with unit), `figure` (length without unit), `both` (fraction and decimal),
`long` (take-off length), `angle`, `area`, `volume`, `mass`; all take mm, degrees, m2, m3 or kg. `name` takes a term that
the program has in English, such as `inner` or `wall mid`, and gives the language's word for it.
"""

from __future__ import annotations

import marshal
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import Any

import yaml
from jinja2 import TemplateError, UndefinedError
from jinja2.sandbox import SandboxedEnvironment

from packet import prepared
from packet.description.own_words import OwnWords
from packet.resources import sentences
from packet.units import Format, System

try:
    from yaml import CSafeLoader as _Loader
except ImportError:  # PyYAML built without libyaml reads the same, slower
    from yaml import SafeLoader as _Loader  # type: ignore[assignment]

_Saying = Callable[[Mapping[str, Any]], str]


class SentenceError(ValueError):
    """A sentence of the project's own that cannot be said with the values there are."""


class Words:
    """All sentences of one language, numbers written by one Format. `own` sentences stand for those of their keys."""

    def __init__(self, form: Format, language: str = "en", own: OwnWords = ()) -> None:
        self._folder: Path = sentences(language)
        self._own = dict(own)
        self._theirs = frozenset(line for _, said in own for line in ((said,) if isinstance(said, str) else said))
        self._files: dict[str, Any] = {}
        self._sayings: dict[str, _Saying] = {}
        self._given = form

    @cached_property
    def form(self) -> Format:
        """How numbers are written in this language. Where inches are in use decimals have a point in every language, and
        a reading with a comma is refused."""
        return replace(self._given, point=self.name(".")) if self._given.system is System.METRIC else self._given

    @cached_property
    def _filters(self) -> dict[str, Callable[[Any], str]]:
        form = self.form
        return dict(zip(prepared.FILTERS, (form.length_unit, form.length, form.length_both, form.feet, form.angle, form.area,
                                           form.volume, form.mass, self.name), strict=True))

    @cached_property
    def _environment(self) -> SandboxedEnvironment:
        return prepared.environment(self._filters)

    def entry(self, key: str) -> Any:
        """The raw entry: a string, a list or a mapping. Raises KeyError with the whole key."""
        subject, *path = key.split(".")
        if subject not in self._files:
            text = (self._folder / f"{subject}.yaml").read_text(encoding="utf-8")
            self._files[subject] = self._with_own(subject, yaml.load(text, Loader=_Loader))
        found = self._files[subject]
        for part in path:
            if not isinstance(found, dict) or part not in found:
                raise KeyError(f"no words for {key}")
            found = found[part]
        return found

    def _with_own(self, subject: str, entries: Any) -> Any:
        """The entries of a subject with the project's own in their places; their keys are known to be there."""
        for key, said in self._own.items():
            first, *path, last = key.split(".")
            if first == subject:
                group = entries
                for part in path:
                    group = group[part]
                group[last] = said if isinstance(said, str) else list(said)
        return entries

    def has(self, key: str) -> bool:
        try:
            self.entry(key)
        except KeyError:
            return False
        return True

    def name(self, term: str) -> str:
        """The language's word for a term of the program (templates/*/names.yaml). An edge that has only a number, and
        what is not there, stand for themselves. Raises KeyError for a term that has no word."""
        if not term or term.isdigit():
            return term
        names: dict[str, str] = self.entry("names")
        if term not in names:
            raise KeyError(f"no name for {term!r}")
        return names[term]

    def text(self, key: str, **values: Any) -> str:
        """One sentence, rendered."""
        return self.render(str(self.entry(key)), **values)

    def texts(self, key: str, **values: Any) -> tuple[str, ...]:
        """A list of sentences, rendered; sentences that come out empty are left out."""
        rendered = (self.render(str(line), **values) for line in self.entry(key))
        return tuple(line for line in rendered if line)

    def render(self, template: str, **values: Any) -> str:
        if "{" not in template:
            return template.strip()
        if template not in self._sayings:  # reading a sentence costs a hundred times what saying it does
            self._sayings[template] = self._plain(template) or self._programmed(template)
        try:
            return self._sayings[template](values).strip()
        except (TemplateError, TypeError, ValueError, LookupError) as fault:
            if template not in self._theirs:
                raise
            raise SentenceError(f"the sentence {template!r} of the project's own cannot be said here: {fault}") from fault

    def _programmed(self, template: str) -> _Saying:
        """How jinja2 says a sentence: by the code that the build prepared, or else compiled now."""
        environment = self._environment
        code = prepared.codes().get(template)
        if code is None:
            return environment.from_string(template).render
        return environment.template_class.from_code(
            environment, marshal.loads(code), environment.make_globals(None)).render  # noqa: S302  as in `prepared`

    def _plain(self, template: str) -> _Saying | None:
        """How a sentence is said that asks for values by their names alone: as jinja2 would say it, without making a program
        of it first. None for any other."""
        found = prepared.plain(template)
        if found is None:
            return None
        literals, names, filters = found
        writers = [[self._filters[one] for one in several] for several in filters]

        def say(values: Mapping[str, Any]) -> str:
            said = [literals[0]]
            for name, written_by, literal in zip(names, writers, literals[1:], strict=True):
                if name not in values:
                    raise UndefinedError(f"{name!r} is undefined")
                value = values[name]
                for write in written_by:
                    value = write(value)
                said += (str(value), literal)
            return "".join(said)

        return say
