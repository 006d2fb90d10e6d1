"""Splices: how the parts of a leaf larger than a board are joined, with the joint cut across at full size."""

from __future__ import annotations

from functools import partial
from typing import Any

from packet.assembly.records import Leaf, Point
from packet.assembly.splicing import parts_of, splice_places
from packet.description.terms import Face
from packet.drawing.dimension import linear
from packet.drawing.flow import Block, paragraph, stack, steps
from packet.drawing.lettering import BODY, LARGE, NUMBER, Style
from packet.drawing.marks import Drawing, Line, Mark, Path, Text, Viewport, bounds, shift
from packet.drawing.page import Sheet
from packet.drawing.pens import HEAVY, VISIBLE
from packet.drawing.room import LayoutError
from packet.drawing.view import Scale, View, series
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.panels import Page, Panel, Picture, headed, pages, ticked
from packet.sheets.section_view import THICK, SectionView, callout
from packet.sheets.tapes import Tape, tape_of
from packet.tape.section import hinge_section
from packet.tape.strips import Role
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

BEYOND = (14.0, 9.0, 5.0)
"""mm of paper of board drawn beyond the foil, as much as fits."""
OFF = 9.0
"""mm from a face to its dimension line: clear of the strips."""
LEAST = 74.0
"""mm of width that a column of words needs."""
TALL = 62.0
"""mm on paper of the longer side of a leaf that is shown with its parts."""
APART = 8.0
"""mm between leaves shown side by side."""
MOST_PAGES = 3
"""One for each face, one for the checks."""


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Nothing where all leaves are whole."""
    leaves = [leaf for leaf in plan.assembly.leaves if leaf.splices]
    if not leaves:
        return ()
    values = _values(plan)
    scale, laid = _laid(plan, kit, leaves, values)
    # The sections of both faces, then the leaves.
    views = iter(((scale, "section"), (scale, "section"), (_leaf_scale(kit, leaves), "leaves")))
    return tuple(_sheet(kit, number, page, [next(views) for _ in page.views]) for number, page in enumerate(laid, 1))


def _sheet(kit: Kit, number: int, page: Page, views: list[tuple[Scale, str]]) -> Sheet:
    text = kit.words.text
    return Sheet(
        number=sheet_number("splice", number), title=text("splice.title"), subtitle=text("splice.subtitle"),
        station=Station.H.word, kind=text("splice.kind"), marks=page.marks,
        scale_label=", ".join(dict.fromkeys(scale.label for scale, _ in views)),
        viewports=tuple(Viewport(rect, scale.ratio, name) for rect, (scale, name) in zip(page.views, views, strict=True)))


def _laid(plan: Plan, kit: Kit, leaves: list[Leaf], values: dict[str, Any]) -> tuple[Scale, tuple[Page, ...]]:
    """The largest scale that needs no more pages than there may be, full size first; the most legible with the fewest."""
    whole = _leaves(kit, leaves)
    for scale in series(kit.system):
        found: list[tuple[Page, ...]] = []
        for style in (LARGE, BODY):
            for beyond in BEYOND:
                inner, outer = (_picture(plan, kit, scale, beyond, values, face) for face in (Face.INNER, Face.OUTER))
                count = len(kit.words.texts("splice.inner", **values))
                panels = [
                    Panel(inner, partial(_steps, kit, values, "inner", 1, style), LEAST),
                    Panel(outer, partial(_steps, kit, values, "outer", count + 1, style), LEAST),
                    Panel(whole, partial(_words, kit, leaves, values), LEAST)]
                try:
                    found.append(pages(panels, kit.room))
                except LayoutError:
                    continue
        if found and len(fewest := min(found, key=len)) <= MOST_PAGES:
            return scale, fewest
    raise LayoutError("the recipe of the splices does not fit this paper at any scale")


def _values(plan: Plan) -> dict[str, Any]:
    inner, outer, foil = (next(strip for strip in plan.strips if strip.edge and strip.edge.startswith("splice ")
                               and strip.role is role and strip.faces == (face,))
                          for role, face in ((Role.SPLICE, Face.INNER), (Role.SPLICE, Face.OUTER), (Role.FOIL, Face.OUTER)))
    limits = plan.description.limits
    return {"splice": tape_of(inner, plan.form), "other": tape_of(outer, plan.form), "foil": tape_of(foil, plan.form),
            "limit": limits.cut, "diagonal": limits.diagonal, "surface": sheet_number("weather")}


def _picture(plan: Plan, kit: Kit, scale: Scale, beyond: float, values: dict[str, Any], up: Face) -> Picture:
    """The joint cut across, this face up: its strip, and on the outer face its foil and the strip already laid below."""
    thick = plan.assembly.thickness / scale.ratio
    strip: Tape = values["splice"]
    roll, foil = strip.on_paper(scale), values["foil"].on_paper(scale)
    land, reach = roll.width / 2, max(roll.width, foil.width) / 2 + beyond
    names = tuple(kit.words.entry("splice.parts"))
    view = SectionView(hinge_section(thick, 180.0, reach).rotated(180.0), up, names, kit.lettering, kit.words)
    marks: Drawing = view.boards() + view.flat(roll)
    figure = kit.form.length(strip.land)
    for sign in (-1.0, 1.0):
        marks += view.measure((0.0, 0.0), (sign * land, 0.0), (0.0, 1.0), OFF, figure)
    inner = len(kit.words.texts("splice.inner", **values))
    top = OFF + 9.0
    if up is Face.INNER:
        marks += callout((-land * 0.85, 1.0), (-reach, top + 4.0), str(inner), kit.words.text("splice.strip", **values),
                         kit.lettering)
    else:
        below = -thick - 0.3
        for (start, stop), low in zip(roll.spans, (below, below - 1.6) * len(roll.spans), strict=False):
            marks += (Path(((start, low - THICK), (stop, low - THICK), (stop, low), (start, low)), None, 0.0),)
        marks += view.flat(foil, base=4.0)
        # The foil is named above the strip, so that no leader crosses its words.
        marks += callout((-land * 0.85, 1.0), (-reach, top + 4.0), str(inner + 2), kit.words.text("splice.strip", **values),
                         kit.lettering)
        marks += callout((land * 0.75, 6.0), (land * 0.7, top + 16.0), str(inner + 3), kit.words.text("splice.foil", **values),
                         kit.lettering)
    return Picture.of(marks, kit.lettering, (-reach, -thick, reach, 0.0))


def _leaf_scale(kit: Kit, leaves: list[Leaf]) -> Scale:
    """The largest of the series at which no spliced leaf is longer than TALL."""
    longest = max(max(axis) - min(axis) for leaf in leaves for axis in zip(*leaf.outline, strict=True))
    return next(scale for scale in series(kit.system) if longest / scale.ratio <= TALL)


def _leaves(kit: Kit, leaves: list[Leaf]) -> Picture:
    """One leaf of each kind, its parts named and every splice measured from an edge."""
    shown = {_alike(kit, leaf): leaf for leaf in reversed(leaves)}
    marks: list[Mark] = []
    right = high = 0.0
    scale = _leaf_scale(kit, leaves)
    view, ratio = View(scale, (0.0, 0.0)), scale.ratio
    for leaf in reversed(shown.values()):
        xs, ys = zip(*leaf.outline, strict=True)
        high = max(high, (max(ys) - min(ys)) / ratio)
        drawn: list[Mark] = [Path(view.points(leaf.outline), VISIBLE)]
        axis = 0 if abs(leaf.splices[0].a[0] - leaf.splices[0].b[0]) < 1e-6 else 1
        for part in parts_of(leaf):
            x, y = view.point(_middle(part))
            # Beside its part, where a slim leaf has no room inside; upright where parts stand side by side.
            drawn.append(Text((min(xs) / ratio - 3.0, y - NUMBER.height / 2), part.mark, NUMBER, "right") if axis else
                         Text((x + NUMBER.height / 2, y), part.mark, NUMBER, "centre", 90.0))
        found = sorted(zip(splice_places(leaf), leaf.splices, strict=True), key=lambda one: one[0][0])
        for row, ((at, _), splice) in enumerate(found, 1):
            a, b = sorted(view.points((splice.a, splice.b)))
            drawn.append(Line(a, b, HEAVY))
            level = next((view.point(p)[axis] for p in leaf.outline if abs(abs(p[axis] - splice.a[axis]) - at) < 1e-3), None)
            if level is not None:
                # Beside the leaf, square to the splice.
                beyond = max(xs) / ratio if axis else max(ys) / ratio
                start, to = ((beyond, b[1]), (beyond, level)) if axis else ((b[0], beyond), (level, beyond))
                side = 1.0 if (to[axis] > start[axis]) is (axis == 0) else -1.0
                drawn += linear(start, to, side * row * OFF, kit.form.length(at), kit.lettering)
        left, _, end, _ = bounds(drawn, kit.lettering)
        marks += shift(drawn, right - left, -min(ys) / ratio)
        right += end - left + APART
    return Picture.of(tuple(marks), kit.lettering, (0.0, 0.0, right - APART, high))


def _middle(leaf: Leaf) -> Point:
    return (sum(x for x, _ in leaf.outline) / len(leaf.outline), sum(y for _, y in leaf.outline) / len(leaf.outline))


def _alike(kit: Kit, leaf: Leaf) -> tuple[tuple[str, str, str], ...]:
    """What tells a kind of spliced leaf: how far from which edge and how long its splices are, as written."""
    return tuple((kit.form.length(at), edge, kit.form.length(splice.length))
                 for (at, edge), splice in zip(splice_places(leaf), leaf.splices, strict=True))


def _steps(kit: Kit, values: dict[str, Any], key: str, start: int, style: Style, width: float) -> Block:
    return steps((0.0, 0.0), width, kit.words.texts(f"splice.{key}", **values), kit.lettering, style, start=start)


def _words(kit: Kit, leaves: list[Leaf], values: dict[str, Any], width: float) -> Block:
    """What is checked, the common mistake, and which parts make which leaf."""
    words, lettering = kit.words, kit.lettering
    check = headed(width, words.text("splice.heading.check"),
                   ticked(width, words.texts("splice.check", **values), BODY, lettering, 1.5), lettering)
    wrong = headed(width, words.text("splice.heading.mistake"),
                   paragraph((0.0, 0.0), width, words.text("splice.mistake"), BODY, lettering), lettering)
    weak = headed(width, words.text("splice.heading.weak"),
                  paragraph((0.0, 0.0), width, words.text("splice.weak"), BODY, lettering), lettering)
    lengths = [splice.length for leaf in leaves for splice in leaf.splices]
    listed = stack((0.0, 0.0), [paragraph((0.0, 0.0), width, line, BODY, lettering) for line in _listed(kit, leaves)],
                   0.5, width)
    total = words.text("splice.heading.splices", count=len(lengths), total=sum(lengths))
    return stack((0.0, 0.0), [check, wrong, weak, headed(width, total, listed, lettering)], 3.0, width)


def _listed(kit: Kit, leaves: list[Leaf]) -> list[str]:
    """Leaves that are spliced alike in one line: how far from which edge, how long, and their parts."""
    groups: dict[tuple[tuple[str, str, str], ...], list[Leaf]] = {}
    for leaf in leaves:
        groups.setdefault(_alike(kit, leaf), []).append(leaf)
    return [kit.words.text("splice.group", places=[{"at": at, "edge": edge, "length": length} for at, edge, length in alike],
                           leaves=[[part.mark for part in parts_of(leaf)] for leaf in group])
            for alike, group in groups.items()]
