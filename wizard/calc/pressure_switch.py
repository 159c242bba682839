"""Pressure switch: its band, how well it repeats, and how far a gauge is off.

Invariant: all pressures are gauge and from one test gauge.
"""

from __future__ import annotations

from typing import NamedTuple

from wizard.calc.accepted import above_zero
from wizard.calc.us_units import PSI
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import GaugePressure, PressureDifference, Ratio
from wizard.sources import COMMON_PRACTICE, Source

DEFINITION = Source("definition", "computed")


@formula(
    "Differential of a pressure switch",
    equation="differential = cut_out − cut_in",
    results="pressure difference",
    source=DEFINITION,
)
def switch_band(cut_out: GaugePressure, cut_in: GaugePressure) -> float:
    """Pressure between stopping and starting.

    differential = cut-out - cut-in

    Parameters
    ----------
    cut_out : float
        Pressure at which the motor stops, gauge, [Pa]
    cut_in : float
        Pressure at which it starts again, gauge, [Pa]

    Returns
    -------
    float
        Differential, [Pa]

    Examples
    --------
    >>> switch_band(175.0, 140.0)
    35.0
    """
    above_zero("cut_in", cut_in, "gauge pressure")
    if not cut_out > cut_in:
        raise InputError("cut-in", "at or above the cut-out", "a pressure below the cut-out")
    return cut_out - cut_in


class Spread(NamedTuple):
    """Mean and highest of the readings, their spread, and the spread over the mean."""

    mean: float
    highest: float
    spread: float
    share: float


@formula(
    "Spread of the cut-out readings",
    equation="spread = highest − lowest of readings",
    results={
        "mean": "gauge pressure",
        "highest": "gauge pressure",
        "spread": "pressure difference",
        "share": "ratio",
    },
    source=DEFINITION,
)
def cut_out_spread(readings: tuple[GaugePressure, ...]) -> Spread:
    """How well the switch repeats.

    spread = max - min; share = spread / mean

    Parameters
    ----------
    readings : tuple of float
        Cut-outs one after the other, gauge, [Pa]

    Returns
    -------
    Spread
        Mean and highest, gauge, [Pa]; spread, [Pa]; spread over mean, [-]

    Examples
    --------
    174, 176 and 175: spread 2, 1.1429 % of the mean

    >>> found = cut_out_spread((174.0, 176.0, 175.0))
    >>> found.mean, found.spread, round(100 * found.share, 4)
    (175.0, 2.0, 1.1429)
    """
    if not readings:
        raise InputError("readings", "nothing", "one reading or more")
    for reading in readings:
        above_zero("readings", reading, "gauge pressure")
    mean = sum(readings) / len(readings)
    spread = max(readings) - min(readings)
    return Spread(mean, max(readings), spread, spread / mean)


@formula(
    "Spread that is allowed",
    equation="allowed = larger of 3 psi and 2 % of mean",
    results="pressure difference",
    source=COMMON_PRACTICE,
)
def spread_allowance(mean: GaugePressure) -> PressureDifference:
    """Largest spread of three cut-outs of a sound switch.

    allowed = max(3 psi, 0.02 mean)

    Parameters
    ----------
    mean : float
        Mean cut-out, gauge, [Pa]

    Returns
    -------
    float
        Allowed spread, [Pa]

    Examples
    --------
    >>> round(spread_allowance(175 * 6894.757293168) / 6894.757293168, 6)
    3.5
    """
    above_zero("mean", mean, "gauge pressure")
    return max(3.0 * PSI, 0.02 * mean)


@formula(
    "Error of a gauge against the test gauge",
    equation="error = (panel − test) / test",
    results="ratio",
    source=DEFINITION,
)
def gauge_error(panel: GaugePressure, test: GaugePressure) -> Ratio:
    """How far the panel gauge is off, as a share of the test gauge.

    error = (panel - test) / test

    Parameters
    ----------
    panel : float
        Reading of the panel gauge, [Pa]
    test : float
        Reading of the test gauge at the same moment, [Pa]

    Returns
    -------
    float
        Error, negative when the panel gauge reads low, [-]

    Examples
    --------
    >>> gauge_error(168.0, 175.0)
    -0.04
    """
    above_zero("test", test, "gauge pressure")
    return (panel - test) / test
