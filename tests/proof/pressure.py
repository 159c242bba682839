"""Relief valve, stored energy, switch and receiver against libraries and published rules."""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from math import sqrt

import fluids
import numpy
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

from tests.proof.model import Proof
from tests.units import UNITS as U
from tests.units import PropsSI
from wizard.calc import (
    first_start,
    pressure_switch,
    receiver_papers,
    relief,
    relief_orifice,
    stored_energy,
)

Case = tuple[float | str, float | str]
PSI = float(U.Quantity(1.0, "psi").to("Pa").magnitude)
CFM = float(U.Quantity(1.0, "ft^3/min").to("m^3/s").magnitude)
GAL = float(U.Quantity(1.0, "gallon").to("m^3").magnitude)
ATM = 101_325.0
TANKS = ((175 * PSI, 80 * GAL), (125 * PSI, 30 * GAL), (11e5, 0.5), (8e5, 0.024))


def ug_125() -> Iterator[Case]:
    for psi in (25, 29, 30, 31, 165, 200):
        one = max(Fraction(psi) * Fraction(11, 10), Fraction(psi + 3))
        many = max(Fraction(psi) * Fraction(116, 100), Fraction(psi + 4))
        yield relief.relieving_pressure(psi * PSI, ATM), float(one) * PSI + ATM
        yield relief.relieving_pressure(psi * PSI, ATM, True), float(many) * PSI + ATM


def strokes() -> Iterator[Case]:
    for rated, highest in ((900, 1050), (800, 800), (1050, 900)):
        turns = numpy.arange(0.0, highest, 1.0).size
        yield relief.delivery_at_speed(0.02, rated / 60, highest / 60), turns * 0.02 / rated


def margins() -> Iterator[Case]:
    for stamp, needed in ((60, 52.847), (86, 85.237), (75, 76.004)):
        ratio = U.Quantity(stamp, "ft^3/min") / U.Quantity(needed, "ft^3/min")
        yield relief.relief_margin(stamp * CFM, needed * CFM), float(ratio.magnitude)


def air_mass() -> Iterator[Case]:
    for rate in (1.0, 73.5 / 3600, 0.05):
        density = PropsSI("D", "T", 288.15, "P", ATM, "Air")
        yield relief.flow_of_air_mass(rate), rate / density


def operating() -> Iterator[Case]:
    for setting, cut_out in ((200, 175), (165, 150), (150, 145), (150, 155)):
        got = relief.margin_below_relief(setting * PSI, cut_out * PSI)
        yield got.share, float(Fraction(setting - cut_out, setting))
        yield got.difference, float(U.Quantity(setting - cut_out, "psi").to("Pa").magnitude)


def lifts() -> Iterator[Case]:
    for setting in (200, 165, 11):
        yield relief.lift_pressure(setting * PSI), float(Fraction(3, 4) * setting) * PSI


def api_constant() -> Iterator[Case]:
    for k in (1.11, 1.3, 1.4, 1.66):
        ours = relief_orifice.critical_flow_constant(k)
        yield ours / 520.0, fluids.API520_C(k) / 0.03948


def critical() -> Iterator[Case]:
    for k in (1.1, 1.3, 1.4):
        yield relief_orifice.critical_pressure_ratio(k), fluids.P_critical_flow(1.0, k)


def api_area() -> Iterator[Case]:
    """The area that the library asks for our flow is the area we started from."""
    for area, p0, t0 in ((7.1e-5, 1.6e6, 288.7), (1e-4, 8e5, 293.15), (2e-5, 5e5, 330.0)):
        flow = relief_orifice.orifice_mass_flow(area, p0, t0, 0.975)
        needed = fluids.API520_A_g(m=flow, T=t0, Z=1.0, MW=28.9647, k=1.4, P1=p0, Kd=0.975)
        yield area, needed


def real_air() -> Iterator[Case]:
    """Largest mass flux of real air that expands isentropically."""
    for p0, t0 in ((8e5, 293.15), (16e5, 293.15)):
        enthalpy = PropsSI("H", "P", p0, "T", t0, "Air")
        entropy = PropsSI("S", "P", p0, "T", t0, "Air")

        def flux(p: float, enthalpy: float = enthalpy, entropy: float = entropy) -> float:
            h = PropsSI("H", "P", p, "S", entropy, "Air")
            d = PropsSI("D", "P", p, "S", entropy, "Air")
            return -float(d * sqrt(max(2 * (enthalpy - h), 0.0)))

        best = minimize_scalar(flux, bounds=(0.3 * p0, 0.8 * p0), method="bounded")
        yield relief_orifice.orifice_mass_flow(1.0, p0, t0), -float(best.fun)


