"""Cover, print check, inputs, cautions and checklist, read as drawings."""

from __future__ import annotations

import dataclasses
import inspect
import re
from functools import cache
from itertools import pairwise
from typing import Any

import pytest

from packet import findings
from packet.description.models import ChainProject, Common, FreeProject, RingProject
from packet.drawing.lettering import FINE
from packet.drawing.marks import Circle, Line, Path, Text, bounds
from packet.drawing.page import FinishedSheet, Sheet, finish_all
from packet.drawing.symbols import TICK_SIZE
from packet.pdf.fonts import lettering
from packet.plan import Plan
from packet.sheets import cautions, checklist, cover
from packet.sheets.inputs import input_values
from packet.sheets.kit import Kit, make_kit
from packet.sheets.print_check import BARS, print_check
from packet.units import INCH
from packet.words import Words
from packet.work.cautions import Signal
from packet.work.cautions import cautions as messages
from packet.work.facts import facts
from packet.work.sheet_numbers import binding_order, sheet_number
from packet.work.tasks import tasks
from tests.work.kinds import PLAIN
from tests.work.test_wording import NAMES, plan_named


class Heard(Words):
    """Words that remember which entries were asked for."""

    asked: set[str]

    def entry(self, key: str) -> Any:
        found = super().entry(key)
        self.asked.add(key)
        return found


@dataclasses.dataclass(frozen=True)
class Packet:
    plan: Plan
    kit: Kit
    cover: tuple[FinishedSheet, ...]
    cautions: tuple[FinishedSheet, ...]
    checklist: tuple[FinishedSheet, ...]
    asked: frozenset[str]

    @property
    def all(self) -> tuple[FinishedSheet, ...]:
        return (*self.cover, *self.cautions, *self.checklist)


@cache
def packet(name: str) -> Packet:
    plan = plan_named(name)
    kit = make_kit(plan, lettering())
    words = Heard(kit.form)
    words.asked = set()
    kit = dataclasses.replace(kit, words=words)

    def finish(sheets: tuple[Sheet, ...]) -> tuple[FinishedSheet, ...]:
        return finish_all(sheets, kit.identity, kit.paper, kit.lettering, kit.system)

    warned, listed = finish(cautions.draw(plan, kit)), finish(checklist.draw(plan, kit))
    front = finish(cover.draw(plan, kit, (*warned, *listed)))
    return Packet(plan, kit, front, warned, listed, frozenset(words.asked))


def texts(sheet: FinishedSheet | Sheet) -> list[str]:
    return [mark.string for mark in sheet.marks if isinstance(mark, Text)]


def squares(sheet: FinishedSheet) -> int:
    """Tick boxes on a sheet: squares of the tick box's size."""
    found = 0
    for mark in sheet.marks:
        if isinstance(mark, Path) and len(mark.points) == 4:
            xs, ys = [p[0] for p in mark.points], [p[1] for p in mark.points]
            found += all(abs(max(v) - min(v) - TICK_SIZE) < 1e-6 for v in (xs, ys))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_task_has_its_number_and_its_tick_box(name: str) -> None:
    made = packet(name)
    count = len(tasks(made.plan))
    assert sum(squares(sheet) for sheet in made.checklist) == count
    circled = [text for sheet in made.checklist for text in _circled(sheet)]
    assert circled == [str(number) for number in range(1, count + 1)]


def _circled(sheet: FinishedSheet) -> list[str]:
    """Texts that stand right after the circle they are centred in; those of the small pictures are set finer."""
    return [b.string for a, b in pairwise(sheet.marks)
            if isinstance(b, Text) and isinstance(a, Circle) and b.style.height > FINE.height and b.anchor == "centre"]


@pytest.mark.parametrize("name", NAMES)
def test_every_hold_point_has_a_place_to_sign(name: str) -> None:
    made = packet(name)
    holds = sum(task.hold for task in tasks(made.plan))
    said = [text for sheet in made.checklist for text in texts(sheet)]
    assert said.count(made.kit.words.text("checklist.hold.sign")) == holds
    # Holds with the same limits that follow one another share a heading; each has its own box.
    headings = sum(text.startswith(made.kit.words.text("checklist.hold.heading")) for text in said)
    assert len({task.step for task in tasks(made.plan) if task.hold}) <= headings <= holds


