"""Pages: frame, header, title block, content room and serials."""

from __future__ import annotations

from dataclasses import replace

import pytest

from packet.drawing.lettering import BODY, GlyphError, Lettering
from packet.drawing.marks import Line, Text, bounds
from packet.drawing.page import (
    FinishedSheet,
    Identity,
    Paper,
    Sheet,
    content_room,
    finish,
    frame_rect,
    serial_of,
)
from packet.drawing.pens import VISIBLE
from packet.drawing.room import LayoutError, Room
from packet.drawing.serial import ALPHABET

from . import demo

SHEET = Sheet(
    "C-04",
    "Board 4 of 5",
    "CUT",
    "marking sheet",
    (Line((50, 50), (90, 50), VISIBLE),),
    subtitle="roof leaves",
    subject="A4R A3R",
    scale_label="SCALE 1:10",
)


def words(sheet: FinishedSheet) -> list[str]:
    return [mark.string for mark in sheet.marks if isinstance(mark, Text)]


def done(sheet: Sheet, letters: Lettering, identity: Identity = demo.IDENTITY) -> FinishedSheet:
    return finish(sheet, identity, demo.A4, letters, "mm")


def test_every_field_stands_on_the_sheet(letters: Lettering) -> None:
    """ISO 7200: owner, identification number, date, sheet number, title, approval, creator, document type."""
    identity = replace(demo.IDENTITY, approved_by="Juniper Okoro")
    sheet = done(SHEET, letters, identity)
    for value in (
        "Causeway ringers",
        "BB-7",
        "2026-11-25",
        "C-04",
        "Board 4 of 5",
        "Juniper Okoro",
        "Wren Ames",
        "marking sheet",
        "C-04",
        "A",
        "Bell buoy watch hut",
        "A4R A3R",
        sheet.serial,
        "8f3a01bc",
        "none",
        "1:10",
        "A4, mm",
        "CUT",
        "50 mm",
    ):
        assert value in words(sheet), value


def test_nothing_is_lettered_under_two_and_a_half_millimetres(letters: Lettering) -> None:
    assert min(mark.style.height for mark in done(SHEET, letters).marks if isinstance(mark, Text)) == 2.5


def test_an_inch_packet_has_an_inch_bar(letters: Lettering) -> None:
    sheet = finish(SHEET, demo.IDENTITY, demo.LETTER, letters, "in")
    bars = [m for m in sheet.marks if isinstance(m, Line) and m.pen == VISIBLE and m.a[1] < 40]
    assert [bar.b[0] - bar.a[0] for bar in bars] == pytest.approx([50.8])
    assert "letter, inches" in words(sheet)


@pytest.mark.parametrize("paper", [demo.A4, demo.LETTER])
def test_the_frame_holds_everything_and_the_content_room_is_clear(paper: Paper, letters: Lettering) -> None:
    left, bottom, right, top = frame_rect(paper)
    # ISO 5457: filing edge 20 mm, the others 10 mm.
    assert (left, bottom, paper.width - right, paper.height - top) == pytest.approx((20, 10, 10, 10))
    room = content_room(paper, demo.IDENTITY, letters, "mm")
    empty = finish(replace(SHEET, marks=()), demo.IDENTITY, paper, letters, "mm")
    assert bounds(empty.marks, letters) == pytest.approx((left, bottom, right, top))
    for mark in empty.marks[:-1]:  # the last is the frame itself
        _, low, _, high = bounds([mark], letters)
        assert low >= room.top or high <= room.bottom
    assert room.height > 145


def test_the_room_is_the_same_for_the_longest_fields(letters: Lettering) -> None:
    longest = Identity(
        "M" * 40, "n" * 40, "N" * 16, "2026-11-25", "AB", "m" * 20, "m" * 20, "R" * 16, "8f3a01bc"
    )
    sheet = replace(SHEET, kind="n" * 24, subject="B" * 20, subtitle="", scale_label="SCALE 1:1000")
    finished = finish(sheet, longest, demo.A4, letters, "mm")
    room = content_room(demo.A4, longest, letters, "mm")
    short = replace(SHEET, marks=(), subtitle="")
    rule = [
        max(m.a[1] for m in f.marks if isinstance(m, Line) and m.b[0] - m.a[0] > 200 and m.a[1] < 100)
        for f in (finished, finish(short, longest, demo.A4, letters, "mm"))
    ]
    assert rule[0] == rule[1] == pytest.approx(room.bottom - 2)


