"""Safety messages: complete, graded as ANSI Z535.4 grades them, and about every hazard of the trade."""

from __future__ import annotations

import pytest

from packet.description.site_values import Caution as Extra
from packet.description.terms import Harm
from packet.units import Format, System
from packet.words import Words
from packet.work.cautions import Caution, Signal, cautions
from packet.work.facts import facts, holds
from packet.work.stations import Station
from tests.work.kinds import PLAIN
from tests.zoo import zoo_plan

WORDS = Words(Format(System.METRIC))
KINDS = {"ring": zoo_plan("six metric"), **PLAIN}


@pytest.fixture(scope="module")
def found() -> tuple[Caution, ...]:
    return cautions(WORDS, facts(KINDS["ring"]))


@pytest.fixture(params=KINDS)
def messages(request: pytest.FixtureRequest) -> tuple[Caution, ...]:
    return cautions(WORDS, facts(KINDS[request.param]))


def test_every_message_has_its_parts(messages: tuple[Caution, ...]) -> None:
    """Type of hazard, consequence, how to avoid it (message parts after ANSI Z535.4 and ISO 3864)."""
    assert len(messages) >= 8
    for caution in messages:
        assert caution.hazard, caution.key
        assert caution.consequence.endswith("."), caution.key
        assert caution.avoid, caution.key
        assert all(line.endswith(".") for line in caution.avoid), caution.key
        assert caution.stations, caution.key


@pytest.mark.parametrize(("injury", "certain", "signal"), [
    # ANSI Z535.4, 4.14: DANGER will, WARNING could result in death or serious injury; CAUTION minor or moderate
    # injury; NOTICE practices not related to personal injury.
    (Harm.DEATH, True, Signal.DANGER), (Harm.SERIOUS, True, Signal.DANGER),
    (Harm.DEATH, False, Signal.WARNING), (Harm.SERIOUS, False, Signal.WARNING),
    (Harm.MODERATE, False, Signal.CAUTION), (Harm.MINOR, False, Signal.CAUTION),
    (Harm.MODERATE, True, Signal.CAUTION), (Harm.NONE, False, Signal.NOTICE), (Harm.NONE, True, Signal.NOTICE),
])
def test_signal_words(injury: Harm, certain: bool, signal: Signal) -> None:
    assert Caution("x", injury, certain, "", "", (), ()).signal is signal


def test_the_words_of_a_consequence_fit_its_signal_word(messages: tuple[Caution, ...]) -> None:
    """DANGER says that it kills, WARNING that it can; NOTICE never speaks of people."""
    for caution in messages:
        text = f" {caution.consequence.lower()} "
        if caution.signal is Signal.DANGER:
            assert " kills" in text, caution.key
            assert " can " not in text, caution.key
        if caution.signal is Signal.NOTICE:
            assert not any(word in text for word in ("people", "you", "kill", "injur", "hurt", "burn")), caution.key


def test_all_grades_are_there_gravest_first(messages: tuple[Caution, ...]) -> None:
    grades = [list(Signal).index(caution.signal) for caution in messages]
    assert set(grades) == {0, 1, 2, 3}
    assert grades == sorted(grades)


@pytest.mark.parametrize("needed", [
    "no flame, heater or cooking", "extinguisher", "smoke alarm", "barrier", "local building code", "overhead lines",
    "shock-protected", "anchor it", "never both doors open in wind", "nobody inside when it must be struck",
    "both exits clear", "without a key", "never tie a door from outside with people in", "peak opening", "co alarm",
    "no engine", "nobody on the roof", "snow off at once", "never burn offcuts", "two people carry",
    "for the wind, not the weight", "dust mask for glass-faced board", "gloves", "cut away",
])
def test_every_hazard_of_the_trade_is_spoken_of(found: tuple[Caution, ...], needed: str) -> None:
    text = " ".join(" ".join((c.hazard, c.consequence, *c.avoid)) for c in found).lower()
    assert needed in text


def test_protection_for_every_station() -> None:
    rows = WORDS.entry("cautions.protection.stations")
    assert list(rows) == [str(station) for station in Station]
    assert {len(row) for row in rows.values()} == {len(WORDS.entry("cautions.protection.header")) - 1}


def test_the_packet_claims_no_approval() -> None:
    text = f"{WORDS.entry('cautions.approval.title')} {' '.join(WORDS.entry('cautions.approval.lines'))}".lower()
    for needed in ("not an engineering approval", "local authority", "licensed engineer", "assumptions"):
        assert needed in text


def said(messages: tuple[Caution, ...]) -> str:
    return " ".join(" ".join((c.hazard, c.consequence, *c.avoid)) for c in messages).lower()


@pytest.mark.parametrize("name", PLAIN)
def test_what_nobody_can_enter_has_no_cautions_of_a_hut(name: str) -> None:
    text = said(cautions(WORDS, facts(KINDS[name])))
    for absent in ("door", "roof", "exit", "inside when", "peak", "co alarm", "carbon monoxide", "supply", "shelter"):
        assert absent not in text, absent
    for needed in ("never burn offcuts", "extinguisher", "local building code", "cut away", "two people carry"):
        assert needed in text, needed


@pytest.mark.parametrize(("name", "tips", "shuts"), [
    ("screen", True, False), ("booth", True, False), ("cool-box", False, True), ("ring", False, False)])
def test_a_tall_screen_tips_and_a_box_shuts(name: str, tips: bool, shuts: bool) -> None:
    text = said(cautions(WORDS, facts(KINDS[name])))
    assert ("tips what is not anchored" in text) is tips
    assert ("a child who climbs in" in text) is shuts


def test_holds_reads_facts_and_their_contrary() -> None:
    known = {"roof": True, "doors": False}
    assert holds([], known)
    assert holds("roof", known)
    assert not holds("no roof", known)
    assert holds(["roof", "no doors"], known)
    with pytest.raises(KeyError):
        holds("chimney", known)


def test_a_project_adds_cautions_and_takes_none_away() -> None:
    """The project's own come on top, as they are written, graded by what they do; the packet's stay word for word."""
    own = (Extra("Bees", "They sting those who lean on the hives.", "Keep {{ off }} the hives.", Harm.MODERATE),
           Extra("The weir", "It kills who falls in.", "Stay behind the rail.", Harm.DEATH, True),
           Extra("The tide", "It can cut the mole off.", "Leave an hour before.", Harm.DEATH))
    more = cautions(WORDS, facts(KINDS["ring"]), own)
    assert set(cautions(WORDS, facts(KINDS["ring"]))) < set(more)
    bees, weir, tide = (next(caution for caution in more if caution.hazard == each.hazard) for each in own)
    assert (bees.signal, weir.signal, tide.signal) == (Signal.CAUTION, Signal.DANGER, Signal.WARNING)
    assert bees.avoid == ("Keep {{ off }} the hives.",)
    assert [*more] == sorted(more, key=lambda caution: list(Signal).index(caution.signal))
