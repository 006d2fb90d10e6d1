"""What every instruction sheet must say, so that a stranger can do the next step from it alone: what to do, to which
parts, on which face, within which limit, and which sheet comes next.

What that is for a project is worked out here from its leaves, seams, strips, boards and limits, never from the sheet. Faces
are looked up in the packet's language in `templates/es/names.yaml`; what is done, and how a limit is told, stands below in
both languages.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache

import yaml

from packet.assembly.records import Leaf, Seam, SeamKind
from packet.description.decided import Remedy
from packet.description.terms import Face, Language
from packet.drawing.marks import Text
from packet.drawing.page import FinishedSheet, frame_rect
from packet.resources import templates
from packet.tape.strips import Role
from packet.units import System
from packet.work.sheet_numbers import binding_order
from packet.work.tasks import tasks
from tests.packets.figures import NUMBER, Figure, figure
from tests.packets.packet import Packet, content, name_of

FOOT = 18.0
"""mm, a title block is no lower than this."""

ACTIONS: dict[str, dict[str, tuple[str, ...]]] = {
    "marking": {"en": ("Snap", "Check", "Cut"), "es": ("Trace", "Revise", "Corte")},
    "halves": {"en": ("hinge by number",), "es": ("una por número",)},
    "splice": {"en": ("butted tight", "Roll it down"), "es": ("a tope", "Pase el rodillo")},
    "recipe.mid": {"en": ("Roll it down", "Fold shut", "Open flat"), "es": ("Pase el rodillo", "Cierre", "Abra")},
    "recipe.corner": {"en": ("Roll it down", "Fold shut"), "es": ("Pase el rodillo", "Cierre")},
    "recipe.eave": {"en": ("Roll it down", "Fold the roof"), "es": ("Pase el rodillo", "Pliegue el techo")},
    "recipe.hip": {"en": ("Roll it down", "read both marks"), "es": ("Pase el rodillo", "lea las dos marcas")},
    "recipe.seam": {"en": ("Roll it down", "Fold shut"), "es": ("Pase el rodillo", "Cierre")},
    "recipe.release": {"en": ("Hold hip", "pull the tab"), "es": ("Sostenga la limatesa", "jale la lengüeta")},
    "recipe.sill": {"en": ("in one pull", "Roll all three down"), "es": ("un solo tirón", "Pase el rodillo")},
    "relief": {"en": ("cut tape", "Fold every hinge once"), "es": ("corte cinta", "Pliegue cada bisagra una vez")},
    "door": {"en": ("Hinge first", "trim", "Seal with foil"), "es": ("Primero la bisagra", "quite", "Selle con aluminio")},
    "openings": {"en": ("Cut after hinging", "Seal the edges"), "es": ("Corte después de la bisagra", "Selle los cantos")},
    "roof": {"en": ("Lay the walls", "Lay the strip"), "es": ("Extienda las paredes", "Ponga la tira")},
    "fold": {"en": ("Fold shut in this order", "Stop"), "es": ("Cierre en este orden", "Alto")},
    "erect": {"en": ("Strap the pack", "Stop"), "es": ("Amarre el paquete", "Alto")},
    "mending": {"en": ("Snap|Trim|trim|Cut the|Fetch",), "es": ("Trace|[Rr]ecort|Corte|Traiga",)},
}
"""What is done with each instruction sheet in hand, as it is said there (patterns), in both languages."""

NOT = {
    "cover": "a list", "recall": "which pages to collect", "words": "who does what, and words", "crew": "times",
    "cautions": "dangers of all stations", "arrangement": "how it looks when done", "checklist": "sends to the sheets",
    "added": "sends to the sheets", "set_holds": "readings at hold points of the checklist", "order": "to buy from",
    "alternates": "to buy from", "strips": "a list of what is cut off rolls, before any leaf", "cuts": "sums",
    "receiving": "boards as they came, before there is any part", "parts": "a card to look up a leaf",
    "gauges": "cut out and used as a tool", "labels": "cut out and stuck on", "weather": "whether to tape at all",
    "carry": "how many lift, whatever it is", "inspection": "readings of the whole, as it stands",
    "set_up": "for those who use it, by letters on a picture", "strike": "for those who use it, by letters on a picture",
    "site": "the ground round it", "wind": "loads", "air": "what those inside need", "keep": "care in later years",
    **{f"tent.{letter}": "names a table" for letter in "PCHERJXL"},
    **{f"passing.{letter}": "what a table gets and hands on" for letter in "PCHERJXL"},
}
"""Sheets that are no instruction for a step of the work, and what they are instead."""

# How a limit is told, before its figure and behind it.
BEFORE = {"en": r"within|over|at most|up to|off by more than|no more than|shorter than|level within",
          "es": r"dentro de|con|margen|más de|hasta|a lo más|extremos a|bordes a|a ras \("}
BEHIND = {"en": r"(?:in |mm )?off at most|at most", "es": r"(?:in |mm )?de (?:margen|error)|(?:in |mm )?de grosor como máximo"}


@dataclass(frozen=True, slots=True)
class Demand:
    """What one instruction sheet must say: the sheet's name; words that must be there (marks); faces; bounds, of each of
    which one of the values is told as a limit, and sizes that are told (mm)."""

    sheet: str
    marks: tuple[str, ...]
    faces: frozenset[Face]
    limits: tuple[tuple[float, ...], ...]
    sizes: tuple[float, ...] = ()


BOTH = frozenset(Face)


def demands(packet: Packet) -> Iterator[Demand]:
    """Of every instruction sheet that the project needs."""
    plan = packet.plan
    limits, assembly = plan.description.limits, plan.assembly
    cut, mark, diagonal = (limits.cut,), (limits.mark,), (limits.diagonal,)
    printed = frozenset({plan.description.boards.printed_face})
    for board in plan.boards:
        pieces = tuple(dict.fromkeys(piece.leaf for piece in board.pieces))
        yield Demand("marking", pieces, printed, (mark, diagonal) if board.cuts else (),
                     (math.hypot(board.stock.length, board.stock.breadth),))
    closing = frozenset(seam.closing_face for seam in assembly.bonded())
    for half in assembly.halves:
        marks = tuple(leaf.mark for leaf in assembly.leaves if leaf.half == half)
        yield Demand("halves", marks, closing, (mark,))
    spliced = tuple(part for leaf in assembly.leaves for splice in leaf.splices for part in splice.parts)
    if spliced:
        yield Demand("splice", spliced, BOTH, (cut, diagonal))
    yield from _recipes(packet)
    slit = tuple(dict.fromkeys(leaf for one in plan.relief for leaf in one.between))
    if slit:
        faces = frozenset(one.face for one in plan.relief)
        yield Demand("relief", slit, faces, (cut,), tuple({round(one.length, 3) for one in plan.relief}))
    yield from _doors(packet)
    opened = [leaf for leaf in assembly.leaves if leaf.openings]
    if opened:
        sizes = tuple(size for leaf in opened for o in leaf.openings for size in (o.width, o.height))
        yield Demand("openings", _marks(opened), frozenset(leaf.marked_face for leaf in opened), (cut,), sizes)
    yield from _whole(packet)
    for decision in plan.description.decided:
        # A leaf that is cut anew lies printed face up like any other; one that is mended keeps the face it is marked on.
        new = decision.remedy in (Remedy.BLANK, Remedy.BOARD)
        yield Demand("mending", (decision.leaf,), frozenset(), (mark,) if new else (),
                     tuple(size for size in (decision.gap, decision.amount) if size))


def _marks(things: Iterable[Leaf | Seam]) -> tuple[str, ...]:
    return tuple(thing.mark for thing in things)


def _recipes(packet: Packet) -> Iterator[Demand]:
    """A recipe for each kind of a ring's hinges, and for each class of listed ones; the sill; the hip that comes apart."""
    plan = packet.plan
    cut, t = (plan.description.limits.cut,), plan.assembly.thickness
    kinds = {"recipe.mid": (SeamKind.WALL_MID, SeamKind.GORE_MID), "recipe.corner": (SeamKind.CORNER,),
             "recipe.eave": (SeamKind.EAVE,), "recipe.hip": (SeamKind.HIP,)}
    alike: dict[tuple[str, Face, float, bool], list[Seam]] = defaultdict(list)
    for seam in plan.assembly.bonded():
        name = next((name for name, some in kinds.items() if seam.kind in some), "recipe.seam")
        listed = (seam.closing_face, round(seam.angle_open, 1), seam.angle_packed == 0.0)
        alike[(name, *(listed if name == "recipe.seam" else (seam.closing_face, 0.0, True)))].append(seam)
    for (name, *_), seams in alike.items():
        gap = 2 * t * math.sin(math.radians(180 - seams[0].angle_open) / 2)
        yield Demand(name, _marks(seams), BOTH, (cut,), (gap,) if gap > 1.0 else ())
    sills = [strip for strip in plan.strips if strip.role is Role.SILL]
    if sills:
        slits = tuple({round(one.length, 3) for one in plan.relief if one.strip in {strip.mark for strip in sills}})
        yield Demand("recipe.sill", tuple(leaf for strip in sills for leaf in strip.leaves), BOTH, (cut,), slits)
    for seam in plan.assembly.seams:
        if seam.removable:
            gap = 2 * t * math.sin(math.radians(180 - seam.angle_open) / 2)
            yield Demand("recipe.release", (seam.mark,), BOTH, (cut,), (gap, seam.length))


