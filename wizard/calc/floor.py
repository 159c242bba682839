"""Floors: average and local load, slope."""

from __future__ import annotations

import math
from typing import NamedTuple

from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.formula import formula
from wizard.kinds import Area, Length, Mass, Ratio, Stress
from wizard.quantities import from_si, to_si
from wizard.sources import Source
from wizard.tables import table

GRAVITY = 9.80665
BEARING_SHARE = 0.35

DEFINITION = Source("weight over area", "computed")
ACI = Source("ACI 318, bearing on concrete, taken at 0.35 of the strength", "memory")


class Slope(NamedTuple):
    """Slope as rise over run, and as an angle in rad."""

    slope: float
    angle: float


@formula(
    "Average load on the floor",
    equation="load = weight × 9.80665 m/s2 / (length × width)",
    results="stress",
    source=DEFINITION,
)
def average_floor_load(weight: Mass, length: Length, width: Length) -> float:
    """Weight of the machine spread over its footprint.

    Parameters
    ----------
    weight : float
        Weight of the machine as it stands, [kg]
    length : float
        Length of the footprint, [m]
    width : float
        Width of the footprint, [m]

    Returns
    -------
    float
        Load on the floor, [Pa]

    Examples
    --------
    1650 lb over 48 in by 30 in are 165 lb/ft2:

    >>> load = average_floor_load(1650 * 0.45359237, 48 * 0.0254, 30 * 0.0254)
    >>> round(from_si(load, "stress", "psf"), 6)
    165.0
    """
    above_zero("weight", weight, "mass", "lb")
    above_zero("length", length, "length", "in")
    above_zero("width", width, "length", "in")
    return weight * GRAVITY / (length * width)


@formula(
    "Pressure under the feet",
    equation="pressure = weight × 9.80665 m/s2 × uneven / (feet × contact)",
    results="stress",
    source=Source("weight over contact area with an allowance for uneven feet", "judgement"),
)
def foot_pressure(weight: Mass, feet: int, contact: Area, uneven: Ratio = 1.5) -> float:
    """Pressure under the most loaded foot.

    q = W s / (n A)

    Parameters
    ----------
    weight : float
        Weight of the machine as it stands, [kg]
    feet : int
        Feet that stand on the floor, 3 to 8
    contact : float
        Area of one foot or pad on the floor, [m2]
    uneven : float, optional
        How much more than its share the worst foot carries, 1 to 3, [-]

    Returns
    -------
    float
        Pressure on the floor, [Pa]

    Examples
    --------
    1650 lb on four feet of 9 in2 with 1.5 for uneven feet are 68.75 psi:

    >>> q = foot_pressure(1650 * 0.45359237, 4, 9 * 0.0254**2)
    >>> round(from_si(q, "stress", "psi"), 6)
    68.75
    """
    above_zero("weight", weight, "mass", "lb")
    within("feet", float(feet), "number", "", 3, 8)
    above_zero("contact", contact, "area", "in2")
    within("uneven", uneven, "ratio", "", 1, 3)
    return weight * GRAVITY * uneven / (feet * contact)


@formula(
    "Pressure that concrete takes",
    equation="allowed = 0.35 × strength",
    results="stress",
    source=ACI,
)
def allowed_bearing(strength: Stress) -> float:
    """Pressure that may act on a small area of a concrete floor.

    Parameters
    ----------
    strength : float
        Compressive strength of the concrete, 10 MPa to 70 MPa, [Pa]

    Returns
    -------
    float
        Allowed pressure, [Pa]

    Examples
    --------
    3000 psi concrete takes 1050 psi:

    >>> round(from_si(allowed_bearing(3000 * 6894.757293168), "stress", "psi"), 6)
    1050.0
    """
    within("strength", strength, "stress", "MPa", 10, 70)
    return BEARING_SHARE * strength


@formula(
    "Floor class that the load asks for",
    equation="rating = lightest class of floor at or above load",
    results="stress",
    source=Source("International Building Code, live loads of manufacturing floors", "memory"),
)
def floor_class(load: Stress) -> float:
    """The lightest class of manufacturing floor that is designed for the load.

    Parameters
    ----------
    load : float
        Average load on the floor, [Pa]

    Returns
    -------
    float
        Design live load of that class, [Pa]

    Examples
    --------
    165 lb/ft2 needs a floor for 250 lb/ft2:

    >>> round(from_si(floor_class(to_si(165.0, "stress", "psf")), "stress", "psf"), 6)
    250.0
    """
    above_zero("load", load, "stress", "psf")
    within("load", load, "stress", "psf", 0, table("floor_live_loads").rows[-1]["load"])
    row = table("floor_live_loads").at_or_above("load", from_si(load, "stress", "psf"))
    return to_si(float(row["load"]), "stress", "psf")


@formula(
    "Slope of the machine",
    equation="slope = rise / run",
    results={"slope": "ratio", "angle": "angle"},
    source=Source("definition", "computed"),
)
def machine_slope(rise: Length, run: Length) -> Slope:
    """How far out of level, as a ratio and as an angle.

    slope = rise / run, angle = arctan(rise / run); in/ft = 12 slope

    Parameters
    ----------
    rise : float
        Height difference between the ends of the level, [m]
    run : float
        Length of the level, [m]

    Returns
    -------
    Slope
        Rise over run, [-], and angle, [rad]

    Examples
    --------
    0.20 in over 48 in is 0.05 in/ft or 0.23873°:

    >>> slope, angle = machine_slope(0.20, 48.0)
    >>> round(12 * slope, 9), round(math.degrees(angle), 5)
    (0.05, 0.23873)
    """
    zero_or_above("rise", rise, "length", "in")
    above_zero("run", run, "length", "in")
    return Slope(rise / run, math.atan2(rise, run))
