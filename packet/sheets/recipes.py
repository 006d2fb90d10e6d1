"""Hinge recipes, one per kind or class of seams, and the sill strip: sections at full size with the steps in order."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from packet.assembly.records import Seam, SeamKind
from packet.drawing.flow import Block, paragraph, stack, steps
from packet.drawing.lettering import BODY, LARGE, Style
from packet.drawing.page import SUBJECT_LENGTH, Sheet
from packet.drawing.room import LayoutError
from packet.drawing.view import Scale, series
from packet.plan import Plan
from packet.sheets.hinge_pictures import Pictures
from packet.sheets.kit import Kit
from packet.sheets.panels import Page, Panel, headed, pages, ticked
from packet.sheets.recipe_kinds import Recipe, recipes, sills
from packet.sheets.release import release_page
from packet.sheets.strip_pictures import Laid, strips_pages

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
class _Titled:
    """A page, the key of its title, and its scale."""

    key: str
    page: Page
    scale: Scale


def draw(plan: Plan, kit: Kit) -> tuple[Sheet, ...]:
    """Per recipe how to tape it and how to check it; once, the strips that take several rolls; a line that comes off."""
    found = recipes(plan, kit.words)
    sheets: list[Sheet] = []
    hinges = [recipe for recipe in found if recipe.seams]
    for recipe in found:
        own = list(_Drawn(plan, kit, recipe).sheets())
        first = hinges and recipe is hinges[0]
        # What all hinges share stands once, after the first of them; a sill strip has widths of its own.
        laid = _laid(hinges if first else [recipe], kit) if first or not recipe.seams else []
        for page in strips_pages(laid, plan.assembly.thickness, kit):
            own.append(_sheet(kit, recipe, _Titled("_strips", *page), recipe.numbers[len(own)]))
        if any(seam.kind is SeamKind.HIP for seam in recipe.seams):
            own += release_page(plan, kit, recipe)
        sheets += own
    return tuple(sheets)


def _laid(found: list[Recipe], kit: Kit) -> list[Laid]:
    """Strips that are made up alike, once each, with what they serve."""
    named: dict[tuple[str, tuple[float, ...], float], Laid] = {}
    for recipe in found:
        for name, tape in recipe.tapes.items():
            words = kit.words.text(f"recipes.{recipe.words}.serves", number=recipe.numbers[0])
            key = (name, tape.roll.tapes, tape.roll.overlap)
            served = (*(named[key].serves if key in named else ()), words)
            named[key] = Laid(name, tape, tuple(dict.fromkeys(served)))
    return sorted(named.values(), key=lambda each: each.tape.roll.foil)


class _Drawn:
    """One recipe on its way to sheets."""

    def __init__(self, plan: Plan, kit: Kit, recipe: Recipe) -> None:
        self._plan, self._kit, self._recipe = plan, kit, recipe
        self._seams, self._seam, self._values = recipe.seams, recipe.seam, recipe.values
        # The sentences are the same in every arrangement.
        self._text, self._texts, self._places = cache(self._say), cache(self._say_all), cache(self._list_places)

    def sheets(self) -> Iterator[Sheet]:
        """The largest scale, lettering and length of board that need the fewest pages, and no more than there may be."""
        for scale in series(self._kit.system):
            found = [option for option in self._options(scale) if len(option) <= self._recipe.pages]
            if found:
                views = min(found, key=len)
                return (_sheet(self._kit, self._recipe, *each) for each in zip(views, self._recipe.numbers, strict=False))
        raise LayoutError(f"the recipe {self._recipe.words!r} does not fit this paper at any scale")

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
        return Pictures(self._plan, self._kit, self._recipe.words, self._seam, scale, beyond, self._values)

    def _arranged(self, pictures: Pictures, style: Style) -> list[tuple[str, tuple[Page, ...]]]:
        first, second = self._texts("first"), self._texts("second")
        least = LEAST if self._seam else LEAST_OF_THREE
        taping = [
            Panel(picture, self._steps(sentences, start, style), least)
            for picture, sentences, start in zip(pictures.taping, (first, second), (1, len(first) + 1), strict=True)
        ]
        opened = pictures.opened
        if self._seam is None:
            return [("", self._pages([*taping, Panel(None, self._words(*WORDS), least)]))]
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
        picture = Panel(opened, None, 0.0)
        over = replace(picture, words=self._words("places", "next"), least=LEAST)
        choices = (
            [over, Panel(None, self._words("check", "mistake"), LEAST)],
            [picture, Panel(None, self._words(*WORDS), LEAST)],
        )
        return [("", self._pages(taping)), ("_check", min((self._pages(panels) for panels in choices), key=len))]

    def _with_words(self, panel: Panel, names: tuple[str, ...]) -> list[Panel]:
        return [panel, Panel(None, self._words(*names), LEAST)] if names else [panel]

    def _pages(self, panels: list[Panel]) -> tuple[Page, ...]:
        return pages(panels, self._kit.room)

    def _past_foil(self, scale: Scale) -> float:
        """Board to draw beyond the land so that the foil over it ends before the break."""
        foil, covered = self._recipe.tapes["foil"], self._recipe.covered
        return PAST_FOIL + max(0.0, (foil.width - covered.width) / 2 / scale.ratio)

    # --- what stands on the sheets ---------------------------------------------------------------

    def _steps(self, sentences: tuple[str, ...], start: int, style: Style) -> Callable[[float], Block]:
        return lambda width: steps((0.0, 0.0), width, sentences, self._kit.lettering, style, start=start)

    def _words(self, *names: str) -> Callable[[float], Block]:
        """The named blocks of words one below the other: WORDS lists the names."""
        return lambda width: stack((0.0, 0.0), [self._block(name, width) for name in names], 3.0, width)

    def _block(self, name: str, width: float) -> Block:
        words, lettering = self._kit.words, self._kit.lettering
        if name == "next":
            return paragraph((0.0, 0.0), width, f"**{words.text('recipes.next', next=self._recipe.follows)}**", BODY, lettering)
        if name == "mistake":
            body = paragraph((0.0, 0.0), width, self._text("mistake"), BODY, lettering)
            return headed(width, words.text("recipes.heading.mistake"), body, lettering)
        if name == "places":
            lines = [paragraph((0.0, 0.0), width, line, BODY, lettering) for line in self._places()]
            return headed(width, self._total(), stack((0.0, 0.0), lines, 0.5, width), lettering)
        checks = [*self._texts("check"), words.text("recipes.rolled")]
        thin = next((tape for tape in self._recipe.tapes.values() if tape.thin), None)
        if thin:
            checks.append(words.text("recipes.thin", land=thin.land))
        return headed(
            width, words.text("recipes.heading.check"), ticked(width, checks, BODY, lettering, 1.5), lettering
        )

    def _total(self) -> str:
        lengths = [s.length for s in self._seams or sills(self._plan)]
        key = "seams" if self._seams else "strips"
        return self._kit.words.text(f"recipes.heading.{key}", count=len(lengths), total=sum(lengths))

    def _list_places(self) -> list[str]:
        """The seams by kind and length, or the runs of the sill strip."""
        words = self._kit.words
        if not self._seams:
            return [
                words.text(
                    "recipes.sill.run",
                    half=self._plan.assembly.by_mark[strip.leaves[0]].half if self._values["halved"] else "",
                    length=strip.length,
                    marks=" ".join(strip.leaves),
                )
                for strip in sills(self._plan)
            ]
        groups: dict[tuple[SeamKind, str], list[Seam]] = {}
        for seam in self._seams:
            groups.setdefault((seam.kind, self._kit.form.length(seam.length)), []).append(seam)
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

    def _say(self, key: str) -> str:
        return self._kit.words.text(f"recipes.{self._recipe.words}.{key}", **self._values)

    def _say_all(self, key: str) -> tuple[str, ...]:
        return self._kit.words.texts(f"recipes.{self._recipe.words}.{key}", **self._values)


def _sheet(kit: Kit, recipe: Recipe, view: _Titled, number: str) -> Sheet:
    words, entry = kit.words, "recipes" if view.key == "_strips" else f"recipes.{recipe.words}"
    return Sheet(
        number=number,
        title=words.text(f"{entry}.title{view.key}", **recipe.values),
        subtitle=words.text(f"{entry}.subtitle{view.key}", **recipe.values),
        station=recipe.station.word,
        kind=words.text("recipes.kind"),
        marks=view.page.marks,
        subject="" if view.key == "_strips" else _subject(recipe.seams),
        scale_label=view.scale.label if view.page.views else "",
        viewports=view.page.viewports(view.scale.ratio, "section"),
    )


def _subject(seams: Sequence[Seam]) -> str:
    """The hinges a recipe is for: all of them where the field has room, else the first and how many more."""
    marks = [seam.mark for seam in seams]
    ways = (" ".join(marks), f"{marks[0]} +{len(marks) - 1}") if marks else ()
    return next((way for way in ways if len(way) <= SUBJECT_LENGTH), "")
