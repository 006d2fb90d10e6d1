"""Fold and interlock: fold each half, lay one into the other, check, then tape the hips."""

from __future__ import annotations

from packet.assembly.folding import Section
from packet.assembly.records import Seam, SeamKind
from packet.drawing.flow import bullets, paragraph, stack, steps
from packet.drawing.lettering import BODY, BODY_BOLD, FINE, NUMBER
from packet.drawing.marks import Drawing, Line, Mark, Point, Text
from packet.drawing.page import Sheet
from packet.drawing.pens import NARROW
from packet.drawing.room import Room
from packet.drawing.symbols import circled, turn_arrow
from packet.drawing.table import Cell, Column, spread, table
from packet.plan import Plan
from packet.sheets import plain_fold
from packet.sheets.fold_pictures import (
    MOST,
    caption,
    flat_half,
    folded_half,
    folding_half,
    pack_from_above,
    whole_pack,
)
from packet.sheets.hold_box import hold_box, task_of
from packet.sheets.kit import Kit
from packet.sheets.layers_apart import layers_apart
from packet.sheets.opening_pictures import opening_page
from packet.work.joining import removable
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import Task
from packet.work.tasks import tasks

_GAP = 7.0
_FLAT_ROW = 27.0  # mm, the picture of the flat half across the page


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Fold each half; join the halves; check and strap the pack; its layers apart; tape the hips; from pack to open."""
    if len(plan.assembly.halves) == 1:
        return plain_fold.draw(plan, kit)
    join = _interlock_page if len(plan.pack.columns) > 1 else _stack_page
    apart = _sheet(kit, 4, "apart", list(layers_apart(plan, kit)), kit.words.name("pack"))
    return (_fold_page(plan, kit), join(plan, kit), _pack_page(plan, kit), apart, _hips_page(plan, kit),
            opening_page(plan, kit, 6))


def _fold_page(plan: Plan, kit: Kit) -> Sheet:
    half = plan.assembly.halves[0]
    task = f"fold:{half}"
    top, rest = kit.room.cut_top(_FLAT_ROW, gap=3.0)
    words, left = rest.inset(0, 0, 1.5, 0).cut_right(rest.width * 0.4, gap=_GAP)
    hold = hold_box(plan, kit, task, (left.left, 0.0), left.width, tuple(
        kit.words.text("fold.sign_half", half=each) for each in _folded_alike(plan)))
    foot, pictures = left.cut_bottom(hold.height, gap=4.0)
    middle, right = pictures.columns(1, 1, gap=_GAP)
    marks: list[Mark] = list(hold.moved(foot.top_left).marks)
    for number, room, picture in ((1, top, flat_half), (2, middle, folding_half), (3, right, folded_half)):
        head, below = caption(kit, room, number, kit.words.text(f"fold.pictures.p{number}", half=half))
        marks += [*head, *picture(plan, kit, half, below)]
    done = kit.words.texts("fold.fold.steps", **task_of(plan, task).values)
    note = paragraph((0.0, 0.0), words.width, kit.words.text("fold.fold.note"), BODY, kit.lettering)
    marks += stack(words.top_left, (steps((0.0, 0.0), words.width, done, kit.lettering), note), 4.0).marks
    return _sheet(kit, 1, "fold", marks, "A, B")


def _folded_alike(plan: Plan) -> tuple[str, ...]:
    """The first half and those with as many leaves, which fold to the same numbers."""
    count = {half: sum(leaf.half == half for leaf in plan.assembly.leaves) for half in plan.assembly.halves}
    return tuple(half for half in plan.assembly.halves if count[half] == count[plan.assembly.halves[0]])


def _interlock_page(plan: Plan, kit: Kit) -> Sheet:
    values = task_of(plan, "interlock").values
    told = kit.words.texts("fold.interlock.steps", **values)
    columns = kit.room.columns(1, 1, gap=_GAP)
    first = (len(told) + 1) // 2
    blocks = [steps((0.0, 0.0), column.width, part, kit.lettering, start=start)
              for column, part, start in zip(columns, (told[:first], told[first:]), (1, first + 1), strict=True)]
    foot, pictures = kit.room.cut_bottom(max(block.height for block in blocks), gap=6.0)
    marks: list[Mark] = []
    for block, column in zip(blocks, columns, strict=True):
        marks += block.moved((column.left, foot.top)).marks
    left, right = pictures.columns(5, 4, gap=10.0)
    spare = max(0.0, pictures.height - 24.0 - plan.pack.layers * MOST) / 2
    second = plan.assembly.halves[-1]
    head, turning = caption(kit, left, 4, kit.words.text("fold.pictures.p4", half=second))
    before, after = turning.columns(1, 1, gap=22.0)
    marks += [*head, *folded_half(plan, kit, second, before.inset(0, spare, 0, 0)),
              *folded_half(plan, kit, second, after.inset(0, spare, 0, 0), turned=True)]
    tall = min(turning.height, plan.pack.layers * MOST)
    centre = ((before.right + after.left) / 2, turning.bottom + spare + tall / 2)
    marks += turn_arrow(centre, 8.0, 160.0, 20.0)
    for line, y in zip(kit.words.text("fold.half_turn").split("\n"), (2.0, -2.5), strict=True):
        marks.append(Text((centre[0], centre[1] + y - 2.0), line, FINE, "centre"))
    head, room = caption(kit, right, 5, kit.words.text("fold.pictures.p5"))
    marks += [*head, *_pack(plan, kit, room.inset(0, max(0.0, spare - 8.0), 0, 0))]
    return _sheet(kit, 2, "interlock", marks, kit.words.name("pack"))


def _stack_page(plan: Plan, kit: Kit) -> Sheet:
    """One column: the upper half's stack laid on the lower one's, as it comes from the fold."""
    values = task_of(plan, "interlock").values
    words, pictures = kit.room.inset(0, 0, 1.5, 0).cut_right(kit.room.width * 0.4, gap=_GAP)
    told = kit.words.texts("fold.stack.steps", **values)
    parts = [steps((0.0, 0.0), words.width, told, kit.lettering)]
    parts += [hold_box(plan, kit, f"fold:{half}", (0.0, 0.0), words.width,
                       (kit.words.text("fold.sign_half", half=half),))
              for half in plan.assembly.halves if half not in _folded_alike(plan)]
    marks: list[Mark] = list(stack(words.top_left, parts, 5.0).marks)
    left, right = pictures.columns(1, 1, gap=_GAP)
    for half, room in zip((values["upper"], values["lower"]), left.rows(1, 1, gap=4.0), strict=True):
        head, below = caption(kit, room, None, kit.words.text("fold.stack.half", half=half))
        marks += [*head, *folded_half(plan, kit, half, below)]
    head, room = caption(kit, right, None, kit.words.text("fold.stack.whole"))
    marks += [*head, *_pack(plan, kit, room)]
    return _sheet(kit, 2, "stack", marks, kit.words.name("pack"))


def _pack_page(plan: Plan, kit: Kit) -> Sheet:
    left, right = kit.room.columns(7, 6, gap=_GAP)
    count = len(plan.pack.columns)
    widths = spread(left.width, 19, *(20, 38) * count)
    row = min(12.0, (left.height - 17.0) / plan.pack.layers)
    bold = (True, *(True, False) * count)
    columns = [Column(width, "centre" if strong else "left", BODY_BOLD if strong else BODY)
               for width, strong in zip(widths, bold, strict=True)]
    header = kit.words.texts("fold.table")[:1 + 2 * count]
    marks: list[Mark] = list(table(left.top_left, columns, _layer_rows(plan, kit), header, kit.lettering,
                                   row_height=row).marks)
    strap = steps((0.0, 0.0), right.width, kit.words.texts("fold.pack.steps"), kit.lettering, tick=True)
    note = paragraph((0.0, 0.0), right.width, kit.words.text("fold.pack.note"), BODY, kit.lettering)
    hold = hold_box(plan, kit, "interlock", (0.0, 0.0), right.width, (kit.words.text("fold.sign_pack"),))
    marks += stack(right.top_left, (strap, note, hold), 5.0).marks
    return _sheet(kit, 3, "pack", marks, kit.words.name("pack"))


def _hips_page(plan: Plan, kit: Kit) -> Sheet:
    words, pictures = kit.room.inset(0, 0, 1.5, 0).cut_right(kit.room.width * 0.42, gap=_GAP)
    above, below = pictures.rows(6, 5, gap=4.0)
    head, room = caption(kit, above, 6, kit.words.text("fold.pictures.p6"))
    marks: list[Mark] = [*head, *_pack(plan, kit, room, hips=True)]
    head, room = caption(kit, below, 7, kit.words.text("fold.pictures.p7"))
    marks += [*head, *pack_from_above(plan, kit, room)]
    ordered = [(number, task.values) for number, task in enumerate(_hip_tasks(plan), 1)]
    columns = len(plan.pack.columns)
    lines = [kit.words.text("fold.hips.pair", number=number, columns=columns, recipe=sheet_number("recipe.hip"),
                            **values)
             for number, values in ordered]
    marks += stack(words.top_left, (
        bullets((0.0, 0.0), words.width, kit.words.texts("fold.hips.before", columns=columns), BODY, kit.lettering,
                1.2),
        steps((0.0, 0.0), words.width, lines, kit.lettering, gap=1.6),
        bullets((0.0, 0.0), words.width, kit.words.texts(
            "fold.hips.after", erect=sheet_number("erect"), removable=removable(plan)), BODY, kit.lettering,
                1.2)), 4.0).marks
    return _sheet(kit, 5, "hips", marks, kit.words.name("hips"))


def _pack(plan: Plan, kit: Kit, room: Room, hips: bool = False) -> Drawing:
    """The pack with its layers numbered in the middle gap; with `hips`, brackets over the pairs to be taped."""
    side = 16.0 if hips else 8.0
    drawing, section, view = whole_pack(plan, kit, room.inset(side, 8.0, side, 0.0))
    marks: list[Mark] = list(drawing)
    left, bottom, right, _ = section.bounds
    thick = view.length(section.bounds[3] - bottom) / plan.pack.layers
    style = NUMBER if thick > 6.5 else BODY_BOLD if thick > 4.6 else FINE
    for number, x in ((1, left / 2), (2, right / 2)) if len(plan.pack.columns) > 1 else ():
        at = view.point((x, bottom))
        marks.append(Text((at[0], at[1] - 6.5), kit.words.text("fold.column", number=number), BODY_BOLD, "centre"))
    for layer in range(1, plan.pack.layers + 1):
        x, y = view.point((left, bottom))
        level = y + (layer - 0.5) * thick - style.height / 2
        if not hips:
            marks.append(Text((x - 2.0, level), str(layer), style, "right"))
    if hips:
        marks += _brackets(plan, kit, section, view.point((left, bottom)), view.point((right, bottom)), thick)
    return tuple(marks)


def _brackets(plan: Plan, kit: Kit, drawn: Section, left: Point, right: Point, thick: float) -> Drawing:
    """At the outer edges, one bracket for each pair of layers that a hip joins, numbered in the order of taping."""
    corner_left = {mark: drawn.centre(mark)[0] < 0.0 for mark in drawn.leaves}
    marks: list[Mark] = []
    for number, task in enumerate(_hip_tasks(plan), 1):
        for name in task.values["seams"]:
            wall = _wall_under(plan, plan.assembly.seam_by_mark[name])
            foot, out = (left, -1.0) if corner_left[wall] else (right, 1.0)
            low = foot[1] + (task.values["lower"] - 0.5) * thick
            high = foot[1] + (task.values["upper"] - 0.5) * thick
            x = foot[0] + out * 4.0
            marks += [Line((foot[0] + out, low), (x, low), NARROW), Line((foot[0] + out, high), (x, high), NARROW),
                      Line((x, low), (x, high), NARROW)]
            marks += circled((x + out * 5.5, (low + high) / 2), str(number), kit.lettering)
    return tuple(marks)


def _hip_tasks(plan: Plan) -> tuple[Task, ...]:
    """Hips in the order in which they are taped."""
    return tuple(task for task in tasks(plan) if task.step == "hips")


def _wall_under(plan: Plan, hip: Seam) -> str:
    """The wall leaf under a hip's first roof leaf."""
    eave = next(s for s in plan.assembly.seams_of(hip.leaves[0]) if s.kind is SeamKind.EAVE)
    return eave.leaves[0]


