"""Due dates at handover: oil change, first recheck, the whole schedule."""

from __future__ import annotations

from datetime import date
from math import inf

from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.maintenance import (
    CALENDAR,
    HOUR,
    add_days,
    calendar_days,
    check_start,
    check_use,
    running_days,
)
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Time
from wizard.maintenance import OIL_TYPES, schedule
from wizard.quantities import Quantity, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

INTERVALS = Source(
    "500 h mineral and 2000 h synthetic are common practice; Reciprocating Compressors: Operation "
    "and Maintenance pp. 381-382 lets oil analysis decide",
    "memory",
)
MISSED = "Most early failures are missed first services: first oil, first belts, first drain."
SET_DATES = "Enter the start date and the running hours, so that every task gets its date."
RECHECK_FROM, RECHECK_BY = 24 * HOUR, 48 * HOUR
GUESS_TOLERANCE = 0.20


def _days(
    interval: Time, hours_per_day: Time, days_per_week: int
) -> tuple[float, tuple[Step, ...]]:
    """Days until an interval has run; never, for a machine that does not run."""
    check_use(hours_per_day or HOUR, days_per_week)
    if hours_per_day <= 0:
        return inf, ()
    days, step = work(
        running_days,
        interval=interval,
        hours_per_day=hours_per_day,
        days_per_week=days_per_week,
    )
    return days, (step,)


@check(
    "Oil change date",
    severity=Severity.HANDOVER,
    source=(INTERVALS, CALENDAR),
    results={"days_to_first": "number", "days_to_change": "number"},
)
def oil_change_date(
    start: date,
    hours_per_day: Time,
    days_per_week: int,
    oil_type: str,
    interval: Time | None = None,
    months: int | None = None,
) -> Finding:
    """Dates of the first and of the next oil change: hours or calendar, whichever comes first.

    Parameters
    ----------
    start : date
        First day of use
    hours_per_day : float
        Running hours per working day: shift hours times duty, by hour meter; 0 leaves the calendar
        to decide, [s]
    days_per_week : int
        Working days in a week, [-]
    oil_type : str
        "mineral" or "synthetic"
    interval : float, optional
        Hours between changes; 500 h mineral and 2000 h synthetic if not given, [s]
    months : int, optional
        Calendar months between changes; 6 mineral and 12 synthetic if not given, [-]
    """
    check_start(start)
    one_of("oil type", oil_type, OIL_TYPES)
    usual = table("oil_service").row("name", oil_type)
    every = usual["interval"] * HOUR if interval is None else interval
    cap = usual["months"] if months is None else months
    above_zero("interval", every, "time", "h")
    first, first_steps = _days(usual["first_high"] * HOUR, hours_per_day, days_per_week)
    by_hours, hours_steps = _days(every, hours_per_day, days_per_week)
    by_calendar, calendar_step = work(calendar_days, start=start, months=cap)
    days, first_days = min(by_hours, by_calendar), min(first, by_hours, by_calendar)
    won = "hours" if by_hours <= by_calendar else "calendar"
    longer = not at_most(every, usual["interval"] * HOUR) or cap > usual["months"]
    return Finding(
        Verdict.ADVISORY if longer else Verdict.PASS,
        f"First oil change by {add_days(start, first_days)}, "
        f"then by {add_days(start, days)}: the {won} decide{'s' * (won == 'calendar')}.",
        Severity.ADVISORY if longer else Severity.HANDOVER,
        Quantity(days, "number"),
        working=(*first_steps, *hours_steps, calendar_step),
        danger="Oil wears out by hours and rots by the calendar; old oil cokes and seizes.",
        clears=f"Longer than is usual for {oil_type} oil: keep the builder's word or an oil "
        "analysis that allows it."
        if longer
        else "",
        results={"days_to_first": first_days, "days_to_change": days},
    )


