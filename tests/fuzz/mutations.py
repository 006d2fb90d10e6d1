"""Project files that went wrong: keys put in, doubled, moved and dropped, values swapped for nasty ones, bytes damaged."""

from __future__ import annotations

import random
import re

from tests.fuzz.keys import grafted

TOKENS = (
    b":", b": ", b"- ", b"[", b"]", b"{", b"}", b"&a", b"*a", b"!!python/object:os.system ", b"!!binary ", b"<<: ",
    b"---\n", b"...\n", b"#", b"|\n", b">\n", b"'", b"\"", b"\t", b"\r", b"\n", b"\x00", b"\xff", b"\xc3", b"\xe2\x80\xae",
    b"\xef\xbb\xbf", b"\xe2\x80\xa8", b"%YAML 9.9\n", b"? ", b"@", b"`",
)
VALUES = (
    "", "~", "null", "yes", "no", "0", "-0", "-1", "1", "1e9", "1e308", "1e999", "-1e309", "nan", ".nan", "NaN", ".inf",
    "-.inf", "inf", "1000000000", "9" * 400, "0x10", "0o17", "1_000", "1/0", "0/0", "1/3", "1-1/0", "3' 2-1/2\"", "600 mm",
    "1e3 mm", "24 in", "24 parsecs", "\u0663", "\u00bd", "\u00b2", "in", "mm", "ring", "chain", "free", "inner", "shut",
    "flat", "saw", "panel", "lies", "../../etc/passwd", "/dev/zero", "C:\\windows", "file:///etc/passwd", "{{ 7*7 }}",
    "{% for x in range(10**9) %}x{% endfor %}", "{{ ''.__class__.__mro__ }}", "(x) Tj ET Q endstream",
    "\\051 /JS (app.alert)", "\u202egnirts", "\u05e9\u05dc\u05d5\u05dd", "\u0000", "\u0007", "\U0001f600", "a" * 10_000,
    "**", "**bold", "%s%n", "x" * 41, "[1, 2, 3]", "[[[[[[]]]]]]", "{a: b}", "[" * 30 + "]" * 30, "5 x 5", "0 x 0",
    "1e9 x 1e9", "48 x 96 x 2", "x", "48 x", "BACK.left / ", "A1", "A1 / A2", "letter", "a4", "1 x 1 mm", "100 x 100 mm",
    "24 x 36 in", "10000 x 10000 mm", "4' x 8'", "360", "180", "90", "179.999",
)


def damaged(text: bytes, dice: random.Random) -> bytes:
    """A few bytes changed, put in, taken out or said twice."""
    found = bytearray(text)
    for _ in range(dice.choice((1, 1, 1, 2, 3, 8))):
        at = dice.randrange(len(found) + 1)
        kind = dice.randrange(6)
        if kind == 0 and found:
            found[at % len(found)] = dice.randrange(256)
        elif kind == 1:
            found[at:at] = dice.choice(TOKENS)
        elif kind == 2:
            del found[at:at + dice.choice((1, 2, 5, 40))]
        elif kind == 3:
            piece = found[at:at + dice.choice((1, 8, 60))]
            found[at:at] = piece * dice.choice((1, 2, 50))
        elif kind == 4:
            found[at:at] = bytes(dice.randrange(256) for _ in range(dice.randrange(1, 6)))
        else:
            other = dice.randrange(len(found) + 1)
            found[at:at] = found[other:other + 20]
    return bytes(found)


def changed(text: str, dice: random.Random) -> str:
    """Some values swapped for others: nasty ones, ones from elsewhere in the file, or the same number scaled."""
    lines = text.splitlines()
    places = [(*match.span(1), number) for number, line in enumerate(lines)
              for match in re.finditer(r"[:\[,]\s+([^\s,\[\]{}#][^,\[\]{}#]*?)\s*(?=[,\]}#]|$)", line)]
    for _ in range(dice.choice((1, 1, 1, 2, 2, 4))):
        if not places:
            break
        start, stop, number = place = dice.choice(places)
        places = [one for one in places if one[2] != number]  # the others on this line have moved
        old = lines[number][start:stop]
        kind = dice.randrange(4)
        if kind == 0:
            new = dice.choice(VALUES)
        elif kind == 1 and re.fullmatch(r"[0-9.]+", old) and old.count(".") < 2:
            new = f"{float(old) * dice.choice((0.1, 0.5, 0.9, 0.99, 1.01, 1.1, 2, 3, 10, -1)):.4g}"
        elif kind == 2:
            new = str(dice.randrange(-3, 40))
        else:
            one = dice.choice(places or [place])
            new = lines[one[2]][one[0]:one[1]] if places else dice.choice(VALUES)
        lines[number] = lines[number][:start] + new + lines[number][stop:]
    kind = dice.randrange(12)
    if kind == 0 and lines:
        del lines[dice.randrange(len(lines))]
    elif kind == 1 and lines:
        lines.insert(dice.randrange(len(lines)), dice.choice(lines))
    elif kind == 2:
        dice.shuffle(lines)
    return "\n".join(lines) + "\n"


def one(seeds: tuple[str, ...], number: int) -> bytes:
    """The mutated project of that number: always the same for the same seeds."""
    dice = random.Random(number)
    text = dice.choice(seeds)
    kind = dice.random()
    if kind < 0.6:
        text = grafted(text, dice, VALUES)
    if kind > 0.45:
        text = changed(text, dice)
    encoded = text.encode("utf-8", "surrogatepass")
    return damaged(encoded, dice) if dice.random() < 0.15 else encoded
