"""What practice costs over a slow link: the real program in a pty, at 80 columns and 24 rows."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.tui.terminal import KEYS, Terminal

A_KEY, AN_ITEM, A_LOOK, A_START, A_SECOND = 400, 1500, 4000, 20_000, 400


@pytest.fixture
def terminal(tmp_path: Path) -> Iterator[Terminal]:
    """The practice screen on a machine with nothing wrong."""
    env = {"HOME": str(tmp_path), "XDG_STATE_HOME": str(tmp_path / "state")}
    program = Terminal(["-m", "wizard", "practise", "nothing_wrong", "--learner", "Ada"], env=env)
    program.wait_for("Enter goes on")
    yield program
    program.close()


def on_site(terminal: Terminal) -> None:
    """Past the briefing."""
    terminal.press("enter")
    terminal.wait_for("open before the start")
    terminal.settle(0.5)


def marked(terminal: Terminal) -> str:
    """The chosen row of a list."""
    found = (r.partition("│")[2] or r for r in terminal.lines[4:])
    return next((r for r in found if r.lstrip().startswith("►")), "")


def pick(terminal: Terminal, key: str, words: str) -> int:
    """Take a row of a list; what the first step down costs."""
    terminal.press(key)
    first = terminal.press("down")
    terminal.press("up")
    for _ in range(60):
        if words in marked(terminal):
            break
        terminal.send(KEYS["down"])
        terminal.settle(0.04)
    terminal.press("enter")
    return first


def during(terminal: Terminal, seconds: float) -> int:
    """Bytes that come by themselves."""
    count, end = 0, time.monotonic() + seconds
    while time.monotonic() < end:
        count += len(terminal.read(0.2))
    return count


def test_a_start_a_look_a_key_and_an_answer_cost_little(terminal: Terminal) -> None:
    assert len(terminal.raw) <= A_START
    on_site(terminal)
    assert len(terminal.raw) <= A_START
    assert pick(terminal, "f2", "Stamp on the relief valve") <= A_KEY
    assert "150 psi" in terminal.text
    for char in "1":
        assert terminal.press(char) <= A_KEY
    assert terminal.press("enter") <= AN_ITEM
    for char in "150 psi":
        assert terminal.press(char) <= A_KEY
    assert terminal.press("backspace") <= A_KEY
    assert terminal.press("enter") <= AN_ITEM
    assert terminal.press("esc") <= A_LOOK
    assert terminal.press("f4") <= A_LOOK


def test_nothing_is_sent_while_time_stands(terminal: Terminal) -> None:
    on_site(terminal)
    assert during(terminal, 3.0) == 0
    pick(terminal, "f2", "Oil level")
    assert during(terminal, 2.0) == 0


def test_a_needle_that_moves_is_one_small_update_a_second(terminal: Terminal) -> None:
    on_site(terminal)
    pick(terminal, "f3", "Take your lock off")
    terminal.press("y", "enter")
    pick(terminal, "f3", "Switch at the machine: on")
    pick(terminal, "f2", "Test port of the tank")
    assert "RUNNING" in terminal.text
    during(terminal, 1.0)
    sent = during(terminal, 8.0)
    assert 0 < sent <= 8 * A_SECOND
    assert terminal.press("f7") <= AN_ITEM
    assert "power on, still" in terminal.text


def test_a_lost_line_keeps_the_run(terminal: Terminal, tmp_path: Path) -> None:
    on_site(terminal)
    pick(terminal, "f2", "Oil level")
    os.kill(terminal.pid, signal.SIGKILL)
    env = {"HOME": str(tmp_path), "XDG_STATE_HOME": str(tmp_path / "state")}
    again = Terminal(["-m", "wizard", "practise", "--resume", "--learner", "Ada"], env=env)
    again.wait_for("0:00:20")
    again.press("f2", "pgdn")
    assert "● Oil level" in again.text
    again.close()
