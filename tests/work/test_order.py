"""The order of tasks: topological, stable, station by station; circles and gaps are told."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packet.work.order import in_order
from packet.work.stations import Station
from packet.work.task import Task


def task(key: str, station: Station, *after: str) -> Task:
    return Task(key, station, (), (), after)


@st.composite
def graphs(draw: st.DrawFn) -> list[Task]:
    """Tasks that wait only for ones drawn before them, then shuffled."""
    count = draw(st.integers(1, 14))
    made = [task(str(i), draw(st.sampled_from(list(Station))),
                 *(str(j) for j in sorted(draw(st.sets(st.integers(0, i - 1), max_size=3))) if i))
            if i else task("0", draw(st.sampled_from(list(Station)))) for i in range(count)]
    return draw(st.permutations(made))


@given(graphs())
def test_every_task_once_and_after_what_it_waits_for(found: list[Task]) -> None:
    ordered = in_order(found)
    assert sorted(t.key for t in ordered) == sorted(t.key for t in found)
    place = {t.key: i for i, t in enumerate(ordered)}
    assert all(place[before] < place[t.key] for t in found for before in t.after)


@given(graphs())
def test_a_station_keeps_the_work_while_it_can(found: list[Task]) -> None:
    ordered = in_order(found)
    for i, (here, following) in enumerate(pairwise(ordered), 1):
        if here.station is not following.station:
            done = {t.key for t in ordered[:i]}
            ready = [t for t in found if t.key not in done and set(t.after) <= done]
            assert all(t.station is not here.station for t in ready)


@given(graphs())
def test_the_same_input_gives_the_same_order(found: list[Task]) -> None:
    assert in_order(found) == in_order(list(found))


def test_tasks_of_a_station_keep_their_given_order() -> None:
    found = [task("a", Station.H), task("b", Station.C), task("c", Station.H), task("d", Station.C)]
    assert [t.key for t in in_order(found)] == ["b", "d", "a", "c"]


def test_a_circle_is_told_with_its_tasks() -> None:
    found = [task("cut", Station.C), task("fold", Station.J, "tape"), task("tape", Station.H, "slit"),
             task("slit", Station.E, "fold")]
    with pytest.raises(ValueError, match="wait for each other") as caught:
        in_order(found)
    assert {"fold", "tape", "slit"} <= set(str(caught.value).replace(",", "").split())
    assert "cut" not in str(caught.value)


def test_a_task_that_is_not_there_is_told() -> None:
    with pytest.raises(ValueError, match="fold waits for tape, which is no task"):
        in_order([task("fold", Station.J, "tape")])


def test_two_tasks_of_one_key_are_told() -> None:
    with pytest.raises(ValueError, match="two tasks are called cut"):
        in_order([task("cut", Station.C), task("cut", Station.C)])
