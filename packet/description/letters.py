"""The letters that the packets' type can set. A text with others is refused where it is written, before anything is drawn."""

from __future__ import annotations

# Code points that all four cuts of the type have; tests/pdf/test_writer.py holds them against the type itself, which is
# not opened here: reading a project file needs no font.
_RANGES = (
    "20-7e a0-ac ae-107 10a-113 116-11b 11e-123 126-127 12a-12b 12e-12f 131 136-137 13b-13e 141-148 150-155 158-15b "
    "15e-165 16a-16b 16e-173 178-17e 192 218-21b 2c6-2c7 2d8-2dd 300-304 306-308 30a-30c 326-328 394 3a9 3bc 3c0 "
    "2013-2014 2018-201a 201c-201e 2020-2022 2026 2030 2039-203a 2044 2074 20ac 2113 2122 212e 2202 220f 2211-2212 "
    "2215 2219-221a 221e 222b 2248 2260 2264-2265 25ca "
)


def _settable() -> frozenset[str]:
    found: set[str] = set()
    for span in _RANGES.split():
        first, _, last = span.partition("-")
        found.update(map(chr, range(int(first, 16), int(last or first, 16) + 1)))
    return frozenset(found)


LETTERS = _settable()


def unknown_letters(text: str) -> tuple[str, ...]:
    """Letters of a text that the type does not have, each once, in their order."""
    return tuple(dict.fromkeys(letter for letter in text if letter not in LETTERS))
