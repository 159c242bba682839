"""A technician on a terminal that shows plain lines: reads the question, types the answer."""

from __future__ import annotations

import re
import time

from tests.demo.maker import Scenario, text_for
from tests.tui.terminal import Terminal
from wizard.procedure.item import Item, Procedure

PATIENCE = 30.0
MOST_ROWS = 6
_PHASE = re.compile(r"^Phase (\d+) of \d+, ", re.MULTILINE)
_PROMPTS = ("> ", "(y/n) ", "corrected? ")


class Conversation:
    """Answers line by line; `answered` are the items taken, in order."""

    def __init__(self, terminal: Terminal, procedure: Procedure, given: Scenario) -> None:
        self.terminal, self.procedure, self.given = terminal, procedure, given
        self.answered: list[str] = []
        self._read = 0
        self.told = ""

    def listen(self) -> None:
        """Read up to the next prompt, or to the end of the program."""
        end = time.monotonic() + PATIENCE
        while True:
            text = self.terminal.raw[self._read :].decode("utf-8", "replace")
            self.told = text.replace("\r", "")
            if self.told.endswith(_PROMPTS) or "items open." in self.told:
                return
            if time.monotonic() > end:
                raise AssertionError(f"no prompt in {PATIENCE:g} s:\n{self.told[-2000:]}")
            self.terminal.read(0.05)

    def say(self, text: str) -> None:
        """Type a line, and read what is said to it."""
        self._read = len(self.terminal.raw)
        self.terminal.send(f"{text}\n")
        self.listen()

    def item(self) -> Item:
        """The item asked last."""
        *_, found = _PHASE.finditer(self.told)
        block = self.told[found.start() :]
        lines = [row.strip() for row in block.splitlines()]
        # What is too long for a row goes on in the next ones.
        rows = {" ".join(lines[i : i + n]) for i in range(len(lines)) for n in range(1, MOST_ROWS)}
        fitting = [
            i
            for i in self.procedure.items.values()
            if i.phase == int(found[1]) and self._rows(i) <= rows
        ]
        assert len(fitting) == 1, (fitting, block)
        return fitting[0]

    def _rows(self, item: Item) -> set[str]:
        unit = f" [{item.unit_in(self.given.units)}]" if item.measured else ""
        labels = f" ({', '.join(item.labels)})" if item.labels else ""
        options = (f"{n} {o}" if item.numbered else o for n, o in enumerate(item.options, 1))
        return {f"{item.ask}{labels}{unit}", *options}

    def answer(self) -> str:
        """Answer the item asked; its key."""
        item = self.item()
        self.say(text_for(item, self.given))
        while self.told.endswith("(y/n) "):
            self.say("y")
        self.answered.append(item.key)
        return item.key
