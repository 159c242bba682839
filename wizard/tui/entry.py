"""The field a person types into.

Invariant: it holds text and says what happened to it; it judges nothing and saves nothing. Enter
is a call and not a message, because the keys behind it, typed ahead over a slow link, belong to
the next question and must wait until it is there.
"""

from __future__ import annotations

from collections.abc import Callable

from rich.cells import cell_len
from textual import events
from textual.geometry import Offset
from textual.message import Message

from wizard.tui.line_edit import MAX_LENGTH, LineEdit
from wizard.tui.sheet import Sheet
from wizard.tui.spans import BLANK, Line, Span, line, width_of

LEAST_ROOM = 20
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

    class Changed(Message):
        """The text changed by a key or a paste."""

        def __init__(self, entry: Entry) -> None:
            super().__init__()
            self.entry = entry

        @property
        def control(self) -> Entry:
            """The field."""
            return self.entry

    def __init__(
        self,
        id: str | None = None,
        *,
        submit: Callable[[str], None],
        leave: Callable[[], None],
    ) -> None:
        super().__init__(id=id)
        self._submit, self._leave = submit, leave
        self.edit = LineEdit()
        self._label: Line = BLANK
        self._hint = ""

    @property
    def value(self) -> str:
        """The text."""
        return self.edit.text

    def put(self, text: str, label: Line | None = None, hint: str | None = None) -> None:
        """Another text, and another label or hint, without telling anybody."""
        self.edit = LineEdit.of(text)
        self._label = self._label if label is None else label
        self._hint = self._hint if hint is None else hint
        self._paint()

    def hint(self, text: str) -> None:
        """What is said behind the text, such as its unit."""
        self._hint = text
        self._paint()

    def _paint(self) -> None:
        label, hint = self._label, self._hint
        taken = width_of(label)
        if self.size.width - taken - cell_len(hint) < LEAST_ROOM:
            hint = ""
        room = max(8, self.size.width - taken - cell_len(hint) - 2)
        before, under, after = self.edit.window(room)
        role = "cursor" if self.has_focus else "field"
        fill = " " * max(0, room - cell_len(before + under + after))
        text = ((before, "field"), Span(under, role), (after + fill, "field"))
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

    def on_key(self, event: events.Key) -> None:
        """Edit, or leave the key to the screen."""
        if event.key == "enter":
            event.stop()
            self._submit(self.edit.text)
        elif event.key == "escape":
            event.stop()
            self._leave()
        elif change := _EDITS.get(event.key):
            event.stop()
            self._become(change(self.edit))
        elif event.character and event.is_printable:
            event.stop()
            self._become(self.edit.insert(event.character))

    def on_paste(self, event: events.Paste) -> None:
        """Take pasted text as if it were typed on one line."""
        event.stop()
        self._become(self.edit.insert(" ".join(event.text[:MAX_LENGTH].split())))

    def _become(self, edit: LineEdit) -> None:
        changed = edit.text != self.edit.text
        self.edit = edit
        self._paint()
        if changed:
            self.post_message(self.Changed(self))
