"""What every instruction sheet must say, so that a stranger can do the next step from it alone: what to do, to which
parts, on which face, within which limit, and which sheet comes next."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator

from packet.drawing.marks import Text
from packet.drawing.page import FinishedSheet, frame_rect
from packet.work.following import Following
from packet.work.sheet_numbers import binding_order
from packet.work.stations import Station
from packet.work.tasks import tasks
from tests.packets.figures import NUMBER
from tests.packets.packet import Packet, content

FOOT = 18.0
"""mm, a title block is no lower than this."""
WORKING = (Station.C, Station.H, Station.E, Station.R, Station.J, Station.X)
ACTIONS = ("lay", "fold", "wrap", "cut", "snap", "score", "trim", "bore", "seal", "open", "raise", "press", "turn", "tape",
           "set", "roll", "push", "strap", "slit", "clear", "measure", "check", "read", "hold", "mark", "stand", "join",
           "hinge")
STEP = re.compile(rf"(?:^|[.:;] |\d )(?:{'|'.join(ACTIONS)})\b", re.I)
"""A verb where a sentence begins."""
FACES = re.compile(r"\b(INNER|OUTER|inner|outer|printed|marked|closing|opening) (side|face|faces)\b|\bINNER\b|\bOUTER\b")
LIMIT = re.compile(rf"(within|at most|no more than|at least|least|limit|limits?:?|up to|±|off|past) ?(the )?{NUMBER}"
                   rf"|{NUMBER} ?(in|mm|°|degrees)?,? (off )?at most|flush|±", re.I)
"""A bound that can be read off a rule: `within 1/16 in`, `3 mm at most`, or flush."""


def said(packet: Packet) -> dict[tuple[str, int], tuple[list[FinishedSheet], str]]:
    """The pages and the words of each sheet that work at a table is done by. Recipes of listed seams count on, so that
    their pages belong together by the name before the colon."""
    wanted = {binding_order(number)[:2] for task in tasks(packet.plan) if task.station in WORKING
              for number in task.sheets if number[0] in {str(station) for station in WORKING}}
    pages: dict[tuple[int, int], list[FinishedSheet]] = defaultdict(list)
    titled: dict[tuple[str, str], tuple[int, int]] = {}
    for sheet in packet.sheets:
        base = binding_order(sheet.number)[:2]
        name = sheet.title.partition(":")
        if name[1]:
            base = titled.setdefault((sheet.station, name[0]), base)
        if base in wanted:
            pages[base].append(sheet)
    return {base: (found, " ".join(words for sheet in found for words in _above_the_title_block(sheet)))
            for base, found in pages.items()}


def _above_the_title_block(sheet: FinishedSheet) -> Iterator[str]:
    """Header and drawing: the title block gives no instruction."""
    for mark in sheet.marks:
        if isinstance(mark, Text) and (sheet.window or mark.at[1] > frame_rect(sheet.paper)[1] + FOOT):
            yield " ".join(mark.string.split())


def unsaid(packet: Packet) -> Iterator[str]:
    """Instruction sheets that leave one of the five out."""
    assembly = packet.plan.assembly
    marks = {*assembly.by_mark, *packet.plan.parts.by_mark, *(seam.mark for seam in assembly.seams)}
    numbers = {sheet.number for sheet in packet.sheets}
    following = Following(packet.plan)
    found = said(packet)
    if not found:
        yield "no instruction sheet at all"
    for pages, text in found.values():
        words = set(re.findall(r"[A-Za-z0-9/-]+", text))
        told = {
            "action": STEP.search(text),
            # A hinge may be named by its kind for the whole half: "all walls of half A".
            "part": words & marks or (len(assembly.halves) > 1 and "half" in text.lower()),
            "face": FACES.search(text),
            "limit": LIMIT.search(text),
        }
        where = f"{pages[0].number} {pages[0].title}"
        yield from (f"{where}: no {what}" for what, there in told.items() if not there)
        after = _then(packet, pages[-1])
        if after != (following.after(pages[-1].number) or packet.kit.words.name("done")):
            yield f"{where}: is followed by {after}"
        elif after not in numbers and after != packet.kit.words.name("done"):
            yield f"{where}: the packet has no sheet {after} to follow"


def _then(packet: Packet, sheet: FinishedSheet) -> str:
    """What the title block names as the sheet that is taken up next."""
    strings = [mark.string for mark in sheet.marks[len(content(sheet)):] if isinstance(mark, Text)]
    return strings[strings.index(packet.kit.words.name("Then")) + 1]
