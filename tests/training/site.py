"""The practice screens driven by keys, on a real shelf in a folder of the test."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from textual.pilot import Pilot

from tests.tui.walk import TRIES, Walk
from wizard.commands.exercise import Exercise
from wizard.commands.practise import chooser
from wizard.practice.run import Run
from wizard.tui.app import WizardApp
from wizard.tui.list_pane import ListPane
from wizard.tui.practise import PractiseScreen
from wizard.tui.practise_choose import ChooseScreen

LEARNER = "Ada Prentice"
PAGES = 4
"""A briefing is longer than a small terminal; Enter turns its pages, then goes on."""


class Visit(Walk):
    """An app on the practice screens."""

    def __init__(self, app: WizardApp, pilot: Pilot[Any]) -> None:
        self.app, self.pilot = app, pilot

    @property
    def site(self) -> PractiseScreen:
        """The screen on the site."""
        assert isinstance(self.screen, PractiseScreen)
        return self.screen

    @property
    def exercise(self) -> Exercise:
        """The exercise in hand."""
        return self.site.exercise

    @property
    def run(self) -> Run:
        """The run in hand."""
        return self.exercise.run

    async def arrive(self, kind: type[object]) -> None:
        """Wait for a screen."""
        for _ in range(20 * TRIES):
            if isinstance(self.app.screen, kind) and self.app.screen.is_mounted:
                break
            await self.pilot.pause(0.01)
        else:
            raise AssertionError(f"{kind.__name__} is not there:\n{self.text}")
        await self.settle()

    async def pick(self, words: str) -> None:
        """Go down a list to the row that says so, and pick it."""
        pane = self.screen.query_one(ListPane)
        for _ in pane.rows:
            if words in "".join(span.text for span in pane.rows[pane.at].left):
                await self.press("enter")
                return
            await self.press("down")
        raise AssertionError(f"{words!r} is not in the list:\n{self.text}")

    async def go_to(self, place: str) -> None:
        """Walk to a place by its title."""
        await self.press("f2", "home")
        await self.pick(place)

    async def do(self, title: str, *, yes: bool = True) -> None:
        """Do something by its title; where somebody asks, it is meant."""
        await self.press("f3", "home")
        await self.pick(title)
        if self.site.status.asking and yes:
            await self.type("y", "enter")

    async def tell(self, words: str) -> str:
        """Turn the pages until the words are there; all that was read."""
        read = [self.text]
        for _ in range(12):
            if words in read[-1]:
                return "\n".join(read)
            await self.press("tab")
            read.append(self.text)
        raise AssertionError("\n".join(read))


@asynccontextmanager
async def choosing(
    name: str = "",
    seed: int | None = None,
    *,
    resume: bool = False,
    size: tuple[int, int] = (80, 24),
) -> AsyncIterator[Visit]:
    """The choice of scenarios, or the briefing of one."""
    app = WizardApp(LEARNER, opening=chooser(LEARNER, name, seed, resume), words="Practice")
    async with app.run_test(size=size) as pilot:
        visit = Visit(app, pilot)
        await visit.arrive(PractiseScreen if resume else ChooseScreen)
        yield visit


@asynccontextmanager
async def practising(
    name: str, seed: int = 1, *, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[Visit]:
    """On the site, after the briefing."""
    async with choosing(name, seed, size=size) as visit:
        for _ in range(PAGES):
            await visit.press("enter")
            for _ in range(100):
                await visit.pilot.pause(0.01)
                if isinstance(visit.app.screen, PractiseScreen):
                    break
            else:
                continue
            break
        await visit.arrive(PractiseScreen)
        yield visit
