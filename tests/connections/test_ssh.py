"""Over a real SSH connection that is cut at any moment: nothing accepted is lost."""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest

from tests.connections.records import new_record, small_record, wait_until_free, whole
from tests.connections.server import Server
from tests.connections.technician import Technician
from tests.demo.maker import scenario
from tests.small import small_procedure
from tests.tui.terminal import Terminal
from wizard.procedure import procedure
from wizard.store.clock import monotonic

OFFERED = "This was being typed when the screen closed"
SIZES = ((80, 24), (120, 40), (100, 30), (60, 20))
Cut = Callable[[Server, Terminal], None]


def kill_client(server: Server, terminal: Terminal) -> None:
    """The laptop dies."""
    os.kill(terminal.pid, signal.SIGKILL)


def kill_session(server: Server, terminal: Terminal) -> None:
    """The server's end of the connection dies."""
    for pid in server.sessions():
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)


def stall_and_kill(server: Server, terminal: Terminal) -> None:
    """The line stands still, then the laptop gives up."""
    os.kill(terminal.pid, signal.SIGSTOP)
    terminal.send("9")
    time.sleep(0.1)
    os.kill(terminal.pid, signal.SIGKILL)


def hang_up(server: Server, terminal: Terminal) -> None:
    """The window is closed."""
    os.close(terminal.fd)
    terminal.fd = os.open(os.devnull, os.O_RDWR)


CUTS: tuple[Cut, ...] = (kill_client, kill_session, stall_and_kill, hang_up)


class Campaign:
    """One job worked on over many connections, each of them cut."""

    def __init__(self, server: Server, home: Path, seed: int) -> None:
        self.server, self.home, self.chance = server, home, random.Random(seed)
        self.path = new_record(home)
        self.accepted: list[str] = []
        self.unsent = ("", "")
        self.cuts = 0

    def session(self, cut: Cut) -> None:
        """Log in, take up the work, answer some items, be cut off in the middle of the next."""
        chance = self.chance
        size = chance.choice(SIZES)
        terminal = self.server.login(
            self.home, "-m", "wizard", "open", str(self.path), "--by", "Tess Tester", size=size
        )
        person = Technician(terminal, procedure(), scenario("fifteen_hp"))
        try:
            item = person.look()
            self._offered_back(person)
            for _ in range(chance.randrange(3)):
                person.clear()
                self.accepted.append(person.answer())
                if chance.random() < 0.3:
                    terminal.resize(*chance.choice(SIZES))
            item = person.look()
            person.clear()
            text = person.text(item)[:20].strip() or "1"
            self.unsent = ("", "")
            if chance.random() < 0.5:
                person.keys(text)
                person.until(lambda: person.field == text)
                self.unsent = (item.key, text)
            else:
                person.keys(text, "enter")
                time.sleep(chance.random() * 0.25)
            cut(self.server, terminal)
            self.cuts += 1
        finally:
            terminal.close()
        wait_until_free(self.path)
        job = whole(self.path).job
        assert [key for key in self.accepted if key not in job.answers] == []

    def _offered_back(self, person: Technician) -> None:
        """What was half typed is in the field again."""
        key, text = self.unsent
        if text and key not in whole(self.path).job.answers:
            person.until(lambda: OFFERED in person.terminal.text)
            item = person.item()
            assert item is not None and item.key == key
            assert person.field.startswith(text)


def run(server: Server, home: Path, sessions: int, seed: int) -> None:
    """Cut so many connections in turn, in every way there is."""
    campaign = Campaign(server, home, seed)
    for number in range(sessions):
        campaign.session(CUTS[number % len(CUTS)])
    job = whole(campaign.path).job
    lost = [key for key in campaign.accepted if key not in job.answers]
    assert len(campaign.accepted) >= sessions // 2
    print(
        f"connections killed {campaign.cuts}, answers accepted {len(campaign.accepted)}, "
        f"answers lost {len(lost)}"
    )
    assert not lost


def test_connections_cut_at_any_moment_lose_nothing(server: Server, home: Path) -> None:
    run(server, home, 8, 1)


@pytest.mark.slow
def test_a_hundred_connections_cut_at_any_moment_lose_nothing(server: Server, home: Path) -> None:
    run(server, home, 100, 2)


def test_a_line_that_stands_still_loses_no_key_and_shows_the_end(
    server: Server, home: Path
) -> None:
    path = new_record(home)
    terminal = server.login(home, "-m", "wizard", "open", str(path), "--by", "Tess Tester")
    person = Technician(terminal, procedure(), scenario("fifteen_hp"))
    try:
        first = person.look()
        for victim in (terminal.pid, server.sessions()[-1]):
            os.kill(victim, signal.SIGSTOP)
            terminal.resize(100, 30)
            person.keys(*"site office")
            time.sleep(0.5)
            os.kill(victim, signal.SIGCONT)
        person.until(lambda: person.field == "site officesite office")
        person.keys("enter")
        person.until(lambda: person.item() not in (None, first))
        assert whole(path).job.answers[first.key].raw == "site officesite office"
        assert person.leave() == 0
    finally:
        terminal.close()


def test_the_stopwatch_runs_on_while_nobody_is_connected(server: Server, home: Path) -> None:
    path = small_record(home, small_procedure())
    program = ("-m", "tests.tui.program", str(path), "Tess Tester")
    terminal = server.login(home, *program)
    try:
        terminal.wait_for("Phases of the motor")
        terminal.send("1\r230\rShed 4\ry\r1\r4\r")
        terminal.wait_for("Time for the head to vent")
        terminal.press("f5")
        terminal.wait_for("0:0")
        started = whole(path, small_procedure()).job.timers["vent.time"].started
        os.kill(terminal.pid, signal.SIGKILL)
    finally:
        terminal.close()
    wait_until_free(path)
    time.sleep(2.5)
    terminal = server.login(home, *program)
    try:
        terminal.wait_for("Time for the head to vent")
        terminal.press("f5")
        longest = monotonic()["monotonic"] - float(started.data["monotonic"])
        terminal.press("enter")
        answer = whole(path, small_procedure()).job.answers["vent.time"]
        assert isinstance(answer.value, float)
        assert 2.5 <= answer.value <= longest + 0.1
    finally:
        terminal.close()
