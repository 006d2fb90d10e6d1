"""A strip as sentences and pictures name it."""

from __future__ import annotations

from dataclasses import dataclass

from packet.drawing.view import Scale
from packet.sheets.section_view import Roll
from packet.tape.strips import Strip
from packet.units import Format


@dataclass(frozen=True, slots=True)
class Tape:
    """A strip as sentences name it: lengths in mm, `rolls` and `lap` as written, `face` as a term."""

    width: float
    land: float
    rolls: tuple[str, ...]
    lap: str
    thin: bool
    face: str
    roll: Roll

    def on_paper(self, scale: Scale) -> Roll:
        return Roll(
            tuple(tape / scale.ratio for tape in self.roll.tapes), self.roll.overlap / scale.ratio, self.roll.foil
        )


def tape_of(strip: Strip, form: Format) -> Tape:
    """A strip of the plan; its width is that of its rolls as laid, which may exceed what is needed."""
    roll = Roll(strip.tapes, strip.overlap, foil=strip.role == "foil")
    return Tape(
        roll.width,
        strip.land,
        tuple(form.length(tape) for tape in strip.tapes),
        form.length(strip.overlap),
        strip.thin,
        str(strip.faces[0]),
        roll,
    )
