"""Running load, derating and terminal torque: worked values, refusals, properties."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.calc.derating import derated_fraction, permitted_rise
from wizard.calc.motor_load import (
    assumed_efficiency,
    current_limit,
    electrical_input,
    implied_power_factor,
    load_fraction,
    shaft_output,
)
from wizard.calc.terminal import terminal_target, torque_deviation
from wizard.errors import InputError, OutsideValidity
from wizard.quantities import from_si, to_si

HP = to_si(1.0, "power", "hp")


@pytest.mark.parametrize(
    ("volts", "amperes", "pf", "efficiency", "phases", "input_kw", "shaft_kw"),
    [
        (460.0, 12.4, 0.85, 0.895, "three", 8.3977, 7.5159),
        (230.0, 21.5, 0.93, 0.80, "single", 4.59885, 3.6791),
        (400.0, 21.0, 0.84, 0.902, "three", 12.2214, 11.024),
    ],
)
def test_power(
    volts: float,
    amperes: float,
    pf: float,
    efficiency: float,
    phases: str,
    input_kw: float,
    shaft_kw: float,
) -> None:
    took = electrical_input(volts, amperes, pf, phases)
    assert took / 1000 == pytest.approx(input_kw, rel=1e-4)
    assert shaft_output(took, efficiency) / 1000 == pytest.approx(shaft_kw, rel=1e-4)


def test_shaft_horsepower() -> None:
    shaft = shaft_output(electrical_input(460.0, 12.4, 0.85), 0.895)
    assert from_si(shaft, "power", "hp") == pytest.approx(10.079, rel=1e-4)


@pytest.mark.parametrize(
    ("factor", "said"), [(85.0, "85 is 0.85"), (0.29, "0.3 to 1"), (1.01, "0.3 to 1")]
)
def test_a_power_factor_typed_as_per_cent_is_explained(factor: float, said: str) -> None:
    with pytest.raises(InputError, match=said):
        electrical_input(460.0, 12.4, factor)


@pytest.mark.parametrize(
    ("hp", "efficiency"),
    [(2, 0.82), (3, 0.82), (5, 0.86), (7.5, 0.86), (10, 0.89), (15, 0.89), (20, 0.91), (30, 0.91)],
)
def test_assumed_efficiency(hp: float, efficiency: float) -> None:
    assert assumed_efficiency(hp * HP) == efficiency


def test_limits_of_current_and_load() -> None:
    assert current_limit(26.0, 1.15) == pytest.approx(29.9)
    assert load_fraction(6.2, 12.4, 460.0, 460.0) == pytest.approx(0.5)
    with pytest.raises(OutsideValidity, match="50 % or more"):
        load_fraction(6.1, 12.4, 460.0, 460.0)


@given(st.floats(1, 100), st.floats(0.3, 0.99), st.floats(100, 690))
def test_single_phase_power_is_less_by_root_three(i: float, pf: float, v: float) -> None:
    single = electrical_input(v, i, pf, "single")
    assert electrical_input(v, i, pf) == pytest.approx(single * 3**0.5)
    assert implied_power_factor(single, v, i, "single") == pytest.approx(pf)
    assert implied_power_factor(single, v, i) == pytest.approx(pf / 3**0.5)


def test_no_power_factor_without_power_volts_or_amperes() -> None:
    for watts, volts, amperes in ((0.0, 400.0, 10.0), (4e3, 0.0, 10.0), (4e3, 400.0, 0.0)):
        with pytest.raises(InputError):
            implied_power_factor(watts, volts, amperes)


@pytest.mark.parametrize(
    ("metres", "celsius", "share", "power"),
    [
        (2000.0, 40.0, 0.90, 0.92195),
        (1000.0, 50.0, 0.90476, 0.92582),
        (800.0, 35.0, 1.0, 1.0),
        (1000.0, 40.0, 1.0, 1.0),
    ],
)
def test_derating(metres: float, celsius: float, share: float, power: float) -> None:
    left = permitted_rise(metres, celsius + 273.15)
    assert left == pytest.approx(share, rel=1e-4)
    assert derated_fraction(left) == pytest.approx(power, rel=1e-4)


@given(st.floats(-100, 4000), st.floats(-20, 60), st.floats(0, 500), st.floats(0, 5))
def test_thin_or_hot_air_never_helps(
    metres: float, celsius: float, higher: float, hotter: float
) -> None:
    here = permitted_rise(metres, celsius + 273.15)
    there = permitted_rise(min(4000.0, metres + higher), min(60.0, celsius + hotter) + 273.15)
    assert there <= here + 1e-12


def test_beyond_4000_metres_the_maker_is_asked() -> None:
    with pytest.raises(OutsideValidity, match="-100 m to 4000 m"):
        permitted_rise(4001.0, 293.15)


def test_no_rise_left_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="ask the motor maker"):
        derated_fraction(0.33)


@pytest.mark.parametrize(
    ("screw", "size", "newton_metres"),
    [
        ("slotted, larger slot", "10 AWG", 3.9545),
        ("hex head, other", "6 AWG", 12.428),
        ("hex head, split-bolt", "2 AWG", 31.071),
        ("socket 3/16 in", "8 AWG", 13.558),
        ("below No. 10, slot 5/32 to 7/32 in, wide", "12 AWG", 1.3558),
    ],
)
def test_terminal_target(screw: str, size: str, newton_metres: float) -> None:
    assert terminal_target(screw, size) == pytest.approx(newton_metres, rel=1e-4)


def test_terminals_outside_the_table() -> None:
    with pytest.raises(OutsideValidity, match="maker's value"):
        terminal_target("hex head, other", "6 mm²")
    with pytest.raises(OutsideValidity, match="8 AWG or smaller"):
        terminal_target("below No. 10, slot 1/4 in, wide", "6 AWG")
    with pytest.raises(InputError, match="socket 3/8 in"):
        terminal_target("wing nut", "10 AWG")


def test_torque_deviation() -> None:
    target = terminal_target("slotted, larger slot", "10 AWG")
    assert 100 * torque_deviation(3.0, target) == pytest.approx(-24.136, rel=1e-4)
    for torque in (0.0, -1.0, float("nan")):
        with pytest.raises(InputError, match="more than zero"):
            torque_deviation(torque, target)
