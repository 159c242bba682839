"""The real program in a pty: bytes, picture, signals, colours, sizes."""

from __future__ import annotations

import os
import re
import signal
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from tests.connections.records import demo_record
from tests.tui.counting import A_KEY, A_START, AN_ITEM
from tests.tui.terminal import Terminal

UUID = "0" * 32


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder for the record and for what belongs to the user."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path


def small(home: Path, env: Mapping[str, str] | None = None) -> Terminal:
    """The program on the small procedure."""
    own = {"HOME": str(home), "XDG_STATE_HOME": str(home / "state")}
    return Terminal(["-m", "tests.tui.program", str(home / "T1.toml")], env=own | dict(env or {}))


@pytest.fixture
def terminal(home: Path) -> Iterator[Terminal]:
    """The small procedure, ready for keys."""
    program = small(home)
    program.wait_for("Phases of the motor")
    yield program
    program.close()


@pytest.fixture
def supply(home: Path) -> Iterator[Terminal]:
    """The shipped procedure at the three line voltages, all before them answered."""
    file = demo_record(home, "fifteen_hp", "supply.frequency")
    env = {"HOME": str(home), "XDG_STATE_HOME": str(home / "state")}
    program = Terminal(["-m", "wizard", "open", str(file), "--by", "Tess Tester"], env=env)
    program.wait_for("3 readings in V")
    yield program
    program.close()


def test_the_start_costs_little(terminal: Terminal) -> None:
    assert len(terminal.raw) <= A_START


def test_keys_with_band_and_verdict_cost_little(supply: Terminal) -> None:
    """All together, since on a busy machine the bytes of one key may come with the next; each by
    itself is held where time stands still, in test_budget."""
    keys = (*"462 470 455", "tab", "left", "backspace", "6")
    cost = sum(supply.press(key) for key in keys) + supply.settle(1.0)
    assert "L1-L2 462  L2-L3 470  L3-L1 465 V" in supply.text
    assert cost <= A_KEY * len(keys) / 2, cost


def test_an_accepted_item_costs_little(supply: Terminal) -> None:
    supply.send("460 461 459")
    supply.settle()
    assert supply.press("enter") <= AN_ITEM
    assert "Line voltage at the starter" not in supply.lines[3]


def test_nothing_is_sent_while_nothing_happens(supply: Terminal) -> None:
    supply.send("46")
    supply.settle(1.5)
    assert supply.settle(5.0) == 0


def test_the_picture_is_that_of_a_full_repaint(terminal: Terminal) -> None:
    terminal.press("2", "enter", "f1", "down", "f8", "down", "pgdn", "esc", "tab", "f1")
    terminal.press("4", "x", "enter", "backspace", "6", "0", "enter", "f9", "esc", "pgup", "9")
    seen = terminal.cells()
    before = len(terminal.raw)
    terminal.resize(82, 24)
    terminal.resize(80, 24)
    sent = bytes(terminal.raw[before:])
    assert all(f"\x1b[{row};1H".encode() in sent for row in range(1, 25))
    assert terminal.cells() == seen


def test_help_and_lists_cost_little(terminal: Terminal) -> None:
    assert terminal.press("f1") <= AN_ITEM
    assert terminal.press("down") <= AN_ITEM
    terminal.press("f1", "f8")
    assert terminal.press("down") <= A_KEY
    assert terminal.press("up") <= A_KEY


def test_in_a_terminal_that_is_too_small_text_is_kept_and_nothing_is_answered(
    terminal: Terminal, home: Path
) -> None:
    terminal.press("2", "enter")
    terminal.wait_for("Nameplate voltage")
    terminal.press("4")
    terminal.resize(59, 24)
    terminal.press("6", "enter", "7", "backspace", "0", "enter", "f7", "tab", "esc")
    assert "Text that is typed is kept; no other key does anything." in " ".join(terminal.lines)
    terminal.resize(80, 24)
    terminal.wait_for("› 460")
    assert "Nameplate voltage" in terminal.lines[3]
    terminal.resize(50, 15)
    terminal.press(" ", "V", "f10")
    assert terminal.wait() == 0
    again = small(home)
    try:
        again.wait_for("This was being typed when the screen closed")
        assert "› 460 V" in again.text
    finally:
        again.close()


