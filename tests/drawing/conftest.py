"""The lettering, read once."""

from __future__ import annotations

import pytest

from packet.drawing.lettering import Lettering
from packet.pdf.fonts import lettering


@pytest.fixture(scope="session")
def letters() -> Lettering:
    return lettering()
