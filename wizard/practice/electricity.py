"""Supply and motor together: what the lines carry at a slip, and the slip at a torque.

An unbalanced supply is split into a forward and a backward system (Fortescue's symmetrical
components); each meets its own impedance of the motor, behind the impedance of the supply.

Invariant: power into the motor is the sum over both systems, so heat is what does not leave the
shaft.
"""

from __future__ import annotations

from bisect import bisect_left
from cmath import rect
from dataclasses import dataclass
from functools import lru_cache
from math import pi, sqrt

from wizard.practice.circuit import Circuit, circuit_of
from wizard.practice.plates import Motor, Supply

TURN = rect(1.0, 2 * pi / 3)
POINTS = 120
OVERHEAD = 0.999
"""A motor within this share of its pull-out torque counts as stalled."""


@dataclass(frozen=True, slots=True)
class Lines:
    """Line currents and line-to-line voltages at the starter, power in, torque on the shaft."""

    currents: tuple[float, ...]
    voltages: tuple[float, ...]
    to_ground: tuple[float, ...]
    power: float
    torque: float


def source_lines(supply: Supply) -> tuple[float, float, float]:
    """Open-circuit voltages L1-L2, L2-L3, L3-L1 of a three-phase supply."""
    v, u = supply.voltage, supply.unbalance
    return v * (1 + u), v, v * (1 - u)


@lru_cache(maxsize=64)
def sequences(supply: Supply) -> tuple[complex, complex]:
    """Forward and backward phase voltage of the open supply."""
    if supply.phases == 1:
        return complex(supply.voltage), 0j
    ab, bc, ca = source_lines(supply)
    x = (bc**2 - ca**2 - ab**2) / (2 * ab)
    point = complex(x, sqrt(ca**2 - x * x))
    lines = complex(ab), -ab - point, point
    forward = (lines[0] + TURN * lines[1] + TURN**2 * lines[2]) / 3
    backward = (lines[0] + TURN**2 * lines[1] + TURN * lines[2]) / 3
    root = rect(sqrt(3.0), pi / 6)
    return forward / root, backward / root.conjugate()


def lines_at(supply: Supply, circuit: Circuit, slip: float) -> Lines:
    """Everything electrical at one slip (1 at standstill)."""
    upstream = complex(supply.resistance, supply.reactance)
    if supply.phases == 1:
        upstream *= 2
    forward, backward = sequences(supply)
    ahead = forward / (upstream + circuit.impedance(slip))
    astern = backward / (upstream + circuit.impedance(2.0 - slip))
    across = forward - ahead * upstream, backward - astern * upstream
    power = circuit.phases * (
        (across[0] * ahead.conjugate()).real + (across[1] * astern.conjugate()).real
    )
    torque = circuit.torque(ahead, slip) - circuit.friction
    if astern:
        torque -= circuit.torque(astern, 2.0 - slip)
    return _lines(supply, ahead, astern, across, power, torque)


def _lines(
    supply: Supply,
    ahead: complex,
    astern: complex,
    across: tuple[complex, complex],
    power: float,
    torque: float,
) -> Lines:
    if supply.phases == 1:
        volts = abs(across[0])
        return Lines((abs(ahead),), (volts,), (volts / 2, volts / 2), power, torque)
    back = TURN.conjugate()
    currents = (ahead + astern, ahead * back + astern * TURN, ahead * TURN + astern * back)
    a = across[0] + across[1]
    b = across[0] * back + across[1] * TURN
    c = across[0] * TURN + across[1] * back
    return Lines(
        (abs(currents[0]), abs(currents[1]), abs(currents[2])),
        (abs(a - b), abs(b - c), abs(c - a)),
        (abs(a), abs(b), abs(c)),
        power,
        torque,
    )


def resting_lines(supply: Supply) -> Lines:
    """The starter terminals with nothing connected."""
    if supply.phases == 1:
        half = supply.voltage / 2
        return Lines((0.0,), (supply.voltage,), (half, half), 0.0, 0.0)
    return _lines(supply, 0j, 0j, sequences(supply), 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Curve:
    """Torque of the motor on its supply from no slip to pull-out, ready to be looked up."""

    circuit: Circuit
    torques: tuple[float, ...]
    slips: tuple[float, ...]
    powers: tuple[float, ...]
    currents: tuple[float, ...]

    @property
    def pull_out(self) -> float:
        """The torque above which the motor stalls, N·m."""
        return self.torques[-1] * OVERHEAD

    def at_torque(self, torque: float) -> tuple[float, float, float]:
        """Slip, power in and highest line current at a torque below pull-out."""
        torques = self.torques
        high = min(max(bisect_left(torques, torque), 1), len(torques) - 1)
        low = high - 1
        share = (torque - torques[low]) / (torques[high] - torques[low])
        return (
            self.slips[low] + share * (self.slips[high] - self.slips[low]),
            self.powers[low] + share * (self.powers[high] - self.powers[low]),
            self.currents[low] + share * (self.currents[high] - self.currents[low]),
        )


@lru_cache(maxsize=64)
def curve_of(supply: Supply, motor: Motor) -> Curve:
    """The curve of a motor on a supply."""
    circuit = circuit_of(motor).connected(motor.connection)
    top = _pull_out_slip(supply, circuit)
    slips = [1e-5 + top * (i / POINTS) for i in range(POINTS + 1)]
    found = [lines_at(supply, circuit, s) for s in slips]
    return Curve(
        circuit,
        tuple(f.torque for f in found),
        tuple(slips),
        tuple(f.power for f in found),
        tuple(max(f.currents) for f in found),
    )


def _pull_out_slip(supply: Supply, circuit: Circuit) -> float:
    """The slip of greatest torque before standstill, by golden steps over a fine scan."""
    scan = [0.005 * i for i in range(1, 100)]
    torques = [lines_at(supply, circuit, s).torque for s in scan]
    peak = next((i for i in range(1, 98) if torques[i + 1] < torques[i]), 98)
    return scan[peak]
