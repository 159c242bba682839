"""Saves that are killed or fail, one process each; every run prints what it counted as JSON.

python -m tests.store.faults kills FOLDER TIMES
python -m tests.store.faults calls FOLDER FAULT
python -m tests.store.faults writers FOLDER SAVES

A process of its own, because it forks, changes its limits and its user; and quick, because each
child starts with everything loaded.
"""

from __future__ import annotations

import errno
import json
import os
import random
import shutil
import signal
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from tests.store.jobs import HOST, WHO, answered, create, long_job, long_procedure
from wizard import store
from wizard.errors import StoreError, WizardError
from wizard.job import Act, Job
from wizard.record import loads

ITEMS = 5
CALLS = (
    "open",
    "read",
    "write",
    "fsync",
    "fstat",
    "fchmod",
    "close",
    "link",
    "rename",
    "unlink",
    "stat",
    "ftruncate",
)
"""Everything that a save asks of the system, as the os module names it."""


class Count(dict[str, int]):
    """How often each thing was seen."""

    def add(self, name: str, more: int = 1) -> None:
        """Count `name` once more."""
        self[name] = self.get(name, 0) + more


def fresh(folder: Path) -> Path:
    """A folder with a job and another file that nobody may touch."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / "OTHER.toml").write_text("not ours")
    create(folder, long_job(ITEMS)).close()
    return folder / "T1.toml"


def child(work: Callable[[int], None]) -> tuple[int, int]:
    """Fork; the child runs `work` with the end of a pipe. (pid, other end)."""
    reader, writer = os.pipe()
    pid = os.fork()
    if pid == 0:
        os.close(reader)
        status = 1
        try:
            work(writer)
            status = 0
        finally:
            os._exit(status)
    os.close(writer)
    return pid, reader


def said(reader: int) -> list[str]:
    """Everything a child wrote, by lines."""
    parts = []
    while part := os.read(reader, 65536):
        parts.append(part)
    os.close(reader)
    return b"".join(parts).decode().split()


def opened(path: Path) -> store.Session:
    """The job open for writing."""
    session = store.open_job(path, long_procedure(ITEMS), WHO, HOST)
    assert not session.read_only, session.read_only
    return session


def on_disk(path: Path) -> Job | None:
    """The job as it is on disk; None where it is torn."""
    try:
        found = loads(path.read_bytes(), long_procedure(ITEMS), path.name)
    except (WizardError, OSError):
        return None
    return found.job if not found.problems else None


# -- killed at any moment ---------------------------------------------------------------


def kills(folder: Path, times: int) -> Count:
    """SIGKILL in a tight loop of saves; each save is told on a pipe once `save` has returned."""
    count, path = Count(kills=0, torn=0, lost=0, acked=0, refused=0), fresh(folder)
    luck = random.Random(1)

    def saver(ack: int) -> None:
        session = opened(path)
        for n in range(10_000):
            session.save(answered(session.job, n % ITEMS))
            os.write(ack, f"{len(session.job.events)}\n".encode())

    for n in range(times):
        if n % 20 == 0:
            path = fresh(folder)
        pid, reader = child(saver)
        first = os.read(reader, 64)
        time.sleep(luck.uniform(0.0, 0.02))
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        acked = [*first.decode().split(), *said(reader)]
        count.add("kills")
        count.add("acked", len(acked))
        job = on_disk(path)
        count.add("torn", job is None)
        count.add("lost", job is not None and len(job.events) < int(acked[-1]))
        count.add("refused", not opens(path))
    return count


def opens(path: Path) -> bool:
    """Whether the job opens for writing and nothing is left lying about."""
    with opened(path):
        left = [p.name for p in path.parent.iterdir() if p.name.endswith(".tmp")]
        other = (path.parent / "OTHER.toml").read_text()
    return not left and other == "not ours"


# -- a fault at each call of one save -----------------------------------------------------


class Faults:
    """The os module with a fault at call number `at`, or from there on for ever."""

    def __init__(self, at: int, fault: str, *, for_ever: bool, also: str = "") -> None:
        self.at, self.fault, self.for_ever, self.also = at, fault, for_ever, also
        self.calls, self.hit = 0, ""
        self.real: dict[str, Callable[..., Any]] = {name: getattr(os, name) for name in CALLS}

    def __enter__(self) -> Faults:
        for name in CALLS:
            setattr(os, name, self._wrapped(name))
        return self

    def __exit__(self, *_: object) -> None:
        for name, real in self.real.items():
            setattr(os, name, real)

    def _wrapped(self, name: str) -> Callable[..., Any]:
        def call(*args: Any, **named: Any) -> Any:
            self.calls += 1
            due = self.calls == self.at or (self.for_ever and self.calls > self.at)
            if due or (self.hit and name == self.also):
                self.hit = self.hit or name
                if self.fault == "KILL":
                    os.kill(os.getpid(), signal.SIGKILL)
                if name == "close":
                    self.real[name](*args, **named)
                code = getattr(errno, self.fault)
                raise OSError(code, os.strerror(code))
            return self.real[name](*args, **named)

        return call


def calls(folder: Path, fault: str) -> Count:
    """One save with the fault at its 1st call, then at its 2nd, until it runs untouched."""
    kind, _, how = fault.partition("+")
    count = Count(points=0, torn=0, lost=0, untold=0, retry_failed=0, left_over=0)
    at = 0
    while True:
        at += 1
        path = fresh(folder)
        done = _one_save(path, Faults(at, kind, for_ever=how == "ever", also=how))
        if "untouched" in done:
            return count
        count.add("points")
        _judge(count, path, done, kind, how)


def _one_save(path: Path, faults: Faults) -> list[str]:
    """What the child told: ok, refused, crashed, untouched, retried."""

    def work(ack: int) -> None:
        session = opened(path)
        job = answered(session.job, 2, "244 V")
        told = "ok"
        with faults:
            try:
                session.save(job)
            except StoreError:
                told = "refused"
            except BaseException as problem:
                told = f"crashed:{type(problem).__name__}"
        os.write(ack, f"{told}\n".encode())
        if not faults.hit:
            os.write(ack, b"untouched\n")
        elif told == "refused":
            with suppress(StoreError):
                session.save(job)
                os.write(ack, b"retried\n")

    pid, reader = child(work)
    lines = said(reader)
    os.waitpid(pid, 0)
    return lines


def _judge(count: Count, path: Path, done: list[str], kind: str, how: str) -> None:
    job = on_disk(path)
    new = job is not None and job.answers["supply.voltage_2"].raw == "244 V"
    old = job is not None and job.answers["supply.voltage_2"].raw == "232 V"
    count.add("torn", not new and not old)
    count.add("lost", ("ok" in done or "retried" in done) and not new)
    if kind != "KILL" and not {"ok", "refused"} & set(done):
        count.add("untold")
        print(done, file=sys.stderr)
    count.add("retry_failed", "refused" in done and "retried" not in done)
    if kind != "KILL" and not how:
        count.add("left_over", any(p.name.endswith(".tmp") for p in path.parent.iterdir()))
    count.add("left_over", not opens(path))


# -- two writers ----------------------------------------------------------------------------


def writers(folder: Path, saves: int) -> Count:
    """Two processes that each open, add one entry, save and close, `saves` times."""
    path = fresh(folder)

    def writer(ack: int) -> None:
        done = 0
        while done < saves:
            with store.open_job(path, long_procedure(ITEMS), WHO, HOST) as session:
                if session.read_only:
                    os.write(ack, b"waited\n")
                    continue
                session.save(answered(session.job, done % ITEMS))
                done += 1
                os.write(ack, b"saved\n")

    pairs = [child(writer) for _ in range(2)]
    told = [word for _, reader in pairs for word in said(reader)]
    for pid, _ in pairs:
        os.waitpid(pid, 0)
    job = on_disk(path)
    kept = sum(e.act is Act.CORRECTED for e in job.events) if job else 0
    saved = told.count("saved")
    return Count(saved=saved, waited=told.count("waited"), lost=saved - kept, torn=job is None)


def main(name: str, folder: str, more: str) -> Count:
    """What the command line asks for."""
    if name == "calls":
        return calls(Path(folder), more)
    return {"kills": kills, "writers": writers}[name](Path(folder), int(more))


if __name__ == "__main__":
    print(json.dumps(main(*sys.argv[1:])))
