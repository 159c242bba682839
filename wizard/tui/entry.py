"""The field a person types into.

Invariant: it holds text and says what happened to it; it judges nothing and saves nothing. It
says so by calls and not by messages: keys typed ahead of an answer over a slow link belong to the
next question and must wait for it, and what a key changes is painted with its echo.
"""

from __future__ import annotations

from collections.abc import Callable

from rich.cells import cell_len
from textual import events
from textual.geometry import Offset

from wizard.tui.line_edit import MAX_LENGTH, LineEdit
from wizard.tui.sheet import Sheet
from wizard.tui.spans import BLANK, Letters, Line, Span, line, width_of

LEAST_ROOM = 18
_EDITS: dict[str, Callable[[LineEdit], LineEdit]] = {
    "backspace": LineEdit.backspace,
    "delete": LineEdit.delete,
    "left": lambda edit: edit.move(-1),
    "right": lambda edit: edit.move(1),
    "home": lambda edit: edit.move(-MAX_LENGTH),
    "end": lambda edit: edit.move(MAX_LENGTH),
    "ctrl+u": lambda edit: LineEdit(edit.text[edit.cursor :]),
}


class Entry(Sheet, can_focus=True):
    """A label, the text with a steady cursor, and a hint behind it."""

    def __init__(
        self,
        id: str | None = None,
        *,
        submit: Callable[[str], None],
        leave: Callable[[], None],
        change: Callable[[str], None] = lambda text: None,
        least: int = LEAST_ROOM,
    ) -> None:
        super().__init__(id=id)
        self._least = least
        self._submit, self._leave, self._change = submit, leave, change
        self.edit = LineEdit()
        self._proposed = False
        self._label: Line = BLANK
        self._hint = ""

    @property
    def value(self) -> str:
        """The text."""
        return self.edit.text

    def put(
        self,
        text: str,
        label: Line | None = None,
        hint: str | None = None,
        *,
        proposed: bool = False,
    ) -> None:
        """Another text, and another label or hint, without telling anybody; what is typed takes
        the place of a text that is only proposed."""
        self.edit, self._proposed = LineEdit.of(text), proposed
        self._label = self._label if label is None else label
        self._hint = self._hint if hint is None else hint
        self._paint()

    def propose(self) -> None:
        """Let what is typed take the place of the text, and an edit key keep it."""
        self._proposed = bool(self.edit.text)
        self._paint()

    def hint(self, text: str) -> None:
        """What is said behind the text, such as its unit."""
        self._hint = text
        self._paint()

    def _paint(self) -> None:
        label, hint = self._label, Letters.of(self._hint)
        taken = width_of(label)
        if self.size.width - taken - cell_len(hint) - 2 < self._least:
            hint = ""
        room = max(8, self.size.width - taken - cell_len(hint) - 2)
        before, under, after = self.edit.window(room)
        role = "cursor" if self.has_focus else "field"
        fill = " " * max(0, room - cell_len(before + under + after))
        kept = "select" if self._proposed else "field"
        text = ((before, kept), Span(under, role), (after, kept), (fill, "field"))
        self.show_lines([line(*label, *text, (f" {hint}", "dim"))])
        if self.has_focus:
            left = taken + cell_len(before)
            self.app.cursor_position = self.region.offset + Offset(left, 0)

    def on_resize(self) -> None:
        """Fill the new width."""
        self._paint()

    def on_focus(self) -> None:
        """Show the cursor."""
        self._paint()

    def on_blur(self) -> None:
        """Hide the cursor."""
        self._paint()

    def take(self, key: events.Key) -> bool:
        """Edit, or leave the key to the screen."""
        if key.key == "enter":
            self._submit(self.edit.text)
        elif key.key == "escape":
            self._leave()
        elif change := _EDITS.get(key.key):
            self._become(change(self.edit))
        elif key.character and key.is_printable:
            self._become(self._for_more().insert(key.character))
        else:
            return False
        return True

    def paste(self, text: str) -> None:
        """Take pasted text as if it were typed on one line."""
        self._become(self._for_more().insert(" ".join(text[:MAX_LENGTH].split())))

    def _for_more(self) -> LineEdit:
        """What typed text is added to."""
        return LineEdit() if self._proposed else self.edit

    def _become(self, edit: LineEdit) -> None:
        changed = edit.text != self.edit.text
        self.edit, self._proposed = edit, False
        self._paint()
        if changed:
            self._change(edit.text)