@pytest.mark.parametrize("name", NAMES)
def test_the_register_lists_every_sheet_with_its_serial_and_leads_to_it(name: str) -> None:
    made = packet(name)
    registers = [sheet for sheet in made.cover if sheet.links]
    said = [text for sheet in registers for text in texts(sheet)]
    listed = (*made.cautions, *made.checklist)
    for sheet in listed:
        assert said.count(sheet.serial) == 1
        assert sheet.number in said
        assert sheet.title in said
    assert [link.target for sheet in registers for link in sheet.links] == [sheet.number for sheet in listed]


def test_a_long_register_goes_on_to_further_pages() -> None:
    made = packet("six metric")
    many = tuple(dataclasses.replace(made.checklist[0], number=f"C-{n:02d}", serial=f"{n:03d}-0000")
                 for n in range(1, 100))
    front = cover.draw(made.plan, made.kit, many)
    targets = [link.target for sheet in front for link in sheet.links]
    assert targets == [sheet.number for sheet in many]
    numbers = [sheet.number for sheet in front]
    assert len(front) > 3
    assert numbers == sorted(set(numbers), key=binding_order)
    assert numbers[0] == sheet_number("cover")


@pytest.mark.parametrize(("name", "lengths"), [
    # An inch packet checks 6 in and 100 mm, a metric one 100 mm and 150 mm, on both axes (common practice).
    ("six left", (6 * INCH, 100.0)), ("eight outer left", (100.0, 150.0)),
])
def test_check_bars_on_both_axes(name: str, lengths: tuple[float, float]) -> None:
    made = packet(name)
    assert tuple(length for length, _ in BARS[made.kit.system]) == pytest.approx(lengths)
    sheet = print_check(made.plan, made.kit)
    wide = [mark for mark in sheet.marks if isinstance(mark, Line) and mark.pen.width == 0.5]
    level = sorted(abs(mark.b[0] - mark.a[0]) for mark in wide if mark.a[1] == mark.b[1])
    upright = sorted(abs(mark.b[1] - mark.a[1]) for mark in wide if mark.a[0] == mark.b[0])
    assert level == pytest.approx(sorted(lengths), abs=1e-9)
    assert upright == pytest.approx(sorted(lengths), abs=1e-9)


def test_limits_of_the_bars() -> None:
    """1.5 % of 100 mm is 1.5 mm, of 6 in 0.09 in: a page at 97.3 % or 94.1 % (printed to fit) is found out."""
    said = " ".join(texts(print_check(packet("six left").plan, packet("six left").kit)))
    assert "5.91 to 6.09 in" in said
    assert "98.5 to 101.5 mm" in said
    assert 97.3 < 98.5


@pytest.mark.parametrize("name", NAMES)
def test_inputs_mark_what_was_assumed(name: str) -> None:
    made = packet(name)
    values = input_values(made.plan, made.kit)
    title = made.kit.words.text("cover.inputs.title")
    said = [text for sheet in made.cover if sheet.title == title for text in texts(sheet)]
    assumed = [key for key in values if key in made.plan.description.assumed]
    assert said.count("*") == len(assumed)
    assert set(values.values()) <= set(said)


@pytest.mark.parametrize(("name", "project"), [("saw", RingProject), ("screen", ChainProject), ("booth", FreeProject)])
def test_inputs_show_every_key_of_the_project_file(name: str, project: type[Common]) -> None:
    """All but the title block's own, the paper, the preset, and what is listed one by one."""
    made = packet(name)
    shown = set(input_values(made.plan, made.kit)) - {"shelter.duct"}
    keys = {f"{group}.{key}" for group, info in project.model_fields.items()
            if hasattr(info.annotation, "model_fields") for key in info.annotation.model_fields}
    listed = {"shelter.leaves", "shelter.seams"} if project is FreeProject else set()
    if project is not RingProject:
        listed.add("limits.steep")  # warns of the rise of a ring's roof
    assert shown == keys - {"shelter.preset"} - listed
    if name == "saw":
        assert "shelter.duct" in input_values(made.plan, made.kit)


