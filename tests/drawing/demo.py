"""Sheets that use every sign, dimension, table and view once: material for the tests, and to be looked at."""

from __future__ import annotations

from itertools import pairwise

from packet.drawing import lettering as styles
from packet.drawing import pens
from packet.drawing.dimension import angular, leader, linear, running
from packet.drawing.flow import bullets, paragraph, steps
from packet.drawing.lettering import BODY, FINE, NUMBER, Lettering
from packet.drawing.marks import Drawing, Line, Link, Mark, Text, Viewport, rectangle
from packet.drawing.page import FinishedSheet, Identity, Paper, Sheet, content_room, finish_all
from packet.drawing.room import Room
from packet.drawing.solid import Camera, picture, prism
from packet.drawing.symbols import (
    FaceSide,
    alert_triangle,
    arrow,
    check_bar,
    circled,
    datum_corner,
    face_patch,
    signature_box,
    station_tag,
    terminator,
    tick_box,
    turn_arrow,
)
from packet.drawing.table import Column, spread, table
from packet.drawing.view import View, pick_scale
from packet.units import System

A4 = Paper.landscape(210.0, 297.0, "A4")
LETTER = Paper.landscape(215.9, 279.4, "letter")
IDENTITY = Identity(
    "Bell buoy watch hut", "Causeway ringers", "BB-7", "2026-11-25", "A", "Wren Ames", "", "none", "8f3a01bc"
)
_PENS = tuple(name for name, value in vars(pens).items() if isinstance(value, pens.Pen))
_STYLES = ("TITLE", "HEAD", "NUMBER", "LARGE", "BODY", "BODY_BOLD", "BODY_ITALIC", "FINE", "FINE_BOLD")


def sheets(paper: Paper, system: System, letters: Lettering) -> tuple[FinishedSheet, ...]:
    room = content_room(paper, IDENTITY, letters, system)
    return finish_all(
        (
            _signs(room, letters),
            _dimensions(room, letters),
            _running(room, letters, system),
            _text(room, letters),
            _pictorial(room, system),
        ),
        IDENTITY,
        paper,
        letters,
        system,
    )


def _signs(room: Room, letters: Lettering) -> Sheet:
    a, b, c = room.columns(1, 1, 1, gap=6)
    x, y = a.left + 8, a.top - 10
    marks: list[Mark] = [
        *circled((x, y), "1", letters),
        *circled((x + 14, y), "12", letters),
        *circled((x + 30, y), "7", letters, style=NUMBER),
        *tick_box((x + 42, y - 5)),
        *arrow((x, y - 14), (x + 30, y - 14)),
        *arrow((x + 36, y - 18), (x + 58, y - 10), pens.NARROW, 4),
        *terminator((x + 30, y - 22), (1, 0)),
        *alert_triangle((x + 40, y - 32), 12),
        *turn_arrow((x + 10, y - 36), 8, 10, 200),
        *turn_arrow((x + 28, y - 36), 8, 170, -60),
        rectangle((x + 10, y - 70, x + 50, y - 50), pens.VISIBLE),
        *datum_corner((x + 10, y - 70)),
        *signature_box((x, y - 95), 60, "signed", letters),
        *check_bar((x, y - 108), 50, "50 mm", letters),
        *check_bar((x + 66, y - 65), 50, "50 mm", letters, "vertical"),
        *face_patch(FaceSide.INNER, "INNER", (b.left, b.top - 30, b.left + 36, b.top - 4), letters),
        *face_patch(FaceSide.OUTER, "OUTER", (b.left + 40, b.top - 30, b.left + 76, b.top - 4), letters),
        *station_tag((b.left + 60, b.top - 36), "HINGE", letters),
    ]
    y = b.top - 56
    for name in _PENS:
        marks += [
            Line((b.left, y), (b.left + 40, y), getattr(pens, name)),
            Text((b.left + 43, y - 1.2), name, FINE),
        ]
        y -= 5.5
    y = c.top - 4
    for name in _STYLES:
        style = getattr(styles, name)
        y -= style.height
        marks.append(Text((c.left, y), f"{name[:6]} 10Il", style))
        y -= style.height * 0.9
    return Sheet(
        "P-01", "Signs and pens", "PREPARE", "drawing key", tuple(marks), "each sign, pen and style once"
    )


def _dimensions(room: Room, letters: Lettering) -> Sheet:
    left, top = room.left + 30, room.top - 50
    marks: Drawing = (
        rectangle((left, top - 30, left + 120, top), pens.VISIBLE),
        *linear((left, top), (left + 120, top), 10, "48", letters),
        *linear((left, top - 30), (left, top), 8, "600 mm", letters),
        *linear((left + 120, top - 30), (left + 120, top), -8, "30", letters),
        *linear((left, top - 30), (left + 4, top - 30), -8, "1-1/2", letters),
        *linear((left + 50, top - 30), (left + 60, top - 30), -8, "23-7/8", letters),
        Line((left + 130, top - 70), (left + 190, top - 40), pens.VISIBLE),
        *linear((left + 130, top - 70), (left + 190, top - 40), 6, "53-11/16", letters),
        *angular((left + 80, top - 75), 22, 0, 60, "60.0°", letters, extend_from=2),
        *angular((left + 40, top - 75), 30, 150, 160, "10.0°", letters),
        *leader((left + 100, top - 10), (left + 135, top + 20), "latch hole\n33.4", letters),
        *leader((left + 20, top - 5), (left + 30, top - 12), "a point inside", letters, end="dot"),
    )
    return Sheet("P-02", "Dimensions", "PREPARE", "drawing key", marks, "linear, angular, leaders")


