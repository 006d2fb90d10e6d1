"""Safety messages: complete, graded as ANSI Z535.4 grades them, and about every hazard of the trade."""

from __future__ import annotations

import pytest

from packet.units import Format, System
from packet.words import Words
from packet.work.cautions import Caution, Injury, Signal, cautions
from packet.work.stations import Station

WORDS = Words(Format(System.METRIC))


@pytest.fixture(scope="module")
def found() -> tuple[Caution, ...]:
    return cautions(WORDS)


def test_every_message_has_its_parts(found: tuple[Caution, ...]) -> None:
    """Type of hazard, consequence, how to avoid it (message parts after ANSI Z535.4 and ISO 3864)."""
    assert len(found) >= 10
    for caution in found:
        assert caution.hazard, caution.key
        assert caution.consequence.endswith("."), caution.key
        assert caution.avoid, caution.key
        assert all(line.endswith(".") for line in caution.avoid), caution.key
        assert caution.stations, caution.key


@pytest.mark.parametrize(("injury", "certain", "signal"), [
    # ANSI Z535.4, 4.14: DANGER will, WARNING could result in death or serious injury; CAUTION minor or moderate
    # injury; NOTICE practices not related to personal injury.
    (Injury.DEATH, True, Signal.DANGER), (Injury.SERIOUS, True, Signal.DANGER),
    (Injury.DEATH, False, Signal.WARNING), (Injury.SERIOUS, False, Signal.WARNING),
    (Injury.MODERATE, False, Signal.CAUTION), (Injury.MINOR, False, Signal.CAUTION),
    (Injury.MODERATE, True, Signal.CAUTION), (Injury.NONE, False, Signal.NOTICE), (Injury.NONE, True, Signal.NOTICE),
])
def test_signal_words(injury: Injury, certain: bool, signal: Signal) -> None:
    assert Caution("x", injury, certain, "", "", (), ()).signal is signal


def test_the_words_of_a_consequence_fit_its_signal_word(found: tuple[Caution, ...]) -> None:
    """DANGER says that it kills, WARNING that it can; NOTICE never speaks of people."""
    for caution in found:
        text = f" {caution.consequence.lower()} "
        if caution.signal is Signal.DANGER:
            assert " kills" in text, caution.key
            assert " can " not in text, caution.key
        if caution.signal is Signal.NOTICE:
            assert not any(word in text for word in ("people", "you", "kill", "injur", "hurt", "burn")), caution.key


def test_all_grades_are_there_gravest_first(found: tuple[Caution, ...]) -> None:
    grades = [list(Signal).index(caution.signal) for caution in found]
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
