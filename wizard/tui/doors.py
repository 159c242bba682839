"""Where the start screen leads; whoever starts the screens gives the ways.

Invariant: light to load, since it is needed before the first paint.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from textual.message import Message
from textual.screen import Screen

from wizard.settings import usual_practice

if TYPE_CHECKING:
    from wizard.tui.session import Session

Opening = Callable[[], "Session"]
"""Opens a job; called in a thread."""

Door = Callable[[], "Session | Callable[[], Screen[Any]]"]
"""Opens a job, or gives what makes a screen; called in a thread."""


@dataclass(frozen=True, slots=True)
class Recent:
    """A job the start screen offers: where it is, and what to say of it."""

    path: str
    title: str
    about: str = ""


@dataclass(frozen=True, slots=True)
class Doors:
    """What the start screen leads to.

    `create` takes id, units, electrical practice and machine file; `vet` says by an InputError or
    StoreError why an id cannot be used; `practice` is proposed for the units.
    """

    recent: Callable[[], Sequence[Recent]]
    open: Callable[[str], Session]
    create: Callable[[str, str, str, str], Session]
    practise: Door | None = None
    review: Door | None = None
    who: str = ""
    units: str = "us"
    practice: Callable[[str], str] = usual_practice
    vet: Callable[[str], None] = lambda job_id: None


class GoIn(Message):
    """A way in was chosen on the start screen."""

    def __init__(self, way: Opening | Door) -> None:
        super().__init__()
        self.way = way
