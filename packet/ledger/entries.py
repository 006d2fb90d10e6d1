"""What the ledger records: one frozen record for each kind of act. Lengths in mm, times in minutes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field
from enum import StrEnum
from typing import Any, ClassVar

from packet.ledger.fields import bars, board, decision, length, lengths, maybe, number, sizes, text, whole


class State(StrEnum):
    """How far a piece is."""

    PLANNED = "planned"
    MARKED = "marked"
    CUT = "cut"
    SEALED = "sealed"
    BONDED = "bonded"
    SPOILED = "spoiled"


@dataclass(frozen=True, slots=True)
class Issued:
    """A page went out: its sheet number, serial and revision, the fingerprint of the inputs, and who holds it."""

    kind: ClassVar[str] = "issued"
    sheet: str
    serial: str
    revision: str
    inputs: str
    holder: str


@dataclass(frozen=True, slots=True)
class Collected:
    """A page came back, or was destroyed."""

    kind: ClassVar[str] = "collected"
    serial: str
    holder: str


@dataclass(frozen=True, slots=True)
class Measured:
    """Readings of one board: length and breadth, two diagonals or none, thickness at four corners or none."""

    kind: ClassVar[str] = "measured"
    board: str
    length: float
    breadth: float
    diagonals: tuple[float, ...] = ()
    thickness: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class SetAside:
    """A board that was measured is not used: its readings count no more."""

    kind: ClassVar[str] = "set aside"
    board: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece has come to a state; `board` and `serial` say from where and by which page, `actual` its real sizes."""

    kind: ClassVar[str] = "piece"
    mark: str
    state: State
    board: str = ""
    serial: str = ""
    actual: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Done:
    """A task was done, and how long it took where that was timed. `quantity` is in the task's own unit; `set` is the one
    of several sets that it was done for, 0 where it was done for all."""

    kind: ClassVar[str] = "done"
    task: str
    station: str
    minutes: float | None = None
    quantity: float | None = None
    hands: int | None = None
    set: int = 0


@dataclass(frozen=True, slots=True)
class Decided:
    """An answer to a spoiled part was taken; `decision` holds it as plain data."""

    kind: ClassVar[str] = "decided"
    decision: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Gauged:
    """What the bars of a full-size page measured: nominal length and reading of two bars on either axis, mm."""

    kind: ClassVar[str] = "gauged"
    across: tuple[tuple[float, float], ...]
    up: tuple[tuple[float, float], ...]


Item = Issued | Collected | Measured | SetAside | Piece | Done | Decided | Gauged


def to_data(item: Item) -> dict[str, Any]:
    """The record as plain data, its kind first."""
    return {"kind": item.kind, **asdict(item)}


def from_data(data: Mapping[str, Any]) -> Item:
    """The record of plain data. Raises ValueError for what is none."""
    named = data.get("kind") if isinstance(data, Mapping) else None
    if not isinstance(named, str) or named not in KINDS_READ:
        raise ValueError("there is no such kind of entry")
    kind, readers = KINDS_READ[named]
    values = {name: value for name, value in data.items() if name != "kind"}
    if unknown := values.keys() - readers.keys():
        raise ValueError(f"{kind.kind} has no {ascii(min(unknown))[:40]}")
    for name, read in readers.items():
        if name in values:
            try:
                values[name] = read(values[name])
            except ValueError as fault:
                raise ValueError(f"{kind.kind}, {name}: {fault}") from None
    try:
        return kind(**values)
    except TypeError:
        raise ValueError(f"{kind.kind} lacks something") from None


def _state(value: Any) -> State:
    return State(text(value))


_READ: dict[type[Item], dict[str, Callable[[Any], Any]]] = {
    Issued: dict.fromkeys(("sheet", "serial", "revision", "inputs", "holder"), text),
    Collected: dict.fromkeys(("serial", "holder"), text),
    Measured: {"board": board, "length": length, "breadth": length, "diagonals": lengths(0, 2), "thickness": lengths(0, 4)},
    SetAside: {"board": board},
    Piece: {"mark": text, "state": _state, "board": text, "serial": text, "actual": sizes},
    Done: {"task": text, "station": text, "minutes": maybe(number), "quantity": maybe(number), "hands": maybe(whole),
           "set": whole},
    Decided: {"decision": decision},
    Gauged: {"across": bars, "up": bars},
}
KINDS_READ = {kind.kind: (kind, readers) for kind, readers in _READ.items()}
"""The kinds of entry by the word that the ledger has for each, with how every field is read."""
