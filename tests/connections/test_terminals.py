"""In every terminal, at every size: no exception, no garbage, no control from a record."""

from __future__ import annotations

import os
import random
import re
import signal
import time
from collections.abc import Mapping
from functools import partial
from pathlib import Path

import pytest

from tests.connections.records import ID, UUID, demo_record, new_record
from tests.connections.technician import Technician
from tests.demo.maker import START, scenario
from tests.store.hostile import NASTY
from tests.tui.terminal import Terminal
from wizard.job import Act, Event, Header, Job
from wizard.procedure import procedure
from wizard.record import dumps

PLAIN_C = {"LANG": "C", "LC_ALL": "C", "PYTHONCOERCECLOCALE": "0", "PYTHONUTF8": "0"}
COERCED = {"LANG": "C"}
UTF8 = {"LANG": "C.UTF-8"}
KINDS = ("xterm-256color", "linux", "screen-256color", "tmux-256color", "vt220", "xterm", "unheard")
QUICK = (
    pytest.param({"TERM": "linux", "COLORTERM": "", **PLAIN_C}, id="linux C"),
    pytest.param({"TERM": "vt220", "NO_COLOR": "1", "COLORTERM": ""}, id="vt220 no colour"),
    pytest.param({"TERM": "screen-256color", **COERCED}, id="screen, C taken for UTF-8"),
)
REST = [
    pytest.param(
        {"TERM": kind, "COLORTERM": "", **locale, **colour},
        id=f"{kind} {locale['LANG']}{' no colour' if colour else ''}",
        marks=pytest.mark.slow,
    )
    for kind in KINDS
    for locale in (UTF8, PLAIN_C)
    for colour in ({}, {"NO_COLOR": "1"})
]
SGR = re.compile(rb"\x1b\[([0-9;]+)m")
SIZES = ((60, 20), (80, 24), (120, 40), (200, 60))
SEQUENCE = re.compile(r"\x1b(?:\[[0-9;?<>=]*\$?[A-Za-z]|\]22;default\x07|[=>78])")
"""What the screens send on purpose: cursor, colours, modes, the shape of the pointer."""
DOWN, PAGE_DOWN = "\x1b[B", "\x1b[6~"


def opened(path: Path, home: Path, env: Mapping[str, str] | None = None) -> Terminal:
    """The working screen on a record."""
    return Terminal(
        ["-m", "wizard", "open", str(path), "--by", "Tess Tester"],
        env={"HOME": str(home), "XDG_STATE_HOME": str(home / "state"), **(env or {})},
    )


def clean(terminal: Terminal) -> None:
    """Nothing went to the terminal but text that can be seen and sequences of the screen's own."""
    text = SEQUENCE.sub("", bytes(terminal.raw).decode("utf-8"))
    odd = sorted({c for c in text if not c.isprintable() and c not in "\r\n"})
    assert not odd, [f"U+{ord(c):04X}" for c in odd]
    assert "\ufffd" not in text and "Traceback" not in text


def tour(person: Technician) -> None:
    """Every list and page of the working screen, by its keys."""
    for key, words in (("f1", "Why"), ("f8", "All items"), ("f9", "Commands")):
        shown, gone = partial(person.shows, words), partial(person.lacks, words)
        person.keys(key)
        person.until(shown)
        person.keys(DOWN, PAGE_DOWN, "f1" if key == "f1" else "esc")
        person.until(gone)


def grown(person: Technician, width: int, height: int, shown: str) -> None:
    """Give the terminal another size, and wait for what it then shows."""
    terminal = person.terminal
    terminal.screen.resize(height, width)
    terminal._set_size((width, height))
    os.kill(terminal.pid, signal.SIGWINCH)
    person.until(lambda: person.shows(shown))


@pytest.mark.parametrize("env", [*QUICK, *REST])
def test_every_terminal_is_served(home: Path, env: Mapping[str, str]) -> None:
    path = demo_record(home, "fifteen_hp_held", "hose.working_pressure")
    terminal = opened(path, home, env)
    try:
        terminal.wait_for("HELD in phase 11")
        person = Technician(terminal, procedure(), scenario("fifteen_hp"))
        tour(person)
        for width, height in SIZES:
            grown(person, width, height, "HELD in phase 11")
            person.until(lambda: terminal.lines[-1].endswith("F10 quit"))
        grown(person, 59, 19, "this terminal has 59 by 19.")
        person.until(lambda: not any(terminal.lines[2:]))
        grown(person, 80, 24, "HELD in phase 11")
        assert person.leave() == 0
        clean(terminal)
        if "NO_COLOR" in env:
            codes = {c for found in SGR.findall(bytes(terminal.raw)) for c in found.split(b";")}
            assert not {c for c in codes if c[:1] in b"34" and len(c) == 2}
        if env.get("LC_ALL") == "C":
            assert bytes(terminal.raw).isascii()
    finally:
        terminal.close()


