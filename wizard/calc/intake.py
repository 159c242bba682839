"""Intake restriction and the length of pipe that would resonate."""

from __future__ import annotations

from math import sqrt

from wizard.both_units import both
from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    Length,
    PressureDifference,
    Ratio,
    RotationalSpeed,
    Speed,
    Temperature,
)
from wizard.sources import Source

IDEAL_GAS = Source("ideal gas: a piston takes the same volume of thinner air", "computed")
ACOUSTICS = Source("acoustics of a pipe open at one end", "computed")
AIR_GAS_CONSTANT = 287.05287
AIR_HEAT_RATIO = 1.4


@formula(
    "Flow lost to intake restriction",
    equation="loss = restriction / ambient",
    results="ratio",
    source=IDEAL_GAS,
)
def intake_flow_loss(restriction: PressureDifference, ambient: AbsolutePressure) -> Ratio:
    """Share of the delivered mass of air that an intake restriction costs.

    loss = dp/p_a

    Parameters
    ----------
    restriction : float
        Pressure drop from outside to the pump inlet, [Pa]
    ambient : float
        Air pressure around the machine, absolute, [Pa]

    Returns
    -------
    float
        Share of the flow lost, [-]

    Examples
    --------
    10 in of water at 14.696 psia (computed):

    >>> round(intake_flow_loss(2490.889, 14.696 * 6894.757293168), 6)
    0.024583
    """
    zero_or_above("restriction", restriction, "pressure difference", "inH2O")
    above_zero("ambient pressure", ambient, "absolute pressure", "kPa(a)")
    if restriction >= ambient:
        raise InputError(
            "restriction",
            both(restriction, "pressure difference", "inH2O"),
            "less than the air pressure",
        )
    return restriction / ambient


@formula(
    "Speed of sound in air",
    equation="speed = √(1.4 × 287.05287 × temperature)",
    results="speed",
    source=Source("ideal gas", "computed"),
)
def sound_speed(temperature: Temperature) -> Speed:
    """Speed of sound in dry air.

    c = sqrt(1.4 x 287.05287 T)

    Parameters
    ----------
    temperature : float
        Air temperature, [K]

    Returns
    -------
    float
        Speed of sound, [m/s]

    Examples
    --------
    343.2 m/s at 20 °C (ISO 2533 constants):

    >>> round(sound_speed(293.15), 1)
    343.2
    """
    above_zero("air temperature", temperature, "temperature")
    return sqrt(AIR_HEAT_RATIO * AIR_GAS_CONSTANT * temperature)


@formula(
    "Intake pipe length that resonates",
    equation="length = odd × √(1.4 × 287.05287 × temperature) / (4 × speed × strokes)",
    results="length",
    source=ACOUSTICS,
)
def resonant_length(
    temperature: Temperature, speed: RotationalSpeed, strokes: int, odd: int = 1
) -> Length:
    """Length of an intake pipe that is an odd number of quarter waves of the suction strokes.

    L = odd c/(4 f), f = speed x suction strokes per turn

    Parameters
    ----------
    temperature : float
        Temperature of the intake air, [K]
    speed : float
        Pump speed, [r/s]
    strokes : int
        Suction strokes per turn: one for each first-stage cylinder, [-]
    odd : int, optional
        Which quarter wave: 1, 3, 5 ..., [-]

    Returns
    -------
    float
        Developed length, [m]

    Notes
    -----
    For a pipe longer than 0.5 m.

    Examples
    --------
    900 rpm, one stroke a turn, 20 °C; 1050 rpm, two strokes (computed):

    >>> round(resonant_length(293.15, 15.0, 1), 4), round(resonant_length(293.15, 17.5, 2), 4)
    (5.7206, 2.4517)
    """
    above_zero("pump speed", speed, "rotational speed", "rpm")
    within("suction strokes per turn", strokes, "number", "", 1, 12)
    if odd < 1 or odd % 2 == 0:
        raise InputError("quarter wave", str(odd), "an odd number: 1, 3, 5")
    return odd * sound_speed(temperature) / (4 * speed * strokes)
