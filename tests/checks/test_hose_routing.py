"""Hose routing verdicts: bend, live length, whip restraint."""

from __future__ import annotations

import pytest

from wizard.checks.hose_routing import hose_bend, hose_length, hose_whip
from wizard.errors import InputError
from wizard.finding import Finding, Verdict

INCH = 0.0254
US = "United States"


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("radius", "straight", "verdict"),
    [
        (0.150, None, Verdict.PASS),
        (0.1499, None, Verdict.FAIL),
        (0.150, 0.060, Verdict.PASS),
        (0.150, 0.0599, Verdict.FAIL),
    ],
)
def test_bend(radius: float, straight: float | None, verdict: Verdict) -> None:
    finding = hose_bend(radius, 0.150, straight, 0.030)
    assert finding.verdict is verdict and not finding.holds


def test_live_length_on_and_just_below_the_least() -> None:
    assert hose_length(7 * INCH, 8 * INCH, 1 * INCH).verdict is Verdict.PASS
    assert hose_length(6.99 * INCH, 8 * INCH, 1 * INCH).verdict is Verdict.FAIL
    assert hose_length(0.140, 0.150, 0.020).results["least"] == pytest.approx(0.13565, rel=1e-4)


@pytest.mark.parametrize(
    ("bore", "tools", "place", "fitted", "expected"),
    [
        (0.0127, "yes", US, "none", ("PASS", "handover")),
        (0.013, "yes", US, "none", ("FAIL", "handover")),
        (0.013, "no", US, "none", ("PASS", "handover")),
        (0.013, "yes", US, "cable or chain only", ("FAIL", "handover")),
        (0.013, "yes", US, "shut-off device only", ("PASS", "handover")),
        (0.013, "yes", "European Union", "none", ("ADVISORY", "advisory")),
        (0.0254, "yes", US, "shut-off device only", ("FAIL", "handover")),
        (0.0254, "yes", US, "shut-off device and cable", ("PASS", "handover")),
        (0.0253, "no", US, "none", ("ADVISORY", "advisory")),
    ],
)
def test_whip(bore: float, tools: str, place: str, fitted: str, expected: tuple[str, str]) -> None:
    assert graded(hose_whip(bore, tools, place, fitted)) == expected


def test_what_is_missing_is_named() -> None:
    text = hose_whip(0.03, "yes", US, "none").text
    assert "shut-off device" in text and "cable or chain" in text


def test_bad_input_is_refused_by_name() -> None:
    with pytest.raises(InputError, match="inside bore: given"):
        hose_whip(0.5, "yes", US, "none")
    with pytest.raises(InputError, match="feeds tools"):
        hose_whip(0.013, "perhaps", US, "none")
    with pytest.raises(InputError, match="least radius"):
        hose_bend(0.1, 0.0)
    with pytest.raises(InputError, match="movement"):
        hose_length(0.1, 0.1, -0.01)
