"""The hip of a ring that comes apart: how its strip goes on, and how it comes off."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

from packet.assembly.records import Point, Seam, seam_gap
from packet.drawing.dimension import linear
from packet.drawing.flow import Block, paragraph, stack, steps
from packet.drawing.lettering import BODY, LARGE, Style
from packet.drawing.marks import Drawing, Path
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError
from packet.drawing.view import Scale, series
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.panels import Panel, Picture, pages
from packet.sheets.recipe_kinds import Recipe
from packet.sheets.section_view import BAND, THICK, SectionView, callout
from packet.tape.section import bar, bridge_width, hinge_section, stretch
from packet.work.sheet_numbers import sheet_number

BEYOND = (14.0, 9.0, 5.0)
"""mm of paper of board drawn beyond the land, as much as fits."""
OFF = 9.0
"""mm from the strip to its dimensions."""
NAMED = 34.0
"""mm from the strip to its name."""
CURL = 210.0
"""Degrees by which the strip that comes off is bent back."""
LEAST = 88.0
"""mm of page that words under a picture need."""


def release_page(plan: Plan, kit: Kit, hips: Recipe) -> list[Sheet]:
    """One sheet where a hip comes apart, none elsewhere; it follows the recipe of the bonded hips."""
    seam = next((seam for seam in plan.assembly.seams if seam.removable), None)
    if seam is None:
        return []
    gap, land = seam_gap(plan.assembly.thickness, seam.angle_open), plan.description.tape.land
    values = {"seam": seam.mark, "length": seam.length, "gap": gap, "land": land, "least": bridge_width(gap, land),
              "limit": plan.description.limits.cut}
    for scale in series(kit.system):
        for style in (LARGE, BODY):
            for beyond in BEYOND:
                shown = [_picture(plan, kit, seam, scale, beyond, values, on=on) for on in (True, False)]

                said = (partial(_lay, kit, values, style), partial(_peel, kit, values, style))
                panels = [
                    Panel(picture, words, LEAST)
                    for picture, words in zip(shown, said, strict=True)
                ]
                try:
                    laid = pages(panels, kit.room)
                except LayoutError:
                    continue
                if len(laid) == 1:
                    return [
                        Sheet(
                            number=sheet_number("recipe.release"), title=kit.words.text("recipes.release.title"),
                            subtitle=kit.words.text("recipes.release.subtitle", **values), station=hips.station.word,
                            kind=kit.words.text("recipes.kind"), marks=laid[0].marks, scale_label=scale.label,
                            viewports=laid[0].viewports(scale.ratio, "section"), subject=seam.mark,
                        )
                    ]
    raise LayoutError("the recipe of the releasable hip does not fit this paper at any scale")


def _lay(kit: Kit, values: dict[str, Any], style: Style, width: float) -> Block:
    return steps((0.0, 0.0), width, kit.words.texts("recipes.release.lay", **values), kit.lettering, style)


def _peel(kit: Kit, values: dict[str, Any], style: Style, width: float) -> Block:
    words = kit.words
    before = len(words.texts("recipes.release.lay", **values))
    body = steps((0.0, 0.0), width, words.texts("recipes.release.peel", **values), kit.lettering, style, start=before + 1)
    never = paragraph((0.0, 0.0), width, f"**{words.text('recipes.release.never')}**", BODY, kit.lettering)
    return stack((0.0, 0.0), [body, never], 4.0, width)


def _picture(plan: Plan, kit: Kit, seam: Seam, scale: Scale, beyond: float, values: dict[str, Any], *, on: bool) -> Picture:
    """The open hip cut across: its strip over the V, or the strip coming off one board."""
    thick, land = plan.assembly.thickness / scale.ratio, values["land"] / scale.ratio
    section = hinge_section(thick, seam.angle_open, land + thick + beyond)
    view = SectionView(section, seam.closing_face, tuple(kit.words.entry("recipes.release.leaves")), kit.lettering,
                       kit.words)
    half = values["least"] / scale.ratio / 2
    path = section.bridge_path
    marks: Drawing = view.boards()
    tip = _along(path, -half)
    if on:
        laid = stretch(path, -half, half)
        left, right = section.opening_path[1], section.opening_path[3]
        marks += linear(left, right, 2 * OFF, kit.form.length(values["gap"]), kit.lettering)
        end = _along(path, half)
        marks += linear(right, end, OFF, kit.form.length(values["land"]), kit.lettering)
        marks += linear(tip, left, OFF, kit.form.length(values["land"]), kit.lettering)
        text = kit.words.text("recipes.release.strip", **values)
        x, y = (left[i] + (tip[i] - left[i]) * 0.15 for i in (0, 1))
        marks += callout((x, y + THICK), (x + 4.0, left[1] + NAMED), "2", text, kit.lettering)
    else:
        # Peeled from the right board: it still holds on the left one and curls back over it.
        held = stretch(path, -half, -half * 0.2)
        (x, y), radius = held[-1], 0.35 * half
        curl = [(x + radius * math.sin(a), y + radius * (1 - math.cos(a))) for a in _turns(CURL)]
        laid = (*held, *curl[1:])
        text = kit.words.text("recipes.release.tab")
        marks += callout(curl[-1], (curl[-1][0] - 3.0, curl[-1][1] + 8.0), "4", text, kit.lettering)
    marks += (Path(bar(laid, 0.3, 0.3 + THICK), None, 0.0),)
    points = [p for board in section.boards for p in board]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    measured = (min(xs) - BAND / 2, min(ys) - BAND / 2, max(xs) + BAND / 2, max(ys) + BAND / 2)
    return Picture.of(marks + view.pivot(), kit.lettering, measured)


def _along(path: tuple[Point, ...], place: float) -> Point:
    """The point of a path at a place measured from its middle."""
    return stretch(path, *sorted((0.0, place)))[-1 if place > 0 else 0]


def _turns(degrees: float) -> list[float]:
    """Angles in radians from 0 to `degrees` in small steps."""
    return [math.radians(degrees * i / 24) for i in range(25)]
