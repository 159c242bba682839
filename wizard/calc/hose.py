"""Hoses: working pressure when hot, against relief and burst, and the length that movement needs.

Invariant: working, burst and set pressures are gauge.
"""

from __future__ import annotations

from math import sqrt

from wizard.both_units import both
from wizard.calc.accepted import above_zero, zero_or_above
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import GaugePressure, Length, Ratio, Temperature
from wizard.sources import Source
from wizard.tables import table

BREATHING_HOSE = Source("46 CFR 197.312(a), by analogy", "confirmed")


RATINGS = ("US, a quarter of burst", "ISO 10380")
_TABLES = dict(zip(RATINGS, ("metal_hose_factors", "metal_hose_factors_iso"), strict=True))
HOTTEST = (400 + 459.67) / 1.8


@formula(
    "Share of working pressure that a metal hose keeps when hot",
    equation="factor = table of metal hose factors of rating, at temperature",
    results="ratio",
    source=(
        Source("lowest of the common braid alloys in US hose tables", "memory"),
        Source("ISO 10380 factors as quoted in hose tables, grade 304L", "confirmed"),
    ),
    absolute=False,
)
def metal_hose_factor(temperature: Temperature, rating: str = RATINGS[0]) -> float:
    """Derating of a metal hose, by straight line between the rows of the table.

    Parameters
    ----------
    temperature : float
        Temperature of hose wall or air, the higher, up to 477.6 (400 °F), [K]
    rating : str, optional
        How the working pressure was set: US, a quarter of burst; or ISO 10380, whose hoses
        are rated higher when cold and lose more when hot

    Returns
    -------
    float
        Share of the working pressure when cold, 1 below room temperature, [-]

    Examples
    --------
    325 °F lies half way between 0.83 and 0.81:

    >>> round(metal_hose_factor((325 + 459.67) / 1.8), 6)
    0.82
    >>> metal_hose_factor(373.15, "ISO 10380")
    0.72
    """
    above_zero("temperature", temperature, "temperature")
    if rating not in _TABLES:
        raise OutsideValidity("rating of the hose", rating, "; ".join(RATINGS))
    if temperature > HOTTEST * (1 + 1e-9):
        raise OutsideValidity(
            "temperature of a metal hose",
            both(temperature, "temperature"),
            f"up to {both(HOTTEST, 'temperature')}",
        )
    factors = table(_TABLES[rating])
    coolest, hottest = factors.rows[0]["temperature"], factors.rows[-1]["temperature"]
    if temperature <= coolest:
        return 1.0
    return factors.between("temperature", min(temperature, hottest), "factor")


@formula(
    "Working pressure of a hose at its temperature",
    equation="hot = working_pressure × factor",
    results="gauge pressure",
    source=Source("definition", "computed"),
)
def hot_working_pressure(working_pressure: GaugePressure, factor: Ratio) -> float:
    """Working pressure that is left at the hose's temperature.

    WP_T = WP f

    Parameters
    ----------
    working_pressure : float
        Marked working pressure, gauge, [Pa]
    factor : float
        Share left at the temperature, [-]

    Returns
    -------
    float
        Working pressure when hot, gauge, [Pa]

    Examples
    --------
    300 psig at 300 °F:

    >>> round(hot_working_pressure(300.0, 0.83), 6)
    249.0
    """
    above_zero("working_pressure", working_pressure, "gauge pressure")
    if not 0 < factor <= 1:
        raise InputError("factor", f"{factor:g}", "above 0 to 1")
    return working_pressure * factor


@formula(
    "Hose working pressure over the relief setting",
    equation="ratio = working_pressure / relief_set",
    results="ratio",
    source=BREATHING_HOSE,
)
def hose_to_relief(working_pressure: GaugePressure, relief_set: GaugePressure) -> float:
    """How the hose compares with the highest pressure that the relief valve lets stand.

    ratio = WP / set

    Parameters
    ----------
    working_pressure : float
        Working pressure at the hose's temperature, gauge, [Pa]
    relief_set : float
        Set pressure of the relief valve that protects it, gauge, [Pa]

    Returns
    -------
    float
        Ratio, [-]

    Examples
    --------
    >>> hose_to_relief(250.0, 200.0)
    1.25
    """
    above_zero("working_pressure", working_pressure, "gauge pressure")
    above_zero("relief_set", relief_set, "gauge pressure")
    return working_pressure / relief_set


@formula(
    "Burst pressure over working pressure",
    equation="ratio = burst / working_pressure",
    results="ratio",
    source=BREATHING_HOSE,
)
def burst_to_working(burst: GaugePressure, working_pressure: GaugePressure) -> float:
    """Safety ratio of a hose.

    ratio = burst / WP

    Parameters
    ----------
    burst : float
        Burst pressure from the certificate, gauge, [Pa]
    working_pressure : float
        Working pressure, gauge, [Pa]

    Returns
    -------
    float
        Ratio, [-]

    Examples
    --------
    >>> burst_to_working(720.0, 200.0)
    3.6
    """
    above_zero("working_pressure", working_pressure, "gauge pressure")
    if not burst > working_pressure:
        raise InputError("burst", "at or below the working pressure", "a higher pressure; swapped?")
    return burst / working_pressure


@formula(
    "Live length of a hose that takes a sideways movement",
    equation="length = √(6 × bend_radius × offset + offset²)",
    results="length",
    source=Source("geometry of corrugated hose, common to hose tables", "memory"),
)
def hose_live_length(bend_radius: Length, offset: Length) -> float:
    """Flexible length, without the fittings, that an offset movement needs.

    L = sqrt(6 R T + T^2)

    Parameters
    ----------
    bend_radius : float
        Smallest bend radius of the hose, [m]
    offset : float
        Movement across the hose, total travel, [m]

    Returns
    -------
    float
        Live length, [m]

    Examples
    --------
    Radius 8 in, movement 1 in: 7 in

    >>> hose_live_length(8.0, 1.0)
    7.0
    """
    above_zero("bend_radius", bend_radius, "length")
    zero_or_above("offset", offset, "length")
    return sqrt(6.0 * bend_radius * offset + offset**2)
