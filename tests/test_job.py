"""The job: gate, holds, corrections, conditions and history."""

from __future__ import annotations

import re

import pytest

from tests.demo.maker import commission, scenario
from tests.small import START_TIME, hand, new_job
from wizard import actions
from wizard.answer import parse
from wizard.errors import InputError, Refused
from wizard.finding import Verdict
from wizard.job import Act, Header, Job
from wizard.procedure import procedure

NO_BREAK = "no break of 60 min, same crew"


def answered(job: Job, **texts: str) -> Job:
    for minute, (key, text) in enumerate(texts.items(), len(job.events)):
        job = actions.answer(job, key.replace("__", "."), text, hand(minute))
    return job


def full() -> Job:
    return answered(
        new_job(),
        motor__phases="single",
        motor__voltage="230",
        machine__label="Shed 4",
        lock__on="yes",
        wire__colours="1",
        gauge__reading="0",
        vent__time="0:08",
        pump__series="0 100; 30 112.5; 60 124 psi",
        start__date="2026-03-02",
    )


def test_a_whole_job_finishes() -> None:
    job = full()
    assert job.state == "finished"
    assert job.next_item() is None
    assert job.answers["vent.time"].value == 8.0
    assert job.answers["pump.series"].value == ((0.0, 100.0), (30.0, 112.5), (60.0, 124.0))


def test_a_failed_safety_item_holds_later_phases_and_says_why() -> None:
    job = answered(new_job(), motor__phases="single", lock__on="no")
    assert job.state == "held"
    assert job.next_item() is job.procedure.items["lock.on"]
    with pytest.raises(Refused, match="Held in phase 2 by “Lock and tag"):
        actions.answer(job, "gauge.reading", "0", hand(9))
    job = actions.answer(job, "wire.colours", "1", hand(10))
    job = actions.answer(job, "lock.on", "yes", hand(11), reason="lock found and fitted")
    assert job.holds() == ()
    acts = [e.act for e in job.events]
    assert acts.count(Act.HOLD_RAISED) == 1 and acts.count(Act.HOLD_CLEARED) == 1


def test_a_later_correction_raises_the_hold_again() -> None:
    job = actions.answer(full(), "lock.on", "no", hand(30), reason="lock was borrowed")
    assert job.state == "held"
    with pytest.raises(Refused):
        actions.answer(job, "start.date", "2026-03-03", hand(31), reason="later")


def test_a_hold_is_not_lifted_by_taking_answers_back() -> None:
    job = answered(new_job(), motor__phases="three", pads__count="4", lock__on="no")
    for act in (Act.WITHDRAWN, Act.ANSWERED):
        assert bool(job.refusal("lock.on", act)) is (act is Act.WITHDRAWN)
    with pytest.raises(
        Refused, match="again with a reason: “Lock and tag on the disconnect” holds"
    ):
        actions.withdraw(job, "lock.on", "undone at once", hand(10))
    assert actions.withdraw(job, "pads.count", "miscounted", hand(10)).state == "held"
    job = actions.answer(job, "lock.on", "yes", hand(11), reason="fitted")
    assert actions.withdraw(job, "lock.on", "taken off again", hand(12)).state == "in progress"


def tank_job(**texts: str) -> Job:
    """A job on the shipped procedure."""
    return answered(Job.new(Header("T1", "0" * 32, START_TIME), procedure()), **texts)


def test_what_a_held_item_needs_is_not_taken_back_either() -> None:
    job = tank_job(motor__phases="three", energy__dead_to_ground="0 0 120")
    assert job.state == "held"
    with pytest.raises(Refused, match="each line to ground” holds the job"):
        actions.withdraw(job, "motor.phases", "not read yet", hand(10))
    with pytest.raises(Refused, match="each line to ground” holds the job"):
        actions.waive(job, "motor.phases", "no plate", hand(10))
    job = actions.answer(job, "motor.phases", "single", hand(11), reason="read again")
    assert job.state == "in progress"


