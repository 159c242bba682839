"""Stages, displacement and power against libraries, handbook and integration."""

from __future__ import annotations

import math
from collections.abc import Iterator

import fluids
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq, minimize_scalar

from tests.proof.model import Proof
from tests.tank import CFM, HP, MOLAR_GAS, PSI, Case, moles, si
from tests.units import UNITS as U
from tests.units import PropsSI
from wizard.calc import compression, displacement, power


def polytropes() -> Iterator[Case]:
    for ratio, n in ((7.8046, 1.30), (3.5928, 1.35), (10.41, 1.40)):
        run = solve_ivp(
            lambda p, t, k: (k - 1) / k * t / p,
            (1.0, ratio),
            [293.15],
            args=(n,),
            rtol=1e-10,
        )
        yield compression.stage_temperature(293.15, ratio, n), float(run.y[0][-1])


def real_stages() -> Iterator[Case]:
    entropy = PropsSI("S", "T", 293.15, "P", 1e5, "Air")
    start = PropsSI("H", "T", 293.15, "P", 1e5, "Air")
    ideal = PropsSI("H", "S", entropy, "P", 8e5, "Air")
    for share in (1.0, 0.85, 0.7):
        real = PropsSI("T", "H", start + (ideal - start) / share, "P", 8e5, "Air")
        yield compression.stage_temperature_by_efficiency(293.15, 8.0, share), real


def skins() -> Iterator[Case]:
    for celsius in (160.0, 190.0):
        warmer = U.Quantity(celsius, "degC") + U.Quantity(27.0, "delta_degF")
        yield compression.air_from_skin(celsius + 273.15), float(warmer.to("K").magnitude)


def handbook_interstage() -> Iterator[Case]:
    for final, listed in ((100, 26.3), (150, 34.5), (200, 41.4)):
        yield compression.interstage_equal_work(14.7, final + 14.7) - 14.7, listed


def least_work(first: float, second: float, low: float, high: float, n: float) -> float:
    a = (n - 1) / n
    best = minimize_scalar(
        lambda x: (
            first * math.exp(a * (x - math.log(low))) + second * math.exp(a * (math.log(high) - x))
        ),
        bounds=(math.log(low), math.log(high)),
        method="bounded",
        options={"xatol": 1e-10},
    )
    return math.exp(best.x)


def even_stages() -> Iterator[Case]:
    for high in (114.7, 189.696):
        theirs = least_work(293.15, 293.15, 14.7, high, 1.35)
        yield compression.interstage_equal_work(14.7, high), theirs


def warm_stages() -> Iterator[Case]:
    for warm in (293.15, 313.15, 333.15):
        theirs = least_work(293.15, warm, 14.696, 189.696, 1.35)
        yield compression.interstage_warm(14.696, 189.696, 293.15, warm, 1.35), theirs


def cylinders() -> Iterator[Case]:
    low, high = 2 * 127.0**2, 101.6**2
    for warm in (293.15, 308.0):
        made = moles(14.696, low * 0.80, 293.15)
        theirs = brentq(lambda p: moles(p, high * 0.85, warm) - made, 1.0, 500.0)  # noqa: B023
        ours = compression.interstage_from_cylinders(14.696, low, high, 293.15, warm)
        yield ours, theirs


def swept() -> Iterator[Case]:
    for bore, stroke, count, rpm in ((4.0, 3.5, 1, 900), (5.25, 3.5, 2, 800)):
        area, _ = quad(lambda r: 2 * math.pi * r, 0.0, bore / 2)
        cubic = U.Quantity(area * stroke * count * rpm, "in^3/min")
        metres = si(bore, "inch", "m"), si(stroke, "inch", "m")
        ours = displacement.piston_displacement(*metres, count, rpm / 60)
        yield ours, float(cubic.to("m^3/s").magnitude)


def shares() -> Iterator[Case]:
    for made, of in ((0.700, 0.9351), (15.0, 22.907)):
        theirs = U.Quantity(made, "m^3/min") / U.Quantity(of, "m^3/min")
        yield displacement.measured_efficiency(made, of), float(theirs.magnitude)


def reexpansions() -> Iterator[Case]:
    for share, ratio, n in ((0.05, 7.5, 1.3), (0.04, 3.2, 1.25), (0.1019, 8.4, 1.2)):
        run = solve_ivp(lambda p, v: -v / (n * p), (ratio, 1.0), [share], rtol=1e-10)  # noqa: B023
        left = 1 + share - float(run.y[0][-1])
        yield displacement.clearance_efficiency(share, ratio, n), left


def textbook_pump() -> Iterator[Case]:
    """100 mm by 100 mm, 400 rpm, 80 cm3 of clearance, n 1.2, 0.95 to 8 bar."""
    volume = math.pi / 4 * 0.1**2 * 0.1
    caught = displacement.clearance_efficiency(80e-6 / volume, 8 / 0.95, 1.2)
    ours = displacement.overall_volumetric_efficiency(caught, 0.95e5, 1.013e5, 293.0, 303.0)
    trapped = 80e-6 * (8 / 0.95) ** (1 / 1.2)
    fresh = moles(0.95e5, volume + 80e-6 - trapped, 303.0)
    yield ours * volume, fresh * MOLAR_GAS * 293.0 / 1.013e5


