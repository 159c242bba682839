"""The screens driven by keys, in the process of the test."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from textual import events
from textual.message_pump import MessagePump
from textual.pilot import Pilot

from tests.tui.fake import FakeClock, FakeDrafts, FakeSession, bench
from wizard.job import Job
from wizard.tui.app import WizardApp
from wizard.tui.base import BaseScreen
from wizard.tui.doors import Doors
from wizard.tui.opening import OpeningScreen
from wizard.tui.working import WorkScreen

TRIES = 200
ROUNDS = 3
"""So often in a row nothing may be waiting: a worker may be about to post the next message."""


class Walk:
    """An app, the keys pressed in it and what it shows."""

    clock: FakeClock
    drafts: FakeDrafts

    def __init__(self, app: WizardApp, session: FakeSession, pilot: Pilot[Any]) -> None:
        self.app, self.session, self.pilot = app, session, pilot

    @property
    def job(self) -> Job:
        """The job as saved."""
        return self.session.job

    @property
    def screen(self) -> BaseScreen:
        """The screen in front."""
        screen = self.app.screen
        assert isinstance(screen, BaseScreen)
        return screen

    @property
    def work(self) -> WorkScreen:
        """The working screen."""
        assert isinstance(self.screen, WorkScreen)
        return self.screen

    async def go(self, key: str) -> None:
        """Put an item in front."""
        self.work.desk.go(key)
        self.work.show_item()
        await self.settle()

    @property
    def rows(self) -> list[str]:
        """What the screen shows, row by row."""
        return [strip.text.rstrip() for strip in self.screen._compositor.render_strips()]

    @property
    def text(self) -> str:
        """What the screen shows."""
        return "\n".join(self.rows)

    async def press(self, *keys: str) -> None:
        """Press keys by name."""
        for key in keys:
            self.app.post_message(events.Key(key, key if len(key) == 1 else None))
        await self.settle()

    async def type(self, text: str, *keys: str) -> None:
        """Type a text, then press keys."""
        for char in text:
            self.app.post_message(events.Key("space" if char == " " else char, char))
        await self.press(*keys)

    async def settle(self) -> None:
        """Wait until everything is painted: no part has anything left to do."""
        still = 0
        for _ in range(TRIES):
            await self.pilot.pause(0)
            still = still + 1 if self._at_rest() else 0
            if still == ROUNDS:
                return
        raise AssertionError(f"the screen does not come to rest:\n{self.text}")

    def _at_rest(self) -> bool:
        screen = self.app.screen
        parts: list[MessagePump] = [self.app, *screen.walk_children(with_self=True)]
        waiting = any(not p._message_queue.empty() or p._next_callbacks for p in parts)
        return not waiting and not screen._callbacks

    async def until(self, words: str) -> None:
        """Wait until the screen shows some words."""
        for _ in range(TRIES):
            if words in self.text:
                return
            await self.pilot.pause(0.01)
        raise AssertionError(f"{words!r} is not shown:\n{self.text}")


async def arrived(walk: Walk) -> None:
    """Wait until the first frame has given way to a screen with keys."""
    for _ in range(TRIES):
        await walk.pilot.pause(0.01)
        if not isinstance(walk.app.screen, OpeningScreen):
            break
    await walk.settle()


@asynccontextmanager
async def walking(
    session: FakeSession | None = None,
    *,
    drafts: FakeDrafts | None = None,
    doors: Doors | None = None,
    size: tuple[int, int] = (80, 24),
    **options: Any,
) -> AsyncIterator[Walk]:
    """The working screen on a session, ready for keys."""
    parts = bench(session, drafts, doors, **options)
    async with parts.app.run_test(size=size) as pilot:
        walk = Walk(parts.app, parts.session, pilot)
        walk.clock, walk.drafts = parts.clock, parts.drafts
        await arrived(walk)
        yield walk
