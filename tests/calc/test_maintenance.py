"""Days from hours and months: month ends, rounding down, refusals."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.maintenance import add_days, add_months, calendar_days, hours_found, running_days
from wizard.errors import InputError, OutsideValidity

HOUR = 3600.0
days = st.dates(date(2000, 1, 1), date(2099, 12, 31))


@given(days, st.integers(1, 120))
def test_a_month_later_is_the_same_day_or_the_end_of_the_month(start: date, months: int) -> None:
    due = add_months(start, months)
    assert (due.year * 12 + due.month) - (start.year * 12 + start.month) == months
    assert due.day == start.day or ((due + timedelta(days=1)).day == 1 and due.day < start.day)
    assert calendar_days(start, months) == (due - start).days


@given(st.floats(10, 5000), st.floats(0.1, 24), st.integers(1, 7))
def test_the_hours_have_not_run_out_on_the_due_day(
    hours: float, per_day: float, per_week: int
) -> None:
    found = running_days(hours * HOUR, per_day * HOUR, per_week)
    assert found == int(found) >= 1
    if found > 1:
        assert found * per_day * per_week / 7 <= hours * (1 + 1e-9)
    assert (found + 1) * per_day * per_week / 7 > hours * (1 - 1e-9)


def test_whole_days_are_not_lost_to_rounding() -> None:
    assert running_days(2000 * HOUR, 8 * HOUR, 5) == 350
    assert running_days(0.3 * 7 * HOUR, 0.1 * HOUR, 7) == 21


def test_short_intervals_are_due_the_next_day() -> None:
    assert running_days(1 * HOUR, 24 * HOUR, 7) == 1


def test_hours_as_found_on_the_meter() -> None:
    assert hours_found(120 * HOUR, 28.0, 5) == 6 * HOUR


def test_what_no_calendar_holds_is_refused() -> None:
    with pytest.raises(InputError, match="running hours per day: given 0 h"):
        running_days(100 * HOUR, 0.0, 5)
    with pytest.raises(OutsideValidity, match="running hours per day: given 25 h"):
        running_days(100 * HOUR, 25 * HOUR, 5)
    with pytest.raises(InputError, match="days per week: given 8, accepted 1 to 7"):
        running_days(100 * HOUR, 8 * HOUR, 8)
    with pytest.raises(InputError, match="start date: given 1999-12-31"):
        calendar_days(date(1999, 12, 31), 1)
    with pytest.raises(OutsideValidity, match="dates up to 2199-12-31"):
        add_days(date(2025, 1, 1), 1e6)
    with pytest.raises(InputError, match="days per week"):
        hours_found(HOUR, 10.0, 0)
