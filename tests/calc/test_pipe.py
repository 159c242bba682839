"""Pipe formulas: worked values, properties, choking."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.pipe import (
    air_mass_flow,
    air_velocity,
    drop_at_other_bore,
    fitting_length,
    isothermal_pressure_drop,
    schedule_40_bore,
)
from wizard.calc.pipe_friction import (
    air_viscosity,
    pipe_friction_factor,
    pipe_friction_factor_quick,
)
from wizard.calc.pipe_line import expected_hold_pressure, pipe_fall, pressure_lost
from wizard.errors import InputError, OutsideValidity

PSI = 6894.757293168
CFM = 0.3048**3 / 60
T60 = 519.67 / 1.8
LINE = 114.696 * PSI


def scfm(flow: float) -> float:
    return air_mass_flow(flow * CFM, 14.696 * PSI, T60)


@pytest.mark.parametrize(
    ("flow", "size", "feet"), [(50, "3/4", 28.833), (50, "1", 17.791), (100, "1-1/4", 20.560)]
)
def test_velocity(flow: float, size: str, feet: float) -> None:
    got = air_velocity(scfm(flow), schedule_40_bore(size), LINE, T60)
    assert got / 0.3048 == pytest.approx(feet, rel=5e-5)


def test_velocity_metric() -> None:
    flow = air_mass_flow(2.0 / 60, 101325.0, 293.15)
    assert air_velocity(flow, 0.0266, 8.01325e5, 303.15) == pytest.approx(7.8433, rel=5e-5)


@pytest.mark.parametrize(
    ("flow", "size", "psi"),
    [(100, "1", 2.2361), (50, "1", 0.57947), (20, "3/4", 0.34406), (100, "2", 0.070001)],
)
def test_drop(flow: float, size: str, psi: float) -> None:
    got = isothermal_pressure_drop(scfm(flow), schedule_40_bore(size), 30.48, LINE, T60)
    assert got / PSI == pytest.approx(psi, rel=5e-5)


@given(st.floats(5.0, 80.0), st.floats(10.0, 60.0))
def test_longer_or_fuller_pipe_loses_more(flow: float, length: float) -> None:
    bore = schedule_40_bore("1")
    one = isothermal_pressure_drop(scfm(flow), bore, length, LINE, T60)
    assert isothermal_pressure_drop(scfm(flow), bore, length * 1.1, LINE, T60) > one
    assert isothermal_pressure_drop(scfm(flow * 1.1), bore, length, LINE, T60) > one
    assert isothermal_pressure_drop(scfm(flow), bore, length, LINE * 1.1, T60) < one


@pytest.mark.parametrize("flow", [100.0, 400.0, 2000.0])
def test_a_pipe_far_too_small_is_not_answered(flow: float) -> None:
    with pytest.raises(OutsideValidity, match="a pipe far too small for this flow"):
        isothermal_pressure_drop(scfm(flow), 0.010, 30.48, LINE, T60)


@given(st.floats(4e3, 1e7), st.floats(1e-6, 0.02))
def test_quick_friction_is_near_the_exact_one(reynolds: float, rough: float) -> None:
    exact = pipe_friction_factor(reynolds, rough)
    assert pipe_friction_factor_quick(reynolds, rough) == pytest.approx(exact, rel=0.021)


def test_ranges() -> None:
    assert pipe_friction_factor(2299.0, 0.001) == pytest.approx(64 / 2299)
    with pytest.raises(OutsideValidity, match="Reynolds number: given 3999"):
        pipe_friction_factor_quick(3999.0, 0.001)
    with pytest.raises(OutsideValidity, match="air temperature"):
        air_viscosity(150.0)
    with pytest.raises(OutsideValidity, match="fitting"):
        fitting_length("magic bend", 1, 0.02)
    with pytest.raises(InputError, match="fall: given more than the length"):
        pipe_fall(2.0, 1.0)


def test_line_values() -> None:
    assert pressure_lost(100.0, 94.0) == pytest.approx(0.06)
    assert drop_at_other_bore(2.0, 1.0, 2.0) == pytest.approx(2 / 32)
    assert expected_hold_pressure(8.01325, 288.15, 295.15) == pytest.approx(8.2079, rel=1e-5)
    loss = 114.7 - expected_hold_pressure(114.7, 529.67 / 1.8, 519.67 / 1.8)
    assert loss == pytest.approx(2.1655, rel=1e-4)
