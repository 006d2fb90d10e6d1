"""Tasks at the hinge table: the surface, and every hinge made on the flat half (station H)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from packet.assembly.records import Seam, SeamKind
from packet.assembly.splicing import parts_of
from packet.plan import Plan
from packet.tape.relief import ReliefCut
from packet.tape.strips import Role, Strip
from packet.work.recipe_sheets import recipe_sheet
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import Task

_NAMED = (
    (SeamKind.WALL_MID, "hinge_wall_mid", "recipe.mid"),
    (SeamKind.CORNER, "hinge_corner", "recipe.corner"),
    (SeamKind.GORE_MID, "hinge_gore_mid", "recipe.mid"),
)
"""Hinges made on the flat half, in the order of the work; eaves and hips have tasks of their own."""


@dataclass(frozen=True, slots=True)
class HingeClass:
    """Seams made alike: `step` names their words, `sheet` is the number of their recipe, `name` the class in keys."""

    step: str
    sheet: str
    name: str
    seams: tuple[Seam, ...]


def hinge_classes(plan: Plan) -> tuple[HingeClass, ...]:
    """Bonded seams hinged on the table, by kind; those of no named kind by the recipe that serves them."""
    found = [HingeClass(step, sheet_number(sheet), str(kind), plan.assembly.bonded(kind)) for kind, step, sheet in _NAMED]
    alike: dict[str, list[Seam]] = {}
    for seam in plan.assembly.bonded(SeamKind.SEAM):
        alike.setdefault(recipe_sheet(plan.assembly, seam), []).append(seam)
    found += [HingeClass("hinge_seam", sheet, seams[0].mark, tuple(seams)) for sheet, seams in alike.items()]
    return tuple(each for each in found if each.seams)


def hinging_tasks(plan: Plan) -> Iterator[Task]:
    """The surface, then every hinge made on the table, class by class."""
    classes = hinge_classes(plan)
    recipes = tuple(dict.fromkeys(each.sheet for each in classes))
    spliced = [half for half in plan.assembly.halves if splice_keys(plan, half)]
    first = (sheet_number("splice"),) if spliced else recipes[:1]
    yield Task("surface", Station.H, (), first, ("keep", "receive"))
    for half in spliced:
        yield _splice(plan, half)
    for each in classes:
        yield from _hinges(plan, each)


def splice_keys(plan: Plan, half: str) -> tuple[str, ...]:
    """Key of the task that joins the parts of leaves of a half; none where all its leaves are whole."""
    made = any(leaf.splices for leaf in plan.assembly.leaves if leaf.half == half)
    return (f"splice:{half}",) if made else ()


def _splice(plan: Plan, half: str) -> Task:
    """Leaves made whole before anything is hinged to them."""
    leaves = [leaf for leaf in plan.assembly.leaves if leaf.half == half and leaf.splices]
    marks = tuple(leaf.mark for leaf in leaves)
    joints = tuple((leaf.mark, " + ".join(part.mark for part in parts_of(leaf))) for leaf in leaves)
    laid = [strip for strip in plan.strips if strip.role is Role.SPLICE and strip.leaves[0] in marks]
    return Task(f"splice:{half}", Station.H, marks, (sheet_number("splice"),), (f"sort:{half}", "surface"),
                {"half": half, "joints": joints, "count": sum(len(leaf.splices) for leaf in leaves)},
                strips=with_foil(plan, laid))


def with_foil(plan: Plan, laid: Iterable[Strip]) -> tuple[str, ...]:
    """Marks of these strips, each followed by the foil that covers it, where it has one."""
    foils = {strip.mark for strip in plan.strips if strip.role is Role.FOIL}
    found: list[str] = []
    for strip in laid:
        found.append(strip.mark)
        cover = f"foil over {strip.mark}"
        if cover in foils:
            found.append(cover)
    return tuple(found)


def of_seams(plan: Plan, seams: Iterable[Seam], *roles: Role) -> tuple[Strip, ...]:
    """The strips of these roles over these seams."""
    marks = {seam.mark for seam in seams}
    return tuple(strip for strip in plan.strips if strip.role in roles and strip.seam in marks)


def leaves_of(seams: Iterable[Seam]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(mark for seam in seams for mark in seam.leaves))


def in_half(plan: Plan, half: str, *kinds: SeamKind) -> tuple[Seam, ...]:
    """Bonded seams with both leaves in this half."""
    by_mark = plan.assembly.by_mark
    return tuple(seam for seam in plan.assembly.bonded(*kinds)
                 if all(by_mark[mark].half == half for mark in seam.leaves))


def slit_counts(cuts: Iterable[ReliefCut]) -> tuple[tuple[int, float], ...]:
    """How many slits there are of each length (mm), shortest first."""
    lengths = [round(cut.length, 6) for cut in cuts]
    return tuple((lengths.count(length), length) for length in sorted(set(lengths)))


def relief_on(plan: Plan, strips: Iterable[str]) -> tuple[ReliefCut, ...]:
    """The slits in the strips of these marks."""
    marks = set(strips)
    return tuple(cut for cut in plan.relief if cut.strip in marks)


def _hinges(plan: Plan, made: HingeClass) -> Iterator[Task]:
    """The first seam of a class alone, held until it is right; then the rest, half by half."""
    first = made.seams[0]
    for half in plan.assembly.halves:
        inside = {seam.mark for seam in in_half(plan, half)}
        seams = tuple(seam for seam in made.seams if seam.mark in inside)
        before = [f"sort:{half}", "surface", *splice_keys(plan, half)]
        if seams and seams[0].kind is SeamKind.CORNER:
            before += hinge_keys(plan, half, SeamKind.WALL_MID)
        if first in seams:
            yield _hinge(plan, made, first.mark, (first,), tuple(before))
            yield Task(f"first_hinge:{made.name}", Station.H, first.leaves, (made.sheet,),
                       (f"{made.step}:{first.mark}",),
                       {"kind": str(first.kind), "seam": first.mark, "closing": str(first.closing_face)}, hold=True)
        rest = tuple(seam for seam in seams if seam is not first)
        if rest:
            yield _hinge(plan, made, _rest(made, half), rest, (*before, f"first_hinge:{made.name}"))


def _rest(made: HingeClass, half: str) -> str:
    """What a task on the rest of a class is about; classes of one step are told apart by their first seam."""
    return half if made.step != "hinge_seam" else f"{half} like {made.name}"


def _hinge(plan: Plan, made: HingeClass, what: str, seams: tuple[Seam, ...], after: tuple[str, ...]) -> Task:
    laid = with_foil(plan, of_seams(plan, seams, Role.FLAT, Role.WRAP))
    cuts = relief_on(plan, laid)
    return Task(f"{made.step}:{what}", Station.H, leaves_of(seams),
                (made.sheet, *((sheet_number("relief"),) if cuts else ())), after,
                {"seams": tuple(seam.mark for seam in seams), "closing": str(seams[0].closing_face),
                 "opening": str(seams[0].opening_face), "slits": slit_counts(cuts)}, strips=laid)


def hinge_keys(plan: Plan, half: str, *kinds: SeamKind) -> tuple[str, ...]:
    """Keys of the tasks that hinge the seams of these kinds, or of all, in a half on the table."""
    keys: list[str] = []
    inside = {seam.mark for seam in in_half(plan, half)}
    for made in hinge_classes(plan):
        seams = [seam for seam in made.seams if seam.mark in inside]
        if kinds and made.seams[0].kind not in kinds:
            continue
        if made.seams[0] in seams:
            keys.append(f"first_hinge:{made.name}")
        if any(seam is not made.seams[0] for seam in seams):
            keys.append(f"{made.step}:{_rest(made, half)}")
    return tuple(keys)