def handbook_power() -> Iterator[Case]:
    yield power.isothermal_power(14.7 * PSI, CFM, 114.7 / 14.7) / HP, 0.132


def isothermal_work() -> Iterator[Case]:
    for ratio in (2.0, 8.0, 14.0):
        work = fluids.isothermal_work_compression(P1=1e5, P2=ratio * 1e5, T=293.15)
        flow = 1e5 / (MOLAR_GAS * 293.15) / 60
        yield power.isothermal_power(1e5, 1 / 60, ratio), work * flow


def handbook_stages() -> Iterator[Case]:
    yield power.compression_power(14.7 * PSI, CFM, 114.7 / 14.7, 2) / HP, 0.153
    yield power.compression_power(14.7 * PSI, CFM, 114.7 / 14.7, 1) / HP, 0.1801


def isentropic_work() -> Iterator[Case]:
    flow = 1e5 / (MOLAR_GAS * 293.15) / 60
    for ratio, n, stages in ((8.0, 1.4, 1), (11.0, 1.3, 2)):
        work = fluids.isentropic_work_compression(
            T1=293.15, k=n, P1=1e5, P2=ratio ** (1 / stages) * 1e5, eta=1.0
        )
        ours = power.compression_power(1e5, 1 / 60, ratio, stages, n)
        yield ours, stages * work * flow


def real_power() -> Iterator[Case]:
    entropy = PropsSI("S", "T", 293.15, "P", 1e5, "Air")
    rise = PropsSI("H", "S", entropy, "P", 8e5, "Air") - PropsSI("H", "T", 293.15, "P", 1e5, "Air")
    flow = PropsSI("D", "T", 293.15, "P", 1e5, "Air") / 60
    yield power.compression_power(1e5, 1 / 60, 8.0), rise * flow


def shafts() -> Iterator[Case]:
    for taken, motor, belt in ((7000.0, 0.88, 0.96), (10_500.0, 0.91, 0.95)):
        after_motor = taken - taken * (1 - motor)
        yield power.pump_shaft_power(taken, motor, belt), after_motor - after_motor * (1 - belt)


def specific() -> Iterator[Case]:
    for taken, made in (((7.0, "kW"), (0.85, "m^3/min")), ((10.5, "kW"), (42.0, "ft^3/min"))):
        theirs = (U.Quantity(*taken) / U.Quantity(*made)).to("J/m^3").magnitude
        ours = power.power_per_flow(si(*taken, "W"), si(*made, "m^3/s"))
        yield ours, float(theirs)


def overall() -> Iterator[Case]:
    entropy = PropsSI("S", "T", 293.15, "P", 1e5, "Air")
    work = 0.0
    for _ in range(2):
        entropy = PropsSI("S", "T", 293.15, "P", 1e5, "Air")
        end = PropsSI("H", "S", entropy, "P", 3e5, "Air")
        work += end - PropsSI("H", "T", 293.15, "P", 1e5, "Air")
    flow = PropsSI("D", "T", 293.15, "P", 1e5, "Air") * 0.85 / 60
    ideal = power.compression_power(1e5, 0.85 / 60, 9.0, 2)
    shaft = 7000.0 * 0.88 * 0.96
    yield power.compression_efficiency(ideal, shaft), work * flow / shaft


PROOFS = [
    Proof("stage_temperature", "dT/T = (n-1)/n dp/p by scipy solve_ivp", polytropes, 1e-6),
    Proof("stage_temperature_by_efficiency", "CoolProp real air, in kelvin", real_stages, 1.5e-2),
    Proof("air_from_skin", "pint, 27 °F", skins, 1e-9),
    Proof("interstage_equal_work", "Machinery's Handbook table, psig", handbook_interstage, 5e-3),
    Proof("interstage_equal_work", "scipy minimize_scalar", even_stages, 1e-6),
    Proof("interstage_warm", "scipy minimize_scalar", warm_stages, 1e-6),
    Proof("interstage_from_cylinders", "equal moles by scipy brentq", cylinders, 1e-9),
    Proof("piston_displacement", "pint and an integral over the bore", swept, 1e-9),
    Proof("measured_efficiency", "pint", shares, 1e-9),
    Proof("clearance_efficiency", "re-expansion by scipy solve_ivp", reexpansions, 1e-6),
    Proof("overall_volumetric_efficiency", "textbook pump, by moles", textbook_pump, 1e-9),
    Proof("isothermal_power", "Machinery's Handbook, 0.132 hp", handbook_power, 3e-3),
    Proof("isothermal_power", "fluids isothermal_work_compression", isothermal_work, 1e-6),
    Proof("compression_power", "Machinery's Handbook, k 1.406", handbook_stages, 5e-3),
    Proof("compression_power", "fluids isentropic_work_compression", isentropic_work, 1e-6),
    Proof("compression_power", "CoolProp real air", real_power, 1e-3),
    Proof("pump_shaft_power", "losses taken off one by one", shafts, 1e-9),
    Proof("power_per_flow", "pint", specific, 1e-9),
    Proof("compression_efficiency", "CoolProp real air, two stages", overall, 1e-3),
]
