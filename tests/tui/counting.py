"""An app without a terminal that counts the bytes it would send to one."""

from __future__ import annotations

import io
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from rich.console import Console, RenderableType
from textual._compositor import CompositorUpdate
from textual.screen import Screen

from tests.tui.fake import FakeClock, FakeDrafts, FakeSession
from tests.tui.walk import Walk, arrived
from wizard import actions
from wizard.actions import Hand
from wizard.job import Act, Job
from wizard.pictures.choice import picture
from wizard.tui.app import WizardApp
from wizard.tui.parts import Parts, dates_of

A_KEY, AN_ITEM, A_PAGE, A_START = 400, 1500, 2000, 20_000
"""The most bytes of a key, an accepted item, a page of other text, the first paint."""
FRAME = len("\x1b[?2026h\x1b[24;80H\x1b[?2026l")


class CountingApp(WizardApp):
    """Counts the bytes of every frame at 80x24 in 256 colours or more."""

    sent = frames = 0

    def count(self) -> int:
        """Bytes since the last time of asking; `frames` of them changed something."""
        sent, self.sent, self.frames = self.sent, 0, 0
        return sent

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        if isinstance(renderable, CompositorUpdate) and not self._batch_count:
            if not hasattr(self, "_out"):
                self._out = Console(
                    file=io.StringIO(), force_terminal=True, color_system="truecolor"
                )
            data = self.painter.sequence(renderable, self._out)
            self.sent += len(data.encode()) + FRAME
            self.frames += bool(data)
        super()._display(screen, renderable)


@asynccontextmanager
async def counting(job: Job) -> AsyncIterator[tuple[Walk, CountingApp]]:
    """The working screen of a job at 80x24, at the time of its last event, its bytes counted."""
    session = FakeSession(job)
    clock = FakeClock(job.events[-1].at) if job.events else FakeClock()
    parts = Parts(clock, FakeDrafts(), picture, dates_of)
    app = CountingApp("Tess Tester", opening=lambda: session, parts=parts)
    async with app.run_test(size=(80, 24)) as pilot:
        walk = Walk(app, session, pilot)
        await arrived(walk)
        yield walk, app


def before(job: Job, key: str) -> Job:
    """The job as it stood when an item was about to be answered for the first time."""
    first = next(n for n, e in enumerate(job.events) if e.key == key and e.act is Act.ANSWERED)
    return Job.replay(job.header, job.procedure, job.events[:first])


def without(job: Job, key: str) -> Job:
    """The job with one answer taken back, where it has one."""
    if key not in job.answers:
        return job
    return actions.withdraw(job, key, "again", Hand("Tess Tester", job.events[-1].at))
