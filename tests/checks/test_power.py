"""Power against air: what is usual, what cannot be, and what is only an estimate."""

from __future__ import annotations

from typing import Any

import pytest

from wizard.calc.power import compression_power
from wizard.checks.power import AMPERES, TRUE_POWER, overall_efficiency, specific_power
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

MINUTE = 60e3


@pytest.mark.parametrize(
    ("stages", "value", "verdict"),
    [
        ("two", 6.4999, Verdict.ADVISORY),
        ("two", 6.5, Verdict.PASS),
        ("two", 9.0, Verdict.PASS),
        ("two", 9.0001, Verdict.ADVISORY),
        ("one", 7.4999, Verdict.ADVISORY),
        ("one", 7.5, Verdict.PASS),
        ("one", 12.0, Verdict.PASS),
    ],
)
def test_usual_band(stages: str, value: float, verdict: Verdict) -> None:
    finding = specific_power(TRUE_POWER, stages, value * MINUTE * 0.01, 0.01)
    assert finding.verdict is verdict


def test_a_contract_is_judged_with_its_tolerance() -> None:
    for value, verdict in ((7.49, Verdict.PASS), (7.5, Verdict.FAIL)):
        finding = specific_power(TRUE_POWER, "two", value * MINUTE * 0.015, 0.015, 7.0 * MINUTE)
        assert finding.verdict is verdict
    assert finding.severity is Severity.HANDOVER and "7 % of tolerance" in finding.text


def overall(share: float, **more: Any) -> Finding:
    ideal = compression_power(101_325.0, 0.014, 9.0, 2)
    common: dict[str, Any] = {
        "input_power": ideal / share / 0.88 / 0.96,
        "flow": 0.014,
        "motor_efficiency": 0.88,
    }
    return overall_efficiency(TRUE_POWER, "two", 8 * 101_325.0, **(common | more))


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (0.4499, Verdict.FAIL),
        (0.45, Verdict.ADVISORY),
        (0.55, Verdict.PASS),
        (0.80, Verdict.PASS),
        (0.801, Verdict.ADVISORY),
        (0.90, Verdict.ADVISORY),
        (0.9001, Verdict.FAIL),
    ],
)
def test_overall_efficiency(share: float, verdict: Verdict) -> None:
    finding = overall(share)
    assert finding.verdict is verdict
    assert finding.results["efficiency"] == pytest.approx(share)


def test_amperes_are_an_estimate_and_not_judged() -> None:
    finding = specific_power(AMPERES, "two", 7000.0, 0.014)
    assert finding.verdict is Verdict.INCONCLUSIVE and "estimate" in finding.text
    assert not finding.blocks_handover
    assert overall(0.6, input_power=None).verdict is Verdict.INCONCLUSIVE
    assert "motor" in overall(0.6, motor_efficiency=None).text


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: specific_power("guess", "two", 7000.0, 0.01), "true-power meter"),
        (lambda: specific_power(TRUE_POWER, "two", -1.0, 0.01), "input power"),
        (lambda: overall(0.6, motor_efficiency=88.0), "motor_efficiency"),
        (lambda: overall(0.6, flow=0.0), "flow"),
    ],
)
def test_bad_input_is_named(call: object, said: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert said in str(caught.value)
