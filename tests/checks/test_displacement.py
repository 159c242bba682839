"""Pump speed, displacement and volumetric efficiency at their limits."""

from __future__ import annotations

import pytest

from wizard.checks.displacement import displacement_speed, volumetric_efficiency
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict


def speed(rpm: float, bore: float = 0.09) -> Finding:
    return displacement_speed(rpm / 60, 1000 / 60, 1100 / 60, bore, 0.07, 2)


@pytest.mark.parametrize(
    ("rpm", "verdict", "severity"),
    [
        (969.0, Verdict.ADVISORY, Severity.ADVISORY),
        (970.0, Verdict.PASS, Severity.SAFETY),
        (1100.0, Verdict.PASS, Severity.SAFETY),
        (1100.1, Verdict.FAIL, Severity.SAFETY),
    ],
)
def test_speed(rpm: float, verdict: Verdict, severity: Severity) -> None:
    finding = speed(rpm)
    assert (finding.verdict, finding.severity) == (verdict, severity)


def test_inches_typed_as_millimetres_do_not_make_a_displacement() -> None:
    finding = speed(1000.0, bore=4.0 / 1000)
    assert finding.verdict is Verdict.INCONCLUSIVE and "25 mm to 250 mm" in finding.text
    assert "displacement" not in finding.results


@pytest.mark.parametrize(
    ("stages", "share", "verdict"),
    [
        ("one", 0.5499, Verdict.FAIL),
        ("one", 0.55, Verdict.ADVISORY),
        ("one", 0.60, Verdict.PASS),
        ("one", 0.80, Verdict.PASS),
        ("one", 0.801, Verdict.ADVISORY),
        ("one", 0.95, Verdict.ADVISORY),
        ("one", 0.951, Verdict.FAIL),
        ("two", 0.649, Verdict.FAIL),
        ("two", 0.70, Verdict.PASS),
        ("two", 0.88, Verdict.PASS),
    ],
)
def test_efficiency(stages: str, share: float, verdict: Verdict) -> None:
    assert volumetric_efficiency(stages, share * 0.02, 0.02, 7e5).verdict is verdict


def test_a_higher_pressure_excuses_a_lower_efficiency() -> None:
    assert volumetric_efficiency("one", 0.5 * 0.02, 0.02, 8.6e5).verdict is Verdict.FAIL
    assert volumetric_efficiency("one", 0.5 * 0.02, 0.02, 10e5).verdict is Verdict.ADVISORY


def test_without_flow_there_is_no_efficiency() -> None:
    finding = volumetric_efficiency("one", None, 0.02)
    assert finding.verdict is Verdict.INCONCLUSIVE and finding.blocks_handover


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: speed(0.0), "measured"),
        (lambda: volumetric_efficiency("one", -1.0, 0.02), "flow"),
        (lambda: volumetric_efficiency("3", 0.01, 0.02), "one; two"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
