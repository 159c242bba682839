"""The machine against published relations, the project's own formulas and scipy."""

from __future__ import annotations

from dataclasses import replace
from math import exp, log, pi, sqrt

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from tests.practice.bench import SEA, gauge, made, names, on, pumped_up, run
from wizard.calc.belt import wrap_angle
from wizard.calc.belt_tension import needed_tension
from wizard.calc.oil import viscosity_at, viscosity_at_100
from wizard.calc.pumpup import pumpup_flow_simple, pumpup_flow_warm
from wizard.calc.relief_orifice import orifice_mass_flow
from wizard.calc.sheave import pump_speed_from_sheaves, slip_from_speeds
from wizard.checks.belt_tension import SERVICE_FACTOR
from wizard.practice.compression import HOLE, Cylinder, hole_flow
from wizard.practice.design import area_of, centistokes, design_of
from wizard.practice.machine import SCALE, discharge_temperatures, run_on, shaft_of
from wizard.practice.plates import machine, machine_names
from wizard.practice.rates import OVERLOAD_TIME, TRIP, Rates
from wizard.practice.seed import spread
from wizard.practice.state import At, Gauged, State, resting
from wizard.practice.watches import REPEAT

R, CP = 287.05287, 287.05287 * 3.5


@pytest.mark.parametrize("ratio", [1.5, 4.0, 9.0])
def test_work_of_a_cylinder_is_the_area_of_its_pressure_volume_figure(ratio: float) -> None:
    """Integrated by scipy around the figure, clearance expansion included."""
    n, clearance, swept, low = 1.3, 0.05, 4e-4, 1e5
    stroke = Cylinder(swept, clearance, n).turn(low, 300.0, ratio * low)
    top, whole = clearance * swept, (1 + clearance) * swept
    squeezed = whole * ratio ** (-1 / n)
    grown = top * ratio ** (1 / n)
    rising, _ = quad(lambda v: low * (whole / v) ** n, squeezed, whole)
    falling, _ = quad(lambda v: ratio * low * (top / v) ** n, top, grown)
    area = rising + ratio * low * (squeezed - top) - falling - low * (whole - grown)
    assert stroke.work == pytest.approx(area, rel=1e-8)
    assert stroke.mass == pytest.approx(low * (whole - grown) / (R * 300.0), rel=1e-12)


def test_volumetric_efficiency_is_the_textbook_one() -> None:
    """Clearance 5 %, ratio 7.5, exponent 1.3: 0.81444 (worked example of a textbook)."""
    moved = Cylinder(1e-3, 0.05, 1.3).turn(1e5, 293.15, 7.5e5).mass
    assert moved / (1e5 * 1e-3 / (R * 293.15)) == pytest.approx(0.81444, rel=1e-4)


@pytest.mark.parametrize("area", [1e-7, 3e-6])
def test_choked_hole_passes_what_the_project_formula_says(area: float) -> None:
    ours = hole_flow(area, 8e5, 300.0, 101325.0)
    assert ours == pytest.approx(orifice_mass_flow(area, 8e5, 300.0, HOLE), rel=1e-6)


def test_hole_that_is_not_choked_follows_saint_venant_and_wantzel() -> None:
    p, back, t, k = 1.6e5, 1e5, 300.0, 1.4
    r = back / p
    flux = p * sqrt(2 * k / ((k - 1) * R * t) * (r ** (2 / k) - r ** ((k + 1) / k)))
    assert hole_flow(1e-5, p, t, back) == pytest.approx(HOLE * 1e-5 * flux, rel=6e-3)
    assert hole_flow(1e-5, 1e5, t, 1e5) == 0.0


def _mass_rate(name: str, pressure: float) -> tuple[float, float]:
    """(simulated, from displacement and clearance) mass flow of a single-stage pump, kg/s."""
    design = made(name)
    state = run(design, on(design, pressure), 3.0)
    rates = Rates(design, state)
    change = rates(state.y)
    pump, turns = design.machine.pump, rates.now.pump / (2 * pi)
    end = gauge(design, state) + SEA.pressure + pump.discharge_drop
    n, c = pump.exponent, pump.clearance
    filled = 1 + c - c * (end / design.suction) ** (1 / n)
    charge = SEA.temperature + 0.12 * (state.y[At.HEAD] - SEA.temperature)
    swept = pi / 4 * pump.bore**2 * pump.stroke * pump.lp_cylinders
    return change[At.TANK_MASS], design.suction * swept * filled * turns / (R * charge)


