"""Visits after the handover: kept beside the commissioning, drift shown, dates gone on."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from tests.demo.fleet import finished
from tests.report.sheets import of, section
from tests.test_record import sealed
from wizard import actions, service
from wizard.actions import Hand, NeedsConfirmation, NeedsReason
from wizard.calendar_file import calendar
from wizard.errors import InputError, Refused
from wizard.finding import Verdict
from wizard.job import Act, Job
from wizard.procedure import procedure
from wizard.procedure.visits import visit_kinds
from wizard.record import dumps, loads
from wizard.record.plan import first_day, plan
from wizard.tables import table

WHY = "called away"
START = datetime(2026, 4, 1, 8, 0, tzinfo=UTC)


def hand(minutes: float = 0) -> Hand:
    return Hand("Tess", START + timedelta(minutes=minutes))


@pytest.fixture(scope="module")
def job() -> Job:
    return finished("five_hp")


@pytest.fixture
def visited(job: Job) -> Job:
    return service.open_visit(job, "recheck", hand())


def answered(job: Job, **texts: str) -> Job:
    for minute, (key, text) in enumerate(texts.items()):
        job = service.answer_visit(job, key.replace("__", "."), text, hand(minute), confirmed=True)
    return job


def drift(job: Job, key: str) -> service.Drift:
    (visit,) = job.visits.values()
    return next(d for d in service.drifts(job, visit) if d.item.key == key)


def test_kinds_of_visits_name_items_and_tasks_that_there_are() -> None:
    tasks = {row["key"] for row in table("maintenance").rows}
    for kind in visit_kinds().values():
        assert set(kind.items) <= procedure().items.keys(), kind.name
        assert len(kind.items) == len(set(kind.items))
        assert set(kind.tasks) <= tasks and kind.caution


def test_commissioning_values_stay_and_the_visit_stands_beside_them(visited: Job) -> None:
    before = visited.answers["belt.deflection"]
    after = answered(visited, belt__deflection="0.42 in")
    assert after.answers["belt.deflection"] == before
    got = drift(after, "belt.deflection")
    assert (got.then, got.now) == (f"{before.value:g} in", "0.42 in")
    assert got.change.startswith("+0.05 in (+1")
    assert got.finding is not None


def test_an_open_visit_is_unfinished_work_and_a_closed_one_is_not(visited: Job) -> None:
    assert visited.state == "in progress"
    closed = service.close_visit(visited, hand(5), WHY)
    assert closed.state == "finished"
    assert service.open_visit(closed, "yearly", hand(9)).visits.keys() == {1, 2}


def test_a_failed_safety_item_holds_until_it_passes_again(visited: Job) -> None:
    held = answered(visited, belt__lockout="no")
    assert held.state == "held" and [h.key for h in held.holds()] == ["belt.lockout"]
    assert Act.HOLD_RAISED in [e.act for e in held.events]
    with pytest.raises(Refused, match="Held at this visit"):
        answered(held, belt__condition="yes")
    closed = service.close_visit(held, hand(8), WHY)
    assert closed.state == "held", "closing a visit clears nothing"
    cleared = service.answer_visit(held, "belt.lockout", "yes", hand(9), reason="locked now")
    assert cleared.holds() == () and Act.HOLD_CLEARED in [e.act for e in cleared.events]


def test_what_a_visit_found_is_not_lifted_by_taking_back_what_it_rests_on(visited: Job) -> None:
    torque = next(i for i in service.visit_items(visited, visited.visits[1]) if "torque" in i.key)
    text = " ".join("400" for _ in torque.labels)
    held = service.answer_visit(visited, torque.key, text, hand(1), confirmed=True)
    assert [h.key for h in held.holds()] == [torque.key]
    for take_back in (actions.withdraw, actions.waive):
        with pytest.raises(Refused, match="holds the job until a new reading passes"):
            take_back(held, "foot.target", "wrong line", hand(2))


def test_the_latest_visit_decides(job: Job) -> None:
    first = answered(service.open_visit(job, "recheck", hand()), running__sound="other")
    assert "running.sound" in {i.key for i in first.failures()} or first.holds()
    closed = service.close_visit(first, hand(5), WHY)
    later = service.open_visit(closed, "yearly", hand(60))
    mended = answered(later, running__sound="even, nothing unusual")
    assert not mended.holds() and not mended.failures()


def test_what_a_check_makes_of_a_series_is_compared(visited: Job) -> None:
    leaking = answered(
        visited,
        leak__package_start_temperature="76 °F",
        leak__package="0 128; 600 126.8; 1200 125.7; 1800 124.6 psi",
        leak__package_end_temperature="76 °F",
    )
    assert " to " in drift(leaking, "leak.package_end_temperature").change
    assert "(+" in drift(leaking, "leak.package_end_temperature").change


def test_a_correction_in_a_visit_wants_a_reason(visited: Job) -> None:
    once = answered(visited, belt__condition="yes")
    with pytest.raises(NeedsReason):
        answered(once, belt__condition="no")
    with pytest.raises(Refused, match="does not belong to this visit"):
        answered(once, motor__power="5 hp")
    with pytest.raises(InputError):
        answered(once, belt__deflection="soft")


def test_a_leak_is_written_down_although_the_oil_is_low(visited: Job) -> None:
    held = answered(visited, oil__level_glass="20 %", leak__joints_soap="no")
    assert [h.key for h in held.holds()] == ["oil.level_glass"]
    assert held.visits[1].answers["leak.joints_soap"].raw == "no"
    with pytest.raises(Refused, match="Held at this visit by “Oil level"):
        answered(held, running__sound="even, nothing unusual")
    mended = service.answer_visit(held, "oil.level_glass", "60 %", hand(9), reason="filled up")
    assert not mended.holds()


def test_without_a_sure_lock_no_hand_goes_in_and_the_meter_can_be_read(visited: Job) -> None:
    held = answered(visited, belt__lockout="no", leak__joints_soap="yes", visit__hour_meter="50 h")
    for key, text in (("belt.deflection", "0.4 in"), ("oil.level_glass", "60 %")):
        with pytest.raises(Refused, match="Held at this visit"):
            service.answer_visit(held, key, text, hand(9))


def test_an_hour_meter_that_runs_backwards_is_asked_about(visited: Job) -> None:
    with pytest.raises(NeedsConfirmation, match="does not run backwards"):
        service.answer_visit(visited, "visit.hour_meter", "0.5 h", hand(1))
    changed = service.answer_visit(visited, "visit.hour_meter", "0.5 h", hand(1), confirmed=True)
    assert "Was it changed?" in changed.visits[1].answers["visit.hour_meter"].confirmed
    service.answer_visit(visited, "visit.hour_meter", "50 h", hand(1))


def test_a_visit_that_leaves_something_is_closed_for_a_reason_only(visited: Job) -> None:
    with pytest.raises(Refused, match="22 of its 22 items are open"):
        service.close_visit(visited, hand(2))
    held = answered(visited, belt__lockout="no")
    with pytest.raises(Refused, match=r"held by “Lock still on.*21 of its 22 items are open"):
        service.close_visit(held, hand(2), "  ")
    closed = service.close_visit(held, hand(2), WHY).visits[1].closed
    assert closed is not None and closed.data["reason"] == WHY


def whole(visited: Job) -> Job:
    """A recheck with every item as it was at the handover, but for the hours."""
    texts = {"visit.hour_meter": "60 h"}
    for item in service.visit_items(visited, visited.visits[1]):
        texts.setdefault(item.key, visited.answers[item.key].raw)
    return answered(visited, **texts)


def test_a_recheck_that_was_closed_is_done_and_one_half_done_is_not(visited: Job) -> None:
    def due(job: Job) -> bool:
        return "recheck" in {task.key for task in service.due(job)}

    done = whole(visited)
    assert due(done) and not service.left_over(done)
    assert not due(service.close_visit(done, hand(60)))
    half = answered(visited, belt__condition="yes")
    assert due(service.close_visit(half, hand(60), WHY))


def test_the_recheck_is_due_on_the_day_that_was_agreed(job: Job) -> None:
    (recheck,) = (task for task in service.due(job) if task.key == "recheck")
    assert str(recheck.due) == job.answers["handover.recheck_date"].raw
    assert [t.due for t in plan(job)] == sorted(t.due for t in plan(job))
    assert recheck.due in {t.due for t in plan(job) if t.key == "recheck"}


def test_no_visit_before_the_handover_and_one_at_a_time(job: Job, visited: Job) -> None:
    cut = Job.replay(job.header, job.procedure, job.events[:-40])
    with pytest.raises(Refused, match="not finished"):
        service.open_visit(cut, "recheck", hand())
    with pytest.raises(Refused, match="still open"):
        service.open_visit(visited, "yearly", hand(3))
    with pytest.raises(Refused, match="No visit is open"):
        service.close_visit(job, hand())
    with pytest.raises(InputError, match="recheck, yearly"):
        service.open_visit(job, "monthly", hand())


def test_a_task_done_gets_its_next_date_and_one_done_once_goes(visited: Job) -> None:
    def dates(job: Job) -> Mapping[str, Any]:
        return {t.key: t.due for t in service.due(job)}

    before = dates(visited)
    done = service.did(service.did(visited, "recheck", hand(1)), "belts", hand(2))
    after = dates(done)
    assert "recheck" in before and "recheck" not in after
    assert after["belts"] > before["belts"] and after["belts"] > START.date()
    assert after["relief_bench"] == before["relief_bench"]
    with pytest.raises(InputError, match="task"):
        service.did(visited, "polish", hand())


def test_dates_go_by_the_hour_meter_where_the_use_is_far_off(visited: Job) -> None:
    first = visited.answers["visit.hour_meter"].value
    assert isinstance(first, float)
    begun = first_day(visited)
    assert begun is not None
    days = (START.date() - begun).days
    much = answered(visited, visit__hour_meter=f"{first + 20 * days * 5 / 7:.1f} h")
    ran = service.hours_run(much)
    assert ran is not None and abs(ran / 3600 - 20) < 0.5
    by_plan = {t.key: t.due for t in service.due(visited)}
    by_meter = {t.key: t.due for t in service.due(much)}
    assert by_meter["belts"] < by_plan["belts"]


def stood(visited: Job, more: float = 0.0) -> Job:
    """The hour meter at the visit shows so many hours more than at the handover."""
    first = visited.answers["visit.hour_meter"].value
    assert isinstance(first, float)
    return answered(visited, visit__hour_meter=f"{first + more:.1f} h")


def test_a_machine_that_has_not_run_has_no_hour_task_due_and_keeps_every_one(visited: Job) -> None:
    before = {t.key: t for t in service.due(visited)}
    after = {t.key: t for t in service.due(stood(visited))}
    assert after.keys() == before.keys()
    assert before["recheck"].overdue(START.date()), "the day agreed has passed"
    recheck = after["recheck"]
    assert not recheck.overdue(START.date()) and recheck.won == "hours"
    assert recheck.due == START.date() + timedelta(days=int(48 / 3 * 7 / 5))
    assert "had not run since the handover on 2026-04-01" in recheck.note
    assert {t.won for key, t in after.items() if key != "recheck"} == {"calendar"}


def test_hours_that_did_run_count_and_seated_belts_are_due_on_the_day_agreed(visited: Job) -> None:
    def recheck(job: Job) -> Any:
        return next(t for t in service.due(job) if t.key == "recheck")

    agreed = recheck(visited).due
    little, stands = recheck(stood(visited, 12)), recheck(stood(visited))
    assert START.date() < little.due < stands.due and "had run 12 h" in little.note
    assert recheck(stood(visited, 23.9)).due > agreed
    assert recheck(stood(visited, 24.0)).due == agreed


def test_a_day_agreed_that_is_still_to_come_stands(job: Job) -> None:
    early = START - timedelta(days=12)
    visit = service.open_visit(job, "recheck", Hand("Tess", early))
    meter = visit.answers["visit.hour_meter"].raw
    visit = service.answer_visit(visit, "visit.hour_meter", meter, Hand("Tess", early))
    (recheck,) = (t for t in service.due(visit) if t.key == "recheck")
    assert str(recheck.due) == job.answers["handover.recheck_date"].raw


def test_a_recheck_that_was_done_does_not_come_back_on_a_machine_that_stands(visited: Job) -> None:
    done = service.did(stood(visited), "recheck", hand(5))
    assert "recheck" not in {t.key for t in service.due(done)}


def test_the_sheet_and_the_calendar_list_what_a_machine_that_stands_will_need(
    visited: Job,
) -> None:
    job = stood(visited)
    (recheck,) = (t for t in service.due(job) if t.key == "recheck")
    told = " ".join(section(of(job), "Maintenance plan").split())
    assert f"{recheck.due}" in told and "had not run since" in told
    start = first_day(job)
    assert start is not None
    file = calendar(service.due(job), "M", "0" * 32, start, START).decode()
    assert f"UID:recheck-{'0' * 32}" in file and f"{recheck.due:%Y%m%d}" in file


def test_the_customers_rounds_are_no_business_of_a_visit(job: Job) -> None:
    assert "drain" not in {t.key for t in service.due(job)}
    assert "drain" in {t.key for t in service.due(job, rounds=True)}


def test_a_visit_is_read_back_from_the_record_as_it_was(visited: Job) -> None:
    job = answered(visited, belt__deflection="0.4 in", belt__condition="yes")
    job = service.note_visit(service.did(job, "belts", hand(7)), "Belts are worn", hand(8))
    job = service.close_visit(job, hand(9), WHY)
    back = loads(dumps(job, 2), job.procedure, "BASE.toml").job
    assert back.visits == job.visits and back.found_again == job.found_again


def test_what_does_not_fit_in_a_visit_is_left_out_when_read(visited: Job) -> None:
    job = answered(visited, belt__deflection="0.41 in")
    text = re.sub(r"value = 0\.41\b", 'value = "soft"', dumps(job, 2).decode())
    back = loads(sealed(text), visited.procedure, "BASE.toml").job
    assert back.visits[1].answers == {} and back.holds() == ()


def test_findings_of_a_visit_come_from_its_own_readings(visited: Job) -> None:
    got = answered(visited, leak__relief_soap="no")
    assert got.found_again["leak.relief_soap"][0].verdict is Verdict.FAIL
    assert got.findings["leak.relief_soap"][0].verdict is Verdict.PASS
    assert actions.item_of(got, "leak.relief_soap").severity.value == "safety"
