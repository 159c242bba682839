"""A sheet of styled lines: the one way text gets onto a screen.

Invariant: text is painted as it is, never read as markup, and only what differs is repainted.
"""

from __future__ import annotations

from collections.abc import Mapping

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from wizard.text import show
from wizard.tui.look import LOOKS
from wizard.tui.spans import BLANK, Line, Lines, fitted, text_of


class Sheet(Widget):
    """Lines from the top of the widget down; what does not fit is cut, and says so."""

    class Clicked(Message):
        """A row was clicked."""

        def __init__(self, sheet: Sheet, row: int, column: int) -> None:
            super().__init__()
            self.sheet, self.row, self.column = sheet, row, column

        @property
        def control(self) -> Sheet:
            """The sheet that was clicked."""
            return self.sheet

    class Resized(Message):
        """There is more or less room than before."""

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._lines: Lines = []

    @property
    def lines(self) -> Lines:
        """What is shown."""
        return self._lines

    @property
    def text(self) -> str:
        """What is shown, as plain text."""
        return text_of(self._lines)

    def show_lines(self, lines: Lines) -> None:
        """Show these lines."""
        if lines != self._lines:
            self._lines = lines
            self.refresh()

    @property
    def role_styles(self) -> Mapping[str, Style]:
        """The style of each role in the look of the app."""
        return getattr(self.app, "look", LOOKS["default"]).styles

    def line_at(self, y: int) -> Line:
        """The line of row `y`."""
        return self._lines[y] if 0 <= y < len(self._lines) else BLANK

    def render_line(self, y: int) -> Strip:
        """Row `y` as Textual paints it."""
        styles = self.role_styles
        width = self.size.width
        segments = [
            Segment(show(span.text), styles[span.role]) for span in fitted(self.line_at(y), width)
        ]
        return Strip(segments).adjust_cell_length(width, styles["text"])

    def take(self, key: events.Key) -> bool:
        """Use a key, where this part has the keys; False leaves it to the screen."""
        return False

    def on_click(self, event: events.Click) -> None:
        """Tell the screen which row."""
        self.post_message(self.Clicked(self, event.y, event.x))

    def on_resize(self) -> None:
        """Tell the screen, which decides what to show in the room there is."""
        self.post_message(self.Resized())
