"""The learner's shelf: training record, runs in hand and their records, in the user's own folder.

Invariant: everything on it says in its first line that it is practice, and is on the disk when a
call returns; no machine's record is read or written here.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

import tomli_w

from wizard.commands.people import host
from wizard.errors import LockedElsewhere, RecordDamaged, RecordError, StoreError
from wizard.practice.keep import kept, resumed
from wizard.practice.record import (
    Lesson,
    TrainingRecord,
    dumped,
    loaded,
    new_record,
    with_lesson,
    with_run,
)
from wizard.practice.run import Run
from wizard.record.guard import parse
from wizard.store import clock
from wizard.store.files import Folder, sentence
from wizard.store.lock import take
from wizard.store.state import state_folder
from wizard.text import show

TRAINING, RUNS, RECORDS = "training", "practice-runs", "practice"
PATIENCE = 50
"""Tries, a tenth of a second apart, while another session of the learner writes."""
LARGEST = 4_000_000


@dataclass(frozen=True)
class InHand:
    """A run that has not been debriefed: where its record is, since when, for whom."""

    run: Run
    record: str
    begun: datetime
    learner: str


class Shelf:
    """What belongs to one learner."""

    def __init__(self, learner: str) -> None:
        self.learner = new_record(learner, clock.now().date()).learner

    # -- the training record ------------------------------------------------------

    def training(self) -> TrainingRecord:
        """The training record, new where there is none; RecordError where it cannot be read."""
        with state_folder(TRAINING) as folder:
            return self._training(folder)

    def _training(self, folder: Folder) -> TrainingRecord:
        name = f"{self._name}.toml"
        if folder.state(name) is None:
            return new_record(self.learner, clock.now().date())
        data, _ = folder.read(name, LARGEST)
        parse(data, name)
        try:
            return loaded(data.decode())
        except RecordDamaged as problem:
            raise RecordDamaged(f"{problem}", show(folder.path / name)) from None

    def learned(self, lesson: Lesson) -> TrainingRecord:
        """The training record with a lesson more, saved."""
        return self._changed(lambda record: with_lesson(record, lesson))

    def debriefed(self, held: InHand) -> TrainingRecord:
        """The training record with an ended run, once however often it is asked for, saved."""

        def add(record: TrainingRecord) -> TrainingRecord:
            known = any(done.at == held.begun for done in record.runs)
            return record if known else with_run(record, held.run, held.begun)

        record = self._changed(add)
        self.lay_down(held)
        return record

    def _changed(self, change: Callable[[TrainingRecord], TrainingRecord]) -> TrainingRecord:
        name = f"{self._name}.toml"
        with state_folder(TRAINING) as folder:
            lock = _patiently(lambda: take(folder, name, self.learner, host(), clock.now()))
            try:
                record = change(self._training(folder))
                _put(folder, name, dumped(record).encode())
            finally:
                lock.release()
        return record

    @property
    def _name(self) -> str:
        """A file name that two learners never share."""
        plain = re.sub(r"[^a-z0-9]+", "-", self.learner.casefold()).strip("-")[:32]
        digest = sha256(self.learner.casefold().encode()).hexdigest()[:8]
        return f"{plain or 'learner'}-{digest}"

    # -- runs in hand -------------------------------------------------------------

    def keep(self, held: InHand) -> None:
        """Keep a run so that it can be resumed."""
        own = {"record": held.record, "begun": held.begun, "learner": held.learner}
        plain = kept(held.run)
        head = {name: plain.pop(name) for name in ("practice", "format", "version")}
        with state_folder(RUNS) as folder:
            _put(folder, f"{held.record}.toml", tomli_w.dumps({**head, **own, **plain}).encode())

    def in_hand(self) -> list[InHand]:
        """The learner's runs that can be resumed, the latest first; unreadable ones are left."""
        found = []
        with state_folder(RUNS) as folder:
            for name in folder.names():
                if name.endswith(".toml") and not name.startswith("."):
                    with suppress(RecordError):
                        found.append(_read(folder, name))
        mine = [held for held in found if held.learner == self.learner]
        return sorted(mine, key=lambda held: held.begun, reverse=True)

    def lay_down(self, held: InHand) -> None:
        """Forget a run that is over; its record stays."""
        with state_folder(RUNS) as folder, suppress(OSError):
            folder.remove(f"{held.record}.toml")


def records() -> Path:
    """The folder of the practice records."""
    with state_folder(RECORDS) as folder:
        return folder.path


def _read(folder: Folder, name: str) -> InHand:
    plain: Mapping[str, Any] = parse(folder.read(name, LARGEST)[0], name)
    run = resumed(plain)
    record, begun, learner = (plain.get(field) for field in ("record", "begun", "learner"))
    if f"{record}.toml" != name or not isinstance(begun, datetime) or begun.tzinfo is None:
        raise RecordDamaged("the run does not say where it belongs", name)
    return InHand(run, str(record), begun, str(learner))


def with_run_of(held: InHand, run: Run) -> InHand:
    """The same run further on."""
    return replace(held, run=run)


def _put(folder: Folder, name: str, data: bytes) -> None:
    try:
        folder.replace(name, data, None)
    except OSError as problem:
        raise StoreError(f"{show(folder.path / name)} is not saved: {sentence(problem)}.") from None


def _patiently(taking: Callable[[], Any]) -> Any:
    for _ in range(PATIENCE):
        with suppress(LockedElsewhere):
            return taking()
        time.sleep(0.1)
    return taking()
