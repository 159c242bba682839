"""Over a line that is slow, late and stalls, every key counts; at worst 2 kB a second, 300 ms."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.connections.records import demo_record, new_record, whole
from tests.connections.technician import Technician
from tests.demo.maker import commission, scenario
from tests.tui.terminal import Terminal
from wizard.procedure import procedure

Line = tuple[str, ...]

FIELD = ("--delay", "0.3", "--rate", "2000", "--stalls", "0.02")
OFFICE = ("--delay", "0.1", "--rate", "8000", "--stalls", "0.02")
LINES = (pytest.param(OFFICE, id="office"), pytest.param(FIELD, id="field", marks=pytest.mark.slow))
PATIENCE = 60.0


@contextmanager
def far_away(path: Path, home: Path, line: Line) -> Iterator[Technician]:
    """The program at the far end of a slow line."""
    program = (sys.executable, "-m", "wizard", "open", str(path), "--by", "Tess Tester")
    terminal = Terminal(
        ["-m", "tests.connections.throttle", *line, "--", *program],
        env={"HOME": str(home), "XDG_STATE_HOME": str(home / "state")},
    )
    try:
        person = Technician(terminal, procedure(), scenario("fifteen_hp"))
        person.until(lambda: person.item() is not None, PATIENCE)
        yield person
    finally:
        terminal.close()


def right_at_the_end(person: Technician) -> None:
    """The picture is that of a full repaint."""
    terminal = person.terminal
    terminal.settle(2.0)
    seen, sent = terminal.cells(), len(terminal.raw)
    terminal.send("\x0c")
    terminal.settle(2.0)
    assert len(terminal.raw) - sent > 1000
    assert terminal.cells() == seen


@pytest.mark.parametrize("line", LINES)
def test_a_phase_typed_ahead_arrives_whole(home: Path, line: Line) -> None:
    given = scenario("fifteen_hp")
    after = commission("AFTER", given, until="foot.locked_all")
    phase = [i for i in after.applicable if i.phase == 6]
    path = demo_record(home, "fifteen_hp", "floor.strength")
    with far_away(path, home, line) as person:
        person.keys(*(key for item in phase for key in (person.text(item), "enter")))
        person.until(lambda: person.place[0] == 7, PATIENCE)
        answers = whole(path).job.answers
        assert [answers[i.key].value for i in phase] == [after.answers[i.key].value for i in phase]
        right_at_the_end(person)


@pytest.mark.slow
@pytest.mark.parametrize("line", LINES)
def test_keys_pressed_faster_than_the_line_carries_them_are_all_there(
    home: Path, line: tuple[str, ...]
) -> None:
    text = "".join(f"{n:03d} " for n in range(90)).strip()
    path = new_record(home)
    with far_away(path, home, line) as person:
        first = person.item()
        assert first is not None
        for char in text:
            person.keys(char)
        person.keys("enter")
        person.until(lambda: person.item() not in (None, first), PATIENCE)
        assert whole(path).job.answers[first.key].raw == text
        for width, height in ((100, 30), (60, 20), (200, 60), (80, 24)):
            person.keys("f1")
            person.terminal.resize(width, height)
        person.keys(*["f8", "pgdn", "pgdn", "esc", "f1", "down", "tab", "f1", "f9", "down", "esc"])
        right_at_the_end(person)