@pytest.mark.parametrize("name", ["booth", "cool-box"])
def test_inputs_list_leaves_and_seams(name: str) -> None:
    made = packet(name)
    said = [text for sheet in made.cover for text in texts(sheet)]
    for leaf in made.plan.assembly.leaves:
        width, height = leaf.outline[2]
        assert f"leaf {leaf.mark}" in said
        assert made.kit.form.size(width, height) in said
    assert sum(text.startswith("seam ") for text in said) == len(made.plan.assembly.seams)


@pytest.mark.parametrize("name", PLAIN)
def test_no_word_of_a_ring_where_there_is_none(name: str) -> None:
    said = " ".join(text for sheet in packet(name).all for text in texts(sheet)).lower()
    for absent in ("half", "halves", "doors?", "roof", "gore", "eaves?", "hips?", "mid", "interlock", "peak", "jamb",
                   "releasable", "walls?", "inside when", "co alarm", "exits?"):
        assert not re.search(rf"\b{absent}\b", said), absent


@pytest.mark.parametrize("name", NAMES)
def test_pages_of_the_checklist_are_full(name: str) -> None:
    """At least half full but for the last; a page is turned only for what does not fit."""
    made = packet(name)
    for sheet in checklist.draw(made.plan, made.kit)[:-1]:
        low = bounds(sheet.marks, made.kit.lettering)[1]
        assert (made.kit.room.top - low) / made.kit.room.height > 0.4, sheet.number


@pytest.mark.parametrize("name", NAMES)
def test_findings_are_printed(name: str) -> None:
    made = packet(name)
    title = made.kit.words.text("cover.findings.title")
    pages = [sheet for sheet in made.cover if sheet.title == title]
    assert bool(pages) == bool(made.plan.findings)
    said = re.sub(r"\s+", " ", " ".join(text for page in pages for text in texts(page)))
    for found in made.plan.findings:
        assert found.message[1:] in said


def test_alert_triangles_stand_with_every_grade_but_notice() -> None:
    made = packet("six left")
    black = [mark for sheet in made.cautions for mark in sheet.marks
             if isinstance(mark, Path) and len(mark.points) == 3 and mark.fill == 0.0]
    graded = [caution.signal for caution in messages(made.kit.words, facts(made.plan))]
    assert len(black) == sum(signal is not Signal.NOTICE for signal in graded)
    said = [text for sheet in made.cautions for text in texts(sheet)]
    assert [text for text in said if text in set(Signal)] == [str(signal) for signal in graded]


def test_no_words_are_kept_in_vain() -> None:
    """Every entry of these files is asked for by some packet."""
    asked = {key for name in NAMES for key in packet(name).asked}
    words = packet(NAMES[0]).kit.words
    # Asked for by a register longer than a page, drawn in its own test.
    asked |= {"cover.more.title", "cover.more.subtitle"}
    # Findings that none of these packets has, an order of several sets, and work added by a decision: in tests of their own.
    source = inspect.getsource(findings)
    asked |= {f"cover.findings.{term}" for term in words.entry("cover.findings") if f'"{term}"' in source}
    asked |= {"checklist.each_set", "checklist.hold.each_set", "checklist.hold.sign_all", "checklist.added"}
    unused = [key for name in ("cover", "checklist", "cautions", "terms") for key in _leaves(name, words.entry(name))
              if not any(key == used or key.startswith(f"{used}.") for used in asked)]
    assert not unused


def _leaves(prefix: str, entry: Any) -> list[str]:
    if isinstance(entry, dict):
        return [leaf for key, value in entry.items() for leaf in _leaves(f"{prefix}.{key}", value)]
    return [prefix]
