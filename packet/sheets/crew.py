"""The crew's schedule: who works where and when, day by day, and what the lead should know about it."""

from __future__ import annotations

from collections.abc import Sequence

from packet.description.clock import DAY, written
from packet.drawing.flow import Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, LARGE
from packet.drawing.marks import Drawing
from packet.drawing.page import Sheet
from packet.drawing.symbols import tick_box
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.columns import Make, in_columns
from packet.sheets.crew_chart import Chart, charts
from packet.sheets.crew_tasks import task_pages
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.work.mending import numbered
from packet.work.schedule import Schedule, loses_two_hours, one_more, plan_schedule
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

NOON = 12 * 60
_GAP = 8.0
_ROW = 12.0  # mm, a tick box with air
TOGETHER = 0.45  # share of the page that a table of times takes at most, before the next begins


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A chart for every day, or for parts of a day where the page is too small; the figures; then task by task."""
    made = plan_schedule(plan)
    found = charts(plan, kit, made, kit.room.cut_bottom(_foot(plan, kit, made).height + 2.0)[1])
    sheets = [_chart_sheet(plan, kit, made, chart, page) for page, chart in enumerate(found, 1)]
    sheets += _figures_sheets(plan, kit, made, len(sheets) + 1)
    return (*sheets, *_task_sheets(plan, kit, made, len(sheets) + 1))


def _task_sheets(plan: Plan, kit: Kit, made: Schedule, first: int) -> list[Sheet]:
    words = kit.words
    return [
        Sheet(number=sheet_number("crew", page), title=words.text("crew.tasks.title"), station=Station.L.word,
              kind=words.text("crew.tasks.kind"), marks=marks, subtitle=words.text("crew.tasks.subtitle"))
        for page, marks in enumerate(task_pages(plan, kit, made), first)]


def in_runs(found: list[int]) -> str:
    """`1-4, 6` of 1, 2, 3, 4, 6."""
    runs: list[list[int]] = []
    for number in sorted(found):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in runs)


def _foot(plan: Plan, kit: Kit, made: Schedule) -> Block:
    """The key to the chart."""
    words = kit.words
    reasons = list(dict.fromkeys(pause.reason for pause in plan.description.crew.pauses))
    told = [words.text("crew.schedule.legend.critical"), words.text("crew.schedule.legend.other"),
            *([words.text("crew.schedule.legend.pause", reasons=reasons)] if reasons else []),
            words.text("crew.schedule.legend.number")]
    return paragraph((0.0, 0.0), kit.room.width, "  ".join(told), BODY, kit.lettering)


def _chart_sheet(plan: Plan, kit: Kit, made: Schedule, chart: Chart, page: int) -> Sheet:
    words = kit.words
    foot = _foot(plan, kit, made)
    foot = foot.moved((kit.room.left, kit.room.bottom + foot.height))
    marks = with_notes(kit, chart.marks, kit.room.cut_bottom(foot.height + 4.0)[1])
    return Sheet(
        number=sheet_number("crew", page), title=words.text("crew.schedule.title"), station=Station.L.word,
        kind=words.text("crew.schedule.kind"), marks=(*marks, *foot.marks),
        subtitle=words.text("crew.schedule.subtitle", people=plan.description.crew.people,
                            shown=chart.days, days=made.last_day))


def _figures_sheets(plan: Plan, kit: Kit, made: Schedule, first: int) -> list[Sheet]:
    words = kit.words
    makes: list[Make] = [_bullet(text, kit) for text in _told(plan, kit, made)]
    makes += [_lost(plan, kit, made), *_noons(kit, _noon_rows(plan, kit, made))]
    return [
        Sheet(number=sheet_number("crew", page), title=words.text("crew.figures.title"), station=Station.L.word,
              kind=words.text("crew.figures.kind"), marks=with_notes(kit, marks), subtitle=words.text("crew.figures.subtitle"))
        for page, marks in enumerate(in_columns(makes, kit.room, 2, 3.0, _GAP), first)]


def _bullet(text: str, kit: Kit) -> Make:
    return lambda width: bullets((0.0, 0.0), width, (text,), BODY, kit.lettering)


def _told(plan: Plan, kit: Kit, made: Schedule) -> list[str]:
    words, crew, bounds = kit.words, plan.description.crew, made.bounds
    which = {bounds.path: words.text("crew.figures.bounds.path"), bounds.hands: words.text("crew.figures.bounds.hands"),
             bounds.lead: words.text("crew.figures.bounds.lead"),
             **{minutes: words.text("crew.figures.bounds.station", station=str(station))
                for station, minutes in bounds.stations.items()}}
    at = numbered(plan)
    told = [
        words.text("crew.figures.finish", day=made.last_day, clock=written(made.finish % DAY), worked=_hours(kit, made.worked)),
        words.text("crew.figures.least", path=_hours(kit, bounds.path)),
        words.text("crew.figures.bound", least=_hours(kit, bounds.least), which=which[bounds.least],
                   percent=f"{100 * (made.worked / bounds.least - 1) + 0.5:.0f}"),
        words.text("crew.figures.more", minutes=f"{one_more(made.efforts, crew):.0f}")]
    if made.short:
        told.append(words.text("crew.figures.short", tasks=[at[each.task.key] for each in made.short],
                               least=max(each.hands for each in made.short)))
    if crew.pauses:
        told.append(words.text("crew.figures.pauses", pauses=[
            f"{words.text('crew.when', day=pause.day, clock=written(pause.hours[0]))}-"
            f"{written(pause.hours[1])} {pause.reason}" for pause in crew.pauses]))
    return [*told, words.text("crew.figures.assumed", sheet=sheet_number)]


def _hours(kit: Kit, minutes: float) -> str:
    return kit.form.pointed(f"{minutes / 60:.1f}")


def _lost(plan: Plan, kit: Kit, made: Schedule) -> Make:
    words = kit.words
    lost = loses_two_hours(made.efforts, plan.description.crew, made)
    rows = [[f"**{station}** {words.name(station.word).lower()}", words.text("crew.figures.lost_row", minutes=f"{cost:.0f}")]
            for station, cost in lost.items()]

    def make(width: float) -> Block:
        first, second = spread(width, 2, 1)
        return _headed("crew.figures.lost", [Column(first), Column(second, "right")], rows, kit, width)

    return make


def _noon_rows(plan: Plan, kit: Kit, made: Schedule) -> list[tuple[str, str]]:
    """At noon and in the evening of each day, the numbers of what should be done."""
    words, at = kit.words, numbered(plan)
    rows = []
    for day in range(1, made.last_day + 1):
        evening = made.finish if day == made.last_day else max(
            ends for begins, ends in made.days.windows if begins < DAY * day)
        for moment in (DAY * (day - 1) + NOON, evening):
            done = [at[key] for key in made.done_by(moment)]
            everything = len(done) == len(at)
            when = made.finish if everything else moment
            rows.append((words.text("crew.when", day=day, clock=written(when % DAY)),
                         words.text("crew.figures.noon_all") if everything
                         else in_runs(done) or words.text("crew.schedule.none")))
            if everything:
                return rows
    return rows


def _noons(kit: Kit, rows: list[tuple[str, str]]) -> list[Make]:
    """What should be done when, and a box to tick: tables of as many rows as stand well in a column. Many tasks side by
    side make long rows."""
    box: Drawing = tick_box((0.0, 0.0))
    cells: list[list[Cell]] = [[when, done, box] for when, done in rows]

    def columns(width: float) -> list[Column]:
        first, second, third = spread(width, 1.4, 2.0, 0.6)
        return [Column(first, style=BODY_BOLD), Column(second), Column(third, "centre")]

    def make(part: list[list[Cell]]) -> Make:
        return lambda width: _headed("crew.figures.noon", columns(width), part, kit, width, _ROW)

    makes: list[Make] = []
    while cells:
        wide = columns(kit.room.columns(1.0, 1.0, gap=_GAP)[0].width)
        count = max(1, fit(wide, cells, None, TOGETHER * kit.room.height, kit.lettering, _ROW))
        makes.append(make(cells[:count]))
        cells = cells[count:]
    return makes


def _headed(key: str, columns: list[Column], rows: Sequence[Sequence[Cell]], kit: Kit, width: float,
            row_height: float | None = None) -> Block:
    """A table under its heading; `key` names the words of both."""
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, f"**{kit.words.text(key)}**", LARGE, kit.lettering),
        table((0.0, 0.0), columns, rows, kit.words.entry(f"{key}_header"), kit.lettering, row_height)), 1.0, width)
