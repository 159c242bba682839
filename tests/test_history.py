"""Doubts about a history: each rule fires on what it names and not on sound work."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from tests.small import START_TIME, hand, new_job
from wizard import actions
from wizard.actions import Hand
from wizard.history import FAST_RUN, FROM_PAPERS, doubts, told
from wizard.instrument import Instrument
from wizard.job import Job


def ready() -> Job:
    job = actions.answer(new_job(), "motor.phases", "single", hand(0))
    return actions.answer(job, "lock.on", "yes", hand(5))


def rules(job: Job) -> list[str]:
    return [d.rule for d in doubts(job)]


def test_sound_work_raises_no_doubt() -> None:
    job = actions.answer(ready(), "gauge.reading", "0", hand(9))
    job = actions.answer(job, "vent.time", "8 s", hand(12))
    assert doubts(job) == ()


def test_answers_faster_than_hands_are_seen() -> None:
    job = ready()
    for second in range(FAST_RUN):
        text = ("yes", "no")[second % 2]
        at = START_TIME + timedelta(minutes=20, seconds=2 * second)
        job = actions.answer(job, "lock.on", text, Hand("T", at), reason="again")
    assert "too fast" in rules(job)


def test_the_name_of_the_papers_hides_nothing_in_the_record_of_a_machine() -> None:
    job = ready()
    for second in range(FAST_RUN):
        at = START_TIME + timedelta(minutes=20, seconds=2 * second)
        text = ("yes", "no")[second % 2]
        job = actions.answer(job, "lock.on", text, Hand(FROM_PAPERS, at), reason="again")
    assert "too fast" in rules(job)
    practice = replace(job, header=replace(job.header, practice_run=True))
    assert "too fast" not in rules(practice)


def test_a_duration_longer_than_the_time_that_passed_is_seen() -> None:
    job = actions.answer(ready(), "gauge.reading", "0", hand(9))
    job = actions.answer(job, "vent.time", "30 min", hand(12))
    assert rules(job) == ["too short"]
    assert "1800 s typed, but there were only 180 s" in doubts(job)[0].text


def test_a_clock_set_back_is_seen() -> None:
    job = actions.answer(ready(), "gauge.reading", "0", hand(-5))
    assert rules(job) == ["clock"]


def test_an_event_that_goes_back_in_time_without_a_word_is_seen() -> None:
    job = actions.answer(ready(), "gauge.reading", "0", hand(9))
    early = replace(job.events[1], at=START_TIME - timedelta(days=1))
    forged = Job.replay(job.header, job.procedure, (job.events[0], early, *job.events[2:]))
    assert "clock" in rules(forged) and "goes back in time" in doubts(forged)[0].text


def test_work_under_power_before_the_lock_is_seen() -> None:
    job = actions.answer(ready(), "gauge.reading", "0", hand(9))
    lock = next(e for e in job.events if e.key == "lock.on")
    others = [e for e in job.events if e is not lock]
    swapped = [replace(e, seq=n) for n, e in enumerate((*others, replace(lock, at=hand(20).at)), 1)]
    forged = Job.replay(job.header, job.procedure, swapped)
    assert "order" in rules(forged)
    assert "order" not in [d.rule for d in doubts(forged, same=False)]


def test_readings_of_a_dead_line_may_well_be_the_same() -> None:
    from tests.demo.fleet import finished

    job = finished("fifteen_hp")
    assert "0 0 0" in job.answers["energy.dead_between"].raw
    assert doubts(job) == ()


def test_a_number_that_is_not_what_was_typed_is_seen() -> None:
    job = actions.answer(ready(), "motor.voltage", "230", hand(6))
    for data in ({"raw": "208"}, {"value": 208.0}, {"raw": "some"}):
        last = replace(job.events[-1], data={**job.events[-1].data, **data})
        forged = Job.replay(job.header, job.procedure, (*job.events[:-1], last))
        assert rules(forged) == ["typed"], data
    assert doubts(job) == ()


def test_an_expired_instrument_is_seen() -> None:
    old = Instrument(
        "old gauge", "pressure gauge", calibration_due=START_TIME.date() - timedelta(days=1)
    )
    job = actions.list_instrument(ready(), old, hand(6))
    job = actions.answer(job, "gauge.reading", "0", hand(9), instrument="old gauge")
    assert rules(job) == ["calibration"]


def test_corrections_tell_both_values_and_the_reason() -> None:
    job = actions.answer(ready(), "motor.voltage", "230", hand(6))
    job = actions.answer(job, "motor.voltage", "208", hand(7), reason="misread")
    job = actions.waive(job, "machine.label", "only one", hand(8))
    assert [t.text for t in told(job)] == ["230 became 208: misread", "Not applicable: only one"]
