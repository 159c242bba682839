"""Pipe verdicts before laying: velocity and predicted drop."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.pipe import pipe_pressure_drop, pipe_velocity
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Verdict

PSI = 6894.757293168
CFM = 0.3048**3 / 60
T60 = 519.67 / 1.8
US60 = "US: 14.696 psia, 60 °F, dry"
BORE = 1.049 * 0.0254


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


def at_speed(speed: float, place: str, length: float | None = None) -> Finding:
    """Free air at ambient such that it runs at `speed` in the line."""
    flow = speed * pi / 4 * 0.02**2 * 8.0
    return pipe_velocity(flow, 0.02, 7 * 101325.0, 293.15, place, length=length)


@pytest.mark.parametrize(
    ("speed", "place", "length", "expected"),
    [
        (6.0, "compressor room", None, ("PASS", "handover")),
        (6.01, "compressor room", None, ("ADVISORY", "advisory")),
        (9.0, "distribution", None, ("PASS", "handover")),
        (9.01, "distribution", None, ("ADVISORY", "advisory")),
        (15.0, "distribution", 100.0, ("ADVISORY", "advisory")),
        (15.01, "distribution", 15.0, ("ADVISORY", "advisory")),
        (15.01, "distribution", 15.1, ("FAIL", "handover")),
        (15.01, "distribution", None, ("FAIL", "handover")),
    ],
)
def test_velocity(
    speed: float, place: str, length: float | None, expected: tuple[str, str]
) -> None:
    finding = at_speed(speed, place, length)
    assert graded(finding) == expected
    assert finding.results["velocity"] == pytest.approx(speed)


def test_worked_velocity() -> None:
    found = pipe_velocity(50 * CFM, BORE, 100 * PSI, T60, "compressor room", US60)
    assert found.results["velocity"] / 0.3048 == pytest.approx(17.791, rel=5e-5)


def test_worked_drop_and_budget() -> None:
    worked = pipe_pressure_drop(100 * CFM, BORE, 30.48, 100 * PSI, T60, flow_reference=US60)
    assert worked.results["drop"] / PSI == pytest.approx(2.2361, rel=1e-4)
    assert worked.verdict is Verdict.PASS
    longer = pipe_pressure_drop(100 * CFM, BORE, 90, 100 * PSI, T60, flow_reference=US60)
    assert graded(longer) == ("ADVISORY", "advisory")
    longest = pipe_pressure_drop(100 * CFM, BORE, 150, 100 * PSI, T60, flow_reference=US60)
    assert graded(longest) == ("FAIL", "handover")


@given(st.floats(5.0, 60.0), st.integers(0, 20), st.integers(0, 20))
def test_fittings_and_rough_pipe_only_add(flow: float, elbows: int, tees: int) -> None:
    bare = pipe_pressure_drop(flow * CFM, BORE, 30.0, 100 * PSI, T60).results["drop"]
    fitted = pipe_pressure_drop(
        flow * CFM, BORE, 30.0, 100 * PSI, T60, "galvanised steel", elbows, tees, 1
    )
    assert fitted.results["drop"] > bare


def test_bad_input_is_refused_by_name() -> None:
    with pytest.raises(InputError, match="place"):
        pipe_velocity(0.02, 0.02, 7e5, 293.15, "garden")
    with pytest.raises(InputError, match="inside bore"):
        pipe_velocity(0.02, 25.4, 7e5, 293.15, "distribution")
    with pytest.raises(OutsideValidity, match="material: given PVC"):
        pipe_pressure_drop(0.02, 0.02, 30.0, 7e5, 293.15, "PVC or other plastic")
    with pytest.raises(OutsideValidity, match="far too small"):
        pipe_pressure_drop(0.2, 0.01, 30.0, 7e5, 293.15)
