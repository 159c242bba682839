"""The schedule: worked dates, what applies to which machine, order, the stated winner."""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.errors import InputError, OutsideValidity
from wizard.finding import Severity
from wizard.maintenance import MaintenanceTask, schedule
from wizard.sources import PLAIN
from wizard.tables import table

HOUR = 3600.0
MARCH = date(2025, 3, 1)


def by_key(tasks: tuple[MaintenanceTask, ...]) -> dict[str, MaintenanceTask]:
    return {task.key: task for task in tasks}


def test_worked_dates_of_a_six_hour_day() -> None:
    mineral = by_key(schedule(MARCH, 6 * HOUR, 5, "mineral", "two", retorque=True))
    synthetic = by_key(schedule(MARCH, 6 * HOUR, 5, "synthetic", "two"))
    assert (mineral["belts"].due, mineral["belts"].won) == (date(2025, 3, 24), "hours")
    assert (mineral["oil_mineral"].due, mineral["oil_mineral"].won) == (date(2025, 6, 25), "hours")
    assert synthetic["oil_synthetic"].due == date(2026, 3, 1)
    assert synthetic["oil_synthetic"].won == "calendar"
    assert mineral["retorque_first"].due == date(2025, 3, 12)


def test_only_what_applies_is_listed() -> None:
    mineral = by_key(schedule(MARCH, 6 * HOUR, 5, "mineral", "one"))
    assert {"oil_mineral", "oil_first_mineral"} <= set(mineral)
    assert not {"oil_synthetic", "intercooler", "retorque", "retorque_first"} & set(mineral)
    two = by_key(schedule(MARCH, 6 * HOUR, 5, "mineral", "two"))
    assert set(two) - set(mineral) == {"intercooler"}


def test_every_row_of_the_table_can_come_due() -> None:
    listed: set[str] = set()
    for oil in ("mineral", "synthetic"):
        listed |= set(by_key(schedule(MARCH, 6 * HOUR, 5, oil, "two", retorque=True)))
    assert listed == {row["key"] for row in table("maintenance").rows}


def test_a_relief_valve_or_a_drain_log_cannot_wait() -> None:
    tasks = schedule(MARCH, 6 * HOUR, 5, "mineral", "two")
    grave = {task.key for task in tasks if task.severity is Severity.HANDOVER}
    assert grave == {"drain", "relief_lift", "relief_bench"}
    bench = by_key(tasks)["relief_bench"]
    assert bench.due == date(2027, 3, 1)
    assert bench.overdue(date(2027, 3, 2)) and not bench.overdue(date(2027, 3, 1))


def test_intervals_in_words() -> None:
    tasks = by_key(schedule(MARCH, 6 * HOUR, 5, "synthetic", "two", retorque=True))
    assert tasks["drain"].repeats == "every day"
    assert tasks["relief_lift"].repeats == "every week"
    assert tasks["belts"].repeats == "every 100 h or 1 month"
    assert tasks["recheck"].repeats == "once"
    assert tasks["retorque"].repeats == "every 500 h"
    assert tasks["receiver_inside"].repeats == "every 60 months"


def test_an_oil_interval_of_the_builder_replaces_the_usual_one() -> None:
    task = by_key(schedule(MARCH, 6 * HOUR, 5, "synthetic", "one", 1000 * HOUR))["oil_synthetic"]
    assert (task.hours, task.due) == (1000.0, date(2025, 10, 20))
    assert "given for this machine" in task.source.text
    usual = schedule(MARCH, 6 * HOUR, 5, "synthetic", "one", 2000 * HOUR)
    assert usual == schedule(MARCH, 6 * HOUR, 5, "synthetic", "one")


def test_the_first_oil_change_is_not_later_than_a_short_interval() -> None:
    tasks = by_key(schedule(MARCH, 6 * HOUR, 5, "synthetic", "one", 150 * HOUR))
    assert tasks["oil_first_synthetic"].due == tasks["oil_synthetic"].due == date(2025, 4, 5)


