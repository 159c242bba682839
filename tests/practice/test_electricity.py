"""Supply and motor against the plate, published relations and an independent network solution."""

from __future__ import annotations

from cmath import rect
from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest

from wizard.calc.supply import sag_ratio
from wizard.calc.unbalance import negative_sequence, unbalance_of_currents, unbalance_of_voltages
from wizard.practice.circuit import circuit_of
from wizard.practice.electricity import curve_of, lines_at, resting_lines, sequences
from wizard.practice.plates import Machine, machine, machine_names

MACHINES = [machine(name) for name in machine_names()]
THREE = [m for m in MACHINES if m.motor.phases == 3]


def _stiff(m: Machine) -> Machine:
    """The machine on a supply without impedance at its plate voltage."""
    return replace(
        m, supply=replace(m.supply, voltage=m.motor.voltage, resistance=0.0, reactance=0.0)
    )


@pytest.mark.parametrize("m", MACHINES, ids=lambda m: m.name)
def test_motor_does_at_rated_slip_what_its_plate_says(m: Machine) -> None:
    circuit = circuit_of(m.motor)
    slip = 1 - 2 * pi * m.motor.speed / circuit.field_speed
    found = lines_at(_stiff(m).supply, circuit, slip)
    assert found.torque * 2 * pi * m.motor.speed == pytest.approx(m.motor.power, rel=2e-3)
    assert found.currents[0] == pytest.approx(m.motor.current, rel=1e-6)
    assert m.motor.power / found.power == pytest.approx(m.motor.efficiency, rel=2e-3)
    apparent = (sqrt(3) if m.motor.phases == 3 else 1) * m.motor.voltage * m.motor.current
    assert found.power / apparent == pytest.approx(m.motor.power_factor, abs=0.012)


@pytest.mark.parametrize("m", MACHINES, ids=lambda m: m.name)
def test_standing_motor_draws_its_locked_current_and_can_start(m: Machine) -> None:
    found = lines_at(_stiff(m).supply, circuit_of(m.motor), 1.0)
    assert found.currents[0] == pytest.approx(m.motor.locked_current, rel=1e-6)
    rated = m.motor.power / (2 * pi * m.motor.speed)
    assert 1.5 < found.torque / rated < 3.5
    assert 2.0 < curve_of(_stiff(m).supply, m.motor).pull_out / rated < 4.5


def test_torque_goes_with_the_square_of_voltage() -> None:
    m = _stiff(THREE[0])
    weak = replace(m.supply, voltage=0.9 * m.supply.voltage)
    circuit = circuit_of(m.motor)
    full = lines_at(m.supply, circuit, 1.0).torque + circuit.friction
    less = lines_at(weak, circuit, 1.0).torque + circuit.friction
    assert less / full == pytest.approx(0.81, rel=1e-9)


def test_windings_for_twice_the_voltage_have_a_quarter_of_the_torque() -> None:
    m = _stiff(THREE[-1])
    circuit = circuit_of(m.motor)
    full = lines_at(m.supply, circuit, 1.0).torque + circuit.friction
    less = lines_at(m.supply, circuit.connected(2.0), 1.0).torque + circuit.friction
    assert less / full == pytest.approx(0.25, rel=1e-9)


@pytest.mark.parametrize("unbalance", [0.005, 0.02, 0.035])
def test_lines_agree_with_a_network_solved_in_phase_quantities(unbalance: float) -> None:
    """The same motor as a 3 x 3 impedance matrix, solved by numpy without sequences."""
    m = THREE[0]
    supply = replace(m.supply, unbalance=unbalance)
    circuit, slip = circuit_of(m.motor), 0.03
    turn = rect(1, 2 * pi / 3)
    split = np.array([[1, 1, 1], [1, turn**2, turn], [1, turn, turn**2]])
    inside = np.diag([1e9, circuit.impedance(slip), circuit.impedance(2 - slip)])
    motor = split @ inside @ np.linalg.inv(split)
    upstream = complex(supply.resistance, supply.reactance) * np.eye(3)
    ahead, astern = sequences(supply)
    source = split @ np.array([0, ahead, astern])
    currents = np.linalg.solve(motor + upstream, source)
    inner = source - upstream @ currents
    found = lines_at(supply, circuit, slip)
    assert found.currents == pytest.approx(np.abs(currents), rel=1e-6)
    assert found.voltages == pytest.approx(np.abs(inner - np.roll(inner, -1)), rel=1e-6)
    assert found.power == pytest.approx(float(np.vdot(currents, inner).real), rel=1e-6)


@pytest.mark.parametrize("m", THREE, ids=lambda m: m.name)
def test_voltage_unbalance_makes_six_to_ten_times_as_much_in_current(m: Machine) -> None:
    """NEMA MG 1-2011 14.36 and 20.24: about six to ten times at full load."""
    supply = replace(m.supply, unbalance=0.02, resistance=0.0, reactance=0.0)
    open_lines = resting_lines(supply).voltages
    slip = 1 - 2 * pi * m.motor.speed / circuit_of(m.motor).field_speed
    loaded = lines_at(supply, circuit_of(m.motor), slip)
    volts = unbalance_of_voltages(open_lines).unbalance
    amps = unbalance_of_currents(loaded.currents).unbalance
    assert volts == pytest.approx(0.02, rel=1e-9)
    assert 5.0 < amps / volts < 10.0


def test_negative_sequence_is_that_of_the_project_formula() -> None:
    supply = replace(THREE[0].supply, unbalance=0.03)
    ahead, astern = sequences(supply)
    ours = abs(astern) / abs(ahead)
    assert ours == pytest.approx(negative_sequence(resting_lines(supply).voltages), rel=1e-9)


def test_voltage_sags_under_load_by_the_drop_in_the_source() -> None:
    m = THREE[0]
    circuit = circuit_of(m.motor)
    slip = 1 - 2 * pi * m.motor.speed / circuit.field_speed
    rest, loaded = resting_lines(m.supply), lines_at(m.supply, circuit, slip)
    sag = sag_ratio(sum(rest.voltages) / 3, sum(loaded.voltages) / 3)
    angle_cos = loaded.power / (sqrt(3) * loaded.voltages[0] * loaded.currents[0])
    angle_sin = sqrt(1 - angle_cos**2)
    drop = (
        sqrt(3)
        * loaded.currents[0]
        * (m.supply.resistance * angle_cos + m.supply.reactance * angle_sin)
    )
    assert sag == pytest.approx(drop / rest.voltages[0], rel=0.02)
    assert loaded.voltages[0] < rest.voltages[0]


def test_starting_dips_more_than_running() -> None:
    for m in MACHINES:
        circuit = circuit_of(m.motor)
        start, run = lines_at(m.supply, circuit, 1.0), lines_at(m.supply, circuit, 0.03)
        assert start.voltages[0] < 0.99 * run.voltages[0]
