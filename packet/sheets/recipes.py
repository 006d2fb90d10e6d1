"""Hinge recipes, one per seam type, and the sill strip: sections at full size with the steps in order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from packet.assembly.records import Seam, SeamKind, seam_gap
from packet.description.terms import Face
from packet.drawing.flow import Block, paragraph, stack, steps
from packet.drawing.lettering import BODY, LARGE, Style
from packet.drawing.marks import bounds
from packet.drawing.page import Sheet
from packet.drawing.room import LayoutError
from packet.drawing.view import Scale, series
from packet.plan import Plan
from packet.sheets.hinge_pictures import Pictures, Tape, tape_of
from packet.sheets.kit import Kit
from packet.sheets.panels import Page, Panel, headed, pages, ticked
from packet.sheets.strip_pictures import strips_laid_out
from packet.tape.strips import Role, Strip
from packet.work.sheet_numbers import sheet_number
from packet.work.stations import Station

BEYOND = (14.0, 9.0, 5.0)
"""mm of paper of board drawn beyond the land, as much as fits."""
LEAST = 88.0
"""mm of page that words under a picture need."""
LEAST_OF_THREE = 74.0
"""The same where three columns stand side by side."""
WORDS = ("check", "mistake", "places", "next")
PAST_FOIL = 3.0
"""The same beyond the foil: tried first, so that the foil's edge is seen where there is room."""


@dataclass(frozen=True, slots=True)
class _Recipe:
    name: str
    kinds: tuple[SeamKind, ...]
    station: Station
    follows: str


@dataclass(frozen=True, slots=True)
class _Titled:
    """A page, the key of its title, and its scale."""

    key: str
    page: Page
    scale: Scale


