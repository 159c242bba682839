"""Louvers: free area, overall area and the velocity between the blades."""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within
from wizard.formula import formula
from wizard.kinds import Area, Flow, Ratio, Speed
from wizard.sources import Source


@formula(
    "Free area of a louver",
    equation="free area = flow / velocity",
    results="area",
    source=Source("continuity", "computed"),
)
def louver_free_area(flow: Flow, velocity: Speed) -> float:
    """Open area that passes a flow at a face velocity.

    Parameters
    ----------
    flow : float
        Air flow, [m3/s]
    velocity : float
        Velocity through the open area, [m/s]

    Returns
    -------
    float
        Free area, [m2]

    Examples
    --------
    1200 cfm at 400 ft/min need 3 ft2:

    >>> round(louver_free_area(1200 * 0.0004719474432, 400 * 0.00508) / 0.3048 ** 2, 6)
    3.0
    """
    above_zero("flow", flow, "flow", "cfm")
    above_zero("velocity", velocity, "speed", "m/s")
    return flow / velocity


@formula(
    "Outside size of a louver",
    equation="gross area = free_area / free_share",
    results="area",
    source=Source("definition of the free-area ratio", "computed"),
)
def louver_gross_area(free_area: Area, free_share: Ratio) -> float:
    """Overall area of a louver whose blades leave a share of it open.

    Parameters
    ----------
    free_area : float
        Open area needed, [m2]
    free_share : float
        Open over overall area, above 0 to 1, [-]

    Returns
    -------
    float
        Overall area, [m2]

    Examples
    --------
    3 ft2 with 45 % open blades are 6.67 ft2 of louver:

    >>> round(louver_gross_area(3.0, 0.45), 4)
    6.6667
    """
    above_zero("free_area", free_area, "area", "ft2")
    above_zero("free_share", free_share, "ratio", "%")
    within("free_share", free_share, "ratio", "%", 0, 100)
    return free_area / free_share


@formula(
    "Velocity through a louver",
    equation="velocity = flow / (gross_area × free_share)",
    results="speed",
    source=Source("continuity", "computed"),
)
def louver_velocity(flow: Flow, gross_area: Area, free_share: Ratio) -> float:
    """Velocity of the air between the blades.

    Parameters
    ----------
    flow : float
        Air flow, [m3/s]
    gross_area : float
        Overall area of the louver, [m2]
    free_share : float
        Open over overall area, above 0 to 1, [-]

    Returns
    -------
    float
        Velocity, [m/s]

    Examples
    --------
    >>> louver_velocity(0.5, 0.5, 0.5)
    2.0
    """
    above_zero("flow", flow, "flow", "cfm")
    above_zero("gross_area", gross_area, "area", "ft2")
    above_zero("free_share", free_share, "ratio", "%")
    within("free_share", free_share, "ratio", "%", 0, 100)
    return flow / (gross_area * free_share)
