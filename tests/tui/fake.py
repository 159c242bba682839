"""A session, a clock and drafts in memory, and an app on them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from tests.small import new_job
from wizard.errors import StoreError
from wizard.job import Job
from wizard.pictures.choice import picture
from wizard.tui.app import WizardApp
from wizard.tui.doors import Doors
from wizard.tui.parts import Parts, dates_of


@dataclass
class FakeSession:
    """Keeps every job saved; fails as told."""

    job: Job = field(default_factory=new_job)
    read_only: str = ""
    warnings: tuple[str, ...] = ()
    rescue: Job | None = None
    saved: list[Job] = field(default_factory=list)
    failing: str = ""
    newer: Job | None = None
    closed: bool = False

    def save(self, job: Job) -> None:
        if self.failing:
            raise StoreError(self.failing)
        self.saved.append(job)
        self.job = job

    def refresh(self) -> bool:
        if self.newer is None:
            return False
        self.job, self.newer = self.newer, None
        return True

    def close(self) -> None:
        self.closed = True


@dataclass
class FakeClock:
    """A clock that goes on when told."""

    time: datetime = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
    seconds: float = 1000.0
    boot: str = "boot-a"

    def now(self) -> datetime:
        return self.time

    def monotonic(self) -> dict[str, Any]:
        return {"monotonic": self.seconds, "boot": self.boot}

    def pass_by(self, seconds: float) -> None:
        self.time += timedelta(seconds=seconds)
        self.seconds += seconds


@dataclass
class FakeDraft:
    key: str
    text: str


@dataclass
class FakeDrafts:
    """One draft a job."""

    kept: dict[str, FakeDraft] = field(default_factory=dict)

    def keep_draft(self, uuid: str, key: str, text: str) -> None:
        self.kept[uuid] = FakeDraft(key, text)

    def read_draft(self, uuid: str) -> FakeDraft | None:
        return self.kept.get(uuid)

    def drop_draft(self, uuid: str) -> None:
        self.kept.pop(uuid, None)


@dataclass
class Bench:
    """An app and all that it was given."""

    app: WizardApp
    session: FakeSession
    clock: FakeClock
    drafts: FakeDrafts


def bench(
    session: FakeSession | None = None,
    drafts: FakeDrafts | None = None,
    doors: Doors | None = None,
    **options: Any,
) -> Bench:
    """An app that opens `session`, or its start screen where there are `doors`."""
    own = session or FakeSession()
    clock, kept = FakeClock(), drafts or FakeDrafts()
    parts = Parts(clock, kept, picture, dates_of)
    opening = None if doors else lambda: own
    app = WizardApp("Tess Tester", opening=opening, parts=parts, doors=doors, **options)
    return Bench(app, own, clock, kept)
