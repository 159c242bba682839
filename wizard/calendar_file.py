"""The maintenance plan as an iCalendar file (RFC 5545) that any calendar takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, timedelta

from wizard.maintenance import MaintenanceTask

PRODUCT = "-//compressor wizard//maintenance plan//EN"
_LINE = 75


def calendar(
    tasks: Iterable[MaintenanceTask], machine: str, uuid: str, start: date, made: datetime
) -> bytes:
    """One all-day event a task, repeating as the task does.

    `start` is the first day of use, `made` the moment of writing; the same job always gives the
    same event names, so that a second import replaces the first.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN"]
    for task in tasks:
        lines += _event(task, machine, uuid, start, made)
    lines.append("END:VCALENDAR")
    return "".join(_folded(line) for line in lines).encode("utf-8")


def _event(
    task: MaintenanceTask, machine: str, uuid: str, start: date, made: datetime
) -> Iterator[str]:
    about = f"{task.repeats}. {task.note} Source: {task.source}".strip()
    yield "BEGIN:VEVENT"
    yield f"UID:{task.key}-{uuid}"
    yield f"DTSTAMP:{made.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART;VALUE=DATE:{task.due:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{task.due + timedelta(days=1):%Y%m%d}"
    if rule := _rule(task, start):
        yield f"RRULE:{rule}"
    yield f"SUMMARY:{_escaped(f'{machine}: {task.name}')}"
    yield f"DESCRIPTION:{_escaped(about)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _rule(task: MaintenanceTask, start: date) -> str:
    if task.repeats == "once":
        return ""
    if task.won == "calendar" and task.months:
        return f"FREQ=MONTHLY;INTERVAL={task.months}"
    return f"FREQ=DAILY;INTERVAL={max(1, (task.due - start).days)}"


def _escaped(text: str) -> str:
    for mark in ("\\", ";", ","):
        text = text.replace(mark, "\\" + mark)
    return " ".join(text.split())


def _folded(line: str) -> str:
    """The line cut at 75 octets, never inside a character."""
    parts: list[str] = []
    current = ""
    for character in line:
        if len((current + character).encode()) > _LINE - bool(parts):
            parts.append(current)
            current = ""
        current += character
    return "\r\n ".join([*parts, current]) + "\r\n"
