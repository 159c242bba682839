"""Temperatures and interstage pressure of compression.

Invariant: ratios are of absolute pressures, one stage at a time.
"""

from __future__ import annotations

import math

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero
from wizard.calc.gas import HEAT_RATIO
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, Number, Ratio, Temperature
from wizard.sources import OUR_JUDGEMENT, Source

POLYTROPIC = Source("polytropic gas law", "computed")
SKIN_ALLOWANCE = 15.0
"""K by which a skin reading is taken to lag the air inside; it lags 10 to 30 K."""


def stage_ratio(ratio: float) -> None:
    """Refuse what cannot be the pressure ratio of a stage."""
    if not 1 <= ratio < math.inf:
        raise InputError("ratio", f"{ratio:g}", "1 or more, of absolute pressures")


def bending(exponent: float) -> None:
    """Refuse an exponent that compression of air does not follow."""
    if not 1.05 <= exponent <= 1.45:
        raise OutsideValidity("exponent", f"{exponent:g}", "1.05 to 1.45")


@formula(
    "Discharge temperature of a stage",
    equation="discharge = inlet_temperature × ratio ^ ((exponent - 1) / exponent)"
    ", temperatures absolute",
    results="temperature",
    source=POLYTROPIC,
)
def stage_temperature(
    inlet_temperature: Temperature, ratio: Number, exponent: Number = HEAT_RATIO
) -> float:
    """Air temperature after a stage; with exponent 1.4, nothing cooled, the ceiling.

    T2 = T1 r^((n-1)/n)

    Parameters
    ----------
    inlet_temperature : float
        Air temperature at the inlet of the stage, [K]
    ratio : float
        Absolute pressure ratio of the stage, never of the whole machine, [-]
    exponent : float, optional
        1.40 uncooled, 1.30 to 1.35 usual with air cooling, 1.20 to 1.25 very well cooled, [-]

    Returns
    -------
    float
        Discharge temperature, [K]

    Examples
    --------
    20 °C to 100 psig at sea level with exponent 1.30 is 197.85 °C:

    >>> round(stage_temperature(293.15, 114.696 / 14.696, 1.30) - 273.15, 2)
    197.85
    """
    above_zero("inlet_temperature", inlet_temperature, "temperature")
    stage_ratio(ratio)
    bending(exponent)
    warmer: float = ratio ** ((exponent - 1) / exponent)
    return inlet_temperature * warmer


@formula(
    "Discharge temperature from the isentropic efficiency",
    equation="discharge = inlet_temperature × (1 + (ratio ^ (0.4 / 1.4) - 1) / efficiency)"
    ", temperatures absolute",
    results="temperature",
    source=Source("isentropic gas law with k = 1.4", "computed"),
)
def stage_temperature_by_efficiency(
    inlet_temperature: Temperature, ratio: Number, efficiency: Ratio
) -> float:
    """Air temperature after a stage of known isentropic efficiency.

    T2 = T1 (1 + (r^0.2857 - 1) / eta)

    Parameters
    ----------
    inlet_temperature : float
        Air temperature at the inlet of the stage, [K]
    ratio : float
        Absolute pressure ratio of the stage, [-]
    efficiency : float
        Isentropic efficiency, above 0 and at most 1, [-]

    Returns
    -------
    float
        Discharge temperature, [K]

    Examples
    --------
    With no loss, 1 to 8 bar from 20 °C ends at 531.0 K:

    >>> round(stage_temperature_by_efficiency(293.15, 8.0, 1.0), 1)
    531.0
    """
    above_zero("inlet_temperature", inlet_temperature, "temperature")
    stage_ratio(ratio)
    if not 0 < efficiency <= 1:
        raise InputError("efficiency", both(efficiency, "ratio"), "above 0 % and at most 100 %")
    rise: float = ratio ** ((HEAT_RATIO - 1) / HEAT_RATIO) - 1
    return inlet_temperature * (1 + rise / efficiency)


@formula(
    "Air temperature from a reading on the pipe",
    equation="air = skin + 15 K",
    results="temperature",
    source=OUR_JUDGEMENT,
    absolute=False,
)
def air_from_skin(skin: Temperature) -> float:
    """Air temperature to judge when the probe sits on the outside: skin reads 10 to 30 K low.

    T_air = T_skin + 15 K

    Parameters
    ----------
    skin : float
        Reading of a contact probe on the fitting, [K]

    Returns
    -------
    float
        Air temperature to compare with limits, [K]

    Examples
    --------
    160 °C on the skin counts as 175 °C:

    >>> round(air_from_skin(433.15) - 273.15, 6)
    175.0
    """
    above_zero("skin", skin, "temperature")
    return skin + SKIN_ALLOWANCE


