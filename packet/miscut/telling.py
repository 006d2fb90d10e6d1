"""Answers in words: lines for the terminal and for their sheets, numbers as plain data for JSON."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from packet.assembly.records import SeamKind
from packet.description.buying_values import amount
from packet.description.decided import Remedy
from packet.miscut.answers import Answer, Case, unfixed
from packet.miscut.damage import Damage
from packet.miscut.effects import Effect, Unit
from packet.plan import Plan
from packet.words import Words


def told(words: Words, damage: Damage) -> str:
    """`23-1/2 in wide`: the damage as it was asked."""
    parts = []
    if damage.width is not None:
        parts.append(words.text("miscut.told.width", size=damage.width))
    if damage.height is not None:
        parts.append(words.text("miscut.told.height", size=damage.height))
    if damage.shaved is not None:
        parts.append(words.text("miscut.told.shaved", edge=damage.shaved[0], size=damage.shaved[1]))
    if damage.skew is not None:
        parts.append(words.text("miscut.told.skew", size=damage.skew))
    if damage.hole is not None:
        across, up, size = damage.hole
        parts.append(words.text("miscut.told.hole", across=across, up=up, size=size))
    parts += [words.text(f"miscut.told.{name}") for name in ("wrong_hand", "lost") if getattr(damage, name)]
    return ", ".join(parts)


def does(words: Words, case: Case, answer: Answer) -> str:
    """What the answer says to do, or why it cannot be done."""
    key = f"miscut.does.{answer.remedy}" if answer.possible else f"miscut.why_not.{answer.no}"
    return words.text(key, mark=case.mark, **answer.values)


def takes(words: Words, case: Case, answer: Answer) -> str:
    """Cuts, minutes, waiting and boards, with the price of a board where the project gives one."""
    prices = case.plan.description.prices
    price = amount(answer.boards * prices.board, prices.currency) if answer.boards and prices.board is not None else ""
    return words.text("miscut.takes", cuts=answer.cuts, lines=answer.lines, minutes=answer.minutes, hours=answer.hours,
                      boards=answer.boards, price=price, tape=answer.tape)


def effect_lines(words: Words, plan: Plan, effects: tuple[Effect, ...]) -> tuple[tuple[str, str, str], ...]:
    """Name, before and after of every effect."""
    form = words.form

    def written(effect: Effect, value: float) -> str:
        if effect.unit is Unit.ANGLE:
            return f"{form.fixed(value, 2)}°"
        return form.length_both(value)

    return tuple((words.text(f"miscut.effect.{effect.name}", of=_of(words, plan, effect)),
                  written(effect, effect.before), written(effect, effect.after)) for effect in effects)


def _of(words: Words, plan: Plan, effect: Effect) -> str:
    """The seams by their marks, or `all` where it is every one of a kind."""
    marks = effect.of.split(", ")
    kinds = [seam.kind for seam in plan.assembly.seams if seam.mark == marks[0]]
    alike = [seam.mark for seam in plan.assembly.seams if kinds and seam.kind is kinds[0]]
    return words.text("miscut.every") if kinds and kinds[0] is not SeamKind.SEAM and len(marks) == len(alike) else effect.of


def lines(words: Words, case: Case, answers: tuple[Answer, ...],
          pages: Mapping[Remedy, tuple[str, ...] | None] | None = None, every: bool = False) -> Iterator[str]:
    """The whole report for the terminal; `pages` are the numbers of the sheets that each answer changes: of `every` one, or
    without those of the register; None where most of them change."""
    head = words.text("miscut.asked", mark=case.mark, told=told(words, case.damage))
    loss = case.loss
    yield head if loss is None else f"{head} ({words.text('miscut.loss', edge=loss.edge, by=loss.by, beside=loss.beside)})"
    moved = [one for one in unfixed(case) if case.plan.assembly.seam_by_mark[one[0]].kind in (
        SeamKind.WALL_MID, SeamKind.SEAM)]
    if moved:
        yield words.text("miscut.unfixed", seams=[mark for mark, _ in moved], by=max(far for _, far in moved))
    advised = next(answer for answer in answers if answer.possible)
    for number, answer in enumerate(answers, 1):
        name = words.text(f"miscut.name.{answer.remedy}")
        if not answer.possible:
            yield f"  {number}  no   {name}. {does(words, case, answer)}"
            continue
        mark = words.text("miscut.advised").upper() if answer is advised else "yes"
        yield f"{'>' if answer is advised else ' '} {number}  {mark}  {name}. {does(words, case, answer)}"
        yield f"          {takes(words, case, answer)}"
        for what, before, after in effect_lines(words, case.plan, answer.effects):
            yield f"          {what}: {before} -> {after}"
        if pages and answer.remedy in pages:
            yield f"          {words.text('miscut.pages', pages=pages[answer.remedy], every=every)}"


def data(words: Words, case: Case, answers: tuple[Answer, ...],
         pages: Mapping[Remedy, tuple[str, ...] | None] | None = None) -> dict[str, Any]:
    """The same as plain data; mm, degrees, minutes, hours."""
    advised = next(number for number, answer in enumerate(answers, 1) if answer.possible)
    return {
        "leaf": case.mark, "damage": told(words, case.damage), "advised": advised,
        "unfixed": [{"seam": mark, "mm": far} for mark, far in unfixed(case)],
        "answers": [{
            "number": number, "answer": str(answer.remedy), "possible": answer.possible, "why_not": answer.no,
            **{key: value for key, value in answer.values.items() if isinstance(value, str | int | float | list)},
            "cuts": answer.cuts, "lines_mm": answer.lines, "minutes": answer.minutes, "wait_hours": answer.hours,
            "boards": answer.boards, "tape_mm": answer.tape, "changed_pages": (pages or {}).get(answer.remedy),
            "effects": [{"name": e.name, "of": e.of, "before": e.before, "after": e.after, "unit": str(e.unit)}
                        for e in answer.effects],
        } for number, answer in enumerate(answers, 1)]}
