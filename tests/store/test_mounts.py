"""File systems that are full, read-only or lose their power; as root, with -m slow."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path

import pytest

from tests.store.faults import ITEMS, child, fresh, on_disk, opened
from tests.store.jobs import HOST, WHO, answered, create, long_job, long_procedure
from tests.store.run import run
from wizard import store
from wizard.errors import StoreError

pytestmark = [
    pytest.mark.slow,
    pytest.mark.filterwarnings("ignore::DeprecationWarning"),
    pytest.mark.skipif(os.geteuid() != 0, reason="mounting needs root"),
]


@contextmanager
def mounted(at: Path, *words: str) -> Iterator[Path]:
    """Something mounted on a folder."""
    at.mkdir(exist_ok=True)
    done = subprocess.run(["mount", *words, str(at)], capture_output=True, text=True)
    if done.returncode:
        pytest.skip(f"cannot mount here: {done.stderr.strip()}")
    try:
        yield at
    finally:
        subprocess.run(["umount", str(at)], check=True)


def test_a_full_disk_keeps_the_old_file_and_a_retry_saves(tmp_path: Path) -> None:
    with mounted(tmp_path / "small", "-t", "tmpfs", "-o", "size=256k", "tmpfs") as at:
        assert run("full_disk", at) == {"refused": 1, "torn": 0, "saved": 1, "left_over": 0}


def test_a_read_only_disk_is_told_when_the_job_is_opened(tmp_path: Path) -> None:
    with mounted(tmp_path / "disk", "-t", "tmpfs", "tmpfs") as at:
        create(at, long_job(ITEMS)).close()
        subprocess.run(["mount", "-o", "remount,ro", str(at)], check=True)
        with store.open_job(at / "T1.toml", long_procedure(ITEMS), WHO, HOST) as session:
            assert "the folder is read-only" in session.read_only
            assert session.job.answers
        with pytest.raises(StoreError, match="read-only"):
            create(at, long_job(ITEMS, "T2"))


def saver(folder: Path, ack: int) -> None:
    """Save for ever and tell each; a job with a long history gives way to a new one."""
    session = opened(fresh(folder))
    while True:
        session.save(answered(session.job, session.revision % ITEMS))
        os.write(ack, f"{len(session.job.events)}\n".encode())
        if len(session.job.events) > 400:
            session.close()
            os.write(ack, b"0\n")
            session = opened(fresh(folder))


@pytest.mark.parametrize("options", ["loop", "loop,noauto_da_alloc"])
def test_a_power_cut_loses_nothing_that_was_acknowledged(options: str, tmp_path: Path) -> None:
    """The disk is copied while the saver stands still: what was handed to it, and no more."""
    if shutil.which("mkfs.ext4") is None:
        pytest.skip("no mkfs.ext4")
    image, copy = tmp_path / "a.img", tmp_path / "b.img"
    with image.open("wb") as file:
        file.truncate(16_000_000)
    subprocess.run(["mkfs.ext4", "-q", "-F", str(image)], check=True)
    luck, torn, lost, cuts = random.Random(4), 0, 0, 100
    with mounted(tmp_path / "disk", "-o", options, str(image)) as at:
        pid, reader = child(partial(saver, at / "jobs"))
        os.set_blocking(reader, False)
        acked = "0"
        for _ in range(cuts):
            time.sleep(luck.uniform(0.01, 0.05))
            os.kill(pid, signal.SIGSTOP)
            os.waitpid(pid, os.WUNTRACED)
            with suppress(BlockingIOError):
                acked = os.read(reader, 1_000_000).decode().split()[-1]
            shutil.copyfile(image, copy)
            with mounted(tmp_path / "after", "-o", "loop", str(copy)) as after:
                job = on_disk(after / "jobs" / "T1.toml")
                torn += job is None and acked != "0"
                lost += job is not None and len(job.events) < int(acked)
            os.kill(pid, signal.SIGCONT)
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        os.close(reader)
    print(f"{options}: {cuts} cuts, {torn} torn, {lost} lost")
    assert (torn, lost) == (0, 0)
