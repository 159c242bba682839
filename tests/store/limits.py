"""No room, no right, stopped, out of memory: each in a process of its own; counts as JSON.

python -m tests.store.limits no_room|full_disk|no_right|stopped|typing|review FOLDER
"""

from __future__ import annotations

import json
import os
import resource
import signal
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from tests.store.faults import ITEMS, Count, child, fresh, on_disk, opened, said
from tests.store.jobs import HOST, WHO, answered, header, long_job, long_procedure
from wizard import store
from wizard.errors import RecordError, StoreError
from wizard.record import dumps, loads


def no_room(folder: Path) -> Count:
    """A save beyond the largest file allowed, then again with the limit lifted."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    path = fresh(folder)
    count = Count(refused=0, torn=0, saved=0, left_over=0)
    before = path.read_bytes()
    with opened(path) as session:
        job = answered(session.job, 1, "229 V")
        hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        resource.setrlimit(resource.RLIMIT_FSIZE, (len(before) - 100, hard))
        try:
            session.save(job)
        except StoreError as problem:
            count.add("refused", "larger than is allowed" in str(problem))
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        count.add("torn", path.read_bytes() != before)
        count.add("left_over", any(p.name.endswith(".tmp") for p in folder.iterdir()))
        session.save(job)
    saved = on_disk(path)
    count.add("saved", saved is not None and saved.events == job.events)
    return count


def full_disk(folder: Path) -> Count:
    """The same on a file system that is really full: `folder` is one of 256 kB."""
    path = fresh(folder / "jobs")
    count = Count(refused=0, torn=0, saved=0, left_over=0)
    before = path.read_bytes()
    with opened(path) as session:
        job = answered(session.job, 1, "229 V")
        with (folder / "filler").open("wb", buffering=0) as filler, suppress(OSError):
            while True:
                filler.write(b"x" * 512)
        try:
            session.save(job)
        except StoreError as problem:
            count.add("refused", "disk is full" in str(problem))
        count.add("torn", path.read_bytes() != before)
        count.add("left_over", any(p.name.endswith(".tmp") for p in path.parent.iterdir()))
        (folder / "filler").unlink()
        session.save(job)
    saved = on_disk(path)
    count.add("saved", saved is not None and saved.events == job.events)
    return count


def no_right(folder: Path) -> Count:
    """A folder that may be read and not written, as a user without special rights."""
    path = fresh(folder)
    path.chmod(0o644)
    folder.chmod(0o555)
    if os.geteuid() == 0:
        os.setgid(65534)
        os.setuid(65534)
    with store.open_job(path, long_procedure(ITEMS), WHO, HOST) as session:
        count = Count(read_only=bool(session.read_only), read=len(session.job.events))
        try:
            session.save(answered(session.job, 1, "229 V"))
        except StoreError as problem:
            count.add("told", "no permission" in str(problem))
    try:
        store.create_job(folder / "T2.toml", header("T2"), long_procedure(ITEMS), WHO, HOST).close()
    except StoreError as problem:
        count.add("not_made", "no permission" in str(problem))
    return count


def stopped(folder: Path) -> Count:
    """A session that sleeps while another machine changes the file."""
    path = fresh(folder)

    def sleeper(ack: int) -> None:
        session = opened(path)
        job = answered(session.job, 3, "240 V")
        os.write(ack, b"open\n")
        os.kill(os.getpid(), signal.SIGSTOP)
        try:
            session.save(job)
        except StoreError as problem:
            os.write(ack, f"{type(problem).__name__}\n".encode())

    pid, reader = child(sleeper)
    os.waitpid(pid, os.WUNTRACED)
    changed = dumps(answered(long_job(ITEMS), 4, "250 V"), 3)
    path.write_bytes(changed)
    os.kill(pid, signal.SIGCONT)
    told = said(reader)
    os.waitpid(pid, 0)
    aside = [p for p in folder.iterdir() if ".conflict-" in p.name]
    kept = loads(aside[0].read_bytes(), long_procedure(ITEMS), aside[0].name) if aside else None
    entry = kept.job.answers["supply.voltage_3"].raw if kept else ""
    return Count(
        conflict="Conflict" in told,
        overwritten=path.read_bytes() != changed,
        kept=entry == "240 V",
    )


def typing(folder: Path) -> Count:
    """SIGKILL after a draft was kept: it is there for whoever comes back."""
    os.environ["XDG_STATE_HOME"] = str(folder)
    count, uuid = Count(kills=0, lost=0), "a" * 32

    def typist(ack: int) -> None:
        for n in range(100_000):
            store.keep_draft(uuid, "supply.voltage_1", f"23{n}")
            os.write(ack, f"23{n}\n".encode())

    for _ in range(20):
        pid, reader = child(typist)
        first = os.read(reader, 64).decode().split()
        time.sleep(0.003)
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        kept = [*first, *said(reader)]
        draft = store.read_draft(uuid)
        count.add("kills")
        count.add("lost", draft is None or len(draft.text) < len(kept[-1]))
    return count


def review(folder: Path) -> Count:
    """Every record of a folder read in 300 MB more than it takes to start."""
    names = sorted(folder.glob("*.toml"))
    good = next(p for p in names if p.name.startswith("G"))
    store.read_job(good, long_procedure(ITEMS))
    count = Count(good=0, refused=0, escaped=0, peak_before=_peak(), peak_after=0)
    pages = int(Path("/proc/self/statm").read_text().split()[0])
    limit = pages * resource.getpagesize() + 300_000_000
    resource.setrlimit(resource.RLIMIT_AS, (limit, limit))
    for path in names:
        try:
            count.add("good", not store.read_job(path, long_procedure(ITEMS)).problems)
        except RecordError:
            count.add("refused")
        except BaseException as problem:
            count.add("escaped")
            print(path.name, type(problem), file=sys.stderr)
    count["peak_after"] = _peak()
    return count


def _peak() -> int:
    (line,) = (
        n for n in Path("/proc/self/status").read_text().splitlines() if n.startswith("VmHWM")
    )
    return int(line.split()[1])


RUNS: dict[str, Callable[[Path], Count]] = {
    "no_room": no_room,
    "full_disk": full_disk,
    "no_right": no_right,
    "stopped": stopped,
    "typing": typing,
    "review": review,
}

if __name__ == "__main__":
    print(json.dumps(RUNS[sys.argv[1]](Path(sys.argv[2]))))
