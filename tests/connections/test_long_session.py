"""A day of keys in one session leaves nothing behind."""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.connections.records import demo_record
from tests.tui.terminal import KEYS, Terminal

MIB = 1024
WARM = 400
ROUND = (
    "3",
    "0",
    "left",
    "backspace",
    "7",
    "f1",
    "down",
    "tab",
    "up",
    "f1",
    "backspace",
    "backspace",
)
WANDER = ("pgdn", "pgdn", "f8", "down", "down", "pgdn", "pgup", "esc", "pgup", "pgup")
SAME = ("esc", "esc", "f8", "esc", "pgdn", "f6", "\x0c")
"""Back to where counting is done: the same list filled, the same item in front."""
PROMPT = ("f3", "n", "o", "t", "e", "esc", "f9", "down", "esc", "f10", "esc", "\x0c")
ESC_DELAY = 0.12


def resident(pid: int) -> int:
    """Memory of a process that is in use, in KiB."""
    rows = Path(f"/proc/{pid}/status").read_text().splitlines()
    return int(next(r for r in rows if r.startswith("VmRSS")).split()[1])


def objects(terminal: Terminal, file: Path) -> int:
    """How many objects the program holds."""
    file.unlink(missing_ok=True)
    os.kill(terminal.pid, signal.SIGUSR1)
    end = time.monotonic() + 20
    while not file.exists():
        assert time.monotonic() < end
        terminal.read(0.05)
    return int(file.read_text())


def press(terminal: Terminal, keys: Sequence[str]) -> None:
    """Press keys as they are used up; Esc stands alone, as a hand presses it."""
    for key in keys:
        terminal.send(KEYS.get(key, key))
        if key == "esc":
            time.sleep(ESC_DELAY)
        terminal.read(0.001)


def spend(terminal: Terminal, count: int, chance: random.Random) -> None:
    """So many keys, typed, looked up, asked and walked about with, accepting nothing."""
    pressed = 0
    while pressed < count:
        keys = chance.choice((ROUND, ROUND, ROUND, ROUND, WANDER, PROMPT))
        press(terminal, keys)
        pressed += len(keys)
    press(terminal, SAME)
    terminal.settle(1.0)


def session(home: Path, keys: int, most_kib: int, most_objects: int) -> None:
    """Count before and after, once everything has been used once."""
    path = demo_record(home, "fifteen_hp_held", "hose.working_pressure")
    file, chance = home / "count", random.Random(11)
    env = {"HOME": str(home), "XDG_STATE_HOME": str(home / "state")}
    words = ["-m", "tests.connections.counted", str(file), "open", str(path), "--by", "Tess Tester"]
    terminal = Terminal(words, env=env)
    try:
        terminal.wait_for("item 6/")
        spend(terminal, WARM, chance)
        before = objects(terminal, file), resident(terminal.pid)
        spend(terminal, keys, chance)
        after = objects(terminal, file), resident(terminal.pid)
        assert "HELD in phase 11" in terminal.text
    finally:
        terminal.close()
    grown, kib = after[0] - before[0], after[1] - before[1]
    print(f"{keys} keys: {grown:+d} of {before[0]} objects, {kib / MIB:+.2f} MiB")
    assert grown <= most_objects
    assert kib <= most_kib


def test_eight_hundred_keys_leave_nothing(home: Path) -> None:
    session(home, 800, 2 * MIB, 800)


@pytest.mark.slow
def test_ten_thousand_keys_leave_nothing(home: Path) -> None:
    session(home, 10_000, 3 * MIB, 800)
