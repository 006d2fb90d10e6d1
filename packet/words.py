"""The words of the packet: sentences live in `templates/`, one YAML file per subject, as jinja2 strings.

A key such as `steps.mark.do` names the file and the path in it. Sentences are rendered in a sandbox with
StrictUndefined, so a value that a sentence asks for and does not get is an error here, not a gap on paper.
Filters: `measure` (length with unit), `figure` (length without unit), `both` (fraction and decimal),
`long` (take-off length), `angle`, `area`, `volume`, `mass`; all take mm, degrees, m2, m3 or kg.
"""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import Any

import yaml
from jinja2 import StrictUndefined, Template
from jinja2.sandbox import SandboxedEnvironment

from packet.resources import templates
from packet.units import Format

try:
    from yaml import CSafeLoader as _Loader
except ImportError:  # PyYAML built without libyaml reads the same, slower
    from yaml import SafeLoader as _Loader  # type: ignore[assignment]


class Words:
    """All sentences of one language, numbers written by one Format."""

    def __init__(self, form: Format, language: str = "en") -> None:
        self._folder: Path = templates() / language
        self._files: dict[str, Any] = {}
        self._compiled: dict[str, Template] = {}
        self._form = form

    @cached_property
    def _environment(self) -> SandboxedEnvironment:
        environment = SandboxedEnvironment(undefined=StrictUndefined, autoescape=False)
        form = self._form
        environment.filters.update(
            measure=form.length_unit, figure=form.length, both=form.length_both, long=form.feet,
            angle=form.angle, area=form.area, volume=form.volume, mass=form.mass)
        return environment

    def entry(self, key: str) -> Any:
        """The raw entry: a string, a list or a mapping. Raises KeyError with the whole key."""
        subject, *path = key.split(".")
        if subject not in self._files:
            text = (self._folder / f"{subject}.yaml").read_text(encoding="utf-8")
            self._files[subject] = yaml.load(text, Loader=_Loader)
        found = self._files[subject]
        for part in path:
            if not isinstance(found, dict) or part not in found:
                raise KeyError(f"no words for {key}")
            found = found[part]
        return found

    def has(self, key: str) -> bool:
        try:
            self.entry(key)
        except KeyError:
            return False
        return True

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
        if template not in self._compiled:  # compiling costs a hundred times what rendering does
            self._compiled[template] = self._environment.from_string(template)
        return self._compiled[template].render(**values).strip()
