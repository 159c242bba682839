"""The working screen on a simulated site: an item in front, and what is looked at above it.

Invariant: looking is logged once, when somebody looks; what moves on the drawing afterwards is the
machine, not the log.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any, ClassVar

from rich.cells import cell_len
from textual import events
from textual.timer import Timer

from wizard.commands.deeds import clock, heard
from wizard.commands.exercise import Exercise, Look
from wizard.errors import WizardError
from wizard.keys import Command
from wizard.practice.run import Entry, Run
from wizard.practice.see import Sight
from wizard.practice.spots import PAPERS, spots_of
from wizard.practice.story import said
from wizard.tui.dialogues import cut
from wizard.tui.pages import Reader
from wizard.tui.parts import Parts
from wizard.tui.practise_sight import SightPane, drawn, elsewhere, item_for, read_at
from wizard.tui.practise_views import masthead, walk, where_words
from wizard.tui.session import Clock
from wizard.tui.spans import Lines, fitted, line
from wizard.tui.views.question import question
from wizard.tui.working import WorkScreen

FEW = 3
"""Options for which fewer rows do."""
QUESTION, BELOW, BELOW_FEW, BELOW_OPTIONS = 3, 3, 5, 7
"""Rows beside a drawing that leaves none free."""
AROUND = 5
"""Rows besides those of the options, so that they stand one below the other."""


@dataclass(frozen=True)
class MachineTime:
    """The clock of the simulated machine, for the stopwatch of an item; days are real."""

    exercise: Exercise
    real: Clock

    def now(self) -> datetime:
        """The time of day."""
        return self.real.now()

    def monotonic(self) -> dict[str, Any]:
        """Seconds of the machine."""
        held = self.exercise.held
        return {"monotonic": round(held.run.state.time, 3), "boot": held.record}


@dataclass(frozen=True)
class Seen:
    """What was looked at last for an item; `told` tells the machine as it was from a later one."""

    key: str = ""
    sight: Sight = field(default_factory=lambda: Sight(()))
    at: str = ""
    told: tuple[float, int] = (0.0, 0)


def _told_apart(run: Run) -> tuple[float, int]:
    return run.state.time, sum(entry.kind != "look" for entry in run.log)


class SiteScreen(WorkScreen):
    """An item, a place, an instrument."""

    PLACES: ClassVar[tuple[str, ...]] = ("site", "sight", "list", "read", "told")

    def __init__(
        self, commands: Iterable[Command], exercise: Exercise, who: str, parts: Parts
    ) -> None:
        timed = replace(parts, clock=MachineTime(exercise, parts.clock))
        helped = (replace(c, places=(*c.places, "sight")) if c.name == "help" else c
                  for c in commands)  # fmt: skip
        own = [c for c in helped if {*self.PLACES} & {*c.places}]
        super().__init__(own, exercise, who, timed)
        self.exercise = exercise
        self.at: Look | None = None
        self.pace = 1
        self._sight = self._logged = Sight(())
        self._last = Seen()
        self._clock: Timer | None = None
        self._read_at = read_at(exercise.job.procedure)

    def on_mount(self) -> None:
        """Hang the drawing above the question, and let time run."""
        self.query_one("#work").mount(SightPane("sight"), before=0)
        self.keep_time()

    # -- where the keys are -------------------------------------------------------

    @property
    def place(self) -> str:
        """A list, a text, a sight with its field, or the item alone."""
        before = super().place
        if before == "work":
            return "site" if self.at is None else "sight"
        return before

    @property
    def pane(self) -> SightPane:
        """The drawing."""
        return self.query_one(SightPane)

    def turn_to(self, place: str) -> None:
        """As ever; without an item at the place, the drawing has the keys."""
        super().turn_to(place)
        if place == "work" and self.has_class("-only"):
            self.set_focus(self.pane, scroll_visible=False)
            self.show_keys()

    def usable(self, command: Command) -> bool:
        """Nothing is done to a machine that somebody else has in hand, or that is done with."""
        if command.name in ("do", "stop", "hands") and self.desk.read_only:
            return False
        if command.name == "help" and self.has_class("-only"):
            return False
        if command.name == "stop" and not self.exercise.run.state.switched_on:
            return False
        return super().usable(command)

    def why_not(self, command: Command) -> str:
        """The hand at the switch finds it off."""
        if command.name == "stop" and not self.desk.read_only:
            return "The machine is switched off already: it stands still."
        return super().why_not(command)

    # -- looking ------------------------------------------------------------------

    def look_at(self, at: Look) -> None:
        """Go there, look, and put the item in front that is read there."""
        try:
            sight = self._seen(at)
        except WizardError as problem:
            self.show_problem(problem)
            return
        self.at, self._sight, self._logged = at, sight, sight
        key = self.desk.key
        if at.tool != PAPERS:
            key = item_for(self.desk.job, self._read_at.get(at, ()), self.desk.item)
        self.set_class(True, "-sight")
        self.set_class(not key, "-only")
        if key:
            self.desk.go(key)
            self._keep_seen(key)
        self.status.say(self._told(bool(key)), "dim")
        self.show_item()
        self._paint_sight(from_top=True)
        self.turn_to("work")
        self.after_deed(())

    def _told(self, asked: bool) -> str:
        """What to know at a place, besides what is seen."""
        spots = self.spots()
        if not asked:
            job, keys = self.desk.job, self._read_at.get(self.at, ()) if self.at else ()
            if key := elsewhere(job, keys, self.desk.item):
                other = job.procedure.items[key]
                way = self._key_of("list")
                return (
                    f"Read here in phase {other.phase}: “{cut(other.ask, 36)}”; {way} goes to it."
                )
            return "No item is read here now. Esc goes back, F2 goes on."
        if len(spots) > 1 and self.at in spots:
            key = self._key_of("place_after")
            return f"{spots.index(self.at) + 1} of {len(spots)} places of this item; {key} next."
        return ""

    def _seen(self, at: Look) -> Sight:
        if at.tool == PAPERS:
            return self.exercise.look_up(self.desk.job.procedure.items[at.place])
        return self.exercise.look(at, self._ascii)

    @property
    def _ascii(self) -> bool:
        return bool(getattr(self.app, "painter", None) and self.app.painter.ascii_only)  # type: ignore[attr-defined]

    def close_sight(self) -> None:
        """Back to the item alone."""
        self.at = None
        self.set_class(False, "-sight")
        self.set_class(False, "-only")
        self.show_item()
        self.turn_to("work")

    def leave_field(self) -> None:
        """Esc: away from what was looked at, else as ever."""
        if self.at is not None:
            self.close_sight()
        else:
            super().leave_field()

    def take(self, key: events.Key) -> bool:
        """Tab and arrows move the drawing; arrows choose where there is a choice."""
        if self.place != "sight" or key.key not in ("tab", "up", "down"):
            return super().take(key)
        if key.key != "tab" and self.desk.item.kind == "choose" and not self.has_class("-only"):
            self._choose(-1 if key.key == "up" else 1)
            return True
        return self.pane.take(key)

    def typed(self, text: str) -> None:
        """The first character of a reading is the moment at which it was read."""
        refused = self.refused is not None and len(text) == 1
        first = text and (refused or not self.unsent.get(self.desk.key))
        if first and self.at is not None and self._sight != self._logged:
            self._sight = self._logged = self.exercise.look(self.at, self._ascii)
        super().typed(text)

    def _accepted(self, key: str) -> None:
        """Stay where the next item is read too, else leave."""
        if self.at is not None and self.at not in self.spots():
            self.at = None
            self.remove_class("-sight", "-only")
        super()._accepted(key)
        if self.at is not None:
            self._keep_seen(self.desk.key)
        self.keep_time()

    def _keep_seen(self, key: str) -> None:
        """Remember what was seen for an item, and when."""
        run = self.exercise.run
        self._last = Seen(key, self._sight, clock(run), _told_apart(run))

    def spots(self) -> list[Look]:
        """Where the item in front is read."""
        return [Look(spot.tool, spot.place) for spot in spots_of(self.desk.key)]

    def do_sight(self) -> None:
        """Look at what the item in front is read from."""
        spots = self.spots()
        if spots:
            self.look_at(spots[0])
        else:
            self.status.say("There is nothing here to read it from; say how you find it.", "dim")

    def do_place_after(self) -> None:
        """The next place where this item is read, else the next of the walk."""
        self._go_on(1)

    def do_place_before(self) -> None:
        """The place before."""
        self._go_on(-1)

    def _go_on(self, by: int) -> None:
        spots = self.spots()
        at = self.at
        if at in spots and 0 <= (following := spots.index(at) + by) < len(spots):
            self.look_at(spots[following])
            return
        there = walk(self.exercise.run)
        here = next((n for n, p in enumerate(there) if at and p.name == at.place), -1)
        place = there[(here + by) % len(there)]
        self.look_at(Look(place.tools[0], place.name))

    # -- painting -----------------------------------------------------------------

    def do_help(self) -> None:
        """Open or close the explanation; over a drawing it is a page to read."""
        if self.place != "sight":
            super().do_help()
            return
        state = self.desk.judged(self.field.value)
        self.query_one(Reader).put(self.explanation(state, max(20, self.size.width - 10)))
        self.turn_to("read")

    def _fit_cautions(self) -> None:
        """Beside a drawing, give question and options the rows that it leaves free."""
        asks, below = self.sheet("question"), self.sheet("below")
        if self.at is None:
            below.styles.height = None
            super()._fit_cautions()
            return
        self._fitted = ()
        self.sheet("hold").styles.height = None
        if self.has_class("-only"):
            asks.styles.height = below.styles.height = None
            return
        item, width = self.desk.item, self.pane.size.width or 78
        tool = self.desk.instrument or self._key_of("instrument")
        least, full = (len(question(self.desk.job, item, width, h, tool)) for h in (1, 99))
        least = max(QUESTION, least)
        base = BELOW_OPTIONS if len(item.options) > FEW else BELOW_FEW if item.options else BELOW
        wanted = len(item.options) + AROUND if item.options else base
        held = 1 if self.has_class("-held") else 0
        free = self.query_one("#work").size.height - 1 - held - len(self._sight.lines)
        free -= least + base
        more = min(max(0, free), max(0, full - least))
        asks.styles.height = least + more
        below.styles.height = base + min(max(0, free - more), max(0, wanted - base))

    def paint(self) -> None:
        """As ever, under the top rows of practice; options get the rows that they need."""
        options = len(self.desk.item.options)
        self.set_class(0 < options <= FEW, "-few")
        self.set_class(options > FEW, "-choose")
        super().paint()
        if self.sheet("masthead").size:
            self._paint_top()
            if self.at is not None:
                self._paint_sight()

    def _paint_top(self) -> None:
        item = None if self.has_class("-only") else self.desk.item
        where = where_words(self.exercise.run, self.at)
        pace = self.pace if self.exercise.alive else 0
        rows = masthead(self.exercise, item, where, pace, self.size.width)
        self.sheet("masthead").show_lines(rows)

    def _paint_sight(self, *, from_top: bool = False) -> None:
        self.pane.put(drawn(self._sight, self.pane.size.width or 78), from_top=from_top)

    def _standing(self, width: int) -> Lines:
        """What is known of the item, and where it is read."""
        lines = super()._standing(width)
        spots = self.spots()
        if self.at is not None or not spots or self.desk.key in self.desk.job.answers:
            return lines
        return [*lines, line((self._key_of("sight"), "key"), f" looks at it: {self._where(spots)}")]

    def _where(self, spots: list[Look]) -> str:
        more = f" and {len(spots) - 1} more" if len(spots) > 1 else ""
        return where_words(self.exercise.run, spots[0]) + more

    def _picture(self, width: int, height: int) -> Lines:
        """What was looked at last for this item, where there is room; else the usual drawing."""
        seen = self._last
        rows = drawn(seen.sight, width)
        if self.at is None and seen.key == self.desk.key and 0 < len(rows) <= height - 5:
            when = f"As it was looked at, {seen.at}."
            if _told_apart(self.exercise.run) != seen.told:
                when += " It may have changed since."
            return [fitted(line((when, "dim")), width), *rows]
        return super()._picture(width, height) if self.at is None else []

    # -- time ---------------------------------------------------------------------

    def keep_time(self) -> None:
        """Tick once a second while time changes something, and never otherwise."""
        wanted = self.pace > 0 and self.exercise.alive
        if wanted and self._clock is None:
            self._clock = self.set_interval(1.0, self._second)
        elif not wanted and self._clock is not None:
            self._clock.stop()
            self._clock = None

    def _fitting(self, title: str, told: tuple[Entry, ...]) -> str:
        """What was done and noticed, in a row: what came of it before what was done."""
        room = self.size.width - 2
        words = " ".join(filter(None, (title, heard(told))))
        if cell_len(words) <= room or not heard(told):
            return words
        sentences = [one for entry in told if (one := said(entry))]
        while len(sentences) > 1 and cell_len(" ".join(sentences)) + 2 > room:
            sentences = sentences[1:]
        return " ".join(sentences)

    def _second(self) -> None:
        try:
            told = self.exercise.pass_time(float(self.pace))
        except WizardError as problem:
            self.show_problem(problem)
            return
        self.after_deed(told)

    def after_deed(self, told: tuple[Entry, ...], title: str = "") -> None:
        """Show how the machine stands now, and say what was noticed."""
        if words := self._fitting(title, told):
            self.status.say(words, "strong")
        if self.at is not None and self.at.tool != PAPERS and not self.exercise.run.ended:
            self._sight = self.exercise.glance(self.at, self._ascii)
            self._paint_sight()
        self._paint_top()
        self.show_keys()
        self.keep_time()
