"""Values that can each be read, but cannot be built together. Every remedy given here passes when applied.

Formulas (lengths in mm, n walls, leaf width w, slant L): apothem w / tan(pi/n), the inradius of a regular
polygon of side 2w; the roof closes over it where the slant is longer than the apothem.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from packet.description.models import RingProject, Shelter, Tape, bounds
from packet.units import Format, System, ceil_to, floor_to, print_step

_SLACK = 1e-6  # mm: float noise of lengths that were written in another unit


@dataclass(frozen=True, slots=True)
class Finding:
    """What cannot be built, at which key. Texts as in Problem."""

    key: str
    message: str
    limit: str
    remedy: str


def check(values: Mapping[str, Any], system: System) -> list[Finding]:
    """Every finding on the values that could be read, by dotted key; a check that lacks a value is skipped."""
    found: list[Finding] = []
    for test in (
        _even_walls,
        _closure,
        _land,
        _tip_trim,
        _bottom_trim,
        _latch_edge,
        _latch_head,
        _duct,
        _edge_trim,
        _foil_overlap,
    ):
        try:
            found.extend(test(values, Format(system)))
        except KeyError:
            continue
    return found


def apothem(walls: int, leaf_width: float) -> float:
    """Centre to wall, mm, of a ring of `walls` walls of two leaves each."""
    return leaf_width / math.tan(math.pi / walls)


def _even_walls(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    walls = values["shelter.walls"]
    if walls % 2 == 0 or values["shelter.releasable"]:
        return
    choices = [walls - 1]
    # One wall more is advised only where the roof would close over it; that is known where both sizes are.
    width, slant = values.get("shelter.leaf_width"), values.get("shelter.slant")
    if width and slant and apothem(walls + 1, width) < slant - print_step(form.system):
        choices.append(walls + 1)
    yield Finding(
        "shelter.walls",
        f"an odd ring cannot be packed: its two columns would be unequal ({walls - 1} and {walls + 1} wall leaves)",
        "an even number from 4 to 12, unless one corner-and-hip line comes apart",
        f"Write {' or '.join(f'`walls: {choice}`' for choice in choices)}, or `releasable: yes`.",
    )


def _closure(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    walls, width, slant = (values[f"shelter.{name}"] for name in ("walls", "leaf_width", "slant"))
    reach = apothem(walls, width)
    if reach < slant - _SLACK:
        return
    step = print_step(form.system)
    widest = floor_to(slant * math.tan(math.pi / walls) - step, form.system)
    least = ceil_to(reach + step, form.system)
    narrowest, longest = bounds(Shelter, "leaf_width", form.system)[0], bounds(Shelter, "slant", form.system)[1]
    remedies = []
    if widest >= narrowest:
        remedies.append(f"`leaf_width: {form.length_unit(widest)}` or less")
    if least <= longest:
        remedies.append(f"`slant: {form.length_unit(least)}` or more")
    if not remedies:
        least = ceil_to(apothem(walls, narrowest) + step, form.system)
        remedies.append(f"`leaf_width: {form.length_unit(narrowest)}` and `slant: {form.length_unit(least)}`")
    yield Finding(
        "shelter.leaf_width",
        f"the roof cannot close: from the centre to a wall (the apothem) is {_length(form, reach)},"
        f" and the slant of {form.length_unit(slant)} does not reach over it",
        f"leaf_width under {_length(form, slant * math.tan(math.pi / walls))}, or slant over {_length(form, reach)}",
        f"Write {', or '.join(remedies)}; the nearer to these, the flatter the roof.",
    )


def _length(form: Format, mm: float) -> str:
    return f"{form.decimal(mm)} {form.unit}"


def _land(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    land, half = values["tape.land"], values["shelter.leaf_width"] / 2
    if land < half - _SLACK:
        return
    most = half - print_step(form.system)
    # Advise a land that leaves the latch hole its place, where there is one.
    room = min(most, *_room_beside_latch(values, half * 2))
    if room >= bounds(Tape, "land", form.system)[0]:
        most = room
    yield Finding(
        "tape.land",
        f"the lands of a leaf's two edges would meet: it is {form.length_unit(2 * half)} wide",
        f"under {_length(form, half)}, half the leaf",
        f"Write `land: {form.length_unit(floor_to(most, form.system))}` or less.",
    )


def _room_beside_latch(values: Mapping[str, Any], width: float) -> tuple[float, ...]:
    """What the latch hole leaves for the land on its four sides; infinity where a size is not known."""
    try:
        radius, edge = values["doors.latch_hole"] / 2, values["doors.latch_from_free_edge"]
        head, bottom = values["doors.latch_below_head"], values["shelter.wall_height"] - values["doors.bottom_trim"]
    except KeyError:
        return (math.inf,)
    return edge - radius, width - edge - radius, head - radius, bottom - head - radius


def _tip_trim(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    trim, slant = values["shelter.tip_trim"], values["shelter.slant"]
    if trim < slant - _SLACK:
        return
    usual = "3 in" if form.system is System.INCH else "75 mm"
    yield Finding(
        "shelter.tip_trim",
        "the trim takes the whole roof leaf away",
        f"under {form.length_unit(slant)}, the slant",
        f"Write `tip_trim: {usual}`.",
    )


def _bottom_trim(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    trim, most = values["doors.bottom_trim"], values["shelter.wall_height"] / 4
    if trim < most - _SLACK:
        return
    text = form.length_unit(floor_to(most - print_step(form.system), form.system))
    yield Finding(
        "doors.bottom_trim",
        "the trim takes too much of the door away",
        f"under {_length(form, most)}, a quarter of the wall height",
        f"Write `bottom_trim: {text}` or less.",
    )


def _latch_edge(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    width, land, radius = values["shelter.leaf_width"], values["tape.land"], values["doors.latch_hole"] / 2
    if land >= width / 2 - _SLACK:
        return  # told as the land's own fault
    yield from _latch_within(
        form,
        key="doors.latch_from_free_edge",
        given=values["doors.latch_from_free_edge"],
        low=land + radius,
        high=width - land - radius,
        between="from the free edge, between the lands of the leaf's two edges",
        roomy=("leaf_width", 2 * (land + radius)),
    )


def _latch_head(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    height, land, radius = values["shelter.wall_height"], values["tape.land"], values["doors.latch_hole"] / 2
    trim = values["doors.bottom_trim"]
    if trim >= height / 4 - _SLACK:
        return  # told as the trim's own fault
    yield from _latch_within(
        form,
        key="doors.latch_below_head",
        given=values["doors.latch_below_head"],
        low=land + radius,
        high=height - trim - land - radius,
        between="from the head, between the lands at the door's head and bottom",
        roomy=("wall_height", 2 * (land + radius) + trim),
    )


def _latch_within(
    form: Format,
    key: str,
    given: float,
    low: float,
    high: float,
    between: str,
    roomy: tuple[str, float],
) -> Iterator[Finding]:
    """The hole's centre must leave the lands whole. `roomy` names the size that makes room, and its least."""
    if low - _SLACK <= given <= high + _SLACK:
        return
    name = key.rpartition(".")[2]
    first, last = ceil_to(low, form.system), floor_to(high, form.system)
    if first <= last:
        limits = f"{form.length_unit(first)} to {form.length_unit(last)}"
        remedy = f"Write `{name}: {form.length_unit(first)}` to `{name}: {form.length_unit(last)}`."
        yield Finding(key, "the latch hole would cut into the tape", f"{limits} {between}", remedy)
        return
    size, least = roomy[0], ceil_to(roomy[1] + 2 * print_step(form.system), form.system)
    yield Finding(
        key,
        "there is no room for the latch hole between the lands",
        f"{size} of {form.length_unit(least)} or more",
        f"Write `{size}: {form.length_unit(least)}` and `{name}: {form.length_unit(first)}`.",
    )