@pytest.mark.parametrize("pressure", [1e5, 4e5, 7.5e5])
def test_delivery_is_displacement_times_clearance_efficiency(pressure: float) -> None:
    ours, textbook = _mass_rate("iec_four_one", pressure)
    assert ours == pytest.approx(textbook, rel=1e-9)


@pytest.mark.parametrize("name", machine_names())
def test_pump_up_flow_by_the_warm_formula_is_the_air_that_went_in(name: str) -> None:
    """Ideal-gas mass balance; the readings a technician takes give the true mean flow."""
    design = made(name)
    plate = design.machine
    gauged = Gauged(plate, SEA)
    first = run(design, on(design, 0.3 * plate.protection.cut_out), 4.0)
    last = run(design, first, 60.0)
    flow = pumpup_flow_warm(
        plate.tank.volume + plate.tank.line_volume,
        gauged.pressure(first), gauged.pressure(last),
        gauged.tank_temperature(first), gauged.tank_temperature(last),
        last.time - first.time, SEA.pressure, SEA.temperature,
    )  # fmt: skip
    drawn = (last.y[At.MASS_IN] - first.y[At.MASS_IN]) * R * SEA.temperature / SEA.pressure
    assert flow == pytest.approx(drawn / (last.time - first.time), rel=0.01)


@pytest.mark.parametrize("name", machine_names())
def test_plate_flow_is_what_the_sound_warm_machine_delivers(name: str) -> None:
    design = made(name)
    pump = design.machine.pump
    state = run(design, on(design, pump.rated_pressure * 0.93), 12.0)
    warm = list(state.y)
    warm[At.HEAD] = SEA.temperature + (90.0 if pump.stages == 2 else 125.0)
    moved = Rates(design, state)(warm)[At.MASS_IN] * R * SEA.temperature / SEA.pressure
    assert moved == pytest.approx(pump.rated_flow, rel=0.04)


def test_pump_up_follows_scipy_to_the_same_moment() -> None:
    """The same balances through scipy's LSODA, from up to speed to the cut-out."""
    design = made("us_seven_two")
    start = run(design, on(design), 5.0)
    told = run_on(design, start, 1500.0)[1]
    ours = next(h.time for h in told if h.name == "switch opens")
    rates = Rates(design, start)
    setting = design.machine.protection.cut_out * (1 + REPEAT * spread(0, "cut-out", 0))
    energy = (setting + SEA.pressure) * rates.volume / 0.4

    def reached(t: float, y: np.ndarray) -> float:
        return float(y[At.TANK_ENERGY] - energy)

    reached.terminal = True  # type: ignore[attr-defined]
    allowed = [1e-4 * s if s < 1e6 else 1.0 for s in SCALE]
    solved = solve_ivp(lambda t, y: rates(list(y)), (5.0, 1500.0), start.y, method="LSODA",
                       events=reached, rtol=1e-8, atol=allowed)  # fmt: skip
    assert solved.t_events[0][0] == pytest.approx(ours, rel=1e-3)
    at_ours = solved.y[:, -1]
    assert at_ours[At.SHELL] == pytest.approx(run(design, start, ours - 5.0).y[At.SHELL], abs=0.1)


def test_pump_up_agrees_with_a_model_written_apart_from_the_simulator() -> None:
    """Receiver, shell and pump of a single-stage machine as three equations, by scipy."""
    design = made("iec_four_one")
    start = run(design, on(design, 1e5), 4.0)
    m = design.machine
    swept = pi / 4 * m.pump.bore**2 * m.pump.stroke * m.pump.lp_cylinders
    turns = shaft_of(design, run(design, start, 30.0)).pump / (2 * pi)
    volume, room = m.tank.volume + m.tank.line_volume, SEA.temperature
    film, skin = 30.0 * m.tank.surface, 8.0 * m.tank.surface
    head = 0.12 * (run(design, start, 30.0).y[At.HEAD] - room)

    def balance(t: float, y: np.ndarray) -> list[float]:
        air, energy, shell = y
        pressure, temperature = 0.4 * energy / volume, energy / (air * (CP - R))
        ratio = (pressure + m.pump.discharge_drop) / design.suction
        n, c = m.pump.exponent, m.pump.clearance
        filled = 1 + c - c * ratio ** (1 / n)
        flow = design.suction * swept * turns * filled / (R * (room + head))
        arriving = room + ((room + head) * ratio ** ((n - 1) / n) - room) * (1 - m.pump.aftercooler)
        lost = film * (temperature - shell)
        warms = (lost - skin * (shell - room)) / (m.tank.steel * 490.0)
        return [flow, flow * CP * arriving - lost, warms]

    first = [start.y[At.TANK_MASS], start.y[At.TANK_ENERGY], start.y[At.SHELL]]
    solved = solve_ivp(balance, (0.0, 90.0), first, rtol=1e-8)
    after = run(design, start, 90.0)
    theirs = 0.4 * solved.y[1, -1] / volume - SEA.pressure
    assert gauge(design, after) == pytest.approx(theirs, rel=0.01)
    assert after.y[At.TANK_MASS] == pytest.approx(solved.y[0, -1], rel=0.01)


