"""Condensate drain: how soon the allowance fills and how long the valve must open."""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Flow, GaugePressure, Length, MassFlow, Ratio, Volume
from wizard.sources import OUR_JUDGEMENT, Source

WATER_DENSITY = 998.0
LITRE_OF_WATER = 1000.0
"""kg/m3, as the trade counts: a litre of condensate is a kilogram."""
SETTLING = 1.0
"""Seconds added to the open time so that the pipe is empty as well."""


@formula(
    "Time until the water allowance is full",
    equation="time = allowance × 1 kg/L / liquid",
    results="time",
    source=Source("arithmetic", "computed"),
)
def drain_fill_time(allowance: Volume, liquid: MassFlow) -> float:
    """Time in which the liquid that drops out fills the volume allowed for it.

    t = V_allow / (m / (1 kg/L))

    Parameters
    ----------
    allowance : float
        Water that may stand before it is drained, [m3]
    liquid : float
        Liquid that drops out in the tank, [kg/s]

    Returns
    -------
    float
        Running time until it is full, [s]

    Examples
    --------
    2.0 L at 1.01 kg/h fill in just under two hours:

    >>> round(drain_fill_time(0.002, 1.0098 / 3600) / 3600, 3)
    1.981
    """
    above_zero("allowance", allowance, "volume")
    above_zero("liquid", liquid, "mass flow")
    return allowance * LITRE_OF_WATER / liquid


@formula(
    "Water flow through an open drain",
    equation="flow = coefficient × π / 4 × bore² × √(2 × pressure / 998 kg/m3)",
    results="flow",
    source=Source("orifice equation for water", "computed"),
)
def drain_flow(bore: Length, pressure: GaugePressure, coefficient: Ratio = 0.61) -> float:
    """Water that tank pressure pushes through a drain; once it is out, air follows.

    q = C (pi d^2 / 4) sqrt(2 dp / rho)

    Parameters
    ----------
    bore : float
        Narrowest diameter of the drain, [m]
    pressure : float
        Gauge pressure in the tank, [Pa]
    coefficient : float, optional
        Discharge coefficient of a sharp orifice, [-]

    Returns
    -------
    float
        Flow of water, [m3/s]

    Examples
    --------
    3 mm at 7 bar(g) pass 0.1615 L/s:

    >>> round(1000 * drain_flow(0.003, 7e5), 4)
    0.1615
    """
    above_zero("bore", bore, "length")
    above_zero("pressure", pressure, "gauge pressure")
    if not 0 < coefficient <= 1:
        raise InputError("coefficient", f"{coefficient:g}", "above 0 and at most 1")
    return coefficient * math.pi / 4 * bore**2 * math.sqrt(2 * pressure / WATER_DENSITY)


@formula(
    "Open time of a timer drain",
    equation="open time = water / flow + 1 s",
    results="time",
    source=OUR_JUDGEMENT,
)
def drain_open_time(water: Volume, flow: Flow) -> float:
    """Time the drain must stay open to pass the water of one interval.

    t = V / q + 1 s

    Parameters
    ----------
    water : float
        Water gathered in one interval, [m3]
    flow : float
        Flow of water through the open drain, [m3/s]

    Returns
    -------
    float
        Open time, [s]

    Examples
    --------
    1.0 L through 0.1615 L/s:

    >>> round(drain_open_time(0.001, 0.1615e-3), 2)
    7.19
    """
    zero_or_above("water", water, "volume")
    above_zero("flow", flow, "flow")
    return water / flow + SETTLING
