"""Zero energy: what a meter still shows, and the push of air at an opening."""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import GaugePressure, Length, Voltage
from wizard.sources import Source


@formula(
    "Highest of the readings on a dead circuit",
    equation="highest = largest of readings",
    results="voltage",
    source=Source("definition", "computed"),
)
def highest_reading(readings: tuple[Voltage, ...]) -> float:
    """The reading that decides whether a circuit is dead.

    Parameters
    ----------
    readings : tuple
        Volts between lines and from lines to ground, at the load side, [V]

    Returns
    -------
    float
        Largest reading, [V]

    Examples
    --------
    >>> highest_reading((1.2, 0.9, 1.1))
    1.2
    """
    if not readings:
        raise InputError("readings", "nothing", "one voltage for every pair")
    for reading in readings:
        zero_or_above("readings", reading, "voltage", "V")
    return max(readings)


@formula(
    "Push of air at an opening",
    equation="force = pressure × 3.14159 × diameter ^ 2 / 4",
    results="force",
    source=Source("pressure on an area", "computed"),
)
def opening_force(pressure: GaugePressure, diameter: Length) -> float:
    """Force on a plug or cover over a round opening.

    F = p pi d^2 / 4

    Parameters
    ----------
    pressure : float
        Gauge pressure behind the opening, [Pa]
    diameter : float
        Diameter of the opening, [m]

    Returns
    -------
    float
        Force that throws plug or cover, [N]

    Examples
    --------
    100 psi behind a 3 in opening push with 706.86 lbf:

    >>> round(opening_force(100 * 6894.757293168, 3 * 0.0254) / 4.4482216152605, 2)
    706.86
    """
    zero_or_above("pressure", pressure, "gauge pressure", "psig")
    above_zero("diameter", diameter, "length", "in")
    return pressure * math.pi * diameter**2 / 4
