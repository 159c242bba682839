"""Piston displacement and how much of it becomes air."""

from __future__ import annotations

import math

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero, within, zero_or_above
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, Length, Number, Ratio, RotationalSpeed, Temperature
from wizard.sources import Source

TEXTBOOK = Source("textbook theory of the reciprocating compressor", "confirmed")


@formula(
    "Piston displacement",
    equation="displacement = π / 4 × bore² × stroke × cylinders × speed",
    results="flow",
    source=Source("geometry of single-acting cylinders", "computed"),
)
def piston_displacement(
    bore: Length, stroke: Length, cylinders: int, speed: RotationalSpeed
) -> float:
    """Volume that the low-pressure pistons sweep, the ceiling of what a pump can deliver.

    V_d = (pi / 4) bore^2 stroke N speed

    Parameters
    ----------
    bore : float
        Diameter of a low-pressure cylinder, 25 to 250 mm, [m]
    stroke : float
        Stroke of the piston, 25 to 250 mm, [m]
    cylinders : int
        Low-pressure cylinders only; high-pressure cylinders sweep the same air again, [-]
    speed : float
        Pump speed, 200 to 2000 rpm, [r/s]

    Returns
    -------
    float
        Swept volume in time, [m3/s]

    Examples
    --------
    Two cylinders of 90 mm by 70 mm at 1050 rpm sweep 0.93517 m3/min:

    >>> round(60 * piston_displacement(0.090, 0.070, 2, 1050 / 60), 5)
    0.93517
    """
    each_above_zero("length", bore=bore, stroke=stroke)
    above_zero("speed", speed, "rotational speed")
    within("bore", bore, "length", "mm", 25, 250)
    within("stroke", stroke, "length", "mm", 25, 250)
    within("speed", speed, "rotational speed", "rpm", 200, 2000)
    if not 1 <= cylinders <= 8:
        raise InputError("cylinders", str(cylinders), "1 to 8")
    return math.pi / 4 * bore**2 * stroke * cylinders * speed


@formula(
    "Volumetric efficiency, measured",
    equation="efficiency = flow / displacement",
    results="ratio",
    source=Source("definition", "computed"),
)
def measured_efficiency(flow: Flow, displacement: Flow) -> float:
    """Share of the swept volume that is delivered as free air.

    eta_v = Q / V_d

    Parameters
    ----------
    flow : float
        Free air delivered at the measured speed, [m3/s]
    displacement : float
        Piston displacement at the same speed, [m3/s]

    Returns
    -------
    float
        Volumetric efficiency, [-]

    Examples
    --------
    0.700 m3/min of 0.9351 m3/min swept:

    >>> round(measured_efficiency(0.700 / 60, 0.9351 / 60), 4)
    0.7486
    """
    zero_or_above("flow", flow, "flow")
    above_zero("displacement", displacement, "flow")
    return flow / displacement


@formula(
    "Volumetric efficiency that the clearance alone leaves",
    equation="efficiency = 1 + clearance - clearance × ratio ^ (1 / exponent)",
    results="ratio",
    source=TEXTBOOK,
)
def clearance_efficiency(clearance: Ratio, ratio: Number, exponent: Number = 1.3) -> float:
    """Share of the stroke that is left once the trapped air has expanded again.

    eta_c = 1 + c - c r^(1/n)

    Parameters
    ----------
    clearance : float
        Clearance volume over swept volume, usually 0.03 to 0.10, [-]
    ratio : float
        Absolute pressure ratio of the first stage, [-]
    exponent : float, optional
        Exponent of the re-expansion, 1.2 to 1.4, [-]

    Returns
    -------
    float
        Volumetric efficiency, above 0 and at most 1, [-]

    Examples
    --------
    Clearance 5 %, ratio 7.5, exponent 1.3 (a textbook example):

    >>> round(clearance_efficiency(0.05, 7.5, 1.3), 5)
    0.81444
    """
    zero_or_above("clearance", clearance, "ratio")
    if not 1 <= ratio < math.inf:
        raise InputError("ratio", f"{ratio:g}", "1 or more, of absolute pressures")
    if not 1.05 <= exponent <= 1.45:
        raise OutsideValidity("exponent", f"{exponent:g}", "1.05 to 1.45")
    efficiency: float = 1 + clearance - clearance * ratio ** (1 / exponent)
    if efficiency <= 0:
        raise OutsideValidity(
            "ratio", f"{ratio:.4g}", "a ratio at which the pump still delivers; this one gives none"
        )
    return efficiency


@formula(
    "Volumetric efficiency with suction losses",
    equation="efficiency = clearance_share × (suction / ambient) × "
    "(intake_temperature / suction_temperature) × (1 - leak)"
    ", temperatures absolute",
    results="ratio",
    source=TEXTBOOK,
)
def overall_volumetric_efficiency(
    clearance_share: Ratio,
    suction: AbsolutePressure,
    ambient: AbsolutePressure,
    intake_temperature: Temperature,
    suction_temperature: Temperature,
    leak: Ratio = 0.0,
) -> float:
    """Free air per swept volume, with throttled and heated suction and leaking rings.

    eta = eta_c (p_s / p_a) (T_a / T_s) (1 - leak)

    Parameters
    ----------
    clearance_share : float
        Volumetric efficiency that the clearance alone leaves, [-]
    suction : float
        Absolute pressure in the cylinder at the end of suction, [Pa]
    ambient : float
        Air pressure at the intake, [Pa]
    intake_temperature : float
        Air temperature at the intake, [K]
    suction_temperature : float
        Air temperature in the cylinder at the end of suction, [K]
    leak : float, optional
        Share that leaks past rings and valves, [-]

    Returns
    -------
    float
        Volumetric efficiency, [-]

    Examples
    --------
    >>> round(overall_volumetric_efficiency(0.93857, 97.0, 100.0, 95.0, 100.0, 0.02), 5)
    0.84759
    """
    above_zero("clearance_share", clearance_share, "ratio")
    each_above_zero("absolute pressure", suction=suction, ambient=ambient)
    each_above_zero(
        "temperature",
        intake_temperature=intake_temperature,
        suction_temperature=suction_temperature,
    )
    if not 0 <= leak < 1:
        raise InputError("leak", both(leak, "ratio"), "0 % to less than 100 %")
    return (
        clearance_share
        * (suction / ambient)
        * (intake_temperature / suction_temperature)
        * (1 - leak)
    )
