"""The review in a real terminal: processes beside the screen, keys that cost little, no rest."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from tests.demo.fleet import sibling
from tests.store.hostile import NASTY
from tests.test_record import sealed
from tests.tui.terminal import Terminal
from wizard.practice.record import dumped, new_record
from wizard.record import dumps

MOST_A_KEY, MOST_AN_ACT = 400, 1500
COUNT = 12
FILES = COUNT + 1
HARMS = (b"\x1b]0;title", b"\x1b]52", "\u202e".encode(), b"\x9b2J")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """More jobs than are looked at without other processes, one with hostile text, and a training
    record of a hostile name."""
    place = tmp_path_factory.mktemp("jobs")
    rng = random.Random(2)
    for number in range(1, COUNT + 1):
        job = sibling("five_hp", number, rng)
        data = dumps(job, 1)
        if number == 1:
            said = "".join(f"\\u{ord(c):04x}" for c in "".join(NASTY) if ord(c) < 0x10000)
            data = sealed(data.decode().replace(job.answers["machine.label"].raw, said))
        (place / f"{job.header.id}.toml").write_bytes(data)
    said = "".join(f"\\U{ord(c):08x}" for c in "".join(NASTY)[:80])
    trained = dumped(new_record("Ada", date(2026, 3, 1)))
    (place / "TRAINED.toml").write_text(trained.replace("Ada", said))
    return place


@pytest.fixture
def terminal(folder: Path, tmp_path: Path) -> Iterator[Terminal]:
    """The program, once everything is verified."""
    homes = {f"XDG_{n}_HOME": str(tmp_path / n.lower()) for n in ("STATE", "CACHE", "CONFIG")}
    shown = Terminal(["-m", "wizard", "review", str(folder), "--by", "Lea"], env=homes)
    try:
        shown.wait_for(f"{FILES} shown")
        end = time.monotonic() + 60
        while "verified" in shown.text and time.monotonic() < end:
            shown.settle()
        yield shown
    finally:
        shown.close()


def test_all_is_verified_by_other_processes_and_nothing_hostile_gets_out(
    terminal: Terminal,
) -> None:
    assert "1 not sound" in terminal.lines[0] and "verified" not in terminal.text
    assert terminal.text.count("finished") >= COUNT - 1
    assert not any(harm in terminal.raw for harm in HARMS)


def test_a_training_record_is_read_on_a_page_and_nothing_hostile_gets_out(
    terminal: Terminal,
) -> None:
    terminal.press("pgdn", "pgdn")
    costs = [terminal.press("up"), terminal.press("down")]
    assert max(costs) <= MOST_A_KEY, costs
    terminal.press("enter")
    terminal.wait_for("begun 2026-03-01.")
    assert not any(harm in terminal.raw for harm in HARMS)
    assert terminal.settle(2.0) == 0
    terminal.press("esc")
    terminal.wait_for(f"{FILES} shown")


def test_a_key_costs_little_and_rest_costs_nothing(terminal: Terminal) -> None:
    terminal.press("down")
    costs = [terminal.press(key) for key in ("down", "down", "up", "down")]
    assert max(costs) <= MOST_A_KEY, costs
    assert terminal.settle(2.0) == 0


def test_a_job_is_entered_and_left_and_the_row_is_still_marked(terminal: Terminal) -> None:
    terminal.press("down", "down")
    marked = next(row for row in terminal.lines if row.startswith("►"))
    terminal.press("enter")
    terminal.wait_for("READ ONLY")
    terminal.press("esc")
    terminal.wait_for(f"{FILES} shown")
    terminal.settle()
    assert marked in terminal.lines


def test_asking_about_a_missing_file_costs_little(terminal: Terminal, folder: Path) -> None:
    path = folder / "F005.toml"
    data = path.read_bytes()
    path.unlink()
    try:
        terminal.press("f6")
        terminal.wait_for("1 missing")
        terminal.settle()
        costs = [terminal.press(key) for key in ("m", "n")]
        assert max(costs) <= MOST_A_KEY, costs
        assert terminal.press("esc") <= MOST_AN_ACT
        terminal.press("m", "y")
        assert terminal.press("enter") <= MOST_AN_ACT
        terminal.settle()
        assert "missing" not in terminal.text
    finally:
        path.write_bytes(data)


def test_leaving_while_it_is_looked_at_ends_the_program(folder: Path, tmp_path: Path) -> None:
    homes = {f"XDG_{n}_HOME": str(tmp_path / n.lower()) for n in ("STATE", "CACHE", "CONFIG")}
    shown = Terminal(["-m", "wizard", "review", str(folder)], env=homes)
    try:
        shown.wait_for("shown:")
        shown.press("f10", "enter")
        assert shown.wait(30) == 0
    finally:
        shown.close()
