"""Insulation resistance of a winding at a common temperature.

Invariant: readings are compared at 40 °C, never as read.
"""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, within
from wizard.calc.gas import ZERO_CELSIUS
from wizard.formula import formula
from wizard.kinds import Number, Resistance, Temperature
from wizard.sources import Source

WINDING = (-10, 90)
MOST_MEGOHMS = 200_000


def _reading(resistance: float, temperature: float) -> None:
    above_zero("resistance", resistance, "resistance", "Mohm")
    within("resistance", resistance, "resistance", "Mohm", 0, MOST_MEGOHMS)
    within("temperature", temperature, "temperature", "°C", *WINDING)


@formula(
    "Insulation resistance corrected to 40 °C",
    equation="corrected = resistance × 0.5 ^ ((40 °C - temperature) / 10 K)",
    results="resistance",
    source=Source("IEEE 43 doubling per 10 °C, as published in correction guides", "confirmed"),
    absolute=False,
)
def insulation_at_40(resistance: Resistance, temperature: Temperature) -> Resistance:
    """Insulation resistance that the winding would show at 40 °C.

    R40 = R 0.5^((40 - T) / 10)

    Parameters
    ----------
    resistance : float
        Reading after 60 s, [ohm]
    temperature : float
        Winding temperature, -10 °C to 90 °C, [K]

    Returns
    -------
    float
        Corrected resistance, [ohm]

    Examples
    --------
    200 Mohm at 20 °C and 25 Mohm at 50 °C are the same winding (published correction guide):

    >>> [round(insulation_at_40(r * 1e6, t + 273.15) / 1e6, 6) for r, t in ((200, 20), (25, 50))]
    [50.0, 50.0]
    """
    _reading(resistance, temperature)
    return float(resistance * 0.5 ** ((40 - (temperature - ZERO_CELSIUS)) / 10))


@formula(
    "Insulation resistance corrected to 40 °C, thermosetting winding",
    equation="corrected = resistance × exp(-4230 above 40 °C, -1245 below, × "
    "(1 / (temperature in °C + 273) - 1 / 313))",
    results="resistance",
    source=Source("IEEE 43-2013 6.3, thermosetting insulation", "memory"),
    absolute=False,
)
def insulation_at_40_thermosetting(resistance: Resistance, temperature: Temperature) -> Resistance:
    """Insulation resistance at 40 °C of a modern thermosetting winding.

    R40 = R exp(-k (1/(T + 273) - 1/313)), k = 4230 above 40 °C, 1245 from 10 to 40 °C

    Parameters
    ----------
    resistance : float
        Reading after 60 s, [ohm]
    temperature : float
        Winding temperature, 10 °C to 90 °C, [K]

    Returns
    -------
    float
        Corrected resistance, [ohm]

    Examples
    --------
    >>> round(insulation_at_40_thermosetting(40e6, 333.15) / 1e6, 3)
    90.067
    """
    _reading(resistance, temperature)
    within("temperature", temperature, "temperature", "°C", 10, 90)
    celsius = temperature - ZERO_CELSIUS
    constant = 4230.0 if celsius > 40 else 1245.0
    return resistance * math.exp(-constant * (1 / (celsius + 273) - 1 / 313))


@formula(
    "Polarization index",
    equation="index = after_10_minutes / after_1_minute",
    results="number",
    source=Source("IEEE 43: definition; not required on small random windings", "confirmed"),
)
def polarization_index(after_1_minute: Resistance, after_10_minutes: Resistance) -> Number:
    """Growth of insulation resistance from one to ten minutes under test voltage.

    PI = R(10 min) / R(1 min)

    Parameters
    ----------
    after_1_minute : float
        Reading after 60 s, below 5000 Mohm, [ohm]
    after_10_minutes : float
        Reading after 10 minutes, [ohm]

    Returns
    -------
    float
        Index, [-]

    Notes
    -----
    Absorption current of a small random winding fades in seconds, so a low index alone
    condemns nothing. Above 5000 Mohm it is not judged.

    Examples
    --------
    >>> polarization_index(200e6, 500e6)
    2.5
    """
    above_zero("after_1_minute", after_1_minute, "resistance", "Mohm")
    within("after_1_minute", after_1_minute, "resistance", "Mohm", 0.001, 5000)
    within("after_10_minutes", after_10_minutes, "resistance", "Mohm", 0.001, MOST_MEGOHMS)
    return after_10_minutes / after_1_minute
