"""A sheet that can be scrolled.

Invariant: whether there is more above or below is said in words on the last row.
"""

from __future__ import annotations

from textual import events

from wizard.tui.sheet import Sheet
from wizard.tui.spans import Lines, between, line


class Pages(Sheet):
    """Lines of which a window is shown."""

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._all: Lines = []
        self.top = 0

    def put(self, lines: Lines, *, from_top: bool = True) -> None:
        """Other lines, from their beginning unless told."""
        self._all = lines
        self.top = 0 if from_top else min(self.top, self._last_top())
        self._paint()

    def scroll_by(self, rows: int) -> None:
        """The window moved, within the text."""
        self.top = max(0, min(self.top + rows, self._last_top()))
        self._paint()

    def page_on(self) -> None:
        """The next page, and from the end back to the top."""
        if not self.read_on():
            self.scroll_by(-self.top)

    def read_on(self) -> bool:
        """The next page; False at the end."""
        if len(self._all) <= self.size.height:
            return False
        before = self.top
        self.scroll_by(self.page)
        return self.top != before

    @property
    def page(self) -> int:
        """Rows of a page."""
        return max(1, self.size.height - 2)

    @property
    def everything(self) -> Lines:
        """All lines, shown or not."""
        return self._all

    def _last_top(self) -> int:
        return max(0, len(self._all) - max(1, self.size.height - 1))

    def on_resize(self) -> None:
        """Fill the new height."""
        self.scroll_by(0)

    def _paint(self) -> None:
        height = self.size.height
        if len(self._all) <= height:
            self.show_lines(self._all)
            return
        shown = self._all[self.top : self.top + height - 1]
        below = len(self._all) - self.top - len(shown)
        words = f"{below} more rows, Down or Tab" if below else "end, Up"
        self.show_lines([*shown, between((), line((words, "dim"), " "), self.size.width)])


class Reader(Pages, can_focus=True):
    """A text to read that has the keys."""

    def take(self, key: events.Key) -> bool:
        """Scroll; anything else is the screen's."""
        far = len(self.everything)
        steps = {
            "up": -1,
            "down": 1,
            "pageup": -self.page,
            "pagedown": self.page,
            "home": -far,
            "end": far,
        }
        if key.key not in steps:
            return False
        self.scroll_by(steps[key.key])
        return True