def scfm() -> Iterator[Case]:
    for area, setting, kd in ((0.110, 200, 0.975), (0.110, 200, 0.8775), (0.11045, 165, 0.878)):
        square = float(U.Quantity(area, "in^2").to("m^2").magnitude)
        p1, t = (1.1 * setting) * PSI + ATM, 519.67 / 1.8
        volume = relief_orifice.orifice_capacity(square, p1, t, kd)
        mass = volume * 14.7 * PSI / (287.05287 * t)
        yield square, fluids.API520_A_g(m=mass, T=t, Z=1.0, MW=28.9647, k=1.4, P1=p1, Kd=kd)


def hand_stops() -> Iterator[Case]:
    """The highest quarter psi that is at most 5 over the cut-out and 5 under the relief set."""
    for cut_out, setting in ((175, 200), (150, 165), (145, 150), (100, 101)):
        grid = numpy.arange(0.0, 300.0, 0.25)
        allowed = grid[(grid <= cut_out + 5) & (grid <= setting - 5)]
        yield first_start.hand_stop_pressure(cut_out * PSI, setting * PSI), allowed.max() * PSI


def expansion_work() -> Iterator[Case]:
    for gauge, volume in TANKS:
        p = gauge + ATM
        end = volume * (p / ATM) ** (1 / 1.4)
        work, _ = quad(lambda v, p=p, v0=volume: p * (v0 / v) ** 1.4, volume, end)
        yield stored_energy.stored_energy_isentropic(gauge, volume), work


def real_expansion() -> Iterator[Case]:
    for gauge, volume in TANKS[:3]:
        p = gauge + ATM
        mass = volume * PropsSI("D", "P", p, "T", 293.15, "Air")
        entropy = PropsSI("S", "P", p, "T", 293.15, "Air")
        u1 = PropsSI("U", "P", p, "T", 293.15, "Air")
        u2 = PropsSI("U", "P", ATM, "S", entropy, "Air")
        yield stored_energy.stored_energy_isentropic(gauge, volume), mass * (u1 - u2)


def us_form() -> Iterator[Case]:
    """E = 360 P V (1 - (Pa/P)^0.286) in ft-lbf, psia and ft3, as printed for US units."""
    for gauge, volume in TANKS:
        psia, ambient = (gauge + ATM) / PSI, ATM / PSI
        cubic_feet = float(U.Quantity(volume, "m^3").to("ft^3").magnitude)
        foot_pounds = 360 * psia * cubic_feet * (1 - (ambient / psia) ** 0.286)
        joule = float(U.Quantity(foot_pounds, "foot*pound_force").to("J").magnitude)
        yield stored_energy.stored_energy_pcc2(gauge, volume), joule


def heating() -> Iterator[Case]:
    """Heat that brings the air of the tank from ambient to tank pressure at constant volume."""
    for gauge, volume in TANKS:
        heat, _ = quad(lambda _, v=volume: v / 0.4, ATM, ATM + gauge)
        yield stored_energy.stored_energy_brode(gauge, volume), heat


def tnt() -> Iterator[Case]:
    for joule in (129.84e3, 513.75e3, 761.33e3):
        yield stored_energy.tnt_equivalent(joule), joule / 4266920


def cars() -> Iterator[Case]:
    for joule in (129.84e3, 513.75e3):
        speed = brentq(lambda v, e=joule: 0.5 * 1500 * v * v - e, 0.1, 1000)
        yield stored_energy.car_speed(joule), speed


def distances() -> Iterator[Case]:
    for joule, least in ((5e5, 30.0), (135.5e6, 30.0), (135.6e6, 60.0), (271e6, 60.0), (3e8, 0.0)):
        scaled = 20 * (2 * joule / 4266920) ** (1 / 3)
        yield stored_energy.proof_test_distance(joule), max(least, scaled)


def spreads() -> Iterator[Case]:
    for readings in ((174.0, 176.0, 175.0), (120.0, 120.0, 126.0), (8.1, 8.0, 8.25)):
        got = pressure_switch.cut_out_spread(readings)
        yield got.mean, statistics.fmean(readings)
        yield got.spread, float(numpy.ptp(readings))
        yield got.share, float(numpy.ptp(readings) / numpy.mean(readings))
        yield got.highest, sorted(readings)[-1]


def bands() -> Iterator[Case]:
    for high, low in ((175, 140), (10, 8), (150, 149)):
        difference = U.Quantity(high, "psi") - U.Quantity(low, "psi")
        ours = pressure_switch.switch_band(high * PSI, low * PSI)
        yield ours, float(difference.to("Pa").magnitude)