def _doors(packet: Packet) -> Iterator[Demand]:
    assembly, doors = packet.plan.assembly, packet.plan.description.doors
    if assembly.doors and doors:
        found = [*assembly.doors, *map(assembly.jamb_of, assembly.doors), *map(assembly.above, assembly.doors)]
        holes = [hole.diameter for leaf in assembly.doors for hole in leaf.holes]
        yield Demand("door", _marks(found), BOTH, ((packet.plan.description.limits.cut,),),
                     (doors.bottom_trim, doors.latch_below_head, *holes))


def _whole(packet: Packet) -> Iterator[Demand]:
    """Roof to walls, folding, erecting."""
    plan = packet.plan
    assembly, limits, ring = plan.assembly, plan.description.limits, plan.ring
    eaves = assembly.bonded(SeamKind.EAVE)
    if eaves:
        first = [leaf for leaf in assembly.leaves if leaf.half == assembly.halves[0]]  # the other is said to be alike
        yield Demand("roof", _marks(first), frozenset({eaves[0].closing_face}), ((limits.mark,),))
    folding = [seam for seam in assembly.bonded() if seam.angle_packed == 0.0]
    first_half = [seam for seam in folding if seam.kind not in (SeamKind.GORE_MID, SeamKind.HIP, SeamKind.EAVE)
                  and all(assembly.by_mark[leaf].half == assembly.halves[0] for leaf in seam.leaves)]
    walls = [leaf for leaf in assembly.leaves if ring is None or leaf.kind == "wall"]
    stack = len({plan.pack.flats[leaf.mark].layer for leaf in assembly.leaves
                 if leaf.half == assembly.halves[0]}) * assembly.thickness
    most = tuple(stack + bulk for bulk in (plan.bulk.most, plan.bulk.along))
    yield Demand("fold", (*_marks(first_half), *_marks(walls)), frozenset(seam.closing_face for seam in first_half),
                 (most,), (stack,))
    packed = (assembly.thickness * plan.pack.layers + plan.bulk.most,)
    if ring is None:
        points = [leaf.open_pose.place(p, depth) for leaf in assembly.leaves for p in leaf.outline
                  for depth in (0.0, leaf.thickness)]
        spans = tuple(max(p[axis] for p in points) - min(p[axis] for p in points) for axis in range(3))
        faces = frozenset(seam.closing_face for seam in assembly.bonded())
        yield Demand("erect", _marks(assembly.bonded()), faces, (packed, tuple(limits.cut * n for n in range(1, 13))), spans)
    else:
        turn = math.pi / ring.walls
        apothem = ring.leaf_width / math.tan(turn)
        rise = math.sqrt(ring.slant**2 - apothem**2)
        # d rise / d w = -a cot(pi/n) / rise and d rise / d L = L / rise, each by a cut that is off, and the wall's height.
        peak = limits.cut * (apothem / math.tan(turn) / rise + ring.slant / rise + 1)
        across = limits.cut * (1 / math.tan(turn) + (1 / math.sin(turn) if ring.walls % 2 else 1 / math.tan(turn)))
        removable = [seam for seam in assembly.seams if seam.removable]
        yield Demand("erect", (*_marks(assembly.doors), *_marks(removable)), BOTH, (packed, (peak,), (across,)),
                     (2 * apothem,) if ring.walls % 2 == 0 else ())


