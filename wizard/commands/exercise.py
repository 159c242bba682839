"""A practice run and its record in one hand: what the screens and the plain lines work on.

Invariant: what is accepted is on the disk before anybody sees it; a run that has ended is in the
training record once; the record is a practice record from its first line on.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from wizard.actions import Hand
from wizard.answer import si_value
from wizard.commands.papers import with_papers
from wizard.commands.people import host
from wizard.commands.shelf import InHand, Shelf, records, with_run_of
from wizard.errors import Refused
from wizard.finding import Severity, Verdict
from wizard.job import Act as Did
from wizard.job import Event, Header, Hold, Job
from wizard.practice.acts import Act, act
from wizard.practice.faults import faults
from wizard.practice.record import Advice, TrainingRecord, advice
from wizard.practice.run import Entry, Run
from wizard.practice.see import Sight
from wizard.practice.spots import PAPERS, look_up, spots_of
from wizard.procedure import procedure
from wizard.procedure.item import Item
from wizard.record import file_of
from wizard.settings import settings_from
from wizard.store import Session, clock, create_job, open_job

POWER_COMES = "start.lock_removed"
"""The item from which on the procedure works under power."""
PEOPLE = frozenset(
    {"start.exclusion", "start.hand_stop", "lift.protection", "running.noise_protected",
     "running.noise_protected_europe", "blowgun.people"}
)  # fmt: skip
"""Items that ask after people: they are put right before power comes, never by power."""
NOT_SEEN = ("not sure", "not soaped")
"""Answers that say only that somebody has to look again."""
STILL_AIR = 1000.0
"""Pa in the tank below which nothing flows that anybody would wait for."""


@dataclass(frozen=True, slots=True)
class Look:
    """Where somebody looks, and with what."""

    tool: str
    place: str


class Exercise:
    """One run in hand. It is a session to the screens: they read `job` and call `save`."""

    def __init__(self, shelf: Shelf, held: InHand, session: Session) -> None:
        self.shelf, self.held, self._session = shelf, held, session
        self.read_only, self.warnings = session.read_only, session.warnings
        self.rescue: Job | None = session.rescue
        self.record: TrainingRecord | None = None

    # -- the record ---------------------------------------------------------------

    @property
    def job(self) -> Job:
        """The practice job as saved."""
        return self._session.job

    @job.setter
    def job(self, job: Job) -> None:
        self._session.job = job

    def save(self, job: Job) -> None:
        """Save the job; readings go into the run as notes, and the papers give what follows."""
        before = len(self.job.events)
        self._session.save(job)
        self.rescue = self._session.rescue
        self._note(job.events[before:])
        if (more := with_papers(job, self.run, self._hand())) is not job:
            self._session.save(more)

    def refresh(self) -> bool:
        """Read again what another session saved."""
        return self._session.refresh()

    def close(self) -> None:
        """Keep the run and give the record back."""
        if not self.run.ended and not self.read_only:
            self.shelf.keep(self.held)
        self._session.close()

    def _hand(self) -> Hand:
        return Hand(self.shelf.learner, clock.now())

    def _note(self, events: Iterable[Event]) -> None:
        """Readings just accepted and holds just raised, as the run's log needs them."""
        run = self.run
        for event in events:
            if event.act is Did.HOLD_RAISED:
                run = run.logged("hold", event.key)
            if event.act in (Did.ANSWERED, Did.CORRECTED):
                for what, value in _read(self.job, event.key):
                    if run.placed and not run.ended:
                        run = act(run, Act("note", what, value, event.key))
        if run is not self.run:
            self._become(run)

    # -- the run ------------------------------------------------------------------

    @property
    def run(self) -> Run:
        """The run as it stands."""
        return self.held.run

    def do(self, verb: str, what: str = "", value: float | None = None) -> tuple[Entry, ...]:
        """Act on the machine; what there was to hear and see of it."""
        if self.read_only:
            raise Refused(self.read_only)
        holds = [hold.finding.text for hold in self.job.holds() if self._bars_power(hold)]
        before = len(self.run.log)
        run = self._with_what_is_left() if verb == "finish" else self.run
        self._become(act(run, Act(verb, what, value), holds))
        return self.run.log[before:]

    def _with_what_is_left(self) -> Run:
        """The run with what the record still lacks at the handover in its log."""
        run, job = self.run, self.job
        if run.ended or not run.placed:
            return run
        failed, still = job.failures(), job.open_items()
        for how, items in (("failed", failed), ("open", still)):
            for item in items:
                if item.severity in (Severity.SAFETY, Severity.HANDOVER):
                    run = run.logged("left", item.key, f"{how}, {item.severity}")
        return run

    def left_unsafe(self) -> int:
        """Safety items that are open or have failed."""
        keys = {item.key for item in (*self.job.failures(), *self.job.open_items())
                if item.severity is Severity.SAFETY}  # fmt: skip
        return len(keys)

    def _bars_power(self, hold: Hold) -> bool:
        """Whether nothing may be energised under the hold.

        What was found under power is read again under power. Only where something was seen to
        be wrong, and is, it has to be put right first.
        """
        items, phase = self.job.procedure.items, self.job.procedure.phase_of(hold.key)
        item = items[hold.key]
        if not phase.strict or item.place <= items[POWER_COMES].place or item.key in PEOPLE:
            return True
        if item.measured or hold.finding.verdict is Verdict.INCONCLUSIVE:
            return False
        if (given := self.job.answers.get(hold.key)) is not None and given.raw in NOT_SEEN:
            return False
        if not any(faults()[name].severity == "safety" for name in self.run.present):
            return False
        for entry in reversed(self.run.log):
            if entry.kind == "repair":
                return False
            if entry.kind == "hold" and entry.what == hold.key:
                break
        return True

    def look(self, at: Look, ascii_only: bool = False) -> Sight:
        """Look somewhere; the look is in the log."""
        run, sight = self.run.look(at.tool, at.place, ascii_only)
        if not self.run.ended and not self.read_only:
            self._become(run)
        return sight

    def glance(self, at: Look, ascii_only: bool = False) -> Sight:
        """What is seen there now; nothing is noted."""
        return self.run.see(at.tool, at.place, ascii_only)

    def look_up(self, item: Item) -> Sight:
        """What the papers say for the item."""
        return look_up(self.run, item)

    def pass_time(self, seconds: float) -> tuple[Entry, ...]:
        """Let the machine run on; what there was to hear and see. Kept where anything was."""
        before = len(self.run.log)
        run = self.run.after(seconds)
        if len(run.log) > before:
            self._become(run)
        else:
            self.held = with_run_of(self.held, run)
        return run.log[before:]

    @property
    def alive(self) -> bool:
        """Whether time changes anything that can be seen; it stands for whoever only follows."""
        if self.read_only:
            return False
        state = self.run.state
        flows = (state.outlet_open or state.drain_open) and self.run.gauge > STILL_AIR
        timed = self.run.watch.started is not None and self.run.watch.stopped is None
        clocks = any(timer.stopped is None for timer in self.job.timers.values())
        return not self.run.ended and (
            not state.locked or self.run.view.turning or flows or timed or clocks
        )

    def _become(self, run: Run) -> None:
        held = with_run_of(self.held, run)
        self.shelf.keep(held)
        self.held = held
        if run.ended:
            self.record = self.shelf.debriefed(held)

    def advice(self) -> Advice:
        """What to practise next."""
        return advice(self.record or self.shelf.training())


