"""Times and series taken while a clock runs."""

from __future__ import annotations

import pytest

from tests.dialogue.person import PLATES, Person
from wizard.commands.dialogue import talk
from wizard.event import Act


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """A clock that is set by hand; it moves on by itself by a second a look."""
    seconds = [1000.0]

    def look() -> dict[str, object]:
        seconds[0] += 1.0
        return {"monotonic": seconds[0], "boot": "b" * 8}

    monkeypatch.setattr(talk, "monotonic", look)
    return seconds


def test_enter_starts_and_stops_the_stopwatch(person: Person, clock: list[float]) -> None:
    told = person.type(*PLATES, "0 psi", "", "", "")
    assert "Enter starts the stopwatch, or type the time." in told
    assert "Started." in told
    offered = ["Stopwatch at 0:01, Enter stops> ", "Enter takes it, or type another> "]
    assert person.prompts[-3:-1] == offered
    assert person.job.answers["vent.time"].value == 2.0
    assert [e.act for e in person.job.events if e.key == "vent.time"][:2] == [
        Act.TIMER_STARTED,
        Act.TIMER_STOPPED,
    ]


def test_another_time_can_be_typed_instead(person: Person, clock: list[float]) -> None:
    person.type(*PLATES, "0 psi", "w", "w", "15 s", "q")
    assert person.job.answers["vent.time"].value == 15.0


def test_a_series_takes_readings_while_it_runs(person: Person, clock: list[float]) -> None:
    told = person.type(*PLATES, "0 psi", "12", "", "100", "112 psi", "x7", "120", "", "")
    assert "Reading 2: 112 psi" in told
    assert told.count("Reading ") == 3
    value = person.job.answers["pump.series"].value
    assert isinstance(value, tuple)
    assert [r for _, r in value] == [100.0, 112.0, 120.0]  # type: ignore[misc]


def test_a_stopwatch_goes_on_when_the_line_is_lost(person: Person, clock: list[float]) -> None:
    person.type(*PLATES, "0 psi", "")
    clock[0] += 100.0
    told = person.type("", "", "q")
    assert person.prompts[-3].startswith("Stopwatch at 1:4")
    assert "Stopped: 10" in told
    value = person.job.answers["vent.time"].value
    assert isinstance(value, float)
    assert value > 100.0


def test_a_stopwatch_of_another_boot_is_said(
    person: Person, clock: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    person.type(*PLATES, "0 psi", "")
    monkeypatch.setattr(talk, "monotonic", lambda: {"monotonic": 5.0, "boot": "c" * 8})
    told = person.type("", "", "q")
    assert "by the wall clock" in told


def test_only_timed_items_have_a_stopwatch(person: Person) -> None:
    assert "accepted an item that is timed" in person.type("w", "q")