# --- reading the sheets --------------------------------------------------------------------------------


@dataclass(slots=True)
class Told:
    """An instruction sheet as it is printed: its pages, and their words above the title blocks."""

    name: str
    pages: list[FinishedSheet] = field(default_factory=list)

    @property
    def text(self) -> str:
        return " ".join(word for sheet in self.pages for word in _above_the_title_block(sheet))


def told(packet: Packet) -> list[Told]:
    """The instruction sheets of a packet. Recipes of listed seams count on, so that their pages belong together by the name
    before the colon; a page that speaks of several of them belongs to all."""
    found: dict[tuple[str, object], Told] = {}
    for sheet in packet.sheets:
        name = name_of(sheet)
        if name in ACTIONS:
            key: object = sheet.title.partition(":")[0] if name == "recipe.seam" else binding_order(sheet.number)[:2]
            if sheet.title == packet.kit.words.text("recipes.title_strips"):
                key = next(reversed(found))[1]  # how the strips of the recipes before are made up
            found.setdefault((name, key), Told(name)).pages.append(sheet)
    return [*found.values()]


def _above_the_title_block(sheet: FinishedSheet) -> Iterator[str]:
    """Header and drawing: the title block gives no instruction."""
    for mark in sheet.marks:
        if isinstance(mark, Text) and (sheet.window or mark.at[1] > frame_rect(sheet.paper)[1] + FOOT):
            yield " ".join(mark.string.split())