def test_leak_decays_exponentially_in_absolute_pressure() -> None:
    """Choked leak from a tank at room temperature: p = p1 exp(-t/tau)."""
    design = made("iec_seven_two", joint_leaks=0.001)
    state = resting(design.machine, SEA, 9e5)
    after = run(design, state, 600.0)
    first, last = 9e5 + SEA.pressure, gauge(design, after) + SEA.pressure
    flux = 0.04041840 * HOLE * area_of(0.001) / sqrt(SEA.temperature)
    tau = design.machine.tank.volume / (R * SEA.temperature * flux)
    left = after.y[At.TANK_MASS] / state.y[At.TANK_MASS]
    assert left == pytest.approx(exp(-600.0 / tau), rel=2e-3)
    assert last == pytest.approx(first * exp(-600.0 / tau), rel=8e-3)
    assert log(first / last) > 0.05


@pytest.mark.parametrize("name", machine_names())
def test_discharge_temperature_is_polytropic(name: str) -> None:
    """T2 = T1 r^((n-1)/n) for each stage."""
    design = made(name)
    pump = design.machine.pump
    state = run(design, on(design, pump.rated_pressure * 0.9), 5.0)
    gauged = Gauged(design.machine, SEA)
    end = gauged.pressure(state) + pump.discharge_drop
    start, suction = SEA.temperature + 0.12 * (state.y[At.HEAD] - SEA.temperature), design.suction
    if pump.stages == 2:
        start = state.y[At.STAGE_ENERGY] / (state.y[At.STAGE_MASS] * (CP - R))
        suction = gauged.interstage_gauge(state) + SEA.pressure - pump.suction_drop
    n = pump.exponent
    expected = start * (end / suction) ** ((n - 1) / n)
    assert discharge_temperatures(design, state)[-1] == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("name", ["us_seven_two", "iec_seven_two"])
def test_interstage_pressure_is_near_its_plate_and_tells_worn_valves(name: str) -> None:
    """MO-206 section 6(b): low is the low-pressure valves, high the high-pressure valves."""

    def warm(**present: float) -> float:
        design = made(name, present=present)
        at = design.machine.protection.cut_out * 0.93
        return Gauged(design.machine, SEA).interstage_gauge(run(design, on(design, at), 20.0))

    normal = machine(name).pump.interstage_normal
    sound = warm()
    assert sound == pytest.approx(normal, rel=0.06)
    for low in (0.28, 0.38):
        assert (warm(lp_valve_worn=low) + 1e5) / (normal + 1e5) < 0.85
        assert (warm(hp_valve_worn=low) + 1e5) / (normal + 1e5) > 1.15


@pytest.mark.parametrize("name", machine_names())
def test_power_at_the_shaft_is_believable_for_the_air_delivered(name: str) -> None:
    """Overall efficiency 0.55 to 0.80 of isentropic power is common; the plate is not exceeded."""
    design = made(name)
    m = design.machine
    state = run(design, on(design, m.protection.cut_out * 0.97), 2.0)
    shaft = shaft_of(design, state)
    power = shaft.load * shaft.motor
    flow = Rates(design, state)(state.y)[At.TANK_MASS] / 1.2041
    stages = m.pump.stages
    ratio = (gauge(design, state) + SEA.pressure) / SEA.pressure
    ideal = stages * 3.5 * SEA.pressure * flow * (ratio ** (1 / (3.5 * stages)) - 1)
    assert 0.55 < ideal / power < 0.85
    assert 0.75 < power / m.motor.power < 1.0
    assert shaft.current < m.motor.current


