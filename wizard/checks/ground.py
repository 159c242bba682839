"""The protective bond: grounding conductor, resistance to every metal part, fault loop.

Invariant: an open or missing bond holds the job; nothing outweighs it.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, within
from wizard.calc.conductor import awg_of, circular_mils
from wizard.calc.fault import ground_fault_current
from wizard.calc.ground import (
    area_of,
    bond_expected,
    bond_limit,
    ground_area,
    ground_size,
    protective_conductor,
)
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Current, Length, Number, Resistance, Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

LIVE_FRAME = (
    "If a winding touches the frame the tank stays live, and whoever touches it can be killed."
)
OPEN_BOND = 1.0
SHORTED_LEADS = 0.005


@check(
    "Grounding conductor",
    severity=Severity.SAFETY,
    source=(
        Source("NEC Table 250.122", "confirmed"),
        Source("NEC 250.122(A) and (B), cap and upsizing", "memory"),
        Source("IEC 60364-5-54 Table 54.2", "confirmed"),
    ),
)
def grounding_conductor(
    size: str,
    phase_size: str,
    rating: Current | None = None,
    minimum_phase: Number | None = None,
) -> Finding:
    """Copper grounding conductor by the device in front of it, or by the line conductor (IEC).

    Parameters
    ----------
    size : str
        Grounding conductor, AWG or mm²
    phase_size : str
        Phase conductor in the same system of sizes
    rating : float, optional
        Rating of the overcurrent device; needed for AWG sizes, [A]
    minimum_phase : float, optional
        Smallest phase conductor that would carry the motor, AWG number, [-]
    """
    if (awg_of(size) is None) != (awg_of(phase_size) is None):
        raise InputError("conductor sizes", f"{size} and {phase_size}", "both AWG or both mm²")
    if awg_of(size) is None:
        return _metric_ground(size, phase_size)
    if rating is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "The rating of the overcurrent device is not given.",
            Severity.SAFETY,
            danger=LIVE_FRAME,
            clears="Read the rating of the fuse or breaker.",
        )
    awg, step = work(ground_size, rating=rating)
    installed, phase = circular_mils(size), circular_mils(phase_size)
    table_size = circular_mils(f"{awg:g} AWG")
    by_table = min(table_size, phase)
    smallest = circular_mils(f"{minimum_phase:g} AWG") if minimum_phase is not None else phase
    needed, area_step = work(ground_area, ground=table_size, phase=phase, minimum_phase=smallest)
    verdict, severity, text = Verdict.PASS, Severity.SAFETY, "The grounding conductor is enough."
    if not at_least(installed, by_table):
        verdict, text = Verdict.FAIL, "The grounding conductor is smaller than the table."
    elif not at_least(installed, needed):
        verdict, severity = Verdict.FAIL, Severity.HANDOVER
        text = "The phases were upsized, the grounding conductor was not."
    return _ground_finding(
        verdict, severity, f"{text} Areas in circular mils.", (installed, needed), (step, area_step)
    )


def _ground_finding(
    verdict: Verdict,
    severity: Severity,
    text: str,
    sizes: tuple[float, float],
    steps: tuple[Step, ...],
    kind: str = "number",
) -> Finding:
    """`sizes` are installed and needed, circular mils or m2."""
    return Finding(
        verdict,
        text,
        severity,
        Quantity(sizes[0], kind),
        Limit(sizes[1], None, kind),
        steps,
        danger=LIVE_FRAME,
        clears=""
        if verdict is Verdict.PASS
        else "Do not energise. Pull a larger grounding conductor, as the limit shows.",
    )


def _metric_ground(size: str, phase_size: str) -> Finding:
    installed = area_of(size)
    needed, step = work(protective_conductor, phase=area_of(phase_size))
    good = at_least(installed, needed)
    text = "enough" if good else "too small for its line conductors"
    return _ground_finding(
        Verdict.PASS if good else Verdict.FAIL,
        Severity.SAFETY,
        f"The protective conductor is {text}.",
        (installed, needed),
        (step,),
        "area",
    )


@check(
    "Resistance of the ground bond",
    severity=Severity.SAFETY,
    source=(
        Source("IEC 60204-1:2016 18.2.2: within what length and size let expect", "memory"),
        Source("1.15 times expected + 0.05 ohm, at least 0.10 ohm: our judgement", "judgement"),
    ),
    results={"limit": "resistance"},
)
def ground_bond(
    resistance: Resistance, size: str | None = None, length: Length | None = None
) -> Finding:
    """From the incoming ground terminal to a metal part; above 1 ohm is as good as open.

    Parameters
    ----------
    resistance : float
        Bond resistance, leads zeroed, 0 to 100, [ohm]
    size : str, optional
        Grounding conductor, AWG or mm²; without it the limit is 0.10 ohm
    length : float, optional
        Length of that conductor, [m]
    """
    within("resistance", resistance, "resistance", "ohm", 0, 100)
    if length is not None:
        within("length", length, "length", "m", 0, 1000)
    working: tuple[Step, ...] = ()
    expected = 0.0
    if size is not None and length is not None:
        expected, expected_step = work(bond_expected, size=size, length=length)
        working = (expected_step,)
    limit, limit_step = work(bond_limit, expected=expected)
    verdict, severity, text = Verdict.PASS, Severity.SAFETY, "The bond is sound."
    if not at_most(resistance, OPEN_BOND):
        verdict, text = Verdict.FAIL, "The bond is open or as good as open."
    elif not at_most(resistance, limit):
        verdict, severity = Verdict.FAIL, Severity.HANDOVER
        text = "The bond has more resistance than its conductor explains."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(resistance, "resistance"),
        Limit(None, min(limit, OPEN_BOND), "resistance"),
        (*working, limit_step),
        danger=LIVE_FRAME,
        clears=""
        if verdict is Verdict.PASS
        else "Scrape paint, tighten or replace the joint, then measure again.",
        ask="So little: were the test leads on each other?" if resistance < SHORTED_LEADS else "",
        results={"limit": limit},
    )


@check(
    "Ground-fault current against the device",
    severity=Severity.ADVISORY,
    source=OUR_JUDGEMENT,
    results={"fault": "current"},
)
def ground_fault_trip(
    voltage_to_ground: Voltage, rating: Current, loop: Resistance | None = None
) -> Finding:
    """A fault to the frame should draw at least five times the device rating.

    Parameters
    ----------
    voltage_to_ground : float
        Line-to-ground voltage, [V]
    rating : float
        Rating of the overcurrent device, [A]
    loop : float, optional
        Impedance of the fault loop at the motor, [ohm]
    """
    above_zero("rating", rating, "current", "A")
    if loop is None:
        return Finding(Verdict.ADVISORY, "The fault loop was not measured.", Severity.ADVISORY)
    within("loop", loop, "resistance", "ohm", 0.001, 100)
    fault, step = work(ground_fault_current, voltage_to_ground=voltage_to_ground, loop=loop)
    good = at_least(fault, 5 * rating)
    return Finding(
        Verdict.PASS if good else Verdict.ADVISORY,
        "A fault opens the device at once."
        if good
        else "A fault draws less than five times the device rating: it may open late.",
        Severity.ADVISORY,
        Quantity(fault, "current"),
        Limit(5 * rating, None, "current"),
        (step,),
        clears="" if good else "Look for a thin or loose grounding path.",
        results={"fault": fault},
    )


@check(
    "Fault loop and automatic disconnection, IEC practice",
    severity=Severity.SAFETY,
    source=Source("IEC 60364-4-41 411.4.4: Zs × Ia not above U0", "memory"),
    results={"fault": "current"},
)
def automatic_disconnection(
    loop: Resistance, voltage_to_ground: Voltage, trip_current: Current
) -> Finding:
    """The fault to the frame draws the current that opens the device in the time required.

    Parameters
    ----------
    loop : float
        Impedance of the fault loop at the motor, [ohm]
    voltage_to_ground : float
        Line-to-earth voltage, [V]
    trip_current : float
        Current that opens the device in the required time, from its curve, [A]
    """
    within("loop", loop, "resistance", "ohm", 0.001, 100)
    above_zero("trip_current", trip_current, "current", "A")
    fault, step = work(ground_fault_current, voltage_to_ground=voltage_to_ground, loop=loop)
    good = at_least(fault, trip_current)
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "A fault opens the device in time."
        if good
        else "A fault does not open the device in time.",
        Severity.SAFETY,
        Quantity(fault, "current"),
        Limit(trip_current, None, "current"),
        (step,),
        danger=LIVE_FRAME,
        clears="" if good else "Do not energise. Improve the protective path or change the device.",
        results={"fault": fault},
    )
