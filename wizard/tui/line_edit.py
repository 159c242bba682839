"""One line of text being edited: the text, where the cursor is, what a key does to it.

Invariant: the text never holds a character that cannot be seen.
"""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from wizard.text import show

MAX_LENGTH = 2000


@dataclass(frozen=True, slots=True)
class LineEdit:
    """Text and cursor; every operation gives a new one."""

    text: str = ""
    cursor: int = 0

    @classmethod
    def of(cls, text: str) -> LineEdit:
        """The text with the cursor at its end."""
        kept = _visible(text)[:MAX_LENGTH]
        return cls(kept, len(kept))

    def insert(self, text: str) -> LineEdit:
        """Text typed or pasted at the cursor.

        >>> LineEdit.of("12").insert(" V\\n\\x1b[A")
        LineEdit(text='12 V[A', cursor=6)
        """
        kept = _visible(text)[: MAX_LENGTH - len(self.text)]
        at = self.cursor
        return LineEdit(self.text[:at] + kept + self.text[at:], at + len(kept))

    def backspace(self) -> LineEdit:
        """The character before the cursor gone."""
        at = self.cursor
        return LineEdit(self.text[: at - 1] + self.text[at:], at - 1) if at else self

    def delete(self) -> LineEdit:
        """The character under the cursor gone."""
        return LineEdit(self.text[: self.cursor] + self.text[self.cursor + 1 :], self.cursor)

    def move(self, by: int) -> LineEdit:
        """The cursor moved, within the text."""
        return LineEdit(self.text, max(0, min(len(self.text), self.cursor + by)))

    def window(self, width: int) -> tuple[str, str, str]:
        """What shows in `width` cells: before the cursor, under it, after it.

        >>> LineEdit.of("230").window(8)
        ('230', ' ', '')
        >>> LineEdit.of("1234567890").window(6)
        ('67890', ' ', '')
        """
        before, under = self.text[: self.cursor], self.text[self.cursor : self.cursor + 1] or " "
        after = self.text[self.cursor + 1 :]
        while before and cell_len(before) + cell_len(under) > width:
            before = before[1:]
        room = width - cell_len(before) - cell_len(under)
        while after and cell_len(after) > room:
            after = after[:-1]
        return before, under, after


def _visible(text: str) -> str:
    return "".join(c for c in text if show(c) == c)