def _duct(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    duct = values["duct"]
    walls, width, slant, trim = (values[f"shelter.{name}"] for name in ("walls", "leaf_width", "slant", "tip_trim"))
    opening = 2 * apothem(walls, width * trim / slant)  # across flats at the inner face
    if duct <= opening + _SLACK or trim >= slant:
        return
    needed = ceil_to(duct / 2 * math.tan(math.pi / walls) * slant / width, form.system)
    remedies = []
    if needed < slant and needed <= bounds(Shelter, "tip_trim", form.system)[1]:
        remedies.append(f"`tip_trim: {form.length_unit(needed)}` or more")
    fits = floor_to(opening, form.system)
    if fits >= bounds(RingProject, "duct", form.system)[0]:
        remedies.append(f"`duct: {form.length_unit(fits)}` or less")
    yield Finding(
        "duct",
        f"the duct does not pass the peak opening, which is {_length(form, opening)} across its flats",
        f"at most {_length(form, opening)}",
        f"Write {', or '.join(remedies)}." if remedies else "Take the duct away, or widen the leaves.",
    )


def _edge_trim(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    trim, breadth = values["boards.edge_trim"], values["boards.size"][0]
    measured = (values[key] for key in values if key.startswith("boards.measured.") and key.endswith(".breadth"))
    narrowest = min([breadth, *measured])
    if 2 * trim >= narrowest - _SLACK:
        yield Finding(
            "boards.edge_trim",
            "the trims of its two edges leave nothing of a board",
            f"under {_length(form, narrowest / 2)}, half the narrowest board",
            "Write `edge_trim: 0`.",
        )


def _foil_overlap(values: Mapping[str, Any], form: Format) -> Iterator[Finding]:
    overlap, narrowest = values["foil.overlap"], min(values["foil.stock"])
    if overlap >= narrowest - _SLACK:
        usual = "1/2 in" if form.system is System.INCH else "12 mm"
        yield Finding(
            "foil.overlap",
            "two passes of foil would lie over each other whole",
            f"under {form.length_unit(narrowest)}, the narrowest foil",
            f"Write `overlap: {usual}` or a wider `stock`.",
        )
