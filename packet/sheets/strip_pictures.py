"""Strips laid out flat, cut across: the rolls that make each, their laps, and what they lie on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from packet.drawing.dimension import linear
from packet.drawing.lettering import BODY_BOLD, FINE, FINE_BOLD, Lettering
from packet.drawing.marks import Drawing, Mark, Path, Rect, Text, bounds, shift
from packet.drawing.pens import VISIBLE
from packet.drawing.room import LayoutError
from packet.drawing.view import Scale, series
from packet.sheets.kit import Kit
from packet.sheets.panels import Page
from packet.sheets.section_view import Roll
from packet.sheets.tapes import Tape

APART = 4.0
"""mm between strips, at least."""
MOST_APART = 12.0
"""mm between strips, at most."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A strip under its role's name, and the words for what it serves."""

    name: str
    tape: Tape
    serves: tuple[str, ...]


def strips_pages(laid: Sequence[Laid], thickness: float, kit: Kit) -> list[tuple[Page, Scale]]:
    """The strips laid out flat, one below the other, at the largest scale that takes the fewest pages.

    Empty where no strapping strip takes several rolls. Raises LayoutError when they fit at no scale.
    """
    if all(len(each.tape.rolls) == 1 or each.tape.roll.foil for each in laid):
        return []
    ways = [way for scale in series(kit.system) if (way := _pages(laid, thickness, scale, kit))]
    if not ways:
        raise LayoutError("the strips laid out do not fit this paper at any scale")
    return min(ways, key=len)


def _pages(laid: Sequence[Laid], thickness: float, scale: Scale, kit: Kit) -> list[tuple[Page, Scale]]:
    """The strips at one scale; as many on each page as on the others. Empty where one of them is too large."""
    drawn = [_strip(each, thickness, scale, kit) for each in laid]
    rects = [bounds(marks, kit.lettering) for marks in drawn]
    heights = [top - bottom for _, bottom, _, top in rects]
    if max(right - left for left, _, right, _ in rects) > kit.room.width or max(heights) > kit.room.height:
        return []
    for count in range(1, len(laid) + 1):
        each_takes = math.ceil(len(laid) / count)
        parts = [range(first, min(first + each_takes, len(laid))) for first in range(0, len(laid), each_takes)]
        if all(sum(heights[i] for i in part) + APART * (len(part) - 1) <= kit.room.height for part in parts):
            return [(_page([(drawn[i], rects[i]) for i in part], kit), scale) for part in parts]
    return []


def _page(strips: Sequence[tuple[Drawing, Rect]], kit: Kit) -> Page:
    spare = kit.room.height - sum(top - bottom for _, (_, bottom, _, top) in strips)
    gap = min(spare / len(strips), MOST_APART)
    top = kit.room.top - (spare - gap * (len(strips) - 1)) / 2
    marks: Drawing = ()
    for drawn, (left, bottom, right, high) in strips:
        marks += shift(drawn, kit.room.centre[0] - (left + right) / 2, top - high)
        top -= high - bottom + gap
    return Page(marks, (bounds(marks, kit.lettering),))


def _strip(laid: Laid, thickness: float, scale: Scale, kit: Kit) -> Drawing:
    words, form, name, tape = kit.words, kit.form, laid.name, laid.tape
    edges = {"flat": 0, "foil": 0, "sill": 1}.get(name, 2)
    zones = [] if tape.roll.foil else [("land", tape.land), *[("edge", thickness)] * edges, ("land", tape.land)]
    first = "foil" if tape.roll.foil else "first" if len(tape.rolls) > 1 else "only"
    rolls = [
        words.text(f"recipes.roll.{'next' if i and first == 'first' else first}", width=width)
        for i, width in enumerate(tape.roll.tapes)
    ]
    drawn = make_up(
        tape.on_paper(scale),
        [(words.text(f"recipes.zone.{word}"), width / scale.ratio, form.length(width)) for word, width in zones],
        rolls,
        words.text("recipes.lap", lap=tape.roll.overlap),
        kit.lettering,
    )
    left, _, _, top = bounds(drawn, kit.lettering)
    title = words.text(f"recipes.laid.{name}", width=tape.width, serves=laid.serves)
    return (*drawn, Text((left, top + 2.5), title, BODY_BOLD))


def make_up(
    roll: Roll, zones: Sequence[tuple[str, float, str]], rolls: Sequence[str], lap: str, lettering: Lettering
) -> Drawing:
    """A strip laid out flat: its rolls as overlapping bars with the first lap dimensioned, zones below.

    `zones` are (word, paper mm, figure) from left to right; `rolls` name the bars.
    """
    high = BODY_BOLD.height * 2
    marks: list[Mark] = []
    for index, ((start, stop), text) in enumerate(zip(roll.spans, rolls, strict=True)):
        low = -index * high
        area = ((start, low - high), (stop, low - high), (stop, low), (start, low))
        style = next((s for s in (BODY_BOLD, FINE_BOLD) if lettering.width(text, s) < stop - start - 1), None)
        marks.append(Path(area, VISIBLE, 0.86 if index % 2 else 1.0))
        if style:
            marks.append(Text(((start + stop) / 2, low - (high + style.height) / 2), text, style, "centre"))
    if len(roll.spans) > 1:
        marks += linear((roll.spans[1][0], 0.0), (roll.spans[0][1], 0.0), 4.0, lap, lettering)
    foot, x = -high * len(roll.spans), roll.spans[0][0]
    for word, width, figure in zones:
        fits = lettering.width(figure, BODY_BOLD) + 7.0 < width
        dimension = linear((x, foot), (x + width, foot), -8.0, figure if fits else "", lettering)
        marks += [mark for mark in dimension if fits or not isinstance(mark, Text)]
        if not fits:  # too narrow for a text on the line: the figure stands below it, for the word
            marks.append(Text((x + width / 2, foot - 8.0 - 2.0 - FINE.height), figure, FINE_BOLD, "centre"))
        elif lettering.width(word, FINE) < width - 1:
            marks.append(Text((x + width / 2, foot - 8.0 - 2.0 - FINE.height), word, FINE, "centre"))
        x += width
    return tuple(marks)
