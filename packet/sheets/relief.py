"""Relief map: a half laid flat, inner and outer view one above the other, every cut at its place; then the list."""

from __future__ import annotations

from dataclasses import replace

from packet.assembly.records import LeafKind
from packet.assembly.unfolded import alike
from packet.description.terms import Face
from packet.drawing.flow import paragraph, wrap
from packet.drawing.lettering import BODY, BODY_BOLD, FINE_BOLD
from packet.drawing.marks import Drawing, Viewport
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError, Room
from packet.drawing.view import Scale, series
from packet.plan import Plan
from packet.sheets.kit import Kit
from packet.sheets.relief_list import ReliefList
from packet.sheets.relief_view import NARROW_LEAVES, RADIUS, ROOMY, Axis, MapStyle, MapView, reaches, words_of_door
from packet.tape.relief import ReliefCut
from packet.tape.relief_map import ReliefMap, numbered_cuts, parted, relief_map
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

MARGIN = 22.0
"""mm left of a view for the words on its edges."""
BETWEEN = 2.5
"""mm between the two views, at least."""
HEADING = 8.0
"""mm above a view for the name of its face."""
MOST_PARTS = 6
"""Sheets that the map of one half may take side by side."""

_Fit = tuple[Scale, MapStyle, list[Axis]]


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """A map per half, one for all halves that are alike, and the list of cuts; none where nothing is cut."""
    return _Relief(plan, kit).sheets() if plan.relief else ()


