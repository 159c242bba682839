"""One cylinder over one turn of the crank, and air through holes.

Reciprocating-compressor theory as in the textbooks: trapped clearance air expands back along the
same polytropic as it was compressed, so that a turn moves `filled` of the swept volume and takes
the area of the pressure-volume figure as work.

Invariant: work, enthalpy and heat of a cylinder are one balance; nothing is lost.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from wizard.calc.gas import GAS_CONSTANT, HEAT_RATIO

CP = GAS_CONSTANT * HEAT_RATIO / (HEAT_RATIO - 1.0)
CV = CP - GAS_CONSTANT
CRITICAL = (2.0 / (HEAT_RATIO + 1.0)) ** (HEAT_RATIO / (HEAT_RATIO - 1.0))
CHOKED = sqrt(HEAT_RATIO / GAS_CONSTANT) * (2.0 / (HEAT_RATIO + 1.0)) ** (
    (HEAT_RATIO + 1.0) / (2.0 * (HEAT_RATIO - 1.0))
)
HOLE = 0.65
"""Discharge coefficient of a ragged hole or an open valve."""
REHEAT = 0.45
"""How much of the heat of leaked-back air stays in the next charge."""
SOFT = 500.0
"""Pa below which a flow goes straight with pressure, so that it dies out smoothly."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """What a cylinder does in one turn: kg moved, K at the valve, J of work on the air."""

    mass: float
    discharge: float
    work: float


@dataclass(frozen=True, slots=True)
class Cylinder:
    """Swept volume of one stage per turn, and how well it seals."""

    swept: float
    clearance: float
    exponent: float
    leak: float = 0.0

    def turn(self, suction: float, temperature: float, discharge: float) -> Stroke:
        """One turn between two absolute pressures, from air at `temperature`.

        A leaking valve lets `leak` of the charge back: it is lost, and it heats the next charge.
        """
        n = self.exponent
        ratio = max(1.0, discharge / suction)
        filled = 1.0 + self.clearance - self.clearance * ratio ** (1.0 / n)
        if filled <= 0.0:
            return Stroke(0.0, temperature, 0.0)
        rise = ratio ** ((n - 1.0) / n)
        start = temperature * (1.0 + REHEAT * self.leak * (rise - 1.0))
        moved = suction * self.swept * filled / (GAS_CONSTANT * start) * (1.0 - self.leak)
        work = n / (n - 1.0) * suction * self.swept * filled * (rise - 1.0)
        return Stroke(moved, start * rise, work)


def hole_flow(area: float, pressure: float, temperature: float, back: float) -> float:
    """Mass flow of air through a hole, choked or not, kg/s; none backwards.

    Isentropic nozzle flow times 0.65; below a few hundred pascals it goes over into a straight
    line, as laminar flow does, which keeps the time steps sound.
    """
    if area <= 0.0 or pressure <= back:
        return 0.0
    ratio = back / pressure
    if ratio <= CRITICAL:
        return float(HOLE * area * pressure * CHOKED / sqrt(temperature))
    drop = pressure - back
    cooled = ratio ** ((HEAT_RATIO - 1.0) / HEAT_RATIO)
    speed = sqrt(2.0 * CP * temperature * (1.0 - cooled))
    density = pressure / (GAS_CONSTANT * temperature) * ratio ** (1.0 / HEAT_RATIO)
    return float(HOLE * area * density * speed * sqrt(drop / (drop + SOFT)))


def water_flow(area: float, drop: float) -> float:
    """Mass flow of water through a drain, kg/s, with the coefficient of a plain hole."""
    return 0.61 * area * sqrt(2.0 * max(0.0, drop) * 998.0)
