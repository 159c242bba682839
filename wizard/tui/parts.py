"""What the working screen is given from outside the package: clock, drafts, pictures, dates.

Invariant: the screens reach the disk and the clock through these alone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wizard.job import Job
from wizard.pictures.choice import picture
from wizard.pictures.scene import Scene
from wizard.record.plan import plan
from wizard.store import clock, draft
from wizard.tui.session import Clock, Drafts

Picture = Callable[[Scene, int, int], list[str]]
Dates = Callable[[Job], list[tuple[str, str]]]


@dataclass(frozen=True, slots=True)
class Parts:
    """Clock and drafts; `picture` draws for an item, `dates` lists maintenance."""

    clock: Clock
    drafts: Drafts
    picture: Picture
    dates: Dates


def dates_of(job: Job) -> list[tuple[str, str]]:
    """The maintenance of the machine of the job: day and task."""
    return [(f"{task.due}", f"{task.name} ({task.repeats})") for task in plan(job)]


def default_parts() -> Parts:
    """The clock of this computer, drafts with the user, the pictures of the package."""
    return Parts(clock, draft, picture, dates_of)
