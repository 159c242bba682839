"""Calibration labels against the day of the visit."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from wizard.calc.calibration import calibration_days_left
from wizard.checks.rule import check
from wizard.finding import Finding, Severity, Verdict
from wizard.formula import work
from wizard.sources import COMMON_PRACTICE

SHORT = 7
UNLIKELY = 5 * 366


@check(
    "Calibration in date",
    severity=Severity.HANDOVER,
    source=COMMON_PRACTICE,
    results={"days_left": "number"},
)
def calibration_in_date(due: date, visit: date) -> Finding:
    """The label's date is not before the day of the visit.

    Parameters
    ----------
    due : date
        Date on the calibration label
    visit : date
        First day of the work
    """
    days, step = work(calibration_days_left, due=due, visit=visit)
    finding = Finding(
        Verdict.PASS,
        "The calibration is in date.",
        Severity.HANDOVER,
        working=(step,),
        danger="A reading that nobody can trust decides whether a machine is safe.",
        ask="More than five years of calibration are unusual; is the year right?"
        if days > UNLIKELY
        else "",
        results={"days_left": days},
    )
    if days < 0:
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="The calibration ran out before the day of the visit.",
            clears="Bring an instrument that is in date.",
        )
    if days < SHORT:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The calibration runs out within a week of the first day.",
            clears="Finish the readings with it in time, or bring a second one.",
        )
    return finding
