"""A hold point on a working sheet: its limits as on the checklist, and a box to sign for each thing held."""

from __future__ import annotations

from packet.drawing.flow import Block, bullets
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.marks import Mark, Point, Text, rectangle
from packet.drawing.pens import FRAME
from packet.drawing.symbols import signature_box
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.work.task import Task
from packet.work.tasks import tasks
from packet.work.wording import Line, line, shared_values

_BAND = 8.0  # mm, height of the black band
_PAD = 3.0
_SIGNATURE = 14.0


def task_of(plan: Plan, key: str) -> Task:
    """The task of that key on the checklist."""
    return next(task for task in tasks(plan) if task.key == key)


def wording_of(plan: Plan, kit: Kit, key: str) -> Line:
    """What the checklist says of the task of that key, so that a sheet quotes the same numbers."""
    return line(task_of(plan, key), kit.words, shared_values(plan, kit.words))


def hold_box(plan: Plan, kit: Kit, key: str, at: Point, width: float, signatures: tuple[str, ...]) -> Block:
    """The hold point of a task, hung from its top left. `signatures` are the labels of the boxes to sign; of several sets
    each has them on a page of its own."""
    wording, lettering = wording_of(plan, kit, key), kit.lettering
    left, top = at
    told = (*wording.limit, f"**{wording.signed}**") if wording.signed else wording.limit
    limits = bullets((left + _PAD, top - _BAND - 1.0), width - 2 * _PAD, told, BODY, lettering, 0.9)
    signatures = () if wording.signed else signatures
    foot = limits.bottom - (2.0 + _SIGNATURE if signatures else 0.0)
    each = (width - 2 * _PAD - (len(signatures) - 1) * 3.0) / max(1, len(signatures))
    head = kit.words.text("checklist.hold.heading")
    names = (f"{head}  {wording.name}", f"{head}  {wording.step}")
    name = next((each for each in names if lettering.width(each, BODY_BOLD) <= width - 2 * _PAD), names[-1])
    marks: list[Mark] = [
        rectangle((left, top - _BAND, left + width, top), None, 0.0),
        Text((left + _PAD, top - (_BAND + BODY.height) / 2), name, BODY_BOLD, grey=1.0),
        *limits.marks]
    for index, label in enumerate(signatures):
        marks += signature_box((left + _PAD + index * (each + 3.0), foot), each, label, lettering, _SIGNATURE)
    marks.append(rectangle((left, foot - _PAD, left + width, top), FRAME))
    return Block(tuple(marks), at, width, top - foot + _PAD)
