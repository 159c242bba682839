"""In tmux: the picture is right, the work outlives the window and the server's end."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.connections.multiplexer import Multiplexer, missing
from tests.connections.records import new_record, wait_until_free, whole

pytestmark = pytest.mark.skipif(bool(missing()), reason=missing())


KINDS = ("tmux-256color", pytest.param("screen-256color", marks=pytest.mark.slow))


@pytest.fixture(params=KINDS)
def window(request: pytest.FixtureRequest, home: Path) -> Iterator[Multiplexer]:
    """The working screen in a window of 80x24."""
    path = new_record(home)
    program = ("-m", "wizard", "open", str(path), "--by", "Tess Tester")
    running = Multiplexer(home, program, kind=request.param)
    try:
        running.wait_for("item 1/")
        yield running
    finally:
        running.stop()


def record(window: Multiplexer) -> Path:
    """The job file."""
    return window.home / "J1042.toml"


def seen(window: Multiplexer) -> list[list[tuple[str, ...]]]:
    """What an eye sees in a terminal attached anew: a blank has a ground and no ink."""
    terminal = window.attach()
    try:
        terminal.wait_for("F10 quit")
        return [
            [
                (data, bg, f"{reverse}", "" if data == " " else f"{fg} {bold}")
                for data, fg, bg, bold, reverse in row
            ]
            for row in terminal.cells()
        ]
    finally:
        terminal.close()


def test_tmux_shows_what_a_full_repaint_shows(window: Multiplexer) -> None:
    window.keys("Alder Creek", "Enter", "2", "Enter", "650 ft", "Enter", "F1", "Down", "F8")
    window.wait_for("All items")
    window.keys("Down", "PageDown", "Escape")
    window.wait_for("item 4/")
    window.keys("5", "5", "BSpace")
    window.wait_for("› 5")
    before = seen(window)
    window.keys("C-l")
    window.wait_for("› 5")
    assert seen(window) == before


def test_the_work_goes_on_without_a_terminal(window: Multiplexer) -> None:
    terminal = window.attach()
    terminal.wait_for("item 1/")
    terminal.send("Alder Creek\r2")
    terminal.wait_for("European Union")
    os.kill(terminal.pid, signal.SIGKILL)
    terminal.close()
    window.keys("Enter")
    window.wait_for("item 3/")
    terminal = window.attach()
    try:
        terminal.wait_for("item 3/")
        terminal.send("650 ft\r")
        terminal.wait_for("item 4/")
        terminal.send("\x02d")
        assert terminal.wait() == 0
    finally:
        terminal.close()
    answers = whole(record(window)).job.answers
    assert [answers[k].raw for k in ("job.site", "job.jurisdiction", "site.elevation")] == [
        "Alder Creek",
        "2",
        "650 ft",
    ]


def test_the_end_of_the_server_keeps_what_was_being_typed(window: Multiplexer) -> None:
    window.keys("Alder Creek", "Enter", "2", "Enter", "65")
    window.wait_for("› 65")
    window.run("kill-server")
    wait_until_free(record(window))
    assert set(whole(record(window)).job.answers) == {"job.site", "job.jurisdiction"}
    program = ("-m", "wizard", "open", str(record(window)), "--by", "Tess Tester")
    again = Multiplexer(window.home, program, kind="tmux-256color")
    try:
        shown = again.wait_for("This was being typed when the screen closed")
        assert "› 65" in shown
    finally:
        again.stop()
