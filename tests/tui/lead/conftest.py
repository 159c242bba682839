"""Folders of the lead: of its own, and one of jobs."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.demo.fleet import edited, hasty, sibling
from wizard import actions
from wizard.actions import Hand
from wizard.job import Job
from wizard.record import dumps


@pytest.fixture(autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The lead's own folders."""
    folder = tmp_path_factory.mktemp("home")
    for name in ("STATE", "CACHE", "CONFIG"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(folder / name.lower()))
    return folder


@pytest.fixture(scope="session")
def jobs() -> dict[str, Job]:
    """A sound job, a hasty one, one to be edited, one held."""
    rng = random.Random(5)
    made = [sibling("five_hp", number, rng) for number in range(1, 5)]
    made[1] = hasty(made[1])
    hand = Hand("Tess", made[3].events[-1].at)
    made[3] = actions.answer(made[3], "guard.fitted", "no", hand, reason="it was off again")
    return {job.header.id: job for job in made}


@pytest.fixture
def folder(jobs: dict[str, Job], tmp_path: Path) -> Path:
    place = tmp_path / "jobs"
    place.mkdir()
    for name, job in jobs.items():
        data = edited(job) if name == "F003" else dumps(job, 1)
        (place / f"{name}.toml").write_bytes(data)
    (place / "CUT.toml").write_bytes(b"nothing")
    return place
