"""Any sequence of answers, saves, failures and reopenings, against a dictionary."""

from __future__ import annotations

import errno
import os
import shutil
import tempfile
from contextlib import suppress
from pathlib import Path
from unittest.mock import patch

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from tests.small import hand, small_procedure
from tests.store.jobs import header
from wizard import actions, store
from wizard.errors import Refused, StoreError
from wizard.instrument import Instrument
from wizard.job import Act, Job
from wizard.record import loads

PROCEDURE = small_procedure()
TEXTS = {
    "motor.phases": ("single", "three"),
    "motor.voltage": ("208", "230 V", "0.4 kV"),
    "machine.label": ("Shed 4", "“Compressor” \\ 2", "é"),
    "lock.on": ("yes", "no"),
    "wire.colours": ("1", "2", "3"),
    "pads.count": ("0", "4"),
    "gauge.reading": ("0", "1,5 bar", "unreadable"),
    "vent.time": ("0:08", "12 s"),
    "pump.series": ("0 100; 30 112.5 psi", "0 1; 1 2; 2 3 bar"),
    "start.date": ("2026-03-02", "2027-12-31"),
}
CHOICES = st.sampled_from([(key, text) for key, texts in TEXTS.items() for text in texts])


class Technician(RuleBasedStateMachine):
    """`told` is what was acknowledged: key to text of every answer on the disk."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.state = patch.dict(os.environ, XDG_STATE_HOME=str(self.folder / "state"))
        self.state.start()
        self.minutes = 0

    @initialize()
    def new_job(self) -> None:
        self.path = self.folder / "T1.toml"
        self.session = store.create_job(self.path, header(), PROCEDURE, "Tess", "box")
        self.reader = store.open_job(self.path, PROCEDURE, "Lea", "office")
        self.job: Job = self.session.job
        self.now: dict[str, str] = {}
        self.told: dict[str, str] = {}
        self.saved_events = 0

    def by(self, step: int = 1) -> actions.Hand:
        self.minutes += step
        return hand(self.minutes)

    @rule(choice=CHOICES)
    def answer(self, choice: tuple[str, str]) -> None:
        key, text = choice
        reason = "read again" if key in self.job.answers else ""
        try:
            self.job = actions.answer(self.job, key, text, self.by(), reason=reason, confirmed=True)
        except Refused:
            return
        self.now[key] = text

    @rule(key=st.sampled_from(["machine.label", "motor.voltage", "wire.colours"]))
    def waive(self, key: str) -> None:
        try:
            self.job = actions.waive(self.job, key, "not here", self.by())
        except Refused:
            return
        self.now.pop(key, None)

    @precondition(lambda self: self.now)
    @rule(data=st.data())
    def withdraw(self, data: st.DataObject) -> None:
        key = data.draw(st.sampled_from(sorted(self.now)))
        try:
            self.job = actions.withdraw(self.job, key, "wrong page", self.by())
        except Refused:
            return
        del self.now[key]

    @rule(text=st.text(min_size=1, max_size=30), key=st.sampled_from(["", *TEXTS]))
    def note(self, text: str, key: str) -> None:
        self.job = actions.note(self.job, key, f"seen {text}", self.by())

    @rule(name=st.sampled_from(["G-1", "G-2"]), part=st.floats(0, 1))
    def list_instrument(self, name: str, part: float) -> None:
        gauge = Instrument(name, "gauge", "gauge pressure", of_reading=part)
        with suppress(Refused):
            self.job = actions.list_instrument(self.job, gauge, self.by())

    @rule()
    def clock_goes_back(self) -> None:
        self.minutes -= 30

    @rule()
    def save(self) -> None:
        self.session.save(self.job)
        self.acknowledged()

    @rule(call=st.sampled_from(["link", "rename", "fsync", "write"]), give_up=st.booleans())
    def save_fails(self, call: str, give_up: bool) -> None:
        error = OSError(errno.ENOSPC, "No space left on device")
        try:
            with patch.object(os, call, side_effect=error):
                self.session.save(self.job)
        except StoreError:
            if give_up:
                self.job, self.now = self.session.job, dict(self.told)
            return
        raise AssertionError(f"saved without {call}")

    @rule()
    def reopen(self) -> None:
        self.session.close()
        self.session = store.open_job(self.path, PROCEDURE, "Tess", "box")
        assert not self.session.read_only
        assert len(self.session.job.events) == self.saved_events
        self.job, self.now = self.session.job, dict(self.told)

    @rule()
    def take_the_rescued_entries(self) -> None:
        if self.session.rescue is None:
            return
        self.job = self.session.rescue
        self.now = {k: a.raw for k, a in self.job.answers.items()}
        self.session.save(self.job)
        self.acknowledged()

    def acknowledged(self) -> None:
        self.told, self.saved_events = dict(self.now), len(self.job.events)

    @invariant()
    def the_disk_holds_what_was_acknowledged(self) -> None:
        if not hasattr(self, "path"):
            return
        found = loads(self.path.read_bytes(), PROCEDURE, "T1.toml")
        assert not found.problems
        assert {k: a.raw for k, a in found.job.answers.items()} == self.told
        assert len(found.job.events) == self.saved_events
        assert [e.seq for e in found.job.events] == list(range(1, self.saved_events + 1))
        held = any(f.holds for found_ in found.job.findings.values() for f in found_)
        assert (found.job.state == "held") == held
        self.reader.refresh()
        assert self.reader.job.events == found.job.events
        left = [p.name for p in self.folder.iterdir() if p.name.endswith(".tmp")]
        assert left == []

    @invariant()
    def history_only_grows_and_keeps_what_was_replaced(self) -> None:
        if not hasattr(self, "path"):
            return
        first: set[str] = set()
        for event in self.job.events:
            if event.act is Act.ANSWERED:
                first.add(event.key)
            if event.act is Act.CORRECTED:
                assert event.key in first and event.data["was"] and event.data["reason"]

    def teardown(self) -> None:
        if hasattr(self, "path"):
            self.session.close()
            self.reader.close()
        self.state.stop()
        shutil.rmtree(self.folder)


Technician.TestCase.settings = settings(max_examples=60, stateful_step_count=25, deadline=None)
TestTechnician = Technician.TestCase
