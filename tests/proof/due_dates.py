"""Evidence for due dates and settings as left: days counted one by one, exact fractions."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction

from tests.proof.model import Proof
from wizard.calc import maintenance
from wizard.checks import handover
from wizard.checks import maintenance as dates
from wizard.maintenance import schedule

Case = tuple[float | str, float | str]
HOUR = 3600.0
DAY_BY_DAY = "hours added up day by day with datetime"
USES = ((2000.0, 8.0, 5), (500.0, 5.5, 6), (100.0, 3.0, 5), (100.0, 6.0, 5), (50.0, 6.0, 5))


def days_counted(interval: float, per_day: float, per_week: int) -> float:
    """Days that can pass before the hours run, at an even rate, exceed the interval."""
    run, days = Fraction(0), 0
    daily = Fraction(per_day).limit_denominator(1000) * per_week / 7
    while run + daily <= Fraction(interval).limit_denominator(1000):
        run += daily
        days += 1
    return float(max(1, days))


def month_later(start: date, months: int) -> date:
    """The same day of a later month, walking one month at a time."""
    year, month = start.year, start.month
    for _ in range(months):
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return date(year, month, min(start.day, monthrange(year, month)[1]))


def running_cases() -> Iterator[Case]:
    for hours, per_day, per_week in USES:
        ours = maintenance.running_days(hours * HOUR, per_day * HOUR, per_week)
        yield ours, days_counted(hours, per_day, per_week)


def calendar_cases() -> Iterator[Case]:
    for start in (date(2025, 1, 31), date(2024, 1, 31), date(2025, 8, 31), date(2025, 3, 1)):
        for months in (1, 6, 12, 60):
            ours = maintenance.calendar_days(start, months)
            yield ours, float((month_later(start, months) - start).days)


def found_cases() -> Iterator[Case]:
    day, run, worked = date(2025, 3, 3), 0.0, 0
    while worked < 20:
        run += 6.5 if day.weekday() < 5 else 0.0
        worked += day.weekday() < 5
        day += timedelta(days=1)
    days = 28.0
    yield maintenance.hours_found(run * HOUR, days, 5) / HOUR, 6.5


def oil_date_cases() -> Iterator[Case]:
    for start, hours, per_day, per_week, months in (
        (date(2025, 1, 15), 2000.0, 8.0, 5, 12),
        (date(2025, 1, 15), 500.0, 5.5, 6, 6),
        (date(2025, 1, 31), 10000.0, 2.0, 5, 1),
    ):
        ours = dates.oil_change_date(
            start, per_day * HOUR, per_week, "synthetic", hours * HOUR, months
        )
        by_hours = start + timedelta(days=days_counted(hours, per_day, per_week))
        due = min(by_hours, month_later(start, months))
        yield (start + timedelta(days=ours.results["days_to_change"])).isoformat(), due.isoformat()


def recheck_cases() -> Iterator[Case]:
    start = date(2025, 3, 3)
    first, last = days_counted(24, 6, 5), days_counted(48, 6, 5)
    for day in range(1, 20):
        ours = dates.recheck_date(start + timedelta(days=day), start, 6 * HOUR, 5)
        verdict = "FAIL" if day > last else "ADVISORY" if day < first else "PASS"
        yield str(ours.verdict), verdict


def planned_cases() -> Iterator[Case]:
    for tenths in range(40, 81, 2):
        near = Fraction(4, 5) <= Fraction(tenths, 60) <= Fraction(6, 5)
        ours = dates.hours_as_planned(tenths / 10 * HOUR, 6 * HOUR)
        yield str(ours.verdict), "PASS" if near else "ADVISORY"


def schedule_cases() -> Iterator[Case]:
    start = date(2025, 3, 1)
    for task in schedule(start, 6 * HOUR, 5, "mineral", "two", retorque=True):
        ends = []
        if task.hours:
            ends.append(start + timedelta(days=days_counted(task.hours, 6, 5)))
        if task.months:
            ends.append(month_later(start, task.months))
        yield task.due.isoformat(), min(ends, default=task.due).isoformat()
    ours = dates.maintenance_dates(start, 6 * HOUR, 5, "mineral", "two")
    soonest = start + timedelta(days=days_counted(48, 6, 5))
    yield (
        (start + timedelta(days=ours.results["days_to_first_service"])).isoformat(),
        soonest.isoformat(),
    )


def as_left_cases() -> Iterator[Case]:
    psi = 6894.757293168
    for left in (170.0, 171.0, 172.5, 177.0, 178.6):
        mean = Fraction(174 + 175 + 176, 3)
        near = abs(Fraction(left) - mean) <= max(Fraction(3), mean / 50)
        ours = handover.setting_as_left(left * psi, (174 * psi, 175 * psi, 176 * psi))
        yield str(ours.verdict), "PASS" if near else "FAIL"


PROOFS: list[Proof] = [
    Proof("running_days", DAY_BY_DAY, running_cases),
    Proof("calendar_days", "month by month with calendar.monthrange", calendar_cases),
    Proof("hours_found", "weekdays walked with datetime", found_cases),
    Proof("oil_change_date", DAY_BY_DAY, oil_date_cases),
    Proof("recheck_date", DAY_BY_DAY, recheck_cases),
    Proof("hours_as_planned", "fractions", planned_cases),
    Proof("maintenance_dates", DAY_BY_DAY, schedule_cases),
    Proof("setting_as_left", "fractions", as_left_cases),
]
