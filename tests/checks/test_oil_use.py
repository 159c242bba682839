"""Carry-over: limits, the top-up route, nothing given."""

from __future__ import annotations

import pytest

from wizard.checks.oil_use import oil_carry_over
from wizard.errors import InputError
from wizard.finding import Severity, Verdict

FLOW = 0.85 / 60


@pytest.mark.parametrize(
    ("milligrams", "verdict", "severity"),
    [
        (0.0, Verdict.PASS, Severity.HANDOVER),
        (25.0, Verdict.PASS, Severity.HANDOVER),
        (25.1, Verdict.ADVISORY, Severity.ADVISORY),
        (50.0, Verdict.ADVISORY, Severity.ADVISORY),
        (50.1, Verdict.FAIL, Severity.HANDOVER),
    ],
)
def test_measured_oil(milligrams: float, verdict: Verdict, severity: Severity) -> None:
    finding = oil_carry_over(FLOW, milligrams * 1e-6)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert finding.results["lost"] * 1000 == pytest.approx(0.057955 * milligrams, rel=1e-4)


def test_oil_from_the_top_up() -> None:
    finding = oil_carry_over(FLOW, topped_up=0.57955e-3, running=3.6e6)
    assert finding.value and finding.value.value == pytest.approx(10e-6, rel=1e-4)
    assert len(finding.working) == 2


def test_a_top_up_without_hours_says_nothing() -> None:
    assert oil_carry_over(FLOW, topped_up=1e-3).verdict is Verdict.INCONCLUSIVE


def test_no_flow_is_refused() -> None:
    with pytest.raises(InputError, match=r"flow: given 0 cfm \(0 m3/min\)"):
        oil_carry_over(0.0, 1e-5)
