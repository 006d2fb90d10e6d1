"""Strips laid out flat, cut across: the rolls that make each, their laps, and what they lie on."""

from __future__ import annotations

from collections.abc import Sequence

from packet.drawing.dimension import linear
from packet.drawing.lettering import BODY_BOLD, FINE, FINE_BOLD, Lettering
from packet.drawing.marks import Drawing, Mark, Path, Text, bounds, shift
from packet.drawing.pens import VISIBLE
from packet.drawing.view import Scale
from packet.sheets.hinge_pictures import Tape
from packet.sheets.kit import Kit
from packet.sheets.section_view import Roll


def strips_laid_out(tapes: Sequence[tuple[str, Tape]], thickness: float, scale: Scale, kit: Kit) -> Drawing:
    """Each strip of the recipe laid out flat, one below the other, when one of them takes several rolls."""
    if all(len(tape.rolls) == 1 or tape.roll.foil for _, tape in tapes):
        return ()
    marks: Drawing = ()
    top = 0.0
    for name, tape in tapes:
        drawn = _strip(name, tape, thickness, scale, kit)
        left, bottom, right, high = bounds(drawn, kit.lettering)
        marks += shift(drawn, -(left + right) / 2, top - high)
        top -= high - bottom + 6.0
    return marks


def _strip(name: str, tape: Tape, thickness: float, scale: Scale, kit: Kit) -> Drawing:
    words, form = kit.words, kit.form
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
    return (*drawn, Text((left, top + 2.5), words.text(f"recipes.laid.{name}", width=tape.width), BODY_BOLD))


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
