"""Every test of a command works in a folder of its own, with nobody's settings."""

from __future__ import annotations

from pathlib import Path

import pytest

from wizard.commands.site import site


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in and nobody's settings."""
    for name in ("CONFIG", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / "own" / name.lower()))
    monkeypatch.setenv("WIZARD_NAME", "Tess Tester")
    monkeypatch.chdir(tmp_path)
    site.cache_clear()
    return tmp_path
