"""Values of the site and prices as the project file writes them: for the list of inputs, and beside what rests on them."""

from __future__ import annotations

from packet.description.buying_values import amount
from packet.description.kinds import Choice, Extent, Length, Money, Number
from packet.description.models import Common
from packet.description.section import Section
from packet.description.terms import Compass
from packet.description.value_kind import ValueKind, column_of
from packet.plan import Plan
from packet.sheets.kit import Kit

GROUPS = ("wind", "lift", "air", "taping", "transport", "site", "cautions", "prices")


def site_values(plan: Plan, kit: Kit) -> dict[str, str]:
    """Every value of the site by its key, written in the packet's units."""
    return {key: text for group in GROUPS for key, text in group_values(plan, kit, group).items()}


def group_values(plan: Plan, kit: Kit, group: str) -> dict[str, str]:
    """The values of one group of keys."""
    model = Common.model_fields[group].annotation
    if not (isinstance(model, type) and issubclass(model, Section)):
        raise AssertionError(f"{group} is no group of keys")
    given = getattr(plan.description, group)
    return {f"{group}.{name}": _written(getattr(given, name), next(iter(info.metadata), None), f"{group}.{name}", kit)
            for name, info in model.model_fields.items()}


def _written(value: object, kind: object, key: str, kit: Kit) -> str:
    if value is None or value == "":
        return kit.words.text("cover.inputs.not_given")
    if key == "taping.least" and isinstance(value, float):
        return kit.form.temperature(value)
    if isinstance(value, Compass):
        return kit.words.text(f"site.compass.{value}")
    if isinstance(value, tuple):
        return kit.form.size(*value) if isinstance(kind, Extent) else str(len(value))
    if isinstance(kind, Length) and isinstance(value, float):
        return kit.form.length_unit(value)
    if isinstance(kind, Number) and isinstance(value, float):
        place = column_of(kit.system)
        return f"{kit.form.plain(round(value / kind.factors[place], 4))} {kit.words.name(kind.units[place])}".rstrip()
    if isinstance(kind, Money) and isinstance(value, int):
        return amount(value, "", kit.form.point)
    if isinstance(kind, Choice):
        return kit.words.name(str(value))
    if isinstance(kind, ValueKind):
        return str(value)
    raise AssertionError(f"no words for {key}")
