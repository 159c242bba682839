"""The maintenance plan of a job, once it is known when the machine starts and how it is used."""

from __future__ import annotations

from datetime import date
from typing import Any

from wizard.answer import si_value
from wizard.errors import InputError
from wizard.job import Job
from wizard.maintenance import MaintenanceTask, schedule

START = "handover.start_date"


def plan(job: Job) -> tuple[MaintenanceTask, ...]:
    """Every dated task, the earliest first; none while an answer it needs is missing."""
    start = _value(job, START)
    if not isinstance(start, date):
        return ()
    hours, days = _value(job, "use.hours_per_day"), _value(job, "use.days_per_week")
    oil, stages = _value(job, "oil.type"), _value(job, "pump.stages")
    if not isinstance(hours, float) or not isinstance(days, int):
        return ()
    try:
        return schedule(start, hours, days, str(oil), str(stages))
    except InputError:
        return ()


def _value(job: Job, key: str) -> Any:
    answer, item = job.answers.get(key), job.procedure.items.get(key)
    return si_value(item, answer) if item and answer and job.applies(key) else None
