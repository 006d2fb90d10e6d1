"""Templates and samples are found in a checkout and inside an installed package."""

from __future__ import annotations

from pathlib import Path

import pytest

from packet import resources


def test_a_checkout_has_them_beside_the_package() -> None:
    assert (resources.templates() / "starter_in.yaml").is_file()
    assert (resources.samples() / "frost_watch.yaml").is_file()


def test_an_installed_package_has_them_inside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "site" / "packet"
    for name in ("templates", "sample_projects"):
        (package / name).mkdir(parents=True)
        (package.parent / name).mkdir()  # another program's folder of the same name must not be taken
    monkeypatch.setattr(resources, "_PACKAGE", package)
    assert resources.templates() == package / "templates"
    assert resources.samples() == package / "sample_projects"


def test_a_missing_folder_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(resources, "_PACKAGE", tmp_path / "packet")
    with pytest.raises(FileNotFoundError, match="install the program again"):
        resources.templates()