def _running(room: Room, letters: Lettering, system: System) -> Sheet:
    left, bottom, wide, high = room.left + 45, room.bottom + 40, 150.0, 70.0
    label = 'SCALE 3/4" = 1\'-0"' if system == "in" else "SCALE 1:10"
    marks: Drawing = (
        rectangle((left, bottom, left + wide, bottom + high), pens.HEAVY),
        *datum_corner((left, bottom)),
        *running(
            (left, bottom + high),
            "x",
            [(0, "0"), (37.5, "24"), (40, "25-1/2"), (75, "48"), (112, "72"), (150, "96")],
            8,
            letters,
        ),
        *running(
            (left, bottom),
            "x",
            [(0, "0"), (30, "480"), (33, "528"), (36, "576"), (39, "624"), (60, "960"), (150, "2400")],
            -8,
            letters,
        ),
        *running((left, bottom), "y", [(0, "0"), (20, "12"), (22, "13-1/8"), (70, "48")], -10, letters),
        *running((left + wide, bottom), "y", [(0, "0"), (35, "600"), (70, "1200")], 10, letters),
    )
    ratio = 16.0 if system == "in" else 10.0
    return Sheet(
        "P-03",
        "Running dimensions",
        "PREPARE",
        "marking sheet",
        marks,
        scale_label=label,
        subject="A1R A2R",
        viewports=(Viewport((left, bottom, left + wide, bottom + high), ratio, "board"),),
        links=(Link((left, bottom, left + 30, bottom + 20), "P-01"),),
    )


def _text(room: Room, letters: Lettering) -> Sheet:
    a, b = room.columns(1, 1, gap=8)
    orders = steps(
        a.top_left,
        a.width,
        [
            "Wipe the face dry. **Peel test** on an offcut.",
            "Lay the flat strip on the outer face, boards lying open, the same land on each side. Roll it "
            "from the middle out.",
            "Fold the hinge shut.",
        ],
        letters,
        tick=True,
    )
    wear = bullets(
        (a.left, orders.bottom - 6),
        a.width,
        ["gloves and eye protection", "long sleeves: glass dust from the faced board itches for days"],
        BODY,
        letters,
    )
    note = paragraph(
        (a.left, wear.bottom - 6), a.width, "Blades cut deep. **Push away** from the body.", BODY, letters
    )
    widths = spread(b.width, 3, 1, 1.4)
    goods = table(
        b.top_left,
        [Column(widths[0]), Column(widths[1], "right", NUMBER), Column(widths[2], "centre")],
        [["Board, faced one side, printed", "6", tick_box((0, 0))], ["Tape, **filament**", "3", "rolls"]],
        ["Item", "Count", "Unit"],
        letters,
        row_height=10,
    )
    fine = table(
        (b.left, goods.bottom - 8),
        [Column(widths[0], style=FINE), Column(widths[1], "right", FINE), Column(widths[2], "centre", FINE)],
        [["a", "1", "mm"], ["b", "2", "mm"]],
        ["Fine", "Value", "Unit"],
        letters,
        rules="grid",
    )
    marks = (*orders.marks, *wear.marks, *note.marks, *goods.marks, *fine.marks)
    subtitle = "a subtitle that goes over two lines because it says more than it ought to"
    return Sheet("H-01", "Text and tables", "HINGE", "work order", marks, subtitle, subject="A1R A2R A3L")


def _pictorial(room: Room, system: System) -> Sheet:
    screen = [(0.0, 0.0), (900.0, 400.0), (1800.0, 0.0), (2700.0, 400.0)]
    faces = [
        face
        for i, ((ax, ay), (bx, by)) in enumerate(pairwise(screen))
        for face in prism(
            [(ax, ay, 0), (bx, by, 0), (bx, by, 1500), (ax, ay, 1500)], (ay - by, bx - ax, 0), 40, f"leaf {i}"
        )
    ]
    scene = picture(faces, Camera(-60, 25), with_hidden=True)
    left, bottom, right, top = scene.bounds
    scale = pick_scale(system, (right - left, top - bottom), room.size)
    marks = scene.drawing(View.centred(scale, scene.bounds, room.rect), hidden=True)
    return Sheet("L-01", "Pictorial", "LEAD", "general arrangement", marks, scale_label=scale.label)


if __name__ == "__main__":
    import sys
    from pathlib import Path

    from packet.pdf.fonts import lettering
    from packet.pdf.writer import write

    target = Path(sys.argv[1])
    metric, imperial = sheets(A4, "mm", lettering()), sheets(LETTER, "in", lettering())
    write(metric, target / "demo_A4.pdf", "Drawing key")
    write(imperial, target / "demo_letter.pdf", "Drawing key")
