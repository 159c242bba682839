"""The lists of the working screen: items, commands, instruments.

Invariant: each list says what it holds in its title, and picking from it does one thing.
"""

from __future__ import annotations

from collections.abc import Iterable

from wizard.keys import Command
from wizard.tui.desk import Desk
from wizard.tui.instruments import instrument_rows
from wizard.tui.list_pane import ListPane, Row
from wizard.tui.spans import line
from wizard.tui.views.marks import LEGEND
from wizard.tui.views.overview import TITLES, rows
from wizard.tui.views.visit import visit_rows, visit_title


class Lists:
    """Fills the one list pane; `kind` says what it holds now."""

    def __init__(self, desk: Desk, pane: ListPane) -> None:
        self.desk, self.pane = desk, pane
        self.kind = "items"
        self.chosen, self.word = "all", ""

    def items(self, chosen: str = "all", word: str = "") -> None:
        """All items, or those of a filter, that contain a word."""
        self.kind, self.chosen, self.word = "items", chosen, word
        found = rows(self.desk.job, chosen, word)
        about = f" with “{word}”" if word else ""
        title = line(f" {TITLES[chosen]}{about}", (f"   {LEGEND}", "dim"))
        self.pane.put(title, found, self.desk.key)

    def commands(self, commands: Iterable[Command]) -> None:
        """The commands that work now."""
        self.kind = "commands"
        self.pane.put(
            line(" Commands", ("   type to find one, Enter does the one that is marked", "dim")),
            [
                Row(
                    c.name,
                    line(f"   {c.label:<14}", (c.about, "dim")),
                    line((c.key_text, "key"), " "),
                )
                for c in commands
            ],
        )

    def instruments(self) -> None:
        """The instruments of the job, to take one for this reading."""
        self.kind = "instruments"
        about = self.desk.item.instrument or "instrument"
        current = self.desk.instrument
        self.pane.put(
            line(f" Which {about} this is read from", (f"   now {current or 'none'}", "dim")),
            instrument_rows(self.desk.job, self.desk.item),
            f"={current}",
        )

    def visit(self, pick: str = "") -> None:
        """The open visit, or the kinds that can begin, and what is due."""
        self.kind = "visit"
        job, today = self.desk.job, self.desk.clock.now().date()
        self.pane.put(visit_title(job), visit_rows(job, today), pick)
