"""The hole behind a leak, and the leak through a hole.

Invariant: the hole is choked; below that the formula does not reach.
"""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, each_above_zero
from wizard.calc.gas import GAS_CONSTANT, HEAT_RATIO
from wizard.calc.leak import CHOKED_RATIO
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, Length, Ratio, Temperature
from wizard.sources import Source

CHOKED_HOLE = Source("choked flow of an ideal gas through an orifice", "computed")


def _mass_flux(pressure: float, temperature: float, coefficient: float, ambient: float) -> float:
    """Mass through each square metre of a choked hole, kg/(s m2)."""
    each_above_zero("absolute pressure", pressure=pressure, ambient=ambient)
    above_zero("temperature", temperature, "temperature")
    if not 0 < coefficient <= 1:
        raise InputError("coefficient", f"{coefficient:g}", "above 0 and at most 1")
    if not pressure > CHOKED_RATIO * ambient:
        raise OutsideValidity(
            "pressure",
            f"{pressure / ambient:.3g} times the ambient",
            "more than 1.893 times the ambient",
        )
    k = HEAT_RATIO
    narrow: float = (2 / (k + 1)) ** ((k + 1) / (2 * (k - 1)))
    return coefficient * pressure * math.sqrt(k / (GAS_CONSTANT * temperature)) * narrow


@formula(
    "Leak through a round hole",
    equation="leak = coefficient × π / 4 × diameter² × (choked mass flux at pressure and "
    "temperature) × R × room_temperature / ambient",
    results="flow",
    source=CHOKED_HOLE,
)
def leak_through_hole(
    diameter: Length,
    pressure: AbsolutePressure,
    temperature: Temperature,
    ambient: AbsolutePressure,
    room_temperature: Temperature,
    coefficient: Ratio = 0.65,
) -> float:
    """Free air lost through a hole under pressure.

    Q = C A p0 sqrt(k / (R T0)) (2 / (k + 1))^((k + 1) / (2 (k - 1))) R T_a / p_a

    Parameters
    ----------
    diameter : float
        Diameter of the hole, [m]
    pressure : float
        Absolute pressure inside, above 1.893 times the ambient, [Pa]
    temperature : float
        Air temperature inside, [K]
    ambient : float
        Air pressure outside, [Pa]
    room_temperature : float
        Air temperature outside, [K]
    coefficient : float, optional
        Discharge coefficient: 0.65 ragged, 0.97 well rounded, [-]

    Returns
    -------
    float
        Leak as free air, [m3/s]

    Examples
    --------
    1/16 in, well rounded, at 100 psig and 20 °C loses 6.31 cfm:

    >>> cfm, psi = 0.3048**3 / 60, 6894.757293168
    >>> round(leak_through_hole(0.0254 / 16, 100 * psi + 101325.0, 293.15, 101325.0, 293.15,
    ...                         0.97) / cfm, 2)
    6.31
    """
    above_zero("diameter", diameter, "length")
    above_zero("room_temperature", room_temperature, "temperature")
    mass = math.pi / 4 * diameter**2 * _mass_flux(pressure, temperature, coefficient, ambient)
    return mass * GAS_CONSTANT * room_temperature / ambient


@formula(
    "Hole that would leak as much",
    equation="diameter = √(4 × A / π), A = mass of leak / (coefficient × choked mass flux at "
    "pressure and temperature)",
    results="length",
    source=CHOKED_HOLE,
)
def leak_hole(
    leak: Flow,
    pressure: AbsolutePressure,
    temperature: Temperature,
    ambient: AbsolutePressure,
    room_temperature: Temperature,
    coefficient: Ratio = 0.65,
) -> float:
    """Diameter of one round hole that loses as much as the leak: something to look for.

    d = sqrt(4 A / pi), A = m / (choked mass flux)

    Parameters
    ----------
    leak : float
        Leak as free air, [m3/s]
    pressure : float
        Absolute pressure inside, above 1.893 times the ambient, [Pa]
    temperature : float
        Air temperature inside, [K]
    ambient : float
        Air pressure outside, [Pa]
    room_temperature : float
        Air temperature outside, [K]
    coefficient : float, optional
        Discharge coefficient; real leaks differ by half of it, [-]

    Returns
    -------
    float
        Diameter, [m]

    Examples
    --------
    5 cfm at 100 psig is a ragged hole of 1.73 mm:

    >>> cfm, psi = 0.3048**3 / 60, 6894.757293168
    >>> round(1000 * leak_hole(5 * cfm, 100 * psi + 101325.0, 293.15, 101325.0, 293.15), 2)
    1.73
    """
    above_zero("leak", leak, "flow")
    above_zero("room_temperature", room_temperature, "temperature")
    mass = leak * ambient / (GAS_CONSTANT * room_temperature)
    area = mass / _mass_flux(pressure, temperature, coefficient, ambient)
    return math.sqrt(4 * area / math.pi)
