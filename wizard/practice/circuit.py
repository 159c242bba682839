"""The equivalent circuit of an induction motor, found from its plate.

Per-phase circuit as in the textbooks (IEEE Std 112, from memory): stator impedance, magnetising
reactance beside a core-loss resistance, rotor resistance over slip. Rotor bars are deep: their
resistance rises from `bars` = 1 at no slip with the root of slip. A single-phase motor is taken as
one phase that turns its field by itself, as a running capacitor motor does nearly.

Invariant: at rated slip the circuit gives the power, current and efficiency of the plate; at
standstill it draws the locked-rotor current.
"""

from __future__ import annotations

from cmath import rect
from dataclasses import dataclass
from functools import cache
from math import acos, pi, sqrt

from wizard.errors import OutsideValidity
from wizard.practice.plates import Motor

CORE_SHARE, FRICTION_SHARE = 0.20, 0.07
"""Shares of the rated losses that are core loss and friction; usual for small motors."""
BARS = 2.0
"""Rotor resistance at standstill over that at rated speed."""


@dataclass(frozen=True, slots=True)
class Circuit:
    """Ohms per phase in the star equivalent, and what turns."""

    phases: int
    stator: complex
    magnetising: complex
    rotor_resistance: float
    rotor_reactance: float
    field_speed: float
    friction: float

    def rotor(self, slip: float) -> complex:
        """Impedance of the rotor branch at a slip above zero."""
        bars = 1.0 + (BARS - 1.0) * sqrt(slip)
        return complex(self.rotor_resistance * bars / slip, self.rotor_reactance)

    def impedance(self, slip: float) -> complex:
        """Impedance between line and star point."""
        rotor = self.rotor(slip)
        return self.stator + rotor * self.magnetising / (rotor + self.magnetising)

    def torque(self, current: complex, slip: float) -> float:
        """Torque on the shaft from the stator current of one sequence, before friction, N·m."""
        rotor = self.rotor(slip)
        share = current * self.magnetising / (rotor + self.magnetising)
        return self.phases * abs(share) ** 2 * rotor.real / self.field_speed

    def connected(self, ratio: float) -> Circuit:
        """The same motor with windings connected for `ratio` times the plate voltage."""
        square = ratio * ratio
        return Circuit(
            self.phases,
            self.stator * square,
            self.magnetising * square,
            self.rotor_resistance * square,
            self.rotor_reactance * square,
            self.field_speed,
            self.friction,
        )


@cache
def circuit_of(motor: Motor) -> Circuit:
    """The circuit whose behaviour is the plate of `motor`, in its plate connection."""
    low, high = 1e-4, 0.25
    base = phase_voltage(motor) / motor.current
    for _ in range(60):
        middle = (low + high) / 2
        drawn = phase_voltage(motor) / abs(_with_leakage(motor, middle * base).impedance(1.0))
        low, high = (middle, high) if drawn > motor.locked_current else (low, middle)
    return _with_leakage(motor, high * base)


def phase_voltage(motor: Motor) -> float:
    """Rated volts from line to star point."""
    return motor.voltage / sqrt(3.0) if motor.phases == 3 else motor.voltage


def _with_leakage(motor: Motor, leakage: float) -> Circuit:
    """The circuit that meets the plate at rated load with this leakage reactance each side."""
    phases, volts = motor.phases, phase_voltage(motor)
    field = 2 * pi * motor.frequency / (motor.poles / 2)
    slip = 1.0 - 2 * pi * motor.speed / field
    taken = motor.power / motor.efficiency
    lost = taken - motor.power
    friction, core = FRICTION_SHARE * lost, CORE_SHARE * lost
    across = (motor.power + friction) / (1.0 - slip)
    copper = taken - core - across
    angle = acos(min(1.0, taken / (phases * volts * motor.current)))
    current = rect(motor.current, -angle)
    stator = complex(copper / (phases * motor.current**2), leakage)
    gap = volts - current * stator
    k = phases * abs(gap) ** 2 / across
    if copper <= 0 or k <= 2 * leakage:
        raise OutsideValidity("motor plate", f"{motor.power:g} W", "losses that belong to its slip")
    resistance = (k + sqrt(k * k - 4 * leakage**2)) / 2
    wattless = phases * (gap * current.conjugate()).imag
    rotor = phases * abs(gap) ** 2 * leakage / (resistance**2 + leakage**2)
    shunt = phases * abs(gap) ** 2
    iron, reactance = shunt / core, shunt / (wattless - rotor)
    magnetising = 1 / (1 / iron + 1 / complex(0.0, reactance))
    bars = 1.0 + (BARS - 1.0) * sqrt(slip)
    return Circuit(
        phases, stator, magnetising, resistance * slip / bars, leakage, field, friction / field
    )
