"""A decision on a spoiled part: the pages that change with it, and how they get to the disk.

The PDF is written whole under a name of its own and flushed; then the decision goes into the ledger; then the PDF gets
its name. So a crash leaves either no decision, or one whose pages `completed` puts in place.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from importlib import import_module
from io import BytesIO
from pathlib import Path

from packet.description.decided import Decision
from packet.drawing.page import FinishedSheet, Sheet, finish_all
from packet.drawing.revision import with_revision
from packet.ledger.entries import Decided, Item
from packet.ledger.standing import PageOut
from packet.ledger.store import Ledger
from packet.pdf.files import clear_away, flushed
from packet.pdf.fonts import lettering
from packet.pdf.writer import write
from packet.plan import Plan
from packet.printing import drawn
from packet.sheets.kit import make_kit
from packet.sheets.recall import Recalled, recall_sheets
from packet.sheets.register import Progress
from packet.work.sheet_numbers import binding_order

REISSUE, PART = "reissue", "part"
"""Keys of the ledger's record: the name of the PDF, and the name that it has until the decision is recorded."""
WAITING = ".pages.part"
"""Ending of that name. Unlike other leftovers, such a file is needed once the decision is in the ledger."""

FOLLOWING_PIECES = ("added", "order", "mending", "keep", "crew", "briefing", "station_cards")
FOLLOWING_BOARDS = ("marking", "checklist")
"""Files of sheets that differ with decisions where all leaves stay as they are: always, and where lines or blanks on the
boards are other ones."""


def reissue(before: Plan, after: Plan, out: tuple[PageOut, ...], decision: Decision,
            progress: Progress = lambda name: None) -> tuple[FinishedSheet, ...]:
    """The recall slip, then every page that is not as it was, with revision marks; unchanged pages are left out.

    `out` are the pages that somebody holds. Raises GlyphError and LayoutError.
    """
    old = {sheet.number: sheet for sheet in drawn(before, progress)}
    new = drawn(after, progress)
    kit = make_kit(after, lettering())
    changed = [sheet for sheet in new if sheet.number not in old or old[sheet.number].serial != sheet.serial]
    marked = tuple(with_revision(sheet, old.get(sheet.number), kit.room, str(decision.number), kit.lettering)
                   for sheet in changed)
    slips = recall_sheets(kit, decision, recalled(old, {sheet.number: sheet for sheet in new}, out))
    return (*finish_all(slips, kit.identity, kit.paper, kit.lettering, kit.system), *marked)


def changed_pages(before: Plan, after: tuple[Plan, ...], progress: Progress = lambda name: None
                  ) -> tuple[tuple[str, ...], ...]:
    """The numbers of the sheets that would be printed anew for each of these plans. Raises GlyphError and LayoutError."""
    old = {(sheet.number, sheet.serial) for sheet in drawn(before, progress)}
    return tuple(tuple(sheet.number for sheet in drawn(plan, progress) if (sheet.number, sheet.serial) not in old)
                 for plan in after)


def pages_changed_by_boards(before: Plan, after: tuple[Plan, ...]) -> tuple[tuple[str, ...] | None, ...]:
    """The same without drawing the packet, and without the register, which lists all serials: only the sheets that follow
    the boards are drawn. None for a plan whose leaves differ, since most of its sheets do. Raises GlyphError, LayoutError.
    """
    kit = make_kit(before, lettering())  # what it holds is the same for all of them
    old: dict[str, dict[str, Sheet]] = {}

    def changed(plan: Plan) -> Iterator[str]:
        boards = (plan.boards, plan.mended.recuts) != (before.boards, before.mended.recuts)
        for name in (*FOLLOWING_PIECES, *(FOLLOWING_BOARDS if boards else ())):
            draw = import_module(f"packet.sheets.{name}").draw
            if name not in old:
                old[name] = {sheet.number: sheet for sheet in draw(before, kit)}
            yield from (sheet.number for sheet in draw(plan, kit) if old[name].get(sheet.number) != sheet)

    return tuple(None if plan.assembly != before.assembly else tuple(sorted(changed(plan), key=binding_order))
                 for plan in after)


def recalled(old: dict[str, FinishedSheet], new: dict[str, FinishedSheet], out: tuple[PageOut, ...]) -> tuple[Recalled, ...]:
    """Every page to collect: those that somebody holds under a serial that is not the new one, and the sheets that
    changed although nobody holds them by the ledger."""
    found = []
    for number in dict.fromkeys((*old, *(page.issued.sheet for page in out))):
        serial = new[number].serial if number in new else ""
        title = (new.get(number) or old.get(number))
        name = title.title if title else ""
        held = [page for page in out if page.issued.sheet == number and page.issued.serial != serial]
        found += [Recalled(number, name, page.issued.serial, serial, page.issued.holder) for page in held]
        if not held and number in old and old[number].serial != serial:
            found.append(Recalled(number, name, old[number].serial, serial, ""))
    return tuple(found)


def pdf_of(plan: Plan, sheets: tuple[FinishedSheet, ...]) -> bytes:
    buffer = BytesIO()
    write(sheets, buffer, plan.description.title, "Reissue", plan.description.identity.owner,
          language=plan.description.language)
    return buffer.getvalue()


def publish(ledger: Ledger, decision: Decision, items: tuple[Item, ...], pdf: bytes, target: Path) -> Ledger:
    """Write the pages and record the decision, in that order, so that neither is ever there without the other.

    Raises LedgerError or OSError; then nothing is recorded and nothing is written.
    """
    with flushed(target, pdf, WAITING) as part:
        record = {**decision.payload(), REISSUE: target.name, PART: part.name}
        after = ledger.append([*items, Decided(record)])
    # Only the ledger as it is now says which pages still wait for their name.
    clear_away(target, WAITING, {str(entry.item.decision.get(PART)) for entry in after.entries
                                 if isinstance(entry.item, Decided)})
    part.replace(target)
    return after


def completed(ledger: Ledger) -> tuple[Path, ...]:
    """Put in place the pages of decisions that were recorded just before a crash. Raises OSError."""
    found = []
    for entry in ledger.entries:
        if isinstance(entry.item, Decided) and PART in entry.item.decision:
            part, target = (ledger.path.with_name(entry.item.decision[key]) for key in (PART, REISSUE))
            if part.exists():
                part.replace(target)
                found.append(target)
    return tuple(found)


def with_decision(ledger: Ledger, decision: Decision) -> Ledger:
    """The ledger as it will read once the decision is recorded; nothing is written."""
    from packet.ledger.store import Entry

    return replace(ledger, entries=(*ledger.entries, Entry(ledger.acts + 1, "", Decided(decision.payload()))))
