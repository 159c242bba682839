"""A terminal that stands still, is cut while it does, or belongs to a machine that slept."""

from __future__ import annotations

import os
import shutil
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.connections.records import ID, UUID, demo_job, new_record, wait_until_free, whole
from tests.connections.technician import Technician
from tests.demo.maker import scenario
from tests.tui.terminal import Terminal
from wizard.procedure import procedure
from wizard.record import dumps

REPAINT = "\x0c"
ENOUGH = 60
"""Repaints that no pty takes unless somebody reads them."""


def opened(path: Path, home: Path) -> Terminal:
    """The working screen on a record."""
    env = {"HOME": str(home), "XDG_STATE_HOME": str(home / "state")}
    return Terminal(["-m", "wizard", "open", str(path), "--by", "Tess Tester"], env=env)


@pytest.fixture
def terminal(home: Path) -> Iterator[Terminal]:
    """A new job, the first answer half typed."""
    program = opened(new_record(home), home)
    program.wait_for("item 1/")
    program.press("A")
    yield program
    program.close()


def stall(terminal: Terminal) -> None:
    """Fill the line until the program can write no more; nobody reads."""
    for _ in range(ENOUGH):
        terminal.send(REPAINT)
        time.sleep(0.02)


def draft(home: Path) -> str:
    """What is kept of the open field."""
    found = list((home / "state").rglob(f"{UUID}.toml"))
    return found[0].read_text("utf-8") if found else ""


def test_answers_are_saved_while_the_terminal_stands_still(terminal: Terminal, home: Path) -> None:
    stall(terminal)
    terminal.send("lder Creek\r2\r650 ft\r")
    end = time.monotonic() + 20
    while len(whole(home / f"{ID}.toml").job.answers) < 3:
        assert time.monotonic() < end
        time.sleep(0.05)
    terminal.wait_for("item 4/")
    seen = terminal.cells()
    terminal.press(REPAINT)
    assert terminal.cells() == seen


@pytest.mark.parametrize("how", ["closed", signal.SIGHUP, signal.SIGTERM])
def test_a_terminal_cut_while_it_stands_still_loses_nothing_typed(
    terminal: Terminal, home: Path, how: signal.Signals | str
) -> None:
    stall(terminal)
    terminal.send("lder Creek\r2\r65")
    time.sleep(1.0)
    if isinstance(how, signal.Signals):
        os.kill(terminal.pid, how)
    else:
        os.close(terminal.fd)
        terminal.fd = os.open(os.devnull, os.O_RDWR)
    path = home / f"{ID}.toml"
    wait_until_free(path)
    assert set(whole(path).job.answers) == {"job.site", "job.jurisdiction"}
    assert 'text = "65"' in draft(home)
    end = time.monotonic() + 10
    while not os.waitpid(terminal.pid, os.WNOHANG)[0]:
        assert time.monotonic() < end, "the program does not end"
        time.sleep(0.05)


def test_half_typed_text_outlives_a_kill_by_a_second(terminal: Terminal, home: Path) -> None:
    terminal.send("lder Cre")
    time.sleep(1.5)
    os.kill(terminal.pid, signal.SIGKILL)
    wait_until_free(home / f"{ID}.toml")
    again = opened(home / f"{ID}.toml", home)
    try:
        again.wait_for("This was being typed when the screen closed")
        assert "› Alder Cre" in again.text
    finally:
        again.close()


def test_a_record_changed_while_the_machine_slept_is_not_overwritten(
    terminal: Terminal, home: Path
) -> None:
    path = home / f"{ID}.toml"
    os.kill(terminal.pid, signal.SIGSTOP)
    other = home / "other.toml"
    other.write_bytes(dumps(demo_job("fifteen_hp", "site.ambient_min"), 9))
    shutil.move(other, path)
    before = path.read_bytes()
    time.sleep(1.0)
    os.kill(terminal.pid, signal.SIGCONT)
    terminal.send("lder Creek\r")
    terminal.wait_for("was changed by somebody else")
    assert path.read_bytes() == before
    aside = list(home.glob(f"{ID}.*.toml"))
    assert len(aside) == 1
    assert whole(aside[0]).job.answers["job.site"].raw == "Alder Creek"


def test_a_home_that_cannot_be_written_stops_no_work(home: Path) -> None:
    path = new_record(home)
    blocked = home / "file"
    blocked.write_text("not a folder")
    env = {"HOME": str(blocked), "XDG_STATE_HOME": str(blocked / "state"), "XDG_CACHE_HOME": ""}
    terminal = Terminal(["-m", "wizard", "open", str(path), "--by", "Tess Tester"], env=env)
    try:
        person = Technician(terminal, procedure(), scenario("fifteen_hp"))
        person.until(lambda: person.item() is not None)
        person.keys("Alder")
        time.sleep(1.0)
        person.keys("\r")
        person.until(lambda: person.place == (1, 2))
        assert person.leave() == 0
        assert whole(path).job.answers["job.site"].raw == "Alder"
    finally:
        terminal.close()
