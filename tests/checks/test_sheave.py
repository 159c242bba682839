"""Speeds and alignment: each limit on, inside and outside, severities, questions."""

from __future__ import annotations

from math import radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.sheave import belt_alignment, belt_slip, pump_speed, rim_speed
from wizard.errors import InputError
from wizard.finding import Severity, Verdict

INCH = 0.0254


@pytest.mark.parametrize(
    ("plate", "maximum", "verdict", "severity"),
    [
        (433.125, 433.125, Verdict.PASS, Severity.SAFETY),
        (433.0, 433.1, Verdict.FAIL, Severity.SAFETY),
        (433.125 / 0.97, 500.0, Verdict.PASS, Severity.SAFETY),
        (433.125 / 0.9699, 500.0, Verdict.ADVISORY, Severity.ADVISORY),
        (433.125 / 1.0301, 500.0, Verdict.ADVISORY, Severity.ADVISORY),
        (433.125 / 1.03, 500.0, Verdict.PASS, Severity.SAFETY),
    ],
)
def test_pump_speed(plate: float, maximum: float, verdict: Verdict, severity: Severity) -> None:
    finding = pump_speed(1750 / 60, 4.5 * INCH, 18 * INCH, plate / 60, maximum / 60)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert finding.results["pump_speed"] * 60 == pytest.approx(433.125)


def test_pump_speed_refuses_and_asks() -> None:
    with pytest.raises(InputError, match="the two may be swapped"):
        pump_speed(1750 / 60, 18 * INCH, 4.5 * INCH, 430 / 60, 450 / 60)
    with pytest.raises(InputError, match="plate speed: given 500 rpm"):
        pump_speed(1750 / 60, 4.5 * INCH, 18 * INCH, 500 / 60, 450 / 60)
    slow = pump_speed(1750 / 60, 2 * INCH, 40 * INCH, 430 / 60, 450 / 60)
    assert "200 to 2000 rpm" in slow.ask


@given(st.floats(100, 3600), st.floats(1.0, 6.0), st.floats(1.0, 1.5))
def test_a_faster_motor_never_clears_an_overspeed(rpm: float, ratio: float, more: float) -> None:
    def run(speed: float) -> bool:
        finding = pump_speed(speed / 60, 0.1, 0.1 * ratio, 400 / 60, 900 / 60)
        return finding.verdict is Verdict.FAIL

    assert run(rpm * more) or not run(rpm)


@pytest.mark.parametrize(
    ("feet_per_minute", "verdict"),
    [(6500.0, Verdict.PASS), (6499.0, Verdict.PASS), (6501.0, Verdict.FAIL)],
)
def test_rim_speed(feet_per_minute: float, verdict: Verdict) -> None:
    rpm = feet_per_minute / (3.141592653589793 * 1.5)
    finding = rim_speed(18 * INCH, rpm / 60)
    assert (finding.verdict, finding.severity) == (verdict, Severity.SAFETY)


def test_an_eighteen_inch_flywheel_at_1400_rpm_is_too_fast() -> None:
    assert rim_speed(18 * INCH, 1400 / 60).verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("slip", "verdict"),
    [
        (-0.009, Verdict.PASS),
        (0.0, Verdict.PASS),
        (0.02, Verdict.PASS),
        (0.021, Verdict.ADVISORY),
        (0.05, Verdict.ADVISORY),
        (0.051, Verdict.FAIL),
    ],
)
def test_belt_slip(slip: float, verdict: Verdict) -> None:
    pump = 1750 / 4 * (1 - slip) / 60
    assert belt_slip(pump, 1750 / 60, 4.5 * INCH, 18 * INCH).verdict is verdict


def test_a_pump_faster_than_its_ratio_points_at_the_diameters() -> None:
    with pytest.raises(InputError, match=r"belt slip: given -2 %, .*not pitch diameters"):
        belt_slip(1750 / 4 * 1.02 / 60, 1750 / 60, 4.5 * INCH, 18 * INCH)


@pytest.mark.parametrize(
    ("angle", "verdict", "severity"),
    [
        (0.0, Verdict.PASS, Severity.SAFETY),
        (0.5, Verdict.PASS, Severity.SAFETY),
        (0.501, Verdict.FAIL, Severity.HANDOVER),
        (1.0, Verdict.FAIL, Severity.HANDOVER),
        (1.001, Verdict.FAIL, Severity.SAFETY),
    ],
)
def test_alignment(angle: float, verdict: Verdict, severity: Severity) -> None:
    finding = belt_alignment(0.75 * tan(radians(angle)), 0.75)
    assert (finding.verdict, finding.severity) == (verdict, severity)


@pytest.mark.parametrize(("across", "gap"), [(30.0, 0.26181), (12.0, 0.10472)])
def test_gap_at_half_a_degree_in_inches(across: float, gap: float) -> None:
    assert belt_alignment((gap - 1e-5) * INCH, across * INCH).verdict is Verdict.PASS
    assert belt_alignment((gap + 1e-4) * INCH, across * INCH).verdict is Verdict.FAIL


def test_a_gap_over_the_width_of_a_sheave_is_asked_about() -> None:
    assert "not over a sheave" in belt_alignment(0.0001, 0.05).ask
    assert not belt_alignment(0.001, 0.75).ask