def test_belts_are_at_their_limit_at_the_tension_that_the_formula_needs() -> None:
    design = made("us_seven_two")
    drive, motor = design.machine.drive, design.machine.motor
    wrap = wrap_angle(drive.centre_distance, drive.pump_sheave, drive.motor_sheave)
    speed = pi * drive.motor_sheave * motor.speed
    needed = needed_tension(motor.power, speed, drive.belts, drive.belt_mass, wrap)
    bare = made("us_seven_two", belt_loose=1.0)
    assert bare.machine.drive.tension == pytest.approx(needed)
    assert bare.pull_limit * speed == pytest.approx(motor.power, rel=1e-9)
    served = needed_tension(motor.power, speed, drive.belts, drive.belt_mass, wrap, SERVICE_FACTOR)
    assert drive.tension == pytest.approx(1.25 * served, rel=0.02)


def test_loose_belts_slip_and_a_tachometer_tells() -> None:
    def slip(**present: float) -> tuple[float, float]:
        design = made("us_seven_two", present=present)
        drive = design.machine.drive
        shaft = shaft_of(design, run(design, on(design, 9e5), 3.0))
        motor, pump = shaft.motor / (2 * pi), shaft.pump / (2 * pi)
        found = slip_from_speeds(motor, pump, drive.motor_sheave, drive.pump_sheave)
        expected = pump_speed_from_sheaves(motor, drive.motor_sheave, drive.pump_sheave, 0.0)
        assert found == pytest.approx(1 - pump / expected)
        return found, shaft.slip

    sound, loose = slip(), slip(belt_loose=0.55)
    assert 0.002 < sound[0] < 0.02 < 0.05 < loose[0]
    assert loose[0] == pytest.approx(loose[1])


def test_viscosity_of_the_sump_is_that_of_the_project_formula() -> None:
    oil = machine("us_seven_two").oil
    for celsius in (-2.0, 20.0, 80.0):
        at = celsius + 273.15
        expected = viscosity_at(at, oil.grade * 1e-6, viscosity_at_100(oil.grade * 1e-6, oil.index))
        assert centistokes(oil, at) * 1e-6 == pytest.approx(expected, rel=1e-9)


def test_overload_of_class_10_trips_a_stalled_motor_from_cold_in_time() -> None:
    """IEC 60947-4-1: at 7.2 times its setting between 4 s and 10 s (from memory)."""
    assert 4.0 < -OVERLOAD_TIME * log(1 - TRIP / 7.2**2) <= 10.0
    assert sqrt(TRIP) == pytest.approx(1.15, abs=0.01)


def test_wrong_connection_stalls_before_cut_out_and_the_overload_acts() -> None:
    design = made("us_seven_two", wrong_tap=1.0)
    told = names(design, on(design), 900.0)
    assert "overload trips" in told
    assert "switch opens" not in told
    relaxed = made("us_seven_two", wrong_tap=1.0, overload_high=9.0)
    assert names(relaxed, on(relaxed), 3000.0)[-1] == "motor burnt"


def test_switch_repeats_within_its_spread_and_cycles_under_a_demand() -> None:
    design = made("iec_four_one", joint_leaks=0.003)
    told = run_on(design, on(design), 2400.0, seed=4)[1]
    stops = [h.time for h in told if h.name == "switch opens"]
    assert len(stops) >= 3
    limit = design.machine.protection.cut_out
    for at in stops[:3]:
        reached = gauge(design, run_on(design, on(design), at, seed=4)[0])
        assert reached == pytest.approx(limit, rel=0.015)


def test_stuck_switch_lifts_the_relief_valve_and_it_holds_the_pressure() -> None:
    design = made("us_seven_two", switch_stuck=1.0)
    state, told = run_on(design, on(design), 1500.0)
    happened = [h.name for h in told]
    assert "relief opens" in happened and "over the receiver limit" not in happened
    assert gauge(design, state) < 1.1 * design.machine.tank.mawp


@pytest.mark.parametrize("second", ["relief_shut", "relief_small"])
def test_stuck_switch_and_no_relief_goes_beyond_the_limit(second: str) -> None:
    design = made("us_seven_two", present={"switch_stuck": 1.0, second: 0.6})
    assert names(design, on(design), 3000.0)[-1] == "over the receiver limit"


