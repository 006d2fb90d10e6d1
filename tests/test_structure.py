"""The order of the pipeline is the order of imports: a package may import only what stands to its left."""

from __future__ import annotations

import ast
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "packet"

# From left to right; those in one tuple may use each other.
LAYERS = (
    ("units", "resources"),
    ("description",),
    ("assembly",),
    ("boards",),
    ("tape",),
    ("findings",),
    ("plan",),
    ("figures", "alternates"),
    ("site", "ordering"),
    ("words", "drawing", "work", "summary", "ledger", "miscut"),
    ("sheets",),
    ("pdf",),
    ("printing", "batch", "cluster", "reissue", "appearing"),
    ("commands",),
    ("cli", "__main__", "__init__"),
)


def rank(module: str) -> int:
    return next(i for i, layer in enumerate(LAYERS) if module in layer)


def imported(file: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
        elif isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
    return names


def test_imports_point_left() -> None:
    wrong = []
    for file in sorted(PACKAGE.rglob("*.py")):
        own = file.relative_to(PACKAGE).with_suffix("").parts[0]
        for name in imported(file):
            parts = name.split(".")
            if parts[0] == "packet" and len(parts) > 1 and (PACKAGE / parts[1]).with_suffix(".py").exists() | (
                    PACKAGE / parts[1]).is_dir() and rank(parts[1]) > rank(own):
                wrong.append(f"{file.relative_to(PACKAGE)} imports {name}")
    assert not wrong


def test_only_pdf_knows_reportlab() -> None:
    users = {file.relative_to(PACKAGE).parts[0] for file in PACKAGE.rglob("*.py")
             if any(name.split(".")[0] == "reportlab" for name in imported(file))}
    assert users == {"pdf"}
