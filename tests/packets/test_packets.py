"""Every project on every paper, drawn once as a whole packet and checked in every way."""

from __future__ import annotations

import pytest

from tests.packets import look
from tests.packets.packet import PAPERS, PROJECTS, packet_of


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("project", PROJECTS)
def test_packet(project: str, paper: str) -> None:
    packet = packet_of(project, paper)
    assert [fault for check in look.CHECKS for fault in check(packet)] == []
