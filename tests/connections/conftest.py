"""A server for all tests of a run, and a home folder for each."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.connections.server import Server, missing


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """An OpenSSH server on loopback."""
    if why := missing():
        pytest.skip(why)
    try:
        running = Server(tmp_path_factory.mktemp("ssh"))
    except (OSError, RuntimeError) as problem:
        pytest.skip(f"no SSH server can run here: {problem}")
    yield running
    running.stop()


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of the record and of what belongs to the user."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path
