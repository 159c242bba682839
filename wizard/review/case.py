"""One record in a lead's hands: read, looked at, followed; nothing is saved through it.

Invariant: what is shown is the file as it is; what a lead writes goes through `lead` and the lock.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from wizard.errors import StoreError
from wizard.job import Job
from wizard.procedure.item import Procedure
from wizard.review.look import Lens, Look, alone, look
from wizard.store.files import Folder


class Case:
    """One record. It is a session to the screens, which read `job` and cannot save."""

    def __init__(self, path: Path, procedure: Procedure, lens: Callable[[], Lens]) -> None:
        self.path = path
        self.warnings: tuple[str, ...] = ()
        self.rescue: Job | None = None
        self._procedure, self._lens = procedure, lens
        self._folder = Folder(path.parent)
        self._stamp: tuple[int, ...] = ()
        self.job: Job
        self.read_only = ""
        self._take(self._read())

    def _take(self, found: Look) -> None:
        self.look, self.job, self.read_only = found, found.job, _first_word(found)

    def _read(self) -> Look:
        self._stamp = self._folder.stamp(self.path.name)
        data, _ = self._folder.read(self.path.name)
        found = look(data, self.path.name, self._procedure, self._lens())
        return alone(found, self.path)

    def save(self, job: Job) -> None:
        """Refuse: a lead changes no reading."""
        raise StoreError("A job under review is read only.")

    def refresh(self) -> bool:
        """Read the file again if it changed; whether it did."""
        if self._folder.stamp(self.path.name) == self._stamp:
            return False
        self._take(self._read())
        return True

    def close(self) -> None:
        """Let the folder go."""
        self._folder.close()


def _first_word(found: Look) -> str:
    """What a lead should know before reading on."""
    if found.row.error:
        return f"DO NOT RELY ON IT. {found.row.error}"
    if not found.row.concerns:
        return "under review; nothing to doubt in its history."
    return f"under review; {found.row.concerns} to doubt, see doubts."
