"""Proof of the motor circuit: code tables, exam answers, phasors, wave forms."""

from __future__ import annotations

import cmath
import math
from decimal import Decimal

from tests.proof.electrical import Pairs, fixed
from tests.proof.model import Proof
from tests.units import UNITS as UREG
from wizard.calc import conductor, motor_circuit, overload, terminal, voltage_drop
from wizard.checks.conductor import conductor_capacity, conductor_size
from wizard.checks.motor_circuit import (
    disconnect_distance,
    disconnect_rating,
    fault_current_rating,
    overcurrent_device,
    table_current,
)
from wizard.checks.overload import overload_elements, overload_setting, thermal_protector
from wizard.checks.terminal import terminal_torque
from wizard.checks.voltage_drop import voltage_drop as drop_check

HP = 745.69987158227
KFT = 304.8
FT = 0.3048
BREAKER, DUAL, PLAIN = motor_circuit.DEVICES[:3]
WARM = 303.15


def _rotated() -> Pairs:
    """The part of Z I in line with the receiving voltage, by complex numbers."""
    table = {
        "14 AWG": (3.1, 0.073),
        "10 AWG": (1.2, 0.063),
        "8 AWG": (0.78, 0.065),
        "2 AWG": (0.20, 0.057),
    }
    for size, (r, x) in table.items():
        for factor in (0.4, 0.85, 1.0):
            rotated = complex(r, x) * cmath.exp(-1j * math.acos(factor))
            yield voltage_drop.effective_impedance(size, factor) * KFT, rotated.real


def _printed() -> Pairs:
    """The printed effective Z at 0.85, rounded to two figures, steel conduit."""
    for size, z in (("12 AWG", 1.7), ("8 AWG", 0.70), ("6 AWG", 0.45), ("4 AWG", 0.30)):
        yield voltage_drop.effective_impedance(size) * KFT, z


def _exact_drop() -> Pairs:
    """Sending minus receiving voltage of a full phasor solution where angles agree."""
    for r, x, amperes, feet in ((0.78, 0.065, 28.0, 120.0), (1.2, 0.063, 14.0, 300.0)):
        z = complex(r, x) / KFT
        volts, angle = 230 / math.sqrt(3), cmath.phase(z)
        length = feet * FT
        sending = abs(volts + amperes * cmath.exp(-1j * angle) * z * length)
        ours = voltage_drop.line_drop(amperes, abs(z), length)
        yield ours, (sending - volts) * math.sqrt(3)


def _direct_current() -> Pairs:
    """The same run with the direct-current resistance of NEC Chapter 9 Table 8."""
    for size, ohm in (("12 AWG", 1.98), ("10 AWG", 1.24), ("8 AWG", 0.778)):
        ours = voltage_drop.copper_constant_drop(22.0, 75 * FT, size, "single")
        yield ours, 2 * 22.0 * ohm * 75 / 1000


def _table() -> Pairs:
    """Cells of NEC Tables 430.248 and 430.250 as they stand in published copies."""
    for hp, phases, volts, amperes in (
        (5, "three", 230, 15.2), (7.5, "three", 230, 22.0), (10, "three", 460, 14.0),
        (25, "three", 460, 34.0), (30, "three", 208, 88.0), (2, "three", 575, 2.7),
        (5, "single", 230, 28.0), (3, "single", 115, 34.0), (10, "three", 230, 28.0),
    ):  # fmt: skip
        yield motor_circuit.full_load_current(hp * HP, phases, float(volts)), amperes


def _device(amperes: float, kind: str) -> float:
    return motor_circuit.short_circuit_device(amperes, kind).basic_rating


def _leg(line: float) -> float:
    """The current of a delta leg from its line currents."""
    return abs(line * (1 - cmath.exp(-2j * math.pi / 3)) / 3)


