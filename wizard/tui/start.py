"""The start screen: resume a job, start one, open one, practise, review.

Invariant: it opens nothing itself; it asks the doors it was given, and says what they say.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.app import ComposeResult

from wizard.keys import Command
from wizard.tui.base import BaseScreen
from wizard.tui.doors import Door, Doors, GoIn, Opening, Recent
from wizard.tui.list_pane import ListPane, Row
from wizard.tui.sheet import Sheet
from wizard.tui.spans import Lines, between, line

NAME = "Compressor commissioning"
ABOUT = "From the skid to the handover, one item at a time."
UNITS = {"u": "us", "m": "metric"}


class StartScreen(BaseScreen):
    """Jobs on top, what else there is below them."""

    PLACES: ClassVar[tuple[str, ...]] = ("start",)

    def __init__(self, commands: Iterable[Command], doors: Doors, recent: Sequence[Recent]) -> None:
        super().__init__(commands)
        self.doors, self.recent = doors, tuple(recent)

    def parts(self) -> ComposeResult:
        """The masthead and the list."""
        yield Sheet("masthead")
        yield ListPane("jobs", pick=self.picked)

    def on_mount(self) -> None:
        """Give the list the keys."""
        pane = self.query_one(ListPane)
        pane.put(line(" Jobs", ("   Enter opens the one that is marked", "dim")), self._rows())
        self.set_focus(pane, scroll_visible=False)

    def _rows(self) -> list[Row]:
        rows = [
            Row(f"={job.path}", line("   ", (job.title, "strong")), line((job.about, "dim"), " "))
            for job in self.recent
        ]
        if rows:
            rows.append(Row("", (), ()))
        rows += [
            Row(c.name, line(f"   {c.label:<14}", (c.about, "dim")), line((c.key_text, "key"), " "))
            for c in self.commands
            if c.name in ("new", "path", "practise", "review") and self.usable(c)
        ]
        return rows

    def paint(self) -> None:
        """Show name and purpose."""
        width = self.size.width
        lines: Lines = [
            between(line(" ", (NAME, "strong")), line((self.doors.who, "dim"), " "), width),
            line(f" {ABOUT}"),
            line(("─" * width, "rule")),
        ]
        self.query_one("#masthead", Sheet).show_lines(lines)
        super().paint()

    def usable(self, command: Command) -> bool:
        """Doors that were not given are not offered."""
        given = getattr(self.doors, command.name, True) is not None
        return given and super().usable(command)

    def picked(self, pick: str) -> None:
        """Open the job, or do what the row says."""
        if pick.startswith("="):
            path = pick[1:]
            self._enter(lambda: self.doors.open(path))
        else:
            self.run_command(pick)

    def _enter(self, way: Opening | Door) -> None:
        self.status.last("")
        self.status.say("Opening.", "dim")
        self.post_message(GoIn(way))

    def do_practise(self) -> None:
        """The simulated machine."""
        if self.doors.practise is not None:
            self._enter(self.doors.practise)

    def do_review(self) -> None:
        """Many jobs at once."""
        if self.doors.review is not None:
            self._enter(self.doors.review)

    def do_path(self) -> None:
        """Ask for a path."""
        self.run_worker(self._path(), group="talk", exclusive=True)

    async def _path(self) -> None:
        path = await self.status.ask("Job file", "")
        if path and path.strip():
            self._enter(lambda: self.doors.open(path.strip()))

    def do_new(self) -> None:
        """Ask for what a record needs."""
        self.run_worker(self._new(), group="talk", exclusive=True)

    async def _new(self) -> None:
        name = await self.status.ask("Job number, as J1042", "")
        if not name or not name.strip():
            return
        units = await self.status.ask("Units: us or metric", self.doors.units)
        if units is None:
            return
        chosen = UNITS.get(units.strip().casefold()[:1])
        if chosen is None:
            self.status.last(
                f"Units: given {units.strip()[:20] or 'nothing'}, accepted us or metric."
            )
            return
        machine = await self.status.ask("Machine file for the plates; empty for none", "")
        if machine is not None:
            self._enter(lambda: self.doors.create(name.strip(), chosen, machine.strip()))
