"""The command that gives every table its own pages."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import Paper, Project, folder_beside, pdf_name, plan_of, progress, refuse, say, warn, written

if TYPE_CHECKING:
    from packet.drawing.page import FinishedSheet
    from packet.work.stations import Station


def handout(
    project: Project,
    station: Annotated[list[str] | None, typer.Option(
        help="Station by letter or word, such as cut; may be given several times.", show_default=False)] = None,
    everyone: Annotated[bool, typer.Option("--all", help="Every station that has work.")] = False,
    out: Annotated[Path | None, typer.Option(
        "--out", "-o", help="A PDF, which binds several stations under tabs; or a folder for a file each.")] = None,
    paper: Paper = None,
) -> None:
    """Print only what a station needs. Its card, its part of the checklist, the sheets it works by, its table tent.

    Example: packet handout hut.yaml --station cut

    Example: packet handout hut.yaml --all -o tables/
    """
    from packet.printing import draw_handouts, print_handouts

    if bool(station) == everyone:
        refuse("handout: say which station (limit: --station, once or several times, or --all). "
               "Write --station cut, for example, or --all.")
    bound = out is not None and out.suffix.lower() == ".pdf"
    if out is not None and bound:
        pdf_name(out, project)
    plan = plan_of(project, paper)
    drawn: dict[Station, tuple[FinishedSheet, ...]] = {}

    def draw() -> tuple[FinishedSheet, ...]:
        drawn.update(draw_handouts(plan, progress))
        return ()

    written(out if out is not None and bound else project.with_suffix(".pdf"), draw)
    wanted = list(drawn) if everyone else _wanted(station or [], list(drawn))
    if out is None and not everyone:
        out = project.with_name(f"{project.stem}-{'-'.join(each.word.lower() for each in wanted)}.pdf")
        bound = True
    folder = out or folder_beside(project, "handouts")
    targets = {each: folder if bound else folder / f"{project.stem}-{each.word.lower()}.pdf" for each in wanted}
    if not bound:
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as fault:
            refuse(f"{folder}: this folder cannot be made ({fault.strerror}). Name another with --out.")
    for target in dict.fromkeys(targets.values()):
        own = {each: drawn[each] for each in wanted if targets[each] == target}
        written(target, partial(print_handouts, plan, own, target))
        pages = sum(len(sheets) for sheets in own.values())
        say(f"Wrote {target}: {', '.join(each.word.lower() for each in own)}, {pages} pages")
    warn(plan)


def _wanted(texts: list[str], known: list[Station]) -> list[Station]:
    from packet.work.handouts import station_named

    found = []
    for text in texts:
        named = station_named(text)
        if named is None or named not in known:
            refuse(f"--station {text!r}: this project has no such station (limit: "
                   f"{', '.join(f'{each} or {each.word.lower()}' for each in known)}). Write its letter or its word.")
        found.append(named)
    return list(dict.fromkeys(found))
