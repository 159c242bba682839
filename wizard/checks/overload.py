"""The overload relay: setting, elements, and the protector built into the motor.

Invariant: what the dial means is asked, never guessed; the stricter meaning wins.
"""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.motor_circuit import PHASES
from wizard.calc.overload import overload_dial, overload_trip, thermal_protector_limit
from wizard.checks.given import given
from wizard.checks.motor_circuit import FAILED_STARTS
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Current, Number, TemperatureDifference
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

DIALS = ("motor current", "trip current", "not known")
PLACES = ("in the motor line", "inside the delta")
DIAL_MARK = 0.05
"""Two marks of a dial are some 5 % of the current apart; it cannot be set finer than that."""
BURNS = "Only the overload stands between a jammed or single-phased machine and a burning motor."


@check(
    "Overload setting",
    severity=Severity.SAFETY,
    source=(
        Source("NEC 430.32(A)(1) and 430.32(C)", "confirmed"),
        Source("IEC 60947-4-1: dial on nameplate current, trip by 1.2 times", "memory"),
        OUR_JUDGEMENT,
    ),
    results={"trip": "current"},
)
def overload_setting(
    full_load: Current,
    setting: Current,
    dial: str | None = None,
    service_factor: Number | None = None,
    rise: TemperatureDifference | None = None,
    failed_start: str = "none recorded",
    place: str | None = None,
    dial_rule: str = "ask",
    table: Current | None = None,
) -> Finding:
    """The relay trips before the motor is harmed, and not before it is loaded.

    Parameters
    ----------
    full_load : float
        Nameplate current for the connected voltage, 1 to 200, [A]
    setting : float
        Dial or heater value, [A]
    dial : str, optional
        What the scale reads: motor current, trip current, or not known
    service_factor : float, optional
        Nameplate service factor, 1.0 where none is marked, [-]
    rise : float, optional
        Marked temperature rise, [K]
    failed_start : str, optional
        none recorded, or recorded: only then does the higher ceiling apply
    place : str, optional
        in the motor line, or inside the delta of a star-delta starter
    dial_rule : str, optional
        motor current takes every dial as motor current; ask goes by the answer
    table : float, optional
        Table current of the motor, to recognise the line of the other voltage, [A]
    """
    one_of("failed_start", failed_start, FAILED_STARTS)
    one_of("place", place or PLACES[0], PLACES)
    one_of("dial_rule", dial_rule, ("ask", "motor current"))
    reads = "motor current" if dial_rule == "motor current" else dial or "not known"
    one_of("dial", reads, DIALS)
    within("setting", setting, "current", "A", 0.1, 500)
    in_delta = place == "inside the delta"
    limits, step = work(
        overload_trip,
        full_load=full_load,
        service_factor=given(service_factor, 1.0),
        rise=rise,
        in_delta=in_delta,
    )
    if reads == "not known":
        return _unknown_dial(setting)
    failed = failed_start == "recorded"
    seen = full_load / math.sqrt(3) if in_delta else full_load
    if reads == "motor current":
        trip = setting * limits.basic / seen
        over = limits.ceiling / limits.basic - 1 if failed else DIAL_MARK
        (low, high), step = work(
            overload_dial, full_load=full_load, mark=DIAL_MARK, over=over, in_delta=in_delta
        )
        most = "the nameplate current by more than a mark of the dial"
    else:
        trip, low, high = setting, seen, limits.ceiling if failed else limits.basic
        most = "the highest trip current of the code"
    verdict, severity, text, clears = _grade(setting, low, high, failed, most)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(setting, "current"),
        Limit(low, high, "current"),
        (step,),
        danger=BURNS,
        clears=clears,
        ask=_other_line(full_load, table),
        results={"trip": trip},
    )


def _unknown_dial(setting: float) -> Finding:
    return Finding(
        Verdict.INCONCLUSIVE,
        "What the dial reads is not known: motor current or trip current.",
        Severity.SAFETY,
        Quantity(setting, "current"),
        danger=BURNS,
        clears="Read the relay's own instructions, then answer what its scale means.",
    )


def _grade(
    setting: float, low: float, high: float, failed: bool, most: str
) -> tuple[Verdict, Severity, str, str]:
    if not at_most(setting, high):
        most = "the ceiling after a failed start" if failed else most
        text = f"Above {most}: the relay lets the motor burn."
        clears = "The licensed electrician lowers the setting with the nameplate in view."
        return Verdict.FAIL, Severity.SAFETY, text, clears
    if not at_least(setting, low):
        text = "Below the nameplate current: it may trip for nothing."
        return Verdict.ADVISORY, Severity.ADVISORY, text, "Raise it to the nameplate current."
    return Verdict.PASS, Severity.SAFETY, "The relay protects the motor.", ""


def _other_line(full_load: float, table: float | None) -> str:
    if table is None or 0.5 * table <= full_load <= 1.5 * table:
        return ""
    return "The nameplate current is far from the table; was the other voltage's line read?"


@check(
    "Elements of the overload relay",
    severity=Severity.SAFETY,
    source=Source("NEC 430.37", "memory"),
)
def overload_elements(elements: int, phases: str) -> Finding:
    """Three elements for a three-phase motor, or a lost phase goes unseen.

    Parameters
    ----------
    elements : int
        Heaters or current sensors in the relay, 1 to 3
    phases : str
        single or three
    """
    within("elements", float(elements), "number", "", 1, 3)
    one_of("phases", phases, PHASES)
    needed = 3 if phases == "three" else 1
    good = elements >= needed
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "Every line is watched." if good else "A line is not watched.",
        Severity.SAFETY,
        Quantity(float(elements), "number"),
        Limit(float(needed), None, "number"),
        danger="On two phases one winding carries the lost current and burns unseen.",
        clears="" if good else "Fit a three-element relay; do not run.",
    )


@check(
    "Ultimate trip current of the motor's own protector",
    severity=Severity.SAFETY,
    source=Source("NEC 430.32(A)(2)", "confirmed"),
)
def thermal_protector(current: Current, trip: Current | None = None) -> Finding:
    """A protector built into the motor trips within the code's share of the table current.

    Parameters
    ----------
    current : float
        Sizing current of the motor, [A]
    trip : float, optional
        Ultimate trip current from the motor maker, [A]
    """
    limit, step = work(thermal_protector_limit, current=current)
    if trip is None:
        return Finding(
            Verdict.ADVISORY,
            "No trip current given: the maker's plate marking thermally protected is relied on.",
            Severity.ADVISORY,
            limit=Limit(None, limit, "current"),
            working=(step,),
        )
    above_zero("trip", trip, "current", "A")
    good = at_most(trip, limit)
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "The protector trips in time." if good else "The protector trips too late.",
        Severity.SAFETY,
        Quantity(trip, "current"),
        Limit(None, limit, "current"),
        (step,),
        danger=BURNS,
        clears="" if good else "The electrician adds a separate overload relay.",
    )