@pytest.mark.parametrize("seed", [7, *(pytest.param(n, marks=pytest.mark.slow) for n in range(6))])
def test_a_storm_of_sizes_while_typing_loses_no_key(home: Path, seed: int) -> None:
    chance = random.Random(seed)
    terminal = opened(new_record(home), home)
    try:
        terminal.wait_for("item 1/")
        person = Technician(terminal, procedure(), scenario("fifteen_hp"))
        typed = "".join(chance.choice("abcdefghij") for _ in range(50))
        for char in typed:
            terminal._set_size((chance.randint(20, 200), chance.randint(5, 60)))
            os.kill(terminal.pid, signal.SIGWINCH)
            terminal.send(char)
            time.sleep(0.01)
            terminal.read(0)
        terminal.resize(79, 24)
        terminal.resize(80, 24)
        person.until(lambda: person.field == typed)
        terminal.settle(1.0)
        seen = terminal.cells()
        terminal.press("\x0c")
        assert terminal.cells() == seen
        clean(terminal)
    finally:
        terminal.close()


def hostile_job() -> Job:
    """A job whose every text is made to fool a terminal."""
    job = Job.new(Header(ID, UUID, START, "us"), procedure())
    texts = [i.key for i in procedure().items.values() if i.kind == "write" and i.phase == 1]
    for number, text in enumerate(NASTY):
        key = texts[number % len(texts)]
        act, data = Act.NOTED, {"text": text}
        if number < len(texts):
            act, data = Act.ANSWERED, {"raw": text, "value": text}
        job = job.apply(Event(job.next_seq, act, START, text, key, data))
    return job


def test_nothing_in_a_record_reaches_the_terminal_as_control(home: Path) -> None:
    path = home / f"{ID}.toml"
    path.write_bytes(dumps(hostile_job(), 1))
    terminal = opened(path, home)
    try:
        terminal.wait_for("F10 quit")
        person = Technician(terminal, procedure(), scenario("fifteen_hp"))
        person.until(lambda: person.item() is not None)
        for _ in range(12):
            terminal.send("\x1b[5~")
            terminal.send("\x1bOP")
        terminal.settle()
        tour(person)
        terminal.press("f7")
        terminal.press("esc")
        clean(terminal)
        assert person.leave() == 0
    finally:
        terminal.close()


def test_a_hostile_paste_becomes_text_on_one_line(home: Path) -> None:
    terminal = opened(new_record(home), home)
    try:
        terminal.wait_for("item 1/")
        person = Technician(terminal, procedure(), scenario("fifteen_hp"))
        pasted = "".join(t for t in NASTY if "\x1b" not in t)
        terminal.send(f"\x1b[200~{pasted}\x1b[201~")
        terminal.wait_for("[bold red]PASS[/]")
        assert person.place == (1, 1)
        clean(terminal)
    finally:
        terminal.close()


@pytest.mark.parametrize("name", ["no such file", "locked away", "not a job"])
def test_what_cannot_be_opened_is_said_in_one_sentence(home: Path, name: str) -> None:
    path = home / f"{ID}.toml"
    if name == "locked away":
        path.mkdir()
    elif name == "not a job":
        path.write_bytes(b"\x1b]0;title\x07 = 1\n")
    terminal = opened(path, home)
    try:
        assert terminal.wait() == 3
        said = bytes(terminal.raw).decode().rpartition("\x1b[<u")[2]
        assert SEQUENCE.sub("", said).strip().count("\n") == 0
        assert said.rstrip().endswith(".")
        clean(terminal)
    finally:
        terminal.close()


def test_keys_pressed_before_the_job_is_there_are_kept_for_it(home: Path) -> None:
    terminal = opened(new_record(home), home)
    try:
        while b"commissioning" not in terminal.raw:
            terminal.read(0.05)
        terminal.send("nopr Alder Creek\r2\r")
        terminal.wait_for("item 3/")
        terminal.send("\x1b[5~\x1b[5~")
        terminal.wait_for("Answered nopr Alder Creek")
    finally:
        terminal.close()


def test_a_terminal_that_was_too_small_goes_on_where_it_was(home: Path) -> None:
    terminal = opened(new_record(home), home)
    try:
        terminal.wait_for("item 1/")
        terminal.press("A")
        terminal.resize(50, 15)
        terminal.send("lder Creek")
        terminal.resize(80, 24)
        terminal.wait_for("› Alder Creek")
        terminal.resize(50, 15)
        terminal.press("f10")
        assert terminal.wait() == 0
    finally:
        terminal.close()
