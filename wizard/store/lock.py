"""One writer at a time for a job.

Invariant: the lock is a flock on a file of its own, which is never renamed or deleted and is held
as long as the session lives; it goes with the process however that ends. What is written in the
file is for the message only.
"""

from __future__ import annotations

import errno
import fcntl
import json
import os
import stat
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime

from wizard.errors import LockedElsewhere, StoreError
from wizard.store.files import Folder, sentence
from wizard.text import show

_OPEN = os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC
_NO_LOCKS = (errno.ENOLCK, errno.EOPNOTSUPP, errno.ENOSYS, errno.EINVAL)
_NOTE = 1000


@dataclass
class Lock:
    """A held lock.

    `sure` is false in a folder that knows no locks, `own` where the file has another name too
    and so may be somebody's: nothing is written in it then.
    """

    fd: int
    sure: bool
    own: bool

    def release(self) -> None:
        """Let the job go."""
        if self.fd >= 0:
            if self.own:
                with suppress(OSError):
                    os.ftruncate(self.fd, 0)
            os.close(self.fd)
            self.fd = -1


def take(folder: Folder, name: str, who: str, host: str, at: datetime) -> Lock:
    """The lock of a job; LockedElsewhere says who has it, StoreError why it cannot be had."""
    fd = _opened(folder, name)
    try:
        state = os.fstat(fd)
        if not stat.S_ISREG(state.st_mode):
            raise StoreError(f"{_file(name)} is not a file; remove it, then open the job again.")
        sure = _flock(fd)
    except BlockingIOError:
        holder = _holder(fd)
        os.close(fd)
        raise LockedElsewhere(holder) from None
    except BaseException:
        os.close(fd)
        raise
    lock = Lock(fd, sure, own=state.st_nlink == 1)
    if lock.own:
        _sign(fd, who, host, at)
    return lock


def _file(name: str) -> str:
    return f".{name}.lock"


def _opened(folder: Folder, name: str) -> int:
    shared = os.fstat(folder.fd).st_mode & stat.S_IWGRP
    try:
        before = folder.state(_file(name))
        fd = os.open(_file(name), _OPEN, 0o660 if shared else 0o640, dir_fd=folder.fd)
        if before is None and shared:
            os.fchmod(fd, 0o660)
    except OSError as problem:
        why = "it is a link" if problem.errno == errno.ELOOP else sentence(problem)
        raise StoreError(f"{_file(name)} cannot be opened: {why}.") from None
    return fd


def _flock(fd: int) -> bool:
    try:
        fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as problem:
        if problem.errno in _NO_LOCKS:
            return False
        raise
    return True


def _sign(fd: int, who: str, host: str, at: datetime) -> None:
    note = {"who": who[:100], "host": host[:100], "pid": os.getpid(), "since": at.isoformat()}
    with suppress(OSError):
        os.ftruncate(fd, 0)
        os.pwrite(fd, json.dumps(note).encode(), 0)


def _holder(fd: int) -> str:
    """Who holds the lock, as "Tess Tester on field-box since 2026-03-02 08:00"."""
    try:
        note = json.loads(os.pread(fd, _NOTE, 0))
        since = datetime.fromisoformat(note["since"])
        return show(f"{note['who']} on {note['host']} since {since:%Y-%m-%d %H:%M}")[:300]
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return "somebody else"
