"""From running hours and calendar months to days: whichever comes first is due."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta
from math import floor

from wizard.calc.accepted import above_zero, within
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import Number, Time
from wizard.sources import OUR_JUDGEMENT, Source

HOUR = 3600.0
CALENDAR = Source("calendar arithmetic; days are rounded down, so that no job is late", "computed")
FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2199, 12, 31)


def add_months(start: date, months: int) -> date:
    """The same day so many months later, or the last day of a shorter month.

    >>> add_months(date(2025, 1, 31), 1)
    datetime.date(2025, 2, 28)
    """
    years, month = divmod(start.month - 1 + months, 12)
    year = start.year + years
    return date(year, month + 1, min(start.day, monthrange(year, month + 1)[1]))


def add_days(start: date, days: float) -> date:
    """The date so many days later; OutsideValidity beyond the calendar in use."""
    if days > (LAST_DAY - start).days:
        raise OutsideValidity("days to the date", f"{days:g}", f"dates up to {LAST_DAY}")
    return start + timedelta(days=days)


def check_start(start: date) -> None:
    """Refuse a start date that cannot be meant."""
    if not FIRST_DAY <= start <= date(2099, 12, 31):
        raise InputError("start date", str(start), "2000-01-01 to 2099-12-31")


def check_use(hours_per_day: Time, days_per_week: int) -> None:
    """Refuse hours and days that no week has."""
    above_zero("running hours per day", hours_per_day, "time", "h")
    within("running hours per day", hours_per_day, "time", "h", 0, 24)
    if not 1 <= days_per_week <= 7:
        raise InputError("days per week", str(days_per_week), "1 to 7")


@formula(
    "Days until so many running hours",
    equation="days = interval / hours_per_day × 7 / days_per_week, rounded down, at least 1",
    results="number",
    source=CALENDAR,
)
def running_days(interval: Time, hours_per_day: Time, days_per_week: int) -> Number:
    """Calendar days in which the machine runs an interval of hours.

    days = floor(H/h x 7/d), at least 1

    Parameters
    ----------
    interval : float
        Running hours of the interval, [s]
    hours_per_day : float
        Running hours per working day: shift hours times duty, by hour meter, [s]
    days_per_week : int
        Working days in a week, [-]

    Returns
    -------
    float
        Whole days, [-]

    Examples
    --------
    2000 h at 8 h a day, 5 days a week (computed):

    >>> running_days(2000 * 3600.0, 8 * 3600.0, 5)
    350.0
    """
    above_zero("interval", interval, "time", "h")
    check_use(hours_per_day, days_per_week)
    return max(1.0, float(floor(interval / hours_per_day * 7 / days_per_week + 1e-9)))


@formula(
    "Days until so many months later",
    equation="days = (start + months calendar months) − start, month ends kept inside the month",
    results="number",
    source=CALENDAR,
)
def calendar_days(start: date, months: int) -> Number:
    """Days from a date to the same day so many months later.

    31 January and one month is the last day of February.

    Parameters
    ----------
    start : date
        Day from which it counts
    months : int
        Calendar months, [-]

    Returns
    -------
    float
        Days, [-]

    Examples
    --------
    >>> calendar_days(date(2025, 1, 31), 1)
    28.0
    """
    check_start(start)
    within("months", months, "number", "", 1, 1200)
    return float((add_months(start, months) - start).days)


@formula(
    "Running hours per working day, as found",
    equation="hours = run × 7 / (days × days_per_week)",
    results="time",
    source=OUR_JUDGEMENT,
)
def hours_found(run: Time, days: Number, days_per_week: int) -> Time:
    """Running hours per working day between two readings of the hour meter.

    h = H 7/(days x d)

    Parameters
    ----------
    run : float
        Hours between the two readings of the hour meter, [s]
    days : float
        Calendar days between them, [-]
    days_per_week : int
        Working days in a week, [-]

    Returns
    -------
    float
        Running hours per working day, [s]

    Examples
    --------
    120 h in 28 days of 5-day weeks is 6 h a day (computed):

    >>> hours_found(120 * 3600.0, 28.0, 5) / 3600
    6.0
    """
    above_zero("hours run", run, "time", "h")
    above_zero("days", days, "number", "")
    if not 1 <= days_per_week <= 7:
        raise InputError("days per week", str(days_per_week), "1 to 7")
    return run * 7 / (days * days_per_week)
