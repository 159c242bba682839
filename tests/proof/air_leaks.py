"""Leaks against a choked leak stepped in time, fluids' nozzle sizing and pint."""

from __future__ import annotations

import math
from collections.abc import Iterator

import fluids
import numpy
from scipy.integrate import solve_ivp

from tests.proof.model import Proof
from tests.tank import ATM, CFM, GAL, MOLAR_GAS, PSI, Case
from tests.units import UNITS as U
from wizard.calc import leak, leak_hole

HOLDS = (
    (50.0, 100.0, 50.0, 10.0, 22.338),
    (11.0, 120.0, 110.0, 25.0, 0.31101),
)


def sourcebook() -> Iterator[Case]:
    """The sourcebook's own units: ft3, psi, minutes, with its factor of 1.25."""
    for cubic, start, end, minutes, _ in HOLDS:
        cfm = U.Quantity(cubic * (start - end) / (minutes * 14.7) * 1.25, "ft^3/min")
        metres = float(U.Quantity(cubic, "ft^3").to("m^3").magnitude)
        ours = leak.leak_by_decay(metres, start * PSI, end * PSI, minutes * 60, 14.7 * PSI, 1.25)
        yield ours, float(cfm.to("m^3/s").magnitude)


def choked() -> Iterator[Case]:
    """A tank that leaks in proportion to its absolute pressure, stepped in time."""
    for volume, start, flow in ((0.5, 801_325.0, 0.0012), (1.4, 790_000.0, 0.01)):
        share = flow / start
        run = solve_ivp(
            lambda _, p: -share * p * ATM / volume,  # noqa: B023
            (0.0, 600.0),
            [start],
            rtol=1e-11,
        )
        end = float(run.y[0][-1])
        yield leak.leak_choked(volume, start, end, 600.0, ATM), flow


def cooling() -> Iterator[Case]:
    for volume, start, end, warm, cold, time, room in (
        (0.30, 901_325.0, 886_325.0, 303.15, 297.15, 1800.0, 297.15),
        (80 * GAL, 164.696 * PSI, 160.696 * PSI, 308.15, 305.37, 1200.0, 295.0),
        (0.27, 1_101_325.0, 1_001_325.0, 308.15, 308.15, 600.0, 293.15),
    ):
        lost = volume / MOLAR_GAS * (start / warm - end / cold)
        theirs = lost * MOLAR_GAS * room / ATM / time
        yield leak.leak_with_cooling(volume, start, end, warm, cold, time, ATM, room), theirs


def blindness() -> Iterator[Case]:
    """Leak that appears when one end of a tight hold is believed 2 K colder than it is."""
    volume, start, kelvin, time = 0.3, 9e5, 300.0, 1800.0
    moles = volume * start / (MOLAR_GAS * kelvin)
    step = 1e-4
    apparent = (moles - volume * start / (MOLAR_GAS * (kelvin + step))) / step * 2.0
    theirs = apparent * MOLAR_GAS * kelvin / ATM / time
    yield leak.leak_detection(volume, start, kelvin, time, ATM), theirs


def duty_cycle() -> Iterator[Case]:
    """A pump that fills what a steady leak has taken, second by second."""
    for on, off in ((40, 400), (55, 290)):
        states = numpy.tile(numpy.repeat([1.0, 0.0], [on, off]), 5)
        yield leak.leak_by_duty(float(on), float(off)), float(states.mean())


def bills() -> Iterator[Case]:
    for flow, unit, specific, per, hours in (
        (10.0, "ft^3/min", 0.18, "kW/(ft^3/min)", 8000.0),
        (0.10, "m^3/min", 7.5, "kW/(m^3/min)", 4000.0),
    ):
        theirs = U.Quantity(flow, unit) * U.Quantity(specific, per) * U.Quantity(hours, "h")
        ours = leak.leak_energy(
            float(U.Quantity(flow, unit).to("m^3/s").magnitude),
            float(U.Quantity(specific, per).to("J/m^3").magnitude),
            hours * 3600.0,
        )
        yield ours, float(theirs.to("J").magnitude)


def prices() -> Iterator[Case]:
    for kwh, price in ((1575.0, 0.15), (14_400.0, 0.11)):
        energy = U.Quantity(kwh, "kWh").to("J").magnitude
        yield leak.energy_cost(float(energy), price), kwh * price


def nozzle_area(mass: float, pressure: float, kelvin: float, coefficient: float) -> float:
    return float(
        fluids.API520_A_g(
            m=mass, T=kelvin, Z=1.0, MW=28.9647, k=1.4, P1=pressure, P2=ATM, Kd=coefficient
        )
    )


def holes() -> Iterator[Case]:
    for flow, gauge, coefficient in ((5 * CFM, 100 * PSI, 0.65), (2e-4, 10e5, 0.97)):
        mass = flow * ATM * 0.0289647 / (MOLAR_GAS * 293.15)
        area = nozzle_area(mass, gauge + ATM, 293.15, coefficient)
        ours = leak_hole.leak_hole(flow, gauge + ATM, 293.15, ATM, 293.15, coefficient)
        yield ours, math.sqrt(4 * area / math.pi)


def through_holes() -> Iterator[Case]:
    for inch, gauge, coefficient in ((1 / 16, 100 * PSI, 0.97), (1 / 16, 100 * PSI, 0.64)):
        diameter = inch * 0.0254
        unit_area = nozzle_area(1.0, gauge + ATM, 293.15, coefficient)
        mass = math.pi / 4 * diameter**2 / unit_area
        theirs = mass * MOLAR_GAS * 293.15 / (0.0289647 * ATM)
        ours = leak_hole.leak_through_hole(diameter, gauge + ATM, 293.15, ATM, 293.15, coefficient)
        yield ours, theirs


PROOFS = [
    Proof("leak_by_decay", "pint, in the sourcebook's units", sourcebook, 1e-9),
    Proof("leak_choked", "leak stepped in time (scipy solve_ivp)", choked, 1e-6),
    Proof("leak_with_cooling", "counting moles", cooling, 1e-9),
    Proof("leak_detection", "moles with the temperature moved", blindness, 1e-5),
    Proof("leak_by_duty", "numpy, second by second", duty_cycle, 1e-9),
    Proof("leak_energy", "pint", bills, 1e-9),
    Proof("energy_cost", "pint", prices, 1e-9),
    Proof("leak_hole", "fluids API520_A_g", holes, 1e-3),
    Proof("leak_through_hole", "fluids API520_A_g", through_holes, 1e-3),
]
