"""The work in hand: the open job, where in it we are, and what a person can do there.

Invariant: the job is saved before anybody sees it changed; when saving fails nothing changed.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from wizard import actions, remarks
from wizard.actions import Hand
from wizard.errors import Refused
from wizard.instrument import Instrument
from wizard.job import Act, Event, Job, Timer
from wizard.procedure.item import Item, Phase
from wizard.stopwatch import Elapsed, elapsed
from wizard.tui.judged import Judged, judged
from wizard.tui.session import Clock, Session


@dataclass
class Desk:
    """One person at one job."""

    session: Session
    who: str
    clock: Clock
    key: str = ""
    tools: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        start = self.job.next_item()
        self.key = self.key or (start.key if start else self.job.applicable[-1].key)

    @property
    def job(self) -> Job:
        """The job as saved."""
        return self.session.job

    @property
    def item(self) -> Item:
        """The item in front of us."""
        return self.job.procedure.items[self.key]

    @property
    def phase(self) -> Phase:
        """The phase of that item."""
        return self.job.procedure.phase_of(self.key)

    @property
    def read_only(self) -> str:
        """Why nothing can be saved here, such as who else has the record open."""
        return self.session.read_only

    @property
    def refusal(self) -> str:
        """Why the item cannot be answered now."""
        return self.job.refusal(self.key)

    def hand(self) -> Hand:
        """Who acts, now."""
        return Hand(self.who, self.clock.now())

    def judged(self, text: str) -> Judged:
        """What `text` would mean as the answer here."""
        return judged(self.job, self.item, text, self.instrument)

    def go(self, key: str) -> None:
        """Put another item in front of us."""
        self.key = actions.item_of(self.job, key).key

    def step(self, by: int) -> bool:
        """The item before or after, among those of this job; False at the ends."""
        keys = [i.key for i in self.job.applicable]
        place = self.item.place
        if self.key in keys:
            at = keys.index(self.key) + by
        else:
            earlier = sum(1 for i in self.job.applicable if i.place < place)
            at = earlier - 1 if by < 0 else earlier
        if not 0 <= at < len(keys):
            return False
        self.key = keys[at]
        return True

    def go_next(self) -> bool:
        """The item that holds the job; from there, or without one, the next open or holding item.

        False where nothing is left.
        """
        holds = self.job.holds()
        if holds and holds[0].key != self.key:
            self.key = holds[0].key
            return True
        return self._go(self.job.next_item(self.key))

    def _go(self, item: Item | None) -> bool:
        if item is not None:
            self.key = item.key
        return item is not None

    def accept(self, text: str, *, reason: str = "", confirmed: bool = False) -> None:
        """Take `text` as the answer, or as its correction, and go on."""
        job = actions.answer(
            self.job,
            self.key,
            text,
            self.hand(),
            instrument=self.instrument,
            reason=reason,
            confirmed=confirmed,
        )
        self._save_and_go_on(job)

    def waive(self, reason: str) -> None:
        """Mark the item not applicable and go on."""
        self._save_and_go_on(actions.waive(self.job, self.key, reason, self.hand()))

    def note(self, text: str) -> None:
        """Write a note against the item; it is the reply where a lead has a remark on it."""
        write = remarks.reply if self.remarked else actions.note
        self._save(write(self.job, self.key, text, self.hand()))

    @property
    def remarked(self) -> bool:
        """Whether a remark on the item waits for a reply."""
        return bool(remarks.open_at(self.job, self.key))

    def last_answer(self) -> Event | None:
        """The latest answer that still stands."""
        for event in reversed(self.job.events):
            answer = self.job.answers.get(event.key)
            if event.act in (Act.ANSWERED, Act.CORRECTED) and answer and answer.seq == event.seq:
                return event
        return None

    def withdraw(self, key: str, reason: str) -> None:
        """Take an answer back and go to it."""
        self._save(actions.withdraw(self.job, key, reason, self.hand()))
        self.key = key

    @property
    def instrument(self) -> str:
        """The instrument chosen for readings of this kind; empty where none is needed."""
        return self.tools.get(self.item.instrument, "") if self.item.instrument else ""

    def choose_instrument(self, name: str) -> None:
        """Take readings like this one with a listed instrument; empty for none."""
        if name and name not in self.job.instruments:
            raise Refused(f"“{name}” is not on the list of instruments.")
        self.tools[self.item.instrument] = name

    def add_instrument(self, instrument: Instrument) -> None:
        """List an instrument and take it for readings like this one."""
        self._save(actions.list_instrument(self.job, instrument, self.hand()))
        self.tools[self.item.instrument] = instrument.name

    @property
    def timed(self) -> bool:
        """Whether the item has a stopwatch."""
        return self.item.kind in ("time", "series")

    @property
    def timer(self) -> Timer | None:
        """The stopwatch of the item; None before its first start."""
        return self.job.timers.get(self.key)

    @property
    def running(self) -> bool:
        """Whether the stopwatch runs."""
        return self.timed and self.timer is not None and self.timer.stopped is None

    def elapsed(self) -> Elapsed | None:
        """What the stopwatch shows."""
        if not self.timed or self.timer is None:
            return None
        return elapsed(self.timer, self.clock.monotonic(), self.clock.now())

    def toggle_watch(self) -> str:
        """Start or stop the stopwatch; the text that a stopped one offers as answer."""
        clock = self.clock.monotonic()
        if not self.running:
            self._save(actions.start_timer(self.job, self.key, self.hand(), clock))
            return ""
        seconds = self._seconds()
        self._save(actions.stop_timer(self.job, self.key, seconds, self.hand()))
        return actions.timed_answer(self.job, self.key)

    def lap(self, text: str) -> None:
        """Keep a reading at this moment."""
        self._save(actions.lap(self.job, self.key, self._seconds(), text, self.hand()))

    def _seconds(self) -> float:
        shown = self.elapsed()
        return round(shown.seconds, 1) if shown else 0.0

    def take(self, job: Job) -> None:
        """Save a job that goes on from this one."""
        self._save(job)

    def _save_and_go_on(self, job: Job) -> None:
        before = self.job
        self._save(job)
        self._go(self.job.item_after(self.key, before))

    def _save(self, job: Job) -> None:
        self.session.save(job)
