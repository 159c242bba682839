"""Speeds that the sheaves give, and their alignment."""

from __future__ import annotations

from math import radians

from wizard.both_units import both
from wizard.calc.sheave import (
    ALIGNMENT,
    ALIGNMENT_LIMIT,
    KINEMATICS,
    USUAL_SLIP,
    gap_at_angle,
    misalignment,
    pump_speed_from_sheaves,
    slip_from_speeds,
    surface_speed,
)
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Length, Ratio, RotationalSpeed
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

RIM_LIMIT = Source("6500 ft/min (33 m/s) for cast iron sheaves, usual limit of makers", "memory")
FASTEST_RIM = 6500 * 0.3048 / 60
SPEED_TOLERANCE = 0.03
USUAL_SPEED = (200 / 60, 2000 / 60)
GOOD_SLIP, MOST_SLIP = 0.02, 0.05
THROWS = radians(1.0)
BURSTS = "A flywheel that runs too fast bursts; the pieces go through guards and people."
CHANGE = "Fit sheaves that give the plate speed; never change a sheave for more air."


@check(
    "Pump speed from the sheaves",
    severity=Severity.SAFETY,
    source=(KINEMATICS, COMMON_PRACTICE),
    results={"pump_speed": "rotational speed"},
)
def pump_speed(
    motor_speed: RotationalSpeed,
    motor_sheave: Length,
    pump_sheave: Length,
    plate_speed: RotationalSpeed,
    maximum: RotationalSpeed,
    slip: Ratio = USUAL_SLIP,
) -> Finding:
    """Speed that the sheaves will give, at most the builder's maximum and within 3 % of the plate.

    Parameters
    ----------
    motor_speed : float
        Speed on the motor plate, [r/s]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    plate_speed : float
        Rated speed on the pump plate, [r/s]
    maximum : float
        Highest speed that the builder allows, [r/s]
    slip : float, optional
        Belt slip, 0.01 if not given, [-]
    """
    if not 0 < plate_speed <= maximum * (1 + 1e-9):
        raise InputError(
            "plate speed",
            both(plate_speed, "rotational speed"),
            f"more than zero and at most the maximum, {both(maximum, 'rotational speed')}",
        )
    found, step = work(
        pump_speed_from_sheaves,
        motor_speed=motor_speed,
        motor_sheave=motor_sheave,
        pump_sheave=pump_sheave,
        slip=slip,
    )
    off = found / plate_speed - 1
    verdict, severity, clears = Verdict.PASS, Severity.SAFETY, ""
    text = "The sheaves give the speed on the plate."
    if not at_most(found, maximum):
        verdict, clears = Verdict.FAIL, CHANGE
        text = f"The pump would run {100 * (found / maximum - 1):.1f} % over its highest speed."
    elif not at_most(abs(off), SPEED_TOLERANCE):
        verdict, severity, clears = Verdict.ADVISORY, Severity.ADVISORY, CHANGE
        side = "slower" if off < 0 else "faster"
        text = f"The pump would run {100 * abs(off):.1f} % {side} than its plate."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(found, "rotational speed"),
        Limit((1 - SPEED_TOLERANCE) * plate_speed, maximum, "rotational speed"),
        (step,),
        danger=BURSTS + " The pump also outruns its relief valve and its motor.",
        clears=clears,
        ask=""
        if USUAL_SPEED[0] <= found <= USUAL_SPEED[1]
        else "Are speed and both pitch diameters right? Such pumps turn at 200 to 2000 rpm.",
        results={"pump_speed": found},
    )


