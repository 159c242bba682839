"""Pipe verdicts after laying: fall, system drop, hold test."""

from __future__ import annotations

import pytest

from wizard.checks.pipe_line import pipe_hold_test, pipe_slope, system_pressure_drop
from wizard.errors import InputError
from wizard.finding import Finding, Verdict

PSI = 6894.757293168


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("fall", "direction", "verdict"),
    [
        (0.0025, "with the flow", Verdict.PASS),
        (0.0024, "with the flow", Verdict.FAIL),
        (0.0025, "against the flow", Verdict.FAIL),
        (0.005, "against the flow", Verdict.PASS),
        (0.0, "with the flow", Verdict.FAIL),
    ],
)
def test_slope(fall: float, direction: str, verdict: Verdict) -> None:
    assert pipe_slope(fall, 1.0, direction).verdict is verdict


def test_fall_in_the_wrong_unit_is_asked_about() -> None:
    assert "same unit" in pipe_slope(0.2, 1.0).ask
    with pytest.raises(InputError, match="fall: given more than the length"):
        pipe_slope(3.0, 1.0)


@pytest.mark.parametrize(
    ("far", "flow", "expected"),
    [
        (95, 1.0, ("PASS", "handover")),
        (94.9, 1.0, ("ADVISORY", "advisory")),
        (90, 0.7, ("ADVISORY", "advisory")),
        (89.9, 0.7, ("FAIL", "handover")),
        (89, 0.69, ("INCONCLUSIVE", "handover")),
        (99, 0.5, ("INCONCLUSIVE", "handover")),
        (101, 1.0, ("INCONCLUSIVE", "handover")),
    ],
)
def test_system_drop(far: float, flow: float, expected: tuple[str, str]) -> None:
    assert graded(system_pressure_drop(100 * PSI, far * PSI, flow)) == expected


def hold(end: float, duration: float = 600.0, *, start: float = 7e5) -> Finding:
    return pipe_hold_test(start, end, duration, 8e5, 9e5)


def test_hold_judges_what_temperature_does_not_explain() -> None:
    cooled = pipe_hold_test(7e5, 6.8497e5, 14400, 8e5, 9e5, 294.26, 288.71)
    assert graded(cooled) == ("PASS", "handover")
    leaked = pipe_hold_test(7e5, 6.8e5, 14400, 8e5, 9e5, 294.26, 288.71)
    assert graded(leaked) == ("FAIL", "handover")
    fed = pipe_hold_test(7e5, 7.1e5, 14400, 8e5, 9e5, 294.26, 288.71)
    assert graded(fed) == ("INCONCLUSIVE", "handover")


def test_hold_allowance_is_half_a_percent_of_the_absolute_pressure() -> None:
    edge = 0.005 * 801325
    assert hold(7e5 - edge).verdict is Verdict.PASS
    assert hold(7e5 - edge - 20).verdict is Verdict.FAIL


def test_a_long_hold_without_temperatures_cannot_be_judged() -> None:
    assert hold(7e5, 600.0).verdict is Verdict.PASS
    assert hold(7e5, 601.0).verdict is Verdict.INCONCLUSIVE
    with pytest.raises(InputError, match="temperatures: given only one"):
        pipe_hold_test(7e5, 7e5, 14400, 8e5, 9e5, 294.0)


@pytest.mark.parametrize("start", [8.01e5, 9.5e5])
def test_a_proof_test_with_air_is_refused(start: float) -> None:
    finding = hold(start, start=start)
    assert finding.holds and "refused" in finding.text
    assert not hold(8e5, start=8e5).holds
