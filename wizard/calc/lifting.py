"""Slings: angles, tension of each leg, capacity of a hitch and of a shackle.

Invariant: sling angles are measured from the horizontal, loads are in the unit of the tags
(mass).
"""

from __future__ import annotations

import math
from typing import NamedTuple

from wizard.calc.accepted import above_zero, one_of, within, zero_or_above
from wizard.calc.loads import LOADS
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Angle, Length, Mass
from wizard.sources import Source
from wizard.tables import table

HITCHES = ("straight", "choker", "basket")

STATICS = Source("statics of a load on inclined slings; 29 CFR 1926.251 sling tables", "confirmed")
GEOMETRY = Source("right triangle of sling, height and half span", "computed")


class TwoLegs(NamedTuple):
    """Tension of the leg nearer to and farther from the centre of gravity, kg."""

    near: float
    far: float


def _load(what: str, weight: float) -> None:
    within(what, weight, "mass", "lb", *LOADS)


def _legs(legs: int) -> None:
    within("legs", float(legs), "number", "", 1, 4)


@formula(
    "Legs of a sling that are credited",
    equation="credited = smaller of legs and limit",
    results="number",
    source=Source(
        "a rigid load can hang on two legs of four: US Navy Steelworker handbook, volume 2",
        "confirmed",
    ),
)
def credited_legs(legs: int, limit: int = 2) -> int:
    """Legs that are taken to carry; a four-leg sling is never taken to carry on four.

    Parameters
    ----------
    legs : int
        Legs of the sling, 1 to 4
    limit : int, optional
        2, or 3 where a qualified rigger has equalised the legs on a rigid load

    Returns
    -------
    int
        Legs credited

    Examples
    --------
    >>> credited_legs(4), credited_legs(1), credited_legs(4, 3)
    (2, 1, 3)
    """
    _legs(legs)
    within("limit", float(limit), "number", "", 2, 3)
    return min(legs, limit)


@formula(
    "Tension of one sling leg",
    equation="tension = weight / (credited × sin(angle))",
    results="mass",
    source=STATICS,
)
def leg_tension(weight: Mass, credited: int, angle: Angle) -> float:
    """Pull in one leg when the load hangs evenly.

    T = W / (n sin(theta)), theta from the horizontal

    Parameters
    ----------
    weight : float
        Weight on the hook, 23 to 9000, [kg]
    credited : int
        Legs taken to carry, 1 to 3
    angle : float
        Angle of the legs from the horizontal, above 0 to 90°, [rad]

    Returns
    -------
    float
        Tension of one leg, in the unit of the sling tag, [kg]

    Notes
    -----
    At 30° each of two legs carries as much as the whole machine weighs.

    Examples
    --------
    1000 lb on two legs: 577 lb at 60°, 707 lb at 45°, 1000 lb at 30° (published factors
    0.577, 0.707, 1.000):

    >>> from math import radians
    >>> [round(leg_tension(1000.0, 2, radians(a)), 2) for a in (60, 45, 30)]
    [577.35, 707.11, 1000.0]
    """
    _load("weight", weight)
    within("credited", float(credited), "number", "", 1, 3)
    _sling_angle(angle)
    return weight / (credited * math.sin(angle))


def _sling_angle(angle: float) -> None:
    above_zero("angle", angle, "angle", "°")
    within("angle", angle, "angle", "°", 0, 90)


@formula(
    "Tension of two legs, centre of gravity off the middle",
    equation="near = weight × far_distance / (near_distance + far_distance) "
    "× sqrt(near_distance ^ 2 + height ^ 2) / height, far likewise",
    results={"near": "mass", "far": "mass"},
    source=STATICS,
)
def two_leg_tensions(
    weight: Mass, near_distance: Length, far_distance: Length, height: Length
) -> TwoLegs:
    """Pull in each of two legs when the hook is straight above the centre of gravity.

    V_near = W b / (a + b), V_far = W a / (a + b), T = V / sin(arctan(h / distance))

    Parameters
    ----------
    weight : float
        Weight on the hook, 23 to 9000, [kg]
    near_distance : float
        Level distance from the centre of gravity to the nearer pick point, [m]
    far_distance : float
        Level distance from the centre of gravity to the farther pick point, [m]
    height : float
        Height of the hook above the pick points, [m]

    Returns
    -------
    TwoLegs
        Tension of the nearer and of the farther leg, [kg]

    Examples
    --------
    900 lb, 14 in and 22 in from the centre of gravity, hook 30 in up:

    >>> [round(t, 2) for t in two_leg_tensions(900.0, 14 * 0.0254, 22 * 0.0254, 30 * 0.0254)]
    [606.94, 434.03]
    """
    _load("weight", weight)
    zero_or_above("near_distance", near_distance, "length", "in")
    above_zero("far_distance", far_distance, "length", "in")
    above_zero("height", height, "length", "in")
    span = near_distance + far_distance
    near = weight * far_distance / span
    far = weight * near_distance / span
    return TwoLegs(
        near * math.hypot(near_distance, height) / height,
        far * math.hypot(far_distance, height) / height,
    )


