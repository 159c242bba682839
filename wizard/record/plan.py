"""The maintenance plan of a job, once it is known when the machine starts and how it is used."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from wizard.answer import si_value
from wizard.calc.maintenance import HOUR, add_days, add_months, running_days
from wizard.errors import InputError
from wizard.job import Job
from wizard.maintenance import MaintenanceTask, schedule
from wizard.quantities import format_number

START = "handover.start_date"
HOURS = ("handover.hours_per_day", "use.hours_per_day")
DAYS = ("handover.days_per_week", "use.days_per_week")
AGREED, RECHECK = "handover.recheck_date", "recheck"
"""The day that was agreed with the customer, and the task that it is for."""
OIL, INTERVAL, STAGES = "oil.type", "oil.change_interval", "pump.stages"
"""Where the inputs come from; what the customer confirmed at handover before the estimate."""


@dataclass(frozen=True, slots=True)
class Use:
    """How the machine is used, and what in it decides the intervals; hours in seconds."""

    hours: float
    days: int
    oil: str
    stages: str
    interval: float | None
    recheck: date | None = None
    """The day that was agreed for the first recheck; it goes before the one reckoned."""

    def tasks(self, start: date) -> tuple[MaintenanceTask, ...]:
        """Every task dated from `start`, the earliest first; none where no date can be made."""
        try:
            found = schedule(start, self.hours, self.days, self.oil, self.stages, self.interval)
        except InputError:
            return ()
        return tuple(sorted(map(self._agreed, found), key=lambda task: task.due))

    def put_off(self, task: MaintenanceTask, ran: float, day: date) -> MaintenanceTask:
        """A task that running hours alone bring due, dated as if it ran as planned from `day`.

        `ran` is what the machine had run since the handover when its hour meter was read on `day`.
        """
        if task.hours is None or task.months is not None:
            return task
        left = task.hours * HOUR - ran
        days = running_days(left, self.hours, self.days) if self.hours > 0 else None
        due = add_months(day, 1) if days is None else add_days(day, days)
        had = f"had run {format_number(ran / HOUR, 3)} h" if ran > 0 else "had not run"
        note = f"It {had} since the handover on {day}: the day counts from there. {task.note}"
        return replace(task, due=due, won="hours", note=note)

    def _agreed(self, task: MaintenanceTask) -> MaintenanceTask:
        if task.key != RECHECK or self.recheck is None:
            return task
        note = f"The day agreed with the customer. {task.note}"
        return replace(task, due=self.recheck, won="calendar", note=note)


def plan(job: Job) -> tuple[MaintenanceTask, ...]:
    """Every dated task, the earliest first; none while an answer it needs is missing."""
    start, use = first_day(job), use_of(job)
    return use.tasks(start) if start and use else ()


def first_day(job: Job) -> date | None:
    """The day on which the machine went into use."""
    start = _value(job, START)
    return start if isinstance(start, date) else None


def use_of(job: Job) -> Use | None:
    """How the machine is used; None while that is not known."""
    hours, days = _value(job, *HOURS), _value(job, *DAYS)
    if not isinstance(hours, float) or not isinstance(days, int):
        return None
    oil, stages = str(_value(job, OIL)), str(_value(job, STAGES))
    agreed = _value(job, AGREED)
    recheck = agreed if isinstance(agreed, date) else None
    return Use(hours, days, oil, stages, _value(job, INTERVAL), recheck)


def _value(job: Job, *keys: str) -> Any:
    """The first of these answers that is given."""
    for key in keys:
        answer, item = job.answers.get(key), job.procedure.items.get(key)
        if item and answer and job.applies(key):
            return si_value(item, answer)
    return None
