"""The crew's values as the project file writes them, for the list of inputs."""

from __future__ import annotations

from dataclasses import fields

from packet.description.clock import written
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.work.effort import LENGTHS, Work


def crew_values(plan: Plan, kit: Kit) -> dict[str, str]:
    """Every value of `crew` and `rates` by its key, written in the packet's units."""
    crew, rates, words = plan.description.crew, plan.description.rates, kit.words
    found = {
        "crew.people": str(crew.people), "crew.start": written(crew.start), "crew.hours": kit.form.plain(crew.hours),
        "crew.breaks": ", ".join(f"{written(a)}-{written(b)}" for a, b in crew.breaks) or words.text("crew.no_breaks"),
        "crew.pauses": str(len(crew.pauses)), "crew.leaves_to_hand": str(crew.leaves_to_hand)}
    found |= {f"seats.{entry.name}": str(getattr(crew.seats, entry.name)) for entry in fields(crew.seats)}
    for work in Work:
        rate: float = getattr(rates, work)
        found[f"rates.{work}"] = (words.text("crew.a_minute", length=kit.form.feet(rate)) if work in LENGTHS
                                  else words.text("crew.minutes", count=kit.form.pointed(f"{rate:.3g}")))
    return found
