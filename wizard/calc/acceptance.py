"""Delivery against its rating: the tolerance of the flow class and the lowest accepted flow.

Invariant: a delivery is compared at the pressure and at the speed of its rating.
"""

from __future__ import annotations

from typing import NamedTuple

from wizard.calc.accepted import above_zero, fraction, zero_or_above
from wizard.calc.gas import MASS_BALANCE
from wizard.formula import formula
from wizard.kinds import Flow, Ratio, Time
from wizard.sources import Source
from wizard.tables import table

ISO_1217 = Source("ISO 1217:2009 Annex C, simplified acceptance test", "memory")
_SLACK = 1e-9


class Tolerance(NamedTuple):
    """Tolerances of one flow class, shares of the rated value."""

    flow: float
    specific_energy: float


@formula(
    "Tolerance of a rated delivery",
    equation="tolerance = class of rated_flow",
    results={"flow": "ratio", "specific_energy": "ratio"},
    source=ISO_1217,
)
def rating_tolerance(rated_flow: Flow) -> Tolerance:
    """Tolerances that the simplified acceptance test allows by size.

    Delivery 7 % below 0.5 m3/min, 6 % up to 1.5, 5 % up to 15, 4 % above; specific energy one
    per cent more.

    Parameters
    ----------
    rated_flow : float
        Rated free air delivered, [m3/s]

    Returns
    -------
    Tolerance
        Tolerance of delivery and of specific energy, [-]

    Examples
    --------
    0.9 m3/min is in the class of 6 %:

    >>> rating_tolerance(0.9 / 60)
    Tolerance(flow=0.06, specific_energy=0.07)
    """
    above_zero("rated_flow", rated_flow, "flow")
    minute = 60 * rated_flow
    found = table("iso1217_tolerances").rows[0]
    for row in table("iso1217_tolerances").rows:
        slack = _SLACK * row["above"]
        border = row["above"] - slack if row["included"] else row["above"] + slack
        if minute > border:
            found = row
    return Tolerance(found["flow"], found["specific_energy"])


@formula(
    "Lowest accepted delivery",
    equation="lowest = rated_flow × (1 - tolerance)",
    results="flow",
    source=ISO_1217,
)
def lowest_accepted_flow(rated_flow: Flow, tolerance: Ratio) -> float:
    """Lowest delivery that still meets the rating.

    limit = Q_rated (1 - tol)

    Parameters
    ----------
    rated_flow : float
        Rated free air delivered, [m3/s]
    tolerance : float
        Tolerance of the flow class, [-]

    Returns
    -------
    float
        Lowest accepted delivery, [m3/s]

    Examples
    --------
    0.400 m3/min less 7 % is 0.372 m3/min:

    >>> round(60 * lowest_accepted_flow(0.4 / 60, 0.07), 6)
    0.372
    """
    above_zero("rated_flow", rated_flow, "flow")
    fraction("tolerance", tolerance)
    return rated_flow * (1 - tolerance)


@formula(
    "Delivery at rated pressure from the average of a pump-up",
    equation="flow = average_flow × falling_time / constant_time",
    results="flow",
    source=MASS_BALANCE,
)
def flow_at_rated_pressure(average_flow: Flow, falling_time: Time, constant_time: Time) -> float:
    """Delivery at rated pressure, from the average over a pump-up that begins lower.

    Q_rated = Q_average t_falling / t_constant: a pump delivers more at low pressure, by as much
    as its pump-up time is shorter than at constant delivery.

    Parameters
    ----------
    average_flow : float
        Average free air over the pump-up, [m3/s]
    falling_time : float
        Predicted time with delivery that falls with pressure, [s]
    constant_time : float
        Predicted time with the rated delivery throughout, [s]

    Returns
    -------
    float
        Free air at rated pressure, [m3/s]

    Examples
    --------
    A single-stage pump-up predicted at 368.56 s against 392.97 s at constant delivery:

    >>> round(flow_at_rated_pressure(1.0, 368.56, 392.97), 4)
    0.9379
    """
    zero_or_above("average_flow", average_flow, "flow")
    above_zero("falling_time", falling_time, "time")
    above_zero("constant_time", constant_time, "time")
    return average_flow * falling_time / constant_time
