"""Trials: what a folder and the key tools can do, done once with things of no value."""

from __future__ import annotations

import errno
import fcntl
import os
import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

PATIENCE = 10
FLUSHES = 12


def tried(act: Callable[[], object]) -> str | None:
    """What the system said against it; None where it works."""
    try:
        act()
    except OSError as problem:
        return problem.strerror or type(problem).__name__
    return None


def write_in(folder: Path) -> None:
    """Make a file and take it away."""
    with tempfile.NamedTemporaryFile(dir=folder, prefix=".wizard-"):
        pass


def disk(here: Path) -> dict[str, Any]:
    """What a folder of jobs must be able to do, tried in the current one."""
    found: dict[str, Any] = {"flush ms": None, "locks": None, "links": None, "problem": None}
    found["problem"] = tried(lambda: found.update(_tries(here)))
    return found


def _tries(here: Path) -> dict[str, Any]:
    with tempfile.TemporaryDirectory(dir=here, prefix=".wizard-") as name:
        folder = Path(name)
        return {
            "flush ms": round(_flush_ms(folder / "flush"), 3),
            "locks": tried(lambda: _lock(folder / "lock")) is None,
            "links": tried(lambda: os.link(folder / "flush", folder / "link")) is None,
        }


def _flush_ms(path: Path) -> float:
    """The median time that some kilobytes take to the disk."""
    fd = os.open(path, os.O_WRONLY | os.O_CREAT, 0o600)
    try:
        times = []
        for _ in range(FLUSHES):
            os.write(fd, b"\0" * 4096)
            start = time.perf_counter()
            os.fsync(fd)
            times.append(time.perf_counter() - start)
        return 1e3 * statistics.median(times)
    finally:
        os.close(fd)


def _lock(path: Path) -> None:
    """Two hands at one lock: the second must be turned away."""
    first, second = (os.open(path, os.O_RDWR | os.O_CREAT, 0o600) for _ in range(2))
    try:
        fcntl.flock(first, fcntl.LOCK_EX | fcntl.LOCK_NB)
        try:
            fcntl.flock(second, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return
        raise OSError(errno.ENOLCK, "locks are given twice")
    finally:
        os.close(first)
        os.close(second)


def signs(keygen: str) -> str:
    """Whether a key can be made, sign and be verified; else what went wrong."""
    with tempfile.TemporaryDirectory(prefix="wizard-") as name:
        folder = Path(name)
        key, text = folder / "key", folder / "text"
        text.write_text("self-check\n")
        for step in (
            ["-q", "-t", "ed25519", "-N", "", "-C", "", "-f", str(key)],
            ["-q", "-Y", "sign", "-f", str(key), "-n", "wizard-self-check", str(text)],
            ["-q", "-Y", "check-novalidate", "-n", "wizard-self-check", "-s", f"{text}.sig"],
        ):
            told = _run([keygen, *step], text.read_bytes())
            if told is None or told.returncode:
                return f"fails at {' '.join(step[1:3])}"
    return "works"


def agent_keys() -> int | None:
    """How many keys the agent holds; None where it does not answer."""
    told = _run(["ssh-add", "-l"], b"")
    if told is None or told.returncode > 1:
        return None
    return len(told.stdout.splitlines()) if told.returncode == 0 else 0


def _run(command: list[str], stdin: bytes) -> subprocess.CompletedProcess[bytes] | None:
    with suppress(OSError, subprocess.TimeoutExpired):
        return subprocess.run(command, input=stdin, capture_output=True, timeout=PATIENCE)
    return None
