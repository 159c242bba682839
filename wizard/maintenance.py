"""The maintenance schedule of one machine: dates from running hours and from the calendar.

Invariant: pure; the earlier of the two dates is due, days are rounded down, and every task says
which of the two decided.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal, cast

from wizard.calc.accepted import one_of, zero_or_above
from wizard.calc.maintenance import (
    HOUR,
    add_days,
    calendar_days,
    check_start,
    check_use,
    running_days,
)
from wizard.finding import Severity
from wizard.sources import Mark, Source
from wizard.tables import table

FARTHEST_DAYS = 36_525
OIL_TYPES = ("mineral", "synthetic")
STAGES = ("one", "two")
GIVEN = "interval given for this machine, by its builder or an oil analysis"


@dataclass(frozen=True, slots=True)
class MaintenanceTask:
    """One dated task; `hours` (h) and `months` are its interval, `won` says which one decided.

    `severity` is that of the task when it is overdue: a relief valve or a drain log cannot wait.
    """

    key: str
    name: str
    due: date
    hours: float | None
    months: int | None
    won: Literal["hours", "calendar"]
    repeats: str
    note: str
    severity: Severity
    source: Source

    def overdue(self, day: date) -> bool:
        """Whether the task should have been done before `day`."""
        return day > self.due


def schedule(
    start: date,
    hours_per_day: float,
    days_per_week: int,
    oil_type: str,
    stages: str,
    oil_interval: float | None = None,
    retorque: bool = False,
) -> tuple[MaintenanceTask, ...]:
    """Every task that applies to the machine, the earliest first.

    Parameters
    ----------
    start : date
        First day of use
    hours_per_day : float
        Running hours per working day; 0 leaves the calendar alone to decide, [s]
    days_per_week : int
        Working days in a week, [-]
    oil_type : str
        "mineral" or "synthetic"
    stages : str
        "one" or "two"
    oil_interval : float, optional
        Running hours between oil changes, if the builder or an oil analysis gives them, [s]
    retorque : bool, optional
        Whether the builder's papers ask for the head bolts to be retorqued

    Returns
    -------
    tuple of MaintenanceTask
        Sorted by date. With 0 hours per day, tasks that only running hours bring due are left out,
        but for the first recheck, which a machine that stands has within a month.

    Examples
    --------
    >>> tasks = schedule(date(2025, 3, 1), 6 * 3600.0, 5, "synthetic", "two")
    >>> [(t.due.isoformat(), t.won) for t in tasks if t.key in ("belts", "oil_synthetic")]
    [('2025-03-24', 'hours'), ('2026-03-01', 'calendar')]
    """
    check_start(start)
    zero_or_above("running hours per day", hours_per_day, "time", "h")
    check_use(hours_per_day or HOUR, days_per_week)
    one_of("oil type", oil_type, OIL_TYPES)
    one_of("stages", stages, STAGES)
    tasks = [
        task
        for row in _rows(oil_type, stages, oil_interval, retorque)
        if (task := _task(row, start, hours_per_day, days_per_week))
    ]
    return tuple(sorted(tasks, key=lambda task: task.due))


def _rows(
    oil_type: str, stages: str, oil_interval: float | None, retorque: bool
) -> Iterator[Mapping[str, Any]]:
    """The rows of the table that apply, with the oil interval of this machine in them."""
    for row in table("maintenance").rows:
        if row.get("oil", oil_type) != oil_type or row.get("stages", stages) != stages:
            continue
        if row.get("retorque") and not retorque:
            continue
        yield row if oil_interval is None else _with_oil(row, oil_type, oil_interval / HOUR)


def _with_oil(row: Mapping[str, Any], oil_type: str, hours: float) -> Mapping[str, Any]:
    """An oil row with the interval of this machine; the first change is never later than that."""
    changes = row["key"] == f"oil_{oil_type}" and hours != row["hours"]
    if changes or (row["key"] == f"oil_first_{oil_type}" and hours < row["hours"]):
        return {**row, "hours": hours, "source": GIVEN, "mark": "judgement"}
    return row


def _task(
    row: Mapping[str, Any], start: date, hours_per_day: float, days_per_week: int
) -> MaintenanceTask | None:
    """The dated task of one row; None where nothing brings it due."""
    hours, months = row.get("hours"), row.get("months")
    by_hours = by_calendar = float("inf")
    if hours is not None and hours_per_day > 0:
        by_hours = running_days(hours * HOUR, hours_per_day, days_per_week)
    if months is not None:
        by_calendar = calendar_days(start, months)
    elif "days" in row:
        by_calendar = row["days"]
    if min(by_hours, by_calendar) > FARTHEST_DAYS and "idle_months" in row:
        by_calendar = calendar_days(start, row["idle_months"])
    soonest = min(by_hours, by_calendar)
    if soonest > FARTHEST_DAYS:
        return None
    return MaintenanceTask(
        key=row["key"],
        name=row["name"],
        due=add_days(start, soonest),
        hours=hours,
        months=months,
        won="hours" if by_hours <= by_calendar else "calendar",
        repeats=_repeats(row),
        note=row["note"],
        severity=Severity(row.get("overdue", "advisory")),
        source=Source(row["source"], cast(Mark, row["mark"])),
    )


def _repeats(row: Mapping[str, Any]) -> str:
    """How often, in words."""
    if row.get("once"):
        return "once"
    if "days" in row:
        return {1: "every day", 7: "every week"}[row["days"]]
    parts = []
    if "hours" in row:
        parts.append(f"{row['hours']:g} h")
    if "months" in row:
        parts.append(f"{row['months']} month{'s' if row['months'] > 1 else ''}")
    return "every " + " or ".join(parts)
