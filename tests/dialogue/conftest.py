"""Somebody in front of a new job."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.dialogue.person import SMALL, Person
from tests.small import START_TIME
from wizard.job import Header
from wizard.store import create_job


@pytest.fixture
def person(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Person:
    """Somebody in front of a new job."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    header = Header("T1", "0" * 32, START_TIME)
    create_job(tmp_path / "T1.toml", header, SMALL, "Tess Tester", "box").close()
    return Person(tmp_path / "T1.toml", capsys)
