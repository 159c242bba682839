"""Pressure switch verdicts: band, repeatability, measured cut-out, panel gauge."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.pressure_switch import (
    measured_cut_out,
    panel_gauge,
    switch_differential,
    switch_repeatability,
    switch_settings,
)
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

PSI = 6894.757293168


def psi(*values: float) -> tuple[float, ...]:
    return tuple(v * PSI for v in values)


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize(
    ("cut_out", "cut_in", "maximum", "expected"),
    [
        (175, 140, 175, ("PASS", "handover")),
        (175, 160, None, ("PASS", "handover")),
        (175, 160.1, None, ("FAIL", "handover")),
        (175, 125, None, ("PASS", "handover")),
        (175, 124.9, None, ("ADVISORY", "advisory")),
        (175.1, 140, 175, ("FAIL", "handover")),
    ],
)
def test_settings(
    cut_out: float, cut_in: float, maximum: float | None, expected: tuple[str, str]
) -> None:
    most = None if maximum is None else maximum * PSI
    assert graded(switch_settings(cut_out * PSI, cut_in * PSI, most)) == expected


def test_swapped_settings_are_refused() -> None:
    with pytest.raises(InputError, match="cut-in: given at or above the cut-out"):
        switch_settings(140 * PSI, 175 * PSI)


def test_mean_of_three_cut_ins() -> None:
    finding = switch_differential(175 * PSI, psi(139, 140, 141))
    assert finding.verdict is Verdict.PASS
    assert finding.value and finding.value.value / PSI == pytest.approx(35.0)
    assert switch_differential(175 * PSI, psi(140)).verdict is Verdict.INCONCLUSIVE
    assert switch_differential(175 * PSI, psi(170)).verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("readings", "verdict"),
    [
        ((174, 176, 175), Verdict.PASS),
        ((100, 103, 101), Verdict.PASS),
        ((100, 103.1, 101), Verdict.FAIL),
        ((198, 202, 200), Verdict.PASS),
        ((198, 202.1, 200), Verdict.FAIL),
        ((175, 176), Verdict.INCONCLUSIVE),
        ((150, 176), Verdict.FAIL),
    ],
)
def test_repeatability(readings: tuple[float, ...], verdict: Verdict) -> None:
    finding = switch_repeatability(psi(*readings))
    assert finding.verdict is verdict and not finding.holds
    assert finding.results["highest"] == max(readings) * PSI


@pytest.mark.parametrize(
    ("readings", "setting", "maximum", "expected"),
    [
        ((174, 176, 175), 200, 175, ("PASS", "safety")),
        ((174, 176, 175), 200, 174.9, ("FAIL", "handover")),
        ((174, 176, 200), 200, 250, ("FAIL", "safety")),
        ((174, 176, 191), 200, 250, ("FAIL", "handover")),
        ((174, 176, 185), 200, 250, ("ADVISORY", "advisory")),
    ],
)
def test_measured_cut_out(
    readings: tuple[float, ...], setting: float, maximum: float, expected: tuple[str, str]
) -> None:
    assert graded(measured_cut_out(psi(*readings), setting * PSI, maximum * PSI)) == expected


@given(st.permutations([174.0, 176.0, 175.0]))
def test_order_of_cycles_does_not_matter(readings: list[float]) -> None:
    assert switch_repeatability(psi(*readings)).verdict is Verdict.PASS
    assert graded(measured_cut_out(psi(*readings), 200 * PSI)) == ("PASS", "safety")


@pytest.mark.parametrize(
    ("panel", "verdict"),
    [
        (168, Verdict.FAIL),
        (169.75, Verdict.PASS),
        (169.7, Verdict.FAIL),
        (175, Verdict.PASS),
        (180.25, Verdict.PASS),
        (180.3, Verdict.FAIL),
    ],
)
def test_panel_gauge(panel: float, verdict: Verdict) -> None:
    finding = panel_gauge(panel * PSI, 175 * PSI)
    assert finding.verdict is verdict and finding.severity is Severity.HANDOVER
    assert ("low" in finding.text) is (panel in (168, 169.7))


def test_gauge_in_another_unit_is_asked_about() -> None:
    assert "14.5" in panel_gauge(12 * PSI, 175 * PSI).ask