@check(
    "Rim speed",
    severity=Severity.SAFETY,
    source=RIM_LIMIT,
    results={"rim_speed": "speed"},
)
def rim_speed(diameter: Length, speed: RotationalSpeed) -> Finding:
    """Speed at the rim of a sheave or flywheel, at most 6500 ft/min.

    Parameters
    ----------
    diameter : float
        Outside diameter, [m]
    speed : float
        Speed of that shaft, [r/s]
    """
    found, step = work(surface_speed, diameter=diameter, turning=speed)
    sound = at_most(found, FASTEST_RIM)
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The rim stays below the limit for cast iron."
        if sound
        else f"The rim runs {100 * (found / FASTEST_RIM - 1):.1f} % over the limit for cast iron.",
        Severity.SAFETY,
        Quantity(found, "speed"),
        Limit(None, FASTEST_RIM, "speed"),
        (step,),
        danger=BURSTS,
        clears="" if sound else CHANGE,
        results={"rim_speed": found},
    )


@check(
    "Belt slip under load",
    severity=Severity.HANDOVER,
    source=(KINEMATICS, OUR_JUDGEMENT),
    results={"slip": "ratio"},
)
def belt_slip(
    pump_speed: RotationalSpeed,
    motor_speed: RotationalSpeed,
    motor_sheave: Length,
    pump_sheave: Length,
) -> Finding:
    """Slip from a tachometer on both shafts: up to 2 % is usual, above 5 % the belt burns.

    Parameters
    ----------
    pump_speed : float
        Measured speed of the pump, loaded, [r/s]
    motor_speed : float
        Measured speed of the motor, loaded, [r/s]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    """
    slip, step = work(
        slip_from_speeds,
        motor_speed=motor_speed,
        pump_speed=pump_speed,
        motor_sheave=motor_sheave,
        pump_sheave=pump_sheave,
    )
    if not at_least(slip, -0.01):
        raise InputError(
            "belt slip",
            both(slip, "ratio"),
            "0 % to 5 %; the diameters may be swapped, or be outside and not pitch diameters",
        )
    verdict, text, clears = Verdict.PASS, "The belts hold their grip.", ""
    if not at_most(slip, MOST_SLIP):
        verdict, text = Verdict.FAIL, "The belts slip so much that they will burn."
        clears = "Stop, lock out, set the tension, and look for oil on the belts."
    elif not at_most(slip, GOOD_SLIP):
        verdict, text = Verdict.ADVISORY, "The belts slip more than they should."
        clears = "Check tension and sheaves at the first recheck."
    return Finding(
        verdict,
        text,
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.HANDOVER,
        Quantity(slip, "ratio"),
        Limit(None, MOST_SLIP, "ratio"),
        (step,),
        danger="A belt that slips burns, throws itself off and lets the pump stall under load.",
        clears=clears,
        results={"slip": slip},
    )


@check(
    "Alignment of the sheaves",
    severity=Severity.SAFETY,
    source=(Source("straightedge across both faces: NAVFAC MO-206", "confirmed"), ALIGNMENT),
    results={"misalignment": "angle"},
)
def belt_alignment(gap: Length, across: Length) -> Finding:
    """Sheaves within half a degree; beyond one degree the belt is thrown.

    Parameters
    ----------
    gap : float
        Largest gap between straightedge and sheave face, [m]
    across : float
        Distance that the gap was measured across, usually the centre distance, [m]
    """
    angle, step = work(misalignment, gap=gap, across=across)
    _, gap_step = work(gap_at_angle, across=across, angle=ALIGNMENT_LIMIT)
    verdict, severity = Verdict.PASS, Severity.SAFETY
    text, clears = "The sheaves are in line.", ""
    if not at_most(angle, ALIGNMENT_LIMIT):
        verdict, severity = Verdict.FAIL, Severity.HANDOVER
        text = "The sheaves are more than half a degree out of line."
        clears = "Shift and turn the motor until the straightedge touches, with the belts tight."
    if not at_most(angle, THROWS):
        severity = Severity.SAFETY
        text = "The sheaves are more than one degree out of line: the belt will be thrown."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(angle, "angle"),
        Limit(None, ALIGNMENT_LIMIT, "angle"),
        (step, gap_step),
        danger="Belts out of line turn over and are thrown at whoever stands beside the guard.",
        clears=clears,
        ask="Was the gap measured over the distance between the sheaves, not over a sheave?"
        if across < 0.15
        else "",
        results={"misalignment": angle},
    )
