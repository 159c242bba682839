"""The status row: a sentence that stays, a passing one, or a one-line question.

Invariant: a question is answered or left; while it is open nothing else takes the keys.
"""

from __future__ import annotations

import re
from asyncio import Future, get_running_loop

from rich.cells import cell_len, set_cell_size
from textual.app import ComposeResult
from textual.containers import Container
from textual.widget import Widget

from wizard.tui.entry import Entry
from wizard.tui.sheet import Sheet
from wizard.tui.spans import BLANK, Letters, line

FREE, PROPOSED, WORD = 15, 28, 6
"""Cells for an answer: some text, at most so much of one proposed, or a word of the question."""
AROUND = 7
"""Cells around the question, its answer and what is said of the keys."""
LEAST_HEAD = 12
ESC = "Esc leaves"
TAKES = f"Enter takes it, {ESC}"
CHOICE = re.compile(r"\by (?:or n|quits)$|\by, n or all$")
AT_ONCE = re.compile(r"\by quits$|, because$")
"""Questions that Enter answers as they come, so that a way out is always said."""
ENDS = re.compile(r"(?<=[.?!;,]) ")


def fitting(label: str, text: str, width: int) -> tuple[str, str]:
    """A question and what is said of the keys, as they fit; what the keys do is kept longest.

    A question goes before the way out, but where Enter alone would do something.

    >>> fitting("Quit? Everything accepted is saved. Enter or y quits", "", 80)
    ('Quit? Everything accepted is saved. Enter or y quits', 'Esc leaves')
    >>> fitting("Quit? Everything accepted is saved. Enter or y quits", "", 60)
    ('Quit? Everything ac… Enter or y quits', 'Esc leaves')
    """
    if text:
        answer = min(PROPOSED, cell_len(text) + 1)
        hints = [f"Enter takes it, or type another; {ESC}", TAKES, ESC]
    elif CHOICE.search(label):
        answer, hints = WORD, [ESC]
    else:
        answer, hints = FREE, [TAKES, ESC]
    if not AT_ONCE.search(label):
        hints.append("")
    for hint in hints:
        most = width - AROUND - answer - cell_len(hint)
        if cell_len(label) <= most:
            return label, hint
    return squeezed(label, most), hints[-1]


def squeezed(label: str, most: int) -> str:
    """A question in fewer cells: as much of its end as leaves room for its beginning.

    >>> squeezed("HELD in phase 7. Lock off all the same? y or n", 45)
    'HELD in phase… Lock off all the same? y or n'
    >>> squeezed("A name of some length", 12)
    'A name of s…'
    """
    more = Letters.of("…")
    ends = list(ENDS.finditer(label))
    for end in ends if CHOICE.search(label) else ends[-1:]:
        tail = label[end.end() :]
        room = most - cell_len(tail) - cell_len(more) - 1
        if room >= LEAST_HEAD:
            return f"{set_cell_size(label, room).rstrip(' .,;')}{more} {tail}"
    return f"{set_cell_size(label, most - cell_len(more))}{more}"


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
        yield Entry("asked", submit=self._answered, leave=self.leave, least=WORD)

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

    async def ask(self, label: str, text: str = "") -> str | None:
        """The answer to a one-line question; None where it is left by Esc.

        What is typed takes the place of `text`.
        """
        self.leave()
        waiting: Future[str | None] = get_running_loop().create_future()
        before = self._before if self._waiting is not None else self.screen.focused
        self._waiting, self._before = waiting, before
        entry = self.query_one("#asked", Entry)
        self.add_class("-asking")
        label, hint = fitting(Letters.of(label), text, self.app.size.width)
        entry.put(text, line(f" {label} ", ("› ", "key")), hint, proposed=bool(text))
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
