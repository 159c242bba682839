"""Files read and replaced so that neither a crash nor a planted file can do harm.

Invariant: a name is used only inside the folder that was opened, a link is never followed, and a
file is replaced whole: written beside the old one, flushed, renamed over it, the folder flushed.
"""

from __future__ import annotations

import errno
import os
import re
import stat
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from wizard.errors import RecordDamaged, RecordError, StoreError
from wizard.record.guard import MAX_BYTES
from wizard.text import show

NEW_MODE = 0o640
DAY = 86_400
_TEMP = re.compile(r"\.(.+\.toml)\.[0-9a-f]{12}\.tmp")
_READ = os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC | os.O_NOCTTY
_CREATE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC
_NO_LINKS = (errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EACCES)
_NO_FLUSH = (errno.EINVAL, errno.EOPNOTSUPP, errno.EBADF)

SENTENCES = {
    errno.ENOSPC: "the disk is full; free some space and save again",
    errno.EDQUOT: "the disk quota is used up; free some space and save again",
    errno.EFBIG: "the file would be larger than is allowed here",
    errno.EROFS: "the folder is read-only",
    errno.EACCES: "there is no permission to write in the folder",
    errno.EPERM: "there is no permission to write in the folder",
    errno.EIO: "the disk reports an error; keep a copy elsewhere",
    errno.ENOENT: "the folder is no longer there",
    errno.ESTALE: "the network folder has gone away",
    errno.ENODEV: "the disk has gone away",
}


class Unreadable(RecordError):
    """The system does not let a file be read, whatever is in it."""

    def __init__(self, problem: OSError, file: str) -> None:
        self.reason = "there is no permission to read it"
        if problem.errno not in (errno.EACCES, errno.EPERM):
            self.reason = sentence(problem)
        super().__init__(f"cannot be read, {self.reason}", show(file))


def sentence(problem: OSError) -> str:
    """Why the system refused, for a person."""
    known = SENTENCES.get(problem.errno or 0)
    return known or show(problem.strerror or type(problem).__name__).lower()


def stamp_of(state: os.stat_result) -> tuple[int, ...]:
    """What of a file's state changes with its content."""
    return (state.st_ino, state.st_size, state.st_mtime_ns)


