"""Dates as they are typed: never one that could be read two ways."""

from __future__ import annotations

from datetime import date

import pytest

from wizard.answer import typed_date
from wizard.errors import InputError


@pytest.mark.parametrize(
    ("typed", "units"),
    [
        ("2026-11-05", "us"),
        ("2026-11-05", "metric"),
        ("5.11.2026", "metric"),
        ("05.11.2026", "metric"),
        ("5. 11. 2026", "metric"),
    ],
)
def test_a_date_is_taken_as_typed(typed: str, units: str) -> None:
    assert typed_date("day", typed, units) == date(2026, 11, 5)


@pytest.mark.parametrize(
    ("typed", "units", "two_ways"),
    [
        ("11/5/2026", "us", True),
        ("11/5/2026", "metric", True),
        ("5.11.2026", "us", True),
        ("5.11.26", "metric", False),
        ("31.2.2026", "metric", False),
        ("tomorrow", "us", False),
    ],
)
def test_what_could_be_another_day_is_refused_and_says_so(
    typed: str, units: str, two_ways: bool
) -> None:
    with pytest.raises(InputError) as problem:
        typed_date("day", typed, units)
    assert "accepted a date as 2026-03-01" in str(problem.value)
    assert ("read two ways" in str(problem.value)) == two_ways
