"""Proof of supply, unbalance, insulation and grounding: published examples, phasors, pint."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterable
from decimal import Decimal

import numpy as np
from scipy.integrate import quad

from tests.proof.model import Proof
from tests.units import UNITS as UREG
from wizard.calc import fault, ground, insulation, supply, unbalance
from wizard.checks.frequency import combined_variation, frequency
from wizard.checks.ground import (
    automatic_disconnection,
    ground_bond,
    ground_fault_trip,
    grounding_conductor,
)
from wizard.checks.insulation import insulation_resistance
from wizard.checks.supply import nominal_pair, supply_voltage, voltage_sag
from wizard.checks.unbalance import current_unbalance, voltage_unbalance

Pairs = Iterable[tuple[float | str, float | str]]
TURN = cmath.exp(2j * math.pi / 3)
MEGOHM = 1e6


def fixed(*pairs: tuple[float | str, float | str]) -> Callable[[], Pairs]:
    """Cases that need no further work."""
    return lambda: pairs


def _sag() -> Pairs:
    """A Thevenin source feeding a load, solved with complex numbers."""
    for source, line, load in ((484.0, 0.3 + 0.2j, 20 + 9j), (241.0, 0.05 + 0.3j, 4 + 3j)):
        running = abs(source * load / (line + load))
        yield supply.sag_ratio(source, running), 1 - abs(load / (line + load))


def _synchronous() -> Pairs:
    """The share by which a four-pole synchronous speed changes."""
    for measured, plate in ((59.1, 60.0), (50.0, 60.0), (60.0, 50.0)):
        speeds = [120 * f / 4 for f in (measured, plate)]
        yield supply.frequency_deviation(measured, plate), speeds[0] / speeds[1] - 1


def _flux() -> Pairs:
    """Peak flux is the integral of half a wave of the voltage, done numerically."""

    def peak(volts: float, hertz: float) -> float:
        wave = quad(lambda t: volts * math.sin(2 * math.pi * hertz * t), 0, 0.5 / hertz)
        return float(wave[0])

    for v, plate, f, plate_f in ((400.0, 460.0, 50.0, 60.0), (230.0, 230.0, 50.0, 60.0)):
        ratio = peak(v, f) / peak(plate, plate_f)
        yield supply.volts_per_hertz(v, plate, f, plate_f), ratio


def _sequence() -> Pairs:
    """Fortescue components of a closed triangle of line voltages."""
    for a, b, c in ((462, 463, 455), (480, 476, 472), (550, 520, 535), (241, 230, 219)):
        along = (a * a + c * c - b * b) / (2 * a)
        ab, ca = complex(a), complex(-along, math.sqrt(c * c - along * along))
        bc = -(ab + ca)
        forward = abs(ab + TURN * bc + TURN**2 * ca)
        backward = abs(ab + TURN**2 * bc + TURN * ca)
        low, high = sorted((forward, backward))
        yield unbalance.negative_sequence((float(a), float(b), float(c))), low / high


def _bond() -> Pairs:
    """Resistivity of annealed copper at 20 °C, 2 % for stranding, area through pint."""
    resistivity = UREG.Quantity(0.017241, "ohm*millimeter**2/meter")
    for awg, mils in ((14, 4110), (12, 6530), (10, 10380), (8, 16510), (6, 26240), (2, 66360)):
        area = mils * math.pi / 4 * UREG.Quantity(1e-3, "inch") ** 2
        length = UREG.Quantity(100, "foot")
        ohm = (1.02 * resistivity * length / area).to("ohm").magnitude
        yield ground.bond_expected(f"{awg} AWG", 30.48), ohm


def _arrhenius() -> Pairs:
    """The exponent is the integral of k / T² from the winding to 40 °C."""
    for megohms, celsius, constant in ((40.0, 60.0, 4230.0), (40.0, 20.0, 1245.0)):
        exponent = quad(lambda t, k=constant: k / t**2, 313.0, celsius + 273.0)[0]
        ours = insulation.insulation_at_40_thermosetting(megohms * MEGOHM, celsius + 273.15)
        yield ours / MEGOHM, megohms * math.exp(exponent)


def _curve() -> Pairs:
    """numpy's interpolation between the points of the printed table."""
    x = [0, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5]
    y = [1, 1, 0.97, 0.95, 0.93, 0.89, 0.85, 0.82, 0.78, 0.76]
    for percent in (0.3, 1.087, 1.75, 2.8037, 3.3, 4.7826, 5.0):
        yield unbalance.unbalance_derating(percent / 100), float(np.interp(percent, x, y))


