"""Instruments and doubt: a reading inside its limit but within the instrument's error."""

from __future__ import annotations

from datetime import date

import pytest

from tests.demo.maker import Clock, commission, scenario
from wizard import actions
from wizard.finding import Severity, Verdict
from wizard.instrument import Instrument
from wizard.job import Job


@pytest.fixture(scope="module")
def before_supply() -> Job:
    """A job up to the supply voltage, with two voltmeters on its list."""
    job = commission("J1", scenario("fifteen_hp"), until="supply.frequency")
    clock = Clock(job.events[-1].at)
    for name, of_reading, due in (("coarse", 0.02, None), ("fine", 0.001, date(2020, 1, 1))):
        meter = Instrument(name, "voltmeter", "voltage", of_reading=of_reading, calibration_due=due)
        job = actions.list_instrument(job, meter, clock.tick())
    return job


def measured(job: Job, text: str, instrument: str) -> Job:
    return actions.answer(
        job,
        "supply.voltage",
        text,
        Clock(job.events[-1].at).tick(),
        instrument=instrument,
        confirmed=True,
    )


def test_within_the_error_of_the_instrument_a_safety_reading_is_inconclusive(
    before_supply: Job,
) -> None:
    job = measured(before_supply, "500 501 499 V", "coarse")
    finding = job.finding("supply.voltage")
    assert finding and finding.verdict is Verdict.INCONCLUSIVE
    assert finding.severity is Severity.SAFETY and job.state == "held"
    assert "within the error of coarse" in finding.text
    assert "better instrument" in finding.clears
    assert any("JCGM 106" in s.text for s in finding.sources)


def test_a_better_instrument_decides_the_same_reading(before_supply: Job) -> None:
    job = measured(before_supply, "500 501 499 V", "fine")
    assert not any(f.holds for f in job.findings["supply.voltage"])


def test_clear_of_the_limit_the_instrument_does_not_matter(before_supply: Job) -> None:
    job = measured(before_supply, "460 461 459 V", "coarse")
    assert {f.verdict for f in job.findings["supply.voltage"]} == {Verdict.PASS}


def test_an_expired_calibration_is_an_advisory(before_supply: Job) -> None:
    job = measured(before_supply, "460 461 459 V", "fine")
    texts = [f.text for f in job.findings["supply.voltage"] if f.verdict is Verdict.ADVISORY]
    assert texts == ["The calibration of fine ran out on 2020-01-01."]


def test_line_to_neutral_is_recognised_and_said(before_supply: Job) -> None:
    with pytest.raises(actions.NeedsConfirmation, match="line to neutral"):
        actions.answer(
            before_supply,
            "supply.voltage",
            "265 266 265 V",
            Clock(before_supply.events[-1].at).tick(),
        )
