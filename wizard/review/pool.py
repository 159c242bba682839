"""Files looked at in several processes.

Invariant: a process that dies on a file takes down that file's row and no other.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
from collections.abc import Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import redirect_stderr, suppress
from itertools import islice
from multiprocessing import resource_tracker
from pathlib import Path

from wizard.memo import warm_procedure
from wizard.procedure import procedure
from wizard.review.look import Lens
from wizard.review.row import Row
from wizard.review.work import Found, row_at
from wizard.store.files import Folder
from wizard.text import show

CHUNK = 8
AHEAD = 3
"""Chunks waiting for each process; more would only hold memory."""
NICE = 5


def shared(path: Path, names: Sequence[str], lens: Lens, processes: int) -> Found:
    """Look at the files in several processes, in the order in which they are ready."""
    chunks = iter([names[n : n + CHUNK] for n in range(0, len(names), CHUNK)])
    waiting: dict[Future[list[tuple[str, Row]]], Sequence[str]] = {}
    lost: list[str] = []
    pool = _pool(path, lens, processes)
    try:
        while not lost:
            for chunk in islice(chunks, processes * AHEAD - len(waiting)):
                waiting[pool.submit(_chunk, chunk)] = chunk
            if not waiting:
                return
            done, _ = wait(waiting, return_when=FIRST_COMPLETED)
            for future in done:
                chunk = waiting.pop(future)
                try:
                    yield from future.result()
                except BrokenProcessPool:
                    lost += chunk
    finally:
        pool.shutdown(cancel_futures=True)
    lost += (name for chunk in waiting.values() for name in chunk)
    for name in lost:
        yield from _one(path, name, lens)
    rest = [name for chunk in chunks for name in chunk]
    if rest:
        yield from shared(path, rest, lens, processes)


def _one(path: Path, name: str, lens: Lens) -> Found:
    """One file in a process of its own, after something killed a shared one."""
    pool = _pool(path, lens, 1)
    try:
        yield from pool.submit(_chunk, [name]).result()
    except BrokenProcessPool:
        yield name, Row(show(name), error="Looking at it ended the process that did.")
    finally:
        pool.shutdown(cancel_futures=True)


def _pool(path: Path, lens: Lens, processes: int) -> ProcessPoolExecutor:
    # The tracker of multiprocessing wants a real stderr, which the screens take away.
    with Path(os.devnull).open("w") as nowhere, redirect_stderr(nowhere):
        resource_tracker.ensure_running()
    # A process that is forked from one with threads can hang, and the screens have threads.
    context = multiprocessing.get_context("spawn")
    return ProcessPoolExecutor(processes, context, _begin, (path, lens))


class _Here:
    """What a process keeps between files."""

    folder: Folder
    lens: Lens


def _begin(path: Path, lens: Lens) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with suppress(OSError):
        os.nice(NICE)
    _Here.folder, _Here.lens = Folder(path), lens
    warm_procedure()
    procedure()
    gc.freeze()


def _chunk(names: Sequence[str]) -> list[tuple[str, Row]]:
    return [(name, row_at(_Here.folder, name, _Here.lens)) for name in names]
