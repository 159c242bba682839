"""Job files for the tests: made, looked into, and known to be free again."""

from __future__ import annotations

import fcntl
import os
import time
from functools import cache
from pathlib import Path

from tests.demo.maker import START, commission, scenario
from tests.small import START_TIME
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.procedure.item import Procedure
from wizard.record import Loaded
from wizard.settings import settings_from
from wizard.store import create_job, read_job

ID, UUID = "J1042", "5" * 32
PATIENCE = 15.0


def new_record(folder: Path) -> Path:
    """A record with nothing answered."""
    header = Header(ID, UUID, START, "us", settings=settings_from({"practice": "US"}))
    return _saved(folder, Job.new(header, procedure()), procedure())


def demo_record(folder: Path, name: str, until: str) -> Path:
    """A record answered from a scenario up to and including an item."""
    return _saved(folder, demo_job(name, until), procedure())


@cache
def demo_job(name: str, until: str) -> Job:
    """A job answered from a scenario up to and including an item."""
    return commission(ID, scenario(name), until=until, uuid=UUID)


def small_record(folder: Path, small: Procedure) -> Path:
    """An empty record of the small procedure, for tests.tui.program."""
    return _saved(folder, Job.new(Header("T1", UUID, START_TIME), small), small)


def _saved(folder: Path, job: Job, steps: Procedure) -> Path:
    path = folder / f"{job.header.id}.toml"
    with create_job(path, job.header, steps, "Tess Example", "demo") as session:
        if job.events:
            session.save(job)
    return path


def whole(path: Path, steps: Procedure | None = None) -> Loaded:
    """The record, which must be sound."""
    loaded = read_job(path, steps or procedure())
    assert not loaded.problems, loaded.problems
    return loaded


def wait_until_free(path: Path) -> None:
    """Wait until nobody holds the record."""
    end = time.monotonic() + PATIENCE
    fd = os.open(path.with_name(f".{path.name}.lock"), os.O_RDWR | os.O_CREAT)
    try:
        while True:
            try:
                fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)
                return
            except BlockingIOError:
                if time.monotonic() > end:
                    raise AssertionError(f"{path.name} is held after {PATIENCE:g} s") from None
                time.sleep(0.01)
    finally:
        os.close(fd)