def test_a_hold_does_not_end_by_a_reading_that_cannot_be_judged_yet() -> None:
    job = tank_job(energy__gauge="5 psi")
    assert job.state == "held"
    with pytest.raises(Refused, match="Waits for: Drain of the tank stands open"):
        actions.answer(job, "energy.gauge", "0 psi", hand(5), reason="bled")
    job = answered(job, energy__drain_open="yes", energy__no_flow="yes")
    job = actions.answer(job, "energy.gauge", "0 psi", hand(9), reason="bled")
    assert job.state == "in progress"


@pytest.mark.parametrize(
    ("texts", "holds"),
    [
        ({"energy__gauge": "5 psi"}, True),
        ({"energy__gauge": "0 psi"}, False),
        ({"energy__gauge": "0 psi", "energy__no_flow": "no"}, True),
        ({"energy__live_near": "400 V", "energy__live_plan": "no"}, True),
        ({"energy__live_near": "400 V", "energy__live_plan": "yes"}, False),
        ({"receiver__plate_checked": "missing"}, True),
        ({"energy__crew": "changed", "energy__proof_repeated": NO_BREAK}, True),
        ({"energy__crew": "same crew", "energy__proof_repeated": NO_BREAK}, False),
        ({"energy__away": "2 h", "energy__proof_repeated": NO_BREAK}, True),
    ],
)
def test_a_reading_that_is_dangerous_by_itself_waits_for_nothing(
    texts: dict[str, str], holds: bool
) -> None:
    assert bool(tank_job(**texts).holds()) is holds


@pytest.fixture(scope="module")
def ready() -> Job:
    """A job in which everything before the first start has passed."""
    return commission("J1", scenario("fifteen_hp"), until="start.exclusion")


def test_what_only_bars_the_handover_bars_energising_too(ready: Job) -> None:
    assert not ready.refusal("start.exclusion")
    minutes = (ready.events[-1].at - START_TIME).total_seconds() / 60
    job = actions.answer(ready, "bond.tank", "0.6", hand(minutes + 1), reason="measured again")
    assert not job.holds()
    with pytest.raises(Refused, match=r"in phase 8: “Bond resistance, .* receiver”: FAIL"):
        actions.answer(job, "start.exclusion", "yes", hand(minutes + 2), reason="again")
    key = next(i.key for i in procedure().items.values() if i.kind == "time" and i.phase == 12)
    with pytest.raises(Refused, match="Nothing is energised"):
        actions.start_timer(job, key, hand(minutes + 2), {"monotonic": 1.0, "boot": "b"})
    left = job.next_item("start.exclusion")
    assert left and left.key == "bond.tank"
    job = actions.answer(job, "bond.tank", "0.05", hand(minutes + 4), reason="scraped")
    assert not job.refusal("start.exclusion")


def test_under_a_hold_the_next_open_item_comes_first_where_it_is_asked_for() -> None:
    job = answered(new_job(), motor__phases="three", lock__on="no")
    following = job.next_item("lock.on", past_holds=True)
    assert following and following.key == "wire.colours"
    job = answered(job, wire__colours="1", pads__count="4")
    following = job.next_item("pads.count", past_holds=True)
    assert following and following.key == "motor.voltage"
    job = answered(job, motor__voltage="230", machine__label="Shed")
    following = job.next_item("machine.label", past_holds=True)
    assert following and following.key == "lock.on"


def test_nothing_starts_before_every_earlier_safety_item_has_passed() -> None:
    job = answered(new_job(), motor__phases="single", motor__voltage="230")
    with pytest.raises(Refused, match="Nothing is energised"):
        actions.answer(job, "gauge.reading", "0", hand(5))
    with pytest.raises(Refused):
        actions.start_timer(job, "vent.time", hand(5), {"monotonic": 1.0, "boot": "b"})


def test_a_correction_keeps_the_old_value_and_wants_a_reason() -> None:
    job = answered(new_job(), motor__voltage="230")
    with pytest.raises(actions.NeedsReason):
        actions.answer(job, "motor.voltage", "208", hand(2))
    job = actions.answer(job, "motor.voltage", "208", hand(3), reason="misread the plate")
    event = job.events[-1]
    assert (event.act, event.data["was"], event.data["reason"]) == (
        Act.CORRECTED,
        "230",
        "misread the plate",
    )


