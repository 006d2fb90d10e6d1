"""Commands that write to the ledger beside the project: what went out, was measured, was done; and what it says."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Annotated

import typer

from packet.commands.common import Project, counted, ledger_of, opened, recorded, refuse, say, tell, warn

if TYPE_CHECKING:
    from packet.drawing.page import FinishedSheet
    from packet.plan import Plan


def issue(
    project: Project,
    to: Annotated[str, typer.Option(help="Who gets the pages: a name or a table.", show_default=False)],
    sheet: Annotated[list[str] | None, typer.Option(help="Only these sheets, such as C-04; may be given again.",
                                                    show_default=False)] = None,
    station: Annotated[list[str] | None, typer.Option(help="Only the sheets of these stations: a letter or a word such "
                                                      "as C or cut; may be given again.", show_default=False)] = None,
) -> None:
    """Record which pages go out, and to whom. So they can be called back.

    Example: packet issue hut.yaml --to "cutting table" --station cut
    """
    from packet.ledger.entries import Issued
    from packet.printing import drawn

    holder = _name(to)
    plan, ledger = opened(project)
    chosen = _alone(plan, sheet) if sheet and not station else _chosen(drawn(plan), sheet or [], station or [])
    identity, inputs = plan.description.identity, plan.description.fingerprint
    recorded(ledger, [Issued(one.number, one.serial, identity.revision, inputs, holder) for one in chosen])
    named = " to ".join(dict.fromkeys((chosen[0].number, chosen[-1].number)))
    say(f"Recorded in {ledger.path}: {counted(len(chosen), 'page')} to {holder}, {named}")


def collect(
    project: Project,
    serials: Annotated[list[str], typer.Argument(help="Serials of pages that came back.", metavar="SERIAL...",
                                                 show_default=False)],
    holder: Annotated[str | None, typer.Option("--from", help="Who had them, where several people hold the same page.",
                                               show_default=False)] = None,
) -> None:
    """Record that pages came back or were destroyed.

    Example: packet collect hut.yaml K3F-9QZ1
    """
    from packet.ledger.entries import Collected
    from packet.ledger.standing import pages_out

    ledger = ledger_of(project)
    out = pages_out(ledger)
    items = []
    for serial in (text.strip().upper() for text in serials):
        held = [page.issued for page in out if page.issued.serial == serial and holder in (None, page.issued.holder)]
        if not held:
            refuse(f"{serial}: nobody holds this page by {ledger.path}. Look at packet ledger {project}.")
        items += [Collected(serial, page.holder) for page in held]
    recorded(ledger, items)
    say(f"Recorded in {ledger.path}: {len(items)} pages came back")


def done(
    project: Project,
    what: Annotated[list[str], typer.Argument(help="Marks of pieces, such as A3, or keys of tasks as packet ledger shows "
                                              "them.", metavar="MARK|TASK...", show_default=False)],
    state: Annotated[str | None, typer.Option(help="How far the pieces are: marked, cut, sealed, bonded or spoiled; cut "
                                              "without this.", show_default=False)] = None,
    minutes: Annotated[float | None, typer.Option(min=0.1, max=6000, help="How long the task took.",
                                                  show_default=False)] = None,
    page: Annotated[str, typer.Option(help="Serial of the page it was done by.")] = "",
    width: Annotated[str | None, typer.Option(help="What the piece really measures across.", show_default=False)] = None,
    height: Annotated[str | None, typer.Option(help="What the piece really measures upward.", show_default=False)] = None,
    quantity: Annotated[float | None, typer.Option(min=0.0, max=1e6, help="How much was done: metres or yards of tape, "
                                                   "pieces, as the crew counts it.", show_default=False)] = None,
    hands: Annotated[int | None, typer.Option(min=1, max=100, help="How many people did the task.",
                                              show_default=False)] = None,
    of_set: Annotated[int | None, typer.Option("--set", min=1, max=24, help="Which set of the order it was done for; all of "
                                               "them without this.", show_default=False)] = None,
) -> None:
    """Record how far pieces are, or that a task is done. With the minutes, people and amount, where they are known.

    Example: packet done hut.yaml A3 A4 --state cut

    Example: packet done hut.yaml A3 --width 23-15/16 --height 48

    Example: packet done hut.yaml cut:1 --minutes 35 --hands 2

    Example: packet done hut.yaml fold:A --set 2
    """
    from packet.ledger.entries import Done, Item, Piece, State
    from packet.work.mending import whole_work

    if state is not None and state not in tuple(State):
        refuse(f"--state {state}: there is no such state (limit: {', '.join(State)}). Give one of these.")
    plan, ledger = opened(project)
    work = {task.key: task for task in whole_work(plan)}
    board_of = {piece.mark: board.mark for board in plan.boards for piece in board.pieces}
    parts_of = _parts_of(plan)
    items: list[Item] = []
    actual = _sizes(plan, width, height)
    for name in what:
        if name in board_of or name in parts_of:
            items += [Piece(one, State(state or State.CUT), board_of[one], page.strip().upper(), actual)
                      for one in sorted(parts_of.get(name, [name]))]
        elif name in work:
            _check_set(name, of_set, plan.description.quantity, work[name].each_set)
            items.append(Done(name, str(work[name].station), minutes, quantity, hands, of_set or 0))
        else:
            refuse(f"{name}: {project} has no piece and no task of this name. Pieces are {_few(board_of)}; "
                   f"packet ledger {project} lists the tasks.")
    tasks, pieces = (sum(isinstance(item, kind) for item in items) for kind in (Done, Piece))
    if of_set and not tasks:
        refuse(f"--set {of_set}: belongs to a task. The mark of a piece names its set: write it as 2-A3.")
    if state is not None and not pieces:
        refuse(f"--state {state}: belongs to a piece, and a task is done or not. Leave it out, or name pieces.")
    _belong_to_one("task", tasks, {"--minutes": minutes, "--quantity": quantity, "--hands": hands})
    _belong_to_one("piece", pieces, {"--width": width, "--height": height})
    recorded(ledger, items)
    say(f"Recorded in {ledger.path}: {', '.join(what)}")


def _parts_of(plan: Plan) -> dict[str, list[str]]:
    """The pieces of every leaf by its mark: a leaf that is made of parts stands for all of them."""
    from packet.description.decided import part_mark

    found: dict[str, list[str]] = {}
    for board in plan.boards:
        for piece in board.pieces:
            found.setdefault(part_mark(plan.owners[piece.leaf], piece.copy), []).append(piece.mark)
    return found


def _belong_to_one(one: str, count: int, options: dict[str, float | int | str | None]) -> None:
    """Refuse what was measured or counted where not exactly one task, or piece, is named for it."""
    given = [name for name, value in options.items() if value is not None]
    if given and count != 1:
        refuse(f"{given[0]} {options[given[0]]}: belongs to one {one}, and {count} are named (limit: 1). "
               f"Record one {one} at a time.")


def verify(
    project: Project,
    serials: Annotated[list[str], typer.Argument(help="Serials, as they stand at the foot of a page or as "
                                                 "its square code is read.", metavar="SERIAL...",
                                                 show_default=False)],
) -> None:
    """Whether a page is still good: current, superseded, or unknown.

    Example: packet verify hut.yaml K3F-9QZ1

    Exit code 2 when a page is not current.
    """
    from packet.drawing.page_code import serial_in, sheet_in
    from packet.ledger.standing import sheets_of
    from packet.printing import drawn, one_sheet

    plan, ledger = opened(project)
    stale = False
    for scanned in serials:
        serial, was = serial_in(scanned), sheets_of(ledger, serial_in(scanned))
        # The page's own code or the ledger says which sheet it is; only for a bare serial is the whole packet drawn.
        known = tuple(dict.fromkeys((*was, *sheet_in(scanned))))
        pages = [page for number in known for page in one_sheet(plan, number)] if known else drawn(plan)
        now = {page.number: page.serial for page in pages}
        if numbers := [number for number, one in now.items() if one == serial]:
            tell(f"{serial}: current, sheet {', '.join(numbers)}")
            continue
        stale = True
        if was:
            instead = "; ".join(f"sheet {number} is now {now[number]}" if number in now else f"there is no sheet {number} now"
                                for number in was)
            tell(f"{serial}: superseded, {instead}. Collect it.")
        else:
            tell(f"{serial}: unknown, no page of this project as it stands and none that was issued. Do not work by it.")
    warn(plan)
    if stale:
        raise typer.Exit(2)


def ledger(
    project: Project,
    as_json: Annotated[bool, typer.Option("--json", help="Everything that was recorded, as one JSON object.")] = False,
) -> None:
    """How every piece and page stands.

    Example: packet ledger hut.yaml
    """
    import json

    from packet.ledger.entries import Measured, to_data
    from packet.ledger.standing import pages_out, pieces, readings, sets_left, tasks_done
    from packet.work.mending import whole_work

    plan, book = opened(project)
    board_of = {piece.mark: board.mark for board in plan.boards for piece in board.pieces}
    states, finished = pieces(book, board_of), tasks_done(book)
    if as_json:
        found = {
            "entries": [{"act": entry.act, "at": entry.at, **to_data(entry.item)} for entry in book.entries],
            "pages_out": [asdict(page) for page in pages_out(book)],
            "pieces": {mark: {"state": "planned", "board": board_of[mark]} if one is None else to_data(one)
                       for mark, one in states.items()},
        }
        typer.echo(json.dumps(found, indent=1, ensure_ascii=False))
        return
    tell(f"{book.path}: {book.acts} acts recorded" if book.acts else f"{book.path}: nothing recorded yet")
    form = plan.form
    tell("Pieces")
    for mark, one in states.items():
        state = "planned" if one is None else str(one.state)
        actual = "" if one is None or not one.actual else ", " + ", ".join(
            f"{name} {form.length_unit(size)}" for name, size in one.actual.items())
        tell(f"  {mark:<8} {state:<8} board {board_of[mark]}{actual}")
    if measured := readings(book):
        tell("Boards measured")
        for board, reading in sorted(measured.items(), key=lambda pair: int(pair[0])):
            tell(f"  board {board:<3} " + (
                form.size(reading.breadth, reading.length) if isinstance(reading, Measured) else "set aside"))
    tell("Tasks")
    sets = plan.description.quantity
    for task in whole_work(plan):
        said = [one for (key, _), one in finished.items() if key == task.key]
        left = sets_left(finished, task.key, sets)
        state = "open" if not said else f"done, but for set {', '.join(map(str, left))}" if left else "done"
        took = sum(one.minutes or 0.0 for one in said)
        tell(f"  {task.key:<28} {state}{f', {took:g} minutes' if took else ''}")
    tell("Pages out")
    for page in pages_out(book):
        one_page = page.issued
        tell(f"  {one_page.sheet:<5} {one_page.serial} revision {one_page.revision} {one_page.holder}, {page.at[:10]}")


def _check_set(task: str, number: int | None, sets: int, each: bool) -> None:
    """Refuse a set that the order has not, or one for a task that is done once for all of them."""
    if number is None:
        return
    if number > sets:
        refuse(f"--set {number}: the order has no such set (limit: 1 to {sets}). Give one of these.")
    if not each:
        refuse(f"--set {number}: {task} is done once for all sets (limit: none). Leave --set out.")


def _sizes(plan: Plan, width: str | None, height: str | None) -> dict[str, float]:
    """What was measured on a piece, mm. A piece may come out larger than its leaf, but not than a board."""
    from packet.units import LengthError, parse_length

    found, most = {}, plan.nest.stock.length
    for name, text in (("width", width), ("height", height)):
        if text is None:
            continue
        limit = f"limit: more than {plan.form.length_unit(0.0)}, at most {plan.form.length_unit(most)}"
        try:
            found[name] = parse_length(text, plan.description.system)
        except LengthError as fault:
            refuse(f"--{name} {text!r}: {fault} ({limit}). Measure again.")
        if not 0.0 < found[name] <= most:
            refuse(f"--{name} {text!r}: no piece of a board has this ({limit}). Measure again.")
    return found


def _name(text: str) -> str:
    name = " ".join(text.split())
    if not name or len(name) > 40 or not name.isprintable():
        refuse(f"--to {text!r}: is no name (limit: 1 to 40 printable characters). Give a name or a table.")
    return name


def _alone(plan: Plan, numbers: list[str]) -> list[FinishedSheet]:
    """The sheets of these numbers in the order they are bound, without drawing the others."""
    from packet.printing import one_sheet
    from packet.work.sheet_numbers import binding_order

    found = {}
    for number in (number.upper() for number in numbers):
        page = one_sheet(plan, number)
        if not page or page[0].number != number:
            refuse(_NO_SHEET.format(number=number))
        found[number] = page[0]
    return sorted(found.values(), key=lambda page: binding_order(page.number))


_NO_SHEET = "--sheet {number}: there is no such sheet. The register on the cover lists them."


def _chosen(sheets: tuple[FinishedSheet, ...], numbers: list[str], stations: list[str]) -> list[FinishedSheet]:
    """The sheets of these numbers and stations; all where neither is named."""
    if not numbers and not stations:
        return list(sheets)
    known = {sheet.number for sheet in sheets}
    for number in numbers:
        if number.upper() not in known:
            refuse(_NO_SHEET.format(number=number))
    tags = {sheet.station for sheet in sheets} | {sheet.station[0] for sheet in sheets}
    letters = {sheet.number[0] for sheet in sheets}
    for name in stations:
        if name.upper() not in tags | letters:
            refuse(f"--station {name}: there is no such station (limit: {', '.join(sorted(letters))}). Give one of these.")
    wanted = {number.upper() for number in numbers}
    words = {name.upper() for name in stations}
    return [sheet for sheet in sheets
            if sheet.number in wanted or sheet.station in words or sheet.number[0] in words]


def _few(names: dict[str, str]) -> str:
    listed = list(names)
    return ", ".join(listed) if len(listed) < 8 else f"{listed[0]} to {listed[-1]}"
