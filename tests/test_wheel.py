"""The wheel carries words, prepared sentences and samples: built, installed into an empty environment, run from elsewhere."""

from __future__ import annotations

import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).parent.parent


def test_wheel_prints_a_packet_from_another_directory(tmp_path: Path) -> None:
    subprocess.run([sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(tmp_path), str(ROOT)],
                   check=True, capture_output=True)
    wheel = next(tmp_path.glob("packet-*.whl"))
    venv.create(tmp_path / "env", with_pip=True)
    python = tmp_path / "env" / "bin" / "python"
    subprocess.run([str(python), "-m", "pip", "install", "--quiet", str(wheel)], check=True, capture_output=True)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    command = tmp_path / "env" / "bin" / "packet"
    subprocess.run([str(command), "start", "hut.yaml"], check=True, cwd=elsewhere, capture_output=True)
    subprocess.run([str(command), "print", "hut.yaml"], check=True, cwd=elsewhere, capture_output=True)
    assert (elsewhere / "hut.pdf").read_bytes().startswith(b"%PDF-1.7")
    found = subprocess.run(
        [str(python), "-c",
         "from packet.resources import samples; print(*sorted(p.name for p in samples().iterdir()))"],
        check=True, cwd=elsewhere, capture_output=True, text=True)
    assert "frost_watch.yaml" in found.stdout
    prepared = subprocess.run([str(python), "-c", "from packet.prepared import codes; print(len(codes()))"],
                              check=True, cwd=elsewhere, capture_output=True, text=True)
    assert int(prepared.stdout) > 400, "the build prepared no sentences"