def _layer_rows(plan: Plan, kit: Kit) -> list[list[Cell]]:
    """Top layer first: leaf of each column, and what joins it to the leaf below."""
    rows: list[list[Cell]] = []
    for layer in range(plan.pack.layers, 0, -1):
        row: list[Cell] = [str(layer)]
        for column in plan.pack.columns:
            row += [column[layer - 1], _joint(plan, kit, column, layer) if layer > 1 else ""]
        rows.append(row)
    return rows


def _joint(plan: Plan, kit: Kit, column: tuple[str, ...], layer: int) -> str:
    """What joins the leaf in this layer to the one below it."""
    pair = {column[layer - 1], column[layer - 2]}
    seam = next(s for s in plan.assembly.seams if set(s.leaves) == pair)
    key = "mid" if seam.kind is SeamKind.WALL_MID else "corner_hip" if seam.bonded else "hip"
    return kit.words.text(f"fold.joint.{key}")


def _sheet(kit: Kit, page: int, key: str, marks: list[Mark], subject: str) -> Sheet:
    return Sheet(
        number=sheet_number("fold", page), title=kit.words.text(f"fold.{key}.title"), station=Station.J.word,
        kind=kit.words.text("fold.kind"), marks=tuple(marks), subtitle=kit.words.text(f"fold.{key}.subtitle"),
        subject=subject)
