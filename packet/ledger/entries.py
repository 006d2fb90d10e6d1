"""What the ledger records: one frozen record for each kind of act. Lengths in mm, times in minutes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from enum import StrEnum
from typing import Any, ClassVar


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

KINDS: dict[str, type[Item]] = {
    kind.kind: kind for kind in (Issued, Collected, Measured, SetAside, Piece, Done, Decided, Gauged)}


def to_data(item: Item) -> dict[str, Any]:
    """The record as plain data, its kind first."""
    return {"kind": item.kind, **asdict(item)}


def from_data(data: Mapping[str, Any]) -> Item:
    """The record of plain data. Raises KeyError for an unknown kind, TypeError or ValueError for wrong fields."""
    values = dict(data)
    kind = KINDS[values.pop("kind")]
    known = {entry.name for entry in fields(kind)}
    if unknown := values.keys() - known:
        raise TypeError(f"{kind.kind} has no {', '.join(sorted(unknown))}")
    values = {name: _frozen(value) for name, value in values.items()}
    if kind is Piece:
        values["state"] = State(values["state"])
    return kind(**values)


def _frozen(value: Any) -> Any:
    return tuple(_frozen(one) for one in value) if isinstance(value, list) else value
