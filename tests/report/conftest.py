"""A home of its own for each test, and a record on the disk."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.demo.fleet import finished
from wizard.record import dumps


@pytest.fixture(autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home of its own."""
    folder = tmp_path_factory.mktemp("home")
    for name in ("STATE", "CACHE", "CONFIG"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(folder / name.lower()))
    return folder


@pytest.fixture
def record(tmp_path: Path) -> Path:
    path = tmp_path / "BASE.toml"
    path.write_bytes(dumps(finished("five_hp"), 1))
    return path
