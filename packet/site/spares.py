"""What is over for repairs: tape on the last rolls, boards and parts of boards kept whole. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from packet.plan import Plan


@dataclass(frozen=True, slots=True)
class LeftTape:
    """One roll width: whole rolls bought, the length laid without allowance, and what is over."""

    roll_width: float
    foil: bool
    rolls: int
    bought: float
    net: float

    @property
    def left(self) -> float:
        return self.bought - self.net


def left_tape(plan: Plan) -> tuple[LeftTape, ...]:
    """Of every width that is bought."""
    own = plan.description
    return tuple(LeftTape(need.roll_width, need.foil, need.rolls,
                          need.rolls * (own.foil if need.foil else own.tape).roll, need.net) for need in plan.needs)
