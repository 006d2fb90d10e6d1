"""Do the tests notice? python -m tests.bench.mutants [COUNT] [SEED] [FIRST] changes one thing at a time and runs the tests
near it.

A sample of small changes (an operator, a comparison, a number, a sign) in `packet/assembly` and `packet/boards`, each in a
copy of the package; a mutant survives when its tests still pass. What survived belongs into DEVELOPERS.md, with why. COUNT
changes of a SEED are the same each time: a run that was broken off goes on with FIRST, the number it told last.
"""

from __future__ import annotations

import ast
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
FOLDERS = ("assembly", "boards")
NEAR = {
    "assembly": ("tests/assembly", "tests/published/test_geometry_published.py", "tests/laws/test_ring_laws.py"),
    "boards": ("tests/boards",),
}
SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Lt: ast.LtE, ast.LtE: ast.Lt,
    ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.And: ast.Or, ast.Or: ast.And,
}
FEW = 6
"""Test files that are asked first, at most; where more import a module, those of its own folder."""
PATIENCE = 300
"""Seconds of processor time for the tests of one mutant, four times what they take: a hang counts as noticed. By the clock a
busy machine would notice what its tests do not."""


def sites(tree: ast.Module) -> Iterator[tuple[ast.AST, str, object]]:
    """Places that can be changed: the node, its field, and what it becomes."""
    for node in ast.walk(tree):
        if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in SWAPS:
            yield node, "op", SWAPS[type(node.op)]()
        elif isinstance(node, ast.Compare) and type(node.ops[0]) in SWAPS:
            yield node, "ops", [SWAPS[type(node.ops[0])](), *node.ops[1:]]
        elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
            yield node, "value", node.value + 1
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            yield node, "op", ast.UAdd()


def mutant(path: Path, number: int) -> tuple[str, int, str, str]:
    """The file with its change of that number: text, line, the statement before and after."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    node, field, new = list(sites(tree))[number]
    before = ast.unparse(node)
    setattr(node, field, new)
    return ast.unparse(tree), getattr(node, "lineno", 0), before, ast.unparse(node)


def near(path: Path) -> tuple[str, ...]:
    """The few test files that import a module themselves, and the case that was worked out by hand: these are asked first."""
    name = f"packet.{path.relative_to(ROOT / 'packet').parts[0]}.{path.stem} import"
    own = [file for file in sorted((ROOT / "tests").rglob("test_*.py")) if name in file.read_text(encoding="utf-8")]
    if len(own) > FEW:  # records that everything uses
        own = [file for file in own if file.parent.name == path.parent.name]
    return (*(str(file.relative_to(ROOT)) for file in own), "tests/test_check_case.py")


def noticed(path: Path, text: str, copy: Path) -> bool:
    """Whether tests fail with this text in a file's place: those that import it, or else all that are near."""
    folder = path.relative_to(ROOT / "packet").parts[0]
    return any(_fail(path, text, copy, tests) for tests in (near(path), NEAR[folder]))


def _fail(path: Path, text: str, copy: Path, tests: tuple[str, ...]) -> bool:
    target = copy / path.relative_to(ROOT)
    whole = target.read_text(encoding="utf-8")
    target.write_text(text, encoding="utf-8")
    try:
        done = subprocess.run([sys.executable, "-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider", *tests],
                              cwd=copy, env={**os.environ, "PYTHONPATH": str(copy)}, capture_output=True, check=False,
                              preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (PATIENCE, PATIENCE)))
    finally:
        target.write_text(whole, encoding="utf-8")
    return done.returncode != 0


def main() -> None:
    count, seed, first = (int(text) for text in [*sys.argv[1:4], *("40", "1", "0")[len(sys.argv) - 1:]])
    files = [path for folder in FOLDERS for path in sorted((ROOT / "packet" / folder).glob("*.py"))]
    choices = [(path, number) for path in files
               for number in range(len(list(sites(ast.parse(path.read_text(encoding="utf-8"))))))]
    random.Random(seed).shuffle(choices)
    sample = choices[first:count]
    survived = 0
    with tempfile.TemporaryDirectory() as name:
        copy = Path(name)
        for folder in ("packet", "templates", "sample_projects", "tests"):
            shutil.copytree(ROOT / folder, copy / folder, ignore=shutil.ignore_patterns("__pycache__"))
        for extra in ("pyproject.toml", "README.md"):
            shutil.copy(ROOT / extra, copy)
        for tried, (path, number) in enumerate(sample, first + 1):
            text, line, before, after = mutant(path, number)
            if not noticed(path, text, copy):
                survived += 1
                print(f"{path.relative_to(ROOT)}:{line}: {before}  ->  {after}", flush=True)
            if tried % 5 == 0 or tried == count:
                print(f"{tried} of {len(choices)} possible changes tried, {survived} survived", flush=True)


if __name__ == "__main__":
    main()
