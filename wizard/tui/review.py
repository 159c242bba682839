"""The screen of a folder under review: rows fill in while it is looked at, keys work throughout.

Invariant: what is looked at and what is shown belong to the review in hand; this paints it.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.worker import get_current_worker

from wizard.commands.reviewing import Reviewing
from wizard.errors import WizardError
from wizard.keys import Command
from wizard.text import show
from wizard.tui.base import BaseScreen
from wizard.tui.doors import Door, GoIn
from wizard.tui.list_pane import ListPane
from wizard.tui.pages import Reader
from wizard.tui.sheet import Sheet
from wizard.tui.spans import Lines, line, wrapped
from wizard.tui.views.review import (
    LEGEND,
    about,
    compared,
    keys_page,
    list_rows,
    masthead,
    nothing,
    problem_page,
    training_page,
)

PAINT_EVERY = 0.5
"""Seconds between two paints while rows come, so that a slow link carries them."""


class FolderScreen(BaseScreen):
    """One row a file."""

    PLACES: ClassVar[tuple[str, ...]] = ("review", "read")

    def __init__(
        self,
        commands: Iterable[Command],
        reviewing: Reviewing,
        job: Callable[[str], Door],
        home: Door | None = None,
        first: Sequence[str] = (),
    ) -> None:
        super().__init__(commands)
        self.reviewing, self.job, self.home = reviewing, job, home
        self._first = first

    def parts(self) -> ComposeResult:
        """The masthead, the rows, a page to read."""
        yield Sheet("masthead")
        yield ListPane("rows", pick=self.picked)
        more = Sheet("more")
        more.styles.height = 0
        yield more
        yield Reader("page")

    def on_mount(self) -> None:
        """Give the list the keys and begin to look; where a page comes first, after it."""
        self.set_focus(self.pane, scroll_visible=False)
        if self._first:
            self._training(self._first)
        elif not self.reviewing.done:
            self._begin()
        else:
            self._say_missing()

    def _begin(self) -> None:
        self.run_worker(self._look, thread=True, group="look", exclusive=True)

    def _look(self) -> None:
        """Run the review in a thread, and paint now and then."""
        worker, painted = get_current_worker(), 0.0
        try:
            for _ in self.reviewing.run():
                if worker.is_cancelled:
                    return
                if time.monotonic() - painted > PAINT_EVERY:
                    painted = time.monotonic()
                    self.app.call_from_thread(self.paint)
        except WizardError as problem:
            self.app.call_from_thread(self.status.last, str(problem))
            self.app.call_from_thread(self.paint)
        else:
            self.app.call_from_thread(self._finished)

    def _finished(self) -> None:
        self._say_missing()
        self.paint()

    def _say_missing(self) -> None:
        """Say what is gone, or could not be kept, where there is nothing to say of a row."""
        gone = self.reviewing.missing
        said = [f"{name} is gone since you looked last." for name in gone]
        said += self.reviewing.review.problems
        more = f"  {len(said) - 1} more." if len(said) > 1 else ""
        self.status.last(f"{said[0]}{more}" if said else "")

    @property
    def pane(self) -> ListPane:
        """The list."""
        return self.query_one(ListPane)

    @property
    def place(self) -> str:
        """The rows, or a page to read."""
        return "read" if self.has_class("-told") else "review"

    def paint(self) -> None:
        """Show the rows as they are now, with the marked one where it was."""
        if not self.is_mounted or not self.pane.size.width:
            return
        reviewing, width = self.reviewing, self.size.width
        rows = reviewing.shown()
        told = reviewing.show(reviewing.only)
        if reviewing.word:
            told += f" with “{reviewing.word}”"
        told += f", by {'attention' if reviewing.by == 'attention' else reviewing.by}"
        total, every = len(reviewing.review.entries), list(reviewing.rows.values())
        progress = "" if reviewing.done else f"verified {reviewing.verified} of {total}"
        self.query_one("#masthead", Sheet).show_lines(
            masthead(
                show(reviewing.path),
                every,
                len(reviewing.missing),
                reviewing.beside_rows,
                len(rows),
                told,
                progress,
                width,
            )
        )
        listed = list_rows(rows, width, reviewing.against)
        self.pane.put(line((LEGEND, "dim")), listed, reviewing.picked)
        self._tell()
        super().paint()

    def usable(self, command: Command) -> bool:
        """Back from the rows takes a filter off, or leads home."""
        able = {
            "back": self.place == "read" or self._filtered or self.home is not None,
            "beside": bool(self.pane.picked),
            "forget": bool(self.reviewing.missing),
        }
        return able.get(command.name, True) and super().usable(command)

    @property
    def _filtered(self) -> bool:
        """Whether rows may be left out."""
        return self.reviewing.only != "all" or bool(self.reviewing.word)

    def receive(self, event: events.Key | events.Paste) -> None:
        """Use a key, then say what there is to say of the marked row."""
        before = self.pane.picked
        super().receive(event)
        if self.place == "review" and not self.status.asking:
            if self.pane.picked not in (before, ""):
                self.reviewing.picked = self.pane.picked
            self._tell()

    def _tell(self) -> None:
        """Say what there is to say of the marked row, or why there is none."""
        if self.status.asking:
            return
        reviewing = self.reviewing
        row = reviewing.rows.get(self.pane.picked)
        if row is not None:
            self._say(*about(row, reviewing.against))
        else:
            key = next((c.key_text for c in self.commands if c.name == "all"), "")
            self._say(*nothing(self._filtered, reviewing.done, key))

    def _say(self, text: str, role: str) -> None:
        """Say a sentence in the status row, its beginning in rows above that the list leaves
        free; where it leaves too few, it is cut.
        """
        more, every = self.query_one("#more", Sheet), wrapped(text, self.size.width - 2, role)
        free = self.pane.size.height + more.size.height - 1 - len(self.pane.rows)
        above = every[:-1] if len(every) <= free and self.place == "review" else []
        more.styles.height = len(above)
        more.show_lines([line(" ", *row) for row in above])
        self.status.say("".join(span.text for span in every[-1]) if above else text, role)

    # -- commands -------------------------------------------------------------------

    def picked(self, pick: str) -> None:
        """Go into a job or read a training record; of anything else, what is wrong with it."""
        row = self.reviewing.rows[pick]
        self.reviewing.picked = pick
        if not row.is_job and not row.is_training and row.verified:
            self.status.say()
            advice = self.reviewing.advice(pick)
            self._read(problem_page(row, advice, max(20, self.size.width - 4)))
            return
        self.status.say("Opening.", "dim")
        if row.is_training:
            self.run_worker(partial(self._open_training, pick), thread=True, group="read")
        else:
            self.post_message(GoIn(self.job(pick)))

    def _open_training(self, file: str) -> None:
        """Read a training record in a thread, and show it."""
        try:
            told = self.reviewing.training(file)
        except WizardError as problem:
            self.app.call_from_thread(self.status.last, str(problem))
        else:
            self.app.call_from_thread(self._training, told)

    def _training(self, told: Sequence[str]) -> None:
        self.status.say()
        self._read(training_page(told, max(20, self.size.width - 4)))

    def _show(self, only: str) -> None:
        self.reviewing.show(only)
        self.paint()

    def do_all(self) -> None:
        """Every row."""
        self.reviewing.word = ""
        self._show("all")

    def do_held(self) -> None:
        """What is held."""
        self._show("held")

    def do_doubtful(self) -> None:
        """What is doubtful."""
        self._show("doubts")

    def do_damaged(self) -> None:
        """What cannot be relied on."""
        self._show("damaged")

    def do_waiting(self) -> None:
        """What waits for the lead."""
        self._show("finished")

    def do_sort(self) -> None:
        """The next order."""
        self.reviewing.next_order()
        self.paint()

    def do_search(self) -> None:
        """Ask for a word."""
        self.run_worker(self._search(), group="talk", exclusive=True)

    async def _search(self) -> None:
        word = await self.status.ask("Search", self.reviewing.word)
        if word is not None:
            self.reviewing.word = word.strip()
            self.paint()

    def do_forget(self) -> None:
        """Ask of each missing file whether it was taken away on purpose."""
        self.run_worker(self._forget(), group="talk", exclusive=True)

    async def _forget(self) -> None:
        if not (given_up := await self._given_up()):
            return
        try:
            self.reviewing.forget(given_up)
        except WizardError as problem:
            self.status.last(str(problem))
            return
        self._say_missing()
        self.paint()

    async def _given_up(self) -> list[str]:
        """The missing files of which somebody says that they were taken away on purpose."""
        gone, given_up = self.reviewing.missing, list[str]()
        for at, file in enumerate(gone):
            several = len(gone) > 1
            of, ways = (f" ({at + 1} of {len(gone)})", "y, n or all") if several else ("", "y or n")
            said = await self.status.ask(f"{file[:24]} is gone{of}. Forget it? {ways}")
            if said is None:
                break
            word = said.strip().casefold()
            if several and word == "all":
                return [*given_up, *gone[at:]]
            if word in ("y", "yes"):
                given_up.append(file)
        return given_up

    def do_afresh(self) -> None:
        """Look at the folder again."""
        self.reviewing.afresh()
        self.status.last("")
        self._begin()

    def do_beside(self) -> None:
        """The marked job beside the others."""
        row = self.reviewing.rows[self.pane.picked]
        width = max(20, self.size.width - 4)
        self._read(compared(list(self.reviewing.rows.values()), row, self.reviewing.against, width))

    def do_keys(self) -> None:
        """What the marks mean, and every command of the list."""
        able = [c for c in self.commands if self.usable(c)]
        self._read(keys_page(able, max(20, self.size.width - 4)))

    def _read(self, lines: Lines) -> None:
        page = self.query_one(Reader)
        self.add_class("-told")
        self.query_one("#more", Sheet).styles.height = 0
        page.put(lines)
        self.set_focus(page, scroll_visible=False)
        self.show_keys()

    def do_back(self) -> None:
        """Back to the rows; from there the filter off, or home."""
        if self.place == "read":
            self.remove_class("-told")
            self.set_focus(self.pane, scroll_visible=False)
            self.paint()
            if self._first:
                self._first = ()
                self._begin()
        elif self._filtered:
            self.do_all()
        elif self.home is not None:
            self.post_message(GoIn(self.home))
