"""The branch circuit of the motor: table current, fuse or breaker, disconnect, fault rating.

Invariant: wiring follows the code's table current, or the nameplate where that is larger.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.fault import transformer_fault_current
from wizard.calc.motor_circuit import (
    DEVICE_CURRENT,
    DEVICES,
    PHASES,
    disconnect_minimum,
    full_load_current,
    power_row,
    short_circuit_device,
    standard_ratings,
    table_column,
)
from wizard.calc.plate_current import usual_plate_current
from wizard.calc.supply import plate_voltage
from wizard.checks.rule import check
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import ApparentPower, Current, Length, Power, Ratio, Voltage
from wizard.quantities import Quantity, at_least, at_most, format_range, is_within
from wizard.sources import Source

PRACTICES = ("US", "IEC")
TABLES = Source("NEC 430.6(A), Tables 430.248 and 430.250", "confirmed")
USUAL = Source(
    "usual efficiency and power factor of such motors: common practice, our judgement", "judgement"
)
IN_SIGHT = 15.24
"""50 ft, m."""
FAILED_STARTS = ("none recorded", "recorded")


@check(
    "Full-load current for sizing",
    severity=Severity.ADVISORY,
    source=(
        TABLES,
        Source("10 % above the table counts as a special motor: our judgement", "judgement"),
    ),
    results={"current": "current", "table": "current"},
)
def table_current(
    power: Power, phases: str, nameplate_voltage: Voltage, full_load: Current, practice: str = "US"
) -> Finding:
    """The current that wire, device, disconnect and ground are sized on.

    Parameters
    ----------
    power : float
        Rated power, [W]
    phases : str
        single or three
    nameplate_voltage : float
        Rated voltage as connected, [V]
    full_load : float
        Nameplate current for that voltage, 1 to 200, [A]
    practice : str, optional
        US sizes on the code table, IEC on the nameplate
    """
    one_of("practice", practice, PRACTICES)
    one_of("phases", phases, PHASES)
    plate_voltage("nameplate_voltage", nameplate_voltage)
    within("full_load", full_load, "current", "A", 1, 200)
    above_zero("power", power, "power", "hp")
    if practice == "IEC" or table_column(nameplate_voltage) is None:
        return _on_the_plate(power, phases, nameplate_voltage, full_load, practice)
    inputs = {"power": power, "phases": phases, "voltage": nameplate_voltage}
    table, step = work(full_load_current, **inputs)
    return _sized(table, full_load, step, power_row(f"full_load_current_{phases}", power))


def _on_the_plate(
    power: float, phases: str, voltage: float, full_load: float, practice: str
) -> Finding:
    """Sized on the plate, which nothing but what such motors take can be held against."""
    text = "Sized on the nameplate current, "
    source = Source("IEC practice: rated current of the nameplate", "memory")
    if practice == "IEC":
        text += "as IEC practice does."
    else:
        text, source = f"{text}because the code has no table for this voltage.", TABLES
    finding = Finding(
        Verdict.PASS,
        text,
        Severity.ADVISORY,
        Quantity(full_load, "current"),
        sources=(source,),
        results={"current": full_load},
    )
    try:
        usual, step = work(usual_plate_current, power=power, voltage=voltage, phases=phases)
    except OutsideValidity:
        return finding
    finding = replace(
        finding,
        limit=Limit(usual.low, usual.high, "current"),
        working=(step,),
        sources=(source, USUAL),
    )
    if is_within(full_load, usual.low, usual.high):
        return finding
    return replace(
        finding,
        verdict=Verdict.ADVISORY,
        text=f"{text} It is far from what such a motor takes.",
        clears="Read amperes, volts and power on the plate again and correct the wrong one.",
        ask="A motor of this power and voltage takes "
        f"{format_range(usual.low, usual.high, 'current', 'A', 3)}; "
        "was the point missed, or the line of another voltage read?",
    )


def _sized(
    table: float, full_load: float, step: Step, row: tuple[dict[str, float], bool]
) -> Finding:
    verdict, text = Verdict.PASS, "Size the circuit on the code table, not on the nameplate."
    if not row[1]:
        text = f"Sized on the next table row up, {row[0]['hp']:g} hp."
    special = not at_most(full_load, 1.10 * table)
    if special:
        verdict = Verdict.ADVISORY
        text = "Special motor, slow or high torque: size on its larger nameplate current."
    ask = ""
    if not (at_least(full_load, 0.5 * table) and at_most(full_load, 1.5 * table)):
        ask = "The nameplate current is far from the table; was the other voltage's line read?"
    return Finding(
        verdict,
        text,
        Severity.ADVISORY,
        Quantity(full_load, "current"),
        Limit(None, 1.10 * table, "current"),
        (step,),
        ask=ask,
        results={"current": full_load if special else table, "table": table},
    )


@check(
    "Short-circuit and ground-fault device",
    severity=Severity.SAFETY,
    source=(
        Source("NEC Table 430.52, 430.52(C)(1) Exception 1 and 240.6(A)", "confirmed"),
        Source("NEC 430.52(C)(1) Exception 2 limits after a failed start", "memory"),
    ),
)
def overcurrent_device(
    current: Current,
    device: str,
    rating: Current,
    failed_start: str = "none recorded",
    adjustable: bool = False,
) -> Finding:
    """The fuse or breaker in front of the starter is no larger than the code allows.

    Parameters
    ----------
    current : float
        Sizing current of the motor, 1 to 120, [A]
    device : str
        Kind of fuse or breaker
    rating : float
        Rating on the handle or fuse, or the setting of an instantaneous trip, [A]
    failed_start : str, optional
        none recorded, or recorded: only then does the higher ceiling apply
    adjustable : bool, optional
        Whether the breaker has an adjustable trip, so that odd settings occur, [-]
    """
    within("current", current, "current", "A", *DEVICE_CURRENT)
    one_of("device", device, DEVICES)
    one_of("failed_start", failed_start, FAILED_STARTS)
    above_zero("rating", rating, "current", "A")
    standard = standard_ratings(device.endswith("fuse"))
    if rating not in standard and not adjustable and not device.startswith("instantaneous"):
        shown = ", ".join(f"{r:g}" for r in standard)
        raise InputError("rating", both(rating, "current"), f"{shown} A")
    sizes, step = work(short_circuit_device, current=current, device=device)
    verdict, severity = Verdict.PASS, Severity.SAFETY
    text = "Not above the basic value."
    if not at_most(rating, sizes.absolute_rating):
        verdict, text = Verdict.FAIL, "Above the absolute maximum, whatever the start needs."
    elif not at_most(rating, sizes.basic_rating):
        if failed_start == "recorded":
            text = "Above the basic value, inside the ceiling after the recorded failed start."
        else:
            verdict, severity = Verdict.FAIL, Severity.HANDOVER
            text = "Above the basic value and no failed start is recorded."
    elif rating < current:
        verdict, severity = Verdict.ADVISORY, Severity.ADVISORY
        text = "Smaller than the motor current: it will trip before the motor is up to speed."
    high = sizes.absolute_rating if failed_start == "recorded" else sizes.basic_rating
    return Finding(
        verdict,
        text,
        severity,
        Quantity(rating, "current"),
        Limit(None, high, "current"),
        (step,),
        danger="Too large a device lets a fault burn in the cable and the starter.",
        clears="The licensed electrician fits the rating of the right kind."
        if verdict is Verdict.FAIL
        else "",
        ask="Was the fuse of another circuit read?" if rating > 20 * current else "",
    )


@check(
    "Ampere rating of the disconnect",
    severity=Severity.HANDOVER,
    source=Source("NEC 430.110(A)", "confirmed"),
)
def disconnect_rating(rating: Current, current: Current) -> Finding:
    """The disconnect carries at least 115 % of the sizing current.

    Parameters
    ----------
    rating : float
        Ampere rating on the disconnect, [A]
    current : float
        Sizing current of the motor, [A]
    """
    above_zero("rating", rating, "current", "A")
    least, step = work(disconnect_minimum, current=current)
    good = at_least(rating, least)
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "The disconnect is large enough."
        if good
        else "The disconnect is smaller than 115 % of the motor current.",
        Severity.HANDOVER,
        Quantity(rating, "current"),
        Limit(least, None, "current"),
        (step,),
        danger="An overloaded switch welds shut and no longer isolates the machine.",
        clears="" if good else "The licensed electrician fits a larger disconnect.",
    )


@check(
    "Distance from disconnect to machine",
    severity=Severity.HANDOVER,
    source=Source(
        "NEC 430.102(B) and the definition of in sight: visible, within 50 ft", "confirmed"
    ),
)
def disconnect_distance(distance: Length) -> Finding:
    """In sight of the motor means visible and not more than 50 ft (15.24 m) away.

    Parameters
    ----------
    distance : float
        Distance from the disconnect to the motor, 0 to 300, [m]
    """
    within("distance", distance, "length", "m", 0, 300)
    good = at_most(distance, IN_SIGHT)
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "Within sight distance." if good else "Too far away to count as in sight.",
        Severity.HANDOVER,
        Quantity(distance, "length"),
        Limit(None, IN_SIGHT, "length"),
        danger="Whoever works on the machine cannot see that somebody switches it on.",
        clears="" if good else "Fit a disconnect at the machine.",
    )


@check(
    "Short-circuit rating of the starter",
    severity=Severity.SAFETY,
    source=(
        Source("NEC 110.9, 110.10 and 430.130", "memory"),
        Source("IEC 60204-1 7.10 short-circuit rating", "memory"),
    ),
    results={"available": "current"},
)
def fault_current_rating(
    rating: Current,
    available: Current | None = None,
    transformer: ApparentPower | None = None,
    impedance: Ratio | None = None,
    voltage: Voltage | None = None,
    phases: str = "three",
) -> Finding:
    """The starter withstands the fault current that the supply can give.

    Parameters
    ----------
    rating : float
        Short-circuit current rating on the starter, 200 A to 200 kA, [A]
    available : float, optional
        Available fault current at the starter, from the supplier or the study, [A]
    transformer : float, optional
        Rated power of the supply transformer, where no figure is available, [VA]
    impedance : float, optional
        Impedance on its plate, [-]
    voltage : float, optional
        Line-to-line voltage, [V]
    phases : str, optional
        single or three
    """
    within("rating", rating, "current", "kA", 0.2, 200)
    working: tuple[Step, ...] = ()
    known = transformer is not None and impedance is not None and voltage is not None
    if available is None and known:
        given = {"transformer": transformer, "impedance": impedance, "voltage": voltage}
        available, step = work(transformer_fault_current, **given, phases=phases)
        working = (step,)
    danger = "A starter beyond its rating bursts open on a fault, in the face of whoever is near."
    if available is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "The available fault current is not known.",
            Severity.SAFETY,
            Quantity(rating, "current"),
            danger=danger,
            clears="Ask the supplier, or give power and impedance of the supply transformer.",
            wants="available",
        )
    above_zero("available", available, "current", "kA")
    good = at_least(rating, available)
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "The starter withstands the fault."
        if good
        else "The supply can give more fault current than the starter withstands.",
        Severity.SAFETY,
        Quantity(rating, "current"),
        Limit(available, None, "current"),
        working,
        danger=danger,
        clears=""
        if good
        else "Do not energise. The electrician fits a higher rating or current-limiting fuses.",
        results={"available": available},
    )
