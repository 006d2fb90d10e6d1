"""Hold points set by set: of several sets in one order each has its own page, which goes with it and is signed."""

from __future__ import annotations

from packet.drawing.flow import Block, paragraph, stack
from packet.drawing.lettering import BODY, HEAD
from packet.drawing.marks import Line, Mark
from packet.drawing.page import Sheet
from packet.drawing.pens import TABLE
from packet.drawing.room import LayoutError
from packet.drawing.symbols import TICK_SIZE
from packet.plan import Plan
from packet.sheets.checklist_blocks import CLOSE, GUTTER, Entry, about, beside_gutter, seen
from packet.sheets.checklist_holds import sign_boxes
from packet.sheets.kit import Kit
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.tasks import tasks
from packet.work.wording import line, shared_values

ROW = (18.0, 26.0)
"""mm, least and most height of a row."""
_GAP = 6.0
_BOXES = 0.5  # share of the width for what is read and signed
_HIGH = 13.0  # mm, a box to sign


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A page for each set, or several where the paper is small; none for an order of one."""
    sets = plan.description.quantity
    entries = _entries(plan, kit) if sets > 1 else ()
    found: list[Sheet] = []
    for number in range(1, sets + 1 if entries else 1):
        head = _head(kit, number, sets)
        least = max(ROW[0], *(_text(each, kit).height + 4.0 for each in entries))
        most = int((kit.room.height - head.height - _GAP) / least)
        if most < 1:
            raise LayoutError(f"sheet {sheet_number('set_holds')}: a row is taller than the page; use larger paper")
        pages = -(-len(entries) // most)
        each = -(-len(entries) // pages)
        for page in range(pages):
            shown = entries[page * each:(page + 1) * each]
            found.append(Sheet(
                number=sheet_number("set_holds", len(found) + 1),
                title=kit.words.text("set_holds.title", number=number, sets=sets), station=Station.L.word,
                kind=kit.words.text("set_holds.kind"), marks=_page(kit, head, shown, least),
                subtitle=kit.words.text("set_holds.subtitle"),
                subject=kit.words.text("set_holds.subject", number=number)))
    return tuple(found)


def _entries(plan: Plan, kit: Kit) -> tuple[Entry, ...]:
    """What is signed for each set, with its number on the checklist: its hold points, and the inspection at the end."""
    shared = shared_values(plan, kit.words)
    return tuple(Entry(number, task, line(task, kit.words, shared)) for number, task in enumerate(tasks(plan), 1)
                 if task.each_set and (task.hold or task.step == "inspect"))


def _head(kit: Kit, number: int, sets: int) -> Block:
    return stack((0.0, 0.0), (
        paragraph((0.0, 0.0), kit.room.width, kit.words.text("set_holds.head", number=number, sets=sets), HEAD, kit.lettering),
        paragraph((0.0, 0.0), kit.room.width, kit.words.text("set_holds.do", sheet=sheet_number), BODY, kit.lettering)),
        1.5, kit.room.width)


def _text(entry: Entry, kit: Kit) -> Block:
    told = "  ".join(part for part in (f"**{entry.words.step}.**", about(entry), seen(entry.task, kit)) if part)
    return paragraph((0.0, 0.0), (1 - _BOXES) * kit.room.width - GUTTER - _GAP, told, CLOSE, kit.lettering)


def _page(kit: Kit, head: Block, shown: tuple[Entry, ...], least: float) -> tuple[Mark, ...]:
    room = kit.room
    y = room.top - head.height - _GAP
    high = min(max(ROW[1], least), (y - room.bottom) / len(shown))
    marks: list[Mark] = list(head.moved(room.top_left).marks)
    for entry in shown:
        text = _text(entry, kit)
        drop = (high - max(text.height, TICK_SIZE)) / 2
        marks.append(Line((room.left, y), (room.right, y), TABLE))
        marks += beside_gutter(entry, text, y - drop, kit, room.left).marks
        marks += sign_boxes((room.right - _BOXES * room.width, y - high / 2 - _HIGH / 2), _BOXES * room.width, kit, _HIGH,
                            kit.words.text("set_holds.sign"))
        y -= high
    return (*marks, Line((room.left, y), (room.right, y), TABLE))
