"""The status row: a sentence that stays, a passing one, or a one-line question.

Invariant: a question is answered or left; while it is open nothing else takes the keys.
"""

from __future__ import annotations

from asyncio import Future, get_running_loop

from rich.cells import cell_len, set_cell_size
from textual.app import ComposeResult
from textual.containers import Container
from textual.widget import Widget

from wizard.tui.entry import Entry
from wizard.tui.sheet import Sheet
from wizard.tui.spans import BLANK, line

LEAST_ROOM = 24
"""Columns of a question that are left for its answer."""


class StatusRow(Container):
    """One row that says or asks."""

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._lasting = ""
        self._waiting: Future[str | None] | None = None
        self._before: Widget | None = None

    def compose(self) -> ComposeResult:
        """A sheet to say, a field to ask."""
        yield Sheet("said")
        yield Entry("asked", submit=self._answered, leave=self.leave)

    @property
    def asking(self) -> bool:
        """Whether a question is open."""
        return self._waiting is not None

    def say(self, text: str = "", role: str = "text") -> None:
        """Say something until the next key; nothing lets the lasting sentence back."""
        said = text or self._lasting
        shown = (said, role if text else "error")
        self.query_one("#said", Sheet).show_lines([line(" ", shown) if said else BLANK])

    def last(self, text: str) -> None:
        """Say something until it is taken back with an empty text."""
        self._lasting = text
        self.say()

    async def ask(self, label: str, text: str = "", *, again: bool = False) -> str | None:
        """The answer to a one-line question; None where it is left by Esc.

        What is typed takes the place of `text`, unless it is asked `again` after a slip in it.
        """
        self.leave()
        waiting: Future[str | None] = get_running_loop().create_future()
        before = self._before if self._waiting is not None else self.screen.focused
        self._waiting, self._before = waiting, before
        entry = self.query_one("#asked", Entry)
        self.add_class("-asking")
        proposed = bool(text) and not again
        most = max(LEAST_ROOM, self.app.size.width - LEAST_ROOM)
        label = label if cell_len(label) <= most else f"{set_cell_size(label, most - 1)}…"
        hint = "Enter takes it, or type another" if proposed else "Enter takes it, Esc leaves"
        entry.put(text, line(f" {label} ", ("› ", "key")), hint, proposed=proposed)
        self.screen.set_focus(entry, scroll_visible=False)
        try:
            return await waiting
        finally:
            if self._waiting is waiting:
                self._close()

    def _close(self) -> None:
        """Give the keys back to where they were before the question."""
        self._waiting = None
        self.remove_class("-asking")
        if self._before is not None and self._before.is_attached:
            self.screen.set_focus(self._before, scroll_visible=False)

    def leave(self) -> None:
        """Close an open question without an answer."""
        if self._waiting is not None and not self._waiting.done():
            self._waiting.set_result(None)

    def _answered(self, text: str) -> None:
        if self._waiting is not None and not self._waiting.done():
            self._waiting.set_result(text)
