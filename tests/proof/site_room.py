"""Room, floor and panel: against CoolProp, psychrolib, pint, phasors and printed tables."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from datetime import date

import numpy as np
import psychrolib
from fluids.atmosphere import ATMOSPHERE_1976
from scipy.integrate import dblquad

from tests.proof.model import Proof
from tests.units import UNITS, PropsSI
from wizard.calc.calibration import calibration_days_left
from wizard.calc.floor import (
    allowed_bearing,
    average_floor_load,
    floor_class,
    foot_pressure,
    machine_slope,
)
from wizard.calc.lockout import highest_reading, opening_force
from wizard.calc.louver import louver_free_area, louver_gross_area, louver_velocity
from wizard.calc.ventilation import (
    cooling_air,
    cooling_air_trade,
    input_from_shaft,
    room_air,
    room_heat,
    room_rise,
    ventilation_air_density,
)
from wizard.calc.working_space import (
    SYSTEMS,
    barrier_distance,
    limited_approach,
    panel_depth,
    vicinity_zone,
    volts_to_ground,
)


def _si(text: str, unit: str) -> float:
    return float(UNITS.Quantity(text).to(unit).magnitude)


def _dry_air() -> Iterator[tuple[float, float]]:
    psychrolib.SetUnitSystem(psychrolib.SI)
    for elevation in (0.0, 500.0, 1500.0, 3000.0):
        pressure = float(ATMOSPHERE_1976(elevation).P)
        for celsius in (0.0, 20.0, 40.0):
            ours = ventilation_air_density(elevation, celsius + 273.15)
            yield ours, float(PropsSI("D", "P", pressure, "T", celsius + 273.15, "Air"))
            yield ours, 1.0 / float(psychrolib.GetDryAirVolume(celsius, pressure))


def _enthalpy() -> Iterator[tuple[float, float]]:
    """The flow whose gain in enthalpy is the heat."""
    for heat, low, rise in ((11500.0, 293.15, 8.0), (4000.0, 303.15, 5.6)):
        start, end = (float(PropsSI("H", "P", 101325, "T", t, "Air")) for t in (low, low + rise))
        density = float(PropsSI("D", "P", 101325, "T", low, "Air"))
        yield cooling_air(heat, density, rise), heat / (density * (end - start))


def _handbook() -> Iterator[tuple[float, float]]:
    flow = cooling_air_trade(_si("567432 Btu/hour", "W"), 37 / 1.8)
    yield flow, _si("14200 foot**3/minute", "m**3/s")
    heat = _si("39240 Btu/hour", "W")
    warmed = UNITS.Quantity(heat, "W") / (
        UNITS.Quantity(0.075, "lb/foot**3")
        * UNITS.Quantity(0.24, "Btu/(lb*delta_degF)")
        * UNITS.Quantity(15.0, "delta_degF")
    )
    yield cooling_air_trade(heat, 15 / 1.8), float(warmed.to("m**3/s").magnitude)


def _balance() -> Iterator[tuple[float, float]]:
    yield input_from_shaft(_si("10 hp", "W"), 0.9), _si("10 hp", "W") * 10 / 9
    yield input_from_shaft(7500.0, 0.885) * 0.885, 7500.0


def _louvers() -> Iterator[tuple[float, float]]:
    flow, speed = _si("1200 foot**3/minute", "m**3/s"), _si("400 foot/minute", "m/s")
    free = float((UNITS.Quantity("1200 ft**3/min") / UNITS.Quantity("400 ft/min")).to("m**2").m)
    yield louver_free_area(flow, speed), free


def _gross() -> Iterator[tuple[float, float]]:
    yield louver_gross_area(_si("3 ft**2", "m**2"), 0.45), _si("6.6666666667 ft**2", "m**2")


def _through() -> Iterator[tuple[float, float]]:
    area = _si("6 ft**2", "m**2")
    flow = _si("1200 foot**3/minute", "m**3/s")
    yield louver_velocity(flow, area, 0.5), _si("400 foot/minute", "m/s")


def _pounds() -> Iterator[tuple[float, float]]:
    load = UNITS.Quantity("1650 lbf") / (UNITS.Quantity("48 in") * UNITS.Quantity("30 in"))
    mass = _si("1650 lb", "kg")
    ours = average_floor_load(mass, _si("48 in", "m"), _si("30 in", "m"))
    yield ours, float(load.to("Pa").magnitude)
    yield ours, _si("165 lbf/ft**2", "Pa")


def _pads() -> Iterator[tuple[float, float]]:
    ours = foot_pressure(_si("1650 lb", "kg"), 4, _si("9 in**2", "m**2"))
    worst = UNITS.Quantity("1650 lbf") * 1.5 / 4 / UNITS.Quantity("9 in**2")
    yield ours, float(worst.to("Pa").magnitude)


def _bearing() -> Iterator[tuple[float, float]]:
    yield allowed_bearing(_si("3000 psi", "Pa")), _si("1050 psi", "Pa")


def _building_code() -> Iterator[tuple[float, float]]:
    for load, rating in (("60 lbf/ft**2", 125), ("125 lbf/ft**2", 125), ("165 lbf/ft**2", 250)):
        yield floor_class(_si(load, "Pa")), _si(f"{rating} lbf/ft**2", "Pa")


def _slopes() -> Iterator[tuple[float, float]]:
    for rise, run in ((0.20, 48.0), (3.0, 24.0), (0.0, 12.0)):
        got = machine_slope(rise, run)
        yield got.angle, cmath.phase(complex(run, rise))
        yield got.slope, math.tan(cmath.phase(complex(run, rise)))


def _phasors() -> Iterator[tuple[float, float]]:
    """The farthest corner of the supply's triangle from the grounded point."""
    for line in (208.0, 240.0, 400.0, 480.0):
        corners = [line / math.sqrt(3) * cmath.exp(2j * math.pi * k / 3) for k in range(3)]
        middle = (corners[0] + corners[1]) / 2
        grounded = {
            "wye with grounded neutral": 0j,
            "delta, ungrounded or one corner grounded": corners[0],
            "delta, one winding grounded in the middle (high leg)": middle,
        }
        for system, point in grounded.items():
            yield volts_to_ground(line, system), max(abs(c - point) for c in corners)
        for system, ends in (
            (tuple(SYSTEMS)[3], (-line / 2, line / 2)),
            (tuple(SYSTEMS)[4], (0.0, line)),
        ):
            yield volts_to_ground(line, system), max(abs(end) for end in ends)


