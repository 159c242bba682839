"""The belt drive as built: wrap, span, length, number of belts, test deflection."""

from __future__ import annotations

from math import radians

from wizard.calc.accepted import above_zero
from wizard.calc.belt import belt_length_shop, belt_pitch_length, free_span, wrap_angle
from wizard.calc.belt_tension import DEFLECTION_RULE, deflection_for_span
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Length
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT

LEAST_WRAP, GOOD_WRAP = radians(120), radians(140)
DEFLECTION_TOLERANCE = 0.10
SPAN_TOLERANCE = 0.05
LENGTH_TOLERANCE = 0.02
SLIP_DANGER = "A belt that slips burns, throws itself off and lets the pump stall under load."


@check(
    "Wrap of the belt on the motor sheave",
    severity=Severity.HANDOVER,
    source=COMMON_PRACTICE,
    results={"wrap": "angle", "span": "length", "length": "length"},
)
def belt_wrap(centre_distance: Length, pump_sheave: Length, motor_sheave: Length) -> Finding:
    """Grip of the smaller sheave; under 120° it cannot hold, under 140° it is thin.

    Parameters
    ----------
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    """
    drive = (centre_distance, pump_sheave, motor_sheave)
    names = ("centre_distance", "pump_sheave", "motor_sheave")
    given = dict(zip(names, drive, strict=True))
    wrap, wrap_step = work(wrap_angle, **given)
    span, span_step = work(free_span, **given)
    length, length_step = work(belt_pitch_length, **given)
    verdict, text = Verdict.PASS, "The belt wraps far enough round the motor sheave."
    if not at_least(wrap, LEAST_WRAP):
        verdict, text = Verdict.FAIL, "The belt wraps too little of the motor sheave to grip."
    elif not at_least(wrap, GOOD_WRAP):
        verdict, text = Verdict.ADVISORY, "The wrap is thin: keep the tension up and look often."
    return Finding(
        verdict,
        text,
        Severity.HANDOVER if verdict is Verdict.FAIL else Severity.ADVISORY,
        Quantity(wrap, "angle"),
        Limit(LEAST_WRAP, None, "angle"),
        (wrap_step, span_step, length_step),
        danger=SLIP_DANGER,
        clears=""
        if verdict is Verdict.PASS
        else "Longer centres or a larger motor sheave, "
        "as the builder allows; the pump speed must stay as on its plate.",
        results={"wrap": wrap, "span": span, "length": length},
    )


@check(
    "Measured span against the sheaves",
    severity=Severity.ADVISORY,
    source=OUR_JUDGEMENT,
)
def belt_span(
    span: Length, centre_distance: Length, pump_sheave: Length, motor_sheave: Length
) -> Finding:
    """Whether the tape agrees with the geometry, within 5 %.

    Parameters
    ----------
    span : float
        Measured between the points where the belt leaves the sheaves, [m]
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    """
    above_zero("span", span, "length", "mm")
    expected, step = work(
        free_span,
        centre_distance=centre_distance,
        pump_sheave=pump_sheave,
        motor_sheave=motor_sheave,
    )
    low, high = (1 - SPAN_TOLERANCE) * expected, (1 + SPAN_TOLERANCE) * expected
    agrees = at_least(span, low) and at_most(span, high)
    took_centres = abs(span / centre_distance - 1) < 0.002 < abs(expected / centre_distance - 1)
    return Finding(
        Verdict.PASS if agrees else Verdict.ADVISORY,
        "The span agrees with centres and sheaves."
        if agrees
        else "Span, centres and sheaves do not fit together: one of them is wrong.",
        Severity.ADVISORY,
        Quantity(span, "length"),
        Limit(low, high, "length"),
        (step,),
        danger="A wrong span makes every deflection and tension that follows wrong.",
        clears="" if agrees else "Measure the span, the centres and the pitch diameters again.",
        ask="Is this the span? It equals the distance between the shafts." if took_centres else "",
    )


