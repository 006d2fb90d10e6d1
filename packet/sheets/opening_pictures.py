"""How it opens: pictures from the pack to the open state, and what is not proved between them."""

from __future__ import annotations

from packet.assembly.opening_states import opening_states
from packet.drawing.flow import paragraph
from packet.drawing.lettering import BODY, BODY_BOLD
from packet.drawing.marks import Mark, Text
from packet.drawing.page import Sheet
from packet.drawing.solid import Camera, picture
from packet.drawing.symbols import circled
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.plates import faces, fitted, in_room
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

CLOSED = 0.5  # mm, the least parting of joined edges that is worth a word
_CAMERA = Camera(-62.0, 30.0)
_ACROSS, _DOWN = 4, 2


def opening_page(plan: Plan, kit: Kit, page: int) -> Sheet:
    """Eight pictures at one size: the pack, six states between, and the open state."""
    states = opening_states(plan.assembly, _ACROSS * _DOWN - 2)
    pictures = [picture(faces(state.plates), _CAMERA) for state in states]
    apart = max(state.apart for state in states)
    rigid = apart < CLOSED
    whole = next((number for number, state in enumerate(states, 1) if state.apart >= CLOSED), len(states)) - 1
    told = kit.words.texts(f"fold.states.{'even' if rigid else 'flex'}", apart=apart, last=whole, count=len(states))
    note = paragraph((0.0, 0.0), kit.room.width, " ".join(told), BODY, kit.lettering)
    foot, above = kit.room.cut_bottom(note.height, gap=4.0)
    rooms = [room for row in above.rows(*[1] * _DOWN, gap=3.0) for room in row.columns(*[1] * _ACROSS, gap=4.0)]
    spaces = [room.cut_top(8.0, gap=1.0) for room in rooms]
    ratio = max(fitted(shown.bounds, space) for shown, (_, space) in zip(pictures, spaces, strict=True))
    marks: list[Mark] = list(note.moved(foot.top_left).marks)
    for number, (shown, (head, space)) in enumerate(zip(pictures, spaces, strict=True), 1):
        key = "pack" if number == 1 else "open" if number == len(states) else ""
        marks += circled((head.left + 4.0, head.centre[1]), str(number), kit.lettering, 4.0, BODY_BOLD)
        if key:
            marks.append(Text((head.left + 10.0, head.centre[1] - BODY_BOLD.height / 2),
                              kit.words.text(f"fold.states.{key}"), BODY_BOLD))
        marks += in_room(shown, None, space, ratio=ratio, fine=True)
    return Sheet(
        number=sheet_number("fold", page), title=kit.words.text("fold.states.title"), station=Station.J.word,
        kind=kit.words.text("fold.kind"), marks=tuple(marks), subtitle=kit.words.text("fold.states.subtitle"))
