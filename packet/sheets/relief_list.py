"""The list of relief cuts: one row for all cuts of a kind, with the strip laid out flat and the slit on it."""

from __future__ import annotations

from itertools import groupby

from packet.description.terms import Face
from packet.drawing.dimension import linear
from packet.drawing.lettering import BODY, FINE, FINE_BOLD
from packet.drawing.marks import Drawing, Line, Mark, Text, Viewport, rectangle
from packet.drawing.pens import NARROW
from packet.drawing.room import LayoutError, Room
from packet.drawing.table import Cell, Column, fit, spread, table
from packet.drawing.view import Scale, pick_scale
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.panels import ticked
from packet.sheets.relief_view import SLIT, TAPE_GREY
from packet.sheets.slit_pictures import slit_in_steps
from packet.tape.relief import Along, Part, ReliefCut

Numbered = tuple[tuple[int, ReliefCut], ...]


class ReliefList:
    """The cuts of one half on as many pages as they need."""

    def __init__(self, plan: Plan, kit: Kit, cuts: Numbered, *, each_half: bool) -> None:
        self._each_half = each_half
        self._plan, self._kit, self._cuts = plan, kit, cuts
        self._lettering = kit.lettering

    def pages(self) -> list[tuple[Drawing, Scale, Viewport]]:
        """Marks of each page, the scale of its strips and where they are drawn; the rules stand on the last page."""
        words, room = self._kit.words, self._kit.room
        parts = room.columns(1, 1, gap=6.0)
        said = words.texts("relief.rules", count=len(self._cuts), each_half=self._each_half,
                           limit=self._plan.description.limits.cut)
        rules = [
            ticked(part.width, [text], BODY, self._lettering)
            for part, text in zip(parts, said, strict=True)
        ]
        foot, above = room.cut_bottom(max(rule.height for rule in rules), 4.0)
        widths = spread(room.width, 82, 104, 54)
        scale = self._strip_scale(widths[1] - 4.0)
        columns = [Column(width) for width in widths]
        rows = self._rows(scale)
        header = list(words.entry("relief.header"))
        pages: list[tuple[Drawing, Scale, Viewport]] = []
        while rows:
            last = fit(columns, rows, header, above.height, self._lettering) == len(rows)
            fitting = len(rows) if last else fit(columns, rows, header, room.height, self._lettering)
            if not fitting:
                raise LayoutError("a row of the relief list is taller than the page")
            # Rows that would just fill the page leave one for the rules.
            fitting = fitting if last else min(fitting, len(rows) - 1)
            block = table(above.top_left, columns, rows[:fitting], header, self._lettering)
            marks, left = block.marks, above.left + widths[0]
            drawn = Viewport((left, block.bottom, left + widths[1], above.top), scale.ratio, "strips")
            if last:
                marks += tuple(
                    mark
                    for part, rule in zip(parts, rules, strict=True)
                    for mark in rule.moved((part.left, foot.top)).marks
                )
                marks += slit_in_steps(Room(above.left, above.bottom, above.right, block.bottom - 6.0), self._kit)
            pages.append((marks, scale, drawn))
            rows = rows[fitting:]
        return pages

    def _strip_scale(self, width: float) -> Scale:
        widest = max(sum(length for _, length, _ in self._zones(cut)) for _, cut in self._cuts)
        return pick_scale(self._kit.system, (widest, 1.0), (width, 10.0))

    def _rows(self, scale: Scale) -> list[list[Cell]]:
        """One row for all cuts of one kind, sill strips first; other strips than sills and eaves have a row each."""

        def kind(entry: tuple[int, ReliefCut]) -> tuple[int, int, str, tuple[tuple[Part, float], ...]]:
            face, along, parts = entry[1].shape
            return (list(Along).index(along), entry[0] if along is Along.SEAM else 0, str(face), parts)

        words = self._kit.words
        rows: list[list[Cell]] = []
        for _, group in groupby(sorted(self._cuts, key=kind), kind):
            cuts = list(group)
            cut = cuts[0][1]
            entries = [
                words.text("relief.entry", number=f"**{number}**", marks="/".join(each.between))
                for number, each in cuts
            ]
            strip = next(each for each in self._plan.strips if each.mark == cut.strip)
            where = words.text(
                "relief.where",
                along=words.text(f"relief.along.{cut.along}", role=strip.role, at=strip.seam or strip.edge),
                face=cut.face,
                entries=entries,
            )
            why = ", ".join(words.text(f"relief.reason.{reason}") for reason in cut.reasons)
            rows.append([where, self._strip(cut, scale), why])
        return rows

    def _zones(self, cut: ReliefCut) -> list[tuple[str, float, bool]]:
        """What the strip lies on across its width: word, mm, cut or not; of a strip over a hinge, what is cut of it."""
        strip = next(s for s in self._plan.strips if s.mark == cut.strip)
        parts = {part for part, _ in cut.parts}
        t, land = self._plan.assembly.thickness, strip.land
        word = {part: self._kit.words.text(f"relief.part.{part}") for part in Part}
        if cut.along is Along.SEAM:
            return [(word[part], length, True) for part, length in cut.parts]
        if cut.along is Along.SILL:
            faces = [(self._kit.words.name(face).upper(), land, face is cut.face) for face in (Face.INNER, Face.OUTER)]
            return [faces[0], (word[Part.EDGE], t, Part.EDGE in parts), faces[1]]
        zones = [(word[Part.WALL], land, Part.WALL in parts), (word[Part.ROOF], land, Part.ROOF in parts)]
        if strip.role == "wrap":
            zones.insert(1, (self._kit.words.text("relief.part.edges"), 2 * t, Part.EDGE in parts))
        return zones

    def _strip(self, cut: ReliefCut, scale: Scale) -> Drawing:
        """The strip cut across its length: what it lies on, and the slit with its length."""
        high, x, form = 7.0, 0.0, self._kit.form
        marks: list[Mark] = []
        slit: list[float] = []
        for word, length, through in self._zones(cut):
            wide = length / scale.ratio
            marks.append(rectangle((x, 0.0, x + wide, high), NARROW, TAPE_GREY if through else 1.0))
            style = FINE_BOLD if through else FINE
            figure = form.length(length)
            inside = f"{word} {figure}"
            if self._lettering.width(inside, style) > wide - 0.6:
                inside = word
                marks.append(Text((x + wide / 2, -1.0 - FINE.height), figure, style, "centre"))
            if self._lettering.width(inside, style) < wide:
                marks.append(Text((x + wide / 2, high - 0.9 - style.height), inside, style, "centre"))
            if through:
                slit += [x, x + wide]
            x += wide
        marks.append(Line((min(slit), 1.5), (max(slit), 1.5), SLIT))
        marks += linear((min(slit), high), (max(slit), high), 3.0, form.length(cut.length), self._lettering)
        return tuple(marks)
