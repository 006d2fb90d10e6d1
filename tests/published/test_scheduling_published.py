"""Networks and list scheduling against textbooks, papers and an independent graph library."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from packet.work.list_scheduling import Slot, Staffed, end, list_schedule
from packet.work.network import Job, network

CPM = tuple(Job(key, minutes, tuple(after)) for key, minutes, after in (
    ("A", 4, ""), ("B", 3, "A"), ("C", 5, "A"), ("D", 2, "A"), ("E", 5, "BC"), ("F", 6, "CD"), ("G", 4, "EF"),
    ("H", 3, "G")))


def test_critical_path_of_eight_activities() -> None:
    """Lecture on project scheduling with the network A4 to H3 (slides, as of the references): ES, EF, LS, path, 22."""
    found = network(CPM)
    assert found.critical == ("A", "C", "F", "G", "H")
    assert found.length == 22
    assert (found.times["G"].earliest_start, found.times["G"].earliest_finish) == (15, 19)
    late = found.times["E"]
    assert (late.earliest_start, late.earliest_finish, late.latest_start) == (9, 14, 10)


def test_slack_table_of_seven_activities() -> None:
    """Taylor, Introduction to Management Science, chapter 8, solutions: path 1-3-4-5-6 of 20; slacks 2 0 2 0 4 0 0."""
    arrows = {"1-2": 7, "1-3": 10, "2-4": 6, "3-4": 5, "3-5": 4, "4-5": 3, "5-6": 2}
    jobs = [Job(name, minutes, tuple(other for other in arrows if other.endswith(name[0])))
            for name, minutes in arrows.items()]
    found = network(jobs)
    assert found.length == 20
    assert found.critical == ("1-3", "3-4", "4-5", "5-6")
    assert [found.times[name].slack for name in arrows] == [2, 0, 2, 0, 4, 0, 0]


def test_general_hospital_network() -> None:
    """Heizer and Render, Operations Management (from memory): A-C-E-G-H, 15 weeks."""
    found = network(Job(key, weeks, tuple(after)) for key, weeks, after in (
        ("A", 2, ""), ("B", 3, ""), ("C", 2, "A"), ("D", 4, "AB"), ("E", 4, "C"), ("F", 3, "C"), ("G", 5, "DE"),
        ("H", 2, "FG")))
    assert (found.length, found.critical) == (15, ("A", "C", "E", "G", "H"))


def made_up(seed: int, count: int = 40) -> list[Job]:
    chance = random.Random(seed)
    return [Job(str(n), chance.randint(0, 30),
                tuple(str(k) for k in range(n) if chance.random() < 0.08)) for n in range(count)]


@pytest.mark.parametrize("seed", range(8))
def test_length_is_the_longest_path(seed: int) -> None:
    """Against the longest path that networkx finds in the same graph, jobs turned into arcs."""
    jobs = made_up(seed)
    graph = nx.DiGraph()
    for job in jobs:
        graph.add_edge((job.key, 0), (job.key, 1), weight=job.minutes)
        for key in job.after:
            graph.add_edge((key, 1), (job.key, 0), weight=0)
    found = network(reversed(jobs))
    assert found.length == nx.dag_longest_path_length(graph)
    minutes = {job.key: job.minutes for job in jobs}
    assert sum(minutes[key] for key in found.critical) == found.length


def machines(jobs: list[Job], count: int) -> tuple[Slot, ...]:
    """Equal machines, the list in the order given."""
    return list_schedule([Staffed(job, {"machine": 1}) for job in jobs], {"machine": count}, [job.key for job in jobs])


def graham(minutes: str = "322244449", linked: bool = True) -> list[Job]:
    after = {5: ("4",), 6: ("4",), 7: ("4",), 8: ("4",)} if linked else {}
    after[9] = ("1",)
    return [Job(str(n), int(length), after.get(n, ())) for n, length in enumerate(minutes, 1)]


@pytest.mark.parametrize(("jobs", "count", "length"), [
    (graham(), 3, 12), (graham(linked=False), 3, 16), (graham("211133338"), 3, 13), (graham(), 4, 15)])
def test_anomalies(jobs: list[Job], count: int, length: int) -> None:
    """Graham, Bounds on Multiprocessing Timing Anomalies, 1969: fewer links, shorter jobs, one machine more."""
    assert end(machines(jobs, count)) == length


def loose(minutes: str) -> list[Job]:
    return [Job(str(n), int(length)) for n, length in enumerate(minutes)]


@pytest.mark.parametrize(("minutes", "count", "length"), [
    # Jobs 4 to 8 in that order and longest first (encyclopedia article on list scheduling).
    ("45678", 2, 18), ("45678", 3, 13), ("87654", 2, 17),
    # Longest first at its worst, 4/3 - 1/(3m) of the best, which is 6 and 9 (Graham 1969, from memory).
    ("33222", 2, 7), ("5544333", 3, 11)])
def test_independent_jobs(minutes: str, count: int, length: int) -> None:
    assert end(machines(loose(minutes), count)) == length


@pytest.mark.parametrize("seed", range(6))
def test_no_list_is_worse_than_the_bound(seed: int) -> None:
    """Within 2 - 1/m of the larger of path and work over machines (Graham 1966); never more jobs at once than m."""
    jobs = made_up(seed)
    slots = machines(jobs, 3)
    least = max(network(jobs).length, sum(job.minutes for job in jobs) / 3)
    assert least <= end(slots) <= (2 - 1 / 3) * least + 1e-6
    begun = {slot.key: slot for slot in slots}
    for slot in slots:
        assert sum(other.start <= slot.start < other.finish for other in slots) <= 3
    for job in jobs:
        assert all(begun[key].finish <= begun[job.key].start for key in job.after)


def test_faults() -> None:
    with pytest.raises(ValueError, match="wait for each other"):
        network([Job("a", 1, ("b",)), Job("b", 1, ("a",))])
    with pytest.raises(ValueError, match="a waits for x"):
        network([Job("a", 1, ("x",))])
    with pytest.raises(ValueError, match="needs 2 of hands"):
        list_schedule([Staffed(Job("a", 1), {"hands": 2})], {"hands": 1}, ["a"])
