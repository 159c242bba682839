"""Unbalance of the three phases and what it costs.

Invariant: unbalance is the largest deviation from the mean over the mean, never the spread.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Current, Ratio, Voltage
from wizard.sources import Source
from wizard.tables import table

DEFINITION = Source("NEMA MG 1-2011 Figure 20-2 and its definition of unbalance", "confirmed")


MOST = 1000
"""Volts or amperes above which a reading is no reading."""


class Unbalance(NamedTuple):
    """Mean of the three readings, and the largest deviation from it as a share of it."""

    mean: float
    unbalance: float


def _unbalance(what: str, readings: tuple[float, ...], kind: str, unit: str) -> Unbalance:
    if len(readings) != 3:
        raise InputError(what, f"{len(readings)} readings", "three readings, one a phase")
    for reading in readings:
        zero_or_above(what, reading, kind, unit)
        within(what, reading, kind, unit, 0, MOST)
    mean = sum(readings) / 3
    above_zero(f"mean of {what}", mean, kind, unit)
    return Unbalance(mean, max(abs(r - mean) for r in readings) / mean)


@formula(
    "Voltage unbalance",
    equation="unbalance = largest deviation of voltages from their mean / mean",
    results={"mean": "voltage", "unbalance": "ratio"},
    source=DEFINITION,
)
def unbalance_of_voltages(voltages: tuple[Voltage, ...]) -> Unbalance:
    """Mean line-to-line voltage and the largest deviation from it.

    unbalance = max(|V - mean|) / mean

    Parameters
    ----------
    voltages : tuple of float
        The three line-to-line voltages, [V]

    Returns
    -------
    Unbalance
        Mean, [V], and unbalance, [-]

    Examples
    --------
    462, 463 and 455 V are published as 1.1 % (NEMA MG 1-2011 Figure 20-2):

    >>> mean, unbalance = unbalance_of_voltages((462.0, 463.0, 455.0))
    >>> mean, round(unbalance, 6)
    (460.0, 0.01087)
    """
    return _unbalance("voltages", voltages, "voltage", "V")


@formula(
    "Current unbalance",
    equation="unbalance = largest deviation of currents from their mean / mean",
    results={"mean": "current", "unbalance": "ratio"},
    source=DEFINITION,
)
def unbalance_of_currents(currents: tuple[Current, ...]) -> Unbalance:
    """Mean line current and the largest deviation from it.

    unbalance = max(|I - mean|) / mean

    Parameters
    ----------
    currents : tuple of float
        The three line currents, [A]

    Returns
    -------
    Unbalance
        Mean, [A], and unbalance, [-]

    Examples
    --------
    >>> mean, unbalance = unbalance_of_currents((13.1, 12.2, 14.0))
    >>> round(mean, 6), round(unbalance, 6)
    (13.1, 0.068702)
    """
    return _unbalance("currents", currents, "current", "A")


@formula(
    "Negative-sequence share of three line voltages",
    equation="share = square root of ((1 - root(3 - 6 β)) / (1 + root(3 - 6 β))), "
    "β = sum of voltages to the 4th / (sum of voltages squared)²",
    results="ratio",
    source=Source("symmetrical components of a closed voltage triangle; IEC 61000-4-30", "memory"),
)
def negative_sequence(voltages: tuple[Voltage, ...]) -> Ratio:
    """Backward-turning share of the supply, from three magnitudes alone.

    β = (a⁴+b⁴+c⁴)/(a²+b²+c²)²; share = sqrt((1 - sqrt(3 - 6β))/(1 + sqrt(3 - 6β)))

    Parameters
    ----------
    voltages : tuple of float
        The three line-to-line voltages, [V]

    Returns
    -------
    float
        Negative over positive sequence, [-]

    Notes
    -----
    Three line-to-line voltages close a triangle. Readings that cannot close one were not
    taken together, and are refused.

    Examples
    --------
    >>> round(negative_sequence((480.0, 476.0, 472.0)), 7)
    0.0097039
    """
    _unbalance("voltages", voltages, "voltage", "V")
    longest = max(voltages)
    if 2 * longest > sum(voltages) * (1 + 1e-12):
        raise InputError(
            "voltages",
            ", ".join(both(v, "voltage") for v in voltages),
            "three readings of which none exceeds the sum of the other two",
        )
    beta = sum(v**4 for v in voltages) / sum(v**2 for v in voltages) ** 2
    root = math.sqrt(max(0.0, 3 - 6 * beta))
    return math.sqrt(max(0.0, 1 - root) / (1 + root))


@formula(
    "Derating for voltage unbalance",
    equation="factor = curve at unbalance, straight lines between its points",
    results="ratio",
    source=Source(
        "NEMA MG 1 14.36 curve, digitised to about ±0.01; the 1 % point from memory", "confirmed"
    ),
)
def unbalance_derating(unbalance: Ratio, at_3_percent: Ratio = 0.89) -> Ratio:
    """Share of rated power that a motor may give at a voltage unbalance.

    Parameters
    ----------
    unbalance : float
        Voltage unbalance, 0 to 5 %, [-]
    at_3_percent : float, optional
        Reading of the printed curve at 3 %, 0.88 or 0.89, [-]

    Returns
    -------
    float
        Factor on rated power, [-]

    Notes
    -----
    Above 5 % the curve ends and the motor must not run.

    Examples
    --------
    >>> round(unbalance_derating(0.028037), 5)
    0.9057
    """
    within("unbalance", unbalance, "ratio", "%", 0, 5)
    within("at_3_percent", at_3_percent, "ratio", "%", 88, 89)
    points = [(r["unbalance"], r["factor"]) for r in table("unbalance_derating").rows]
    points = [(u, at_3_percent if u == 3 else f) for u, f in points]
    percent = min(100 * unbalance, points[-1][0])
    (u0, f0), (u1, f1) = next(pair for pair in pairwise(points) if percent <= pair[1][0])
    return float(f0 + (f1 - f0) * (percent - u0) / (u1 - u0))
