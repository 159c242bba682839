"""The invented jobs: as committed, started anew from their plates, and commissioned to the end."""

from __future__ import annotations

from functools import cache, partial

import pytest

from tests.demo.__main__ import FOLDER, JOBS, demo_job
from tests.demo.maker import START, commission, scenario
from wizard import actions
from wizard.actions import Hand, NeedsConfirmation
from wizard.answer import si_value
from wizard.finding import Verdict
from wizard.job import Header, Job
from wizard.machine_file import prefill, read_machine
from wizard.procedure import procedure
from wizard.record.plan import plan
from wizard.settings import settings_from
from wizard.store import read_job

STATES = {
    "DEMO-5HP": "finished",
    "DEMO-15HP": "held",
    "DEMO-7.5KW": "in progress",
    "DEMO-3HP-208V": "in progress",
}
ENDS = {
    "five_hp": "finished",
    "fifteen_hp": "finished",
    "metric_7_5_kw": "finished",
    "fifteen_hp_held": "held",
    "three_hp_208": "in progress",
}
"""How each scenario ends when nobody stops on the way."""

HAND = Hand("Tess Example", START.replace(year=2027))


@cache
def committed(job_id: str) -> Job:
    """The job as it is in the folder of demo jobs."""
    loaded = read_job(FOLDER / f"{job_id}.toml", procedure())
    assert not loaded.problems
    return loaded.job


@cache
def to_the_end(name: str) -> Job:
    """The scenario commissioned as far as it goes."""
    return commission("TO-THE-END", scenario(name))


def failing(job: Job) -> dict[str, set[str]]:
    """What keeps the job from being closed: item to the checks that fail."""
    return {
        item.key: {f.check for f in job.findings[item.key] if f.blocks_handover}
        for item in job.failures()
    }


@pytest.mark.parametrize("job_id", list(JOBS))
def test_a_demo_job_is_in_the_state_that_it_shows(job_id: str) -> None:
    assert committed(job_id).state == STATES[job_id]


@pytest.mark.parametrize("job_id", list(JOBS))
def test_a_demo_job_is_what_its_scenario_makes_today(job_id: str) -> None:
    made, kept = demo_job(job_id), committed(job_id)
    assert {k: a.raw for k, a in kept.answers.items()} == {
        k: a.raw for k, a in made.answers.items()
    }
    assert kept.header == made.header


def test_the_five_hp_job_is_finished_with_its_maintenance_dates() -> None:
    job = committed("DEMO-5HP")
    assert not job.open_items() and not job.wants_note()
    dates = {task.key: task.due for task in plan(job)}
    assert dates and min(dates.values()) > START.date()


def test_the_fifteen_hp_job_is_held_at_its_hose_and_nothing_later_is_answered() -> None:
    job = committed("DEMO-15HP")
    assert [hold.key for hold in job.holds()] == ["hose.working_pressure"]
    assert {i.phase for i in map(job.procedure.items.__getitem__, job.answers)} == set(range(1, 12))
    first_start = next(i for i in job.procedure.items.values() if i.phase == 12)
    assert "Held in phase 11" in job.refusal(first_start.key)


def test_the_metric_job_is_half_done_and_has_failed_nowhere() -> None:
    job = committed("DEMO-7.5KW")
    assert job.header.units == "metric" and not failing(job)
    assert 0.4 < len(job.answers) / len(job.applicable) < 0.7


def test_a_job_is_asked_and_told_by_its_own_practice() -> None:
    ours, theirs = committed("DEMO-7.5KW"), committed("DEMO-15HP")
    for key in ("panel.opposite", "panel.system"):
        assert not ours.applies(key) and theirs.applies(key)
    for job in (ours, theirs):
        assert job.findings["panel.depth"][0].verdict is Verdict.PASS
        live = actions.answer(job, "energy.live_near", "400 V", HAND, reason="r", confirmed=True)
        cited = str(live.findings["energy.live_plan"][0].sources)
        assert ("NFPA 70E" in cited) is (job is theirs)
        assert ("EN 50110-1" in cited) is (job is ours)


def test_the_208_v_job_fails_by_its_pair_alone() -> None:
    job = committed("DEMO-3HP-208V")
    assert failing(job) == {"supply.nominal": {"nominal_pair"}}
    assert not job.holds()


@pytest.mark.parametrize("name", ["five_hp", "fifteen_hp", "metric_7_5_kw"])
def test_measured_power_goes_with_the_volts_and_amperes_of_the_machine(name: str) -> None:
    job = to_the_end(name)
    (found,) = (f for f in job.findings["power.input"] if f.check == "power_reading")
    assert found.verdict is Verdict.PASS
    for key in ("running.power_factor", "motor.power_factor"):
        factor = si_value(job.procedure.items[key], job.answers[key])
        assert found.results["power_factor"] == pytest.approx(factor, rel=0.03)


@pytest.mark.parametrize("job_id", list(JOBS))
def test_its_machine_file_starts_the_job_anew(job_id: str) -> None:
    path = FOLDER / "machines" / f"{job_id}.toml"
    machine = read_machine(path)
    settings = settings_from({"practice": machine.practice})
    job = Job.new(Header("ANEW", "0" * 32, START, machine.units, settings=settings), procedure())
    job = prefill(job, machine, Hand("Tess Example", START), path.name)
    kept = committed(job_id).answers
    plates = {k for k, a in kept.items() if a.number and job.procedure.items[k].phase == 1}
    assert plates <= set(job.answers)
    assert all(answer.value == kept[key].value for key, answer in job.answers.items())
    then = job.next_item()
    assert then is not None and then.phase == 1 and then.key.startswith("parts.")
    assert not job.holds()


@pytest.mark.parametrize("name", list(ENDS))
def test_a_scenario_commissions_its_machine_to_the_end(name: str) -> None:
    job = to_the_end(name)
    assert job.state == ENDS[name]
    if ENDS[name] == "held":
        assert [hold.key for hold in job.holds()] == ["hose.working_pressure"]
        return
    assert not job.wants_note()
    if name == "three_hp_208":
        assert failing(job) == {"supply.nominal": {"nominal_pair"}}
        assert {12, 13, 14} == {i.phase for i in job.open_items()} - {15}
        following = job.next_item("running.voltage_single")
        assert following and following.key == "supply.nominal"
        return
    assert not job.open_items() and not failing(job)


@pytest.mark.parametrize("name", list(ENDS))
def test_a_scenario_answers_only_what_is_asked(name: str) -> None:
    given = scenario(name)
    assert {*given.answers, *given.notes} <= set(procedure().items)


def test_a_power_meter_on_a_wrong_range_is_doubted_before_it_is_taken() -> None:
    job = to_the_end("five_hp")
    again = partial(actions.answer, job, "power.input", hand=HAND, reason="read again")
    with pytest.raises(NeedsConfirmation, match="CT ratio"):
        again("8.7 kW")
    wrong = again("8.7 kW", confirmed=True)
    assert "power.input" in {item.key for item in wrong.failures()}
    assert "power.input" not in {item.key for item in again("4.4 kW").failures()}
