"""Belt tension by push and by pitch, against what the power and the speed of the drive need."""

from __future__ import annotations

from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero
from wizard.calc.belt import belt_pitch_length, free_span, wrap_angle
from wizard.calc.belt_tension import (
    BALANCE,
    BELT_FRICTION,
    STRING,
    TENSION_RATIO,
    deflection_for_span,
    deflection_force,
    frequency_at_tension,
    needed_tension,
    tension_from_frequency,
    tension_from_push,
)
from wizard.calc.sheave import surface_speed
from wizard.checks.belt import DEFLECTION_TOLERANCE
from wizard.checks.given import given
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Force, Frequency, Length, MassPerLength, Power, RotationalSpeed
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source
from wizard.tables import table

FORCE_BAND = Source("between the least force and 1.5 times it; a new belt near the top", "memory")
SERVICE = Source(
    "service factor of a piston pump on an electric motor, 8 to 10 h a day: 1.3; "
    "belt makers' tables give 1.2 to 1.4",
    "memory",
)
SERVICE_FACTOR = 1.3
MOST, NEW_LEAST = 1.5, 1.3
NEAR = 0.15
"""Share by which a tension told by its pitch may be off: the mass of a belt is uncertain."""
AGREE = 0.05
LOOSE = "A loose belt slips, burns and squeals; the pump stalls against the tank."
TIGHT = "A tight belt breaks bearings and shafts of motor and pump."
MASS_MISSING = Finding(
    Verdict.INCONCLUSIVE,
    "The mass of the belt is not known, so its tension cannot be judged.",
    Severity.HANDOVER,
    danger=LOOSE,
    clears="Give the belt section, or its mass per length from the data sheet.",
)


def _mass(section: str | None, mass: MassPerLength | None, heavy: bool) -> MassPerLength | None:
    """Mass per length as given, else the usual one of the section; None if neither is known."""
    if mass is not None:
        above_zero("belt mass", mass, "mass per length", "kg/m")
        return mass
    rows = [row for row in table("belt_sections").rows if row["name"] == section]
    if not rows:
        return None
    low, high = float(rows[0]["low"]), float(rows[0]["high"])
    return high if heavy else (low + high) / 2


@check(
    "Belt force at the test deflection",
    severity=Severity.HANDOVER,
    source=(FORCE_BAND, SERVICE, BELT_FRICTION, TENSION_RATIO, BALANCE),
    results={"needed_tension": "force", "most_tension": "force", "tension": "force"},
)
def belt_force(
    force: tuple[Force, ...],
    deflection: Length,
    centre_distance: Length,
    pump_sheave: Length,
    motor_sheave: Length,
    motor_speed: RotationalSpeed,
    power: Power,
    belts: int,
    section: str | None = None,
    mass: MassPerLength | None = None,
    stiffness: Force | None = None,
    builder_force: tuple[Force, ...] | None = None,
    state: str | None = None,
) -> Finding:
    """Force on each belt between the least that carries the power and 1.5 times it.

    Parameters
    ----------
    force : tuple of float
        Forces read on the belts, [N]
    deflection : float
        Deflection at mid-span at which they were read, [m]
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    motor_speed : float
        Speed of the motor, [r/s]
    power : float
        Power of the motor, [W]
    belts : int
        Belts fitted, [-]
    section : str, optional
        Belt section, as "B or BX"
    mass : float, optional
        Mass of one belt per length, from its data sheet, [kg/m]
    stiffness : float, optional
        Stiffness constant Y, if the belt maker gives one, [N]
    builder_force : tuple of float, optional
        Least and greatest force from the machine's papers; they come first, [N]
    state : str, optional
        "new" or "run in"
    """
    for one in force:
        above_zero("force", one, "force", "N")
    drive = (centre_distance, pump_sheave, motor_sheave)
    span, span_step = work(free_span, **_named(drive))
    target, target_step = work(deflection_for_span, span=span)
    push = {
        "deflection": deflection,
        "span": span,
        "stiffness": stiffness or 0.0,
        "belt_length": belt_pitch_length(*drive),
    }
    lowest, tension_step = work(tension_from_push, force=min(force), **push)
    if builder_force:
        band = _builder(builder_force, push)
    elif (weight := _mass(section, mass, heavy=True)) is None:
        return MASS_MISSING
    else:
        band = _needed(drive, motor_speed, power, belts, weight, push)
    steps = (span_step, target_step, *band.steps, tension_step)
    results = {
        "needed_tension": band.tension,
        "most_tension": tension_from_push(band.most, **push),
        "tension": lowest,
    }
    if not at_most(abs(deflection / target - 1), DEFLECTION_TOLERANCE):
        return Finding(
            Verdict.INCONCLUSIVE,
            "The deflection is more than 10 % from 1/64 of the span, so the force does not count.",
            Severity.HANDOVER,
            working=steps,
            danger=LOOSE,
            clears="Push to the test deflection and read the force there.",
            results=results,
        )
    return _force_finding(force, band, state, steps, results)