PROOFS: list[Proof] = [
    Proof("full_load_current", "NEC Tables 430.248 and 430.250, published copies", _table),
    Proof(
        "short_circuit_device",
        "published answers: 34 A breaker 90, dual-element 60, plain fuse 110 A; 22 A breaker 60 A; "
        "28 A breaker 70 A",
        fixed(
            (_device(34.0, BREAKER), 90.0),
            (_device(34.0, DUAL), 60.0),
            (_device(34.0, PLAIN), 110.0),
            (_device(22.0, BREAKER), 60.0),
            (_device(28.0, BREAKER), 70.0),
        ),
    ),
    Proof(
        "disconnect_minimum",
        "a published table of heaters and switches at 115 %: 22 A 25.3, 28 A 32.2, 68 A 78.2",
        lambda: [
            (motor_circuit.disconnect_minimum(i), a)
            for i, a in ((22.0, 25.3), (28.0, 32.2), (68.0, 78.2))
        ],
    ),
    Proof(
        "overload_trip",
        "published answers: 32 A gives 40.0 A, ceilings 24 A 33.6 A and 17 A 22.1 A",
        fixed(
            (overload.overload_trip(32.0, 1.15).basic, 40.0),
            (overload.overload_trip(24.0, 1.15).ceiling, 33.6),
            (overload.overload_trip(17.0).ceiling, 22.1),
        ),
    ),
    Proof(
        "overload_trip",
        "complex phasors: the current of a delta leg from its three line currents",
        lambda: [
            (
                overload.overload_trip(27.0, in_delta=True).basic,
                1.15 * _leg(27.0),
            )
        ],
        1e-9,
    ),
    Proof(
        "overload_dial",
        "complex phasors: the current of a delta leg, and a mark of the dial about it",
        lambda: [
            (overload.overload_dial(27.0, 0.05, 0.05, True).least, 0.95 * _leg(27.0)),
            (overload.overload_dial(27.0, 0.05, 0.12, True).most, 1.12 * _leg(27.0)),
            (overload.overload_dial(14.3, 0.05, 0.05).most, 14.3 + 14.3 / 20),
        ],
        1e-9,
    ),
    Proof(
        "thermal_protector_limit",
        "NEC 430.32(A)(2) text: 170, 156 and 140 %",
        lambda: [
            (overload.thermal_protector_limit(float(i)), float(Decimal(i) * Decimal(p) / 100))
            for i, p in (("9", "170"), ("9.1", "156"), ("20", "156"), ("20.1", "140"))
        ],
    ),
    Proof(
        "required_ampacity",
        "published answers: 22 A needs 27.5 A, 28 A needs 35 A, 34 A needs 42.5 A",
        lambda: [
            (conductor.required_ampacity(i), a)
            for i, a in ((22.0, 27.5), (28.0, 35.0), (34.0, 42.5))
        ],
    ),
    Proof(
        "usable_ampacity",
        "2023 NEC guide: 12 AWG at 75 °C in 40 °C carries 22 A",
        fixed((conductor.usable_ampacity("12 AWG", "75 °C", "75 °C", 313.15).corrected, 22.0)),
    ),
    Proof(
        "minimum_conductor",
        "published answers: 22 A takes 10 AWG at 60 °C terminals, 28 A takes 10 AWG at 75 °C",
        fixed(
            (conductor.minimum_conductor(22.0, "60 °C", "60 °C", 303.15), 10.0),
            (conductor.minimum_conductor(28.0, "75 °C", "75 °C", 303.15), 10.0),
        ),
    ),
    Proof(
        "capacity_ratio",
        "exact decimal arithmetic",
        fixed((conductor.capacity_ratio(31.0, 24.8), float(Decimal("31") / Decimal("24.8")))),
    ),
    Proof("effective_impedance", "complex phasors", _rotated, 1e-9),
    Proof("effective_impedance", "NEC Chapter 9 Table 9 printed column", _printed, 0.05),
    Proof(
        "line_drop",
        "published examples: 7.62 V (10 AWG) and 11.8 V (12 AWG) at 20 A, 200 ft, 480 V",
        fixed(
            (voltage_drop.line_drop(20.0, 1.1 / KFT, 200 * FT), 7.62),
            (voltage_drop.line_drop(20.0, 1.7 / KFT, 200 * FT), 11.8),
        ),
        2e-3,
    ),
    Proof("line_drop", "full phasor solution of the run", _exact_drop, 1e-9),
    Proof("copper_constant_drop", "NEC Chapter 9 Table 8 resistance", _direct_current, 7e-3),
    Proof(
        "drop_share",
        "published example: 7.7 V of 480 V is 1.6 %",
        fixed((voltage_drop.drop_share(7.7, 480.0), 0.016)),
        5e-3,
    ),
    Proof(
        "terminal_target",
        "UL 486A-486B and NEC Annex I as printed, in N·m: 35 lbf·in, 275 lbf·in, 120 lbf·in; pint",
        lambda: [
            (
                terminal.terminal_target(screw, size),
                UREG.Quantity(torque, "force_pound*inch").to("newton*meter").magnitude,
            )
            for screw, size, torque in (
                ("slotted, larger slot", "10 AWG", 35),
                ("hex head, split-bolt", "2 AWG", 275),
                ("socket 3/16 in", "2 AWG", 120),
            )
        ],
        1e-9,
    ),
    Proof(
        "torque_deviation",
        "pint: 3.0 N·m on 35 lbf·in",
        lambda: [
            (
                terminal.torque_deviation(
                    3.0, terminal.terminal_target("slotted, larger slot", "10 AWG")
                ),
                3.0 / UREG.Quantity(35, "force_pound*inch").to("newton*meter").magnitude - 1,
            )
        ],
        1e-9,
    ),
    Proof(
        "table_current",
        "NEC 430.6(A): 10 hp at 460 V sizes on 14 A whatever an efficient plate says",
        fixed((table_current(10 * HP, "three", 460.0, 12.2).results["current"], 14.0)),
    ),
    Proof(
        "overcurrent_device",
        "published answers for 34 A: 90 A breaker at most, 125 A after a failed start",
        lambda: [
            (overcurrent_device(34.0, BREAKER, r, failed).verdict, told)
            for r, failed, told in (
                (90.0, "none recorded", "PASS"),
                (100.0, "none recorded", "FAIL"),
                (125.0, "recorded", "PASS"),
                (150.0, "recorded", "FAIL"),
            )
        ],
    ),
    Proof(
        "disconnect_rating",
        "NEC 430.110: 115 % of 28 A is 32.2 A, so 30 A fails and 60 A passes",
        fixed(
            (disconnect_rating(30.0, 28.0).verdict, "FAIL"),
            (disconnect_rating(60.0, 28.0).verdict, "PASS"),
        ),
    ),
    Proof(
        "disconnect_distance",
        "NEC Article 100: in sight is not more than 50 ft, pint",
        lambda: [
            (disconnect_distance(UREG.Quantity(ft, "foot").to("meter").magnitude).verdict, told)
            for ft, told in ((50, "PASS"), (51, "FAIL"))
        ],
    ),
    Proof(
        "fault_current_rating",
        "published 10.45 kA of 500 kVA at 5.75 %: 10 kA fails, 14 kA passes",
        lambda: [
            (fault_current_rating(r, None, 500e3, 0.0575, 480.0).verdict, told)
            for r, told in ((10e3, "FAIL"), (14e3, "PASS"))
        ],
    ),
    Proof(
        "overload_setting",
        "published answer for 32 A, service factor 1.15: 40 A passes, 45 A is above the ceiling",
        lambda: [
            (overload_setting(32.0, s, "trip current", 1.15).verdict, told)
            for s, told in ((40.0, "PASS"), (41.0, "FAIL"), (45.0, "FAIL"))
        ],
    ),
    Proof(
        "overload_elements",
        "NEC Table 430.37: three units for three phases, one for one",
        fixed(
            (overload_elements(3, "three").verdict, "PASS"),
            (overload_elements(2, "three").verdict, "FAIL"),
            (overload_elements(1, "single").verdict, "PASS"),
        ),
    ),
    Proof(
        "thermal_protector",
        "NEC 430.32(A)(2) text: 28 A at most 39.2 A",
        fixed(
            (thermal_protector(28.0, 39.2).verdict, "PASS"),
            (thermal_protector(28.0, 39.3).verdict, "FAIL"),
        ),
    ),
    Proof(
        "conductor_size",
        "published answers: 28 A on 10 AWG at 75 °C passes, at 60 °C terminals it does not",
        fixed(
            (conductor_size(28.0, "10 AWG", "75 °C", "75 °C", WARM).verdict, "PASS"),
            (conductor_size(28.0, "12 AWG", "75 °C", "75 °C", WARM).verdict, "FAIL"),
            (conductor_size(28.0, "10 AWG", "75 °C", "60 °C", WARM).verdict, "FAIL"),
        ),
    ),
    Proof(
        "conductor_capacity",
        "IEC 60364-4-43 433.1: Ib not above In not above Iz",
        fixed(
            (conductor_capacity(32.0, 24.0, 32.0).verdict, "PASS"),
            (conductor_capacity(31.0, 24.0, 32.0).verdict, "FAIL"),
        ),
    ),
    Proof(
        "voltage_drop",
        "published example: 20 A, 200 ft, 480 V; 1.6 % on 10 AWG (printed impedance)",
        lambda: [
            (
                drop_check(20.0, 200 * FT, "10 AWG", 480.0, "three", method="printed").results[
                    "share"
                ],
                7.62 / 480,
            )
        ],
        1e-3,
    ),
    Proof(
        "terminal_torque",
        "UL 486A-486B as printed: 35 lbf·in under a large slot; 31.5 and 42 lbf·in are the ends",
        lambda: [
            (
                terminal_torque(
                    UREG.Quantity(t, "force_pound*inch").to("newton*meter").magnitude,
                    screw="slotted, larger slot",
                    size="10 AWG",
                ).verdict,
                told,
            )
            for t, told in (
                (35, "PASS"),
                (31.6, "PASS"),
                (31.4, "FAIL"),
                (41.9, "PASS"),
                (42.1, "FAIL"),
            )
        ],
    ),
]
