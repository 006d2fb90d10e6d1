"""A small picture for each step of the checklist that is sooner seen than read; steps without one have none.

Every picture shows this project's own leaves, boards or hinges, as far as it shows any.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from packet.assembly.folding import Section, chain, chain_state, pack_section, thickened
from packet.assembly.opening_states import opening_states, pack_plates
from packet.assembly.records import SeamKind
from packet.assembly.views import centre_of, cut, horizontal, swing, walls_in_order
from packet.boards.records import Board
from packet.description.terms import Face, Tool
from packet.drawing.dimension import polar
from packet.drawing.flow import Block
from packet.drawing.lettering import FINE_BOLD
from packet.drawing.marks import Drawing, Line, Mark, Path, Text, bounds, rectangle, shift
from packet.drawing.pens import HEAVY, NARROW, VISIBLE
from packet.drawing.room import Room
from packet.drawing.solid import picture
from packet.drawing.symbols import arrow, circled, turn_arrow
from packet.plan import Plan
from packet.sheets import step_leaves as leaves
from packet.sheets import step_sections as sections
from packet.sheets.erect_pictures import inside_corner
from packet.sheets.fold_pictures import folding_half
from packet.sheets.kit import Kit
from packet.sheets.plates import BEFORE, LYING, faces, in_room, shown_open
from packet.sheets.step_leaves import Scene, over
from packet.tape.strips import Role
from packet.work.task import Task
from packet.work.tasks import tasks

WIDTH = 31.0
"""mm that a picture is wide at most."""
_HIGH = 21.0

Drawn = Callable[[Scene, Task, Room], Drawing]


def step_picture(plan: Plan, kit: Kit, task: Task) -> Block | None:
    """The picture of a task, hung from (0, 0), WIDTH wide; None where its step has none."""
    drawn = _PICTURES.get(task.step)
    if drawn is None:
        return None
    room = Room(0.0, -_HEIGHTS.get(task.step, _HIGH), WIDTH, 0.0)
    marks = drawn(Scene(plan, kit), task, room)
    if not marks:
        return None
    _, bottom, _, top = bounds(marks, kit.lettering)
    return Block(shift(marks, 0.0, -top), (0.0, 0.0), WIDTH, top - bottom)


# --- hinges ------------------------------------------------------------------------------------


def _hinge(scene: Scene, task: Task, room: Room) -> Drawing:
    """Left the leaves as they lie, right the hinge shut."""
    seam = scene.plan.assembly.seam_by_mark[_seam(task)]
    left, right = room.columns(16, 13, gap=2.0)
    return (*leaves.hinge_flat(scene, seam, seam.closing_face, left),
            *sections.shut(scene.kit, seam.closing_face, right))


def _seam(task: Task) -> str:
    values = task.values
    return str(values["seam"] if "seam" in values else values["seams"][0])


def _flexed(scene: Scene, task: Task, room: Room) -> Drawing:
    return sections.flexed(scene.kit, scene.plan.assembly.seam_by_mark[_seam(task)].closing_face, room)


def _eave(scene: Scene, task: Task, room: Room) -> Drawing:
    return sections.shut(scene.kit, Face.INNER, room.inset(4.0, 0.0))


def _hip_inside(scene: Scene, task: Task, room: Room) -> Drawing:
    hip = scene.plan.assembly.bonded(SeamKind.HIP)[0]
    return sections.standing(scene.kit, hip.angle_open, hip.closing_face, room, inside=True)


def _release(scene: Scene, task: Task, room: Room) -> Drawing:
    seam = scene.plan.assembly.seam_by_mark[_seam(task)]
    return sections.standing(scene.kit, seam.angle_open, seam.closing_face, room, inside=False)


# --- the whole ---------------------------------------------------------------------------------


def _fold(scene: Scene, task: Task, room: Room) -> Drawing:
    """Part of the way from flat to folded."""
    plan, kit = scene.plan, scene.kit
    if plan.ring is not None:
        return folding_half(plan, kit, str(task.values["half"]), room)
    if chain(plan.assembly):
        broad = max(abs(x) for leaf in plan.assembly.leaves for x, _ in leaf.outline)
        return _across(scene, chain_state(thickened(plan.assembly, 0.1 * broad), plan.pack, 0.25), room)
    half_way = opening_states(plan.assembly, 1)[1]
    return in_room(picture(faces(half_way.plates), BEFORE), None, room, fine=True)


def _across(scene: Scene, section: Section, room: Room) -> Drawing:
    view = over([p for ring in section.leaves.values() for p in ring], room.inset(1.0))
    return tuple(Path(view.points(ring), VISIBLE, sections.BOARD) for ring in section.leaves.values())


def _pack(scene: Scene, task: Task, room: Room) -> Drawing:
    """The pack as it lies."""
    return in_room(picture(faces(pack_plates(scene.plan.assembly, scene.plan.pack)), LYING), None, room, fine=True)


def _end_on(scene: Scene, room: Room) -> tuple[Drawing, tuple[float, ...], tuple[float, float]]:
    """The pack from the sill end, the first half grey: what is drawn, the middle of each layer from the lowest, and its
    two sides."""
    plan = scene.plan
    layers = plan.pack.layers
    thick = (room.height - 1.0) / layers
    plain = pack_section(plan.assembly, plan.pack)
    wide = plain.bounds[2] - plain.bounds[0]
    ratio = wide / room.width
    section = pack_section(thickened(plan.assembly, thick * ratio), plan.pack)
    view = over([p for ring in section.leaves.values() for p in ring], room)
    marks: list[Mark] = []
    for mark, corners in section.leaves.items():
        ring = view.points(corners)
        grey = 0.8 if plan.assembly.by_mark[mark].half == plan.assembly.halves[0] else 1.0
        marks.append(Path(ring, VISIBLE, grey))
        if thick > FINE_BOLD.height + 1.2:
            x, y = view.point(section.centre(mark))
            marks.append(Text((x, y - FINE_BOLD.height / 2), mark, FINE_BOLD, "centre"))
    levels = {plan.pack.flats[mark].layer: view.point(section.centre(mark))[1] for mark in section.leaves}
    left, right = view.point(section.bounds[:2])[0], view.point(section.bounds[2:])[0]
    return tuple(marks), tuple(levels[layer] for layer in sorted(levels)), (left, right)


def _interlocked(scene: Scene, task: Task, room: Room) -> Drawing:
    """The pack from its end, one half grey, a strap round it."""
    marks, levels, (left, right) = _end_on(scene, room.inset(1.5))
    half = (levels[1] - levels[0]) / 2 + 1.1 if len(levels) > 1 else 2.0
    return (*marks, rectangle((left - 1.1, levels[0] - half, right + 1.1, levels[-1] + half), HEAVY))


def _hips(scene: Scene, task: Task, room: Room) -> Drawing:
    """Which layers are joined first, second, third, from the end of the pack."""
    pairs = [(each.values["upper"], each.values["lower"]) for each in tasks(scene.plan) if each.step == "hips"]
    marks, levels, (_, right) = _end_on(scene, room.inset(0.0, 0.5, 7.0, 0.5))
    drawn: list[Mark] = list(marks)
    tall = 2 * (levels[1] - levels[0])
    for number, (upper, lower) in enumerate(pairs, 1):
        high, low = levels[upper - 1], levels[lower - 1]
        drawn.append(Path(((right + 0.8, high), (right + 2.2, high), (right + 2.2, low), (right + 0.8, low)), VISIBLE,
                          closed=False))
        if tall > 4.4:
            drawn += circled((right + 4.8, (high + low) / 2), str(number), scene.kit.lettering, 2.0, FINE_BOLD)
    return tuple(drawn)


def _open(scene: Scene, task: Task, room: Room) -> Drawing:
    return in_room(shown_open(scene.plan, BEFORE), None, room, fine=True)


def _patch(scene: Scene, task: Task, room: Room) -> Drawing:
    """A corner's head from inside, the patch dark; a corner at a door where there is one."""
    doors = task.values["door_corners"]
    patched = {strip.edge for strip in scene.plan.strips if strip.role is Role.PATCH}
    corners = [seam for seam in scene.plan.assembly.seams if f"corner {seam.mark}" in patched]
    wanted = {mark for mark, _ in doors}
    seam = next((seam for seam in corners if seam.mark not in wanted), corners[0])
    return inside_corner(scene.plan, scene.kit, seam, room)