class Band(NamedTuple):
    """Tension that is needed, least and greatest force at the deflection, and their working."""

    tension: Force
    least: Force
    most: Force
    steps: tuple[Step, ...] = ()


def _needed(
    drive: tuple[Length, Length, Length],
    motor_speed: RotationalSpeed,
    power: Power,
    belts: int,
    mass: MassPerLength,
    push: dict[str, float],
) -> Band:
    """The band that follows from power and speed."""
    wrap, wrap_step = work(wrap_angle, **_named(drive))
    speed, speed_step = work(surface_speed, diameter=drive[2], turning=motor_speed)
    tension, step = work(
        needed_tension,
        power=power,
        belt_speed=speed,
        belts=belts,
        mass=mass,
        wrap=wrap,
        service=SERVICE_FACTOR,
    )
    least, force_step = work(deflection_force, tension=tension, **push)
    return Band(tension, least, MOST * least, (wrap_step, speed_step, step, force_step))


def _builder(force: tuple[Force, ...], push: dict[str, float]) -> Band:
    """The band of the machine's papers."""
    if len(force) != 2 or not 0 < force[0] <= force[1]:
        typed = ", ".join(both(f, "force") for f in force)
        raise InputError("builder's force", typed, "a least and a greatest force, above zero")
    return Band(tension_from_push(force[0], **push), force[0], force[1])


def _named(drive: tuple[Length, Length, Length]) -> dict[str, Length]:
    return dict(zip(("centre_distance", "pump_sheave", "motor_sheave"), drive, strict=True))


def _force_finding(
    force: tuple[Force, ...],
    band: Band,
    state: str | None,
    steps: tuple[Step, ...],
    results: dict[str, float],
) -> Finding:
    low, high, least, most = min(force), max(force), band.least, band.most
    value, verdict, danger, clears = low, Verdict.PASS, LOOSE, ""
    text = "Every belt is tight enough and none is too tight."
    if not at_least(low, least):
        verdict, text = Verdict.FAIL, f"The slackest belt is {_off(low, least)} the least force."
        clears = "Slide the motor back evenly, align again, then take the force on every belt."
    elif not at_most(high, most):
        value, verdict, danger = high, Verdict.FAIL, TIGHT
        text = f"The tightest belt is {_off(high, most)} the greatest force."
        clears = "Slide the motor in a little, align again, then take the force on every belt."
    elif state == "new" and not at_least(low, min(NEW_LEAST * least, most)):
        verdict = Verdict.ADVISORY
        text = "Tight enough for a belt that has run in; new belts will go slack in the first day."
        clears = "Tension new belts to 1.3 to 1.5 times the least force."
    odd = low < 0.4 * least or high > 2.5 * most
    return Finding(
        verdict,
        text,
        Severity.HANDOVER if verdict is not Verdict.ADVISORY else Severity.ADVISORY,
        Quantity(value, "force"),
        Limit(least, most, "force"),
        steps,
        danger=danger,
        clears=clears,
        ask="Is this the force on one belt, in that unit? It is far from what the drive needs."
        if odd
        else "",
        results=results,
    )