def test_dry_pump_seizes_and_cold_thick_oil_does_the_same() -> None:
    dry = made("iec_four_one", oil_low=0.1)
    assert names(dry, on(dry, outlet_open=True), 600.0)[-1] == "pump seized"
    cold = made("iec_four_one", replace(SEA, temperature=271.15), oil_thick=1.0)
    assert "pump seized" in names(cold, on(cold, outlet_open=True), 600.0)


def test_unloader_vents_the_line_in_seconds_unless_the_check_valve_leaks() -> None:
    def vented(**present: float) -> list[float]:
        design = made("us_seven_two", present=present)
        state = pumped_up(design)
        told = run_on(design, state, 60.0)[1]
        return [h.time - state.stopped for h in told if h.name == "line vented"]

    (sound,) = vented()
    assert 3.0 < sound < 20.0
    assert vented(check_leaks=0.0009) == []


def test_leaking_check_valve_empties_the_tank_through_the_unloader() -> None:
    design = made("us_seven_two", check_leaks=0.0009)
    state = run(design, replace(pumped_up(design), switched_on=False), 900.0)
    later = run(design, state, 600.0)
    assert gauge(design, later) < 0.97 * gauge(design, state)
    sound = made("us_seven_two")
    still = run(sound, pumped_up(sound), 900.0)
    assert gauge(sound, run(sound, still, 600.0)) > 0.99 * gauge(sound, still)


def test_backwards_fan_runs_hotter() -> None:
    def hot(**present: float) -> tuple[float, float]:
        design = made("us_seven_two", present=present)
        state = run(design, on(design, 10e5), 60.0)
        after = run(design, replace(state, outlet_open=True), 1200.0)
        return after.y[At.HEAD], discharge_temperatures(design, after)[-1]

    right, wrong = hot(), hot(swapped_rotation=1.0)
    assert wrong[0] > right[0] + 15.0
    assert wrong[1] > right[1] + 5.0


def test_water_condenses_as_the_mass_balance_says_and_the_drain_lets_it_out() -> None:
    design = made("us_seven_two", replace(SEA, temperature=305.15, humidity=0.8))
    state: State = run(design, pumped_up(design), 3600.0)
    gauged = Gauged(design.machine, design.site)
    assert gauged.liquid(state) > 0.01
    whole = state.y[At.WATER]
    drawn = design.humid * (state.y[At.TANK_MASS])
    assert whole == pytest.approx(drawn, rel=0.05)
    drained = run(design, replace(state, drain_open=True, switched_on=False), 20.0)
    assert gauged.liquid(drained) < 0.002


def test_warm_tank_makes_the_plain_pump_up_formula_flatter_the_pump() -> None:
    design = made("iec_four_one")
    m = design.machine
    gauged = Gauged(m, SEA)

    def flattery(warmer: float) -> float:
        begun = replace(resting(m, SEA, 2e5, warmer), locked=False, switched_on=True)
        first = run(design, begun, 4.0)
        last = run(design, first, 60.0)
        plain = pumpup_flow_simple(
            m.tank.volume, gauged.pressure(first), gauged.pressure(last), 60.0, SEA.pressure
        )
        drawn = (last.y[At.MASS_IN] - first.y[At.MASS_IN]) * R * SEA.temperature / SEA.pressure
        return plain / (drawn / 60.0)

    assert flattery(25.0) > flattery(0.0) + 0.04


def test_motor_heats_towards_its_rated_rise() -> None:
    design = made("us_seven_two")
    m = design.machine
    big = replace(m, tank=replace(m.tank, volume=m.tank.volume * 3000))
    huge = design_of(big, SEA)
    state = run(huge, on(huge, 0.97 * m.protection.cut_out), 4 * 3600.0)
    rise = state.y[At.WINDING] - SEA.temperature
    load = shaft_of(huge, state).current / m.motor.current
    assert rise == pytest.approx(m.motor.rise * load**2, rel=0.15)


def test_high_site_delivers_less_air() -> None:
    def mass(pressure: float) -> float:
        design = made("us_seven_two", replace(SEA, pressure=pressure))
        state = run(design, on(design, 6e5), 5.0)
        return Rates(design, state)(state.y)[At.TANK_MASS]

    assert mass(70121.0) / mass(101325.0) < 70121.0 / 101325.0
