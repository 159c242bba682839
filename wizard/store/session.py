"""A job that is open: by its one writer, or by a reader who follows.

Invariant: `save` returns only when the record is on the disk, and never writes over a file that
is not the one read or saved last. When it raises, the file is as it was before.
"""

from __future__ import annotations

import os
import threading
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import NoReturn

from wizard.errors import Conflict, RecordError, StoreError
from wizard.job import Job
from wizard.procedure.item import Procedure
from wizard.record import Loaded, Writer, aside_of, loads
from wizard.store import clock, rescue
from wizard.store.draft import Draft, drop_draft, keep_draft, read_draft
from wizard.store.files import Folder, Unreadable, sentence
from wizard.store.lock import Lock
from wizard.text import show


class Session:
    """One open job.

    `job` is the job as saved last; `read_only` a sentence why it cannot be saved, empty where it
    can; `holder` who has it open instead; `warnings` what to say once after opening; `rescue` the
    job of a save that failed and `rescued` where that is kept; `extra` what the record holds that
    this version does not know (a sign-off needs it for the chain).
    """

    def __init__(
        self,
        folder: Folder,
        name: str,
        procedure: Procedure,
        loaded: Loaded,
        lock: Lock | None,
        host: str,
        holder: str,
        read_only: str,
        warnings: tuple[str, ...],
    ) -> None:
        self.path = folder.path / name
        self.holder, self.read_only, self.warnings = holder, read_only, warnings
        self.rescue: Job | None = None
        self.rescued: Path | None = None
        self.conflict = ""
        self._folder, self._name, self._procedure = folder, name, procedure
        self._lock, self._host = lock, host
        self._writer, self._busy = Writer(), threading.Lock()
        self._seen: tuple[int, ...] = ()
        self._tried = ""
        self._take(loaded)

    def _take(self, loaded: Loaded) -> None:
        self.job, self.revision, self.problems = loaded.job, loaded.revision, loaded.problems
        self.extra, self._sha = loaded.extra, loaded.sha256
        self._seen = self._folder.stamp(self._name)

    def __enter__(self) -> Session:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let the job go; nothing is saved here."""
        with self._busy:
            if self._lock:
                self._lock.release()
            self._lock = None
            self._folder.close()
            self.read_only = self.read_only or "The job is closed."

    # -- writing ------------------------------------------------------------------

    def save(self, job: Job) -> None:
        """Put `job` on the disk; it is there when this returns.

        StoreError says why it is not; Conflict that the file on disk is somebody else's and
        where the entries went instead.
        """
        with self._busy:
            if self._lock is None or (self.read_only and not self.conflict):
                raise StoreError(self.read_only)
            self._must_extend(job)
            current, unreadable = self._current()
            data = self._writer.dumps(job, self.revision + 1, self.extra)
            if unreadable:
                self._failed(job, data, unreadable)
            if current is None or self.conflict:
                self._keep_apart(job, data)
            self._tried = sha256(data).hexdigest()
            try:
                self._folder.replace(self._name, data, current)
            except OSError as problem:
                self._failed(job, data, sentence(problem))
            self._saved(job)
            self._forget_rescue()

    def _current(self) -> tuple[tuple[bytes, os.stat_result] | None, str]:
        """The file on disk where it is ours, and why it cannot be read where it cannot."""
        try:
            current = self._folder.read(self._name)
        except Unreadable as problem:
            return None, problem.reason
        except RecordError:
            return None, ""
        found = sha256(current[0]).hexdigest()
        if found == self._tried:
            self._sha, self._tried, self.revision = found, "", self.revision + 1
        return (current if found == self._sha else None), ""

    def _must_extend(self, job: Job) -> None:
        """History only grows; a job that lost some of it is not saved over the one that has it."""
        before = self.job.events
        if job.header != self.job.header or job.events[: len(before)] != before:
            raise StoreError("This is not the job that was opened: its history differs.")

    def _saved(self, job: Job) -> None:
        self.job, self.revision = job, self.revision + 1
        self._sha, self._tried = self._tried, ""
        self._seen = self._folder.stamp(self._name)

    def _forget_rescue(self) -> None:
        """Take the rescue copy away once its entries are in the record, and not before; offer
        it no longer once the record has gone another way."""
        if self.rescue is None:
            return
        kept, saved = self.rescue.events, self.job.events
        if saved[: len(kept)] == kept:
            rescue.drop(self.job.header)
            self.rescue = self.rescued = None
        elif kept[: len(saved)] != saved:
            self.rescue = None

    def _failed(self, job: Job, data: bytes, why: str) -> NoReturn:
        """Say what is true after a failed save, and keep the entries in the user's own folder."""
        with suppress(RecordError):
            if self._folder.read(self._name)[0] == data:
                self._saved(job)
                raise StoreError(
                    f"{self._name} is written, but the disk did not confirm it: {why}."
                ) from None
        kept = self._rescue(job, data)
        raise StoreError(f"{self._name} is not saved: {why}.{kept}") from None

    def _rescue(self, job: Job, data: bytes) -> str:
        try:
            self.rescued = rescue.keep(job.header, data, own=bool(self.rescued))
        except (OSError, StoreError):
            return ""
        self.rescue = job
        return f" Until then the entries are kept in {show(self.rescued)}."

    def _keep_apart(self, job: Job, data: bytes) -> NoReturn:
        """Save beside a file that is somebody else's."""
        try:
            if self.conflict:
                self._folder.replace(self.conflict, data, None)
            else:
                self.conflict = self._new_conflict(data)
        except OSError as problem:
            kept = self._rescue(job, data)
            raise Conflict(
                f"{self._name} was changed by somebody else and {sentence(problem)}.{kept}"
            ) from None
        self.read_only = (
            f"{self._name} was changed by somebody else since it was opened. Nothing was "
            f"overwritten; your entries are in {self.conflict}."
        )
        raise Conflict(self.read_only)

    def _new_conflict(self, data: bytes) -> str:
        stem = aside_of(self.job.header.id, self._host, clock.now())
        for more in ("", *(f"-{n}" for n in range(2, 100))):
            with suppress(FileExistsError):
                self._folder.create(f"{stem}{more}.toml", data)
                return f"{stem}{more}.toml"
        raise FileExistsError("conflict files")

    # -- following ----------------------------------------------------------------

    def refresh(self) -> bool:
        """Read the file again if it changed on disk; whether it did. For a reader."""
        with self._busy:
            if self._lock or self._folder.stamp(self._name) == self._seen:
                return False
            data, _ = self._folder.read(self._name)
            self._take(loads(data, self._procedure, self._name))
            return True

    # -- drafts -------------------------------------------------------------------

    def keep_draft(self, key: str, text: str) -> None:
        """Keep the text of the open field."""
        keep_draft(self.job.header.uuid, key, text)

    def read_draft(self) -> Draft | None:
        """The text of the field that was open when the job was left."""
        return read_draft(self.job.header.uuid)

    def drop_draft(self) -> None:
        """Forget the draft: it was submitted or given up."""
        drop_draft(self.job.header.uuid)
