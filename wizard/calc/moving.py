"""Forks and tipping: what a truck may carry at a load centre, when a machine falls over."""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero
from wizard.formula import formula
from wizard.kinds import Length, Mass
from wizard.sources import Source


@formula(
    "Fork capacity at the load centre",
    equation="capacity = smaller of rated and rated × rated_centre / load_centre",
    results="mass",
    source=Source("29 CFR 1910.178(o)(2); load moment about the face of the fork", "confirmed"),
)
def fork_capacity_at(rated: Mass, rated_centre: Length, load_centre: Length) -> float:
    """Load a truck may carry when the load's centre is farther out than on its plate.

    C = C0 d0 / d, never above the plate

    Parameters
    ----------
    rated : float
        Capacity on the truck's plate, [kg]
    rated_centre : float
        Load centre on the truck's plate, [m]
    load_centre : float
        Distance from the fork's face to the load's centre of gravity, [m]

    Returns
    -------
    float
        Capacity at that load centre, [kg]

    Notes
    -----
    The exact moment is about the front axle; taking it about the face of the fork is on the
    safe side. The truck's own plate for the attachment in use counts before this.

    Examples
    --------
    5000 lb at 24 in is 120 000 in·lb (published), so 4000 lb at 24 in is 3200 lb at 30 in:

    >>> round(fork_capacity_at(4000.0, 24 * 0.0254, 30 * 0.0254), 6)
    3200.0
    >>> fork_capacity_at(4000.0, 24 * 0.0254, 20 * 0.0254)
    4000.0
    """
    above_zero("rated", rated, "mass", "lb")
    above_zero("rated_centre", rated_centre, "length", "in")
    above_zero("load_centre", load_centre, "length", "in")
    return min(rated, rated * rated_centre / load_centre)


@formula(
    "Length of the forks against the depth of the load",
    equation="share = fork / depth",
    results="ratio",
    source=Source("definition", "computed"),
)
def fork_reach(fork: Length, depth: Length) -> float:
    """How much of the load's depth lies on the forks.

    Parameters
    ----------
    fork : float
        Length of the fork blades, [m]
    depth : float
        Depth of the load in the direction of the forks, [m]

    Returns
    -------
    float
        Fork over depth, [-]

    Examples
    --------
    >>> fork_reach(1.0, 1.25)
    0.8
    """
    above_zero("fork", fork, "length", "in")
    above_zero("depth", depth, "length", "in")
    return fork / depth


@formula(
    "Angle at which the machine tips",
    equation="angle = arctan(half_width / height)",
    results="angle",
    source=Source("centre of gravity over the edge of the base", "computed"),
)
def tipping_angle(half_width: Length, height: Length) -> float:
    """Slope at which the centre of gravity stands over the edge of the base.

    Parameters
    ----------
    half_width : float
        Level distance from the centre of gravity to the edge it would tip over, [m]
    height : float
        Height of the centre of gravity above the floor, [m]

    Returns
    -------
    float
        Tipping angle, [rad]

    Examples
    --------
    9 in beside a centre of gravity 32 in high:

    >>> round(math.degrees(tipping_angle(9.0, 32.0)), 3)
    15.709
    """
    above_zero("half_width", half_width, "length", "in")
    above_zero("height", height, "length", "in")
    return math.atan(half_width / height)


@formula(
    "Room on both sides of the load on its way",
    equation="room = opening - load",
    results="length",
    source=Source("definition", "computed"),
)
def route_room(opening: Length, load: Length) -> float:
    """What is left of the narrowest opening when the machine goes through.

    Parameters
    ----------
    opening : float
        Clear width or height of the narrowest place, [m]
    load : float
        Width or height of the machine on its skid or truck, [m]

    Returns
    -------
    float
        Room left, both sides together; negative where it does not fit, [m]

    Examples
    --------
    >>> round(route_room(1.0, 0.8), 3)
    0.2
    """
    above_zero("opening", opening, "length", "in")
    above_zero("load", load, "length", "in")
    return opening - load
