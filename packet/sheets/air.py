"""Air and exits: what the vent draws, whom it serves, how people get out."""

from __future__ import annotations

from packet.drawing.lettering import BODY
from packet.drawing.page import Sheet
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.panels import ticked
from packet.sheets.site_blocks import assumptions, boxed, column, figure_panel, headed, roomy, sheet
from packet.site.air import Breath, breath, resistance, transmittance
from packet.units import CUBIC_FOOT_PER_MINUTE, System
from packet.work.facts import panels
from packet.work.stations import Station
from packet.work.wording import shared_values

KEYS = ("air.people", "air.fresh", "air.warmer", "air.discharge", "site.conductivity")

R_METRIC = 0.1761102
"""m2 K/W of 1 h ft2 F/BTU (from memory of the SI guides)."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Two pages for what people are inside of; none for the rest."""
    air = breath(plan)
    if air is None:
        return ()
    words, own = kit.words, plan.description.air
    left, right = kit.room.columns(0.36, 0.64, gap=7.0)
    enough = air.people >= own.people
    figures = (
        figure_panel(kit, left.width, words.text("air.flow.label"), _flow(kit, air.flow), words.text("air.flow.note")),
        figure_panel(kit, left.width, words.text("air.people.label"), str(air.people),
                     words.text("air.people.enough" if enough else "air.people.short", people=own.people)))
    exits = words.texts("air.exits.lines", doors=[leaf.mark for leaf in plan.assembly.doors], panels=panels(plan),
                        swings=shared_values(plan, words)["swings"], width=_clear(plan)[0], height=_clear(plan)[1])
    done = ticked(right.width - 5.0, exits, BODY, kit.lettering, 1.2)
    told = boxed(kit, right.width, words.text("air.rules.title"), words.texts("air.rules.lines", enough=enough))
    marks = (*column(left, figures), *column(right, (done, told), 4.0))
    below, beside = kit.room.columns(0.46, 0.54, gap=9.0)
    rests = roomy(lambda style: (
        *column(below, (headed(kit, below.width, words.text("air.model.title"), _model(plan, kit, air), style),)),
        *column(beside, (assumptions(plan, kit, beside.width, *KEYS, style=style),
                         headed(kit, beside.width, words.text("air.thermal.title"), _thermal(plan, kit), style)), 5.0)))
    return (sheet(kit, "air", "air.page", Station.X.word, marks),
            sheet(kit, "air", "air.rests", Station.X.word, rests, 2))


def _clear(plan: Plan) -> tuple[float, float]:
    """Clear width and height of a doorway, mm: the door leaf's own."""
    door = plan.assembly.doors[0]
    xs, ys = zip(*door.outline, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def _flow(kit: Kit, flow: float) -> str:
    if kit.system is System.METRIC:
        return f"{kit.form.fixed(flow * 1000, 1)} l/s"
    return f"{kit.form.fixed(flow / CUBIC_FOOT_PER_MINUTE, 1)} cfm"


def _model(plan: Plan, kit: Kit, air: Breath) -> tuple[str, ...]:
    return kit.words.texts("air.model.lines", volume=air.volume, vent=air.vent, gaps=air.gaps, rise=air.rise * 1000,
                           minutes=round(air.minutes) if air.flow else None)


def _thermal(plan: Plan, kit: Kit) -> tuple[str, ...]:
    if kit.system is System.METRIC:
        board, wall = f"R {kit.form.fixed(resistance(plan), 2)} m² K/W", f"U {kit.form.fixed(transmittance(plan), 2)} W/(m² K)"
    else:
        board, wall = (f"R {kit.form.fixed(resistance(plan) / R_METRIC, 1)}",
                       f"U {kit.form.fixed(transmittance(plan) * R_METRIC, 2)} BTU/(h sq ft F)")
    return kit.words.texts("air.thermal.lines", board=board, wall=wall)
