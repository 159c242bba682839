"""A technician who reads the picture, looks the answer up in a scenario and presses keys."""

from __future__ import annotations

import re
import time
from collections.abc import Callable

from tests.demo.maker import Scenario, text_for
from tests.tui.terminal import KEYS, Terminal
from wizard.procedure.item import Item, Procedure
from wizard.tui.views.question import answer_words

PATIENCE = 30.0
LEAST = 140
FRAME_END = b"\x1b[?2026l"
_PHASE = re.compile(r" Phase (\d+)/\d+ .* item (\d+)/\d+")
_RAIL = re.compile(r"^[^│]*│ ?")
_GAP = re.compile(r"  +")


class Technician:
    """Answers what the screen asks; `answered` are the items taken, in order."""

    def __init__(self, terminal: Terminal, procedure: Procedure, given: Scenario) -> None:
        self.terminal, self.procedure, self.given = terminal, procedure, given
        self.answered: list[str] = []
        self._seen: tuple[int, list[str]] = (-1, [])

    # -- reading ------------------------------------------------------------------

    def until(self, shown: Callable[[], bool], patience: float = PATIENCE) -> None:
        """Read until the picture is as wanted."""
        end = time.monotonic() + patience
        whole = True
        while not (whole and shown()):
            if time.monotonic() > end:
                raise AssertionError(f"not shown in {patience:g} s:\n{self.terminal.text}")
            # A frame that arrived in part only is not looked at.
            data = self.terminal.read(0.05)
            whole = not data or data.endswith(FRAME_END)

    @property
    def lines(self) -> list[str]:
        """The rows of the picture."""
        count = len(self.terminal.raw)
        if self._seen[0] != count:
            self._seen = (count, self.terminal.lines)
        return self._seen[1]

    def shows(self, words: str) -> bool:
        """Whether the picture has these words on one row."""
        return any(words in row for row in self.lines)

    def lacks(self, words: str) -> bool:
        """Whether no row has these words."""
        return not self.shows(words)

    @property
    def place(self) -> tuple[int, int]:
        """Phase and number of the item in front; zeros while there is none."""
        found = _PHASE.match(self.lines[1])
        return (int(found[1]), int(found[2])) if found else (0, 0)

    @property
    def head(self) -> str:
        """The top row: job and state."""
        return self.lines[0]

    @property
    def asked(self) -> str:
        """The rows of the question, as one text."""
        rows = (_RAIL.sub("", row) for row in self.lines[3:6])
        # The explanation may stand beside the question.
        return " ".join(_GAP.split(row)[0].strip() for row in rows)

    @property
    def field(self) -> str:
        """What is in the field."""
        row = next((r for r in self.lines if "› " in r or r.endswith("›")), "")
        text = row.partition("› ")[2]
        return "" if text[:1] in ("", " ") else _GAP.split(text)[0]

    def item(self) -> Item | None:
        """The item that the screen asks."""
        phase, _ = self.place
        fitting = [
            i
            for i in self.procedure.items.values()
            if i.phase == phase
            and self.asked.startswith(f"{i.ask} {answer_words(i, self.given.units)}"[:LEAST])
        ]
        return max(fitting, key=lambda i: len(i.ask), default=None)

    def look(self) -> Item:
        """The item in front, once it is painted."""
        self.until(lambda: self.item() is not None)
        item = self.item()
        assert item is not None
        return item

    # -- doing --------------------------------------------------------------------

    def keys(self, *keys: str) -> None:
        """Press keys without waiting."""
        self.terminal.send("".join(KEYS.get(key, key) for key in keys))

    def clear(self) -> None:
        """Take what is in the field out of it."""
        self.keys(*["backspace"] * len(self.field))
        self.until(lambda: not self.field)

    def text(self, item: Item) -> str:
        """What is typed for the item; an option by its number."""
        text = text_for(item, self.given)
        if item.kind == "choose" and item.numbered and text in item.options:
            return str(item.options.index(text) + 1)
        return text

    def answer(self) -> str:
        """Answer the item in front; whatever is asked about it is confirmed. The key."""
        item, before, head = self.look(), self.place, self.head
        self.keys(self.text(item), "enter")
        self.until(lambda: (self.place, self.head) != (before, head) or self._doubtful())
        if self._doubtful():
            self.keys("y", "enter")
            self.until(lambda: (self.place, self.head) != (before, head))
        self.answered.append(item.key)
        return item.key

    def _doubtful(self) -> bool:
        return "Take it as typed?" in self.lines[-2]

    def note(self, text: str) -> None:
        """Write a note against the item just answered, and come back."""
        before = self.place
        self.keys("pgup")
        self.until(lambda: self.place != before)
        self.keys("f3")
        self.until(lambda: " Note ›" in self.lines[-2])
        self.keys(text, "enter")
        self.until(lambda: self.shows("Note by"))
        self.keys("f6")
        self.until(lambda: self.place == before)

    def go_to(self, key: str) -> None:
        """Find an item in the list by its name, and put it in front."""
        wanted = self.procedure.items[key]
        self.keys("f8")
        self.until(lambda: self.shows("All items"))
        self.keys("/")
        self.until(lambda: "Search ›" in self.lines[-2])
        self.keys(key, "enter")
        self.until(lambda: self.shows(f"with “{key}”"))
        self.keys("enter")
        self.until(lambda: self.item() is wanted)

    def correct(self, text: str, reason: str) -> None:
        """Answer the item in front anew."""
        self.keys(text, "enter")
        self.until(lambda: "Reason for the change" in self.lines[-2])
        self.keys(reason, "enter")
        self.until(lambda: "Reason for the change" not in self.lines[-2])

    def leave(self) -> int:
        """Quit by the key; the exit status."""
        self.keys("f10")
        self.until(lambda: "Quit?" in self.lines[-2])
        self.keys("enter")
        return self.terminal.wait()
