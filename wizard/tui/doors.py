"""Where the start screen leads; whoever starts the screens gives the ways.

Invariant: light to load, since it is needed before the first paint.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from textual.message import Message
from textual.screen import Screen

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
    """What the start screen leads to. `create` takes id, units and machine file."""

    recent: Callable[[], Sequence[Recent]]
    open: Callable[[str], Session]
    create: Callable[[str, str, str], Session]
    practise: Door | None = None
    review: Door | None = None
    who: str = ""
    units: str = "us"


class GoIn(Message):
    """A way in was chosen on the start screen."""

    def __init__(self, way: Opening | Door) -> None:
        super().__init__()
        self.way = way
