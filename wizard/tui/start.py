"""The start screen: resume a job, start one, open one, practise, review.

Invariant: it opens nothing itself; it asks the doors it was given, and says what they say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import ClassVar

from textual.app import ComposeResult

from wizard.errors import WizardError
from wizard.keys import Command
from wizard.settings import one_of
from wizard.tui.base import BaseScreen
from wizard.tui.doors import Door, Doors, GoIn, Opening, Recent
from wizard.tui.list_pane import ListPane, Row
from wizard.tui.sheet import Sheet
from wizard.tui.spans import Lines, between, line, wrapped

NAME = "Compressor commissioning"
ABOUT = "From the skid to the handover, one item at a time."
UNITS, PRACTICES = ("us", "metric"), ("US", "IEC")
HELP = (
    "Up and Down mark a job, Enter opens it. n starts a job, o opens a job file by its path, p is "
    "practice on a simulated machine, r looks over many jobs, F10 leaves. A job is one file, saved "
    "at every answer, and goes on where it was left."
)
QUESTIONS = {
    "path": ("Job file", "The path of a job file, as jobs/J1042.toml, from the folder you are in."),
    "name": (
        "Job number, as J1042",
        "The number of the job; its file in this folder gets the same name. It begins with a "
        "capital letter or a figure and has no spaces.",
    ),
    "units": (
        "Units: us or metric",
        "us asks in psi, inches and °F, metric in bar, millimetres and °C. Any unit can be typed "
        "behind a number in either.",
    ),
    "practice": (
        "Electrical practice: US or IEC",
        "The wiring rules of the place of installation: US is the National Electrical Code with "
        "AWG sizes, IEC the rules of Europe and most other places. It stays with the job.",
    ),
    "machine": (
        "Machine file for the plates; empty for none",
        "The path of a machine file, or of an earlier job of the same machine, that answers the "
        "plates of phase 1. Leave it empty to read them at the machine.",
    ),
}
"""What is asked here: the question, and what F1 says of it."""


class StartScreen(BaseScreen):
    """Jobs on top, what else there is below them."""

    PLACES: ClassVar[tuple[str, ...]] = ("start",)

    def __init__(self, commands: Iterable[Command], doors: Doors, recent: Sequence[Recent]) -> None:
        super().__init__(commands)
        self.doors, self.recent = doors, tuple(recent)
        self.said: dict[str, str] = {}
        self._asked = self._told = ""

    def parts(self) -> ComposeResult:
        """The masthead, the list, and below it what there is to say at length."""
        yield Sheet("masthead")
        yield ListPane("jobs", pick=self.picked)
        yield Sheet("told")

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
        self._tell(self._told)
        super().paint()

    def usable(self, command: Command) -> bool:
        """Doors that were not given are not offered; help goes on while something is asked."""
        if command.name == "here" and self._asked:
            return True
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
        self._tell("")
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
        path = await self._ask("path")
        if path:
            self._enter(lambda: self.doors.open(path))

    def do_new(self) -> None:
        """Ask for what a record needs."""
        self.run_worker(self._new(), group="talk", exclusive=True)

    async def _new(self) -> None:
        said = self.said
        said.setdefault("units", self.doors.units)
        name = await self._ask("name", self._vetted)
        units = name and await self._ask("units", lambda text: one_of("Units", text, UNITS))
        if not units:
            return
        said["practice"] = self.doors.practice(units)
        practice = await self._ask("practice", lambda text: one_of("Practice", text, PRACTICES))
        if practice and (machine := await self._ask("machine")) is not None:
            self._enter(lambda: self.doors.create(str(name), units, practice, machine))

    def _vetted(self, text: str) -> str:
        if text:
            self.doors.vet(text)
        return text

    async def _ask(self, what: str, understood: Callable[[str], str] = str) -> str | None:
        """The answer to one question, asked again with what was typed until it is understood.

        What was typed is kept, and proposed where the same is asked again.
        """
        label, _ = QUESTIONS[what]
        self._tell("")
        self._asked, text = what, self.said.get(what, "")
        try:
            while (typed := await self.status.ask(label, text)) is not None:
                self.said[what] = text = typed.strip()
                try:
                    return understood(text)
                except WizardError as problem:
                    self._tell(str(problem), "error")
            self._tell("")
            return None
        finally:
            self._asked = ""

    def turned_away(self, problem: str) -> None:
        """Say it in full; what was typed is proposed again."""
        self.status.say()
        self._tell(problem, "error")

    def _tell(self, text: str, role: str = "text") -> None:
        """Say something in as many rows as it takes."""
        self._told = text
        rows = wrapped(text, self.size.width - 2, role, " ", " ") if text else []
        sheet = self.query_one("#told", Sheet)
        sheet.styles.height = len(rows)
        sheet.show_lines(rows)

    def do_here(self) -> None:
        """Say what can be done, or what the open question is after; a second time takes it back."""
        text = QUESTIONS[self._asked][1] if self._asked else HELP
        self._tell("" if self._told == text else text)