def _read(job: Job, key: str) -> list[tuple[str, float]]:
    """The readings of an answer, by the name that the run's log knows the look under."""
    item, answer, spots = job.procedure.items[key], job.answers.get(key), spots_of(key)
    if answer is None or not spots or spots[0].tool == PAPERS or not item.measured:
        return []
    value: Any = si_value(item, answer)
    if isinstance(value, float):
        return [(key, value)]
    if not isinstance(value, tuple) or item.kind == "series":
        return []
    if len(spots) == len(value):
        return [(f"{s.tool} at {s.place}", v) for s, v in zip(spots, value, strict=True)]
    return [(key, value[-1])]


def begin(shelf: Shelf, scenario: str, seed: int) -> Exercise:
    """A new run of a scenario, with its practice record filled in from the papers."""
    run, begun = Run.new(scenario, seed), clock.now()
    record = _free_id(f"PRACTICE-{scenario}-{seed}", begun)
    practice = "US" if run.units == "us" else "IEC"
    header = Header(
        record,
        uuid.uuid4().hex,
        begun,
        run.units,
        practice_run=True,
        settings=settings_from({"practice": practice}),
    )
    session = create_job(records() / file_of(record), header, procedure(), shelf.learner, host())
    try:
        session.save(with_papers(session.job, run, Hand(shelf.learner, begun)))
        held = InHand(run, record, begun, shelf.learner)
        shelf.keep(held)
    except BaseException:
        session.close()
        raise
    return Exercise(shelf, held, session)


def _free_id(stem: str, begun: datetime) -> str:
    """A name that no earlier run has."""
    folder, name = records(), f"{stem}-{begun:%Y%m%d-%H%M%S}"
    taken = (n for n in range(2, 1000) if not (folder / file_of(f"{name}-{n}")).exists())
    return f"{name}-{next(taken)}" if (folder / file_of(name)).exists() else name


def resume(shelf: Shelf, held: InHand) -> Exercise:
    """A run taken up where it was left; one that had ended already is debriefed now."""
    path = records() / file_of(held.record)
    exercise = Exercise(shelf, held, open_job(path, procedure(), shelf.learner, host()))
    if held.run.ended:
        exercise.record = shelf.debriefed(held)
    return exercise


def next_seed(record: TrainingRecord, scenario: str) -> int:
    """The seed of the learner's next run of a scenario: 1, then 2, and so on."""
    return 1 + sum(done.scenario == scenario for done in record.runs)
