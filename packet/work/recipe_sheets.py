"""Which recipe sheet serves a seam: one recipe per kind of a ring, one per class of listed seams."""

from __future__ import annotations

from packet.assembly.records import Assembly, Seam, SeamKind
from packet.assembly.seam_classes import SeamClass, seam_classes
from packet.work.sheet_numbers import sheet_number

PAGES = 2
"""Pages of the recipe of a class of listed seams: tape, and check."""

_OF_KIND = {
    SeamKind.WALL_MID: "recipe.mid",
    SeamKind.GORE_MID: "recipe.mid",
    SeamKind.CORNER: "recipe.corner",
    SeamKind.EAVE: "recipe.eave",
    SeamKind.HIP: "recipe.hip",
}


def listed_classes(assembly: Assembly) -> tuple[SeamClass, ...]:
    """Classes of bonded seams of no named kind, each with a recipe of its own, in the order of their sheets."""
    return tuple(each for each in seam_classes(assembly) if each.bonded and each.kind is SeamKind.SEAM)


def recipe_sheet(assembly: Assembly, seam: Seam) -> str:
    """The number of the first sheet of a bonded seam's recipe."""
    if seam.kind in _OF_KIND:
        return sheet_number(_OF_KIND[seam.kind])
    place = next(i for i, each in enumerate(listed_classes(assembly)) if seam.mark in each.marks)
    return class_sheet(place)


def class_sheet(place: int, page: int = 1) -> str:
    """The number of a page of the recipe of the class at that place, counted from 0, in `listed_classes`."""
    return sheet_number("recipe.seam", PAGES * place + page)
