"""Air pipe as laid: its fall, its share of the pressure, and a hold test corrected for heat.

Invariant: pressures compared over time are absolute.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, GaugePressure, Length, Temperature
from wizard.sources import Source


@formula(
    "Fall of a pipe",
    equation="slope = fall / length",
    results="ratio",
    source=Source("definition", "computed"),
)
def pipe_fall(fall: Length, length: Length) -> float:
    """Fall over length.

    slope = fall / length

    Parameters
    ----------
    fall : float
        Height from one end to the other, [m]
    length : float
        Length of the run, [m]

    Returns
    -------
    float
        Slope, [-]

    Examples
    --------
    3 in over 100 ft:

    >>> pipe_fall(3.0, 1200.0)
    0.0025
    """
    zero_or_above("fall", fall, "length")
    above_zero("length", length, "length")
    if fall > length:
        raise InputError("fall", "more than the length of the run", "at most the length; swapped?")
    return fall / length


@formula(
    "Share of the pressure lost between receiver and user",
    equation="share = (receiver − farthest) / receiver",
    results="ratio",
    source=Source("definition, share of the gauge pressure at the receiver", "computed"),
)
def pressure_lost(receiver: GaugePressure, farthest: GaugePressure) -> float:
    """Drop from the receiver to the farthest point over the receiver's gauge pressure.

    share = (p_receiver - p_farthest) / p_receiver

    Parameters
    ----------
    receiver : float
        Pressure at the receiver, gauge, [Pa]
    farthest : float
        Pressure at the farthest point at the same moment, gauge, [Pa]

    Returns
    -------
    float
        Share lost, [-]

    Examples
    --------
    >>> pressure_lost(100.0, 94.0)
    0.06
    """
    above_zero("receiver", receiver, "gauge pressure")
    above_zero("farthest", farthest, "gauge pressure")
    return (receiver - farthest) / receiver


@formula(
    "Pressure expected at the end of a hold test",
    equation="expected = start_pressure × end_temperature / start_temperature",
    results="absolute pressure",
    source=Source("UFGS 15217N 3.2.6", "confirmed"),
)
def expected_hold_pressure(
    start_pressure: AbsolutePressure,
    start_temperature: Temperature,
    end_temperature: Temperature,
) -> float:
    """Pressure that tight pipe shows after its air has changed temperature.

    p2 = p1 T2/T1

    Parameters
    ----------
    start_pressure : float
        Pressure at the start, absolute, [Pa]
    start_temperature : float
        Temperature of the pipe at the start, [K]
    end_temperature : float
        Temperature of the pipe at the end, [K]

    Returns
    -------
    float
        Expected pressure, absolute, [Pa]

    Examples
    --------
    114.7 psia from 70 °F to 60 °F: 112.53 psia

    >>> round(expected_hold_pressure(114.7, (70 + 459.67) / 1.8, (60 + 459.67) / 1.8), 2)
    112.53
    """
    above_zero("start_pressure", start_pressure, "absolute pressure")
    above_zero("start_temperature", start_temperature, "temperature")
    above_zero("end_temperature", end_temperature, "temperature")
    return start_pressure * end_temperature / start_temperature
