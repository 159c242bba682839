"""An answer to a question that is not asked any more: kept in the record, judged no more."""

from __future__ import annotations

from tests.small import PLATES, START, START_TIME, SUPPLY, TEXTS, hand, small_procedure
from wizard import actions
from wizard.job import Header, Job
from wizard.procedure.loader import build
from wizard.record import dumps, loads

FEET = f"""
[[item]]
key = "floor.feet"
ask = "Feet that carry"
kind = "count"
accept = [3, 8]
severity = "safety"
{TEXTS}
"""


def old_record() -> bytes:
    """A record of the procedure as it was, with one question more."""
    files = {"01_plates.toml": PLATES, "02_supply.toml": SUPPLY + FEET, "03_start.toml": START}
    job = Job.new(Header("T1", "0" * 32, START_TIME), build(files))
    for key, text in {"motor.phases": "single", "lock.on": "yes", "floor.feet": "4"}.items():
        job = actions.answer(job, key, text, hand())
    return dumps(job, 1)


def test_it_is_loaded_and_said_and_may_be_worked_on() -> None:
    loaded = loads(old_record(), small_procedure())
    assert not loaded.read_only and not loaded.grave
    assert [str(p) for p in loaded.problems] == [
        "floor.feet: recorded as PASS, judged not at all now"
    ]
    assert loaded.job.answers["floor.feet"].value == 4
    assert not loaded.job.holds()


def test_it_stays_through_the_next_answer_and_save() -> None:
    job = loads(old_record(), small_procedure()).job
    job = actions.answer(job, "motor.voltage", "230 V", hand(9))
    again = loads(dumps(job, 2), small_procedure())
    assert again.job.answers["floor.feet"].value == 4 and not again.grave
