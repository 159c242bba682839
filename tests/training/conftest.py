"""Every test of training keeps the learner's things in a folder of its own."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def state_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's state folder of this test."""
    folder = tmp_path_factory.mktemp("state")
    monkeypatch.setenv("XDG_STATE_HOME", str(folder))
    return folder / "wizard"
