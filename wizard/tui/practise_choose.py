"""Choosing what to practise: runs in hand, scenarios by level, an unknown machine.

Invariant: nothing of a machine is made before its briefing has been read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from textual.app import ComposeResult

from wizard.commands.deeds import clock
from wizard.commands.shelf import InHand
from wizard.errors import WizardError
from wizard.keys import Command
from wizard.practice.record import TrainingRecord, advice
from wizard.practice.scenario import ENDLESS, UNKNOWN, Scenario, scenario, scenario_names
from wizard.tui.base import BaseScreen
from wizard.tui.doors import Door, GoIn
from wizard.tui.list_pane import ListPane, Row
from wizard.tui.pages import Reader
from wizard.tui.practise_views import briefing_page, training_page
from wizard.tui.sheet import Sheet
from wizard.tui.spans import Lines, between, line


@dataclass(frozen=True, slots=True)
class Ways:
    """Where the choice leads: a new run of a scenario and seed, a run in hand, back home."""

    seed_of: Callable[[str], int]
    begin: Callable[[str, int], Door]
    resume: Callable[[InHand], Door]
    home: Door | None = None


class ChooseScreen(BaseScreen):
    """The scenarios of one learner; `first` is shown at once, with its seed."""

    PLACES: ClassVar[tuple[str, ...]] = ("choose", "told")

    def __init__(
        self,
        commands: Iterable[Command],
        ways: Ways,
        record: TrainingRecord,
        held: Sequence[InHand],
        first: tuple[str, int] | None = None,
    ) -> None:
        super().__init__(commands)
        self.ways, self.record, self.held = ways, record, tuple(held)
        self._first, self._door = first, None if first is None else self._way(*first)
        self._going = False

    def parts(self) -> ComposeResult:
        """The masthead, the list and a text to read."""
        yield Sheet("masthead")
        yield ListPane("scenarios", pick=self.picked)
        yield Reader("page")

    def on_mount(self) -> None:
        """Give the list the keys, or read the briefing that was asked for."""
        pane = self.query_one(ListPane)
        following = advice(self.record).scenario
        count = len(self.record.runs)
        told = f"   Enter tells more   {count} run{'' if count == 1 else 's'} so far"
        title = line(" What to practise", (told, "dim"))
        pane.put(title, self._rows(), "" if self.held else f"new {following}")
        self.set_focus(pane, scroll_visible=False)
        if self._first is not None:
            self._read_briefing(scenario(*self._first))

    def _way(self, name: str, seed: int) -> Door:
        return self.ways.begin(name, seed)

    def _rows(self) -> list[Row]:
        rows = [
            Row(
                f"held {number}",
                line("   ", ("Go on: ", "key"), (held.run.scenario.title, "strong")),
                line((f"left at {clock(held.run)}, begun {held.begun:%d %b %H:%M} ", "dim")),
            )
            for number, held in enumerate(self.held)
        ]
        if rows:
            rows.append(Row("", (), ()))
        return [*rows, *(self._row(scenario(name)) for name in scenario_names()), self._unknown()]

    def _row(self, one: Scenario) -> Row:
        best = max((d.total for d in self.record.runs if d.scenario == one.name), default=None)
        told = f"{one.minutes:.0f} min" + ("" if best is None else f", best {best}")
        level = "●" * one.level + "·" * (5 - one.level)
        return Row(f"new {one.name}", line(f"   {level}  {one.title}"), line((f"{told} ", "dim")))

    def _unknown(self) -> Row:
        seed = self.ways.seed_of(ENDLESS)
        return Row(
            f"new {ENDLESS}",
            line(f"   ?????  {UNKNOWN}"),
            line((f"seed {seed} ", "dim")),
        )

    @property
    def place(self) -> str:
        """The list, or a text."""
        return "told" if self.has_class("-told") else "choose"

    def usable(self, command: Command) -> bool:
        """Back from the list leads home, where there is one."""
        home = self.ways.home is not None or self.place == "told"
        return (command.name != "back" or home) and super().usable(command)

    def picked(self, pick: str) -> None:
        """A run in hand goes on; a new one begins with its briefing."""
        kind, _, name = pick.partition(" ")
        if kind == "held":
            self._enter(self.ways.resume(self.held[int(name)]))
            return
        seed = self.ways.seed_of(name)
        self._door = self._way(name, seed)
        self._read_briefing(scenario(name, seed))

    def _read_briefing(self, one: Scenario) -> None:
        self._read(briefing_page(one, max(20, self.app.size.width - 4)))

    def _read(self, lines: Lines) -> None:
        page = self.query_one("#page", Reader)
        page.put(lines)
        self.set_class(True, "-told")
        self.set_focus(page, scroll_visible=False)
        self.show_keys()

    def _enter(self, way: Door) -> None:
        """Go in once, however often the key is pressed; again where going in failed."""
        if self._going:
            return
        self._going = True
        self.status.last("")
        self.status.say("Walking to the site.", "dim")

        def go() -> Any:
            try:
                return way()
            except WizardError:
                self._going = False
                raise

        self.post_message(GoIn(go))

    def do_training(self) -> None:
        """The training record on one page."""
        self._door = None
        self._read(training_page(self.record, max(20, self.app.size.width - 4)))

    def do_on(self) -> None:
        """To the end of the text; from a briefing to the site, else back to the list."""
        if self.query_one("#page", Reader).read_on():
            return
        if self._door is None:
            self.do_back()
        else:
            self._enter(self._door)

    def do_back(self) -> None:
        """From a text to the list, from the list home."""
        if self.place == "choose":
            if self.ways.home is not None:
                self._enter(self.ways.home)
            return
        self.set_class(False, "-told")
        self.set_focus(self.query_one(ListPane), scroll_visible=False)
        self.show_keys()

    def paint(self) -> None:
        """Who practises, and that it is practice."""
        width = self.size.width
        lines: Lines = [
            between(
                line(" ", ("PRACTICE", "strong"), "  simulated machines"),
                line((f"{self.record.learner} ", "dim")),
                width,
            ),
            line(" Nothing here is a machine's record, and nobody can be hurt.", ""),
            line(("─" * width, "rule")),
        ]
        self.query_one("#masthead", Sheet).show_lines(lines)
        super().paint()