class Folder:
    """An open folder; everything in it is reached through its descriptor."""

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            self.fd = os.open(path, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        except (OSError, ValueError) as problem:
            why = sentence(problem) if isinstance(problem, OSError) else "not a path"
            raise StoreError(f"The folder {show(path)} cannot be opened: {why}.") from None

    def close(self) -> None:
        """Let go of the folder."""
        if self.fd >= 0:
            os.close(self.fd)
            self.fd = -1

    def __enter__(self) -> Folder:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # -- reading ------------------------------------------------------------------

    def read(self, name: str, limit: int = MAX_BYTES) -> tuple[bytes, os.stat_result]:
        """The bytes of a regular file and its state; RecordError for anything else."""
        fd = self._opened(name)
        try:
            state = os.fstat(fd)
            if not stat.S_ISREG(state.st_mode):
                raise RecordError("not a regular file", show(name))
            if state.st_size > limit:
                raise RecordDamaged(f"larger than {limit} bytes, which no job is", show(name))
            return _read_all(fd, limit + 1), state
        except OSError as problem:
            raise Unreadable(problem, name) from None
        finally:
            with suppress(OSError):
                os.close(fd)

    def read_first(self, name: str, count: int) -> tuple[bytes, os.stat_result]:
        """The first bytes of a regular file and its state; RecordError for anything else."""
        fd = self._opened(name)
        try:
            state = os.fstat(fd)
            if not stat.S_ISREG(state.st_mode):
                raise RecordError("not a regular file", show(name))
            return _read_all(fd, count), state
        except OSError as problem:
            raise Unreadable(problem, name) from None
        finally:
            with suppress(OSError):
                os.close(fd)

    def _opened(self, name: str) -> int:
        try:
            return os.open(name, _READ, dir_fd=self.fd)
        except FileNotFoundError:
            raise RecordError("there is no such file", show(name)) from None
        except ValueError:
            raise RecordError("not the name of a file", show(name)) from None
        except OSError as problem:
            why = {errno.ELOOP: "a link, which is not followed", errno.ENXIO: "not a regular file"}
            if problem.errno in why:
                raise RecordError(why[problem.errno], show(name)) from None
            raise Unreadable(problem, name) from None

    def state(self, name: str) -> os.stat_result | None:
        """The state of a file, a link not followed; None where there is none."""
        try:
            return os.stat(name, dir_fd=self.fd, follow_symlinks=False)
        except (OSError, ValueError):
            return None

    def stamp(self, name: str) -> tuple[int, ...]:
        """What changes when a file does; empty where there is none."""
        state = self.state(name)
        return stamp_of(state) if state else ()

    def names(self) -> list[str]:
        """What is in the folder, in order."""
        try:
            with os.scandir(self.fd) as entries:
                return sorted(entry.name for entry in entries)
        except OSError as problem:
            raise StoreError(f"{show(self.path)} cannot be read: {sentence(problem)}.") from None

    # -- writing ------------------------------------------------------------------

    def refusal(self, name: str) -> str:
        """Why nothing can be written beside `name`; empty where it can."""
        name = _temp(name)
        try:
            os.close(os.open(name, _CREATE, NEW_MODE, dir_fd=self.fd))
            os.unlink(name, dir_fd=self.fd)
        except OSError as problem:
            return sentence(problem)
        return ""

    def replace(self, name: str, data: bytes, old: tuple[bytes, os.stat_result] | None) -> None:
        """Put `data` under `name`, durably; the `old` file stays as NAME.bak.

        Returns after the folder is flushed. OSError leaves the old file as it was, or, where
        only the flush of the folder failed, the new one.
        """
        temp = self._written(name, data, old[1] if old else None)
        try:
            if old:
                self._keep_backup(name, *old)
            self._renamed(temp, name, data)
        finally:
            with suppress(OSError):
                os.unlink(temp, dir_fd=self.fd)
        self.flush()

    def create(self, name: str, data: bytes) -> None:
        """Put `data` under a name that is not taken, durably; FileExistsError where it is."""
        temp = self._written(name, data, None)
        try:
            try:
                os.link(temp, name, src_dir_fd=self.fd, dst_dir_fd=self.fd, follow_symlinks=False)
            except OSError as problem:
                if problem.errno not in _NO_LINKS:
                    raise
                if self.state(name):
                    raise FileExistsError(errno.EEXIST, "exists already") from None
                os.rename(temp, name, src_dir_fd=self.fd, dst_dir_fd=self.fd)
        finally:
            with suppress(OSError):
                os.unlink(temp, dir_fd=self.fd)
        self.flush()

    def flush(self) -> None:
        """Make the names in the folder durable."""
        try:
            os.fsync(self.fd)
        except OSError as problem:
            if problem.errno not in _NO_FLUSH:
                raise

    def remove(self, name: str) -> None:
        """Take a file away if it is there."""
        with suppress(FileNotFoundError):
            os.unlink(name, dir_fd=self.fd)

    def sweep(self, own: str) -> None:
        """Remove what killed saves left: of `own` all, of other files after a day."""
        day_ago = time.time() - DAY
        for name in self.names():
            match = _TEMP.fullmatch(name)
            state = self.state(name) if match else None
            if not match or not state or not stat.S_ISREG(state.st_mode):
                continue
            if match[1] == own or state.st_mtime < day_ago:
                with suppress(OSError):
                    os.unlink(name, dir_fd=self.fd)

    def _written(self, name: str, data: bytes, like: os.stat_result | None) -> str:
        """A new flushed file beside `name`; its name is not to be guessed."""
        temp = _temp(name)
        fd = os.open(temp, _CREATE, NEW_MODE, dir_fd=self.fd)
        try:
            try:
                if like:
                    _take_over(fd, like)
                _write_all(fd, data)
                os.fsync(fd)
            finally:
                os.close(fd)
        except BaseException:
            with suppress(OSError):
                os.unlink(temp, dir_fd=self.fd)
            raise
        return temp

    def _keep_backup(self, name: str, data: bytes, state: os.stat_result) -> None:
        """The file as it stands also under NAME.bak; by a link, or a copy where links fail."""
        temp = _temp(name)
        both = {"src_dir_fd": self.fd, "dst_dir_fd": self.fd}
        try:
            try:
                os.link(name, temp, follow_symlinks=False, **both)
            except OSError as problem:
                if problem.errno not in _NO_LINKS:
                    raise
                fd = os.open(temp, _CREATE, NEW_MODE, dir_fd=self.fd)
                try:
                    _take_over(fd, state)
                    _write_all(fd, data)
                finally:
                    os.close(fd)
            os.rename(temp, f"{name}.bak", **both)  # noqa: PTH104  relative to the open folder
        finally:
            with suppress(OSError):
                os.unlink(temp, dir_fd=self.fd)

    def _renamed(self, temp: str, name: str, data: bytes) -> None:
        """Rename, and believe the file rather than the error: a network folder may have done it."""
        try:
            os.rename(temp, name, src_dir_fd=self.fd, dst_dir_fd=self.fd)
        except OSError:
            with suppress(RecordError):
                if self.read(name)[0] == data:
                    return
            raise


def _temp(name: str) -> str:
    return f".{name}.{os.urandom(6).hex()}.tmp"


def _read_all(fd: int, limit: int) -> bytes:
    parts: list[bytes] = []
    left = limit
    while left > 0 and (part := os.read(fd, min(left, 1 << 20))):
        parts.append(part)
        left -= len(part)
    return b"".join(parts)


def _write_all(fd: int, data: bytes) -> None:
    view = memoryview(data)
    while view:
        view = view[os.write(fd, view) :]


def _take_over(fd: int, like: os.stat_result) -> None:
    """Mode, group and owner as the old file; where the group cannot be kept, no rights for it."""
    mode = stat.S_IMODE(like.st_mode) & 0o666
    mine = os.fstat(fd)
    if (mine.st_uid, mine.st_gid) != (like.st_uid, like.st_gid) and not _chown(fd, like):
        mode &= ~0o060
    with suppress(PermissionError):  # a memory stick knows no modes
        os.fchmod(fd, mode)


def _chown(fd: int, like: os.stat_result) -> bool:
    attempts: tuple[Callable[[], None], ...] = (
        lambda: os.fchown(fd, like.st_uid, like.st_gid),
        lambda: os.fchown(fd, -1, like.st_gid),
    )
    for attempt in attempts:
        with suppress(PermissionError):
            attempt()
            return True
    return False