@formula(
    "Interstage pressure for equal work",
    equation="interstage = √(suction × final)",
    results="absolute pressure",
    source=Source("least work of two stages with perfect intercooling", "computed"),
)
def interstage_equal_work(suction: AbsolutePressure, final: AbsolutePressure) -> float:
    """Interstage pressure at which both stages do the same work, air fully cooled between.

    p_i = sqrt(p1 p2)

    Parameters
    ----------
    suction : float
        Absolute pressure before the first stage, [Pa]
    final : float
        Absolute pressure after the second stage, [Pa]

    Returns
    -------
    float
        Interstage pressure, absolute, [Pa]

    Notes
    -----
    A design idea: a built pump has fixed cylinders and may sit 20 % away from it in good health.

    Examples
    --------
    From 14.7 psia to 100 psig: 26.36 psig (a handbook table lists 26.3):

    >>> round(interstage_equal_work(14.7, 114.7) - 14.7, 2)
    26.36
    """
    above_zero("suction", suction, "absolute pressure")
    if not final > suction:
        least = f"more than the suction, {both(suction, 'absolute pressure')}"
        raise InputError("final", both(final, "absolute pressure"), least)
    return math.sqrt(suction * final)


@formula(
    "Interstage pressure for equal work, warm intercooler",
    equation="interstage = √(suction × final) × (second_inlet / first_inlet) ^ "
    "(exponent / (2 × (exponent - 1)))"
    ", temperatures absolute",
    results="absolute pressure",
    source=Source("least work of two stages with imperfect intercooling", "computed"),
)
def interstage_warm(
    suction: AbsolutePressure,
    final: AbsolutePressure,
    first_inlet: Temperature,
    second_inlet: Temperature,
    exponent: Number = 1.35,
) -> float:
    """Interstage pressure of least work when the second stage is fed with warm air.

    p_i = sqrt(p1 p2) (T3 / T1)^(n / (2 (n - 1)))

    Parameters
    ----------
    suction : float
        Absolute pressure before the first stage, [Pa]
    final : float
        Absolute pressure after the second stage, [Pa]
    first_inlet : float
        Air temperature at the first stage, [K]
    second_inlet : float
        Air temperature at the second stage, [K]
    exponent : float, optional
        Exponent of compression, [-]

    Returns
    -------
    float
        Interstage pressure, absolute, [Pa]

    Examples
    --------
    To 175 psig with 40 °C after the intercooler and 20 °C at the intake: 45.27 psig.

    >>> round(interstage_warm(14.696, 189.696, 293.15, 313.15, 1.35) - 14.696, 2)
    45.27
    """
    above_zero("first_inlet", first_inlet, "temperature")
    above_zero("second_inlet", second_inlet, "temperature")
    bending(exponent)
    even = interstage_equal_work(suction, final)
    shift: float = (second_inlet / first_inlet) ** (exponent / (2 * (exponent - 1)))
    return even * shift


@formula(
    "Interstage pressure from the cylinders",
    equation="interstage = suction × (low_displacement × low_efficiency) / "
    "(high_displacement × high_efficiency) × (second_inlet / first_inlet)"
    ", temperatures absolute",
    results="absolute pressure",
    source=Source("the second stage takes what the first delivers", "computed"),
)
def interstage_from_cylinders(
    suction: AbsolutePressure,
    low_displacement: Flow,
    high_displacement: Flow,
    first_inlet: Temperature,
    second_inlet: Temperature,
    low_efficiency: Ratio = 0.80,
    high_efficiency: Ratio = 0.85,
) -> float:
    """Interstage pressure that a built pump settles at.

    p_i = p1 (V_LP eta_LP) / (V_HP eta_HP) (T3 / T1)

    Parameters
    ----------
    suction : float
        Absolute pressure before the first stage, [Pa]
    low_displacement : float
        Displacement of the low-pressure cylinders, [m3/s]
    high_displacement : float
        Displacement of the high-pressure cylinders, [m3/s]
    first_inlet : float
        Air temperature at the first stage, [K]
    second_inlet : float
        Air temperature at the second stage, [K]
    low_efficiency : float, optional
        Volumetric efficiency of the first stage, [-]
    high_efficiency : float, optional
        Volumetric efficiency of the second stage, [-]

    Returns
    -------
    float
        Interstage pressure, absolute, [Pa]

    Examples
    --------
    Two cylinders of 127 mm feed one of 101.6 mm, same stroke: 30.69 psig.

    >>> low, high = 2 * 127.0**2, 101.6**2
    >>> round(interstage_from_cylinders(14.696, low, high, 100.0, 105.0) - 14.696, 2)
    30.69
    """
    above_zero("suction", suction, "absolute pressure")
    each_above_zero("flow", low_displacement=low_displacement, high_displacement=high_displacement)
    each_above_zero("temperature", first_inlet=first_inlet, second_inlet=second_inlet)
    each_above_zero("ratio", low_efficiency=low_efficiency, high_efficiency=high_efficiency)
    taken = low_displacement * low_efficiency / (high_displacement * high_efficiency)
    return suction * taken * second_inlet / first_inlet
