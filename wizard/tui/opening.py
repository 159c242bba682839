"""The first frame: says what is being opened while the rest is loaded.

Invariant: it needs nothing but what is loaded already, so it is there at once.
"""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult

from wizard.keys import Command
from wizard.tui.base import BaseScreen
from wizard.tui.sheet import Sheet
from wizard.tui.spans import BLANK, Lines, between, line

NAME = "Compressor commissioning"


def frame(words: str, width: int) -> Lines:
    """The top rows before there is a job to show."""
    return [
        between(line(" ", (NAME, "strong")), line(("opening ", "dim")), width),
        line(f" {words}") if words else BLANK,
        line(("─" * width, "rule")),
    ]


class OpeningScreen(BaseScreen):
    """The frame of the working screen, still empty."""

    def __init__(self, commands: Iterable[Command], words: str) -> None:
        super().__init__(commands)
        self.words = words

    @property
    def waits(self) -> bool:
        """Keys are meant for what comes next."""
        return True

    def usable(self, command: Command) -> bool:
        """Only leaving."""
        return command.name == "quit"

    def parts(self) -> ComposeResult:
        """The masthead, with its text from the first paint on, and room below it."""
        masthead = Sheet("masthead")
        masthead.show_lines(frame(self.words, self.app.size.width))
        yield masthead
        yield Sheet("room")

    def paint(self) -> None:
        """Show the frame."""
        self.query_one("#masthead", Sheet).show_lines(frame(self.words, self.size.width))
        super().paint()
