"""The contracts on imports (`tool.importlinter` in pyproject.toml): the order of the pipeline, and who knows reportlab."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent


def test_imports_keep_their_contracts() -> None:
    linter = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(cache_dir=None))"
    said = subprocess.run([sys.executable, "-c", linter], cwd=ROOT, capture_output=True, text=True, check=False)
    assert said.returncode == 0, said.stdout + said.stderr
