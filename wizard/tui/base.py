"""The base of all screens: commands by name, a status row, a key bar.

Textual repaints a whole screen whenever the focus moves, because `Screen.focused` is a repainting
reactive; here it is declared again without. Invariant: what is on the screen is the same, quit is
always there, and a terminal that is too small says so in one sentence.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.message import Message
from textual.reactive import Reactive
from textual.screen import Screen
from textual.widget import Widget

from wizard.keys import Command
from wizard.tui.entry import Entry
from wizard.tui.key_bar import KeyBar
from wizard.tui.sheet import Sheet
from wizard.tui.spans import wrapped
from wizard.tui.status_row import StatusRow

SMALLEST = (60, 20)


class BaseScreen(Screen[None]):
    """A screen whose keys come from the table of commands."""

    PLACES: ClassVar[tuple[str, ...]] = ("start",)
    AUTO_FOCUS = ""
    ALLOW_SELECT = False
    focused: Reactive[Widget | None] = Reactive(None, repaint=False)

    class Wants(Message):
        """A command for the whole application."""

        def __init__(self, name: str) -> None:
            super().__init__()
            self.name = name

    class Ready(Message):
        """There is something to see that a key can be meant for."""

    def __init__(self, commands: Iterable[Command]) -> None:
        super().__init__()
        self.commands = tuple(commands)
        self._wanted: Widget | None = None
        self._due = False

    def compose(self) -> ComposeResult:
        """What the screen itself has, then the two rows that all have."""
        yield from self.parts()
        yield StatusRow("status")
        keys = KeyBar("keys")
        keys.show_commands((c for c in self.commands if c.name == "quit"), self.app.size.width)
        yield keys
        yield Sheet("small")

    def parts(self) -> ComposeResult:
        """What the screen itself has."""
        yield from ()

    @property
    def status(self) -> StatusRow:
        """The row that says and asks."""
        return self.query_one(StatusRow)

    @property
    def place(self) -> str:
        """Which of the screen's places has the keys."""
        return self.PLACES[0]

    def usable(self, command: Command) -> bool:
        """Whether a command can do something here and now; while a question is open only quit."""
        asking = self.is_mounted and self.status.asking
        return self.place in command.places and (not asking or command.name == "quit")

    @property
    def waits(self) -> bool:
        """Whether there is nothing to see yet that a key could be meant for."""
        return self._is_small

    def takes(self, event: events.Key | events.Paste) -> bool:
        """Whether a key can be used now; while nothing is to be seen yet only what quits."""
        return self.is_mounted and (self._quits(event) or self._is_small or not self.waits)

    @property
    def _is_small(self) -> bool:
        return self.has_class("-small")

    def _quits(self, event: events.Key | events.Paste) -> bool:
        return isinstance(event, events.Key) and any(
            c.name == "quit" and event.key in c.keys for c in self.commands
        )

    def set_focus(
        self, widget: Widget | None, scroll_visible: bool = True, from_app_focus: bool = False
    ) -> None:
        """Give a part the keys; remember it while the terminal is too small to show it."""
        self._wanted = widget or self._wanted
        super().set_focus(widget, scroll_visible, from_app_focus)

    def receive(self, event: events.Key | events.Paste) -> None:
        """Use a key or pasted text at once: first the part that has the keys, then the screen.

        Keys typed ahead over a slow link come in a burst; each must find the screen as the one
        before has left it, so none is put into a queue behind a widget.
        """
        self._restore_focus()
        target = self.focused
        if self.waits and self._quits(event):
            self.post_message(self.Wants("quit"))
        elif self.waits:
            self._keep_text(event)
        elif isinstance(event, events.Paste):
            if isinstance(target, Entry):
                target.paste(event.text)
        elif not (isinstance(target, Sheet) and target.take(event)) and not self.take(event):
            self.run_key(event.key)

    def _keep_text(self, event: events.Key | events.Paste) -> None:
        """Keep text for the field that has the keys; what is not seen is not answered or left."""
        field = self._wanted
        if not isinstance(field, Entry):
            return
        if isinstance(event, events.Paste):
            field.paste(event.text)
        elif event.is_printable or event.key == "backspace":
            field.take(event)

    def take(self, key: events.Key) -> bool:
        """Use a key that is no command, where the part that has the keys left it."""
        return False

    def run_key(self, key: str) -> None:
        """Do the command of a key, or say why it can do nothing here and now."""
        for command in self.commands:
            if key in command.keys and self.usable(command):
                self.run_command(command.name)
                return
        if self.is_mounted and not self.status.asking:
            for command in self.commands:
                here = key in command.keys and self.place in command.places
                if here and (said := self.why_not(command)):
                    self.status.say(said, "caution")

    def why_not(self, command: Command) -> str:
        """Why a command of this place can do nothing now; empty where that is plain to see."""
        return ""

    def run_command(self, name: str) -> None:
        """Do what a command says."""
        getattr(self, f"do_{name}")()

    def show_keys(self) -> None:
        """Bring the key bar up to date."""
        able = [c for c in self.commands if self.usable(c)]
        self.query_one(KeyBar).show_commands(able, self.size.width)

    def on_resize(self, event: events.Resize) -> None:
        """Lay out for the new size."""
        small = event.size.width < SMALLEST[0] or event.size.height < SMALLEST[1]
        self.set_class(small, "-small")
        if small:
            words = "{} by {} cells are needed; this terminal has {} by {}. {}".format(
                *SMALLEST, *event.size, "Text that is typed is kept; no other key does anything."
            )
            self.query_one("#small", Sheet).show_lines(wrapped(words, event.size.width))

    def on_sheet_resized(self) -> None:
        """Paint once for all the sheets that got another size together."""
        if not self._due:
            self._due = True
            self.call_later(self._paint_due)

    def on_sheet_clicked(self, event: Sheet.Clicked) -> None:
        """Do the command of the key bar that was clicked."""
        if isinstance(event.sheet, KeyBar) and (name := event.sheet.command_at(event.column)):
            self.run_command(name)

    def _paint_due(self) -> None:
        self._due = False
        self.paint()
        if self.waits:
            return
        self._restore_focus()
        self.post_message(self.Ready())

    def _restore_focus(self) -> None:
        """Textual takes the focus from what is not displayed, in a terminal that is too small."""
        if self.focused is None and self._wanted is not None and self._wanted.is_attached:
            self.set_focus(self._wanted, scroll_visible=False)

    def paint(self) -> None:
        """Bring every part up to date."""
        self.show_keys()

    def do_quit(self) -> None:
        """Ask, then leave; a question that is open is left."""
        self.run_worker(self._quit(), group="talk", exclusive=True)

    async def _quit(self) -> None:
        said = await self.status.ask("Quit? Everything accepted is saved. Enter or y quits")
        if said is not None and said.strip().casefold() in ("", "y", "yes"):
            self.post_message(self.Wants("quit"))

    def turned_away(self, problem: str) -> None:
        """Say why the application could not do what the screen asked of it."""
        self.status.last(problem)

    def do_look(self) -> None:
        """The next look."""
        self.post_message(self.Wants("look"))

    def do_repaint(self) -> None:
        """Draw everything again."""
        self.post_message(self.Wants("repaint"))

    def do_picture(self) -> None:
        """Save what is on the screen."""
        self.post_message(self.Wants("picture"))

    def stop_work(self) -> None:
        """Keep what is being typed and give back what is open; the end may be near."""