@pytest.mark.parametrize("number", [signal.SIGHUP, signal.SIGTERM])
def test_a_signal_keeps_the_draft_and_gives_the_record_back(
    terminal: Terminal, home: Path, number: signal.Signals
) -> None:
    terminal.press("2", "enter", "4", "6")
    os.kill(terminal.pid, number)
    assert terminal.wait() == 128 + number
    again = small(home)
    try:
        again.wait_for("This was being typed when the screen closed")
        assert "› 46" in again.text and "READ ONLY" not in again.text
    finally:
        again.close()


def test_a_closed_terminal_ends_the_program_in_order(terminal: Terminal, home: Path) -> None:
    terminal.press("2", "enter", "4", "6")
    os.close(terminal.fd)
    _, status = os.waitpid(terminal.pid, 0)
    assert os.waitstatus_to_exitcode(status) == 128 + signal.SIGHUP
    terminal.fd = os.open(os.devnull, os.O_RDWR)
    drafts = list((home / "state").rglob(f"{UUID}.toml"))
    assert drafts and 'text = "46"' in drafts[0].read_text("utf-8")


def test_a_second_window_reads_and_says_who_has_the_record(terminal: Terminal, home: Path) -> None:
    other = small(home)
    try:
        other.wait_for("Read only:")
        assert "READ ONLY" in other.text and "Tess Tester" in other.text
        terminal.press("2", "enter")
        other.wait_for("Answered three")
    finally:
        other.close()


def test_quitting_asks_and_leaves_the_terminal_as_it_was(terminal: Terminal) -> None:
    terminal.press("f10")
    assert "Quit? Everything accepted is saved." in terminal.text
    terminal.press("esc", "1", "f10", "enter")
    assert terminal.wait() == 0
    assert b"\x1b[?1049l" in terminal.raw and b"\x1b[?25h" in terminal.raw


COLOUR = re.compile(rb"\x1b\[[0-9;]*m")


def test_no_color_sends_no_colour(home: Path) -> None:
    program = small(home, env={"NO_COLOR": "1"})
    try:
        program.wait_for("Phases of the motor")
        program.press("2", "enter", "x", "enter")
        codes = {c for m in COLOUR.findall(bytes(program.raw)) for c in m[2:-1].split(b";")}
        assert codes <= {b"", b"0", b"1", b"4", b"7", b"22", b"24", b"27"}
    finally:
        program.close()


def test_a_locale_without_utf_8_gets_ascii(home: Path) -> None:
    env = {"LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}
    program = small(home, env=env)
    try:
        program.wait_for("Phases of the motor")
        program.press("2", "enter", "f8")
        assert bytes(program.raw).isascii()
        assert "item" in program.text
    finally:
        program.close()


def test_a_terminal_that_is_too_small_says_so(terminal: Terminal) -> None:
    terminal.resize(50, 15)
    assert "60 by 20 cells are needed; this terminal has 50 by 15." in " ".join(terminal.lines)
    terminal.resize(60, 20)
    assert "Phases of the motor" in terminal.text and "F10 quit" in terminal.text
    terminal.resize(200, 60)
    assert "Usual mistake" in terminal.text or "F10 quit" in terminal.text


def test_typing_ahead_over_a_slow_link_loses_no_key(terminal: Terminal) -> None:
    terminal.send("2\r460\rShed 4\ry\r1\r4\r")
    terminal.wait_for("Phase 3/3")
    terminal.press("f8")
    assert "460 V" in terminal.text and "Shed 4" in terminal.text
