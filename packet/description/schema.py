"""A JSON Schema of the project file (draft 2020-12), for editors that complete and check while it is written.

Made from the models. It checks what can be told key by key: names, places, words, counts; lengths with units and what
must fit together are checked by the program itself.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from packet.description.defaults import entry_model, group_of, required_keys
from packet.description.kinds import Choice, Count, Flag, Length, Money, Number, Text
from packet.description.meanings import kind_of, listed_of, texts
from packet.description.models import PROJECTS
from packet.description.terms import Preset
from packet.description.value_kind import ValueKind
from packet.units import System

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema() -> dict[str, Any]:
    """The schema as plain data, in the order of the models."""
    defs: dict[str, Any] = {}
    for model in PROJECTS.values():
        _group(model, defs)
    chosen = [
        {"if": {"required": ["shelter"], "properties": {"shelter": {"required": ["preset"], "properties": {
            "preset": {"const": str(preset)}}}}}, "then": _ref(model)}
        for preset, model in PROJECTS.items() if preset is not Preset.RING
    ]
    others = [str(preset) for preset in PROJECTS if preset is not Preset.RING]
    ring = {"if": {"not": {"properties": {"shelter": {"required": ["preset"], "properties": {
        "preset": {"enum": others}}}}, "required": ["shelter"]}}, "then": _ref(PROJECTS[Preset.RING])}
    return {"$schema": DIALECT, "title": "Project file of packet", "type": "object", "allOf": [ring, *chosen], "$defs": defs}


def _ref(model: type[BaseModel]) -> dict[str, str]:
    return {"$ref": f"#/$defs/{model.__name__}"}


def _group(model: type[BaseModel], defs: dict[str, Any]) -> dict[str, str]:
    if model.__name__ not in defs:
        own: dict[str, Any] = {"type": "object", "description": (model.__doc__ or "").strip(), "properties": {},
                               "required": list(required_keys(model)), "additionalProperties": False}
        defs[model.__name__] = own
        for name, info in model.model_fields.items():
            own["properties"][name] = {"description": texts(model)[name], **_field(info, defs)}
    return _ref(model)


def _field(info: FieldInfo, defs: dict[str, Any]) -> dict[str, Any]:
    group, listed, kind = group_of(info), listed_of(info), kind_of(info)
    if group is not None:
        # A group whose keys all have defaults may be left empty.
        return _group(group, defs) if required_keys(group) else {"anyOf": [_group(group, defs), {"type": "null"}]}
    if listed is not None:
        entry = entry_model(info.annotation)
        items = _group(entry, defs) if entry else _value(kind, None)
        found: dict[str, Any] = {"type": "array", "items": items, "maxItems": listed.most}
        if listed.empty_allowed:
            return {"anyOf": [found, {"type": "null"}]}
        return {**found, "minItems": 1}
    return _value(kind, info)


def _value(kind: ValueKind | None, info: FieldInfo | None) -> dict[str, Any]:
    """A value of a kind. Numbers may be written bare or with their unit."""
    match kind:
        case Choice():
            found: dict[str, Any] = {"enum": [str(word) for word in kind.words]}
        case Flag():
            found = {"enum": [True, False, "yes", "no", "on", "off", "true", "false"]}
        case Count():
            found = {"type": "integer", "minimum": kind.least, "maximum": kind.most}
        case Number() | Length() | Money():
            found = {"type": ["number", "string"], "pattern": "[0-9]"}
        case Text():
            # An editor may take 12 or 2026-05-01 for more than text.
            found = {"type": ["string", "number"] if kind.needed else ["string", "number", "null"], "maxLength": kind.most}
        case _:
            found = {"type": "string"}
    if kind is not None and not isinstance(kind, Choice | Flag | Count | Text):
        found["$comment"] = f"in: {kind.limit(System.INCH)}; mm: {kind.limit(System.METRIC)}"
    if kind is not None and kind.default is not None and len(set(kind.default)) == 1:
        found["default"] = kind.default[0]
    return found
