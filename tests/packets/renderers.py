"""The same page by two renderers: pdfium, which all other checks read, and poppler, where it is installed."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pypdfium2
from numpy.typing import NDArray
from PIL import Image

from tests.packets.packet import Packet

DPI, BLUR = 100, 8
"""Dots to an inch, and dots to a side of what is averaged before it is compared: the two place dots half a dot apart."""
DARKER, APART, MOST_APART = 1.5, 6.0, 45.0
"""Greys of 255 between the two: of whole pages, of averaged dots, and of all but half a percent of these."""

INSTALLED = shutil.which("pdftoppm") is not None


def disagreements(packet: Packet, every: int = 1) -> Iterator[str]:
    """Pages that poppler draws otherwise than pdfium does; every one, or every fourth and so on."""
    document = pypdfium2.PdfDocument(packet.file)
    with TemporaryDirectory() as folder:
        (Path(folder) / "packet.pdf").write_bytes(packet.file)
        for index in range(0, len(packet.sheets), every):
            ours = np.asarray(document[index].render(scale=DPI / 72, grayscale=True).to_pil()).astype(float)
            theirs = _by_poppler(Path(folder), index + 1)
            yield from (f"{packet.sheets[index].number}: {fault}" for fault in apart(ours, theirs))


def _by_poppler(folder: Path, page: int) -> NDArray[np.float64]:
    subprocess.run(["pdftoppm", "-gray", "-r", str(DPI), "-f", str(page), "-l", str(page), "-singlefile", "packet.pdf", "page"],
                   cwd=folder, check=True)
    with Image.open(folder / "page.pgm") as picture:
        return np.asarray(picture.convert("L")).astype(float)


def apart(ours: NDArray[np.float64], theirs: NDArray[np.float64]) -> Iterator[str]:
    """What is too far apart in two pictures of one page, greys 0 to 255."""
    if ours.shape != theirs.shape:
        yield f"{ours.shape} dots by pdfium, {theirs.shape} by poppler"
        return
    high, wide = (BLUR * (side // BLUR) for side in ours.shape)
    first, second = (image[:high, :wide].reshape(high // BLUR, BLUR, wide // BLUR, BLUR).mean(axis=(1, 3))
                     for image in (ours, theirs))
    greys = np.abs(first - second)
    found = (abs(first.mean() - second.mean()), greys.mean(), np.percentile(greys, 99.5))
    if any(value > limit for value, limit in zip(found, (DARKER, APART, MOST_APART), strict=True)):
        yield "pdfium and poppler differ by {:.1f} on the whole, {:.1f} on the mean, {:.1f} at most".format(*found)
