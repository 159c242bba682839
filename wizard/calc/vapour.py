"""Water vapour in the air: its pressure over water and over ice, and moist density.

Invariant: below 0 °C the curve over ice decides; neither curve is used outside its range.
"""

from __future__ import annotations

import math

from wizard.both_units import both
from wizard.calc.accepted import above_zero, fraction, within
from wizard.calc.gas import GAS_CONSTANT, GAS_LAW, VAPOUR_GAS_CONSTANT, ZERO_CELSIUS
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Ratio, Temperature
from wizard.sources import Source

_CRITICAL_PRESSURE = 22.064e6
_CRITICAL_TEMPERATURE = 647.096
_TRIPLE_PRESSURE = 611.657
_TRIPLE_TEMPERATURE = 273.16


@formula(
    "Saturation pressure of water vapour",
    equation="saturation = 22.064 MPa × exp(647.096 K / temperature × "
    "f(1 - temperature / 647.096 K))"
    ", temperatures absolute",
    results="absolute pressure",
    source=Source("IAPWS 1992, supplementary saturation equation", "memory"),
)
def saturation_pressure(temperature: Temperature) -> float:
    """Vapour pressure over liquid water.

    ln(p / p_c) = (T_c / T) (-7.85951783 q + 1.84408259 q^1.5 - 11.7866497 q^3
    + 22.6807411 q^3.5 - 15.9618719 q^4 + 1.80122502 q^7.5), q = 1 - T / T_c

    Parameters
    ----------
    temperature : float
        Air temperature, 273.15 to 373.15, [K]

    Returns
    -------
    float
        Saturation pressure, [Pa]

    Notes
    -----
    Below 0 °C water freezes out: see frost_pressure.

    Examples
    --------
    >>> [round(saturation_pressure(273.15 + t), 1) for t in (10, 20, 40)]
    [1228.1, 2339.2, 7385.1]
    """
    within("temperature", temperature, "temperature", "°C", 0, 100)
    return over_water(temperature)


def over_water(temperature: float) -> float:
    """The curve over liquid water, which dew points follow below 0 °C as well, Pa."""
    q = 1 - temperature / _CRITICAL_TEMPERATURE
    series = (
        -7.85951783 * q
        + 1.84408259 * q**1.5
        - 11.7866497 * q**3
        + 22.6807411 * q**3.5
        - 15.9618719 * q**4
        + 1.80122502 * q**7.5
    )
    return _CRITICAL_PRESSURE * math.exp(_CRITICAL_TEMPERATURE / temperature * series)


@formula(
    "Vapour pressure over ice",
    equation="over ice = 611.657 Pa × exp(f(temperature / 273.16 K)), temperatures absolute",
    results="absolute pressure",
    source=Source("IAPWS 2011, sublimation pressure of ice", "memory"),
)
def frost_pressure(temperature: Temperature) -> float:
    """Vapour pressure over ice, which decides below 0 °C: the frost point.

    ln(p / 611.657) = (-21.2144006 s^0.00333333333 + 27.3203819 s^1.20666667
    - 6.10598130 s^1.70333333) / s, s = T / 273.16

    Parameters
    ----------
    temperature : float
        Air temperature, 173.15 to 273.16, [K]

    Returns
    -------
    float
        Vapour pressure, [Pa]

    Examples
    --------
    At -10 °C, 260 Pa:

    >>> round(frost_pressure(263.15), 1)
    259.9
    """
    within("temperature", temperature, "temperature", "°C", -100, 0.01)
    s = temperature / _TRIPLE_TEMPERATURE
    series = (
        -21.2144006 * s**0.00333333333 + 27.3203819 * s**1.20666667 - 6.10598130 * s**1.70333333
    )
    return _TRIPLE_PRESSURE * math.exp(series / s)


@formula(
    "Saturation pressure of water vapour, hand form",
    equation="saturation = 611.2 Pa × exp(17.62 × t / (243.12 + t)), t the °C of temperature",
    results="absolute pressure",
    source=Source("Magnus form", "memory"),
    absolute=False,
)
def saturation_pressure_by_hand(temperature: Temperature) -> float:
    """Vapour pressure over liquid water, for a pocket calculator.

    p = 611.2 exp(17.62 t / (243.12 + t)), t in °C

    Parameters
    ----------
    temperature : float
        Air temperature, 273.15 to 323.15; within 0.3 % there and drifting above, [K]

    Returns
    -------
    float
        Saturation pressure, [Pa]

    Examples
    --------
    >>> [round(saturation_pressure_by_hand(273.15 + t), 1) for t in (10, 20, 40)]
    [1226.0, 2332.6, 7367.5]
    """
    within("temperature", temperature, "temperature", "°C", 0, 50)
    celsius = temperature - ZERO_CELSIUS
    return 611.2 * math.exp(17.62 * celsius / (243.12 + celsius))


@formula(
    "Pressure of the water vapour in the air",
    equation="vapour = humidity × (saturation pressure at temperature)",
    results="absolute pressure",
    source=Source("definition of relative humidity", "computed"),
)
def vapour_pressure(temperature: Temperature, humidity: Ratio) -> float:
    """Part of the air pressure that is water vapour.

    e = RH p_sat(T), over water from 0 °C up, over ice below

    Parameters
    ----------
    temperature : float
        Air temperature, 173.15 to 373.15; any when the air is dry, [K]
    humidity : float
        Relative humidity, 0 to 1, [-]

    Returns
    -------
    float
        Vapour pressure, [Pa]

    Examples
    --------
    Half saturated air of 20 °C:

    >>> round(vapour_pressure(293.15, 0.5), 1)
    1169.6
    """
    above_zero("temperature", temperature, "temperature")
    fraction("humidity", humidity)
    if humidity == 0:
        return 0.0
    over = saturation_pressure if temperature >= ZERO_CELSIUS else frost_pressure
    return humidity * over(temperature)


def dry_pressure(pressure: float, temperature: float, humidity: float) -> float:
    """The pressure of the air without its water vapour."""
    above_zero("pressure", pressure, "absolute pressure")
    dry = pressure - vapour_pressure(temperature, humidity)
    if dry <= 0:
        raise InputError(
            "pressure", both(pressure, "absolute pressure"), "more than the pressure of its vapour"
        )
    return dry


@formula(
    "Density of moist air",
    equation="density = (pressure - e) / (287.05 × temperature) + e / (461.52 × temperature), "
    "e = humidity × (saturation pressure at temperature)"
    ", temperatures absolute",
    results="density",
    source=GAS_LAW,
)
def moist_density(pressure: AbsolutePressure, temperature: Temperature, humidity: Ratio) -> float:
    """Density of air with its water vapour, both as ideal gases.

    rho = (p - e) / (R_a T) + e / (R_v T), e = RH p_sat(T)

    Parameters
    ----------
    pressure : float
        Air pressure, [Pa]
    temperature : float
        Air temperature, [K]
    humidity : float
        Relative humidity, 0 to 1, [-]

    Returns
    -------
    float
        Density, [kg/m3]

    Examples
    --------
    At 101.325 kPa, 30 °C and 70 % humidity:

    >>> round(moist_density(101325.0, 303.15, 0.70), 4)
    1.1515
    """
    dry = dry_pressure(pressure, temperature, humidity)
    vapour = pressure - dry
    return (dry / GAS_CONSTANT + vapour / VAPOUR_GAS_CONSTANT) / temperature
