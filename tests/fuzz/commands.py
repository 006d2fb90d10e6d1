"""Command lines that went wrong, and answers at the table: what people write where a length, a mark or a serial belongs."""

from __future__ import annotations

import random

from tests.fuzz.mutations import VALUES

MARKS = ("A1", "A2", "A6", "a3", "A99", "B1", "1", "board 1", "cut:1", "brief", "mark:board 1")
LENGTHS = ("1800", "500", "499", "1799.5", "2400", "1200", "2398, 1199", "25, 25, 25.5, 25", "2683.3, 2683", "12", "70 in",
           "5' 11\"", "1.8 m", "-5", "0", "1e3", "", "  ", ",", "25;25;25;25", "2399 mm", "1 2 3", "\u00bd", "100", "150.5")
WORDS = (*VALUES, *MARKS, *LENGTHS, "K3F-9QZ1", "L-01", "C-01", "C", "cut", "spoiled", "north table", "--help", "-", "--", "@x")


def _options(dice: random.Random, **chances: tuple[str, ...]) -> list[str]:
    found = []
    for name, words in chances.items():
        if dice.random() < 0.5:
            option = f"--{name.replace('_', '-')}"
            found += [option] if not words else [f"{option}={dice.choice(words if dice.random() < 0.7 else WORDS)}"]
    return found


def one(number: int) -> tuple[list[str], str]:
    """The command line of that number, the project's place left as PROJECT, and what is typed at its questions."""
    dice = random.Random(number)
    mark, word = dice.choice(MARKS), dice.choice(WORDS)
    lines = {
        "measured": list,
        "measured one": lambda: _options(dice, board=("1", "2", "7"), length=LENGTHS, breadth=LENGTHS, diagonals=LENGTHS,
                                         thickness=LENGTHS, set_aside=()),
        "done": lambda: [dice.choice((mark, word)), *_options(dice, state=("cut", "marked", "sealed", "spoiled", "eaten"),
                         minutes=("5", "0.1", "-1", "1e9"), width=LENGTHS, height=LENGTHS, page=WORDS, hands=("2", "0"),
                         quantity=("3", "nan", "inf", "-1"))],
        "issue": lambda: [f"--to={dice.choice(WORDS)}",
                          f"--sheet={dice.choice(('P-01', 'C-01', 'l-2', 'Q-01', 'P-1I', word))}"],
        "collect": lambda: [word, *_options(dice, **{"from": ("north table", "x")})],
        "gauge": lambda: [f"--across={dice.choice(LENGTHS)}", f"--up={dice.choice(LENGTHS)}",
                          *_options(dice, across=("99.2", "149", "100"), up=("100.1", "150.2"), corrected=())],
        "miscut": lambda: [dice.choice(MARKS[:6]), *_options(dice, height=LENGTHS, width=LENGTHS, short=(
            "top 5", "left 1/2", "mid", "top", "5"), hole=("100, 200, 20", "1,2", "0,0,0"), out_of_square=LENGTHS,
            wrong_hand=(), lost=()), *(_options(dice, take=("1", "8", "9")) if dice.random() < 0.1 else ())],
        "sheet": lambda: [dice.choice(("order", "L-02", "P-1I", "C-99", word))],
        "board": lambda: [dice.choice(("1", "board 1", "9", word))],
        "ledger": lambda: _options(dice, json=()),
        "explain": lambda: [dice.choice(("tape.land", "boards", "crew.people", "x.y", "tap.lan", word))],
        "order": list,
    }
    name = dice.choice((*lines, "measured", "measured", "measured one", "done"))
    command, *_ = name.split()
    said = [dice.choice(LENGTHS if dice.random() < 0.8 else WORDS) for _ in range(dice.randrange(0, 25))]
    return [command, *(() if command == "explain" else ("PROJECT",)), *lines[name]()], "\n".join(said)
