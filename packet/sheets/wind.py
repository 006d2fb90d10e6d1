"""Wind: the speeds at which it moves by itself, what each anchor must hold, and what that rests on."""

from __future__ import annotations

from packet.drawing.flow import Block, bullets
from packet.drawing.lettering import BODY, NUMBER, Style
from packet.drawing.page import Sheet
from packet.drawing.table import Cell, Column, spread, table
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.site_blocks import approval, assumptions, column, figure_panel, headed, roomy, sheet
from packet.site.masses import leaf_masses, total
from packet.site.pressure import beaufort
from packet.site.stance import stance
from packet.site.wind import Demand, Loads, Unanchored, loads, unanchored
from packet.work.facts import facts
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.wording import shared_values


def wanted(plan: Plan) -> bool:
    """Whether wind on it can hurt: people go inside, or it is tall."""
    known = facts(plan)
    return known["enterable"] or known["tall"]


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Two pages, where wind on it can hurt."""
    if not wanted(plan):
        return ()
    moved, held = unanchored(plan), loads(plan)
    left, right = kit.room.columns(0.36, 0.64, gap=7.0)
    marks = (*column(left, _speeds(plan, kit, moved, held, left.width)), *column(right, _table(plan, kit, held, right.width)))
    below, beside = kit.room.columns(0.46, 0.54, gap=9.0)
    rests = roomy(lambda style: (
        *column(below, (_computed(plan, kit, below.width, style), approval(kit, below.width, style)), 6.0),
        *column(beside, (assumptions(plan, kit, beside.width, *_keys(plan), style=style),))))
    return (sheet(kit, "wind", "wind.page", Station.X.word, marks),
            sheet(kit, "wind", "wind.rests", Station.X.word, rests, 2))


def force_word(kit: Kit, speed: float) -> str:
    """`force 3, gentle breeze: leaves and small twigs move all the time`."""
    force = beaufort(speed)
    return kit.words.text("wind.force", force=force, name=kit.words.text(f"wind.beaufort.{force}.name"),
                          seen=kit.words.text(f"wind.beaufort.{force}.seen"))


def _speeds(plan: Plan, kit: Kit, moved: Unanchored, held: Loads, width: float) -> list[Block]:
    """Large figures: it slides, it tips, and when to strike."""
    form, words = kit.form, kit.words
    found = [figure_panel(kit, width, words.text(f"wind.{key}"), form.speed(speed), force_word(kit, speed))
             for key, speed in (("slides", moved.slides), ("tips", moved.tips))]
    if held.strike is not None:
        note = words.text("wind.strike_note", force=force_word(kit, held.strike))
        found.append(figure_panel(kit, width, words.text("wind.strike"), form.speed(held.strike), note))
    elif held.opened is not None:
        found.append(figure_panel(kit, width, words.text("wind.open"), form.speed(min(moved.slides_open, moved.tips_open)),
                                  words.text("wind.open_note", **shared_values(plan, words))))
    return found


def _table(plan: Plan, kit: Kit, held: Loads, width: float) -> list[Block]:
    """Forces at the project's wind, and what each anchor must hold."""
    words, form = kit.words, kit.form
    cases: list[tuple[str, Demand]] = [("shut" if held.opened else "plain", held.shut)]
    if held.opened is not None:
        cases.append(("opened", held.opened))

    def row(key: str, label: str | None = None) -> list[Cell]:
        return [label or words.text(f"wind.rows.{key}"), *(form.force(getattr(each, key)) for _, each in cases)]

    rows = [row("drag"), *([row("uplift")] if stance(plan.assembly).covered else []), row("hold_down"), row("shear"),
            row("pull")]
    columns = [Column(each, "right" if place else "left", NUMBER if place else BODY)
               for place, each in enumerate(spread(width, 3.0, *(1.2 for _ in cases)))]
    header = [words.text("wind.rows.at", speed=form.speed(plan.description.wind.speed),
                         pressure=form.pressure(held.pressure)),
              *(words.text(f"wind.cases.{key}") for key, _ in cases)]
    listed = table((0.0, 0.0), columns, rows, header, kit.lettering)
    said = words.texts("wind.anchors", count=len(stance(plan.assembly).base), pull=form.force(held.worst.pull),
                       ballast=held.ballast, where=sheet_number("site"),
                       capacity=plan.description.wind.anchor_capacity is not None, short=_short(plan, kit, held))
    return [listed, bullets((0.0, 0.0), width, said, BODY, kit.lettering, 1.5)]


def _short(plan: Plan, kit: Kit, held: Loads) -> str:
    """What a wet anchor holds, where that is less than what is asked of it; else nothing."""
    wind = plan.description.wind
    left = wind.anchor_capacity * wind.wet_factor if wind.anchor_capacity is not None else held.worst.pull
    return kit.form.force(left) if left < held.worst.pull else ""


def _computed(plan: Plan, kit: Kit, width: float, style: Style) -> Block:
    """What the figures take from the model."""
    mass, _ = total(leaf_masses(plan))
    standing = stance(plan.assembly)
    widest = max(standing.sides, key=lambda side: side.area)
    return headed(kit, width, kit.words.text("wind.model.title"), kit.words.texts(
        "wind.model.lines", mass=mass, area=widest.area, height=widest.height * 1000, covered=standing.covered), style)


def _keys(plan: Plan) -> list[str]:
    """The keys that the figures of this project rest on."""
    wind = plan.description.wind
    return ["wind.speed", "wind.terrain", *(("wind.exposure",) if wind.terrain is None else ()), "wind.drag",
            *(("wind.uplift",) if stance(plan.assembly).covered else ()),
            *(("wind.uplift_open",) if plan.assembly.doors else ()),
            "wind.friction", "wind.load_factor", "wind.weight_factor",
            *(("wind.anchor_capacity",) if wind.anchor_capacity is None
              else ("wind.anchor_capacity", "wind.wet_factor", "wind.strike_share")),
            "site.strapping_mass", "site.foil_mass"]
