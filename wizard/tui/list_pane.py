"""A list to pick from, by arrows, pages, search and Enter.

Invariant: the chosen row is always visible, and rows without a pick are stepped over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from textual import events

from wizard.tui.sheet import Sheet
from wizard.tui.spans import Line, Lines, Span, between, line, width_of


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a list: what picking it gives, and its two ends."""

    pick: str
    left: Line
    right: Line

    @property
    def text(self) -> str:
        """What the row says, as far as it is looked for."""
        return "".join(span.text for span in self.left)

    def line(self, width: int) -> Line:
        """The row on a screen of this width."""
        return between(self.left, self.right, width)


class ListPane(Sheet, can_focus=True):
    """Rows under a title; the screen decides what picking one means."""

    def __init__(self, id: str | None = None, *, pick: Callable[[str], None]) -> None:
        super().__init__(id=id)
        self._pick = pick
        self.rows: list[Row] = []
        self.at = 0
        self._title: Line = ()
        self._top = 0
        self._every: list[Row] = []
        self._kept: frozenset[str] | None = None
        self._word = ""

    def put(self, title: Line, rows: Sequence[Row], pick: str = "") -> None:
        """Other rows, with the one that gives `pick` chosen, or the first."""
        self._every, self._kept, self._word = list(rows), None, ""
        self.rows, self._title = self._every, title
        able = [n for n, row in enumerate(self.rows) if row.pick]
        wanted = [n for n in able if self.rows[n].pick == pick]
        self.at = (wanted or able or [0])[0]
        self._top = 0
        self.repaint()

    def narrow_by_typing(self, kept: Iterable[str]) -> None:
        """Let typed characters leave the rows that contain them, but for keys that are `kept`."""
        self._kept = frozenset(kept)

    def _narrow(self, key: events.Key) -> bool:
        """Take a typed character into the word that is looked for, or the last one out of it."""
        if self._kept is None or key.key in self._kept:
            return False
        if key.key == "backspace":
            self._word = self._word[:-1]
        elif key.character and key.is_printable:
            self._word += key.character.casefold()
        else:
            return False
        self.rows = [row for row in self._every if self._word in row.text.casefold()]
        self.at = next((n for n, row in enumerate(self.rows) if row.pick), 0)
        self._top = 0
        self.repaint()
        return True

    @property
    def picked(self) -> str:
        """What the chosen row gives."""
        return self.rows[self.at].pick if self.rows else ""

    @property
    def page(self) -> int:
        """Rows on a page."""
        return max(1, self.size.height - 2)

    def move(self, by: int) -> None:
        """Choose another row, nearest to so many further."""
        able = [n for n, row in enumerate(self.rows) if row.pick]
        if not able:
            return
        here = able.index(self.at) if self.at in able else 0
        if abs(by) == 1:
            self.at = able[max(0, min(len(able) - 1, here + by))]
        else:
            target = max(0, min(len(self.rows) - 1, self.at + by))
            self.at = min(able, key=lambda n: abs(n - target))
        self.repaint()

    def take(self, key: events.Key) -> bool:
        """Move or pick; anything else is the screen's."""
        far = len(self.rows)
        steps = {
            "up": -1,
            "down": 1,
            "pageup": -self.page,
            "pagedown": self.page,
            "home": -far - 1,
            "end": far + 1,
        }
        if key.key in steps:
            self.move(steps[key.key])
        elif key.key == "enter" and self.picked:
            self._pick(self.picked)
        else:
            return self._narrow(key)
        return True

    def on_click(self, event: events.Click) -> None:
        """Choose the row, or pick it where it is chosen already."""
        row = self._top + event.y - 1
        if 0 <= row < len(self.rows) and self.rows[row].pick:
            again = row == self.at
            self.at = row
            self.repaint()
            if again:
                self._pick(self.picked)

    def on_resize(self) -> None:
        """Keep the chosen row in view."""
        self.repaint()

    def repaint(self) -> None:
        """Show the rows around the chosen one; the window moves by half a page."""
        height, width = self.size.height - 1, self.size.width
        if height < 1:
            return
        if not self._top <= self.at < self._top + height:
            self._top = max(0, self.at - height // 2)
        if self.at <= 1:
            self._top = 0
        title = self._title
        if self._word:
            title = line(title[0].text if title else "", (f" with “{self._word}”", "strong"))
        lines: Lines = [between(title, self._place(), width)]
        for number in range(self._top, min(self._top + height, len(self.rows))):
            spans = self.rows[number].line(width)
            lines.append(_chosen(spans, width) if number == self.at else spans)
        if not self.rows:
            lines.append(line((" Nothing here.", "dim")))
        self.show_lines(lines)

    def _place(self) -> Line:
        able = [n for n, row in enumerate(self.rows) if row.pick]
        here = able.index(self.at) + 1 if self.at in able else 0
        return line((f"{here} of {len(able)} ", "dim"))


def _chosen(spans: Line, width: int) -> Line:
    """The row as chosen: a mark at its left, and the look's colour for it."""
    text = "".join(s.text for s in spans)
    return (Span(f"►{text[1:]}" + " " * (width - width_of(spans)), "select"),)
