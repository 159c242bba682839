"""Instruments and doubt: a reading inside its limit but within the instrument's error."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tests.demo.maker import Clock, commission, scenario
from wizard import actions
from wizard.errors import Refused
from wizard.finding import Severity, Verdict
from wizard.instrument import Instrument
from wizard.job import Job
from wizard.procedure import procedure


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


def test_an_instrument_listed_anew_does_not_lift_the_hold_of_its_reading(
    before_supply: Job,
) -> None:
    job = measured(before_supply, "500 501 499 V", "coarse")
    hand = Clock(job.events[-1].at).tick()
    with pytest.raises(Refused, match="holds the job until a new reading passes"):
        actions.list_instrument(job, Instrument("coarse", "voltmeter", "voltage"), hand)
    finer = Instrument("other", "voltmeter", "voltage", of_reading=0.001)
    job = actions.list_instrument(job, finer, hand)
    job = actions.answer(
        job, "supply.voltage", "500 501 499 V", hand, instrument="other", reason="read anew"
    )
    assert "supply.voltage" not in {h.key for h in job.holds()}


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


@pytest.mark.parametrize(
    ("key", "text", "blank", "then"),
    [
        ("receiver.cold", "yes", "receiver.min_temperature", "-20 °F"),
        ("starter.sccr", "5 kA", "supply.fault_current", "3 kA"),
        ("relief.interstage_set", "75 psi", "relief.interstage_builder", "75 psi"),
    ],
)
def test_what_was_left_blank_is_named_where_it_holds_a_later_item(
    key: str, text: str, blank: str, then: str
) -> None:
    items = procedure().items
    given = scenario("fifteen_hp")
    left = {**given.answers, blank: "", key: text}
    left |= {"supply.transformer": "", "supply.transformer_impedance": ""}
    job = commission("J1", replace(given, answers=left), until=key)
    held = next(h for h in job.holds() if h.key == key)
    ask = items[blank].ask.partition(" (")[0]
    assert f"Then answer “{ask}” in phase {items[blank].phase}." in held.finding.clears
    hand = Clock(job.events[-1].at).tick()
    job = actions.answer(job, blank, then, hand, reason="found out", confirmed=True)
    assert key not in {h.key for h in job.holds()}


@pytest.fixture(scope="module")
def before_proof() -> Job:
    """A job up to the dead test."""
    return commission("J1", scenario("fifteen_hp"), until="energy.live_plan")


def proved(job: Job, between: str, after: str, to_ground: str = "A") -> Job:
    """The dead test with these testers, proved before with A."""
    clock = Clock(job.events[-1].at)
    for key, text, tester in (
        ("energy.proof_before", "480", "A"),
        ("energy.dead_between", "0 0 0", between),
        ("energy.dead_to_ground", "0 0 0", to_ground),
        ("energy.proof_after", "480", after),
    ):
        job = actions.answer(job, key, text, clock.tick(), instrument=tester)
    return job


@pytest.mark.parametrize(("between", "after"), [("A", "A"), ("A", ""), ("", "A"), ("", "")])
def test_one_tester_or_none_named_proves_a_dead_circuit(
    before_proof: Job, between: str, after: str
) -> None:
    job = proved(before_proof, between, after)
    assert not job.holds()
    finding = job.finding("energy.proof_after")
    assert finding and finding.verdict is Verdict.PASS


def test_a_tester_proved_for_another_proves_nothing(before_proof: Job) -> None:
    job = proved(before_proof, "B", "A")
    assert [h.key for h in job.holds()] == ["energy.dead_between", "energy.proof_after"]
    finding = job.finding("energy.dead_between")
    assert finding and finding.verdict is Verdict.INCONCLUSIVE
    assert "Read with B, but “Two-pole tester" in finding.text and "with A." in finding.text
    clock = Clock(job.events[-1].at)
    job = actions.answer(
        job, "energy.dead_between", "0 0 0", clock.tick(), instrument="A", reason="the one proved"
    )
    assert not job.holds()


def test_a_live_reading_stays_the_graver_finding(before_proof: Job) -> None:
    hand = Clock(before_proof.events[-1].at).tick()
    job = actions.answer(before_proof, "energy.proof_before", "480", hand, instrument="A")
    job = actions.answer(job, "energy.dead_between", "0 0 120", hand, instrument="B")
    finding = job.finding("energy.dead_between")
    assert finding and finding.verdict is Verdict.FAIL