def allowances() -> Iterator[Case]:
    for psi in (100, 149, 150, 151, 200):
        larger = max(Fraction(3), Fraction(2 * psi, 100))
        yield pressure_switch.spread_allowance(psi * PSI), float(larger) * PSI


def gauge_errors() -> Iterator[Case]:
    for panel, test in ((168, 175), (180, 175), (175, 175)):
        yield pressure_switch.gauge_error(panel, test), float(Fraction(panel - test, test))


def products() -> Iterator[Case]:
    for bar, litre in ((10, 270), (8, 24), (11, 500)):
        product = U.Quantity(bar, "bar") * U.Quantity(litre, "L")
        ours = receiver_papers.pressure_volume(bar * 1e5, litre / 1e3)
        yield ours, float(product.to("J").magnitude)


def proofs_by_water() -> Iterator[Case]:
    rules = {
        "ASME VIII-1 from the 1999 addenda": Fraction(13, 10),
        "ASME VIII-1 before the 1999 addenda": Fraction(3, 2),
        "simple pressure vessel": Fraction(3, 2),
    }
    for rule, factor in rules.items():
        yield receiver_papers.hydrostatic_proof_pressure(200.0, rule), float(200 * factor)


def inspections() -> Iterator[Case]:
    for last, months, today in (
        (date(2021, 3, 1), 60, date(2026, 2, 27)),
        (date(2020, 2, 28), 36, date(2023, 6, 1)),
        (date(2024, 12, 5), 2, date(2024, 12, 5)),
    ):
        month = numpy.datetime64(last.strftime("%Y-%m")) + numpy.timedelta64(months, "M")
        due = month.astype("datetime64[D]") + numpy.timedelta64(last.day - 1, "D")
        days = int((due - numpy.datetime64(today)).astype(int))
        yield receiver_papers.inspection_time_left(last, months, today), days * 86400.0


PROOFS = [
    Proof("relieving_pressure", "ASME VIII-1 UG-125(c), exact fractions", ug_125, 1e-9),
    Proof("delivery_at_speed", "strokes counted one by one", strokes, 1e-9),
    Proof("relief_margin", "pint", margins, 1e-9),
    Proof("flow_of_air_mass", "CoolProp density of air", air_mass, 1e-3),
    Proof("margin_below_relief", "exact fractions and pint", operating, 1e-9),
    Proof("lift_pressure", "8 CCR 465(b)(3)(A), exact fractions", lifts, 1e-9),
    Proof("critical_flow_constant", "fluids.API520_C, SI constant 0.03948", api_constant, 1e-9),
    Proof("critical_pressure_ratio", "fluids.P_critical_flow", critical, 1e-9),
    Proof("orifice_mass_flow", "fluids.API520_A_g (rounded constants)", api_area, 1e-3),
    Proof("orifice_mass_flow", "CoolProp real air, largest isentropic flux", real_air, 0.02),
    Proof("orifice_capacity", "fluids.API520_A_g (rounded constants)", scfm, 1e-3),
    Proof("hand_stop_pressure", "search of a quarter-psi grid", hand_stops, 1e-9),
    Proof("stored_energy_isentropic", "scipy quad of p dV", expansion_work, 1e-6),
    Proof("stored_energy_isentropic", "CoolProp real air at 20 °C", real_expansion, 0.015),
    Proof("stored_energy_pcc2", "ASME PCC-2 equation in US units, pint", us_form, 1e-6),
    Proof("stored_energy_brode", "scipy quad of the heat at constant volume", heating, 1e-6),
    Proof("tnt_equivalent", "ASME PCC-2 Appendix 501-II, 4266920 J/kg", tnt, 1e-9),
    Proof("car_speed", "scipy root of m v²/2 = E", cars, 1e-9),
    Proof("proof_test_distance", "ASME PCC-2 Appendix 501-III steps and equation", distances, 1e-9),
    Proof("cut_out_spread", "statistics and numpy", spreads, 1e-9),
    Proof("switch_band", "pint", bands, 1e-9),
    Proof("spread_allowance", "exact fractions", allowances, 1e-9),
    Proof("gauge_error", "exact fractions", gauge_errors, 1e-9),
    Proof("pressure_volume", "pint, bar times litre", products, 1e-9),
    Proof("hydrostatic_proof_pressure", "ASME VIII-1 UG-99 factors", proofs_by_water, 1e-9),
    Proof("inspection_time_left", "numpy calendar", inspections, 1e-9),
]