def unsaid(packet: Packet) -> Iterator[str]:
    """Instruction sheets that are not there or leave something out; sheets of which it is not known what they are."""
    for sheet in packet.sheets:
        if name_of(sheet) not in ACTIONS.keys() | NOT.keys():
            yield f"{sheet.number}: it is not known whether sheet {name_of(sheet)!r} is an instruction"
    sheets = told(packet)
    for demand in demands(packet):
        of_name = [each for each in sheets if each.name == demand.sheet]
        if not of_name:
            yield f"no sheet {demand.sheet} for {', '.join(demand.marks)}"
            continue
        # Of several with one name the one that is meant names most of the parts.
        meant = max(of_name, key=lambda each: sum(mark in _words(each.text) for mark in demand.marks))
        yield from (f"{meant.pages[0].number} {meant.pages[0].title}: {fault}" for fault in _left_out(packet, meant, demand))
    language = packet.plan.description.language
    for each in sheets:
        where = f"{each.pages[0].number} {each.pages[0].title}"
        text = each.text
        yield from (f"{where}: no action, {verb!r}" for verb in ACTIONS[each.name][language] if not re.search(verb, text))
        yield from (f"{where}: {fault}" for fault in _follows(packet, each))


def _words(text: str) -> set[str]:
    """Words and marks; of what is joined also its sides: `A1/A2` names both."""
    found = {word.strip(".,;:()") for word in re.split(r"[\s,;+]+", text)}
    return found | {side for word in found for side in word.split("/")}


def _left_out(packet: Packet, sheet: Told, demand: Demand) -> Iterator[str]:
    text, language, system = sheet.text, packet.plan.description.language, packet.kit.system
    words = _words(text)
    missing = [mark for mark in demand.marks if mark not in words and mark not in text]
    if missing:
        yield f"no part {', '.join(missing)}"
    yield from (f"no face, {face}" for face in sorted(demand.faces) if not re.search(_face(face, language), text, re.I))
    bounds = [*_bounds(text, language, system)]
    for values in demand.limits:
        if not any(bound.is_(value) for bound in bounds for value in values):
            yield f"no limit, {' or '.join(f'{value:.2f}' for value in values)} mm"
    figures = [*_figures(re.findall(rf"(?<![\w./-]){NUMBER}(?![\w/]|-\d)", _plain(text)), system)]
    yield from (f"no size, {size:.2f} mm" for size in demand.sizes if not any(one.is_(size) for one in figures))


@cache
def _face(face: Face, language: Language) -> str:
    """The word for a face, as a pattern; also in the plural."""
    word = str(face)
    if language != "en":
        names = yaml.safe_load((templates() / str(language) / "names.yaml").read_text(encoding="utf-8"))
        word = names[word]
    return rf"\b{word}(es)?\b"


def _plain(text: str) -> str:
    """With a point before decimals, and blanks that break."""
    return re.sub(r"(?<=\d),(?=\d)", ".", text.replace("\u00a0", " "))


def _bounds(text: str, language: Language, system: System) -> Iterator[Figure]:
    """The figures that are told as limits."""
    text = _plain(text)
    before = re.findall(rf"(?:{BEFORE[language]}) ?({NUMBER})", text, re.I)
    yield from _figures((*before, *re.findall(rf"({NUMBER}) (?:{BEHIND[language]})", text)), system)


def _figures(found: Iterable[str], system: System) -> Iterator[Figure]:
    return (figure(text, system) for text in found)


def _follows(packet: Packet, sheet: Told) -> Iterator[str]:
    """Every page names the next one of its sheet, and the last the next sheet that a task asks for."""
    asked = {number for task in tasks(packet.plan) for number in task.sheets}
    done = packet.kit.words.name("done")
    numbers = {each.number for each in packet.sheets}
    for page, after in zip(sheet.pages, [*sheet.pages[1:], None], strict=True):
        later = sorted((number for number in asked if binding_order(number)[:2] > binding_order(page.number)[:2]),
                       key=binding_order)
        wanted = {after.number} if after else {later[0] if later else done}
        if sheet.name == "recipe.seam":  # the next page of its series, whichever class it belongs to
            wanted.add(later[0] if later else done)
        said = _then(packet, page)
        if said not in wanted:
            yield f"{page.number} is followed by {said}, not {' or '.join(sorted(wanted))}"
        elif said != done and said not in numbers:
            yield f"the packet has no sheet {said} to follow"


def _then(packet: Packet, sheet: FinishedSheet) -> str:
    """What the title block names as the sheet that is taken up next."""
    strings = [mark.string for mark in sheet.marks[len(content(sheet)):] if isinstance(mark, Text)]
    return strings[strings.index(packet.kit.words.name("Then")) + 1]
