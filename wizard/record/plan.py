"""The maintenance plan of a job, once it is known when the machine starts and how it is used."""

from __future__ import annotations

from datetime import date
from typing import Any

from wizard.answer import si_value
from wizard.errors import InputError
from wizard.job import Job
from wizard.maintenance import MaintenanceTask, schedule

START = "handover.start_date"
HOURS = ("handover.hours_per_day", "use.hours_per_day")
DAYS = ("handover.days_per_week", "use.days_per_week")
OIL, INTERVAL, STAGES = "oil.type", "oil.change_interval", "pump.stages"
"""Where the inputs come from; what the customer confirmed at handover before the estimate."""


def plan(job: Job) -> tuple[MaintenanceTask, ...]:
    """Every dated task, the earliest first; none while an answer it needs is missing."""
    start, hours, days = _value(job, START), _value(job, *HOURS), _value(job, *DAYS)
    if not isinstance(start, date) or not isinstance(hours, float) or not isinstance(days, int):
        return ()
    oil, stages = str(_value(job, OIL)), str(_value(job, STAGES))
    try:
        return schedule(start, hours, days, oil, stages, _value(job, INTERVAL))
    except InputError:
        return ()


def _value(job: Job, *keys: str) -> Any:
    """The first of these answers that is given."""
    for key in keys:
        answer, item = job.answers.get(key), job.procedure.items.get(key)
        if item and answer and job.applies(key):
            return si_value(item, answer)
    return None
