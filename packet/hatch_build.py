"""What hatch does besides copying files when it builds the package: the sentences are prepared (`prepared.py`)."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class SentencesHook(BuildHookInterface[Any]):
    """For an editable install they are written into the checkout, git-ignored; for a wheel nothing is left there."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        sys.path.insert(0, self.root)
        from packet.prepared import FILE, prepare

        if version == "editable":
            prepare(FILE)
            return
        self._scratch = tempfile.TemporaryDirectory()
        target = Path(self._scratch.name, FILE.name)
        prepare(target)
        build_data["force_include"][str(target)] = f"packet/{FILE.name}"

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        if version != "editable":
            self._scratch.cleanup()
