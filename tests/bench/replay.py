"""The floor of a print: a bare process that imports what the command needs and draws the same marks.

Plain reportlab calls in the order of the marks, rl_accel on, default settings: what anybody would write first.
Usage: python replay.py MARKS PDF MODULE,MODULE,... (MARKS as `recording.py` writes them).
"""

from __future__ import annotations

import importlib
import itertools
import marshal
import sys
from pathlib import Path
from typing import Any

POINTS = 72 / 25.4
FAR = 20_000  # points; no drawing reaches so far


def replay(title: str, fonts: dict[str, str], forms: dict[str, Any], sheets: list[Any], copies: int, target: str) -> None:
    """The pages, `copies` times over. `forms` are drawings that are made once and placed with a clip."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    for name, path in fonts.items():
        registerFont(TTFont(name, path))
    canvas = Canvas(target, pagesize=[side * POINTS for side in sheets[0][1]])
    canvas.setTitle(title)
    for name, marks in forms.items():
        canvas.beginForm(name, -FAR, -FAR, FAR, FAR)
        for mark in marks:
            draw(canvas, *mark)
        canvas.endForm()
    for copy, (number, size, marks, placed) in itertools.product(range(copies), sheets):
        canvas.setPageSize([side * POINTS for side in size])
        canvas.bookmarkPage(f"{number} {copy}")
        canvas.addOutlineEntry(number, f"{number} {copy}", 0)
        if placed:
            name, (left, bottom, right, top), (across, up) = placed
            canvas.saveState()
            path = canvas.beginPath()
            path.rect(left, bottom, right - left, top - bottom)
            canvas.clipPath(path, stroke=0, fill=0)
            canvas.translate(across, up)
            canvas.doForm(name)
            canvas.restoreState()
        for mark in marks:
            draw(canvas, *mark)
        canvas.showPage()
    canvas.save()


def draw(canvas: Any, kind: str, shape: Any, pen: Any, fill: Any) -> None:
    if kind == "text":
        string, font, size, anchor, angle, x, y = shape
        canvas.setFillGray(fill)
        canvas.setFont(font, size)
        write = {"left": canvas.drawString, "centre": canvas.drawCentredString, "right": canvas.drawRightString}[anchor]
        if angle:
            canvas.saveState()
            canvas.translate(x, y)
            canvas.rotate(angle)
            write(0, 0, string)
            canvas.restoreState()
        else:
            write(x, y, string)
        return
    if pen is not None:
        width, grey, dash = pen
        canvas.setLineWidth(width)
        canvas.setStrokeGray(grey)
        canvas.setDash(dash)
    if fill is not None:
        canvas.setFillGray(fill)
    stroke, filled = int(pen is not None), int(fill is not None)
    if kind == "line":
        canvas.line(*shape)
    elif kind == "circle":
        canvas.circle(*shape, stroke=stroke, fill=filled)
    elif kind == "arc":
        x, y, r, start, extent = shape
        canvas.arc(x - r, y - r, x + r, y + r, start, extent)
    else:
        points, closed = shape
        path = canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        if closed:
            path.close()
        canvas.drawPath(path, stroke=stroke, fill=filled)


def main() -> None:
    record, target, modules = sys.argv[1:4]
    for module in filter(None, modules.split(",")):
        importlib.import_module(module)
    replay(*marshal.loads(Path(record).read_bytes()), target)  # noqa: S302  our own file of a moment ago


if __name__ == "__main__":
    main()
