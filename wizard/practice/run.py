"""One practice run as a value: the hidden machine, what people set on it, and the log of it all.

Invariant: a run never changes; acting on it gives another. A run says in its first lines that it
is practice, in memory and on disk, and can never be taken for a machine's record.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from wizard.practice.design import Design, design_of
from wizard.practice.draw.meter import small_display
from wizard.practice.faults import with_faults
from wizard.practice.machine import RUIN, Happening, run_on
from wizard.practice.places import place_named
from wizard.practice.plates import Machine
from wizard.practice.scenario import Scenario, scenario
from wizard.practice.see import Shown, Sight, see
from wizard.practice.seed import spread
from wizard.practice.state import Site, State, resting
from wizard.practice.tools import first_settings, tool_named
from wizard.practice.view import FEET, View

WARM = "tank_warm"
WINTER, WINTER_GRADE = 278.15, 46
"""Below 5 °C the pump plate asks for a thinner oil."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the log: what was done, seen, told or noted, and when.

    `kind` is look, act, told, report, withdraw, repair, note, hold, remark, left or end; `value`
    is SI; `hands` are the seconds of handwork spent by then. A note's `where` is the item that it
    answers; what is left at the handover says how.
    """

    time: float
    kind: str
    what: str
    where: str = ""
    value: float | None = None
    step: float = 0.0
    hands: float = 0.0

    @property
    def clock(self) -> float:
        """Seconds since the run began, machine and hands."""
        return self.time + self.hands


@dataclass(frozen=True, slots=True)
class Stopwatch:
    """The watch in the learner's hand, in machine time."""

    started: float | None = None
    stopped: float | None = None


@dataclass(frozen=True)
class Run:
    """A practice run."""

    scenario: Scenario
    seed: int
    state: State
    present: Mapping[str, float]
    placed: bool = True
    feet: tuple[float, ...] = (0.0,) * FEET
    backed_off: int = 0
    knobs: Mapping[str, str] = field(default_factory=dict)
    watch: Stopwatch = field(default_factory=Stopwatch)
    handled: float = 0.0
    """Seconds of work with the hands, beside the seconds that the machine ran on."""
    log: tuple[Entry, ...] = ()
    ended: str = ""

    @classmethod
    def new(cls, name: str, seed: int) -> Run:
        """A run of a scenario, with the faults that the seed gives it."""
        chosen = scenario(name, seed)
        present = chosen.present(seed)
        site = chosen.site_with(present)
        state = resting(chosen.plant, site, chosen.tank_gauge, present.get(WARM, 0.0))
        return cls(
            chosen, seed, state, present, placed=not chosen.delivered, knobs=first_settings()
        )

    @property
    def site(self) -> Site:
        """Where the machine stands."""
        return self.scenario.site_with(self.scenario.present(self.seed))

    @cached_property
    def machine(self) -> Machine:
        """The machine with the faults that are still in it."""
        plant = self.scenario.plant
        if self.site.temperature < WINTER:
            plant = replace(plant, oil=replace(plant.oil, grade=WINTER_GRADE))
        return with_faults(plant, self.present)

    @cached_property
    def design(self) -> Design:
        """The machine's constants."""
        return design_of(self.machine, self.site)

    @cached_property
    def view(self) -> View:
        """What the instruments read."""
        return View(self.design, self.state, self.seed, self.feet, self.knobs)

    @property
    def gauge(self) -> float:
        """True pressure in the tank, Pa above the room."""
        return self.view.gauged.gauge(self.state)

    @property
    def minutes(self) -> float:
        """Time spent so far, machine and hands."""
        return (self.state.time + self.handled) / 60.0

    @property
    def units(self) -> str:
        """The units of plates and instruments here: "us" or "metric"."""
        return self.scenario.plant.units

    def see(self, tool: str, place: str, ascii_only: bool = False) -> Sight:
        """What an instrument or an eye shows at a place now; nothing is recorded."""
        if tool == "stopwatch":
            tool_named(tool)
            place_named(place, self.machine)
            return _watch_sight(self)
        return see(self.view, tool, place, ascii_only)

    def look(self, tool: str, place: str, ascii_only: bool = False) -> tuple[Run, Sight]:
        """As `see`, and the look is in the log; a dangerous look ends the run."""
        sight = self.see(tool, place, ascii_only)
        value, step = (None, 0.0) if sight.shown is None else (sight.shown.value, sight.shown.step)
        seen = self.logged("look", tool, place, value, step)
        seen = replace(seen, handled=seen.handled + LOOKING)
        if sight.remark:
            seen = seen.logged("remark", sight.remark)
        return (seen.finished(sight.danger) if sight.danger else seen), sight

    def logged(
        self, kind: str, what: str, where: str = "", value: float | None = None, step: float = 0.0
    ) -> Run:
        """The run with one more line in its log."""
        hands = round(self.handled, 2)
        entry = Entry(round(self.state.time, 2), kind, what, where, value, step, hands)
        return replace(self, log=(*self.log, entry))

    def finished(self, how: str) -> Run:
        """The run ended, by a danger's name or "handed over"."""
        return replace(self.logged("end", how), ended=how)

    def after(self, seconds: float) -> Run:
        """The run some seconds of machine time later; what happens by itself is in the log."""
        state, told = run_on(self.design, self.state, seconds, self.seed)
        run = replace(self, state=state)
        for happening in told:
            run = run._told(happening)
        return run

    def _told(self, happening: Happening) -> Run:
        hands = round(self.handled, 2)
        entry = Entry(round(happening.time, 2), "told", happening.name, hands=hands)
        run = replace(self, log=(*self.log, entry))
        return run.finished(happening.name) if happening.name in RUIN else run


LOOKING = 20.0
"""Seconds that a look takes a person."""


THUMB = 0.12
"""Standard deviation of pressing a stopwatch, s."""


def _watch_sight(run: Run) -> Sight:
    """The stopwatch's figures; the thumb was a little early or late at each press."""
    started, stopped = run.watch.started, run.watch.stopped
    elapsed = 0.0
    if started is not None:
        end = run.state.time if stopped is None else stopped
        late = spread(run.seed, "press", stopped) if stopped is not None else 0.0
        elapsed = max(0.0, end - started + THUMB * (late - spread(run.seed, "press", started)))
    value = round(elapsed, 1)
    clock = f"{int(value // 60)}:{value % 60:04.1f}"
    return Sight(small_display("Stopwatch", clock, "min:s"), Shown("time", value, 0.1, "s"))
