"""What every sheet is given besides the plan: lettering, words, number format and the room on the page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from packet.drawing.lettering import Lettering
from packet.drawing.page import Identity, Paper, content_room
from packet.drawing.room import Room
from packet.plan import Plan
from packet.units import Format, System
from packet.words import Words


@dataclass(frozen=True, slots=True)
class Kit:
    """`room` is the content rectangle of every page of the packet, in paper mm; `issued` holds the serials of each
    sheet that went out before."""

    lettering: Lettering
    words: Words
    form: Format
    paper: Paper
    identity: Identity
    room: Room
    issued: Mapping[str, tuple[str, ...]]

    @property
    def system(self) -> System:
        return self.form.system


def make_kit(plan: Plan, lettering: Lettering) -> Kit:
    description = plan.description
    own = description.identity
    words = Words(plan.form, description.language, description.words)
    identity = Identity(
        project=description.title, owner=own.owner, number=own.number, date=own.date, revision=own.revision,
        drawn_by=own.drawn_by, approved_by=own.approved_by, replaces=own.replaces,
        fingerprint=description.fingerprint, name=words.name)
    paper = Paper.landscape(*description.paper, description.paper_name)
    room = content_room(paper, identity, lettering, description.system)
    return Kit(lettering, words, words.form, paper, identity, room, plan.issued)
