"""Every test of the review has a home of its own, and folders of finished jobs to look at."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.demo.fleet import sibling
from wizard.job import Job
from wizard.record import dumps


@pytest.fixture(autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The lead's own folders: state, cache and settings."""
    folder = tmp_path_factory.mktemp("home")
    for name in ("STATE", "CACHE", "CONFIG"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(folder / name.lower()))
    return folder


@pytest.fixture(scope="session")
def five() -> tuple[Job, ...]:
    """Five finished jobs."""
    rng = random.Random(3)
    return tuple(sibling("five_hp", number, rng) for number in range(1, 6))


@pytest.fixture
def folder(five: tuple[Job, ...], tmp_path: Path) -> Path:
    """A folder with those jobs."""
    place = tmp_path / "jobs"
    place.mkdir()
    for job in five:
        (place / f"{job.header.id}.toml").write_bytes(dumps(job, 1))
    return place