@check(
    "Belt length against the drive",
    severity=Severity.ADVISORY,
    source=OUR_JUDGEMENT,
)
def belt_length(
    length: Length, centre_distance: Length, pump_sheave: Length, motor_sheave: Length
) -> Finding:
    """Whether the pitch length on the belt fits centres and sheaves, within 2 %.

    Parameters
    ----------
    length : float
        Pitch length of the belt, from its marking and data sheet, [m]
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    """
    above_zero("belt length", length, "length", "mm")
    given = {
        "centre_distance": centre_distance,
        "pump_sheave": pump_sheave,
        "motor_sheave": motor_sheave,
    }
    expected, exact = work(belt_pitch_length, **given)
    _, shop = work(belt_length_shop, **given)
    low, high = (1 - LENGTH_TOLERANCE) * expected, (1 + LENGTH_TOLERANCE) * expected
    fits = at_least(length, low) and at_most(length, high)
    return Finding(
        Verdict.PASS if fits else Verdict.ADVISORY,
        "The belt length fits the drive."
        if fits
        else f"The belt is {100 * (length / expected - 1):+.1f} % off the length of the drive.",
        Severity.ADVISORY,
        Quantity(length, "length"),
        Limit(low, high, "length"),
        (exact, shop),
        danger="Spares ordered by a wrong length do not fit, or leave no room to tighten.",
        clears=""
        if fits
        else "Compare pitch length with pitch length; outside and inside lengths differ from it.",
    )


@check("Belts against grooves", severity=Severity.ADVISORY, source=OUR_JUDGEMENT)
def belt_count(belts: int, grooves: int) -> Finding:
    """Whether every groove of the motor sheave carries its belt.

    Parameters
    ----------
    belts : int
        Belts fitted, [-]
    grooves : int
        Grooves of the motor sheave, [-]
    """
    for what, value in (("belts", belts), ("grooves", grooves)):
        if not 1 <= value <= 12:
            raise InputError(what, str(value), "1 to 12")
    if belts > grooves:
        raise InputError("belts", str(belts), f"at most the {grooves} grooves of the motor sheave")
    full = belts == grooves
    return Finding(
        Verdict.PASS if full else Verdict.ADVISORY,
        "Every groove has its belt."
        if full
        else f"{grooves - belts} of {grooves} grooves without a belt: the others carry the load.",
        Severity.ADVISORY,
        Quantity(float(belts), "number"),
        Limit(float(grooves), None, "number"),
        danger=SLIP_DANGER,
        clears="" if full else "Fit a matched set, or keep the builder's word that fewer will do.",
    )


@check(
    "Test deflection of the belt",
    severity=Severity.HANDOVER,
    source=DEFLECTION_RULE,
    results={"span": "length", "target": "length"},
)
def belt_deflection(
    deflection: Length, centre_distance: Length, pump_sheave: Length, motor_sheave: Length
) -> Finding:
    """Whether the belt was pushed by 1/64 of its span, within 10 %, so that the force counts.

    Parameters
    ----------
    deflection : float
        Deflection at mid-span at which the force was read, [m]
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    """
    above_zero("deflection", deflection, "length", "mm")
    span, span_step = work(
        free_span,
        centre_distance=centre_distance,
        pump_sheave=pump_sheave,
        motor_sheave=motor_sheave,
    )
    target, step = work(deflection_for_span, span=span)
    comparable = at_least(deflection, (1 - DEFLECTION_TOLERANCE) * target) and at_most(
        deflection, (1 + DEFLECTION_TOLERANCE) * target
    )
    return Finding(
        Verdict.PASS if comparable else Verdict.INCONCLUSIVE,
        "The belt was pushed as far as the force test wants."
        if comparable
        else "The belt was pushed too far or too little for its force to mean anything.",
        Severity.HANDOVER,
        Quantity(deflection, "length"),
        Limit((1 - DEFLECTION_TOLERANCE) * target, (1 + DEFLECTION_TOLERANCE) * target, "length"),
        (span_step, step),
        danger=SLIP_DANGER,
        clears="" if comparable else "Push to 1/64 of the span and read the force there.",
        results={"span": span, "target": target},
    )
