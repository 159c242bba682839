"""The working screen: every command on the item in front and on the job.

Invariant: a command that can do nothing here is not offered, and its key says why.
"""

from __future__ import annotations

from wizard.errors import WizardError
from wizard.event import Act
from wizard.finding import Severity
from wizard.keys import Command
from wizard.tui.answering import AnsweringScreen
from wizard.tui.instruments import NEW, NONE
from wizard.tui.list_pane import ListPane
from wizard.tui.lists import Lists
from wizard.tui.visiting import Visiting


class WorkScreen(AnsweringScreen):
    """One job, one person."""

    def on_mount(self) -> None:
        """Fill the list pane from here on."""
        self.lists = Lists(self.desk, self.query_one(ListPane))

    def usable(self, command: Command) -> bool:
        """Whether the command can do something on this item now."""
        if not super().usable(command):
            return False
        desk = self.desk
        item = desk.item
        own = not desk.read_only
        able = own and not desk.refusal
        return {
            "waive": able and item.severity is not Severity.SAFETY,
            "note": own,
            "instrument": own and bool(item.instrument),
            "watch": able and desk.timed,
            "undo": own and desk.last_answer() is not None,
            "copy": desk.key in desk.job.answers,
            "visit": own and (bool(desk.job.visits) or desk.job.state == "finished"),
            "search": self.lists.kind == "items",
            "all": self.lists.kind == "items",
            "open": self.lists.kind == "items",
            "held": self.lists.kind == "items",
            "advisory": self.lists.kind == "items",
        }.get(command.name, True)

    def why_not(self, command: Command) -> str:
        """Why a command can do nothing on this item."""
        desk = self.desk
        if desk.read_only:
            return ""
        safety = desk.item.severity is Severity.SAFETY
        never = "A safety item is never marked not applicable: answer it, or leave it open."
        return {
            "waive": never if safety else desk.refusal,
            "instrument": "This item is not read from an instrument.",
            "watch": desk.refusal or "This item is not timed.",
            "undo": "There is no answer to take back.",
        }.get(command.name, "")

    def do_waive(self) -> None:
        """Ask for the reason."""
        self.talk(self.dialogues.waive())

    def do_note(self) -> None:
        """Ask for the note."""
        self.talk(self.dialogues.note())

    def do_undo(self) -> None:
        """Ask for the reason, with one filled in, where the answer may be taken back at all."""
        last = self.desk.last_answer()
        if last and (why_not := self.desk.job.refusal(last.key, Act.WITHDRAWN)):
            self.status.say(why_not, "error")
            return
        self.talk(self.dialogues.undo())

    def do_instrument(self) -> None:
        """Show the instruments."""
        self.lists.instruments()
        self.turn_to("list")

    def do_watch(self) -> None:
        """Start or stop the stopwatch."""
        try:
            text = self.desk.toggle_watch()
        except WizardError as problem:
            self.show_problem(problem)
            return
        self.unsent[self.desk.key] = text
        self.show_item()

    def do_next(self) -> None:
        """Go on where there is something to do."""
        if not self.desk.go_next():
            self.do_finish()
            return
        self.show_item()

    def do_before(self) -> None:
        """The item before."""
        self._step(-1, "This is the first item.")

    def do_list(self) -> None:
        """All items."""
        self.lists.items()
        self.turn_to("list")

    def do_left(self) -> None:
        """Open and failed items."""
        self.lists.items("left")
        self.turn_to("list")

    def do_all(self) -> None:
        """The list without a filter."""
        self.lists.items("all")

    def do_open(self) -> None:
        """The list of open items."""
        self.lists.items("open")

    def do_held(self) -> None:
        """The list of items that hold or fail."""
        self.lists.items("held")

    def do_advisory(self) -> None:
        """The list of items with an advisory."""
        self.lists.items("advisory")

    def do_search(self) -> None:
        """Ask for a word."""
        self.run_worker(self._search(), group="talk", exclusive=True)

    async def _search(self) -> None:
        word = await self.status.ask("Search", self.lists.word)
        if word is not None:
            self.lists.items(self.lists.chosen, word.strip())

    def do_more(self) -> None:
        """All commands."""
        able = [c for c in self.commands if self.usable(c)]
        self.lists.commands([c for c in able if c.name != "more"])
        self.turn_to("list")
        kept = [key for c in self.commands if self.usable(c) for key in c.keys]
        self.lists.pane.narrow_by_typing(kept)

    def do_back(self) -> None:
        """Back to the work."""
        self.turn_to("work")

    def picked(self, pick: str) -> None:
        """Do what the list is for."""
        kind = self.lists.kind
        if kind == "visit":
            self.run_worker(self._visit(pick), group="talk", exclusive=True)
            return
        self.turn_to("work")
        if kind == "items":
            self.desk.go(pick)
            self.show_item()
        elif kind == "commands":
            self.run_command(pick)
        elif pick == NEW:
            self.talk(self.dialogues.new_instrument())
        else:
            self.desk.choose_instrument("" if pick == NONE else pick[1:])
            self.paint()

    def do_visit(self) -> None:
        """The recheck or service after the handover."""
        self.lists.visit()
        self.turn_to("list")

    async def _visit(self, pick: str) -> None:
        try:
            said = await Visiting(self.desk, self.status.ask).pick(pick)
        except WizardError as problem:
            self.status.say(str(problem), "error")
            said = ""
        self.lists.visit(pick)
        self.paint()
        self.turn_to("list")
        if said:
            self.status.say(said, "strong")

    def do_copy(self) -> None:
        """Put the answer on the clipboard of the terminal."""
        self.app.copy_to_clipboard(self.desk.job.answers[self.desk.key].raw)
        self.status.say("Copied, where the terminal allows it.", "dim")