def test_an_unlikely_value_is_confirmed_and_both_are_kept() -> None:
    job = answered(new_job(), motor__phases="single", lock__on="yes", wire__colours="1")
    with pytest.raises(actions.NeedsConfirmation, match="outside what is usual"):
        actions.answer(job, "gauge.reading", "250", hand(5))
    job = actions.answer(job, "gauge.reading", "250", hand(6), confirmed=True)
    assert "250 is outside" in job.answers["gauge.reading"].confirmed


def test_conditions_bring_items_in_and_out() -> None:
    job = answered(new_job(), motor__phases="three")
    assert job.applies("pads.count")
    job = answered(job, pads__count="4")
    job = actions.answer(job, "motor.phases", "single", hand(8), reason="read again")
    assert not job.applies("pads.count") and job.finding("pads.count") is None
    with pytest.raises(Refused, match="does not belong"):
        actions.answer(job, "pads.count", "4", hand(9))


def test_a_safety_item_cannot_be_waived_and_others_want_a_reason() -> None:
    job = new_job()
    with pytest.raises(Refused, match="cannot be marked not applicable"):
        actions.waive(job, "lock.on", "no lock here", hand())
    with pytest.raises(InputError, match="given nothing"):
        actions.waive(job, "machine.label", "  ", hand())
    job = actions.waive(job, "machine.label", "only one machine", hand())
    finding = job.finding("machine.label")
    assert finding and finding.verdict is Verdict.NOT_APPLICABLE


def test_an_advisory_wants_a_note_before_the_job_is_finished() -> None:
    job = actions.answer(full(), "wire.colours", "2", hand(20), reason="looked again")
    assert job.state == "in progress"
    assert [i.key for i in job.wants_note()] == ["wire.colours"]
    job = actions.note(job, "wire.colours", "Brown used for red, tagged", hand(21))
    assert job.state == "finished"


def test_replay_of_the_events_gives_the_same_job() -> None:
    job = actions.answer(full(), "wire.colours", "2", hand(20), reason="looked again")
    again = Job.replay(job.header, job.procedure, job.events)
    assert again.answers == job.answers
    assert again.findings == job.findings


def test_a_clock_set_back_is_written_down() -> None:
    job = answered(new_job(), motor__voltage="230")
    job = actions.answer(job, "machine.label", "Shed", hand(-60))
    assert [e.act for e in job.events] == [Act.ANSWERED, Act.CLOCK_STEPPED, Act.ANSWERED]
    assert [e.seq for e in job.events] == [1, 2, 3]


def test_a_stopwatch_gives_the_text_of_the_answer() -> None:
    job = answered(new_job(), motor__phases="single", lock__on="yes")
    job = actions.start_timer(job, "pump.series", hand(5), {"monotonic": 10.0, "boot": "b"})
    job = actions.lap(job, "pump.series", 0.5, "100", hand(5))
    job = actions.lap(job, "pump.series", 30.0, "112 psi", hand(6))
    job = actions.stop_timer(job, "pump.series", 31.0, hand(6))
    assert actions.timed_answer(job, "pump.series") == "0.5 100; 30.0 112 psi"
    with pytest.raises(Refused, match="not running"):
        actions.lap(job, "pump.series", 40.0, "120", hand(7))


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("motor.voltage", "23O", "given “23O”, accepted"),
        ("motor.voltage", "", "given nothing, accepted 100 V to 690 V"),
        ("motor.voltage", "9**9**9 V", "accepted"),
        ("motor.voltage", "1,450", "1450 or 1.450"),
        ("motor.voltage", "45 bar", "units V, mV, kV"),
        ("motor.voltage", "12 V", "accepted 100 V to 690 V"),
        ("motor.phases", "two", "1 single; 2 three"),
        ("lock.on", "maybe", "yes or no"),
        ("start.date", "31.02.2026", "a date as"),
    ],
)
def test_bad_input_is_one_clear_sentence(key: str, text: str, said: str) -> None:
    job = new_job()
    with pytest.raises(InputError) as caught:
        parse(job.procedure.items[key], text, "us")
    assert said in str(caught.value)
    assert not re.search(r"\w\. |\n", str(caught.value))
