"""A two-stage pump without a tapping between its stages: finished, and the sheet says so."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from tests.demo.maker import commission, scenario
from tests.report.sheets import of, section
from wizard.finding import Severity, Verdict
from wizard.job import Job

NO_GAUGE = ("start.half_interstage", "start.three_quarter_interstage")
ANSWERS = {
    "interstage.needle": "no tapping, so not checked",
    **dict.fromkeys(NO_GAUGE, "no gauge fitted"),
}
NOTE = "Pump has no port between the stages; temperatures taken instead."


@cache
def commissioned(noted: bool = True) -> Job:
    """The main job on such a pump."""
    given = scenario("fifteen_hp")
    notes = dict.fromkeys(ANSWERS, NOTE) if noted else {}
    answers = {key: text for key, text in given.answers.items() if key != "interstage.pressure"}
    given = replace(given, answers={**answers, **ANSWERS}, notes={**given.notes, **notes})
    return commission("J1", given)


def test_the_pressure_is_not_asked_and_the_job_is_finished_with_a_note() -> None:
    job = commissioned()
    assert not job.applies("interstage.pressure") and "interstage.pressure" not in job.answers
    assert job.state == "finished"


def test_without_a_note_it_is_not_finished() -> None:
    job = commissioned(noted=False)
    assert {"interstage.needle"} <= {item.key for item in job.wants_note()}
    assert job.state == "in progress"


def test_both_stages_are_still_judged_by_their_temperatures() -> None:
    job = commissioned()
    for key in ("discharge.first_stage", "discharge.second_stage"):
        (finding,) = job.findings[key]
        assert finding.check == "discharge_temperature" and finding.severity is Severity.SAFETY
        assert finding.verdict is Verdict.PASS and "Without a tapping" in finding.text


def test_the_sheet_says_that_it_was_not_checked_and_why() -> None:
    told = " ".join(section(of(commissioned()), "Open advisories").split())
    assert "No tapping, so not checked:" in told
    assert "Pump has no port between" in told