def _table_s1() -> Iterator[tuple[float, float]]:
    printed = {
        (120.0, "nothing"): 3.0, (120.0, "grounded"): 3.0, (120.0, "live"): 3.0,
        (150.0, "live"): 3.0, (151.0, "nothing"): 3.0, (277.0, "nothing"): 3.0,
        (277.0, "grounded"): 3.5, (277.0, "live"): 4.0, (600.0, "live"): 4.0,
    }  # fmt: skip
    for (volts, opposite), feet in printed.items():
        yield panel_depth(volts, opposite), _si(f"{feet} ft", "m")


def _disc() -> Iterator[tuple[float, float]]:
    """Pressure summed over the area of the opening."""
    radius, pressure = 1.5 * 0.0254, _si("100 psi", "Pa")
    force, _ = dblquad(lambda r, _: pressure * r, 0.0, 2 * math.pi, 0.0, radius)
    yield opening_force(pressure, 2 * radius), float(force)
    yield opening_force(pressure, 2 * radius), _si("706.858 lbf", "N")


def _calendar() -> Iterator[tuple[float, float]]:
    for due, visit in (
        (date(2028, 3, 1), date(2028, 2, 28)),
        (date(2025, 12, 31), date(2027, 1, 1)),
    ):
        days = (np.datetime64(due) - np.datetime64(visit)) / np.timedelta64(1, "D")
        yield calibration_days_left(due, visit), float(days)


def _heat() -> Iterator[tuple[float, float]]:
    yield room_heat(_si("11.5 kW", "W"), 0.9), _si("10.35 kW", "W")


def _sum() -> Iterator[tuple[float, float]]:
    parts = [_si(f"{cfm} foot**3/minute", "m**3/s") for cfm in (2000, 35)]
    yield room_air(parts[0], parts[1]), _si("2035 foot**3/minute", "m**3/s")


def _fahrenheit() -> Iterator[tuple[float, float]]:
    room, outdoor = (float(UNITS.Quantity(t, "degF").to("K").magnitude) for t in (95.0, 80.0))
    yield room_rise(room, outdoor), float(UNITS.Quantity(15.0, "delta_degF").to("K").magnitude)


def _approach() -> Iterator[tuple[float, float]]:
    for volts in (120.0, 480.0, 750.0):
        yield limited_approach(volts), _si("3.5 ft", "m")


def _zone() -> Iterator[tuple[float, float]]:
    for volts in (50.0, 230.0, 400.0, 690.0, 1000.0):
        yield vicinity_zone(volts), _si("300 mm", "m")


def _barrier() -> Iterator[tuple[float, float]]:
    for zone in (_si("300 mm", "m"), _si("1120 mm", "m")):
        yield barrier_distance(zone), float(np.max([zone, _si("42 in", "m")]))


PROOFS = [
    Proof("ventilation_air_density", "CoolProp (real gas), psychrolib, fluids", _dry_air, 1e-3),
    Proof("cooling_air", "CoolProp, gain of enthalpy", _enthalpy, 1e-3),
    Proof("cooling_air_trade", "printed 14 200 cfm example; pint", _handbook, 1e-4),
    Proof("input_from_shaft", "pint", _balance, 1e-12),
    Proof("louver_free_area", "pint", _louvers, 1e-12),
    Proof("louver_gross_area", "pint", _gross, 1e-9),
    Proof("louver_velocity", "pint", _through, 1e-12),
    Proof("average_floor_load", "pint, pounds-force over square feet", _pounds, 1e-9),
    Proof("foot_pressure", "pint, pounds-force over square inches", _pads, 1e-9),
    Proof("allowed_bearing", "pint", _bearing, 1e-9),
    Proof("floor_class", "International Building Code live loads, manufacturing", _building_code),
    Proof("machine_slope", "phase of a complex number", _slopes, 1e-12),
    Proof("volts_to_ground", "phasor triangle of the supply", _phasors, 1e-12),
    Proof("panel_depth", "29 CFR 1910.303 Table S-1", _table_s1, 1e-12),
    Proof("opening_force", "scipy, pressure integrated over the disc", _disc, 1e-5),
    Proof("calibration_days_left", "numpy calendar", _calendar, 1e-12),
    Proof(
        "highest_reading",
        "numpy",
        lambda: [(highest_reading((1.2, 0.9, 1.1)), float(np.max([1.2, 0.9, 1.1])))],
    ),
    Proof("room_heat", "pint", _heat, 1e-9),
    Proof("room_air", "pint", _sum, 1e-9),
    Proof("room_rise", "pint", _fahrenheit, 1e-9),
    Proof("limited_approach", "NFPA 70E Table 130.4, 3 ft 6 in", _approach, 1e-9),
    Proof("vicinity_zone", "EN 50110-1 Table A.1 as reprinted, 300 mm below 1 kV", _zone, 1e-12),
    Proof("barrier_distance", "NFPA 70E Table 130.4, 3 ft 6 in; numpy", _barrier, 1e-9),
]