def _strike(scene: Scene, task: Task, room: Room) -> Drawing:
    """The plan: doors folded back first, then an arrow where to press; of a thing without walls of a ring, the pack."""
    plan = scene.plan
    if plan.ring is None:
        return _pack(scene, task, room)
    assembly = plan.assembly
    walls = cut([leaf for pair in walls_in_order(assembly) for leaf in pair], horizontal(plan.geometry.wall_height / 2))
    doors = [swing(assembly, door) for door in assembly.doors]
    tips = [polar(each.pivot, each.radius, each.back) for each in doors]
    arcs = [polar(each.pivot, each.radius, each.shut + part * (each.back - each.shut)) for each in doors
            for part in (0.25, 0.5, 0.75, 1.0)]
    view = over([*(p for ring in walls.values() for p in ring), *arcs], room.inset(5.0, 1.0))
    shut = {each.door for each in doors}
    marks: list[Mark] = [Path(view.points(ring), NARROW if mark in shut else VISIBLE, None if mark in shut else 0.8)
                         for mark, ring in walls.items()]
    for each, tip in zip(doors, tips, strict=True):
        pivot, stop = view.point(each.pivot), each.back - math.copysign(30.0, each.back - each.shut)
        marks += [Line(pivot, view.point(tip), HEAVY),
                  *turn_arrow(pivot, view.length(each.radius), each.shut, stop, NARROW, 2.4)]
    for mark in task.values["press"]:
        first, second = (assembly.by_mark[leaf] for leaf in assembly.seam_by_mark[mark].leaves)
        outer = [view.point(centre_of(leaf, Face.OUTER)[:2]) for leaf in (first, second)]
        inner = view.point(centre_of(first, Face.INNER)[:2])
        x, y = (outer[0][0] + outer[1][0]) / 2, (outer[0][1] + outer[1][1]) / 2
        dx, dy = inner[0] - outer[0][0], inner[1] - outer[0][1]
        away = max((dx**2 + dy**2) ** 0.5, 1e-9)
        marks += arrow((x - 6.0 * dx / away, y - 6.0 * dy / away), (x - 0.6 * dx / away, y - 0.6 * dy / away), VISIBLE, 3.0)
    return tuple(marks)


