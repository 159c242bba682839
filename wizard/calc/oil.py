"""Viscosity of an oil from its grade and index, at any temperature."""

from __future__ import annotations

from math import log10
from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, within
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import KinematicViscosity, Number, Temperature, Time
from wizard.sources import Source
from wizard.tables import table

D341 = Source("ASTM D341, simplified form, from two points", "computed")
D2270 = Source("ASTM D2270, with the values of its Table 1", "confirmed")
D2161 = Source("ASTM D2161, equation for Saybolt universal seconds", "memory")

CENTISTOKES = 1e-6
FORTY = 313.15
HUNDRED = 373.15


class ViscosityLine(NamedTuple):
    """Constants of log log (v + 0.7) = intercept - slope log T, v in cSt, T in K."""

    intercept: float
    slope: float


def _viscosity(what: str, value: KinematicViscosity) -> None:
    within(what, value, "kinematic viscosity", "cSt", 2, 200_000)


@formula(
    "Viscosity index",
    equation="index = 100 × (L − viscosity_40) / (L − H), or (10^N − 1) / 0.00715 + 100 where "
    "viscosity_40 < H, with N = log(H / viscosity_40) / log(viscosity_100)",
    results="number",
    source=D2270,
)
def viscosity_index_of(
    viscosity_40: KinematicViscosity, viscosity_100: KinematicViscosity
) -> Number:
    """How little an oil thins with heat; higher is flatter.

    L and H are the viscosities at 40 °C of two reference oils that agree with it at 100 °C.

    Parameters
    ----------
    viscosity_40 : float
        Kinematic viscosity at 40 °C, [m2/s]
    viscosity_100 : float
        Kinematic viscosity at 100 °C, [m2/s]

    Returns
    -------
    float
        Viscosity index, [-]

    Notes
    -----
    From 2 to 40 cSt at 100 °C.

    Examples
    --------
    73.3 cSt and 8.86 cSt give 92 (example of ASTM D2270):

    >>> round(viscosity_index_of(73.3e-6, 8.86e-6))
    92
    """
    _viscosity("viscosity at 40 °C", viscosity_40)
    if viscosity_100 >= viscosity_40:
        raise InputError(
            "viscosity at 100 °C",
            both(viscosity_100, "kinematic viscosity"),
            "less than at 40 °C",
        )
    within("viscosity at 100 °C", viscosity_100, "kinematic viscosity", "cSt", 2, 40)
    return _index(viscosity_40 / CENTISTOKES, viscosity_100 / CENTISTOKES)


def _index(at_40: float, at_100: float) -> float:
    """Viscosity index from centistokes."""
    reference = table("viscosity_index")
    low = reference.between("viscosity_100", at_100, "low")
    high = reference.between("viscosity_100", at_100, "high")
    if at_40 > high:
        return 100 * (low - at_40) / (low - high)
    exponent = log10(high / at_40) / log10(at_100)
    return float((10**exponent - 1) / 0.00715 + 100)


@formula(
    "Viscosity at 100 °C from the index",
    equation="viscosity = the value at 100 °C that makes viscosity_40 an oil of VI index",
    results="kinematic viscosity",
    source=D2270,
)
def viscosity_at_100(viscosity_40: KinematicViscosity, index: Number) -> KinematicViscosity:
    """Viscosity at 100 °C of an oil known by its grade and viscosity index.

    The index rises with the viscosity at 100 °C, so that halving finds the one that fits.

    Parameters
    ----------
    viscosity_40 : float
        Kinematic viscosity at 40 °C, [m2/s]
    index : float
        Viscosity index, [-]

    Returns
    -------
    float
        Kinematic viscosity at 100 °C, [m2/s]

    Notes
    -----
    Index from 0 to 250; up to 40 cSt at 100 °C.

    Examples
    --------
    An ISO VG 100 oil of index 95, and one of index 130 (computed):

    >>> [round(viscosity_at_100(100e-6, index) * 1e6, 3) for index in (95.0, 130.0)]
    [11.066, 13.21]
    """
    _viscosity("viscosity at 40 °C", viscosity_40)
    within("viscosity index", index, "number", "", 0, 250)
    at_40 = viscosity_40 / CENTISTOKES
    low, high = 2.0, min(at_40, 40.0)
    if not _index(at_40, low) <= index <= _index(at_40, high):
        raise OutsideValidity(
            "viscosity index", f"{index:g} at {at_40:g} cSt", "2 to 40 cSt at 100 °C"
        )
    while high - low > 1e-12 * high:
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if _index(at_40, middle) < index else (low, middle)
    return (low + high) / 2 * CENTISTOKES


@formula(
    "Line of viscosity against temperature",
    equation="slope = (log log (viscosity_40 + 0.7) − log log (viscosity_100 + 0.7)) / "
    "(log 373.15 − log 313.15)",
    results={"intercept": "number", "slope": "number"},
    source=D341,
)
def viscosity_line(
    viscosity_40: KinematicViscosity, viscosity_100: KinematicViscosity
) -> ViscosityLine:
    """Straight line on which an oil lies in double-logarithmic paper.

    log10 log10(v + 0.7) = A - B log10 T, v in cSt, T in K, through 40 °C and 100 °C

    Parameters
    ----------
    viscosity_40 : float
        Kinematic viscosity at 40 °C, [m2/s]
    viscosity_100 : float
        Kinematic viscosity at 100 °C, [m2/s]

    Returns
    -------
    ViscosityLine
        Intercept A and slope B, [-]

    Examples
    --------
    100 cSt and 11.066 cSt (computed):

    >>> [round(v, 4) for v in viscosity_line(100e-6, 11.066e-6)]
    [9.2201, 3.5734]
    """
    _viscosity("viscosity at 40 °C", viscosity_40)
    _viscosity("viscosity at 100 °C", viscosity_100)
    if viscosity_100 >= viscosity_40:
        raise InputError(
            "viscosity at 100 °C",
            both(viscosity_100, "kinematic viscosity"),
            "less than at 40 °C",
        )
    slope = (_loglog(viscosity_40) - _loglog(viscosity_100)) / (log10(HUNDRED) - log10(FORTY))
    return ViscosityLine(_loglog(viscosity_40) + slope * log10(FORTY), slope)


