"""The square code of a page as runs of dark modules, row by row (ISO/IEC 18004: version 3, error correction M).

All codes of a packet are of one kind, so that everything but the message is laid out once: modules that never change, the
places of the message's bits, and the remainders by which they are made to bear dust.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from packet.drawing.page_code import CAPACITY, MODULES

_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_MESSAGE, _CHECK = 44, 26
"""Codewords of the message, and those that correct it (table 9: 3-M, one block)."""
_LEFT_OVER = 7
"""Modules that no codeword fills (table 1)."""
_FIELD = 0x11D
"""The polynomial of the field in which codewords are corrected."""
_FORMAT = 0b101101101001011
"""Level M and mask 3 with their check bits, masked (table C.1). Every reader reads every mask; trying all eight for the
prettiest takes ten times as long."""

Run = tuple[int, int, int]
"""Column and row of the first dark module, row 0 at the top, and how many follow each other."""


@lru_cache(maxsize=256)
def runs(text: str) -> tuple[Run, ...]:
    """The dark modules of a text of at most CAPACITY letters of the alphanumeric set. Raises ValueError for another."""
    frame = _frame()
    bits = f"{_codewords(text) << _LEFT_OVER ^ frame.mask:0{len(frame.places)}b}"
    modules = bytearray(frame.fixed)
    for place, bit in zip(frame.places, bits.encode(), strict=True):
        modules[place] = bit
    found = re.compile(b"1+").finditer
    return tuple((dark.start(), row, len(dark.group()))
                 for row in range(MODULES) for dark in found(bytes(modules[row * MODULES:(row + 1) * MODULES])))


def _codewords(text: str) -> int:
    """Message and correction as one number, the first codeword in its highest bits."""
    if len(text) > CAPACITY:
        raise ValueError(f"a code of {len(text)} characters (limit: {CAPACITY})")
    bits = f"0010{len(text):09b}"  # alphanumeric, and how many
    values = [_ALPHABET.index(letter) for letter in text]
    for first, second in zip(values[::2], values[1::2], strict=False):
        bits += f"{first * 45 + second:011b}"
    if len(values) % 2:
        bits += f"{values[-1]:06b}"
    bits = (bits + "0000")[:8 * _MESSAGE]
    bits += "0" * (-len(bits) % 8)
    message = int(bits, 2).to_bytes(len(bits) // 8, "big")
    message = (message + b"\xec\x11" * _MESSAGE)[:_MESSAGE]
    remainders, top = _remainders(), 8 * (_CHECK - 1)
    rest, below = 0, (1 << top) - 1
    for byte in message:
        rest = (rest & below) << 8 ^ remainders[rest >> top ^ byte]
    return int.from_bytes(message, "big") << 8 * _CHECK | rest


@cache
def _remainders() -> tuple[int, ...]:
    """What each leading codeword leaves when it is divided by the generator: its multiples but for the first coefficient.
    The generator is the product of (x - a^i), i from 0 to 25 (annex A)."""
    generator, root = [1], 1
    for _ in range(_CHECK):
        generator = [high ^ _product(low, root) for high, low in zip([*generator, 0], [0, *generator], strict=True)]
        root = _product(root, 2)
    found = [0] * 256
    for place in range(8):
        found[1 << place] = int.from_bytes(bytes(_product(one, 1 << place) for one in generator[1:]), "big")
    for value in range(256):
        lowest = value & -value
        found[value] = found[value ^ lowest] ^ found[lowest]
    return tuple(found)


def _product(one: int, other: int) -> int:
    """Of two elements of the field."""
    product = 0
    while other:
        if other & 1:
            product ^= one
        one = one << 1 ^ (_FIELD if one & 0x80 else 0)
        other >>= 1
    return product


@dataclass(frozen=True, slots=True)
class _Frame:
    """What all codes have in common. Modules row by row as the letters 0 and 1; the places of the message's bits in their
    order; and the mask over these bits."""

    fixed: bytes
    places: tuple[int, ...]
    mask: int


@cache
def _frame() -> _Frame:
    fixed = dict(_patterns())
    places = [(row, column) for row, column in _zigzag() if (row, column) not in fixed]
    mask = "".join("1" if (row + column) % 3 == 0 else "0" for row, column in places)  # mask 3 (table 10)
    dark = bytearray(b"0" * MODULES**2)
    for (row, column), is_dark in fixed.items():
        dark[row * MODULES + column] = 48 + is_dark
    return _Frame(bytes(dark), tuple(row * MODULES + column for row, column in places), int(mask, 2))


def _patterns() -> Iterator[tuple[tuple[int, int], bool]]:
    """Modules that never change, by row and column: timing, finders, alignment, format; later ones overrule."""
    last = MODULES - 1
    for place in range(8, MODULES - 8):
        yield (6, place), place % 2 == 0
        yield (place, 6), place % 2 == 0
    for top, left in ((0, 0), (0, last - 6), (last - 6, 0)):
        for row in range(max(top - 1, 0), min(top + 8, MODULES)):
            for column in range(max(left - 1, 0), min(left + 8, MODULES)):
                yield (row, column), max(abs(row - top - 3), abs(column - left - 3)) not in (2, 4)
    middle = last - 6
    for row in range(middle - 2, middle + 3):
        for column in range(middle - 2, middle + 3):
            yield (row, column), max(abs(row - middle), abs(column - middle)) != 1
    beside = (0, 1, 2, 3, 4, 5, 7, 8)  # the timing line keeps its place
    for bit in range(15):
        dark = bool(_FORMAT >> bit & 1)
        yield ((beside[bit], 8) if bit < 8 else (8, beside[14 - bit])), dark
        yield ((8, last - bit) if bit < 8 else (last - 14 + bit, 8)), dark
    yield (last - 7, 8), True


def _zigzag() -> Iterator[tuple[int, int]]:
    """Rows and columns in the order in which bits are placed: up and down by pairs of columns from the right."""
    upwards = True
    for right in (*range(MODULES - 1, 6, -2), 5, 3, 1):
        for row in range(MODULES - 1, -1, -1) if upwards else range(MODULES):
            yield row, right
            yield row, right - 1
        upwards = not upwards
