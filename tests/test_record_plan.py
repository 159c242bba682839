"""The maintenance plan in the record is the one that was judged at handover."""

from __future__ import annotations

import tomllib
from datetime import date
from typing import Any

from tests.small import START_TIME
from wizard.job import Act, Event, Header, Job
from wizard.procedure import procedure
from wizard.record import dumps, loads
from wizard.record.plan import AGREED, DAYS, HOURS, INTERVAL, OIL, STAGES, START, plan

ANSWERS: dict[str, dict[str, Any]] = {
    START: {"raw": "2026-03-02", "value": date(2026, 3, 2)},
    "use.hours_per_day": {"raw": "4", "value": 4.0, "unit": "h"},
    "use.days_per_week": {"raw": "5", "value": 5},
    OIL: {"raw": "synthetic", "value": "synthetic"},
    INTERVAL: {"raw": "1000 h", "value": 1000.0, "unit": "h"},
    STAGES: {"raw": "two", "value": "two"},
    "handover.hours_per_day": {"raw": "8", "value": 8.0, "unit": "h"},
    "handover.days_per_week": {"raw": "6", "value": 6},
}


def job(*without: str, **instead: dict[str, Any]) -> Job:
    given = {k: v for k, v in {**ANSWERS, **instead}.items() if k not in without}
    events = [
        Event(n, Act.ANSWERED, START_TIME, "Tess", key, data)
        for n, (key, data) in enumerate(given.items(), 1)
    ]
    return Job.replay(Header("T1", "0" * 32, START_TIME), procedure(), events)


def due(planned: Job) -> dict[str, date]:
    return {task.key: task.due for task in plan(planned)}


def test_the_inputs_are_asked_for_by_the_procedure() -> None:
    assert {START, *HOURS, *DAYS, OIL, INTERVAL, STAGES} <= set(procedure().items)


def test_the_plan_stands_in_the_record_with_its_dates() -> None:
    planned = job()
    rows = tomllib.loads(dumps(planned, 1).decode())["maintenance"]
    assert {r["key"]: r["due"] for r in rows} == due(planned)
    assert [r["due"] for r in rows] == sorted(r["due"] for r in rows)
    assert {r["won_by"] for r in rows} == {"hours", "calendar"}
    assert loads(dumps(planned, 1), procedure()).job.events == planned.events


def test_the_day_agreed_for_the_recheck_stands_for_a_machine_that_will_not_run() -> None:
    agreed = {AGREED: {"raw": "2026-03-20", "value": date(2026, 3, 20)}}
    stands = {"handover.hours_per_day": {"raw": "0", "value": 0.0, "unit": "h"}}
    assert due(job(**agreed, **stands))["recheck"] == date(2026, 3, 20)


def test_what_was_confirmed_at_handover_counts_before_the_estimate() -> None:
    estimated = due(job("handover.hours_per_day", "handover.days_per_week"))
    assert due(job())["oil_synthetic"] < estimated["oil_synthetic"]
    assert due(job())["oil_synthetic"] < due(job(INTERVAL))["oil_synthetic"]


def test_without_its_inputs_there_is_no_plan() -> None:
    for missing in (START, OIL, STAGES):
        assert plan(job(missing)) == ()
    assert plan(job("use.hours_per_day", "handover.hours_per_day")) == ()
    assert plan(job(**{OIL: {"raw": "not known", "value": "not known"}})) == ()
