"""A spoiled part: what can be done, and the pages that change with what is decided."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import Project, opened, progress, refuse, report, say, tell, written

if TYPE_CHECKING:
    from packet.assembly.records import Leaf
    from packet.description.decided import Remedy
    from packet.ledger.store import Ledger
    from packet.miscut.answers import Answer, Case
    from packet.miscut.damage import Damage
    from packet.plan import Plan


def miscut(
    project: Project,
    mark: Annotated[str, typer.Argument(help="Mark of the spoiled leaf, such as A3; of several sets with its number, 2-A3.",
                                        show_default=False)],
    height: Annotated[str | None, typer.Option(help="Its real height, from the eave, sill or bottom edge.")] = None,
    width: Annotated[str | None, typer.Option(help="Its real width, from the mid or left edge.")] = None,
    short: Annotated[str | None, typer.Option(help='An edge and how far it lies inside its line: "hip 1/2".')] = None,
    out_of_square: Annotated[str | None, typer.Option(help="By how much its two diagonals differ.")] = None,
    hole: Annotated[str | None, typer.Option(
        help='A hole: across from the mid or left edge, up, and its diameter: "6, 20, 1".')] = None,
    wrong_hand: Annotated[bool, typer.Option("--wrong-hand", help="Cut as the other hand.")] = False,
    lost: Annotated[bool, typer.Option("--lost", help="Lost or beyond use.")] = False,
    take: Annotated[int | None, typer.Option(min=1, max=8, help="Take this answer: record it, and write the pages that "
                                             "change.", show_default=False)] = None,
    pages: Annotated[bool, typer.Option("--pages", help="Name every page that each answer changes, those of the register "
                                        "too: draws the packet once for every answer.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="One JSON object: mm, degrees, minutes, hours.")] = False,
) -> None:
    """What to do about a spoiled leaf. Every answer is ranked, the first that is possible advised.

    Example: packet miscut hut.yaml A3 --height 47-1/2

    Example: packet miscut hut.yaml A3 --height 47-1/2 --take 2

    Example: packet miscut hut.yaml 2-A3 --height 47-1/2
    """
    import json

    from packet.description.decided import part_mark
    from packet.ledger.entries import State
    from packet.ledger.standing import pieces
    from packet.miscut.answers import Case, answers
    from packet.miscut.telling import data, lines, told
    from packet.words import Words

    plan, ledger = opened(project)
    leaf, copy = _leaf(plan, mark)
    damage = _damage(plan, leaf, height, width, short, out_of_square, hole, wrong_hand, lost)
    words, on_paper = Words(plan.form), Words(plan.form, plan.description.language)
    state = pieces(ledger, (part_mark(name, copy) for name in plan.parts.by_mark))
    # Where a part of a leaf is bonded, its leaf is.
    taped = tuple(dict.fromkeys(
        name for mark, piece in state.items() if piece and piece.state in (State.SEALED, State.BONDED)
        for name in (mark.removeprefix(f"{copy}-"), plan.owners[mark.removeprefix(f"{copy}-")])))
    case = Case(plan, leaf, damage, told(on_paper, damage), taped, copy)
    found = answers(case)
    if take is not None:
        _take(project, case, found[take - 1], take, ledger)
        return
    changed = _pages(project, case, found, ledger, pages)
    if as_json:
        typer.echo(json.dumps(data(words, case, found, changed), indent=1, ensure_ascii=False))
        return
    for line in lines(words, case, found, changed, pages):
        tell(line)
    tell(words.text("miscut.nothing_written"))


def _pages(project: Project, case: Case, found: tuple[Answer, ...], ledger: Ledger, every: bool
           ) -> dict[Remedy, tuple[str, ...] | None]:
    """The sheets that change with each answer that is possible, by drawing them: `every` one, or in a moment those that
    can change, without the register; None where most do."""
    from packet.description import load
    from packet.drawing.page import FinishedSheet
    from packet.ledger.joined import plan_with
    from packet.reissue import changed_pages, pages_changed_by_boards, with_decision

    decisions = [answer.decision for answer in found if answer.decision is not None]
    numbers: list[tuple[str, ...] | None] = []

    def draw() -> tuple[FinishedSheet, ...]:
        description = load(project)
        after = tuple(plan_with(description, with_decision(ledger, one)) for one in decisions)
        numbers.extend(changed_pages(case.plan, after, progress) if every else pages_changed_by_boards(case.plan, after))
        return ()

    written(project.with_suffix(".pdf"), draw)
    return {one.remedy: each for one, each in zip(decisions, numbers, strict=True)}


def _take(project: Project, case: Case, answer: Answer, number: int, ledger: Ledger) -> None:
    """Record the answer and write its pages beside the project."""
    from packet.description import ProjectError, load
    from packet.drawing.page import FinishedSheet
    from packet.ledger.entries import Piece, State
    from packet.ledger.joined import plan_with
    from packet.ledger.standing import pages_out
    from packet.miscut.answers import answers
    from packet.reissue import pdf_of, publish, reissue, with_decision

    decision = answer.decision
    if decision is None:
        possible = [str(n) for n, one in enumerate(answers(case), 1) if one.possible]
        refuse(f"--take {number}: this answer is not possible (limit: {', '.join(possible)}). "
               "Run the command without --take to read why.")
    target = project.with_name(f"{project.stem}-reissue-{decision.number}.pdf")
    drawn: list[FinishedSheet] = []

    def draw() -> tuple[FinishedSheet, ...]:
        after = plan_with(load(project), with_decision(ledger, decision))
        drawn.extend(reissue(case.plan, after, pages_out(ledger), decision, progress))
        actual = {name: value for name in ("width", "height", "skew")
                  if (value := getattr(case.damage, name)) is not None}
        publish(ledger, decision, (Piece(case.mark, State.SPOILED, actual=actual),), pdf_of(after, tuple(drawn)), target)
        return tuple(drawn)

    try:
        written(target, draw)
    except ProjectError as fault:
        report(fault)
    say(f"Recorded in {ledger.path}: decision {decision.number}, leaf {case.mark}.")
    say(f"Wrote {target}: {len(drawn)} pages, {', '.join(sheet.number for sheet in drawn)}. "
        "Collect the old ones by the recall slip, then issue these.")


def _leaf(plan: Plan, text: str) -> tuple[Leaf, int]:
    """The leaf of a mark, and the number of its set; 0 where there is one."""
    from packet.description.decided import part_mark

    sets = plan.description.quantity
    copies = range(1, sets + 1) if sets > 1 else (0,)
    leaves = {part_mark(leaf.mark, copy).lower(): (leaf, copy) for leaf in plan.parts.leaves for copy in copies}
    wanted = text.strip().lower()
    alone = next((leaf.mark for leaf in plan.parts.leaves if leaf.mark.lower() == wanted), "")
    if alone and sets > 1:
        refuse(f"leaf {text!r}: the order is for {sets} sets, and each has this leaf (limit: {part_mark(alone, 1)} to "
               f"{part_mark(alone, sets)}). Write the mark with its set, as it stands on the piece.")
    whole, copy = next(((leaf.mark, copy) for leaf in plan.assembly.leaves if leaf.splices for copy in copies
                        if wanted in (leaf.mark.lower(), part_mark(leaf.mark, copy).lower())), ("", 0))
    if whole:
        parts = ", ".join(part_mark(mark, copy) for mark, leaf in plan.owners.items() if leaf == whole)
        refuse(f"leaf {text!r}: it is made of parts, and a part is cut anew alone (limit: {parts}). "
               "Write the mark of the part that is spoiled; where it is joined already, cut it out along the splice.")
    if wanted not in leaves:
        limit = ", ".join(part_mark(mark, copies[0]) for mark in plan.parts.by_mark)
        more = f", and so on to set {sets}" if sets > 1 else ""
        refuse(f"leaf {text!r}: there is no leaf of this mark (limit: {limit}{more}). Write the mark as it stands on the "
               "marking sheet.")
    return leaves[wanted]


def _damage(plan: Plan, leaf: Leaf, height: str | None, width: str | None, short: str | None, skew: str | None,
            hole: str | None, wrong_hand: bool, lost: bool) -> Damage:
    from packet.boards.blanks import rough_size
    from packet.miscut.damage import Damage

    wide, high = rough_size(leaf)
    damage = Damage(
        width=_size(plan, "--width", width, wide), height=_size(plan, "--height", height, high),
        shaved=_edge(plan, leaf, short) if short else None,
        skew=_size(plan, "--out-of-square", skew, min(wide, high)),
        hole=_hole(plan, hole, wide, high) if hole else None, wrong_hand=wrong_hand, lost=lost)
    if damage == Damage():
        refuse(f"leaf {leaf.mark}: nothing is said about what is wrong (limit: one or more of --height, --width, --short, "
               "--out-of-square, --hole, --wrong-hand, --lost). Measure the piece and give what is not as it should be.")
    return damage


def _size(plan: Plan, option: str, text: str | None, most: float, least: float = 0.0) -> float | None:
    """A length from an option; more than the leaf itself is no miscut that is known here."""
    from packet.units import LengthError, parse_length

    if text is None:
        return None
    limit = f"limit: more than {plan.form.length_unit(least)}, at most {plan.form.length_unit(most)}"
    try:
        size = parse_length(text, plan.description.system)
    except LengthError as fault:
        refuse(f"{option} {text!r}: {fault} ({limit})")
    if not least < size <= most + 1e-6:
        refuse(f"{option} {text!r}: a piece of this leaf cannot have that ({limit}). A piece that is too large is "
               "trimmed to its line; measure again.")
    return size


def _edge(plan: Plan, leaf: Leaf, text: str) -> tuple[str, float]:
    from packet.boards.blanks import rough_size

    name, _, size = text.strip().partition(" ")
    if name.lower() not in leaf.edges or not size.strip():
        refuse(f"--short {text!r}: needs an edge of leaf {leaf.mark} and a length (limit: {', '.join(leaf.edges)}). "
               f'Write it as "{leaf.edges[1]} {plan.form.length(12.7)}".')
    found = _size(plan, f"--short {name}", size, min(rough_size(leaf)) / 2)
    return name.lower(), found or 0.0


def _hole(plan: Plan, text: str, wide: float, high: float) -> tuple[float, float, float]:
    parts = [part.strip() for part in text.split(",")]
    if len(parts) != 3:
        refuse(f"--hole {text!r}: needs three lengths (limit: across, up, diameter). "
               f'Write it as "{plan.form.length(152.4)}, {plan.form.length(508)}, {plan.form.length(25.4)}".')
    across, up, size = (_size(plan, "--hole", part, most, -1e-9) or 0.0
                        for part, most in zip(parts, (wide, high, max(wide, high)), strict=True))
    return across, up, size
