"""First start: rotation, guard, unloaded run, pressure steps, hand stop and emergency stop.

Invariant: "not sure" is never good enough to go on.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.first_start import hand_stop_pressure
from wizard.checks.relief import BURST, unit_question
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import GaugePressure, Ratio, Time
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

GUARD_LAW = Source("29 CFR 1910.219(e), belts and pulleys within reach are guarded", "memory")
STOP_LAW = Source("NFPA 79 and IEC 60204-1: reset does not restart", "memory")
SEEN = ("as the arrow", "against the arrow", "not sure")


@check("Direction of rotation", severity=Severity.SAFETY, source=COMMON_PRACTICE)
def rotation(seen: str) -> Finding:
    """The flywheel turns the way of the arrow; a breeze proves nothing.

    Parameters
    ----------
    seen : str
        as the arrow, against the arrow, not sure
    """
    one_of("direction seen", seen, SEEN)
    sound = seen == SEEN[0]
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "It turns as the arrow." if sound else f"The direction is {seen}.",
        Severity.SAFETY,
        danger="Turning backwards, the fan does not cool and the splash may not oil; "
        "the pump cooks within the hour.",
        clears=""
        if sound
        else "Lock out. A licensed electrician exchanges two leads at the starter; bump again.",
    )


GUARDS = (
    "fitted all round, no reach to a belt",
    "fitted, but a finger or hand can reach a belt",
    "not fitted",
)


@check("Belt guard", severity=Severity.SAFETY, source=(GUARD_LAW, COMMON_PRACTICE))
def guard(state: str) -> Finding:
    """No start without a guard that keeps every finger out.

    Parameters
    ----------
    state : str
        fitted all round; fitted, but a belt can be reached; not fitted
    """
    one_of("guard", state, GUARDS)
    sound = state == GUARDS[0]
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The guard keeps hands out." if sound else f"The belt guard is {state}.",
        Severity.SAFETY,
        danger="The machine starts by itself; belts and spokes take fingers, hands and sleeves.",
        clears="" if sound else "Lock out and fit the whole guard before any start.",
    )


@check(
    "Length of the unloaded run",
    severity=Severity.HANDOVER,
    source=COMMON_PRACTICE,
)
def unloaded_run(duration: Time) -> Finding:
    """Thirty minutes with no pressure; 20 minutes is the least that practice knows.

    Parameters
    ----------
    duration : float
        Time run with tank outlet and drain open, [s]
    """
    above_zero("run time", duration, "time", "min")
    passed = Finding(
        Verdict.PASS,
        "It has run long enough without pressure.",
        Severity.HANDOVER,
        Quantity(duration, "time"),
        Limit(1800.0, None, "time"),
        danger="Rings and bearings that are loaded before they have oil score at once.",
    )
    if at_least(duration, 1800.0):
        return passed
    if at_least(duration, 1200.0):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Between 20 and 30 minutes: on the short side.",
        )
    return replace(
        passed,
        verdict=Verdict.FAIL,
        text="Less than 20 minutes without pressure.",
        clears="Run it on with outlet and drain open to 30 minutes in all.",
    )


@check(
    "Pressure of the first hold",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
)
def first_hold(pressure: GaugePressure) -> Finding:
    """Low enough to find leaks safely: 25 to 30 psi, 1.7 to 2.1 bar.

    Parameters
    ----------
    pressure : float
        Tank pressure during the first soap test, gauge, [Pa]
    """
    above_zero("tank pressure", pressure, "gauge pressure")
    limit = Limit(1.7e5, 2.1e5, "gauge pressure")
    sound = at_least(pressure, 1.7e5) and at_most(pressure, 2.1e5)
    way = "above" if pressure > 2.1e5 else "below"
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "Right for the first soap test."
        if sound
        else f"The pressure is {way} the band for the first soap test.",
        Severity.HANDOVER,
        Quantity(pressure, "gauge pressure"),
        limit,
        danger="A joint that was never tight is found at a pressure that can hurt.",
        clears="" if sound else "Bring the tank into the band and soap every joint there.",
    )


@check(
    "Pressure step of the first rise",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
)
def pressure_step(pressure: GaugePressure, cut_out: GaugePressure, share: Ratio) -> Finding:
    """The rise stops at a share of the cut-out, give or take 5 % of it.

    Parameters
    ----------
    pressure : float
        Tank pressure of this step, gauge, [Pa]
    cut_out : float
        Expected cut-out, gauge, [Pa]
    share : float
        Share of the cut-out that the step asks for, [-]
    """
    above_zero("tank pressure", pressure, "gauge pressure")
    above_zero("expected cut-out", cut_out, "gauge pressure")
    inside("share", share, "ratio", "%", 5, 100)
    low, high = (share - 0.05) * cut_out, (share + 0.05) * cut_out
    sound = at_least(pressure, low) and at_most(pressure, high)
    way = "above" if pressure > high else "below"
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "Right for this step." if sound else f"The pressure is {way} this step.",
        Severity.HANDOVER,
        Quantity(pressure, "gauge pressure"),
        Limit(low, high, "gauge pressure"),
        danger="Skipping a step finds a weak part at a pressure that can kill.",
        clears="" if sound else "Bring the tank to the step, hold five minutes and look again.",
        ask=unit_question(pressure, cut_out),
    )


@check(
    "Hand stop",
    severity=Severity.SAFETY,
    source=OUR_JUDGEMENT,
    results={"pressure": "gauge pressure"},
)
def hand_stop(
    expected_cut_out: GaugePressure,
    relief_set: GaugePressure,
    reached: GaugePressure | None = None,
) -> Finding:
    """The test gauge reading at which a person stops the motor, and whether it was passed.

    Parameters
    ----------
    expected_cut_out : float
        Cut-out that the switch is meant to have, gauge, [Pa]
    relief_set : float
        Stamp on the relief valve, gauge, [Pa]
    reached : float, optional
        Highest reading of the test gauge in the rise to cut-out, gauge, [Pa]
    """
    above_zero("expected cut-out", expected_cut_out, "gauge pressure")
    above_zero("relief setting", relief_set, "gauge pressure")
    above_zero("highest reading", reached, "gauge pressure")
    if expected_cut_out >= relief_set:
        raise InputError(
            "expected cut-out",
            both(expected_cut_out, "gauge pressure"),
            f"less than the relief setting, {both(relief_set, 'gauge pressure')}",
        )
    stop, step = work(hand_stop_pressure, expected_cut_out=expected_cut_out, relief_set=relief_set)
    shown = both(stop, "gauge pressure")
    passed = Finding(
        Verdict.PASS,
        f"Stop by hand if the test gauge passes {shown}."
        if reached is None
        else "The switch stopped the motor before the hand-stop pressure.",
        Severity.SAFETY,
        Quantity(stop if reached is None else reached, "gauge pressure"),
        Limit(None, stop, "gauge pressure"),
        (step,),
        danger="With a stuck switch nothing but the relief valve is left. " + BURST,
        results={"pressure": stop},
    )
    if reached is None or at_most(reached, stop):
        return passed
    return replace(
        passed,
        verdict=Verdict.FAIL,
        text=f"The pressure passed the hand-stop pressure, {shown}.",
        clears="Lock out, blow down, repair or replace the switch, and start the rise again.",
    )


STOPS = (
    "stops at once and starts only by the start button after reset",
    "starts by itself on reset",
    "does not stop it",
)


@check("Emergency stop under load", severity=Severity.SAFETY, source=(STOP_LAW, COMMON_PRACTICE))
def emergency_stop(behaviour: str) -> Finding:
    """It stops the machine, and resetting it starts nothing.

    Parameters
    ----------
    behaviour : str
        What the machine did
    """
    one_of("emergency stop", behaviour, STOPS)
    sound = behaviour == STOPS[0]
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The emergency stop works." if sound else f"The emergency stop {behaviour}.",
        Severity.SAFETY,
        danger="Somebody caught in the belt cannot be freed, or is caught again on reset.",
        clears=""
        if sound
        else "Lock out; a licensed electrician repairs the circuit, then test it again.",
    )
