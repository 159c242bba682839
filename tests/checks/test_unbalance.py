"""Unbalance checks: limits, lost phase, light load, questions, refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.unbalance import current_unbalance, voltage_unbalance
from wizard.errors import InputError
from wizard.finding import Severity, Verdict

SAFETY, HANDOVER = Severity.SAFETY, Severity.HANDOVER
FAIL, PASS = Verdict.FAIL, Verdict.PASS


def three(mean: float, unbalance: float) -> tuple[float, float, float]:
    """Three readings with this mean and unbalance."""
    return mean * (1 + unbalance), mean * (1 - unbalance / 2), mean * (1 - unbalance / 2)


@pytest.mark.parametrize(
    ("unbalance", "verdict", "severity"),
    [
        (0.0, PASS, SAFETY),
        (0.01, PASS, SAFETY),
        (0.0101, FAIL, HANDOVER),
        (0.03, FAIL, HANDOVER),
        (0.0301, FAIL, HANDOVER),
        (0.05, FAIL, HANDOVER),
        (0.0501, FAIL, SAFETY),
    ],
)
def test_voltage_limits(unbalance: float, verdict: Verdict, severity: Severity) -> None:
    finding = voltage_unbalance(three(460.0, unbalance), 460.0)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert ("factor" in finding.results) == (unbalance <= 0.05)


def test_worked_values() -> None:
    assert voltage_unbalance((462.0, 463.0, 455.0)).results["factor"] == pytest.approx(
        0.99478, rel=1e-5
    )
    assert voltage_unbalance((480.0, 476.0, 472.0)).verdict is PASS
    assert voltage_unbalance((248.0, 230.0, 218.0)).holds


def test_between_three_and_five_only_short_unloaded_tests() -> None:
    assert "short unloaded tests only" in voltage_unbalance(three(460.0, 0.04)).text


@pytest.mark.parametrize(
    "volts", [(480.0, 240.0, 240.0), (480.0, 480.0, 0.0), (480.0, 478.0, 20.0)]
)
def test_a_lost_phase_is_named(volts: tuple[float, ...]) -> None:
    finding = voltage_unbalance(volts)
    assert finding.holds
    lost = min(volts) < sum(volts) / 6
    assert ("Lost phase" in finding.text) == lost


def test_line_to_neutral_readings_are_recognised() -> None:
    assert "line to neutral" in voltage_unbalance((277.0, 276.0, 278.0), 480.0).ask
    assert voltage_unbalance((277.0, 276.0, 278.0), 277.0).ask == ""
    assert "settle the supply voltage first" in voltage_unbalance((350.0, 351.0, 352.0), 480.0).ask


def test_the_negative_sequence_of_the_machine_standard_is_remarked() -> None:
    assert "EN 60204-1" in voltage_unbalance((550.0, 520.0, 535.0)).text
    assert "EN 60204-1" not in voltage_unbalance((462.0, 463.0, 455.0)).text


def test_readings_that_close_no_triangle_are_asked_about() -> None:
    assert "cannot belong together" in voltage_unbalance((480.0, 200.0, 200.0)).ask


@pytest.mark.parametrize(
    "volts", [(480.0, 476.0), (480.0, -1.0, 470.0), (1001.0, 990.0, 990.0), (49.0, 48.0, 47.0)]
)
def test_bad_voltages(volts: tuple[float, ...]) -> None:
    with pytest.raises(InputError):
        voltage_unbalance(volts)


@given(st.floats(0, 0.2), st.floats(100, 690))
def test_the_verdict_does_not_depend_on_the_level(unbalance: float, mean: float) -> None:
    ours = voltage_unbalance(three(mean, unbalance)).results["unbalance"]
    assert ours == pytest.approx(unbalance, abs=1e-9)


@pytest.mark.parametrize(
    ("unbalance", "verdict", "severity"),
    [
        (0.0687, PASS, SAFETY),
        (0.10, PASS, SAFETY),
        (0.101, FAIL, HANDOVER),
        (0.20, FAIL, HANDOVER),
        (0.201, FAIL, SAFETY),
    ],
)
def test_current_limits(unbalance: float, verdict: Verdict, severity: Severity) -> None:
    finding = current_unbalance(three(13.0, unbalance), 14.0)
    assert (finding.verdict, finding.severity) == (verdict, severity)


def test_light_load_is_no_evidence() -> None:
    light = current_unbalance(three(4.1, 0.05), 14.0)
    assert light.verdict is Verdict.INCONCLUSIVE and light.severity is HANDOVER
    assert current_unbalance(three(4.2, 0.05), 14.0).verdict is PASS


def test_a_lost_line_is_named_even_at_light_load() -> None:
    assert current_unbalance((3.0, 3.0, 0.5), 14.0).holds


@pytest.mark.parametrize(
    ("amperes", "said"),
    [
        ((0.0, 0.0, 0.0), "one wire at a time"),
        ((5.0, 5.0), "2 readings"),
        ((5.0, -1.0, 5.0), "-1 A"),
    ],
)
def test_bad_currents(amperes: tuple[float, ...], said: str) -> None:
    with pytest.raises(InputError, match=said):
        current_unbalance(amperes, 14.0)
