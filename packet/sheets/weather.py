"""Taping weather: when to hold, how damp the air may be, and a table for the readings."""

from __future__ import annotations

import math

from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.page import Sheet
from packet.drawing.symbols import tick_box
from packet.drawing.table import Cell, Column, spread, table
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.site_blocks import boxed, column, sheet
from packet.site.weather import dampest
from packet.units import FAHRENHEIT_STEP, System, celsius, fixed
from packet.work.stations import Station

HOURS = range(6, 21, 2)
"""Hours of the day at which it is read."""

_WARM = {System.INCH: range(50, 96, 5), System.METRIC: range(10, 36, 3)}
"""Temperatures of the table of humidities, in the degrees of the packet."""

_ROW = 11.5


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """One page for every project: all of them are taped."""
    left, right = kit.room.columns(0.36, 0.64, gap=7.0)
    marks = (*column(left, (_limits(plan, kit, left.width), _humidities(plan, kit, left.width))),
             *column(right, (_readings(kit, right.width),)))
    return (sheet(kit, "weather", "weather", Station.P.word, marks),)


def _limits(plan: Plan, kit: Kit, width: float) -> Block:
    limits, assumed = plan.description.taping, plan.description.assumed
    return boxed(kit, width, kit.words.text("weather.hold.title"), kit.words.texts(
        "weather.hold.lines", least=kit.form.temperature(limits.least), spread=_difference(kit, limits.spread),
        assumed=" *" if {"taping.least", "taping.spread"} & set(assumed) else ""))


def _humidities(plan: Plan, kit: Kit, width: float) -> Block:
    """The highest humidity at each temperature, so that nobody needs to work out a dew point."""
    limits = plan.description.taping
    cells: list[list[Cell]] = []
    for degrees in _WARM[kit.system]:
        most = dampest(celsius(degrees, kit.system), limits)
        cells.append([kit.form.temperature(celsius(degrees, kit.system)),
                      kit.words.text("weather.most.none") if most is None else f"**{most} %**"])
    # Two temperatures to a row; an odd last one stands alone.
    deep = math.ceil(len(cells) / 2)
    empty: list[Cell] = ["", ""]
    beside = [*cells[deep:], empty][:deep]
    rows = [first + second for first, second in zip(cells, beside, strict=False)]
    columns = [Column(each, "centre", BODY) for each in spread(width, 1, 1.2, 1, 1.2)]
    header = [*kit.words.texts("weather.most.header")] * 2
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, kit.words.text("weather.most.title"), BODY, kit.lettering),
        table((0.0, 0.0), columns, rows, header, kit.lettering, 7.5)), 1.5, width)


def _readings(kit: Kit, width: float) -> Block:
    unit = kit.form.temperature(0.0).partition(" ")[2]
    header = kit.words.texts("weather.readings.header", unit=unit)
    rows: list[list[Cell]] = [[kit.words.text("weather.readings.hour", hour=hour), "", "", tick_box((0.0, 0.0)),
                               tick_box((0.0, 0.0)), ""] for hour in HOURS]
    columns = [Column(each, "centre", BODY_BOLD) for each in spread(width, 16, 22, 22, 15, 15, 36)]
    return stack((0.0, 0.0), (
        table((0.0, 0.0), columns, rows, header, kit.lettering, _ROW, rules="grid"),
        paragraph((0.0, 0.0), width, kit.words.text("weather.readings.note"), BODY, kit.lettering)), 2.0, width)


def _difference(kit: Kit, kelvin: float) -> str:
    """A difference of temperatures."""
    if kit.system is System.METRIC:
        return f"{kit.form.pointed(fixed(kelvin, 1).removesuffix('.0'))} °C"
    return f"{kit.form.pointed(fixed(kelvin / FAHRENHEIT_STEP, 1).removesuffix('.0'))} °F"
