"""Parts at full size: in tiles on the packet's paper, or on a roll."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import Open, Out, Paper, Project, counted, pdf_name, plan_of, refuse, say, show, warn, written

if TYPE_CHECKING:
    from packet.drawing.page import FinishedSheet
    from packet.plan import Plan


def full_size(
    project: Project,
    part: Annotated[str, typer.Argument(help="Mark of a leaf (A3) or a board (\"board 4\"), or \"all boards\".",
                                        show_default=False)],
    roll: Annotated[str | None, typer.Option(help="Width of a roll to print on, such as 36 in; else in tiles.")] = None,
    out: Out = None,
    paper: Paper = None,
    open_it: Open = False,
) -> None:
    """Print a leaf or a board at full size. In tiles that overlap, or on one long page of a roll.

    Example: packet full-size hut.yaml A3; packet full-size hut.yaml "board 4" --roll "60 in"
    """
    from packet.drawing.room import LayoutError
    from packet.printing import full_size_sheets, print_finished

    if out:
        pdf_name(out, project)
    plan = plan_of(project, paper)
    parts = _parts(plan, part)
    width = _width(plan, roll) if roll else None

    def draw() -> tuple[FinishedSheet, ...]:
        try:
            sheets = full_size_sheets(plan, parts, width)
        except LayoutError as fault:
            refuse(f"{fault}")
        return print_finished(plan, sheets, target)

    name = parts[0].replace(" ", "-") if len(parts) == 1 else "all-boards"
    target = out or project.with_name(f"{project.stem}-full-size-{name}.pdf")
    sheets = written(target, draw)
    warn(plan)
    say(f"Wrote {target}: {counted(len(sheets), 'page')}. Print at 100 %, measure the bars.")
    show(target, open_it)


def _parts(plan: Plan, text: str) -> tuple[str, ...]:
    """`A3` or `board 4` as they are written in the packet, or every board."""
    wanted = " ".join(text.split()).lower()
    boards = [board.mark for board in plan.boards]
    if wanted == "all boards":
        return tuple(f"board {mark}" for mark in boards)
    leaves = {leaf.mark.lower(): leaf.mark for leaf in (*plan.assembly.leaves, *plan.parts.leaves)}
    if wanted in leaves:
        return (leaves[wanted],)
    number = wanted.removeprefix("board").strip()
    if number not in boards:
        refuse(f"part {text!r}: there is no leaf or board of this mark (limit: leaves {', '.join(leaves.values())}; boards "
               f"{boards[0]} to {boards[-1]}). Write a mark as it stands on the marking sheet, or \"all boards\".")
    return (f"board {number}",)


def _width(plan: Plan, text: str) -> float:
    from packet.drawing.full_size import BARS, MARGIN
    from packet.units import LengthError, ceil_to, parse_length

    form = plan.form
    least = ceil_to(max(length for length, _ in BARS[plan.description.system]) + 2 * MARGIN, plan.description.system)
    most = 5080.0
    limit = f"limit: {form.length_unit(least)} to {form.length_unit(most)}"
    try:
        width = parse_length(text, plan.description.system)
    except LengthError as fault:
        refuse(f"--roll {text!r}: {fault} ({limit})")
    if not least <= width <= most:
        refuse(f"--roll {text!r}: a page of this width cannot hold the bars that check its size, or is too wide "
               f"({limit}). Give the width of the roll.")
    return width