class _Relief:
    def __init__(self, plan: Plan, kit: Kit) -> None:
        self._plan, self._kit = plan, kit
        self._lettering = kit.lettering
        self._mates = self._alike()
        self._halved = len(plan.assembly.halves) > 1
        self._halves = plan.assembly.halves[:1] if self._mates else plan.assembly.halves

    def _alike(self) -> dict[str, tuple[str, ...]]:
        """Marks of all halves by the first half's; empty when halves or their cuts differ."""
        assembly = self._plan.assembly
        try:
            mates = alike(assembly)
        except ValueError:
            return {}
        shapes = {
            tuple(cut.shape for _, cut in self._cuts(half))
            for half in assembly.halves
        }
        return mates if len(shapes) == 1 else {}

    def _cuts(self, half: str) -> tuple[tuple[int, ReliefCut], ...]:
        return numbered_cuts(self._plan.assembly, self._plan.relief, half)

    def sheets(self) -> tuple[Sheet, ...]:
        found: list[Sheet] = []
        for half in self._halves:
            if not self._cuts(half):
                continue
            found += self._map_sheets(half, len(found) + 1)
            each = self._halved and bool(self._mates)
            for marks, scale, view in ReliefList(self._plan, self._kit, self._cuts(half), each_half=each).pages():
                found.append(self._sheet("_list", half, len(found) + 1, marks, scale.label, (view,)))
        return tuple(found)

    # --- the map ---------------------------------------------------------------------------------

    def _map_sheets(self, half: str, page: int) -> list[Sheet]:
        """Both views of the half on a sheet, or a sheet each, or in as few parts side by side as are legible."""
        maps = [
            found
            for face in (Face.INNER, Face.OUTER)
            if (found := relief_map(self._plan.assembly, self._plan.strips, self._plan.relief, half, face))
        ]
        if not maps:
            return []
        foot, above = self._kit.room.cut_bottom(BODY.height * 1.7, 2.0)
        walls = sum(leaf.kind is LeafKind.WALL for leaf in maps[0].leaves)
        for parts in range(1, min(MOST_PARTS, walls) + 1):
            inner, outer = (parted(each, parts) for each in maps)
            # The outer view is mirrored: its last part shows the leaves of the inner view's first.
            together = [[a, b] for a, b in zip(inner, reversed(outer), strict=True)]
            for groups in (together, [[each] for each in (*inner, *outer)]):
                fitted = [self._fitted(group, above) for group in groups]
                if all(fitted):
                    count = page + len(groups)
                    return [
                        self._map_sheet(half, page + i, count, group, fit, foot, above)
                        for i, (group, fit) in enumerate(zip(groups, fitted, strict=True))
                        if fit
                    ]
        raise LayoutError("the relief map does not fit this paper at any scale")

    def _map_sheet(
        self, half: str, page: int, list_page: int, maps: list[ReliefMap], fitted: _Fit, foot: Room, above: Room
    ) -> Sheet:
        scale, style, axes = fitted
        marks: Drawing = ()
        views = []
        between = above.height - sum(axis.height + HEADING for axis in axes) if len(axes) > 1 else 0.0
        top = above.top
        for each, axis in zip(maps, axes, strict=True):
            room = Room(above.left, top - HEADING - axis.height, above.right, top)
            drawn, rect = self._view(each, room, scale, style, axis)
            marks += drawn
            views.append(Viewport(rect, scale.ratio, f"{each.face} view"))
            top = room.bottom - between
        words = self._kit.words
        which = "each" if self._halved and self._mates else half if self._halved else ""
        note = words.text("relief.alike", count=len(self._cuts(half)), which=which, list=sheet_number("relief", list_page))
        marks += paragraph(foot.top_left, foot.width, note, BODY, self._lettering).marks
        return self._sheet("", half, page, marks, scale.label, tuple(views))

    def _fitted(self, maps: list[ReliefMap], room: Room) -> _Fit | None:
        """The largest standard scale at which both views fit, whole or with their middles left out."""
        wide = max(point[0] for leaf in maps[0].leaves for point in leaf.outline)
        most = room.height - len(maps) * HEADING - BETWEEN * (len(maps) - 1)
        for scale in series(self._kit.system):
            style = ROOMY if self._roomy(maps, _narrowest(maps) / scale.ratio) else NARROW_LEAVES
            if wide / scale.ratio > room.width - max(MARGIN, style.right) - style.right:
                continue
            for broken in (False, True):
                axes = [self._axis(each, scale, style, broken) for each in maps]
                if sum(axis.height for axis in axes) <= most and self._clear(maps, scale, style):
                    return scale, style, self._grown(maps, scale, style, axes, most) if broken else axes
        return None

    def _grown(
        self, maps: list[ReliefMap], scale: Scale, style: MapStyle, axes: list[Axis], most: float
    ) -> list[Axis]:
        """Broken views that show as much more as the page has room for."""
        parts = 3 if any(leaf.kind is LeafKind.ROOF for leaf in maps[0].leaves) else 1
        more = (most - sum(axis.height for axis in axes)) / (parts * len(maps))
        grown = replace(
            style, on_sill=style.on_sill + more, under_eave=style.under_eave + more, on_eave=style.on_eave + more
        )
        return [self._axis(each, scale, grown, True) for each in maps]

    def _clear(self, maps: list[ReliefMap], scale: Scale, style: MapStyle) -> bool:
        """Whether the wall is high enough on paper, and a leaf wide enough, for names and numbers."""
        free = min(each.eave - sum(reaches(each)) for each in maps) / scale.ratio
        return (
            free >= style.on_sill + style.under_eave
            and _narrowest(maps) / scale.ratio > 2 * RADIUS + 1.5
        )

    def _roomy(self, maps: list[ReliefMap], wide: float) -> bool:
        """Whether a leaf of that width on paper holds its names in one line, a number with its length, and the
        words of a door in two lines."""
        lettering = self._lettering
        names = [
            ", ".join(self._mates.get(leaf.mark, (leaf.mark,)))
            for leaf in maps[0].leaves
            if leaf.kind is LeafKind.WALL
        ]
        lengths = [self._kit.form.length(cut.length) for cut in self._plan.relief]
        doors = [text for leaf in maps[0].leaves if leaf.door for text in words_of_door(leaf, self._mates, self._kit)]
        return (
            max(lettering.width(name, FINE_BOLD) for name in names) < wide * 0.8
            and max(lettering.width(text, BODY_BOLD) for text in lengths) + 2 * RADIUS + 3.0 < wide
            and all(len(wrap(text, wide - 2.0, FINE_BOLD, lettering)) <= 2 for text in doors)
        )

    def _axis(self, each: ReliefMap, scale: Scale, style: MapStyle, broken: bool) -> Axis:
        top = max(point[1] for leaf in each.leaves for point in leaf.outline)
        low = -each.sill_edge
        if not broken:
            return Axis(scale.ratio, 0.0, ((low, top),))
        sill, eave = reaches(each)
        kept = [
            (low, min(sill + style.on_sill * scale.ratio, each.eave)),
            (
                max(0.0, each.eave - eave - style.under_eave * scale.ratio),
                min(top, each.eave + each.band + eave + style.on_eave * scale.ratio),
            ),
        ]
        if all(leaf.kind is LeafKind.WALL for leaf in each.leaves):
            kept = [(low, min(kept[0][1], top))]  # nothing is cut at the top
        elif kept[0][1] >= kept[1][0]:
            kept = [(low, kept[1][1])]
        return Axis(scale.ratio, 0.0, tuple(kept))

    def _view(
        self, each: ReliefMap, room: Room, scale: Scale, style: MapStyle, axis: Axis
    ) -> tuple[Drawing, tuple[float, float, float, float]]:
        axis = Axis(axis.ratio, room.bottom, axis.kept)
        wide = max(point[0] for leaf in each.leaves for point in leaf.outline) / scale.ratio
        left = max(room.centre[0] - wide / 2, room.left + max(MARGIN, style.right))
        drawn = MapView(self._kit, each, scale, style, axis, left, self._mates)
        return drawn.marks(room), (left, room.bottom, left + wide, room.bottom + axis.height)

    def _sheet(
        self, key: str, half: str, page: int, marks: Drawing, label: str, views: tuple[Viewport, ...] = ()
    ) -> Sheet:
        words = self._kit.words
        halves = self._plan.assembly.halves if self._mates else (half,)
        # A project that is built in one piece has no halves to tell apart.
        named = words.text("relief.halves", halves=halves) if self._halved else ""
        return Sheet(
            number=sheet_number("relief", page),
            title=words.text(f"relief.title{key}"),
            subtitle=words.text(f"relief.subtitle{key}", halves=named),
            station=Station.E.word,
            kind=words.text("relief.kind"),
            subject=named,
            marks=marks,
            scale_label=label,
            viewports=views,
        )


def _narrowest(maps: list[ReliefMap]) -> float:
    """Width of the narrowest wall leaf on its base, mm."""
    return min(leaf.base[1][0] - leaf.base[0][0] for each in maps for leaf in each.leaves if leaf.kind is LeafKind.WALL)