def _off(value: float, limit: float) -> str:
    """How far below or above a limit, in words."""
    return f"{abs(100 * (value / limit - 1)):.1f} % {'below' if value < limit else 'above'}"


@check(
    "Pitch of the belt",
    severity=Severity.HANDOVER,
    source=(STRING, FORCE_BAND, OUR_JUDGEMENT),
    results={"tension_by_pitch": "force"},
)
def belt_frequency(
    frequency: tuple[Frequency, ...],
    centre_distance: Length,
    pump_sheave: Length,
    motor_sheave: Length,
    needed: Force,
    section: str | None = None,
    mass: MassPerLength | None = None,
    state: str | None = None,
    most: Force | None = None,
) -> Finding:
    """The plucked belt sounds between the pitch of the least and of the greatest tension.

    The tensions are those of the force band, so that both ways of measuring judge alike. A belt
    whose tension is off by no more than the mass of belts is uncertain gets an advisory.

    Parameters
    ----------
    frequency : tuple of float
        Readings of the same belt, which must agree within 5 %, [Hz]
    centre_distance : float
        Distance between the two shafts, [m]
    pump_sheave : float
        Pitch diameter of the flywheel or pump sheave, [m]
    motor_sheave : float
        Pitch diameter of the motor sheave, [m]
    needed : float
        Least static tension per belt, [N]
    section : str, optional
        Belt section, as "B or BX"
    mass : float, optional
        Mass of one belt per length, from its data sheet, [kg/m]
    state : str, optional
        "new" or "run in"
    most : float, optional
        Greatest static tension per belt; 1.5 times the least where it is not given, [N]
    """
    for one in frequency:
        above_zero("frequency", one, "frequency", "Hz")
    weight = _mass(section, mass, heavy=False)
    if weight is None:
        return MASS_MISSING
    span, span_step = work(free_span, **_named((centre_distance, pump_sheave, motor_sheave)))
    tensions = (needed, given(most, MOST * needed))
    middle = sum(frequency) / len(frequency)
    string = {"mass": weight, "span": span}
    tension, step = work(tension_from_frequency, frequency=middle, **string)
    low, low_step = work(frequency_at_tension, tension=tensions[0], **string)
    high, high_step = work(frequency_at_tension, tension=tensions[1], **string)
    verdict, text, clears = _pitch_verdict(frequency, tension, tensions, state)
    return Finding(
        verdict,
        text,
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.HANDOVER,
        Quantity(middle, "frequency"),
        Limit(low, high, "frequency"),
        (span_step, low_step, high_step, step),
        danger=TIGHT if tension > tensions[1] else LOOSE,
        clears=clears,
        results={"tension_by_pitch": tension},
    )


def _pitch_verdict(
    frequency: tuple[Frequency, ...],
    tension: Force,
    tensions: tuple[Force, Force],
    state: str | None,
) -> tuple[Verdict, str, str]:
    least, most = tensions
    if not at_most(max(frequency) - min(frequency), AGREE * sum(frequency) / len(frequency)):
        text = "The readings of the pitch do not agree within 5 %."
        return Verdict.INCONCLUSIVE, text, "Shield it from hum, pluck again until three agree."
    if at_least(tension, least) and at_most(tension, most):
        if state == "new" and not at_least(tension, min(NEW_LEAST * least, most)):
            text = "Tight enough for a belt that has run in; new belts will go slack soon."
            return Verdict.ADVISORY, text, "Tension new belts to 1.3 to 1.5 times the least."
        return Verdict.PASS, "The pitch confirms the tension.", ""
    limit, name = (least, "least") if tension < least else (most, "greatest")
    text = f"By its pitch the belt's tension is {_off(tension, limit)} the {name}."
    clears = "Set the tension, align again, and take force and pitch once more."
    near = at_most(abs(tension / limit - 1), NEAR)
    return (Verdict.ADVISORY if near else Verdict.FAIL), text, clears
