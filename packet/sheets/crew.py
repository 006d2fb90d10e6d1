"""The crew's schedule: who works where and when, day by day, and what the lead should know about it."""

from __future__ import annotations

from packet.description.clock import DAY, written
from packet.drawing.flow import Block, bullets, paragraph, stack
from packet.drawing.lettering import BODY, BODY_BOLD, LARGE
from packet.drawing.marks import Drawing
from packet.drawing.page import Sheet
from packet.drawing.symbols import tick_box
from packet.drawing.table import Column, spread, table
from packet.plan import Plan
from packet.sheets.crew_chart import Chart, charts
from packet.sheets.kit import Kit
from packet.work.schedule import Schedule, loses_two_hours, one_more, plan_schedule
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

NOON = 12 * 60
_GAP = 8.0


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A chart for every day, or for parts of a day where the page is too small; then the figures."""
    made = plan_schedule(plan)
    found = charts(plan, kit, made, kit.room.cut_bottom(_foot(plan, kit, made).height + 2.0)[1])
    sheets = [_chart_sheet(plan, kit, made, chart, page) for page, chart in enumerate(found, 1)]
    return (*sheets, _figures_sheet(plan, kit, made, len(sheets) + 1))


def numbers(made: Schedule) -> dict[str, int]:
    """The number of every task on the checklist, by its key."""
    return {each.task.key: number for number, each in enumerate(made.efforts, 1)}


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
    return Sheet(
        number=sheet_number("crew", page), title=words.text("crew.schedule.title"), station=Station.L.word,
        kind=words.text("crew.schedule.kind"), marks=(*chart.marks, *foot.marks),
        subtitle=words.text("crew.schedule.subtitle", people=plan.description.crew.people,
                            shown=chart.days, days=made.last_day))


def _figures_sheet(plan: Plan, kit: Kit, made: Schedule, page: int) -> Sheet:
    words = kit.words
    left, right = kit.room.columns(1.15, 1.0, gap=_GAP)
    told = bullets((0.0, 0.0), left.width, _told(plan, kit, made), BODY, kit.lettering, 2.0)
    told = told.moved(left.top_left)
    noon = _noon(kit, made, right.width).moved(right.top_left)
    lost = _lost(plan, kit, made, left.width)
    under = left if told.bottom - 4.0 - lost.height > left.bottom else right
    at = (told if under is left else noon).bottom - 5.0
    return Sheet(
        number=sheet_number("crew", page), title=words.text("crew.figures.title"), station=Station.L.word,
        kind=words.text("crew.figures.kind"), marks=(*told.marks, *noon.marks, *lost.moved((under.left, at)).marks),
        subtitle=words.text("crew.figures.subtitle"))


def _told(plan: Plan, kit: Kit, made: Schedule) -> list[str]:
    words, crew, bounds = kit.words, plan.description.crew, made.bounds
    which = {bounds.path: words.text("crew.figures.bounds.path"), bounds.hands: words.text("crew.figures.bounds.hands"),
             bounds.lead: words.text("crew.figures.bounds.lead"),
             **{minutes: words.text("crew.figures.bounds.station", station=str(station))
                for station, minutes in bounds.stations.items()}}
    at = numbers(made)
    told = [
        words.text("crew.figures.finish", day=made.last_day, clock=written(made.finish % DAY), worked=_hours(made.worked)),
        words.text("crew.figures.least", path=_hours(bounds.path)),
        words.text("crew.figures.bound", least=_hours(bounds.least), which=which[bounds.least],
                   percent=f"{100 * (made.worked / bounds.least - 1) + 0.5:.0f}"),
        words.text("crew.figures.more", minutes=f"{one_more(made.efforts, crew):.0f}")]
    if made.short:
        told.append(words.text("crew.figures.short", tasks=[at[each.task.key] for each in made.short],
                               least=max(each.hands for each in made.short)))
    if crew.pauses:
        told.append(words.text("crew.figures.pauses", pauses=[
            f"{words.text('crew.figures.noon_label', day=pause.day, clock=written(pause.hours[0]))}-"
            f"{written(pause.hours[1])} {pause.reason}" for pause in crew.pauses]))
    return [*told, words.text("crew.figures.assumed", sheet=sheet_number)]


def _hours(minutes: float) -> str:
    return f"{minutes / 60:.1f}"


def _lost(plan: Plan, kit: Kit, made: Schedule, width: float) -> Block:
    words = kit.words
    lost = loses_two_hours(made.efforts, plan.description.crew, made)
    rows = [[f"**{station}** {station.word.lower()}", words.text("crew.figures.lost_row", minutes=f"{cost:.0f}")]
            for station, cost in lost.items()]
    columns = [Column(w, align) for w, align in zip(spread(width, 2, 1), ("left", "right"), strict=True)]
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, f"**{words.text('crew.figures.lost')}**", LARGE, kit.lettering),
        table((0.0, 0.0), columns, rows, words.entry("crew.figures.lost_header"), kit.lettering)), 1.0, width)


def _noon(kit: Kit, made: Schedule, width: float) -> Block:
    """At noon and in the evening of each day: what should be done, and a box to tick."""
    words, at = kit.words, numbers(made)
    box: Drawing = tick_box((0.0, 0.0))
    rows = []
    for day in range(1, made.last_day + 1):
        evening = max(end for begins, end in made.days.windows if begins < DAY * day)
        for moment in (DAY * (day - 1) + NOON, evening):
            if moment - DAY * (day - 1) > NOON and day == made.last_day:
                moment = made.finish
            done = [at[key] for key in made.done_by(moment)]
            rows.append([words.text("crew.figures.noon_label", day=day, clock=written(moment % DAY)),
                         words.text("crew.figures.noon_all") if len(done) == len(at)
                         else in_runs(done) or words.text("crew.schedule.none"), box])
            if len(done) == len(at):
                break
    columns = [Column(w, "centre" if n == 2 else "left", BODY_BOLD if n == 0 else BODY)
               for n, w in enumerate(spread(width, 1.4, 2.0, 0.6))]
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), width, f"**{words.text('crew.figures.noon')}**", LARGE, kit.lettering),
        table((0.0, 0.0), columns, rows, words.entry("crew.figures.noon_header"), kit.lettering, row_height=12.0)),
        1.0, width)