@check(
    "First recheck of belts, bolts and leaks",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, CALENDAR),
)
def recheck_date(recheck: date, start: date, hours_per_day: Time, days_per_week: int) -> Finding:
    """The first recheck falls between 24 and 48 running hours after the start.

    A machine that does not run is looked at within a month.

    Parameters
    ----------
    recheck : date
        Day agreed for the recheck
    start : date
        First day of use
    hours_per_day : float
        Running hours per working day, [s]
    days_per_week : int
        Working days in a week, [-]
    """
    check_start(start)
    soonest, first_steps = _days(RECHECK_FROM, hours_per_day, days_per_week)
    latest, last_steps = _days(RECHECK_BY, hours_per_day, days_per_week)
    if hours_per_day <= 0:
        soonest, latest = 1.0, calendar_days(start, 1)
    days = float((recheck - start).days)
    verdict, clears = Verdict.PASS, ""
    text = f"The recheck on {recheck} falls after 24 to 48 running hours."
    if days > latest:
        verdict, text = Verdict.FAIL, f"The recheck on {recheck} is too late."
        clears = f"Agree a day from {add_days(start, soonest)} to {add_days(start, latest)}."
    elif days < soonest:
        verdict, text = Verdict.ADVISORY, f"On {recheck} the belts will not have seated yet."
        clears = f"Agree a day from {add_days(start, soonest)} to {add_days(start, latest)}."
    return Finding(
        verdict,
        text,
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.HANDOVER,
        Quantity(days, "number"),
        Limit(soonest, latest, "number"),
        (*first_steps, *last_steps),
        danger="New belts go slack in the first day, bolts settle, joints start to leak.",
        clears=clears,
    )


@check("Running hours against the plan", severity=Severity.ADVISORY, source=OUR_JUDGEMENT)
def hours_as_planned(hours_per_day: Time, planned: Time) -> Finding:
    """Hours per day within 20 % of what the machine was planned for.

    Parameters
    ----------
    hours_per_day : float
        Running hours per working day, as found or as now expected, [s]
    planned : float
        Running hours per working day in the plan, [s]
    """
    within("running hours per day", hours_per_day, "time", "h", 0, 24)
    within("planned hours per day", planned, "time", "h", 0, 24)
    near = at_most(abs(hours_per_day - planned), GUESS_TOLERANCE * planned)
    return Finding(
        Verdict.PASS if near else Verdict.ADVISORY,
        "The hours are as planned."
        if near
        else "The hours differ from the plan by more than 20 %: the dates follow the new figure.",
        Severity.ADVISORY,
        Quantity(hours_per_day, "time"),
        Limit(
            (1 - GUESS_TOLERANCE) * planned, min((1 + GUESS_TOLERANCE) * planned, 24 * HOUR), "time"
        ),
        danger="Dates from a wrong guess come too late.",
        clears="" if near else "Check duty and storage as well: more hours mean more starts.",
    )


@check(
    "Maintenance dates",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, CALENDAR),
    results={"tasks": "number", "days_to_first_service": "number"},
)
def maintenance_dates(
    start: date | None = None,
    hours_per_day: Time | None = None,
    days_per_week: int | None = None,
    oil_type: str | None = None,
    stages: str | None = None,
    oil_interval: Time | None = None,
) -> Finding:
    """Every task of the schedule has its date; without them the job cannot be closed.

    Parameters
    ----------
    start : date, optional
        First day of use
    hours_per_day : float, optional
        Running hours per working day; 0 leaves the calendar to decide, [s]
    days_per_week : int, optional
        Working days in a week, [-]
    oil_type : str, optional
        "mineral" or "synthetic"
    stages : str, optional
        Stages of the pump, "one" or "two"
    oil_interval : float, optional
        Hours between oil changes, if not the usual ones, [s]
    """
    if (
        start is None
        or hours_per_day is None
        or days_per_week is None
        or oil_type is None
        or stages is None
    ):
        return Finding(
            Verdict.FAIL,
            "The due dates are missing.",
            Severity.HANDOVER,
            danger=MISSED,
            clears=SET_DATES,
        )
    tasks = schedule(start, hours_per_day, days_per_week, oil_type, stages, oil_interval)
    services = [task for task in tasks if task.repeats not in ("every day", "every week")]
    by_hours = sum(1 for task in services if task.won == "hours")
    steps = _belt_steps(start, hours_per_day, days_per_week)
    return Finding(
        Verdict.PASS,
        f"{len(tasks)} tasks have their dates, {by_hours} of them by running hours; "
        f"the first service is due on {services[0].due}.",
        Severity.HANDOVER,
        Quantity(float(len(tasks)), "number"),
        working=steps,
        danger=MISSED,
        results={
            "tasks": float(len(tasks)),
            "days_to_first_service": float((services[0].due - start).days),
        },
    )


def _belt_steps(start: date, hours_per_day: Time, days_per_week: int) -> tuple[Step, ...]:
    """How a date is made, shown on the monthly belt check."""
    _, by_hours = _days(100 * HOUR, hours_per_day, days_per_week)
    _, by_calendar = work(calendar_days, start=start, months=1)
    return *by_hours, by_calendar
