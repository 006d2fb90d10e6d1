"""Every task with its hands, its quantities, its minutes, when it starts and how late it may be."""

from __future__ import annotations

from itertools import accumulate, pairwise

from packet.assembly.records import SeamKind
from packet.description.clock import DAY, written
from packet.drawing.lettering import BODY, BODY_BOLD, FINE
from packet.drawing.marks import Drawing
from packet.drawing.room import LayoutError
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.notes import with_notes
from packet.work.effort import LENGTHS, Effort
from packet.work.mending import numbered
from packet.work.schedule import Schedule
from packet.work.wording import line, shared_values


def task_pages(plan: Plan, kit: Kit, made: Schedule) -> list[Drawing]:
    """The table, over as many pages as it needs. Raises LayoutError where a row is taller than a page."""
    words, shared = kit.words, shared_values(plan, kit.words)
    rows: list[list[Cell]] = []
    at, halves = numbered(plan), plan.assembly.halves
    whole = halves[0] if len(halves) == 1 else ""
    for each in made.efforts:
        key = each.task.key
        what = _about(each, kit, whole)
        times, slot = made.network.times[key], made.slots[key]
        took = times.earliest_finish - times.earliest_start
        rows.append([
            str(at[key]), f"{line(each.task, words, shared).name}{': ' if what else ''}{what}", str(each.task.station),
            words.text("crew.tasks.hands", hands=each.hands, lead=each.lead), _quantities(each, kit), f"{max(took, 1):.0f}",
            words.text("crew.when", day=int(slot.start // DAY) + 1, clock=written(slot.start % DAY)),
            words.text("crew.tasks.none") if times.critical else f"{times.slack:.0f}"])
    widths = spread(kit.room.width, 12, 72, 14, 22, 50, 16, 34, 23)
    styles = (BODY_BOLD, BODY, BODY, FINE, FINE, BODY, BODY, BODY)
    columns = [Column(width, "left" if place in (1, 3, 4, 6) else "centre", style)
               for place, (width, style) in enumerate(zip(widths, styles, strict=True))]
    header = words.entry("crew.tasks.header")

    def taken(start: int) -> int:
        return fit(columns, rows[start:], header, kit.room.height, kit.lettering)

    stops = [0]
    while stops[-1] < len(rows):
        count = taken(stops[-1])
        if not count:
            raise LayoutError("crew schedule: a task's row is taller than the page; use larger paper")
        stops.append(stops[-1] + count)
    # As many rows on every page as on the others or one fewer, where the rows allow.
    share, more = divmod(len(rows), len(stops) - 1)
    even = [0, *accumulate(share + (page < more) for page in range(len(stops) - 1))]
    if all(taken(start) >= stop - start for start, stop in pairwise(even)):
        stops = even
    return [with_notes(kit, table(kit.room.top_left, columns, rows[start:stop], header, kit.lettering).marks)
            for start, stop in pairwise(stops)]


def _about(each: Effort, kit: Kit, whole: str) -> str:
    """What tells a task from others of its step: a mark, a half (not `whole`, which is all there is), a spoiled leaf, or
    the kind of hinge whose first one is held."""
    step, _, what = each.task.key.partition(":")
    if "told" in each.task.values:
        return str(each.task.values["leaf"])
    if step == "first_hinge" and what in tuple(SeamKind):
        return kit.words.name(what)
    half, like, seam = what.partition(" like ")
    if like:
        return kit.words.text("crew.tasks.like", half="" if half == whole else half, seam=seam)
    return "" if what == whole else what


def _quantities(each: Effort, kit: Kit) -> str:
    """`7.4 m cut, 1 board` in the packet's units."""
    return ", ".join(kit.words.text(f"crew.quantities.{work}",
                                    amount=kit.form.feet(amount) if work in LENGTHS else f"{amount:.0f}", one=amount == 1)
                     for work, amount in each.quantities.items())
