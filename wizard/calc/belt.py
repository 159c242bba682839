"""The geometry of an open belt drive: span, wrap and length from centres and pitch diameters."""

from __future__ import annotations

from math import asin, cos, pi, sqrt

from wizard.both_units import both
from wizard.calc.accepted import above_zero
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Angle, Length
from wizard.sources import Source

GEOMETRY = Source("geometry of an open belt round two circles", "computed")


def _must_be_a_drive(centre_distance: Length, pump_sheave: Length, motor_sheave: Length) -> None:
    """Refuse lengths that cannot be a drive; InputError says which one."""
    sizes = {
        "centre distance": centre_distance,
        "pump sheave": pump_sheave,
        "motor sheave": motor_sheave,
    }
    for name, value in sizes.items():
        above_zero(name, value, "length", "mm")
    if pump_sheave < motor_sheave:
        raise InputError(
            "pump sheave",
            both(pump_sheave, "length"),
            f"at least the motor sheave, {both(motor_sheave, 'length')}; the two may be swapped",
        )
    if centre_distance <= (pump_sheave + motor_sheave) / 2:
        raise InputError(
            "centre distance",
            both(centre_distance, "length"),
            f"more than {both((pump_sheave + motor_sheave) / 2, 'length')}, or the sheaves touch",
        )


@formula(
    "Free span of a belt",
    equation="span = √((centre_distance)² − ((pump_sheave − motor_sheave) / 2)²)",
    results="length",
    source=GEOMETRY,
)
def free_span(centre_distance: Length, pump_sheave: Length, motor_sheave: Length) -> Length:
    """Length of belt between the points where it leaves the two sheaves.

    t = sqrt(C^2 - ((D - d)/2)^2)

    Parameters
    ----------
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]

    Returns
    -------
    float
        Free span, [m]

    Notes
    -----
    Valid for sheaves that do not touch and a pump sheave no smaller than the motor sheave.

    Examples
    --------
    Centres 750 mm, sheaves 400 mm and 112 mm, computed from the geometry:

    >>> round(free_span(0.750, 0.400, 0.112) * 1000, 2)
    736.05
    """
    _must_be_a_drive(centre_distance, pump_sheave, motor_sheave)
    return sqrt(centre_distance**2 - ((pump_sheave - motor_sheave) / 2) ** 2)


@formula(
    "Wrap on the motor sheave",
    equation="wrap = 180° − 2 × asin((pump_sheave − motor_sheave) / (2 × centre_distance))",
    results="angle",
    source=GEOMETRY,
)
def wrap_angle(centre_distance: Length, pump_sheave: Length, motor_sheave: Length) -> Angle:
    """Angle over which the belt touches the smaller sheave.

    theta = pi - 2 asin((D - d)/(2 C))

    Parameters
    ----------
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]

    Returns
    -------
    float
        Wrap, [rad]

    Examples
    --------
    Centres 30 in, sheaves 18 in and 4.5 in, computed from the geometry:

    >>> from math import degrees
    >>> round(degrees(wrap_angle(0.762, 0.4572, 0.1143)), 2)
    153.99
    """
    _must_be_a_drive(centre_distance, pump_sheave, motor_sheave)
    return pi - 2 * asin((pump_sheave - motor_sheave) / (2 * centre_distance))


@formula(
    "Pitch length of a belt",
    equation="length = 2 × centre_distance × cos a + π × (pump_sheave + motor_sheave) / 2 + "
    "a × (pump_sheave − motor_sheave)",
    results="length",
    source=GEOMETRY,
)
def belt_pitch_length(centre_distance: Length, pump_sheave: Length, motor_sheave: Length) -> Length:
    """Pitch length of the belt that fits the drive.

    L = 2 C cos a + pi (D + d)/2 + a (D - d), a = asin((D - d)/(2 C))

    Parameters
    ----------
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]

    Returns
    -------
    float
        Pitch length, [m]

    Examples
    --------
    Centres 30 in, sheaves 18 in and 4.5 in, checked against coordinates:

    >>> round(belt_pitch_length(0.762, 0.4572, 0.1143) / 0.0254, 3)
    96.868
    """
    _must_be_a_drive(centre_distance, pump_sheave, motor_sheave)
    a = asin((pump_sheave - motor_sheave) / (2 * centre_distance))
    return (
        2 * centre_distance * cos(a)
        + pi * (pump_sheave + motor_sheave) / 2
        + a * (pump_sheave - motor_sheave)
    )


@formula(
    "Pitch length of a belt, shop form",
    equation="length = 2 × centre_distance + 1.5708 × (pump_sheave + motor_sheave) + "
    "(pump_sheave − motor_sheave)² / (4 × centre_distance)",
    results="length",
    source=GEOMETRY,
)
def belt_length_shop(centre_distance: Length, pump_sheave: Length, motor_sheave: Length) -> Length:
    """Pitch length by the usual shop formula, which is a little short.

    L = 2 C + pi/2 (D + d) + (D - d)^2/(4 C)

    Parameters
    ----------
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]

    Returns
    -------
    float
        Pitch length, [m]

    Notes
    -----
    First terms of the series of the exact length; 0.01 % short for usual drives.

    Examples
    --------
    Centres 30 in, sheaves 18 in and 4.5 in; the exact length is 96.868 in:

    >>> round(belt_length_shop(0.762, 0.4572, 0.1143) / 0.0254, 3)
    96.862
    """
    _must_be_a_drive(centre_distance, pump_sheave, motor_sheave)
    difference = pump_sheave - motor_sheave
    return (
        2 * centre_distance
        + pi / 2 * (pump_sheave + motor_sheave)
        + difference**2 / (4 * centre_distance)
    )
