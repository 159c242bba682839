"""A folder looked at on the screen, and ways about it."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from itertools import takewhile
from pathlib import Path

from tests.tui.counting import CountingApp
from tests.tui.fake import FakeSession
from tests.tui.walk import Walk, arrived
from wizard.actions import Hand
from wizard.commands.reviewing import Reviewing, folder_door
from wizard.job import Job
from wizard.signing import sign_off
from wizard.tui.case import CaseScreen
from wizard.tui.review import FolderScreen

AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def sign_off_as(job: Job, name: str, key: str) -> Job:
    """The job as a lead accepted it who had no list to be verified by."""
    return sign_off(job, "lead", "accepted", name, Hand(name, job.events[-1].at), key)


@asynccontextmanager
async def looking(folder: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Walk]:
    """The review of a folder on the screen, looked at to the end."""
    app = CountingApp("Lea", opening=folder_door(Reviewing(folder, "Lea")))
    async with app.run_test(size=size) as pilot:
        walk = Walk(app, FakeSession(), pilot)
        await arrived(walk)
        await looked_at(walk)
        yield walk


async def looked_at(walk: Walk) -> None:
    """Wait until every file of the folder is looked at."""
    assert isinstance(walk.screen, FolderScreen)
    for _ in range(400):
        if walk.screen.reviewing.done:
            break
        await walk.pilot.pause(0.02)
    await walk.settle()


def first_cells(walk: Walk) -> list[str]:
    """The jobs on the screen from top to bottom."""
    return [row[3:16].strip() for row in takewhile(str.strip, walk.rows[4:-2])]


def foot(walk: Walk) -> str:
    """What is said of the marked row, on as many rows as it takes."""
    return " ".join(" ".join(walk.rows[-5:-1]).split())


async def into(walk: Walk, job: str) -> None:
    """Mark a job and go into it."""
    screen = walk.screen
    assert isinstance(screen, FolderScreen)
    names = [row.pick for row in screen.pane.rows]
    await walk.press("home", *["down"] * names.index(f"{job}.toml"), "enter")
    await walk.until("READ ONLY")
    assert isinstance(walk.screen, CaseScreen)