_RECIPES = (
    _Recipe("mid", (SeamKind.WALL_MID, SeamKind.GORE_MID), Station.H, "recipe.corner"),
    _Recipe("corner", (SeamKind.CORNER,), Station.H, "recipe.sill"),
    _Recipe("sill", (), Station.E, "relief"),
    _Recipe("eave", (SeamKind.EAVE,), Station.R, "relief"),
    _Recipe("hip", (SeamKind.HIP,), Station.J, "erect"),
)


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Two sheets or more per recipe: how to tape it, and how to check it."""
    return tuple(
        sheet for recipe in _RECIPES if _needed(plan, recipe) for sheet in _Drawn(plan, kit, recipe).sheets()
    )


def _needed(plan: Plan, recipe: _Recipe) -> bool:
    """Whether the shelter has such a hinge, or for the sill a strip."""
    if recipe.kinds:
        return bool(plan.assembly.bonded(*recipe.kinds))
    return any(strip.role is Role.SILL for strip in plan.strips)


class _Drawn:
    """One recipe on its way to sheets."""

    def __init__(self, plan: Plan, kit: Kit, recipe: _Recipe) -> None:
        self._plan, self._kit, self._recipe = plan, kit, recipe
        self._seams = plan.assembly.bonded(*recipe.kinds) if recipe.kinds else ()
        self._values = self._named_values()

    def sheets(self) -> tuple[Sheet, ...]:
        """The largest scale, lettering and length of board that need the fewest pages; strips come last."""
        for scale in series(self._kit.system):
            found = self._options(scale)
            if found:
                views = min(found, key=len) + self._strip_views()
                return tuple(self._sheet(view, place) for place, view in enumerate(views, 1))
        raise LayoutError(f"the {self._recipe.name} hinge does not fit this paper at any scale")

    def _options(self, scale: Scale) -> list[list[_Titled]]:
        """Ways to lay the recipe out at a scale, the most legible first; none where something is too large."""
        drawn: dict[float, Pictures] = {}
        found: list[list[_Titled]] = []
        for style in (LARGE, BODY):
            for beyond in (self._past_foil(scale), *BEYOND):
                if beyond not in drawn:
                    drawn[beyond] = self._pictures(scale, beyond)
                try:
                    groups = self._arranged(drawn[beyond], style)
                except LayoutError:
                    continue
                found.append([_Titled(key, page, scale) for key, group in groups for page in group])
                if len(found[-1]) == len(groups):  # a page to each title: no option has fewer
                    return found
        return found

    def _pictures(self, scale: Scale, beyond: float) -> Pictures:
        return Pictures(self._plan, self._kit, self._recipe.name, self._seam, scale, beyond, self._values)

    def _arranged(self, pictures: Pictures, style: Style) -> list[tuple[str, tuple[Page, ...]]]:
        first, second = self._texts("first"), self._texts("second")
        least = LEAST if self._seam else LEAST_OF_THREE
        taping = [
            Panel(picture.marks, self._steps(sentences, start, style), least, picture.measured)
            for picture, sentences, start in zip(pictures.taping, (first, second), (1, len(first) + 1), strict=True)
        ]
        opened = pictures.opened
        if self._seam is None:
            return [("", self._pages([*taping, Panel((), self._words(*WORDS), least)]))]
        if opened is None:
            # Taped in the pack, and from inside after opening: two places, two times, so two sheets.
            ways = ((("mistake", "places"), ("check", "next")), ((), WORDS))
            return min(
                (
                    [
                        ("", self._pages(self._with_words(taping[0], before))),
                        ("_check", self._pages(self._with_words(taping[1], after))),
                    ]
                    for before, after in ways
                ),
                key=lambda groups: sum(len(group) for _, group in groups),
            )
        picture = Panel(opened.marks, None, 0.0, opened.measured)
        over = replace(picture, words=self._words("places", "next"), least=LEAST)
        choices = (
            [over, Panel((), self._words("check", "mistake"), LEAST)],
            [picture, Panel((), self._words(*WORDS), LEAST)],
        )
        return [("", self._pages(taping)), ("_check", min((self._pages(panels) for panels in choices), key=len))]

    def _with_words(self, panel: Panel, names: tuple[str, ...]) -> list[Panel]:
        return [panel, Panel((), self._words(*names), LEAST)] if names else [panel]

    def _pages(self, panels: list[Panel]) -> tuple[Page, ...]:
        return pages(panels, self._kit.room, self._kit.lettering)

    def _strip_views(self) -> list[_Titled]:
        """The strips laid out flat, where one takes several rolls, at the largest scale that fits."""
        tapes = [(name, value) for name, value in self._values.items() if isinstance(value, Tape)]
        for scale in series(self._kit.system):
            strips = strips_laid_out(tapes, self._plan.assembly.thickness, scale, self._kit)
            if not strips:
                return []
            try:
                measured = bounds(strips, self._kit.lettering)
                return [_Titled("_strips", page, scale) for page in self._pages([Panel(strips, None, 0.0, measured)])]
            except LayoutError:
                continue
        raise LayoutError(f"the strips of the {self._recipe.name} hinge do not fit this paper at any scale")

    def _sheet(self, view: _Titled, place: int) -> Sheet:
        words = self._kit.words
        subtitle = (
            words.text("recipes.subtitle_strips") if view.key == "_strips" else self._text(f"subtitle{view.key}")
        )
        return Sheet(
            number=sheet_number(f"recipe.{self._recipe.name}", place),
            title=self._text(f"title{view.key}"),
            subtitle=subtitle,
            station=self._recipe.station.word,
            kind=words.text("recipes.kind"),
            marks=view.page.marks,
            scale_label=view.scale.label if view.page.views else "",
            viewports=view.page.viewports(view.scale.ratio, "section"),
        )

    def _past_foil(self, scale: Scale) -> float:
        """Board to draw beyond the land so that the foil over it ends before the break."""
        foil, covered = self._values["foil"], self._values.get(str(self._covered), self._values["foil"])
        return PAST_FOIL + max(0.0, float(foil.width - covered.width) / 2 / scale.ratio)

    @property
    def _covered(self) -> Role:
        """The strip that foil covers: the one on the outer face."""
        if self._seam is None:
            return Role.SILL
        return Role.FLAT if self._seam.closing_face is Face.OUTER else Role.WRAP

    # --- what stands on the sheets ---------------------------------------------------------------

    def _steps(self, sentences: tuple[str, ...], start: int, style: Style) -> Callable[[float], Block]:
        return lambda width: steps((0.0, 0.0), width, sentences, self._kit.lettering, style, start=start)

    def _words(self, *names: str) -> Callable[[float], Block]:
        """The named blocks of words one below the other: WORDS lists the names."""
        return lambda width: stack((0.0, 0.0), [self._block(name, width) for name in names], 3.0, width)

    def _block(self, name: str, width: float) -> Block:
        words, lettering = self._kit.words, self._kit.lettering
        if name == "next":
            return paragraph((0.0, 0.0), width, f"**{words.text('recipes.next', next=self._next)}**", BODY, lettering)
        if name == "mistake":
            body = paragraph((0.0, 0.0), width, self._text("mistake"), BODY, lettering)
            return headed(width, words.text("recipes.heading.mistake"), body, lettering)
        if name == "places":
            lines = [paragraph((0.0, 0.0), width, line, BODY, lettering) for line in self._places()]
            return headed(width, self._total(), stack((0.0, 0.0), lines, 0.5, width), lettering)
        checks = [*self._texts("check"), words.text("recipes.rolled")]
        thin = next((tape for tape in self._values.values() if isinstance(tape, Tape) and tape.thin), None)
        if thin:
            checks.append(words.text("recipes.thin", land=thin.land))
        return headed(
            width, words.text("recipes.heading.check"), ticked(width, checks, BODY, lettering, 1.5), lettering
        )

    def _total(self) -> str:
        lengths = [s.length for s in self._strips(Role.SILL)] if not self._seams else [s.length for s in self._seams]
        key = "seams" if self._seams else "strips"
        return self._kit.words.text(f"recipes.heading.{key}", count=len(lengths), total=sum(lengths))

    def _places(self) -> list[str]:
        """The seams by kind and length, or the runs of the sill strip."""
        words = self._kit.words
        if not self._seams:
            return [
                words.text(
                    "recipes.sill.run", half=strip.leaves[0][0], length=strip.length, marks=" ".join(strip.leaves)
                )
                for strip in self._strips(Role.SILL)
            ]
        groups: dict[tuple[SeamKind, str], list[Seam]] = {}
        for seam in self._seams:
            groups.setdefault((seam.kind, self._plan.form.length(seam.length)), []).append(seam)
        return [
            words.text(
                "recipes.group",
                kind=words.text(f"recipes.kinds.{kind}"),
                count=len(seams),
                length=seams[0].length,
                marks="  ".join(seam.mark for seam in seams),
            )
            for (kind, _), seams in groups.items()
        ]

    # --- values of the sentences -----------------------------------------------------------------

    @property
    def _seam(self) -> Seam | None:
        return self._seams[0] if self._seams else None

    @property
    def _next(self) -> str:
        return sheet_number(self._recipe.follows)

    def _strips(self, role: Role) -> list[Strip]:
        return [strip for strip in self._plan.strips if strip.role is role]

    def _named_values(self) -> dict[str, Any]:
        plan = self._plan
        values: dict[str, Any] = {
            "limit": plan.description.limits.cut,
            "relief": sheet_number("relief"),
            "fold": sheet_number("fold"),
            "doors": [door.mark for door in plan.assembly.doors],
            "thickness": plan.assembly.thickness,
            "twice": 2 * plan.assembly.thickness,
        }
        if self._seam is None:
            strip = self._strips(Role.SILL)[0]
            foil = next(s for s in self._strips(Role.FOIL) if s.edge == strip.edge)
            cuts = [cut for cut in plan.relief if cut.along == "sill"]
            return values | {
                str(Role.SILL): tape_of(strip, plan.form),
                "foil": tape_of(foil, plan.form),
                "slits": len(cuts),
                "slit": cuts[0].length,
            }
        of_seam = [s for s in plan.strips if s.seam == self._seam.mark]
        roles = {role: next(s for s in of_seam if s.role is role) for role in (Role.FLAT, Role.WRAP, Role.FOIL)}
        return (
            values
            | {str(role): tape_of(strip, plan.form) for role, strip in roles.items()}
            | {"angle": self._seam.angle_open, "gap": seam_gap(plan.assembly.thickness, self._seam.angle_open)}
        )

    def _text(self, key: str) -> str:
        return self._kit.words.text(f"recipes.{self._recipe.name}.{key}", **self._values)

    def _texts(self, key: str) -> tuple[str, ...]:
        return self._kit.words.texts(f"recipes.{self._recipe.name}.{key}", **self._values)