def _board(scene: Scene, task: Task) -> Board:
    return next(run.first for run in scene.plan.runs if f"mark:{run.first.mark}" == task.key)


def _mended(scene: Scene, task: Task, room: Room) -> Drawing:
    """What a decision on a spoiled part works on: the lines of a leaf cut anew, two leaves that change places, or the
    edge that something is glued to or cut off."""
    one = next(each for each in scene.plan.description.decided if each.number == task.values["number"])
    recut = next((each for each in scene.plan.mended.recuts if each.decision == one.number), None)
    if recut is not None:
        return leaves.board_marked(scene, recut.board, room)
    if one.slot:
        return leaves.exchanged(scene, (one.leaf, one.slot), room)
    edges = scene.plan.piece(one.leaf).edges
    edge = one.edge if one.edge in edges else "hip"
    if one.edge and edge in edges:
        return leaves.bare_edges(scene, ((one.leaf, (edge,)),), room)
    return leaves.in_row(scene, (one.leaf,), room, 0.0)


_PICTURES: dict[str, Drawn] = {
    **dict.fromkeys(("mend_use", "mend_slot", "mend_spare", "mend_cut", "mend_glue", "mend_trim"), _mended),
    "print_check": lambda scene, task, room: leaves.rule_on_bar(scene, room),
    "receive": lambda scene, task, room: leaves.board_read(scene, room),
    "mark": lambda scene, task, room: leaves.board_marked(scene, _board(scene, task), room),
    "cut": lambda scene, task, room: sections.blade(scene.kit, scene.plan.description.boards.tool is Tool.KNIFE, room),
    "first_pieces": lambda scene, task, room: leaves.measured(scene, task.values["some"], room),
    "keep": lambda scene, task, room: leaves.board_held(scene, room),
    "sort": lambda scene, task, room: leaves.labelled(scene, task.marks, room),
    "surface": lambda scene, task, room: sections.peeled(scene.kit, room),
    "splice": lambda scene, task, room: sections.spliced(scene.kit, room),
    "hinge_wall_mid": _hinge, "hinge_gore_mid": _hinge, "hinge_corner": _hinge, "hinge_seam": _hinge, "doubler": _hinge,
    "first_hinge": _flexed,
    "sill": lambda scene, task, room: sections.round_edge(scene.kit, room),
    "door": lambda scene, task, room: leaves.latched(scene, task.marks[0], room),
    "jamb": lambda scene, task, room: leaves.latched(scene, task.marks[0], room),
    "above_door": lambda scene, task, room: leaves.above_door(scene, task.values["roof"], task.values["door"], room),
    "opening": lambda scene, task, room: leaves.opened_up(scene, task.values["leaf"], room),
    "seal_edges": lambda scene, task, room: leaves.bare_edges(scene, task.values["edges"], room),
    "roof": lambda scene, task, room: leaves.gore_on_wall(scene, room),
    "eave_outer": _eave,
    "relief": lambda scene, task, room: sections.slit(scene.kit, room),
    "fold": _fold, "interlock": _interlocked, "hips": _hips, "erect": _open, "hip_flats": _hip_inside, "release": _release,
    "patches": _patch, "strike": _strike}

_HEIGHTS = {
    "print_check": 10.0, "surface": 13.0, "splice": 14.0, "cut": 18.0, "relief": 14.0, "receive": 18.0, "interlock": 28.0,
    "hips": 24.0, "roof": 27.0, "erect": 26.0, "door": 25.0, "jamb": 25.0, "strike": 26.0, "patches": 24.0, "sort": 20.0}
"""Heights of the pictures that need less or gain by more, mm."""
