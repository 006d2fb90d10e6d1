"""From a task to the sentences of its line on the checklist."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from packet.assembly.records import seam_gap
from packet.plan import Plan
from packet.tape.strips import Role, Strip
from packet.units import Format, System
from packet.words import Words
from packet.work.facts import facts, panels
from packet.work.sheet_numbers import sheet_number
from packet.work.task import Task

COLDEST = 10.0
"""Degrees C of air below which tape is not laid (assumption of the trade, no source)."""

DEW_SPREAD = 3.0
"""Degrees C that the air must be above its dew point while taping (assumption of the trade, no source)."""

OPTIONAL = ("check", "why", "each", "limit")


@dataclass(frozen=True, slots=True)
class Line:
    """What the checklist says of a task: a heading, what this one is about, and short sentences."""

    name: str
    each: str
    do: tuple[str, ...]
    check: tuple[str, ...]
    why: tuple[str, ...]
    limit: tuple[str, ...]
    step: str
    """The name without the count of sets."""
    signed: str = ""
    """Where a hold point is signed for each of several sets."""


def line(task: Task, words: Words, shared: dict[str, Any]) -> Line:
    """The sentences of a task; `shared` comes from `shared_values`. Raises KeyError for a step without words."""
    values = shared | {"marks": task.marks} | dict(task.values)
    if "wait" in values:
        values["hours"] = words.form.plain(values["wait"])
    step = f"steps.{task.step}"
    written = {part: sentences(words, f"{step}.{part}", values) for part in OPTIONAL if words.has(f"{step}.{part}")}
    name = words.text(f"{step}.name", **values)
    step_name, several = name, task.each_set and shared["quantity"] > 1
    if several:
        name = words.text("checklist.each_set", name=name, quantity=shared["quantity"])
    return Line(
        name=name, each=" ".join(written.get("each", ())),
        do=sentences(words, f"{step}.do", values), check=written.get("check", ()), why=written.get("why", ()),
        limit=written.get("limit", ()), step=step_name,
        signed=words.text("checklist.hold.each_set", sheet=sheet_number) if several and task.hold else "")


def sentences(words: Words, key: str, values: dict[str, Any]) -> tuple[str, ...]:
    """A sentence or a list of them; a template may write several, one a line. Empty ones are left out."""
    entry = words.entry(key)
    found = [entry] if isinstance(entry, str) else entry
    rendered = (words.render(str(template), **values) for template in found)
    return tuple(" ".join(part.split()) for text in rendered for part in text.split("\n") if part.strip())


@lru_cache(maxsize=2)  # nearly every sheet asks
def shared_values(plan: Plan, words: Words) -> dict[str, Any]:
    """The figures that any sentence may ask for: mm, degrees, or words already written; `has` holds the facts.

    Sizes of a ring and of doors are there where the project has them.
    """
    given, form, assembly = plan.description, words.form, plan.assembly
    doors = {"doors": tuple(door.mark for door in assembly.doors), "panels": panels(plan)}
    values: dict[str, Any] = {
        "metric": form.system is System.METRIC, "unit": form.unit, "sheet": sheet_number, "has": facts(plan),
        "quantity": given.quantity, "some_leaf": assembly.leaves[0].mark,
        "leaves": len(assembly.leaves), "thickness": assembly.thickness, "land": given.tape.land,
        "door_marks": doors["doors"], "swings": words.text("checklist.swings.marked", **doors),
        "swing_kinds": words.text("checklist.swings.kinds", **doors),
        "printed": str(given.boards.printed_face), "tool": str(given.boards.tool), "kerf": given.boards.kerf,
        "mark_limit": given.limits.mark, "cut_limit": given.limits.cut, "diagonal_limit": given.limits.diagonal,
        "spread": given.limits.board_spread, "thickness_limit": given.limits.thickness_spread, "bulk": plan.bulk.most,
        "coldest": temperature(form, COLDEST), "dew_spread": difference(form, DEW_SPREAD),
    }
    return values | _ring_values(plan) | _door_values(plan, form) | _phrases(plan, words)


def _ring_values(plan: Plan) -> dict[str, Any]:
    ring = plan.ring
    if ring is None:
        return {}
    return {
        "wall_height": ring.wall_height, "tip_trim": ring.tip_trim, "short_edge": ring.short_edge,
        "leaf_width": ring.leaf_width, "apex": ring.apex, "across_flats": ring.across_flats, "odd": ring.walls % 2 == 1,
        "angle_corner": ring.angle_corner, "angle_eave": ring.angle_eave, "angle_hip": ring.angle_hip,
        "gap_corner": seam_gap(ring.thickness, ring.angle_corner),
        "gap_eave": seam_gap(ring.thickness, ring.angle_eave), "gap_hip": seam_gap(ring.thickness, ring.angle_hip),
    }


def _door_values(plan: Plan, form: Format) -> dict[str, Any]:
    doors, ring = plan.description.doors, plan.ring
    if doors is None or ring is None:
        return {}
    return {
        "bottom_trim": doors.bottom_trim, "door_height": ring.wall_height - doors.bottom_trim,
        "below_head": doors.latch_below_head, "from_edge": doors.latch_from_free_edge,
        "above_ground": ring.wall_height - doors.latch_below_head, "bore": bore(form, doors.latch_hole),
    }


def bore(form: Format, mm: float) -> str:
    """A hole's diameter, which is a pipe's and seldom a round figure: decimal in both systems."""
    if form.system is System.METRIC:
        return f"{form.decimal(mm)} mm"
    return form.length_both(mm)


def temperature(form: Format, celsius: float) -> str:
    """`10 °C`, or `50 °F` in an inch packet."""
    return f"{form.fixed(celsius, 0)} °C" if form.system is System.METRIC else f"{form.fixed(celsius * 9 / 5 + 32, 0)} °F"


def difference(form: Format, celsius: float) -> str:
    """A difference of temperatures, `3 °C` or `5.4 °F`."""
    return f"{form.fixed(celsius, 0)} °C" if form.system is System.METRIC else f"{form.fixed(celsius * 9 / 5, 1)} °F"


_PHRASES = {"splice_tape": Role.SPLICE, "flat_tape": Role.FLAT, "wrap_tape": Role.WRAP, "sill_tape": Role.SILL,
            "seal_foil": Role.SEAL}


def _phrases(plan: Plan, words: Words) -> dict[str, Any]:
    """How each kind of strip is made up, in words, and its land; `foil_flat` covers a flat strip, and so on.

    A kind that the project does not need is absent.
    """
    first: dict[Role, Strip] = {}
    for strip in plan.strips:
        first.setdefault(strip.role, strip)
    found: dict[str, Any] = {name: _rolls(first[role], plan, words) for name, role in _PHRASES.items()
                             if role in first}
    covers = {strip.mark: strip for strip in plan.strips if strip.role is Role.FOIL}
    for name, role in (("splice", Role.SPLICE), ("flat", Role.FLAT), ("wrap", Role.WRAP), ("sill", Role.SILL)):
        # Only strips on an outer face have foil; the first of them stands for all of their role.
        covered = next((strip for strip in plan.strips
                        if strip.role is role and f"foil over {strip.mark}" in covers), None)
        if covered:
            found[f"foil_{name}"] = _rolls(covers[f"foil over {covered.mark}"], plan, words)
    for role in (Role.SPLICE, Role.FLAT, Role.WRAP, Role.SILL):
        if role in first:
            found[f"{role}_land"] = first[role].land
    return found


def _rolls(strip: Strip, plan: Plan, words: Words) -> str:
    kind = "foil" if strip.role in (Role.FOIL, Role.SEAL) else "tape"
    return words.text(f"checklist.rolls.{kind}", rolls=strip.tapes, lap=strip.overlap, unit=words.form.unit)
