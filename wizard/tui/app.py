"""The terminal application: shows a frame at once, loads the rest behind it.

Invariant: until the first paint nothing but Textual and light modules of this package is loaded;
SIGHUP and SIGTERM keep the draft, give the record back and end the program in order.
"""

from __future__ import annotations

import asyncio
import locale
import os
import signal
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rich.console import RenderableType
from textual import events
from textual._compositor import CompositorUpdate
from textual.app import App
from textual.geometry import Size
from textual.screen import Screen

from wizard.errors import WizardError
from wizard.keys import table
from wizard.text import show, wants_ascii
from wizard.tui.base import BaseScreen
from wizard.tui.doors import Door, Doors, GoIn, Opening
from wizard.tui.driver import SteadyDriver
from wizard.tui.look import LOOKS, look_for
from wizard.tui.opening import OpeningScreen
from wizard.tui.painter import Painter
from wizard.tui.spans import Letters

if TYPE_CHECKING:
    from wizard.tui.parts import Parts

TURNS = 20
"""Turns of the event loop in which a key has done what it does; a question needs three."""


class WizardApp(App[None]):
    """One terminal, one person."""

    CSS_PATH = Path(__file__).with_name("wizard.tcss")
    ENABLE_COMMAND_PALETTE = False

    def __init__(
        self,
        who: str,
        *,
        opening: Opening | Door | None = None,
        doors: Doors | None = None,
        look: str = "default",
        ascii_only: bool = False,
        keys: Mapping[str, tuple[str, ...]] | None = None,
        parts: Parts | None = None,
        words: str = "",
        remark: str = "",
    ) -> None:
        self.look = look_for(look, "NO_COLOR" in os.environ)
        super().__init__(driver_class=SteadyDriver, ansi_color=self.look.own)
        self.who, self.opening, self.doors, self.words = who, opening, doors, words
        self.remark = remark
        self.commands = table(keys)
        Letters.ascii_only = ascii_only
        self.painter = Painter(
            ascii_only, erase=not os.environ.get("TERM", "").startswith("screen")
        )
        self.problem: WizardError | None = None
        self._painted = Size(0, 0)
        self._early: list[events.Key | events.Paste] = []
        self._parts = parts
        for known in LOOKS.values():
            self.register_theme(known.theme)
        # Quietly and before the stylesheet is parsed, which would else be done twice.
        self.set_reactive(App.theme, self.look.name)
        self.stylesheet.set_variables(self.get_css_variables())

    def get_default_screen(self) -> Screen[None]:
        """The frame."""
        return OpeningScreen(self.commands, self.words)

    def on_mount(self) -> None:
        """Listen for the signals of a lost terminal; load the work behind the first frame."""
        if not self.is_headless:
            loop = asyncio.get_running_loop()
            for number in (signal.SIGHUP, signal.SIGTERM):
                loop.add_signal_handler(number, self.stop, 128 + number)
        self.app_resume_signal.subscribe(self, lambda _: self.repaint())
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        if self.opening is not None:
            self.enter(self.opening)
        else:
            self.run_worker(self._load_start, thread=True)

    # -- opening ------------------------------------------------------------------

    def enter(self, way: Opening | Door) -> None:
        """Open a job in a thread and show it; a failure is said on the screen that is there."""
        self.run_worker(lambda: self._load(way), thread=True, group="open", exclusive=True)

    def _load(self, way: Opening | Door) -> None:
        try:
            opened = way()
        except WizardError as problem:
            self.call_from_thread(self.failed, problem)
            return
        if callable(opened):
            make = opened
            self.call_from_thread(lambda: self.show(make()))
            return
        from wizard.tui.parts import default_parts
        from wizard.tui.working import WorkScreen

        session = opened
        parts = self._parts or default_parts()
        self.call_from_thread(
            lambda: self.show(WorkScreen(self.commands, session, self.who, parts))
        )

    def _load_start(self) -> None:
        from wizard.tui.start import StartScreen

        doors = self.doors
        if doors is not None:
            recent = list(doors.recent())
            self.call_from_thread(lambda: self.show(StartScreen(self.commands, doors, recent)))

    def on_go_in(self, message: GoIn) -> None:
        """Go in where the start screen says."""
        self.enter(message.way)

    def show(self, screen: Screen[None]) -> None:
        """Put a screen over the frame, or in the place of the one that is there."""
        if isinstance(self.screen, OpeningScreen):
            self.push_screen(screen)
        else:
            self.switch_screen(screen)

    def failed(self, problem: WizardError) -> None:
        """Say why a job cannot be opened; without a start screen that is the end."""
        screen = self.screen
        if isinstance(screen, OpeningScreen) or not isinstance(screen, BaseScreen):
            self.problem = problem
            self.exit(return_code=3)
        else:
            screen.turned_away(str(problem))

    # -- the whole application ----------------------------------------------------

    def on_base_screen_wants(self, message: BaseScreen.Wants) -> None:
        """Do what a screen leaves to the application."""
        {
            "quit": self.stop,
            "look": self.next_look,
            "repaint": self.repaint,
            "picture": self.save_picture,
        }[message.name]()

    def stop(self, status: int = 0) -> None:
        """End in order: keep what is being typed, give the record back."""
        for screen in self.screen_stack:
            if isinstance(screen, BaseScreen):
                screen.stop_work()
        self.exit(return_code=status)

    def next_look(self) -> None:
        """The next of the looks."""
        names = [n for n in LOOKS if (n == "plain") == self.no_color]
        following = names[(names.index(self.look.name) + 1) % len(names)]
        self.look = LOOKS[following]
        self.ansi_color, self.theme = self.look.own, following
        self.repaint()

    def _catch_up(self) -> None:
        """Paint what was left out while the line was behind."""
        if self._running:
            self.screen.refresh()

    def repaint(self) -> None:
        """Send the whole screen again."""
        self.painter.forget()
        for sheet in self.screen.query("*"):
            sheet.refresh()
        self.screen.refresh()

    def save_picture(self) -> None:
        """Leave saving to whoever gave a place for it."""
        screen = self.screen
        if isinstance(screen, BaseScreen):
            screen.status.say(self._saved_picture(), "dim")

    def _saved_picture(self) -> str:
        rows = [strip.text.rstrip() for strip in self.screen._compositor.render_strips()]
        for number in range(1, 1000):
            name = f"wizard-screen-{number}"
            try:
                with Path(f"{name}.svg").open("x", encoding="utf-8") as file:
                    file.write(self.export_screenshot())
                Path(f"{name}.txt").write_text("\n".join([*rows, ""]), "utf-8")
            except FileExistsError:
                continue
            except OSError as problem:
                return f"The picture is not saved: {problem.strerror}."
            return f"Saved {name}.svg and {name}.txt in {show(Path.cwd())}"
        return "The picture is not saved: there are too many already."

    async def on_event(self, event: events.Event) -> None:
        """Let a key do all it does, up to the question it may open, before the next is read:
        keys typed ahead over a slow line belong to what the keys before them have opened."""
        if not isinstance(event, events.Key | events.Paste) or event.is_forwarded:
            await super().on_event(event)
            return
        if self._early and self._taker(event) and not self._taker(self._early[0]):
            self._early.insert(0, event)
        else:
            self._early.append(event)
        await self.on_base_screen_ready()

    async def on_base_screen_ready(self) -> None:
        """Say what there is to say of the start, then use the keys pressed so far, while there
        is a screen to see that can take them."""
        if self.remark and isinstance(self.screen, BaseScreen) and not self.screen.waits:
            self.screen.status.say(self.remark, "caution")
            self.remark = ""
        while self._early and (screen := self._taker(self._early[0])):
            screen.receive(self._early.pop(0))
            for _ in range(TURNS):
                await asyncio.sleep(0)

    def _taker(self, event: events.Key | events.Paste) -> BaseScreen | None:
        screen = self.screen_stack[-1] if self.screen_stack else None
        return screen if isinstance(screen, BaseScreen) and screen.takes(event) else None

    def on_resize(self, event: events.Resize) -> None:
        """A terminal that changed its size shows nothing that can be relied on."""
        self.painter.forget()

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        """Send only what differs from what the terminal shows; over a line that is behind,
        the screen as it is later."""
        driver = self._driver
        if isinstance(driver, SteadyDriver) and driver.busy(self._catch_up):
            return
        if isinstance(renderable, CompositorUpdate):
            if self._painted != screen._compositor.size:
                # Frames of the size before may have come after the terminal changed.
                self._painted = screen._compositor.size
                self.painter.forget()
            renderable = self.painter.difference(renderable)
        super()._display(screen, renderable)


def run(
    who: str,
    *,
    opening: Opening | Door | None = None,
    doors: Doors | None = None,
    look: str = "default",
    mouse: bool = True,
    keys: Mapping[str, tuple[str, ...]] | None = None,
    words: str = "",
    remark: str = "",
) -> int:
    """Open the screens: the working screen on `opening`, else the start screen of `doors`.

    `opening` is called in a thread after the first paint. The result is the exit status; a
    WizardError of an opening without start screen is raised. `remark` is said once at the start.
    """
    utf8 = "utf" in locale.getpreferredencoding(False).lower()
    ascii_only = not utf8 or wants_ascii(os.environ)
    app = WizardApp(
        who,
        opening=opening,
        doors=doors,
        look=look,
        ascii_only=ascii_only,
        keys=keys,
        words=words,
        remark=remark,
    )
    app.run(mouse=mouse)
    if app.problem is not None:
        raise app.problem
    return app.return_code or 0
