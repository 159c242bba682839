"""The electrical practice of a job against the place it is for."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from wizard import actions
from wizard.checks.jurisdiction import electrical_practice
from wizard.errors import InputError
from wizard.finding import Severity, Verdict
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.settings import Settings

AT = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("jurisdiction", "practice", "verdict"),
    [
        ("United States", "US", Verdict.PASS),
        ("United States", "IEC", Verdict.FAIL),
        ("European Union", "IEC", Verdict.PASS),
        ("European Union", "US", Verdict.FAIL),
        ("United Kingdom", "IEC", Verdict.PASS),
        ("United Kingdom", "US", Verdict.FAIL),
        ("other", "US", Verdict.PASS),
        ("other", "IEC", Verdict.PASS),
    ],
)
def test_the_practice_is_that_of_the_place(
    jurisdiction: str, practice: str, verdict: Verdict
) -> None:
    found = electrical_practice(jurisdiction, practice)
    assert found.verdict is verdict and found.severity is Severity.HANDOVER
    assert f"{practice} electrical practice" in found.text


def test_a_european_job_by_us_rules_cannot_be_closed_and_says_what_to_do() -> None:
    header = Header("T1", "0" * 32, AT, "metric", settings=Settings(practice="US"))
    job = Job.new(header, procedure())
    job = actions.answer(job, "job.jurisdiction", "European Union", actions.Hand("Ann", AT))
    found = job.finding("job.jurisdiction")
    assert found is not None and found.blocks_handover and not job.holds()
    assert "--practice IEC" in found.clears


def test_a_place_nobody_knows_is_refused() -> None:
    with pytest.raises(InputError, match="jurisdiction"):
        electrical_practice("Atlantis", "US")