@formula(
    "Sling angle from rise and distance",
    equation="angle = arctan(height / distance)",
    results="angle",
    source=GEOMETRY,
)
def sling_angle(height: Length, distance: Length) -> float:
    """Angle of a leg from the horizontal.

    Parameters
    ----------
    height : float
        Height of the hook above the pick point, [m]
    distance : float
        Level distance from below the hook to the pick point, [m]

    Returns
    -------
    float
        Angle from the horizontal, [rad]

    Examples
    --------
    >>> round(math.degrees(sling_angle(1.0, 1.0)), 9)
    45.0
    """
    above_zero("height", height, "length", "in")
    zero_or_above("distance", distance, "length", "in")
    return math.atan2(height, distance)


@formula(
    "Height of the hook above the pick points",
    equation="height = sqrt(length ^ 2 - (span / 2) ^ 2)",
    results="length",
    source=GEOMETRY,
)
def hook_height(length: Length, span: Length) -> float:
    """Height that slings of one length reach over pick points a span apart.

    Parameters
    ----------
    length : float
        Length of one leg, [m]
    span : float
        Distance between the pick points of opposite legs; 0 for one vertical sling, [m]

    Returns
    -------
    float
        Height of the hook above the pick points, [m]

    Examples
    --------
    4 ft slings over points 4.2 ft apart hang at 58.332°:

    >>> height = hook_height(4 * 0.3048, 4.2 * 0.3048)
    >>> round(math.degrees(sling_angle(height, 2.1 * 0.3048)), 3)
    58.332
    """
    above_zero("length", length, "length", "in")
    zero_or_above("span", span, "length", "in")
    if length <= span / 2:
        raise InputError(
            "length", "a sling no longer than half the span", "a sling longer than half the span"
        )
    return math.sqrt(length**2 - (span / 2) ** 2)


@formula(
    "Capacity of a sling in the hitch used",
    equation="capacity = rating × factor(hitch) × sin(angle)",
    results="mass",
    source=Source("ASME B30.9, choker and basket hitches", "memory"),
)
def hitch_capacity(rating: Mass, hitch: str, angle: Angle = math.pi / 2) -> float:
    """Load one sling may carry in a straight, choker or basket hitch.

    straight 1, choker 0.75, basket 2 sin(theta)

    Parameters
    ----------
    rating : float
        Vertical working load on the sling tag, [kg]
    hitch : str
        straight, choker or basket
    angle : float, optional
        Angle of the two halves of a basket from the horizontal; vertical unless given, [rad]

    Returns
    -------
    float
        Capacity in this hitch, [kg]

    Notes
    -----
    Where the tag gives a choker rating, that rating counts and the hitch is straight here.

    Examples
    --------
    >>> from math import radians
    >>> hitch_capacity(1000.0, "choker"), round(hitch_capacity(1000.0, "basket", radians(60)), 2)
    (750.0, 1732.05)
    """
    above_zero("rating", rating, "mass", "lb")
    one_of("hitch", hitch, HITCHES)
    _sling_angle(angle)
    factor = float(table("hitch_factors").row("hitch", hitch)["factor"])
    return rating * factor * (math.sin(angle) if hitch == "basket" else 1.0)


@formula(
    "Capacity of a shackle pulled from the side",
    equation="capacity = rating × factor for side_angle",
    results="mass",
    source=Source("ASME B30.26, side loading", "memory"),
)
def shackle_side_capacity(rating: Mass, side_angle: Angle) -> float:
    """Load left to a shackle when the pull is not in line with it.

    in line 100 %, up to 45° 70 %, up to 90° 50 %

    Parameters
    ----------
    rating : float
        Working load on the shackle, [kg]
    side_angle : float
        Angle of the pull from the line of the shackle, 0 to 90°, [rad]

    Returns
    -------
    float
        Capacity at that angle, [kg]

    Notes
    -----
    Between the tabled angles the next larger one counts.

    Examples
    --------
    >>> from math import radians
    >>> [round(shackle_side_capacity(2000.0, radians(a)), 9) for a in (0, 20, 45, 90)]
    [2000.0, 1400.0, 1400.0, 1000.0]
    """
    above_zero("rating", rating, "mass", "lb")
    within("side_angle", side_angle, "angle", "°", 0, 90)
    row = table("shackle_side_load").at_or_above("angle", math.degrees(side_angle))
    return float(rating * row["factor"])
