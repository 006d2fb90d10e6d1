"""Which hinge recipes a project needs, and the figures their sentences ask for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from packet.assembly.records import Seam, SeamKind, seam_gap
from packet.assembly.seam_classes import SeamClass
from packet.description.terms import Face
from packet.plan import Plan
from packet.sheets.tapes import Tape, tape_of
from packet.tape.strips import Role, Strip
from packet.words import Words
from packet.work.recipe_sheets import PAGES, class_sheet, listed_classes
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station


@dataclass(frozen=True, slots=True)
class Recipe:
    """`words` is the entry of its sentences; `seams` are the hinges made by it, none for the sill strip.

    It may take `pages` pages; `numbers` names them in order, and then those of what is added to it. `follows` is
    the number of the sheet after it. `values` are what the sentences ask for, strips among them as Tape.
    """

    words: str
    seams: tuple[Seam, ...]
    station: Station
    pages: int
    numbers: tuple[str, ...]
    follows: str
    values: dict[str, Any]

    @property
    def seam(self) -> Seam | None:
        """The hinge that is drawn for all of them."""
        return self.seams[0] if self.seams else None

    @property
    def tapes(self) -> dict[str, Tape]:
        return {name: value for name, value in self.values.items() if isinstance(value, Tape)}

    @property
    def covered(self) -> Tape:
        """The strip that foil covers: the one on the outer face."""
        if self.seam is None:
            return self.tapes[str(Role.SILL)]
        return self.tapes[str(Role.FLAT if self.seam.closing_face is Face.OUTER else Role.WRAP)]


MOST_PAGES = 6
"""Pages that a recipe of a kind may take."""
ADDED = 2
"""Pages that may be added to a recipe."""


def recipes(plan: Plan, words: Words) -> tuple[Recipe, ...]:
    """One for each kind of hinge of the project, one for each class of listed seams, one for its sill strips."""
    sill = any(strip.role is Role.SILL for strip in plan.strips)
    opened = any(leaf.openings for leaf in plan.assembly.leaves)
    after_edges = "openings" if opened else "fold"
    relief = "relief" if plan.relief else after_edges
    after_hinges = sheet_number("recipe.sill" if sill else after_edges)
    found = []
    for name, kinds, station, follows in (
        ("mid", (SeamKind.WALL_MID, SeamKind.GORE_MID), Station.H, sheet_number("recipe.corner")),
        ("corner", (SeamKind.CORNER,), Station.H, after_hinges),
        ("eave", (SeamKind.EAVE,), Station.R, sheet_number(relief)),
        ("hip", (SeamKind.HIP,), Station.J, sheet_number("erect")),
    ):
        seams = plan.assembly.bonded(*kinds)
        if seams:
            found.append(Recipe(name, seams, station, MOST_PAGES, _numbers(name), follows, _of_seam(plan, seams[0])))
    found += _listed(plan, words, after_hinges)
    if sill:
        found.append(Recipe("sill", (), Station.E, MOST_PAGES, _numbers("sill"), sheet_number(relief), _of_sill(plan)))
    return tuple(found)


def _numbers(name: str) -> tuple[str, ...]:
    return tuple(sheet_number(f"recipe.{name}", page) for page in range(1, MOST_PAGES + ADDED + 1))


def _listed(plan: Plan, words: Words, last: str) -> list[Recipe]:
    classes = listed_classes(plan.assembly)
    found = []
    for place, each in enumerate(classes):
        follows = class_sheet(place + 1) if place + 1 < len(classes) else last
        values = _of_seam(plan, each.seams[0]) | {
            "name": _name(classes, each, words),
            "closing": str(each.closing_face),
            "opening": str(each.closing_face.other),
            "packed_flat": each.angle_packed != 0.0,
        }
        own = tuple(class_sheet(place, page) for page in range(1, PAGES + 1))
        added = tuple(class_sheet(len(classes), page) for page in range(1, ADDED + 1))
        found.append(Recipe("seam", each.seams, Station.H, PAGES, own + added, follows, values))
    return found


def _name(classes: tuple[SeamClass, ...], each: SeamClass, words: Words) -> str:
    """What tells a class from the others: its closing face, then that it stays flat, then its angle."""
    flat = each.angle_packed != 0.0
    angles = Counter((other.closing_face, other.angle_packed) for other in classes)
    several = angles[each.closing_face, each.angle_packed] > 1
    return words.text("recipes.seam.name", face=str(each.closing_face), flat=flat,
                      angle=words.form.angle(each.angle_open) if several else "")


def _shared(plan: Plan) -> dict[str, Any]:
    return {
        "limit": plan.description.limits.cut,
        "relief": sheet_number("relief"),
        "fold": sheet_number("fold"),
        "doors": [door.mark for door in plan.assembly.doors],
        "thickness": plan.assembly.thickness,
        "twice": 2 * plan.assembly.thickness,
        "halved": len(plan.assembly.halves) > 1,
    }


def _of_seam(plan: Plan, seam: Seam) -> dict[str, Any]:
    laid = [strip for strip in plan.strips if strip.seam == seam.mark]
    roles = {role: next(s for s in laid if s.role is role) for role in (Role.FLAT, Role.WRAP, Role.FOIL)}
    return (
        _shared(plan)
        | {str(role): tape_of(strip, plan.form) for role, strip in roles.items()}
        | {"angle": seam.angle_open, "gap": seam_gap(plan.assembly.thickness, seam.angle_open)}
    )


def _of_sill(plan: Plan) -> dict[str, Any]:
    strip = sills(plan)[0]
    foil = next(s for s in plan.strips if s.role is Role.FOIL and s.edge == strip.edge)
    cuts = [cut for cut in plan.relief if cut.along == "sill"]
    return _shared(plan) | {
        str(Role.SILL): tape_of(strip, plan.form),
        "foil": tape_of(foil, plan.form),
        "slits": len(cuts),
        "slit": cuts[0].length if cuts else 0.0,
    }


def sills(plan: Plan) -> list[Strip]:
    return [strip for strip in plan.strips if strip.role is Role.SILL]