def _per_unit_fault() -> Pairs:
    """Per-unit by pint: base current over per-unit impedance."""
    for kva, z, volts in ((500, 5.75, 480), (75, 3.0, 480), (1000, 5.75, 400)):
        power, line = UREG.Quantity(kva, "kilovolt_ampere"), UREG.Quantity(volts, "volt")
        base = (power / (math.sqrt(3) * line)).to("ampere").magnitude
        yield fault.transformer_fault_current(kva * 1e3, z / 100, float(volts)), base * 100 / z


def _megohm(*values: float) -> tuple[float, ...]:
    return tuple(v * MEGOHM for v in values)


PROOFS: list[Proof] = [
    Proof(
        "voltage_band",
        "230 V gives 207 V to 253 V, How Precise Are Motor Nameplate Ratings?, 2013",
        lambda: zip(supply.voltage_band(230.0), (207.0, 253.0), strict=True),
    ),
    Proof(
        "voltage_deviation",
        "exact decimal arithmetic",
        lambda: [
            (
                supply.voltage_deviation(float(v), float(p)),
                float((Decimal(v) - Decimal(p)) / Decimal(p)),
            )
            for v, p in (("206.9", "230"), ("441", "460"), ("365", "400"))
        ],
    ),
    Proof("sag_ratio", "complex Thevenin circuit, numpy-free", _sag, 1e-9),
    Proof("frequency_deviation", "synchronous speed 120 f / poles", _synchronous, 1e-9),
    Proof(
        "combined_deviation",
        "5.1 % and 1.6 % make 6.7 %, How Precise Are Motor Nameplate Ratings?, 2013",
        fixed((supply.combined_deviation(-0.051, 0.016), 0.067)),
    ),
    Proof("volts_per_hertz", "peak flux by numerical integration, scipy", _flux, 1e-9),
    Proof(
        "unbalance_of_voltages",
        "462/463/455 V is 1.1 %, 480/476/472 V is 0.84 %: NEMA MG 1-2011 Figure 20-2 and a "
        "published example",
        fixed(
            (unbalance.unbalance_of_voltages((462.0, 463.0, 455.0)).unbalance, 0.011),
            (unbalance.unbalance_of_voltages((480.0, 476.0, 472.0)).unbalance, 0.0084),
        ),
        0.015,
    ),
    Proof(
        "unbalance_of_currents",
        "numpy mean and largest deviation",
        lambda: [
            (
                unbalance.unbalance_of_currents(i).unbalance,
                float(np.max(np.abs(np.array(i) - np.mean(i))) / np.mean(i)),
            )
            for i in ((13.1, 12.2, 14.0), (36.0, 38.0, 37.0))
        ],
        1e-9,
    ),
    Proof("negative_sequence", "complex phasors, Fortescue components", _sequence, 1e-9),
    Proof("unbalance_derating", "numpy.interp over the published points", _curve, 1e-9),
    Proof("bond_expected", "copper resistivity at 20 °C with pint", _bond, 6e-3),
    Proof(
        "bond_expected",
        "IEC 60228 class 2 list of a cable maker, 100 m of 2.5 and 16 mm²",
        fixed(
            (ground.bond_expected("2.5 mm²", 100.0), 0.741),
            (ground.bond_expected("16 mm²", 100.0), 0.115),
        ),
    ),
    Proof(
        "bond_limit",
        "0.1 ohm everyday ceiling of bonding tests, and exact decimal arithmetic above it",
        fixed(
            (ground.bond_limit(0.0), 0.1),
            (ground.bond_limit(0.2), float(Decimal("1.15") * Decimal("0.2") + Decimal("0.05"))),
        ),
    ),
    Proof(
        "ground_size",
        "NEC Table 250.122 as printed: 20 A 12, 60 A 10, 100 A 8, 200 A 6",
        lambda: [(ground.ground_size(a), s) for a, s in ((20, 12), (60, 10), (100, 8), (200, 6))],
    ),
    Proof(
        "ground_area",
        "published upsizing exercise: 50 A, 8 to 2 AWG, 10 AWG becomes 41 721 circular mils",
        fixed((ground.ground_area(10380, 66360, 16510), 41721.0)),
    ),
    Proof(
        "protective_conductor",
        "IEC 60364-5-54 simplified table as printed in a design guide",
        lambda: [
            (ground.protective_conductor(a * 1e-6) * 1e6, s)
            for a, s in ((2.5, 2.5), (16, 16.0), (25, 16.0), (35, 16.0), (70, 35.0))
        ],
    ),
    Proof(
        "ground_fault_current",
        "pint",
        fixed(
            (
                fault.ground_fault_current(277.0, 1.1),
                (UREG.Quantity(277, "volt") / UREG.Quantity(1.1, "ohm")).to("ampere").magnitude,
            )
        ),
    ),
    Proof(
        "transformer_fault_current",
        "500 kVA, 480 V, 5.75 %: 10 452 A, a published fault-current example",
        fixed((fault.transformer_fault_current(500e3, 0.0575, 480.0), 10452.0)),
        1e-3,
    ),
    Proof("transformer_fault_current", "per-unit system with pint", _per_unit_fault, 1e-9),
    Proof(
        "insulation_at_40",
        "200 megohm at 20 °C is 25 megohm at 50 °C, published correction guide",
        fixed(
            (
                insulation.insulation_at_40(200e6, 293.15),
                insulation.insulation_at_40(25e6, 323.15),
            ),
            (insulation.insulation_at_40(200e6, 293.15), 50e6),
        ),
    ),
    Proof(
        "insulation_at_40_thermosetting", "Arrhenius law integrated with scipy", _arrhenius, 1e-9
    ),
    Proof(
        "polarization_index",
        "exact decimal arithmetic",
        fixed((insulation.polarization_index(180e6, 450e6), float(Decimal(450) / Decimal(180)))),
    ),
    Proof(
        "supply_voltage",
        "NEMA MG 1 12.44: 207 V and 253 V pass on 230 V, a volt beyond fails",
        lambda: [
            (supply_voltage(230.0, (v,)).verdict, told)
            for v, told in (
                (207.0, "ADVISORY"),
                (253.0, "ADVISORY"),
                (206.0, "FAIL"),
                (254.0, "FAIL"),
                (230.0, "PASS"),
            )
        ],
    ),
    Proof(
        "nominal_pair",
        "system and motor pairs of a state purchasing specification, and crossed pairs",
        lambda: [
            (nominal_pair(s, m).verdict, told)
            for s, m, told in (
                (120.0, 115.0, "PASS"),
                (208.0, 200.0, "PASS"),
                (240.0, 230.0, "PASS"),
                (480.0, 460.0, "PASS"),
                (240.0, 200.0, "FAIL"),
                (208.0, 230.0, "FAIL"),
            )
        ],
    ),
    Proof(
        "voltage_sag",
        "voltage of a complex Thevenin circuit on either side of 5 %",
        lambda: [
            (voltage_sag(480.0, (abs(480 * z / (z + 1.0)),)).verdict, told)
            for z, told in ((60 + 0j, "PASS"), (25 + 0j, "ADVISORY"), (15 + 0j, "FAIL"))
        ],
    ),
    Proof(
        "frequency",
        "NEMA MG 1 12.44: 57 Hz and 63 Hz are the ends on a 60 Hz plate",
        lambda: [
            (frequency(60.0, f).verdict, told)
            for f, told in (
                (57.1, "ADVISORY"),
                (62.9, "ADVISORY"),
                (56.9, "FAIL"),
                (50.0, "FAIL"),
                (60.0, "PASS"),
            )
        ],
    ),
    Proof(
        "combined_variation",
        "published example: 5.1 % low volts and 1.6 % high frequency pass; 8 and 3 % do not",
        lambda: [
            (combined_variation(460.0, (460 * 0.949,), 60.0, 60.96).verdict, "PASS"),
            (combined_variation(460.0, (460 * 1.08,), 60.0, 58.2).verdict, "FAIL"),
        ],
    ),
    Proof(
        "voltage_unbalance",
        "NEMA MG 1: derate above 1 % (462/463/455 V), none at 0.84 %; never above 5 %",
        lambda: [
            (voltage_unbalance(v).verdict, told)
            for v, told in (
                ((462.0, 463.0, 455.0), "FAIL"),
                ((480.0, 476.0, 472.0), "PASS"),
                ((248.0, 230.0, 218.0), "FAIL"),
            )
        ],
    ),
    Proof(
        "current_unbalance",
        "published field report: 17 % current unbalance is not acceptable, 2.7 % of the US energy "
        "department's motor example is",
        lambda: [
            (current_unbalance((36.0, 38.0, 37.0), 40.0).verdict, "PASS"),
            (current_unbalance((37.0, 37.0 * 1.17, 37.0 * 0.83), 40.0).verdict, "FAIL"),
        ],
    ),
    Proof(
        "grounding_conductor",
        "NEC Table 250.122 as printed; published upsizing exercise (4 AWG for 2 AWG phases)",
        lambda: [
            (grounding_conductor("12 AWG", "12 AWG", 20.0).verdict, "PASS"),
            (grounding_conductor("14 AWG", "12 AWG", 20.0).verdict, "FAIL"),
            (grounding_conductor("4 AWG", "2 AWG", 50.0, 8.0).verdict, "PASS"),
            (grounding_conductor("6 AWG", "2 AWG", 50.0, 8.0).verdict, "FAIL"),
            (grounding_conductor("16 mm²", "35 mm²").verdict, "PASS"),
            (grounding_conductor("10 mm²", "16 mm²").verdict, "FAIL"),
        ],
    ),
    Proof(
        "ground_bond",
        "resistance of the copper itself passes, ten times it does not",
        lambda: [
            (ground_bond(ohm * k, f"{awg} AWG", 30.48).verdict, told)
            for awg, ohm in ((14, 0.2582), (10, 0.1022))
            for k, told in ((1.0, "PASS"), (10.0, "FAIL"))
        ],
    ),
    Proof(
        "ground_fault_trip",
        "five times the rating by Ohm's law with pint",
        lambda: [
            (ground_fault_trip(120.0, 20.0, r).verdict, "PASS" if 120 / r >= 100 else "ADVISORY")
            for r in (0.5, 1.2, 1.3)
        ],
    ),
    Proof(
        "automatic_disconnection",
        "published maximum loop impedance of a 32 A curve C breaker, 0.72 ohm at 230 V (320 A)",
        lambda: [
            (automatic_disconnection(z, 230.0, 320.0).verdict, told)
            for z, told in ((0.71, "PASS"), (0.73, "FAIL"))
        ],
    ),
    Proof(
        "insulation_resistance",
        "IEEE 43 minimum of 5 megohm at 40 °C; 25 megohm at 50 °C is the published 50",
        lambda: (
            [
                (insulation_resistance(_megohm(r), 313.15).verdict, told)
                for r, told in ((4.9, "FAIL"), (5.0, "ADVISORY"), (100.0, "PASS"), (0.9, "FAIL"))
            ]
            + [
                (insulation_resistance(_megohm(25), 323.15).results["lowest"], 50e6),
            ]
        ),
    ),
]
