"""Power against volts and amperes: what is possible, what is usual, what was measured."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.power_reading import power_reading
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

APPARENT = math.sqrt(3) * 400.0 * 13.0
FAIL, NOTE, PASS = Verdict.FAIL, Verdict.ADVISORY, Verdict.PASS
CAUSES = ("conductor", "scale", "CT ratio", "another load")


def three(factor: float, measured: float | None = None, start: str | None = None) -> Finding:
    """A three-phase motor whose readings come to a power factor."""
    lines = (12.9, 13.1, 13.0)
    return power_reading(
        factor * APPARENT, "three", 400.0, lines, power_factor=measured, start=start
    )


def single(factor: float, measured: float | None = None) -> Finding:
    """A single-phase motor whose readings come to a power factor."""
    return power_reading(
        factor * 233.0 * 19.8,
        "single",
        single_voltage=233.0,
        single_currents=(19.8,),
        power_factor=measured,
    )


@pytest.mark.parametrize(
    ("factor", "verdict"),
    [
        (1.0501, FAIL),
        (1.05, NOTE),
        (0.951, NOTE),
        (0.95, PASS),
        (0.65, PASS),
        (0.649, NOTE),
        (0.05, NOTE),
    ],
)
def test_three_phases(factor: float, verdict: Verdict) -> None:
    finding = three(factor)
    assert finding.verdict is verdict
    assert finding.results["power_factor"] == pytest.approx(factor)
    assert bool(finding.ask) is bool(finding.clears) is (verdict is not PASS)
    assert finding.severity is (Severity.ADVISORY if verdict is NOTE else Severity.HANDOVER)


@pytest.mark.parametrize(
    ("factor", "verdict"),
    [(1.0501, FAIL), (1.001, NOTE), (1.0, PASS), (0.55, PASS), (0.549, NOTE)],
)
def test_one_phase_where_a_run_capacitor_comes_near_one(factor: float, verdict: Verdict) -> None:
    assert single(factor).verdict is verdict


def test_the_likely_causes_are_named_before_the_reading_is_taken() -> None:
    assert all(cause in three(1.7).ask for cause in CAUSES)
    assert "can carry" in three(1.7).text and three(1.7).blocks_handover


def test_a_clamp_on_a_wrong_ct_ratio_is_noticed_either_way() -> None:
    assert three(0.83 * 2).verdict is FAIL and three(0.83 / 2).verdict is NOTE


def test_readings_that_differ_from_the_measured_power_factor_are_told() -> None:
    assert three(0.83, 0.83).verdict is PASS
    assert three(0.81 * 0.9001, 0.81).verdict is PASS
    assert three(0.81 * 0.8999, 0.81).verdict is NOTE
    assert three(0.81 * 1.1001, 0.81).verdict is NOTE
    short = single(0.813, 0.95)
    assert short.verdict is NOTE and "not the one that was measured" in short.text
    assert single(0.813).verdict is PASS


def test_behind_an_inverter_only_the_impossible_is_told() -> None:
    for factor in (0.4, 0.65, 0.98):
        assert three(factor, 0.9, "inverter").verdict is PASS
    assert three(1.06, start="inverter").verdict is FAIL


def test_without_volts_or_amperes_nothing_is_passed() -> None:
    for finding in (
        power_reading(4000.0, "three", voltage=400.0),
        power_reading(4000.0, "three", currents=(10.0,)),
        power_reading(4000.0, "single", voltage=400.0, currents=(10.0,)),
    ):
        assert finding.verdict is Verdict.OPEN and "Waits for" in finding.text


@pytest.mark.parametrize(
    ("given_", "said"),
    [
        ((4000.0, "two", 400.0, (10.0,)), "phases: given “two”, accepted single; three."),
        (
            (0.0, "three", 400.0, (10.0,)),
            "input power: given 0 hp (0 kW), accepted more than zero.",
        ),
        (
            (101e3, "three", 400.0, (10.0,)),
            "input power: given 135.4 hp (101 kW), accepted 0 hp to 134.1 hp (0 kW to 100 kW).",
        ),
        ((4000.0, "three", 400.0, ()), "currents: given nothing, accepted one line, or three."),
        ((4000.0, "three", 400.0, (0.0,)), "current: given 0 A, accepted 0.1 A to 500 A."),
    ],
)
def test_bad_input_says_what_is_accepted(
    given_: tuple[float, str, float, tuple[float, ...]], said: str
) -> None:
    with pytest.raises(InputError) as caught:
        power_reading(*given_)
    assert str(caught.value).replace("input_power", "input power") == said


@given(st.floats(0.01, 3.0).filter(lambda factor: abs(factor - 1.05) > 1e-6))
def test_a_reading_fails_just_where_volts_and_amperes_cannot_carry_it(factor: float) -> None:
    for finding in (three(factor), single(factor)):
        assert (finding.verdict is FAIL) is (factor > 1.05)
