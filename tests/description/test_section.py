"""A group of keys: what its model says of them, and every mistake in what was written."""

from typing import Annotated

import pytest

from packet.description.kinds import Count, Flag, Listed
from packet.description.section import Fault, Section, keys_of, read_section
from packet.description.source import Node, Scalar
from packet.description.value_kind import Reading
from packet.units import System


class Rope(Section):
    strands: Annotated[int, Count(2, 9)]
    tarred: Annotated[bool | None, Flag()] = None


class Rig(Section):
    name: Annotated[int, Count(1, 3)]


class Ship(Rig):
    rope: Rope
    spare: Annotated[tuple[Rope, ...], Listed(2, ((), ()), "[]")]
    knots: Annotated[tuple[Annotated[int, Count(1, 3)], ...], Listed(3, ((), ()), "[]", empty_allowed=True)]


def test_keys_stand_in_order_those_of_the_base_first() -> None:
    assert list(keys_of(Ship)) == ["name", "rope", "spare", "knots"]
    assert list(keys_of(Rig)) == ["name"]
    assert keys_of(Ship)["rope"].group is Rope
    assert keys_of(Ship)["spare"].entry.group is Rope
    assert keys_of(Ship)["knots"].entry.kind is not None
    assert [key.required for key in keys_of(Rope).values()] == [True, False]


def test_a_section_is_read_whole_and_does_not_change() -> None:
    reading = Reading(System.INCH)
    strands = Scalar("3", "rope.strands")
    given: dict[str, Node] = {"name": Scalar("1", "name"), "rope": {"strands": strands}, "spare": [{"strands": strands}],
                              "knots": [Scalar("2", "knots.0"), Scalar("1", "knots.1")]}
    ship, mistakes = read_section(Ship, given, reading)
    assert ship is not None and not mistakes
    assert dict(ship.rope) == {"strands": 3, "tarred": None}
    assert (ship.name, ship.knots, [dict(one)["strands"] for one in ship.spare]) == (1, (2, 1), [3])
    assert reading.values == {"name": 1, "rope.strands": 3, "knots.0": 2, "knots.1": 1}
    with pytest.raises(AttributeError):
        ship.name = 2


def test_every_mistake_is_found_at_its_place() -> None:
    given: dict[str, Node] = {"rope": {"strand": Scalar("3", "rope.strand"), "tarred": Scalar("?", "rope.tarred")},
                              "spare": [Scalar("x", "spare.0"), {"strands": Scalar("99", "spare.1.strands")}],
                              "knots": [Scalar(str(n), f"knots.{n}") for n in range(4)]}
    ship, mistakes = read_section(Ship, given, Reading(System.INCH))
    assert ship is None
    assert [(mistake.place, mistake.fault) for mistake in mistakes] == [
        (("name",), Fault.MISSING), (("rope", "strands"), Fault.MISSING), (("rope", "tarred"), Fault.REFUSED),
        (("rope", "strand"), Fault.UNKNOWN), (("spare", 0), Fault.NO_GROUP), (("spare", 1, "strands"), Fault.REFUSED),
        (("knots",), Fault.REFUSED)]
    assert [mistake.refusal.limit for mistake in mistakes if mistake.refusal] == [
        "yes or no", "a whole number from 2 to 9", "a list of at most 3 entries"]


def test_a_model_whose_annotations_are_not_evaluated_is_refused() -> None:
    with pytest.raises(TypeError, match="not evaluated"):
        type("Late", (Section,), {"__annotations__": {"length": "int"}})