def test_a_machine_that_stands_follows_the_calendar_alone() -> None:
    tasks = schedule(MARCH, 0.0, 5, "mineral", "two", retorque=True)
    assert {task.won for task in tasks} == {"calendar"}
    assert not {"retorque", "retorque_first"} & set(by_key(tasks))


@pytest.mark.parametrize("hours", [0.0, 0.001 * HOUR])
def test_a_machine_that_stands_is_looked_at_within_a_month(hours: float) -> None:
    recheck = by_key(schedule(MARCH, hours, 5, "mineral", "two"))["recheck"]
    assert (recheck.due, recheck.won) == (date(2025, 4, 1), "calendar")


def test_a_task_that_hours_bring_due_in_centuries_is_left_out() -> None:
    tasks = by_key(schedule(MARCH, 1.0, 1, "mineral", "two", retorque=True))
    assert "retorque" not in tasks and tasks["belts"].won == "calendar"


def test_month_ends_stay_in_the_month() -> None:
    tasks = by_key(schedule(date(2025, 1, 31), 0.5 * HOUR, 5, "mineral", "one"))
    assert tasks["belts"].due == date(2025, 2, 28)
    leap = by_key(schedule(date(2024, 1, 31), 0.5 * HOUR, 5, "mineral", "one"))
    assert leap["belts"].due == date(2024, 2, 29)


def test_tasks_cannot_be_changed_and_carry_their_source() -> None:
    tasks = schedule(MARCH, 6 * HOUR, 5, "mineral", "two")
    assert all(task.source.text and task.source.mark in PLAIN and task.note for task in tasks)
    with pytest.raises(FrozenInstanceError):
        tasks[0].due = MARCH  # type: ignore[misc]


@pytest.mark.parametrize(
    ("given_", "said"),
    [
        ((MARCH, -HOUR, 5, "mineral", "one"), "running hours per day: given -1 h"),
        ((MARCH, 25 * HOUR, 5, "mineral", "one"), "running hours per day: given 25 h"),
        ((MARCH, 6 * HOUR, 0, "mineral", "one"), "days per week: given 0, accepted 1 to 7"),
        ((MARCH, 6 * HOUR, 8, "mineral", "one"), "days per week: given 8, accepted 1 to 7"),
        ((MARCH, 6 * HOUR, 5, "whale", "one"), "oil type: given “whale”, accepted mineral"),
        ((MARCH, 6 * HOUR, 5, "mineral", "3"), "stages: given “3”, accepted one; two"),
        ((date(1990, 1, 1), 6 * HOUR, 5, "mineral", "one"), "start date: given 1990-01-01"),
    ],
)
def test_bad_input_says_what_is_accepted(
    given_: tuple[date, float, int, str, str], said: str
) -> None:
    with pytest.raises((InputError, OutsideValidity)) as caught:
        schedule(*given_)
    assert said in str(caught.value)


uses = st.tuples(
    st.dates(date(2000, 1, 1), date(2099, 12, 31)),
    st.floats(0.05, 24).map(lambda h: h * HOUR),
    st.integers(1, 7),
    st.sampled_from(["mineral", "synthetic"]),
    st.sampled_from(["one", "two"]),
)


@given(uses)
def test_dates_ascend_and_lie_after_the_start(use: tuple[date, float, int, str, str]) -> None:
    tasks = schedule(*use)
    assert [task.due for task in tasks] == sorted(task.due for task in tasks)
    assert all(task.due > use[0] for task in tasks)
    assert all(task.due <= use[0] + timedelta(days=1827) for task in tasks if task.months)


@given(uses, st.floats(1.0, 3.0))
def test_more_hours_never_make_a_date_later(
    use: tuple[date, float, int, str, str], more: float
) -> None:
    start, hours, *rest = use
    busy = min(hours * more, 24 * HOUR)
    calm = by_key(schedule(start, hours, *rest))  # type: ignore[arg-type]
    for key, task in by_key(schedule(start, busy, *rest)).items():  # type: ignore[arg-type]
        assert task.due <= calm[key].due
