"""The start: the dip predicted, and the lowest voltage measured at motor and coil.

Invariant: a prediction without data says so; the measurement decides.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.motor_circuit import PHASES
from wizard.calc.starting import (
    STARTERS,
    STARTING_POWER_FACTOR,
    code_letter_range,
    locked_rotor_current,
    source_dip,
    starting_power,
    starting_share,
    voltage_at_start,
)
from wizard.calc.supply import plate_voltage
from wizard.calc.voltage_drop import effective_impedance, line_drop
from wizard.checks.given import given
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import ApparentPower, Current, Length, Power, Ratio, Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

MOTOR_LEAST, COIL_LEAST = 0.80, 0.85
DIP_MOST, DIP_NOTED = 0.15, 0.05
STALL = "A motor that cannot break away cooks its winding in under a minute; contactors weld."
START_PRACTICE = Source("80 % at the motor and 85 % at the coil: common motor practice", "memory")


@check(
    "Way of starting for this motor",
    severity=Severity.HANDOVER,
    source=Source("a star and a delta join three windings", "computed"),
)
def start_method(start: str, phases: str) -> Finding:
    """Star-delta wants three windings, which a single-phase motor has not.

    Parameters
    ----------
    start : str
        direct on line, star-delta, soft starter, or inverter
    phases : str
        single or three
    """
    one_of("start", start, (*STARTERS, "inverter"))
    one_of("phases", phases, PHASES)
    if phases == "single" and start == "star-delta":
        raise InputError("start", start, "for a single-phase motor: another way of starting")
    return Finding(Verdict.PASS, "The motor can be started this way.", Severity.HANDOVER)


@check(
    "Dip predicted while starting",
    severity=Severity.HANDOVER,
    source=(START_PRACTICE, Source("15 % and 5 % of source dip: our judgement", "judgement")),
    results={"voltage": "voltage", "current": "current"},
)
def starting_dip(
    power: Power,
    nameplate: Voltage,
    phases: str,
    supply: Voltage,
    length: Length,
    size: str,
    code_letter: str | None = None,
    locked_rotor: Current | None = None,
    conduit: str | None = None,
    transformer: ApparentPower | None = None,
    impedance: Ratio | None = None,
    starter: str = "direct on line",
) -> Finding:
    """Volts left at the motor terminals at the instant of starting, and the dip at the panel.

    Parameters
    ----------
    power : float
        Rated power, [W]
    nameplate : float
        Rated voltage as connected, [V]
    phases : str
        single or three
    supply : float
        Nominal line-to-line voltage, [V]
    length : float
        One-way length of the branch, 1 to 2000 ft, [m]
    size : str
        Copper size, AWG or mm²
    code_letter : str, optional
        Code letter of the nameplate, or none
    locked_rotor : float, optional
        Locked-rotor current where plate or data sheet gives it, [A]
    conduit : str, optional
        steel, or PVC or aluminium; steel where none is named
    transformer : float, optional
        Rated power of the supply transformer, [VA]
    impedance : float, optional
        Impedance on its plate, [-]
    starter : str, optional
        direct on line, star-delta or soft starter
    """
    one_of("phases", phases, PHASES)
    within("supply", supply, "voltage", "V", 100, 690)
    plate_voltage("nameplate", nameplate)
    above_zero("power", power, "power", "hp")
    motor = {"power": power, "voltage": nameplate, "phases": phases, "starter": starter}
    found = _current(code_letter, locked_rotor, motor)
    if found is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "No code letter and no locked-rotor current: the dip cannot be predicted.",
            Severity.ADVISORY,
            danger=STALL,
            clears="The lowest voltage measured during a start decides.",
        )
    current, steps = found
    run = {"size": size, "power_factor": STARTING_POWER_FACTOR, "conduit": conduit or "steel"}
    z, z_step = work(effective_impedance, **run)
    drop, drop_step = work(line_drop, current=current, impedance=z, length=length, phases=phases)
    dip, dip_steps = _source(current, nameplate, phases, transformer, impedance)
    left, left_step = work(voltage_at_start, supply=supply, dip=given(dip, 0.0), cable_drop=drop)
    verdict, severity, text = _grade(left / nameplate, dip)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(left, "voltage"),
        Limit(MOTOR_LEAST * nameplate, None, "voltage"),
        (*steps, z_step, drop_step, *dip_steps, left_step),
        danger=STALL,
        clears=""
        if verdict is Verdict.PASS
        else "Larger conductors, a stiffer supply, or a starter that draws less.",
        results={"voltage": left, "current": current},
    )


def _current(
    letter: str | None, locked_rotor: float | None, motor: dict[str, object]
) -> tuple[float, tuple[Step, ...]] | None:
    """Starting line current, from the plate's amperes or the high end of its code letter."""
    one_of("starter", str(motor["starter"]), STARTERS)
    if locked_rotor is not None:
        within("locked_rotor", locked_rotor, "current", "A", 1, 5000)
        return locked_rotor / (3 if motor["starter"] == "star-delta" else 1), ()
    if letter in (None, "none"):
        return None
    span, span_step = work(code_letter_range, letter=letter)
    current, step = work(locked_rotor_current, kva_per_hp=span.high, **motor)
    return current, (span_step, step)


