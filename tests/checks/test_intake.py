"""Intake: restriction of new and used elements, bore, resonance."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.intake import filter_restriction, intake_bore, intake_resonance
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Severity, Verdict

INCH_WATER = 249.0889
AIR = 101325.0


@pytest.mark.parametrize(
    ("inches", "element", "clean", "verdict"),
    [
        (5.0, "new", None, Verdict.PASS),
        (5.1, "new", None, Verdict.ADVISORY),
        (15.0, "new", None, Verdict.ADVISORY),
        (15.1, "new", None, Verdict.FAIL),
        (14.0, "in use", None, Verdict.PASS),
        (13.0, "in use", 3.0, Verdict.PASS),
        (13.1, "in use", 3.0, Verdict.FAIL),
        (15.1, "in use", 8.0, Verdict.FAIL),
    ],
)
def test_restriction(inches: float, element: str, clean: float | None, verdict: Verdict) -> None:
    finding = filter_restriction(
        inches * INCH_WATER, AIR, element, None if clean is None else clean * INCH_WATER
    )
    assert finding.verdict is verdict
    assert finding.severity is (
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.HANDOVER
    )


def test_restriction_says_what_it_costs() -> None:
    finding = filter_restriction(10 * INCH_WATER, 14.696 * 6894.757293168, "in use")
    assert finding.results["flow_loss"] == pytest.approx(0.024583, rel=1e-4)
    assert "costs 2.5 % of the air" in finding.text


def test_restriction_refuses_and_asks() -> None:
    assert "in that unit" in filter_restriction(61 * INCH_WATER, AIR).ask
    with pytest.raises(InputError, match="element: given “old”"):
        filter_restriction(INCH_WATER, AIR, "old")
    with pytest.raises(OutsideValidity, match="air pressure"):
        filter_restriction(INCH_WATER, 10e3)
    with pytest.raises(InputError, match="restriction: given -1 inH2O"):
        filter_restriction(-INCH_WATER, AIR)


def test_bore_against_port() -> None:
    assert intake_bore(0.025, 0.025).verdict is Verdict.PASS
    narrow = intake_bore(0.020, 0.025)
    assert narrow.verdict is Verdict.ADVISORY and "20 % narrower" in narrow.text
    with pytest.raises(InputError, match=r"port: given 0 in \(0 mm\)"):
        intake_bore(0.02, 0.0)


QUARTER = 5.7206
"""First resonant length at 900 rpm, one stroke a turn, 20 °C, m."""


@pytest.mark.parametrize(
    ("length", "verdict"),
    [
        (0.79 * QUARTER, Verdict.PASS),
        (0.801 * QUARTER, Verdict.ADVISORY),
        (1.199 * QUARTER, Verdict.ADVISORY),
        (1.21 * QUARTER, Verdict.PASS),
        (2.39 * QUARTER, Verdict.PASS),
        (2.41 * QUARTER, Verdict.ADVISORY),
        (3.59 * QUARTER, Verdict.ADVISORY),
        (3.7 * QUARTER, Verdict.PASS),
        (0.5, Verdict.NOT_APPLICABLE),
    ],
)
def test_resonance(length: float, verdict: Verdict) -> None:
    assert intake_resonance(length, 15.0, 1, 293.15).verdict is verdict


def test_a_cold_winter_moves_the_resonant_length() -> None:
    winter = 0.78 * QUARTER
    assert intake_resonance(winter, 15.0, 1, 293.15).verdict is Verdict.PASS
    assert intake_resonance(winter, 15.0, 1, 293.15, 263.15).verdict is Verdict.ADVISORY


@given(st.floats(0.51, 40), st.floats(5, 30), st.integers(1, 4))
def test_a_flagged_pipe_is_told_a_length_that_passes(
    length: float, speed: float, strokes: int
) -> None:
    finding = intake_resonance(length, speed, strokes, 293.15, 263.15)
    if finding.limit and finding.limit.high:
        shorter = intake_resonance(0.99 * finding.limit.high, speed, strokes, 293.15, 263.15)
        assert shorter.verdict in (Verdict.PASS, Verdict.NOT_APPLICABLE)