def test_every_packet_has_room_for_its_longest_sheet(letters: Lettering) -> None:
    """Whatever the length of the owner's name breaks the lines at: the title block of no sheet overflows."""
    longest = replace(SHEET, kind="n" * 24, subject="B" * 20, subtitle="", scale_label="SCALE 1:1000")
    for length in range(41):
        identity = replace(demo.IDENTITY, owner="n" * length, approved_by="m" * (length // 2))
        finished = finish(longest, identity, demo.A4, letters, "mm")
        room = content_room(demo.A4, identity, letters, "mm")
        small = [mark for mark in finished.marks if isinstance(mark, Text) and mark.style.height == 2.5]
        assert bounds(small, letters)[3] < room.bottom - 2
        assert bounds(small, letters)[1] > 10


def test_empty_names_leave_a_rule_to_sign(letters: Lettering) -> None:
    blank = done(SHEET, letters, replace(demo.IDENTITY, approved_by=""))
    named = done(SHEET, letters, replace(demo.IDENTITY, approved_by="J. Okoro"))
    count = [sum(isinstance(mark, Line) for mark in sheet.marks) for sheet in (blank, named)]
    assert count[0] == count[1] + 1


@pytest.mark.parametrize(
    "change",
    [
        {"number": "C-0045"},
        {"title": "T" * 26},
        {"kind": "k" * 31},
        {"subject": "s" * 25},
        {"subtitle": "long " * 60},
    ],
)
def test_a_field_too_long_is_refused_by_name(change: dict[str, str], letters: Lettering) -> None:
    with pytest.raises(LayoutError, match=rf"sheet C-0.*{next(iter(change))}"):
        done(replace(SHEET, **change), letters)  # type: ignore[arg-type]


def test_a_title_the_type_cannot_set_is_refused(letters: Lettering) -> None:
    with pytest.raises(GlyphError):
        done(SHEET, letters, replace(demo.IDENTITY, project="小屋"))


def test_a_serial_is_seven_letters_that_cannot_be_misread() -> None:
    serial = serial_of(SHEET)
    assert len(serial) == 8
    assert serial[3] == "-"
    assert set(serial) - {"-"} <= set(ALPHABET)
    assert not set("ILOU") & set(ALPHABET)


@pytest.mark.parametrize(
    "change",
    [
        {"title": "Board 5 of 5"},
        {"subtitle": "wall leaves"},
        {"subject": "A4R"},
        {"scale_label": "SCALE 1:20"},
        {"marks": (Line((50, 50), (90, 50.0002), VISIBLE),)},
        {"marks": ()},
        {"number": "C-05"},
        {"marks": (*SHEET.marks, Text((60, 60), "A4R", BODY))},
    ],
)
def test_a_serial_changes_with_what_is_drawn(change: dict[str, object]) -> None:
    assert serial_of(replace(SHEET, **change)) != serial_of(SHEET)  # type: ignore[arg-type]


def test_a_serial_stays_when_only_the_packet_around_it_changes(letters: Lettering) -> None:
    first = done(SHEET, letters)
    later = finish(SHEET, replace(demo.IDENTITY, revision="B", date="2027-01-02"), demo.A4, letters, "mm")
    assert first.serial == later.serial
    noise = replace(SHEET, marks=(Line((50.00000001, 50), (90, 50 - 1e-9), VISIBLE),))
    assert serial_of(noise) == serial_of(SHEET)
    assert serial_of(replace(SHEET, marks=(Line((-1e-9, 0), (1, 0), VISIBLE),))) == serial_of(
        replace(SHEET, marks=(Line((0, 0), (1, 0), VISIBLE),))
    )


def test_rooms_divide_without_loss() -> None:
    room = Room(20, 30, 120, 90)
    a, b, c = room.columns(1, 2, 1, gap=10)
    assert (a.width, b.width, c.width) == (20, 40, 20)
    assert (a.left, b.left, c.right) == (20, 50, 120)
    high, low = room.rows(1, 2, gap=6)
    assert (high.top, high.height, low.bottom, low.height) == (90, 18, 30, 36)
    assert [strip.height for strip in room.cut_top(15, 5)] == [15, 40]
    assert [strip.height for strip in room.cut_bottom(15, 5)] == [15, 40]
    assert [strip.width for strip in room.cut_left(15, 5)] == [15, 80]
    assert [strip.width for strip in room.cut_right(15, 5)] == [15, 80]
    assert room.inset(2, 3) == Room(22, 33, 118, 87)
    assert room.inset(1, 2, 3, 4).rect == (21, 32, 117, 86)
    assert room.centre == (70, 60)
