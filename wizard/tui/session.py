"""What the screens need from outside: an open job, a clock, a place for drafts.

Invariant: screens open no file and read no clock; whoever starts them hands these in.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, Protocol

from wizard.job import Job


class Session(Protocol):
    """An open job record; `job` is the job as saved last.

    `read_only` says why it cannot be saved, empty where it can; `warnings` are said once after
    opening; `rescue` is the job with the entries of a save that failed earlier.
    """

    job: Job
    read_only: str
    warnings: tuple[str, ...]
    rescue: Job | None

    def save(self, job: Job) -> None:
        """Save durably; StoreError says what failed and where the rescue copy is."""

    def refresh(self) -> bool:
        """Read again what another session saved; whether anything changed."""

    def close(self) -> None:
        """Give the record back."""


class Clock(Protocol):
    """The wall clock and the one that nobody can set."""

    def now(self) -> datetime:
        """The time of day with its offset."""

    def monotonic(self) -> dict[str, Any]:
        """`monotonic` seconds and the `boot` they belong to."""


class Draft(Protocol):
    """Text of a field that was open."""

    @property
    def key(self) -> str:
        """The item it was typed for."""

    @property
    def text(self) -> str:
        """What was typed."""


class Drafts(Protocol):
    """Where the text of the open field is kept."""

    def keep_draft(self, uuid: str, key: str, text: str) -> None:
        """Keep the text."""

    def read_draft(self, uuid: str) -> Draft | None:
        """The text kept, if any."""

    def drop_draft(self, uuid: str) -> None:
        """Forget it."""