def _loglog(viscosity: KinematicViscosity) -> float:
    return log10(log10(viscosity / CENTISTOKES + 0.7))


@formula(
    "Viscosity at a temperature",
    equation="viscosity = 10^(10^(A − B × log temperature)) − 0.7, A and B through viscosity_40 "
    "and viscosity_100",
    results="kinematic viscosity",
    source=D341,
)
def viscosity_at(
    temperature: Temperature,
    viscosity_40: KinematicViscosity,
    viscosity_100: KinematicViscosity,
) -> KinematicViscosity:
    """Viscosity of an oil at any temperature, from its values at 40 °C and 100 °C.

    v = 10^(10^(A - B log10 T)) - 0.7

    Parameters
    ----------
    temperature : float
        Temperature of the oil, [K]
    viscosity_40 : float
        Kinematic viscosity at 40 °C, [m2/s]
    viscosity_100 : float
        Kinematic viscosity at 100 °C, [m2/s]

    Returns
    -------
    float
        Kinematic viscosity, [m2/s]

    Notes
    -----
    From 2 to 200 000 cSt and above the pour point.

    Examples
    --------
    An oil of 100 cSt and 11.066 cSt at 20 °C and 80 °C (computed):

    >>> [round(viscosity_at(t, 100e-6, 11.066e-6) * 1e6, 1) for t in (293.15, 353.15)]
    [342.7, 19.4]
    """
    above_zero("temperature", temperature, "temperature")
    line = viscosity_line(viscosity_40, viscosity_100)
    exponent = line.intercept - line.slope * log10(temperature)
    if not exponent < log10(log10(200_000.8)):
        raise OutsideValidity(
            "temperature",
            both(temperature, "temperature"),
            "so warm that the oil is below 200000 cSt",
        )
    viscosity = float((10 ** (10**exponent) - 0.7) * CENTISTOKES)
    _viscosity("viscosity at that temperature", viscosity)
    return viscosity


@formula(
    "Temperature at a viscosity",
    equation="temperature = 10^((A − log log (viscosity + 0.7)) / B), A and B through "
    "viscosity_40 and viscosity_100",
    results="temperature",
    source=D341,
)
def temperature_at_viscosity(
    viscosity: KinematicViscosity,
    viscosity_40: KinematicViscosity,
    viscosity_100: KinematicViscosity,
) -> Temperature:
    """Temperature at which an oil has a given viscosity.

    T = 10^((A - log10 log10(v + 0.7))/B)

    Parameters
    ----------
    viscosity : float
        Kinematic viscosity wanted, [m2/s]
    viscosity_40 : float
        Kinematic viscosity at 40 °C, [m2/s]
    viscosity_100 : float
        Kinematic viscosity at 100 °C, [m2/s]

    Returns
    -------
    float
        Temperature, [K]

    Examples
    --------
    An oil of 100 cSt and 11.066 cSt is at 1000 cSt near 6.5 °C (computed):

    >>> round(temperature_at_viscosity(1000e-6, 100e-6, 11.066e-6) - 273.15, 2)
    6.52
    """
    _viscosity("viscosity", viscosity)
    line = viscosity_line(viscosity_40, viscosity_100)
    return float(10 ** ((line.intercept - _loglog(viscosity)) / line.slope))


@formula(
    "Saybolt universal seconds",
    equation="seconds = (1 + 0.000061 × (t_F − 100)) × (4.6324 v + (1 + 0.03264 v) / "
    "((3930.2 + 262.7 v + 23.97 v² + 1.646 v³) / 100000)), v = viscosity, t_F = temperature",
    results="time",
    source=D2161,
    absolute=False,
)
def saybolt_seconds(viscosity: KinematicViscosity, temperature: Temperature) -> Time:
    """Flow time of an oil in the Saybolt universal cup, in which old oil papers are written.

    v is in cSt, t_F in °F; about 4.63 s per cSt for thick oils

    Parameters
    ----------
    viscosity : float
        Kinematic viscosity at that temperature, [m2/s]
    temperature : float
        Temperature of the test, [K]

    Returns
    -------
    float
        Saybolt universal seconds, [s]

    Notes
    -----
    From 2 cSt and 0 °F to 350 °F.

    Examples
    --------
    42.9 cSt at 100 °F is 200 s (computed):

    >>> round(saybolt_seconds(42.9e-6, (100 + 459.67) / 1.8))
    200
    """
    _viscosity("viscosity", viscosity)
    within("temperature", temperature, "temperature", "°F", 0, 350)
    v = viscosity / CENTISTOKES
    at_100_f = 4.6324 * v + (1 + 0.03264 * v) / (
        (3930.2 + 262.7 * v + 23.97 * v**2 + 1.646 * v**3) * 1e-5
    )
    return (1 + 0.000061 * (temperature * 1.8 - 559.67)) * at_100_f
