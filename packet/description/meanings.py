"""What every key of the project file means: its text, its kind of value, its limits and default, and who needs it."""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from packet.description.defaults import entry_model, group_of, required_keys
from packet.description.kinds import Listed
from packet.description.models import PROJECTS
from packet.description.terms import Preset
from packet.description.value_kind import ValueKind
from packet.units import System


@dataclass(frozen=True, slots=True)
class Meaning:
    """One key. `kind` is None for a group of keys and for a list of groups; `listed` says what a list may hold.

    `default`: texts in an inch project and in a metric one, None where there is none. `needed`: whether it must be
    written wherever its group is."""

    key: str
    text: str
    kind: ValueKind | None
    listed: Listed | None
    default: tuple[str, str] | None
    needed: bool
    presets: tuple[Preset, ...]

    def limit(self, system: System) -> str:
        if self.kind is not None:
            return self.kind.limit(system)
        return f"a list of at most {self.listed.most} entries" if self.listed else "a group of keys"


def meanings() -> dict[str, Meaning]:
    """Every key by its dotted name, in the order of the models; keys of list entries follow the list's own name."""
    found: dict[str, Meaning] = {}
    for preset, model in PROJECTS.items():
        for meaning in _keys(model, "", preset):
            before = found.get(meaning.key)
            if before is None:
                found[meaning.key] = meaning
            elif before.text == meaning.text:
                presets = (*before.presets, preset)
                found[meaning.key] = Meaning(meaning.key, before.text, before.kind, before.listed, before.default,
                                             before.needed, presets)
            else:  # the same name in two shapes: both are told
                text = f"{before.text} For a {preset}: {meaning.text[:1].lower()}{meaning.text[1:]}"
                found[meaning.key] = Meaning(meaning.key, text, before.kind, before.listed, before.default, before.needed,
                                             (*before.presets, preset))
    return found


def kind_of(info: FieldInfo) -> ValueKind | None:
    """The kind of value that a field, or each entry of its list, holds."""
    own = next((mark for mark in info.metadata if isinstance(mark, ValueKind)), None)
    if own is None:
        entry = next(iter(getattr(info.annotation, "__args__", ())), None)
        own = next((mark for mark in getattr(entry, "__metadata__", ()) if isinstance(mark, ValueKind)), None)
    return own


def listed_of(info: FieldInfo) -> Listed | None:
    return next((mark for mark in info.metadata if isinstance(mark, Listed)), None)


@cache
def texts(model: type[BaseModel]) -> dict[str, str]:
    """The text below each field of a model and of those it is derived from, on one line."""
    found: dict[str, str] = {}
    for owner in reversed(model.__mro__):
        if not (issubclass(owner, BaseModel) and owner is not BaseModel):
            continue
        for node in ast.parse(inspect.getsource(sys.modules[owner.__module__])).body:
            if isinstance(node, ast.ClassDef) and node.name == owner.__name__:
                found |= _below_fields(node)
    return found


def _below_fields(node: ast.ClassDef) -> dict[str, str]:
    found = {}
    for field, text in zip(node.body, node.body[1:], strict=False):
        if (isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name) and isinstance(text, ast.Expr)
                and isinstance(text.value, ast.Constant) and isinstance(text.value.value, str)):
            found[field.target.id] = " ".join(text.value.value.split())
    return found


def _keys(model: type[BaseModel], parent: str, preset: Preset) -> Iterator[Meaning]:
    for name, info in model.model_fields.items():
        key = f"{parent}{name}"
        kind, listed, inner = kind_of(info), listed_of(info), _inner(info.annotation, info)
        needed = bool(required_keys(inner)) if inner and not listed else _needed(info, kind, listed)
        yield Meaning(key, texts(model)[name], kind, listed, _default(kind, listed), needed, (preset,))
        if inner is not None:
            yield from _keys(inner, f"{key}.", preset)


def _inner(annotation: Any, info: FieldInfo) -> type[BaseModel] | None:
    return group_of(info) or entry_model(annotation)


def _needed(info: FieldInfo, kind: ValueKind | None, listed: Listed | None) -> bool:
    return info.is_required() and _default(kind, listed) is None


def _default(kind: ValueKind | None, listed: Listed | None) -> tuple[str, str] | None:
    if listed is not None:
        return (f"[{', '.join(listed.default[0])}]", f"[{', '.join(listed.default[1])}]")
    return kind.default if kind is not None else None
