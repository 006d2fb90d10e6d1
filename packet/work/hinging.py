"""Tasks on one half lying on the table: seams, sill, doors, roof (stations H, E, R)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from packet.assembly.records import Leaf, Seam, SeamKind
from packet.boards.records import CutKind
from packet.plan import Plan
from packet.tape.relief import ReliefCut
from packet.tape.strips import Role, Strip
from packet.work.bench import cut_keys
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station
from packet.work.task import CutKey, Task

_SEAMS = (
    (SeamKind.WALL_MID, "hinge_wall_mid", "recipe.mid"),
    (SeamKind.CORNER, "hinge_corner", "recipe.corner"),
    (SeamKind.GORE_MID, "hinge_gore_mid", "recipe.mid"),
)


def half_tasks(plan: Plan) -> Iterator[Task]:
    """From the first strip to two halves with their roofs on."""
    yield Task("surface", Station.H, (), (sheet_number("recipe.mid"),), ("keep", "receive"))
    for kind, step, sheet in _SEAMS:
        yield from _hinges(plan, kind, step, sheet)
    for half in plan.assembly.halves:
        yield from _sills(plan, half)
    for finish in (_door, _jamb, _above_door):
        yield from (finish(plan, door) for door in plan.assembly.doors)
    for half in plan.assembly.halves:
        yield _roof(plan, half)
        yield _eave_outer(plan, half)
        yield _relief_hold(plan, half)


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


def relief_on(plan: Plan, laid: Iterable[Strip]) -> tuple[ReliefCut, ...]:
    marks = {strip.mark for strip in laid}
    return tuple(cut for cut in plan.relief if cut.strip in marks)


def _hinges(plan: Plan, kind: SeamKind, step: str, sheet: str) -> Iterator[Task]:
    """The first seam of a kind alone, held until it is right; then the rest, half by half."""
    first: Seam | None = None
    for half in plan.assembly.halves:
        seams = in_half(plan, half, kind)
        if not seams:
            continue
        before = [f"sort:{half}", "surface"]
        if kind is SeamKind.CORNER:
            before += _hinge_keys(plan, half, SeamKind.WALL_MID)
        if first is None:
            first = seams[0]
            yield _hinge(plan, step, sheet, first.mark, (first,), tuple(before))
            yield Task(f"first_hinge:{kind}", Station.H, first.leaves, (sheet_number(sheet),),
                       (f"{step}:{first.mark}",), {"kind": str(kind), "seam": first.mark,
                                                   "closing": str(first.closing_face)}, hold=True)
        rest = tuple(seam for seam in seams if seam is not first)
        if rest:
            yield _hinge(plan, step, sheet, half, rest, (*before, f"first_hinge:{kind}"))


def _hinge(plan: Plan, step: str, sheet: str, what: str, seams: tuple[Seam, ...], after: tuple[str, ...]) -> Task:
    return Task(f"{step}:{what}", Station.H, leaves_of(seams), (sheet_number(sheet),), after,
                {"seams": tuple(seam.mark for seam in seams)},
                strips=with_foil(plan, of_seams(plan, seams, Role.FLAT, Role.WRAP)))


def _hinge_keys(plan: Plan, half: str, *kinds: SeamKind) -> tuple[str, ...]:
    """Keys of the tasks that hinge the seams of these kinds in a half."""
    keys: list[str] = []
    for kind, step, _ in _SEAMS:
        bonded = plan.assembly.bonded(kind)
        if kind not in kinds or not bonded:
            continue
        seams = in_half(plan, half, kind)
        if bonded[0] in seams:
            keys.append(f"first_hinge:{kind}")
        if any(seam is not bonded[0] for seam in seams):
            keys.append(f"{step}:{half}")
    return tuple(keys)


def _sills(plan: Plan, half: str) -> Iterator[Task]:
    by_mark = plan.assembly.by_mark
    doors = tuple(door.mark for door in plan.assembly.doors if door.half == half)
    for strip in plan.strips:
        if strip.role is not Role.SILL or by_mark[strip.leaves[0]].half != half:
            continue
        cuts = relief_on(plan, (strip,))
        yield Task(
            f"sill:{strip.leaves[0]}-{strip.leaves[-1]}", Station.E, strip.leaves,
            (sheet_number("recipe.sill"), sheet_number("relief")),
            _hinge_keys(plan, half, SeamKind.WALL_MID, SeamKind.CORNER),
            {"half": half, "doors": doors, "slits": slit_counts(cuts)},
            strips=with_foil(plan, (strip,)), relief=cuts)


def _sill_keys(plan: Plan, half: str) -> tuple[str, ...]:
    return tuple(task.key for task in _sills(plan, half))


def _seals(plan: Plan, leaf: Leaf) -> tuple[str, ...]:
    """Seal strips of a leaf, its cut tip aside: that is sealed in the erected shelter."""
    return tuple(strip.mark for strip in plan.strips
                 if strip.role is Role.SEAL and strip.leaves == (leaf.mark,) and strip.edge != f"{leaf.mark} tip")


def _door(plan: Plan, door: Leaf) -> Task:
    trims: tuple[CutKey, ...] = tuple(
        (board.mark, cut.number) for board in plan.boards for cut in board.cuts
        if cut.kind is CutKind.DOOR and door.mark in cut.leaves)
    return Task(
        f"door:{door.mark}", Station.E, (door.mark,), (sheet_number("door"),),
        (*_hinge_keys(plan, door.half, SeamKind.WALL_MID), *cut_keys(plan)), {"door": door.mark},
        strips=_seals(plan, door), cuts=trims)


def _jamb(plan: Plan, door: Leaf) -> Task:
    jamb = plan.assembly.jamb_of(door)
    return Task(
        f"jamb:{jamb.mark}", Station.E, (jamb.mark,), (sheet_number("door"),),
        _hinge_keys(plan, jamb.half, SeamKind.WALL_MID), {"jamb": jamb.mark, "door": door.mark},
        strips=_seals(plan, jamb))


def _above_door(plan: Plan, door: Leaf) -> Task:
    roof = plan.assembly.above(door)
    return Task(
        f"above_door:{roof.mark}", Station.R, (roof.mark,), (sheet_number("roof"),),
        _hinge_keys(plan, roof.half, SeamKind.GORE_MID), {"roof": roof.mark, "door": door.mark},
        strips=_seals(plan, roof))


def _roof(plan: Plan, half: str) -> Task:
    doors = tuple(door for door in plan.assembly.doors if door.half == half)
    jambs = tuple(plan.assembly.jamb_of(door) for door in plan.assembly.doors)
    eaves = in_half(plan, half, SeamKind.EAVE)
    flats = of_seams(plan, eaves, Role.FLAT)
    cuts = relief_on(plan, flats)
    after = (
        *_hinge_keys(plan, half, SeamKind.WALL_MID, SeamKind.CORNER, SeamKind.GORE_MID), *_sill_keys(plan, half),
        *(f"door:{door.mark}" for door in doors), *(f"jamb:{leaf.mark}" for leaf in jambs if leaf.half == half),
        *(f"above_door:{plan.assembly.above(door).mark}" for door in doors),
    )
    return Task(
        f"roof:{half}", Station.R, leaves_of(eaves), (sheet_number("roof"), sheet_number("relief")), after,
        {"half": half, "doors": tuple(door.mark for door in doors), "slits": slit_counts(cuts)},
        strips=tuple(strip.mark for strip in flats), relief=cuts)


def _eave_outer(plan: Plan, half: str) -> Task:
    eaves = in_half(plan, half, SeamKind.EAVE)
    wraps = of_seams(plan, eaves, Role.WRAP)
    cuts = relief_on(plan, wraps)
    return Task(
        f"eave_outer:{half}", Station.R, leaves_of(eaves), (sheet_number("recipe.eave"), sheet_number("relief")),
        (f"roof:{half}",), {"half": half, "slits": slit_counts(cuts)},
        strips=with_foil(plan, wraps), relief=cuts)


def _relief_hold(plan: Plan, half: str) -> Task:
    """Every slit of a half, counted before anything is folded."""
    by_mark = plan.assembly.by_mark
    cuts = [cut for cut in plan.relief if by_mark[cut.between[0]].half == half]
    faces = {strip.mark: strip.faces for strip in plan.strips}
    where: dict[str, list[ReliefCut]] = {}
    for cut in cuts:
        side = "" if len(faces[cut.strip]) > 1 else f" {faces[cut.strip][0]}"
        where.setdefault(f"{cut.along}{side}", []).append(cut)
    groups = tuple((name, slit_counts(found)) for name, found in where.items())
    return Task(
        f"relief:{half}", Station.R, tuple(dict.fromkeys(mark for cut in cuts for mark in cut.between)),
        (sheet_number("relief"),), (f"eave_outer:{half}",),
        {"half": half, "groups": groups, "total": len(cuts)}, hold=True)
