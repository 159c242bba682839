"""Speeds and alignment of sheaves: worked values, inverses, refusals."""

from __future__ import annotations

from math import degrees, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.sheave import (
    gap_at_angle,
    misalignment,
    pump_speed_from_sheaves,
    slip_from_speeds,
    surface_speed,
)
from wizard.errors import InputError, OutsideValidity

INCH = 0.0254


def test_speeds_of_worked_drives() -> None:
    found = pump_speed_from_sheaves(1750 / 60, 4.5 * INCH, 18 * INCH, 0.01) * 60
    assert found == pytest.approx(433.12, abs=0.01)
    assert surface_speed(4.5 * INCH, 1750 / 60) / 0.3048 * 60 == pytest.approx(2061.7, abs=0.05)
    assert surface_speed(0.112, 1455 / 60) == pytest.approx(8.5326, abs=5e-5)
    assert surface_speed(18 * INCH, 1400 / 60) / 0.3048 * 60 == pytest.approx(6597.3, abs=0.05)


@pytest.mark.parametrize(
    ("across", "gap"),
    [(30 * INCH, 0.26181 * INCH), (0.750, 6.5452e-3), (12 * INCH, 0.10472 * INCH)],
)
def test_gap_of_half_a_degree(across: float, gap: float) -> None:
    assert gap_at_angle(across) == pytest.approx(gap, rel=1e-4)


@given(st.floats(0.0, 5.0), st.floats(0.1, 3.0))
def test_gap_gives_the_angle_back(angle: float, across: float) -> None:
    gap = gap_at_angle(across, radians(angle))
    assert degrees(misalignment(gap, across)) == pytest.approx(angle, abs=1e-9)


@given(st.floats(10, 60), st.floats(0.05, 0.3), st.floats(1.0, 6.0), st.floats(0.0, 0.05))
def test_speed_gives_the_slip_back(motor: float, small: float, ratio: float, slip: float) -> None:
    pump = pump_speed_from_sheaves(motor, small, small * ratio, slip)
    assert slip_from_speeds(motor, pump, small, small * ratio) == pytest.approx(slip, abs=1e-9)


def test_slip_stays_in_range_and_swapped_diameters_are_named() -> None:
    with pytest.raises(OutsideValidity, match="slip: given 6 %, accepted 0 % to 5 %"):
        pump_speed_from_sheaves(29.0, 0.1, 0.4, 0.06)
    with pytest.raises(OutsideValidity):
        pump_speed_from_sheaves(29.0, 0.1, 0.4, -0.01)
    with pytest.raises(InputError, match="the two may be swapped"):
        pump_speed_from_sheaves(29.0, 0.4, 0.1)
    with pytest.raises(InputError, match=r"gap: given -0\.03937 in \(-1 mm\)"):
        misalignment(-0.001, 0.5)
