"""Searching the list of items by the words of the trade."""

from __future__ import annotations

import pytest

from tests.small import START_TIME
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.tui.views.overview import rows

JOB = Job.new(Header("T1", "0" * 32, START_TIME), procedure())


def found(word: str) -> set[str]:
    """The items that a search shows."""
    return {row.pick for row in rows(JOB, "all", word) if row.pick}


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("earth", "ground.path"),
        ("Earthing", "ground.path"),
        ("MCB", "device.rating"),
        ("isolator", "disconnect.in_sight"),
        ("pulley", "belt.pump_sheave"),
        ("fork", "guard.fitted"),
        ("vessel", "receiver.volume"),
        ("safety valve", "relief.set"),
        ("cable", "conductor.size"),
    ],
)
def test_the_other_word_of_the_trade_finds_it(typed: str, key: str) -> None:
    assert any(key in pick for pick in found(typed))


def test_a_word_without_another_finds_itself_only() -> None:
    assert found("altitude") == set() and found("elevation")
    assert len(found("elevation")) < 10


def test_two_letters_are_no_other_word() -> None:
    assert "device.rating" in found("mcb") and "device.rating" not in found("mc")
