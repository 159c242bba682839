"""Speeds and alignment of the sheaves."""

from __future__ import annotations

from math import atan, pi, radians, tan

from wizard.both_units import both
from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import Angle, Length, Ratio, RotationalSpeed, Speed
from wizard.sources import Source

KINEMATICS = Source("kinematics of a belt drive", "computed")
ALIGNMENT = Source("geometry; 0.5° in all is common practice", "memory")
USUAL_SLIP = 0.01
ALIGNMENT_LIMIT = radians(0.5)


@formula(
    "Pump speed from the sheaves",
    equation="pump_speed = motor_speed × motor_sheave / pump_sheave × (1 − slip)",
    results="rotational speed",
    source=KINEMATICS,
)
def pump_speed_from_sheaves(
    motor_speed: RotationalSpeed,
    motor_sheave: Length,
    pump_sheave: Length,
    slip: Ratio = USUAL_SLIP,
) -> RotationalSpeed:
    """Speed of the pump from the motor speed and the pitch diameters.

    n_pump = n_motor d/D (1 - s)

    Parameters
    ----------
    motor_speed : float
        Speed of the motor, [r/s]
    motor_sheave : float
        Pitch diameter of the motor sheave, not the outside diameter, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    slip : float, optional
        Belt slip, 0.01 to 0.02 for a good belt, [-]

    Returns
    -------
    float
        Pump speed, [r/s]

    Notes
    -----
    Slip from 0 to 5 %.

    Examples
    --------
    1750 rpm, 4.5 in on 18 in, 1 % slip (computed):

    >>> pump_speed_from_sheaves(1750 / 60, 0.1143, 0.4572, 0.01) * 60
    433.125
    """
    above_zero("motor speed", motor_speed, "rotational speed", "rpm")
    above_zero("motor sheave", motor_sheave, "length", "mm")
    if pump_sheave < motor_sheave:
        raise InputError(
            "pump sheave",
            both(pump_sheave, "length"),
            f"at least the motor sheave, {both(motor_sheave, 'length')}; the two may be swapped",
        )
    within("slip", slip, "ratio", "%", 0, 5)
    return motor_speed * motor_sheave / pump_sheave * (1 - slip)


@formula(
    "Belt slip from two speeds",
    equation="slip = 1 − pump_speed × pump_sheave / (motor_speed × motor_sheave)",
    results="ratio",
    source=KINEMATICS,
)
def slip_from_speeds(
    motor_speed: RotationalSpeed,
    pump_speed: RotationalSpeed,
    motor_sheave: Length,
    pump_sheave: Length,
) -> Ratio:
    """Slip of the belt from a tachometer on both shafts.

    s = 1 - n_pump D/(n_motor d)

    Parameters
    ----------
    motor_speed : float
        Measured speed of the motor, loaded, [r/s]
    pump_speed : float
        Measured speed of the pump, loaded, [r/s]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]

    Returns
    -------
    float
        Slip, [-]

    Examples
    --------
    433.125 rpm behind 1750 rpm on a 4:1 ratio is 1 % (computed):

    >>> round(slip_from_speeds(1750 / 60, 433.125 / 60, 0.1143, 0.4572), 9)
    0.01
    """
    above_zero("motor speed", motor_speed, "rotational speed", "rpm")
    above_zero("pump speed", pump_speed, "rotational speed", "rpm")
    above_zero("motor sheave", motor_sheave, "length", "mm")
    above_zero("pump sheave", pump_sheave, "length", "mm")
    return 1 - pump_speed * pump_sheave / (motor_speed * motor_sheave)


@formula(
    "Speed at a rim",
    equation="speed = π × diameter × turning",
    results="speed",
    source=KINEMATICS,
)
def surface_speed(diameter: Length, turning: RotationalSpeed) -> Speed:
    """Speed of the belt at a pitch diameter, or of the rim at an outside diameter.

    v = pi d n

    Parameters
    ----------
    diameter : float
        Pitch diameter for the belt, outside diameter for the rim, [m]
    turning : float
        Speed of that shaft, [r/s]

    Returns
    -------
    float
        Speed, [m/s]

    Examples
    --------
    An 18 in flywheel at 1400 rpm runs at 6597.3 ft/min (computed):

    >>> round(surface_speed(18 * 0.0254, 1400 / 60) / 0.3048 * 60, 1)
    6597.3
    """
    above_zero("diameter", diameter, "length", "mm")
    above_zero("speed", turning, "rotational speed", "rpm")
    return pi * diameter * turning


@formula(
    "Angle out of line",
    equation="angle = atan(gap / across)",
    results="angle",
    source=ALIGNMENT,
)
def misalignment(gap: Length, across: Length) -> Angle:
    """Angle between sheaves from the gap under a straightedge.

    angle = atan(gap/across)

    Parameters
    ----------
    gap : float
        Largest gap between straightedge and sheave face, [m]
    across : float
        Distance the gap was measured across, usually the centre distance, [m]

    Returns
    -------
    float
        Angle, [rad]

    Examples
    --------
    6.5452 mm over 750 mm is half a degree (computed):

    >>> from math import degrees
    >>> round(degrees(misalignment(0.0065452, 0.750)), 4)
    0.5
    """
    zero_or_above("gap", gap, "length", "mm")
    above_zero("distance measured across", across, "length", "mm")
    return atan(gap / across)


@formula(
    "Largest gap under the straightedge",
    equation="gap = across × tan(angle)",
    results="length",
    source=ALIGNMENT,
)
def gap_at_angle(across: Length, angle: Angle = ALIGNMENT_LIMIT) -> Length:
    """Gap under a straightedge that an angle out of line makes.

    gap = across tan(angle); half a degree is 8.7 mm per metre, 0.105 in per foot

    Parameters
    ----------
    across : float
        Distance the gap is measured across, [m]
    angle : float, optional
        Angle out of line, [rad]

    Returns
    -------
    float
        Gap, [m]

    Examples
    --------
    Half a degree over 30 in and over 12 in (computed):

    >>> round(gap_at_angle(30 * 0.0254) / 0.0254, 5), round(gap_at_angle(12 * 0.0254) / 0.0254, 5)
    (0.26181, 0.10472)
    """
    above_zero("distance measured across", across, "length", "mm")
    return across * tan(angle)
