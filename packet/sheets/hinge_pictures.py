"""The pictures of a hinge recipe: each state with its strips, dimensions and labels, in paper mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property
from typing import Any

from packet.assembly.records import Point, Seam, SeamKind
from packet.description.terms import Face
from packet.drawing.dimension import angular
from packet.drawing.lettering import BODY_BOLD, NUMBER, Style
from packet.drawing.marks import Drawing, Mark, Path, Text, bounds
from packet.drawing.pens import LEADER
from packet.drawing.symbols import circled, terminator
from packet.drawing.view import Scale
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.panels import Picture
from packet.sheets.section_view import BAND, SHARP, Roll, SectionView
from packet.sheets.tapes import Tape
from packet.tape.section import Section, edge_section, hinge_section

OFF = 9.0
"""mm from a face to its dimension line: clear of the strips."""
TOLD = 45.0
"""Degrees up to which an angle is told in words alone: there is no room to draw it."""
STRAIGHT = 0.5
"""Degrees of half a turn up to which a hinge counts as lying in one plane."""
APART = 7.5
"""mm from the joint to the middle of a name of two lines, so that two of them stay apart."""


class Pictures:
    """Every picture of one recipe at one scale, with `beyond` mm of board drawn past the widest strip."""

    def __init__(
        self, plan: Plan, kit: Kit, name: str, seam: Seam | None, scale: Scale, beyond: float, values: dict[str, Any]
    ) -> None:
        self._plan, self._kit, self._name, self._seam = plan, kit, name, seam
        self._scale, self._values = scale, values
        self._t = plan.assembly.thickness / scale.ratio
        self._names = tuple(kit.words.entry(f"recipes.{name}.leaves"))
        lands = [tape.land for tape in values.values() if isinstance(tape, Tape)]
        self._land = max(lands) / scale.ratio
        self._reach = self._land + beyond

    @property
    def _foil_over_edges(self) -> bool:
        return self._seam is None or self._seam.closing_face is Face.INNER

    @cached_property
    def taping(self) -> tuple[Picture, Picture]:
        """The two states in which the strips are laid, in the order of the work."""
        if self._seam is None:
            return (self._edge(foil=False), self._edge(foil=True))
        if self._seam.kind is SeamKind.HIP:
            return (self._folded(first=2, with_flat=False), self.standing())
        return (self._flat(), self._folded(first=4, with_flat=True))

    @cached_property
    def opened(self) -> Picture | None:
        """The hinge as it stands in the shelter, unless the taping pictures show it already."""
        if self._seam is None or self._seam.kind is SeamKind.HIP:
            return None
        return self.standing()

    # --- states ----------------------------------------------------------------------------------

    def _flat(self) -> Picture:
        """Boards flat, closing face up, flat strip on the joint; its foil above it, to be laid last."""
        view = self._view(hinge_section(self._t, 180.0, self._reach).rotated(180.0))
        flat, foil = self._paper("flat"), self._paper("foil")
        land, top = flat.width / 2, OFF + 8.5
        marks = view.boards() + view.flat(flat) + view.pivot()
        for sign in (-1.0, 1.0):
            marks += view.measure((0.0, 0.0), (sign * land, 0.0), (0.0, 1.0), OFF, self._figure("flat"))
        named = self._label((-land * 0.9, 1.5), (-self._reach, top), "flat", "2")
        marks += named
        if not self._foil_over_edges:
            marks += view.flat(foil, base=4.0)
            start = max(3.0, bounds(named, self._kit.lettering)[2] + 3.0)
            marks += self._label((land * 0.8, 6.5), (start, top), "foil_last", "5")
        return self._picture(view, marks)

    def _folded(self, first: int, *, with_flat: bool) -> Picture:
        """Boards folded shut on the bench, edges to the right, wrap strip round them and its foil."""
        view = self._view(hinge_section(self._t, 0.0, self._reach).rotated(-90.0))
        wrap, foil = self._paper("wrap"), self._paper("foil")
        land = self._land_of("wrap")
        marks = view.boards() + view.wrap(wrap) + (view.flat(self._paper("flat")) if with_flat else ())
        marks += view.measure((0.0, self._t), (-land, self._t), (0.0, 1.0), OFF, self._figure("wrap"))
        right, up = 9.0, max(self._t * 0.6, APART)
        marks += self._label((1.5, self._t * 0.6), (right, up), "wrap", str(first), beside=True)
        if self._foil_over_edges:
            lift = wrap.layers * 1.6 + 0.4
            marks += view.wrap(foil, base=lift)
            marks += self._label((lift + 2.0, -self._t * 0.6), (right, -up), "foil", str(first + 1), beside=True)
        return self._picture(view, marks + view.pivot())

    def standing(self) -> Picture:
        """The hinge open as in the shelter, with its V, its angle and all its strips."""
        seam = self._seam
        if seam is None:
            raise ValueError("a single edge has no open state")
        half_turn = seam.turn / 2
        # A hinge in one plane shows its outer face up, any other its V.
        upright = 0.0 if self._foil_over_edges or half_turn > STRAIGHT else 180.0
        turned = 90.0 - half_turn if seam.kind is SeamKind.EAVE else upright
        section = hinge_section(self._t, seam.angle_open, self._reach).rotated(turned)
        view = self._view(section)
        wrap, flat, foil = self._paper("wrap"), self._paper("flat"), self._paper("foil")
        marks = view.boards() + view.flat(flat) + view.wrap(wrap)
        if self._foil_over_edges:
            marks += view.wrap(foil, base=wrap.layers * 1.6 + 0.4)
        else:
            marks += view.flat(foil, base=flat.layers * 1.6 + 0.4)
        marks += self._lands(view) + view.pivot()
        marks += self._angle(section) if section.gap > 1.0 and section.angle > TOLD else ()
        marks += self._gap(view) if section.gap > 1.0 else ()
        return self._picture(view, marks + self._names_of_strips(view, marks))

    def _edge(self, *, foil: bool) -> Picture:
        """A board's bottom edge, the strip round it from face to face, and the foil over it."""
        view = self._view(edge_section(self._t, self._reach))
        strip = self._paper("sill")
        land = self._land_of("sill")
        marks = view.boards() + view.wrap(strip)
        left, right = -self._t / 2, self._t / 2
        if foil:
            marks += view.wrap(self._paper("foil"), base=strip.layers * 1.6 + 0.4)
            return self._picture(view, marks + self._label((left * 0.6, 4.6), (left, OFF + 8.5), "foil", "4"))
        marks += view.measure((left, 0.0), (left, -land), (-1.0, 0.0), OFF, self._figure("sill"))
        marks += view.measure((right, 0.0), (right, -land), (1.0, 0.0), OFF, self._figure("sill"))
        marks += view.measure(
            (left, 0.0), (right, 0.0), (0.0, 1.0), OFF, self._kit.form.length(self._plan.assembly.thickness)
        )
        return self._picture(view, marks + self._label((left * 0.75, 1.5), (left, OFF + 8.5), "sill", "1"))

    # --- parts of pictures -----------------------------------------------------------------------

    def _view(self, section: Section) -> SectionView:
        closing = self._seam.closing_face if self._seam else Face.INNER
        return SectionView(section, closing, self._names, self._kit.lettering, self._kit.words)

    def _paper(self, name: str) -> Roll:
        roll: Roll = self._values[name].on_paper(self._scale)
        return roll

    def _land_of(self, name: str) -> float:
        return float(self._values[name].land) / self._scale.ratio

    def _figure(self, name: str) -> str:
        return self._kit.form.length(self._values[name].land)

    def _lands(self, view: SectionView) -> Drawing:
        """One land on the opening face of the right board, one on the closing face of the left board."""
        t, wrap, flat = self._t, self._land_of("wrap"), self._land_of("flat")
        near, far = view.on_opening(t + 0.001), view.on_opening(t + wrap)
        lifted = view.on_opening(t + wrap / 2, 1.0)
        middle = view.on_opening(t + wrap / 2)
        marks = view.measure(near, far, (lifted[0] - middle[0], lifted[1] - middle[1]), OFF, self._figure("wrap"))
        if view.section.angle < SHARP:
            return marks  # no room between the boards; the taping page shows it
        end, lifted, middle = view.on_closing(-flat), view.on_closing(-flat / 2, 1.0), view.on_closing(-flat / 2)
        return marks + view.measure(
            (0.0, 0.0), end, (lifted[0] - middle[0], lifted[1] - middle[1]), OFF, self._figure("flat")
        )

    def _angle(self, section: Section) -> Drawing:
        """The angle between the boards, on the closing side, beyond the strips."""
        left, right = section.closing_path[0], section.closing_path[-1]
        start, stop = (math.degrees(math.atan2(p[1], p[0])) for p in (left, right))
        while stop < start:
            stop += 360.0
        text, lettering = self._kit.form.angle(section.angle), self._kit.lettering
        if section.angle < SHARP:
            return angular((0.0, 0.0), self._reach + OFF, start, stop, text, lettering, NUMBER, self._reach)
        return angular((0.0, 0.0), min(0.62 * self._reach, 34.0), start, stop, text, lettering, NUMBER)

    def _gap(self, view: SectionView) -> Drawing:
        """The V's width over the opening faces, and the words that keep people from filling it."""
        a, b = view.section.opening_path[1], view.section.opening_path[3]
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        reach = math.hypot(*middle)
        away = (middle[0] / reach, middle[1] / reach)
        line = tuple(mark for mark in view.measure(a, b, away, OFF, "") if not isinstance(mark, Text))
        lines = self._kit.words.text("recipes.gap", gap=view.section.gap * self._scale.ratio).split("\n")
        styles = (NUMBER, BODY_BOLD)
        wide = max(self._kit.lettering.width(text, style) for text, style in zip(lines, styles, strict=True))
        foot = (middle[0] + away[0] * (OFF + 3.2), middle[1] + away[1] * (OFF + 3.2))
        # Upright V: centred over it. Leaning V: the words end beside the line.
        x = foot[0] if abs(away[0]) < 0.1 else foot[0] - wide / 2 - 3.0
        return (
            *line,
            Text((x, foot[1] + BODY_BOLD.height + 2.6), lines[0], NUMBER, "centre"),
            Text((x, foot[1]), lines[1], BODY_BOLD, "centre"),
        )

    def _names_of_strips(self, view: SectionView, drawn: Drawing) -> Drawing:
        """Names of the strips above, or left of, everything else, each led to its strip."""
        left, _, right, top = bounds(drawn, self._kit.lettering)
        past_edges = self._t if self._foil_over_edges else 0.0
        foil_end = min(self._paper("foil").width / 2 - 1.5, self._reach + past_edges - 1.0)
        if self._foil_over_edges:
            ends = [
                ("wrap", view.on_opening(-(self._t + self._land_of("wrap") * 0.6), 1.2)),
                ("foil", view.on_opening(foil_end, 4.5)),
            ]
        else:
            ends = [
                ("flat", view.on_closing(self._land_of("flat") * 0.6, 1.2)),
                ("foil", view.on_closing(-foil_end, 4.0)),
            ]
        row = top + 3.0
        if not self._foil_over_edges and view.section.angle < 180.0 - 2 * STRAIGHT:
            return self._names_round_v(view, drawn)
        (name_a, end_a), (name_b, end_b) = sorted(ends, key=lambda end: end[1][0])
        if self._seam is not None and self._seam.kind is SeamKind.EAVE:
            # The wall stands upright, so its strip is named from the side, below the words on the gap.
            wide = self._wide(name_a) + OFF
            return (
                *self._label(end_a, (min(left, end_a[0] - wide), end_a[1]), name_a, "", beside=True),
                *self._label(end_b, (right - self._wide(name_b), row), name_b, ""),
            )
        sharp = view.section.angle < SHARP
        if self._foil_over_edges and (sharp or -end_a[0] < self._wide_gap() / 2 + 2.0):
            # The words on the gap are wider than the boards drawn, or dimensions run above: names stand at the sides.
            level = end_b[1] + (-APART if sharp else APART)
            return (
                *self._label(end_a, (left - self._wide(name_a) - 2.0, end_a[1]), name_a, "", beside=True),
                *self._label(end_b, (right + 2.0, level), name_b, "", beside=True),
            )
        second = max(left + self._wide(name_a) + 4.0, right - self._wide(name_b))
        return self._label(end_a, (left, row), name_a, "") + self._label(end_b, (second, row), name_b, "")

    def _names_round_v(self, view: SectionView, drawn: Drawing) -> Drawing:
        """Names where the V is above and the foil below: the wrap's over its board, the others' below theirs."""
        left, bottom, right, top = bounds(drawn, self._kit.lettering)
        wrap = view.on_opening(-(self._t + self._land_of("wrap") * 0.6), 1.2)
        foil = view.on_closing(min(self._paper("foil").width / 2 - 1.5, self._reach - 1.0), 4.0)
        flat = view.on_closing(-self._land_of("flat") * 0.75, 1.2)
        row = bottom - BODY_BOLD.leading - BODY_BOLD.height - 4.0
        second = max(left + self._wide("flat") + 6.0, right - self._wide("foil"))
        return (
            *self._label(wrap, (min(left, wrap[0] - self._wide("wrap")), top + 3.0), "wrap", ""),
            *self._label(flat, (left, row), "flat", "", below=True),
            *self._label(foil, (second, row), "foil", "", below=True),
        )

    def _wide_gap(self) -> float:
        """Width of the words over the V in mm."""
        lines = self._kit.words.text("recipes.gap", gap=0.0).split("\n")
        return self._kit.lettering.width(lines[-1], BODY_BOLD)

    def _wide(self, name: str, style: Style = BODY_BOLD) -> float:
        """Width of a strip's name in mm."""
        lines = self._kit.words.text(f"recipes.tape.{name}", **self._values).split("\n")
        return max(self._kit.lettering.width(line, style) for line in lines)

    def _label(
        self, point: Point, at: Point, name: str, number: str, *, beside: bool = False, below: bool = False,
        style: Style = BODY_BOLD,
    ) -> Drawing:
        """A strip's name with its step number, led to the strip.

        Above: `at` is the left end of the lowest line, the leader comes from under it. Below: the same, the leader
        comes from over the highest. Beside: `at` is the left end of the lines on the level of their middle, the
        leader comes from the side of the point.
        """
        lettering = self._kit.lettering
        lines = self._kit.words.text(f"recipes.tape.{name}", **self._values).split("\n")
        radius = 0.95 * style.height
        indent = 2 * radius + 1.5 if number else 0.0
        x, y = at
        high = (len(lines) - 1) * style.leading
        base = y - (style.height - high) / 2 if beside else y + high
        marks: list[Mark] = []
        wide = indent + max(lettering.width(line, style) for line in lines)
        if beside:
            start = x - 1.0 if point[0] < x else x + wide + 1.5
            marks.append(Path((point, (start, y)), LEADER, closed=False))
            marks += terminator(point, (point[0] - start, point[1] - y), 3.0)
        else:
            level = base + style.height + 1.6 if below else y - 1.6
            foot = (min(max(point[0], x + 1.0), x + wide), level)
            marks.append(Path((point, foot), LEADER, closed=False))
            marks += terminator(point, (point[0] - foot[0], point[1] - foot[1]), 3.0)
        if number:
            marks += circled((x + radius, base + style.height / 2), number, lettering, radius, style)
        marks += _set(lines, (x + indent, base), style)
        return tuple(marks)

    def _picture(self, view: SectionView, marks: Drawing) -> Picture:
        points = [p for board in view.section.boards for p in board]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        measured = (min(xs) - BAND / 2, min(ys) - BAND / 2, max(xs) + BAND / 2, max(ys) + BAND / 2)
        return Picture.of(marks, self._kit.lettering, measured)


def _set(lines: Sequence[str], at: Point, style: Style) -> Drawing:
    return tuple(Text((at[0], at[1] - i * style.leading), line, style) for i, line in enumerate(lines))