def _source(
    current: float,
    nameplate: float,
    phases: str,
    transformer: float | None,
    impedance: float | None,
) -> tuple[float | None, tuple[Step, ...]]:
    if transformer is None or impedance is None:
        return None, ()
    starting, power_step = work(starting_power, current=current, voltage=nameplate, phases=phases)
    dip, step = work(source_dip, starting=starting, transformer=transformer, impedance=impedance)
    return dip, (power_step, step)


def _grade(left: float, dip: float | None) -> tuple[Verdict, Severity, str]:
    if not at_least(left, MOTOR_LEAST):
        text = "Less than 80 % of the nameplate is left at the motor while it starts."
        return Verdict.FAIL, Severity.HANDOVER, text
    if dip is None:
        text = "The cable leaves enough; the transformer is not known and not counted."
        return Verdict.ADVISORY, Severity.ADVISORY, text
    if not at_most(dip, DIP_MOST):
        text = "The supply dips more than 15 % at every start."
        return Verdict.FAIL, Severity.HANDOVER, text
    if not at_most(dip, DIP_NOTED):
        text = "The supply dips more than 5 % at every start: lights flicker."
        return Verdict.ADVISORY, Severity.ADVISORY, text
    return Verdict.PASS, Severity.HANDOVER, "The motor keeps at least 80 % while it starts."


@check(
    "Lowest voltage measured while starting",
    severity=Severity.HANDOVER,
    source=START_PRACTICE,
)
def starting_voltage(
    nameplate: Voltage, lowest: Voltage | None = None, predicted: Voltage | None = None
) -> Finding:
    """The motor keeps 80 % of its nameplate voltage during the start.

    Parameters
    ----------
    nameplate : float
        Rated voltage as connected, [V]
    lowest : float, optional
        Lowest line voltage held by the meter during a loaded start, [V]
    predicted : float, optional
        Voltage predicted for the start, where no reading is given, [V]
    """
    for what, value in (("lowest", lowest), ("predicted", predicted)):
        if value is not None:
            within(what, value, "voltage", "V", 1, 1000)
    judged = lowest if lowest is not None else predicted
    if judged is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "Neither measured nor predicted.",
            Severity.HANDOVER,
            danger=STALL,
            clears="Hold the minimum on a voltmeter at the starter during a start.",
        )
    share, step = work(starting_share, lowest=judged, rating=nameplate)
    good = at_least(share, MOTOR_LEAST)
    verdict, text = Verdict.PASS, "The motor keeps at least 80 % while it starts."
    if not good:
        verdict, text = Verdict.FAIL, "The motor gets less than 80 % while it starts."
    elif lowest is None:
        verdict, text = Verdict.ADVISORY, "Not measured; the prediction leaves enough."
    return Finding(
        verdict,
        text,
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.HANDOVER,
        Quantity(judged, "voltage"),
        Limit(MOTOR_LEAST * nameplate, None, "voltage"),
        (step,),
        danger=STALL,
        clears="" if good else "Larger conductors, a stiffer supply, or a starter that draws less.",
        ask="Higher than the nameplate during a start: was the minimum held?"
        if judged > 1.1 * nameplate
        else "",
    )


@check(
    "Control-coil voltage while starting",
    severity=Severity.HANDOVER,
    source=START_PRACTICE,
)
def coil_voltage(rating: Voltage | None = None, lowest: Voltage | None = None) -> Finding:
    """The contactor coil keeps 85 % of its rating during the start.

    Parameters
    ----------
    rating : float, optional
        Rated coil voltage, [V]
    lowest : float, optional
        Lowest coil voltage during a start, [V]
    """
    if rating is None or lowest is None:
        return Finding(
            Verdict.ADVISORY,
            "Not measured; listen for a contactor that chatters at start.",
            Severity.ADVISORY,
            sources=(OUR_JUDGEMENT,),
        )
    above_zero("rating", rating, "voltage", "V")
    within("lowest", lowest, "voltage", "V", 1, 1000)
    share, step = work(starting_share, lowest=lowest, rating=rating)
    good = at_least(share, COIL_LEAST)
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "The contactor holds." if good else "The contactor may not pull in.",
        Severity.HANDOVER,
        Quantity(lowest, "voltage"),
        Limit(COIL_LEAST * rating, None, "voltage"),
        (step,),
        danger="A contactor that chatters welds its contacts, and the motor cannot be stopped.",
        clears="" if good else "A separate control supply, or larger conductors.",
    )
