"""The calendar is read back by a calendar library."""

from __future__ import annotations

from datetime import UTC, date, datetime

import icalendar

from wizard.calendar_file import calendar
from wizard.maintenance import schedule

START = date(2026, 1, 31)
TASKS = schedule(START, 6 * 3600.0, 5, "synthetic", "two")
DATA = calendar(TASKS, "Shed; 4, é" * 9, "ab" * 16, START, datetime(2026, 1, 31, 9, tzinfo=UTC))


def test_a_calendar_takes_every_task_on_its_day() -> None:
    events = icalendar.Calendar.from_ical(DATA).walk("VEVENT")
    assert len(events) == len(TASKS)
    for event, task in zip(events, TASKS, strict=True):
        assert event.decoded("DTSTART") == task.due
        assert str(event["SUMMARY"]) == f"{'Shed; 4, é' * 9}: {task.name}"
        assert ("RRULE" in event) == (task.repeats != "once")


def test_lines_are_short_and_end_as_the_standard_says() -> None:
    assert DATA.endswith(b"\r\n")
    for line in DATA.split(b"\r\n"):
        assert len(line) <= 75 and b"\n" not in line
        line.decode("utf-8")
