"""Due dates at handover: worked dates, month ends, what is missing."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from wizard.checks.maintenance import (
    hours_as_planned,
    maintenance_dates,
    oil_change_date,
    recheck_date,
)
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Severity, Verdict

HOUR = 3600.0
JANUARY = date(2025, 1, 15)


@pytest.mark.parametrize(
    ("start", "hours", "per_day", "per_week", "months", "due", "won"),
    [
        (JANUARY, 2000, 8, 5, 12, "2025-12-31", "hours decide"),
        (JANUARY, 500, 5.5, 6, 6, "2025-05-01", "hours decide"),
        (JANUARY, 100, 3, 5, 12, "2025-03-02", "hours decide"),
        (date(2025, 1, 31), 10000, 2, 5, 1, "2025-02-28", "calendar decides"),
    ],
)
def test_oil_change_dates(
    start: date, hours: float, per_day: float, per_week: int, months: int, due: str, won: str
) -> None:
    finding = oil_change_date(start, per_day * HOUR, per_week, "synthetic", hours * HOUR, months)
    assert f"then by {due}: the {won}." in finding.text
    days = finding.results["days_to_change"]
    assert (start + timedelta(days=days)).isoformat() == due


def test_usual_intervals_by_type() -> None:
    mineral = oil_change_date(JANUARY, 8 * HOUR, 5, "mineral")
    synthetic = oil_change_date(JANUARY, 8 * HOUR, 5, "synthetic")
    assert mineral.results == {"days_to_first": 17.0, "days_to_change": 87.0}
    assert synthetic.results == {"days_to_first": 35.0, "days_to_change": 350.0}
    assert mineral.verdict is synthetic.verdict is Verdict.PASS


def test_longer_than_usual_wants_a_reason() -> None:
    assert oil_change_date(JANUARY, 8 * HOUR, 5, "mineral", 501 * HOUR).verdict is Verdict.ADVISORY
    assert oil_change_date(JANUARY, 8 * HOUR, 5, "mineral", months=7).verdict is Verdict.ADVISORY
    assert oil_change_date(JANUARY, 8 * HOUR, 5, "mineral", 400 * HOUR).verdict is Verdict.PASS


def test_a_machine_that_stands_follows_the_calendar() -> None:
    finding = oil_change_date(JANUARY, 0.0, 5, "synthetic")
    assert "then by 2026-01-15: the calendar decides." in finding.text


def test_use_that_no_week_has_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="running hours per day: given 25 h"):
        oil_change_date(JANUARY, 25 * HOUR, 5, "mineral")
    with pytest.raises(InputError, match="days per week: given 0, accepted 1 to 7"):
        oil_change_date(JANUARY, 8 * HOUR, 0, "mineral")
    with pytest.raises(InputError, match="oil type: given “goose fat”"):
        oil_change_date(JANUARY, 8 * HOUR, 5, "goose fat")
    with pytest.raises(InputError, match="interval: given 0 h"):
        oil_change_date(JANUARY, 8 * HOUR, 5, "mineral", 0.0)
    with pytest.raises(InputError, match="start date"):
        oil_change_date(date(1925, 1, 15), 8 * HOUR, 5, "mineral")


@pytest.mark.parametrize(
    ("day", "verdict", "severity"),
    [
        (4, Verdict.ADVISORY, Severity.ADVISORY),
        (5, Verdict.PASS, Severity.HANDOVER),
        (11, Verdict.PASS, Severity.HANDOVER),
        (12, Verdict.FAIL, Severity.HANDOVER),
    ],
)
def test_recheck_after_24_to_48_running_hours(
    day: int, verdict: Verdict, severity: Severity
) -> None:
    start = date(2025, 3, 3)
    finding = recheck_date(start + timedelta(days=day), start, 6 * HOUR, 5)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    if verdict is not Verdict.PASS:
        assert finding.clears == "Agree a day from 2025-03-08 to 2025-03-14."


def test_recheck_of_a_machine_that_stands_is_within_a_month() -> None:
    start = date(2025, 1, 31)
    assert recheck_date(date(2025, 2, 28), start, 0.0, 5).verdict is Verdict.PASS
    assert recheck_date(date(2025, 3, 1), start, 0.0, 5).verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("hours", "verdict"),
    [
        (4.79, Verdict.ADVISORY),
        (4.8, Verdict.PASS),
        (7.2, Verdict.PASS),
        (7.21, Verdict.ADVISORY),
    ],
)
def test_hours_against_the_plan(hours: float, verdict: Verdict) -> None:
    assert hours_as_planned(hours * HOUR, 6 * HOUR).verdict is verdict


def test_dates_for_every_task() -> None:
    finding = maintenance_dates(date(2025, 3, 1), 6 * HOUR, 5, "synthetic", "two")
    assert finding.verdict is Verdict.PASS and len(finding.working) == 2
    assert "the first service is due on 2025-03-12" in finding.text
    single = maintenance_dates(date(2025, 3, 1), 6 * HOUR, 5, "synthetic", "one")
    assert finding.results["tasks"] - single.results["tasks"] == 1


@pytest.mark.parametrize(
    "missing", ["start", "hours_per_day", "days_per_week", "oil_type", "stages"]
)
def test_missing_dates_block_handover(missing: str) -> None:
    known: dict[str, Any] = {
        "start": date(2025, 3, 1),
        "hours_per_day": 6 * HOUR,
        "days_per_week": 5,
        "oil_type": "synthetic",
        "stages": "two",
    }
    finding = maintenance_dates(**{k: v for k, v in known.items() if k != missing})
    assert finding.blocks_handover and finding.text == "The due dates are missing."
