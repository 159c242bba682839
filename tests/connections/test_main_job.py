"""The whole main job through the real program, by keys, at 80x24: held at the hose, then done."""

from __future__ import annotations

import re
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.connections.conversation import Conversation
from tests.connections.multiplexer import Multiplexer, missing
from tests.connections.records import whole
from tests.connections.server import Server
from tests.connections.technician import Technician
from tests.demo.maker import commission, scenario
from tests.tui.terminal import Terminal
from wizard.job import Act
from wizard.procedure import procedure

WEAK, STRONG = scenario("fifteen_hp_held"), scenario("fifteen_hp")
HOSE = ("hose.burst", "hose.working_pressure")
MOST_ITEMS = 900
SGR = re.compile(rb"\x1b\[([0-9;]+)m")
NOTED = 1
"""Exit status of a finished job with advisories, each of them noted."""
END = "\x1b[F"


def wizard(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """A command of the program, beside the screens."""
    env = {"HOME": str(home), "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8"}
    return subprocess.run(
        [sys.executable, "-m", "wizard", *words],
        capture_output=True,
        text=True,
        env=env,
        cwd=Path(__file__).parents[2],
        timeout=60,
        check=False,
    )


def work_until(person: Technician, word: str) -> None:
    """Answer what is asked, with the notes that are wanted, until the top row has the word."""
    while word not in person.head:
        assert len(person.answered) < MOST_ITEMS
        key = person.answer()
        if key in person.given.notes:
            person.note(person.given.notes[key])


def replace_the_hose(person: Technician) -> None:
    """What the hold asks for: another hose, read and entered anew."""
    person.until(lambda: person.shows("HELD in phase 11  by this item"))
    person.until(lambda: person.shows("Clears: Fit a hose"))
    assert person.shows("FAIL, holds the job")
    person.keys("f8")
    person.until(lambda: person.shows("All items"))
    person.keys(END, "enter")
    person.until(lambda: person.place[0] == 15 and person.shows("Not yet: Held in phase 11"))
    person.given = STRONG
    for key in HOSE:
        person.go_to(key)
        person.correct(STRONG.answers[key], "Hose replaced")
    person.until(lambda: not person.shows("HELD"))


def main_job(person: Technician) -> None:
    """From the first item to the summary."""
    work_until(person, "HELD")
    assert person.answered[-1] == "hose.working_pressure"
    replace_the_hose(person)
    work_until(person, "FINISHED")
    person.until(lambda: person.shows("The job is finished"))
    assert person.leave() == 0


def checked(home: Path, path: Path) -> None:
    """The record says the same, to the program and to whoever reads it."""
    told = wizard(home, "check", str(path))
    assert told.returncode == NOTED
    assert told.stdout.startswith(f"{path.stem}  FINISHED"), told.stdout[:300] + told.stderr
    job, expected = whole(path).job, commission("EXPECTED", STRONG)
    values = {k: a.value for k, a in job.answers.items()}
    assert values == {k: a.value for k, a in expected.answers.items()}
    assert [e.key for e in job.events if e.act is Act.CORRECTED] == list(HOSE)
    assert [e.act for e in job.events if e.act.startswith("hold")] == [
        "hold raised",
        "hold cleared",
    ]


def open_words(home: Path) -> Sequence[str]:
    """Make the record with the program, and say how it is opened."""
    made = wizard(home, "new", "J1042", "--folder", str(home), "--by", "Tess Tester")
    assert made.returncode == 0, made.stderr
    return ("-m", "wizard", "open", str(home / "J1042.toml"), "--by", "Tess Tester")


def test_the_main_job_by_keys(home: Path) -> None:
    start = time.monotonic()
    terminal = Terminal([*open_words(home)], env={"HOME": str(home), "XDG_CACHE_HOME": ""})
    try:
        person = Technician(terminal, procedure(), WEAK)
        main_job(person)
    finally:
        terminal.close()
    checked(home, home / "J1042.toml")
    print(
        f"{len(person.answered)} items by keys in {time.monotonic() - start:.0f} s, "
        f"{len(terminal.raw) / len(person.answered):.0f} bytes each"
    )


@pytest.mark.slow
def test_the_main_job_line_by_line_on_a_dumb_terminal(home: Path) -> None:
    terminal = Terminal([*open_words(home)], env={"HOME": str(home), "TERM": "dumb"})
    try:
        person = Conversation(terminal, procedure(), WEAK)
        person.listen()
        while "HELD in phase 11" not in person.told:
            assert len(person.answered) < MOST_ITEMS
            _answer_in_words(person)
        assert person.answered[-1] == "hose.working_pressure"
        person.say("g handover.statement")
        assert "Held in phase 11" in person.told
        person.given = STRONG
        for key in HOSE:
            person.say(f"g {key}")
            person.say(STRONG.answers[key])
            person.say("Hose replaced")
        while "items open." not in person.told:
            assert len(person.answered) < MOST_ITEMS
            _answer_in_words(person)
        assert "J1042: finished, 0 items open." in person.told
        assert terminal.wait() == NOTED
    finally:
        terminal.close()
    assert b"\x1b" not in terminal.raw
    checked(home, home / "J1042.toml")


def _answer_in_words(person: Conversation) -> None:
    key = person.answer()
    if "An advisory wants a note" in person.told.splitlines()[-1]:
        person.say(person.given.notes[key])


@pytest.mark.slow
def test_the_main_job_in_the_sixteen_colours_of_a_console(home: Path) -> None:
    words = [*open_words(home), "--look", "terminal", "--no-mouse"]
    terminal = Terminal(words, env={"HOME": str(home), "TERM": "linux", "COLORTERM": ""})
    try:
        main_job(Technician(terminal, procedure(), WEAK))
    finally:
        terminal.close()
    codes = {code for found in SGR.findall(bytes(terminal.raw)) for code in found.split(b";")}
    assert not codes & {b"38", b"48"}
    checked(home, home / "J1042.toml")


@pytest.mark.slow
def test_the_main_job_over_ssh_on_a_slow_line(server: Server, home: Path) -> None:
    line = "--delay 0.3 --rate 2000 --stalls 0.02"
    proxy = f"{sys.executable} -m tests.connections.throttle {line} --to {server.port}"
    options = ("-C", "-o", f"ProxyCommand={proxy}")
    terminal = server.login_with(options, home, *open_words(home))
    try:
        main_job(Technician(terminal, procedure(), WEAK))
    finally:
        terminal.close()
    checked(home, home / "J1042.toml")


@pytest.mark.slow
@pytest.mark.skipif(bool(missing()), reason=missing())
def test_the_main_job_in_tmux(home: Path) -> None:
    window = Multiplexer(home, open_words(home), kind="tmux-256color")
    terminal = window.attach()
    try:
        main_job(Technician(terminal, procedure(), WEAK))
    finally:
        terminal.close()
        window.stop()
    checked(home, home / "J1042.toml")
