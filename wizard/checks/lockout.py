"""Zero energy: dead circuits with a meter that was proved, an empty tank, proof repeated.

Invariant: a reading that is missing never counts as dead; nobody is told to open a live panel.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.calc.lockout import highest_reading, opening_force
from wizard.calc.working_space import (
    KEPT_BACK,
    VICINITY,
    barrier_distance,
    limited_approach,
    vicinity_zone,
)
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import GaugePressure, PressureDifference, Time, Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

LOCKOUT = Source("29 CFR 1910.147(d), application of control", "confirmed")
VERIFY = Source("29 CFR 1910.147(d)(6) and (e)", "memory")
METER_PROOF = Source(
    "29 CFR 1910.333(b)(2)(iv) above 600 V, applied here at every voltage", "memory"
)
LIVE_WORK = Source("29 CFR 1910.333 and NFPA 70E", "memory")
OPERATION = Source(
    "EN 50110-1, operation of electrical installations: above 50 V AC live work has its own rules",
    "memory",
)
DEAD_IEC = Source("EN 50110-1, dead working: every pole verified dead where the work is", "memory")
METER_IEC = Source("EN 50110-1: the voltage detector is proved before use, and after", "memory")
AIR_IEC = Source(
    "EN ISO 14118, unexpected start-up: isolation, stored energy let off, both verified", "memory"
)
BREAK_US = Source("29 CFR 1910.147(f), shift and personnel changes", "memory")
ABSENCE = {"US": (VERIFY, OUR_JUDGEMENT), "IEC": (DEAD_IEC, OUR_JUDGEMENT)}
ELECTRICAL = {
    "US": (LOCKOUT, VERIFY, METER_PROOF, OUR_JUDGEMENT),
    "IEC": (DEAD_IEC, METER_IEC, OUR_JUDGEMENT),
}
AIR = {"US": (LOCKOUT, VERIFY), "IEC": (AIR_IEC,)}
RECHECK = {"US": (BREAK_US, OUR_JUDGEMENT), "IEC": (COMMON_PRACTICE, OUR_JUDGEMENT)}
LIVE_SOURCES = {
    "US": (LIVE_WORK, COMMON_PRACTICE),
    "IEC": (OPERATION, VICINITY, KEPT_BACK, COMMON_PRACTICE),
}

GHOST = 5.0
LIVE = 50.0
BREAK = 3600.0
CHANGED, REPEATED = "changed", "repeated"
CREWS = ("same crew", CHANGED)
PROOFS = ("no break of 60 min, same crew", REPEATED, "not repeated")
COARSEST_DIVISION = 0.345
"""bar, 5 psi; a coarser gauge does not show that the tank is empty."""
HOSE_PORT = 0.0762

SHOCK = "A line that is taken for dead kills or burns whoever touches it."
UNTESTED = Finding(
    Verdict.INCONCLUSIVE,
    "Not every pair was tested: between the lines and from each line to ground.",
    Severity.SAFETY,
    danger=SHOCK,
    clears="Test every pair at the load side of the disconnect.",
)
STOP_LIVE = (
    "Close the panel, keep everybody back; the licensed electrician finds the other feed, "
    "isolates it and proves the circuit dead again."
)


def _by(practice: str, sources: Mapping[str, tuple[Source, ...]], finding: Finding) -> Finding:
    """The finding with the sources of the practice that the job is judged by."""
    one_of("practice", practice, tuple(sources))
    return replace(finding, sources=sources[practice])


@check(
    "No voltage left at the load side",
    severity=Severity.SAFETY,
    source=(VERIFY, DEAD_IEC, OUR_JUDGEMENT),
    results={"highest": "voltage"},
)
def absence_of_voltage(readings: tuple[Voltage, ...], practice: str = "US") -> Finding:
    """Every reading on the isolated circuit is below 5 V.

    Parameters
    ----------
    readings : tuple
        Volts between each pair of lines or from each line to ground, 0 to 1000, [V]
    practice : str, optional
        US or IEC
    """
    return _by(practice, ABSENCE, _absence(readings))


def _absence(readings: tuple[float, ...]) -> Finding:
    highest, step = work(highest_reading, readings=readings)
    within("readings", highest, "voltage", "V", 0, 1000)
    finding = Finding(
        Verdict.PASS,
        "Every reading is zero.",
        Severity.SAFETY,
        Quantity(highest, "voltage"),
        Limit(None, GHOST, "voltage"),
        (step,),
        danger=SHOCK,
        results={"highest": highest},
    )
    if not at_most(highest, GHOST):
        live = "The circuit is live" if at_least(highest, LIVE) else "Voltage is left"
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text=f"{live}: a reading is above the 5 V that may be stray.",
            clears=STOP_LIVE,
        )
    if highest > 0:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Some voltage is left, not more than stray or induced voltage makes; note where.",
            clears="Repeat with a low-impedance tester; it takes stray voltage down to zero.",
        )
    return finding


@check(
    "Zero energy, electrical",
    severity=Severity.SAFETY,
    source=(LOCKOUT, VERIFY, METER_PROOF, DEAD_IEC, METER_IEC, OUR_JUDGEMENT),
    results={"highest": "voltage"},
)
def zero_energy_electrical(
    proved_before: Voltage | None = None,
    proved_after: Voltage | None = None,
    between: tuple[Voltage, ...] | None = None,
    to_ground: tuple[Voltage, ...] | None = None,
    single: tuple[Voltage, ...] | None = None,
    practice: str = "US",
) -> Finding:
    """Dead by a meter that showed a known live source before and after.

    Parameters
    ----------
    proved_before : float, optional
        Reading on a known live source or proving unit before the test, [V]
    proved_after : float, optional
        The same after the test, [V]
    between : tuple, optional
        Readings between the lines of a three-phase circuit, [V]
    to_ground : tuple, optional
        Readings from each line to ground, [V]
    single : tuple, optional
        All readings on a single-phase circuit: between the lines, each line to ground, [V]
    practice : str, optional
        US or IEC
    """
    for name, proof in (("proved_before", proved_before), ("proved_after", proved_after)):
        if proof is not None:
            within(name, proof, "voltage", "V", 0, 1000)
    found = _electrical(proved_before, proved_after, between, to_ground, single)
    return _by(practice, ELECTRICAL, found)


def _electrical(
    proved_before: float | None,
    proved_after: float | None,
    between: tuple[float, ...] | None,
    to_ground: tuple[float, ...] | None,
    single: tuple[float, ...] | None,
) -> Finding:
    readings = (*(between or ()), *(to_ground or ()), *(single or ()))
    if not readings:
        return UNTESTED
    dead = _shown_by(proved_before, proved_after, _absence(readings))
    if dead.verdict is Verdict.FAIL:
        return dead
    if min(len(between or ()), len(to_ground or ())) < 3 and len(single or ()) < 3:
        return replace(UNTESTED, value=dead.value, limit=dead.limit, working=dead.working)
    unproved = [
        when
        for when, proof in (("before", proved_before), ("after", proved_after))
        if proof is None or not at_least(proof, LIVE)
    ]
    if unproved:
        return replace(
            dead,
            verdict=Verdict.FAIL,
            severity=Severity.SAFETY,
            text=f"The meter was not proved on a live source {' and '.join(unproved)} the test.",
            clears="Prove the meter on a source of 50 V or more, test again, prove it again.",
        )
    return replace(
        dead,
        text=f"Dead, with a meter proved before and after. {dead.text}",
    )


def _shown_by(before: float | None, after: float | None, dead: Finding) -> Finding:
    """What was found dead, with the reading and the limit of the meter that showed it.

    The dead readings have their own limit where they are taken.
    """
    proofs = [proof for proof in (before, after) if proof is not None]
    value = Quantity(min(proofs), "voltage") if proofs else None
    return replace(dead, value=value, limit=Limit(LIVE, None, "voltage"))


@check(
    "Zero energy, stored air",
    severity=Severity.SAFETY,
    source=(LOCKOUT, VERIFY, AIR_IEC),
)
def zero_energy_air(
    gauge: GaugePressure,
    drain_open: bool,
    no_flow: bool,
    division: PressureDifference | None = None,
    practice: str = "US",
) -> Finding:
    """Gauge at zero, drain open, nothing comes out.

    Parameters
    ----------
    gauge : float
        Tank gauge, 0 to 400 psi, [Pa]
    drain_open : bool
        Whether the drain stands open
    no_flow : bool
        Whether no air comes from the open drain, by hand and ear
    division : float, optional
        Smallest division of a gauge without a zero peg, up to 5 psi; nothing with a peg, [Pa]
    practice : str, optional
        US or IEC
    """
    within("gauge", gauge, "gauge pressure", "psig", 0, 400)
    allowed = 0.0
    if division is not None:
        within("division", division, "pressure difference", "bar", 0, COARSEST_DIVISION)
        allowed = division
    force, step = work(opening_force, pressure=gauge, diameter=HOSE_PORT)
    empty = Finding(
        Verdict.PASS,
        "The gauge is at zero, the drain is open and no air comes out.",
        Severity.SAFETY,
        Quantity(gauge, "gauge pressure"),
        Limit(None, allowed, "gauge pressure"),
        (step,) if force else (),
        danger="A cover or hose let go under pressure kills; the air needs no electricity.",
    )
    finding = _by(practice, AIR, empty)
    wrong = ""
    if not at_most(gauge, allowed):
        wrong = "The gauge still shows pressure."
    elif not drain_open:
        wrong = "The drain is shut, so a gauge that sticks would not be noticed."
    elif not no_flow:
        wrong = "Air still comes from the drain."
    if not wrong:
        return finding
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text=wrong,
        clears="Shut the outlet to the plant, open the drain fully, wait until it is silent, "
        "leave it open, read the gauge again.",
    )


@check(
    "Proof repeated after a break",
    severity=Severity.SAFETY,
    source=(BREAK_US, COMMON_PRACTICE, OUR_JUDGEMENT),
)
def lockout_recheck(
    crew: str, proof: str, away: Time | None = None, practice: str = "US"
) -> Finding:
    """Zero energy is proved again after 60 min away or a change of shift.

    Parameters
    ----------
    crew : str
        same crew or changed
    proof : str
        repeated, not repeated, or no break of 60 min, same crew
    away : float, optional
        Longest time everybody was away since the last proof, 0 to 72 h, [s]
    practice : str, optional
        US or IEC
    """
    within("away", away, "time", "h", 0, 72)
    one_of("crew", crew, CREWS)
    one_of("proof", proof, PROOFS)
    due = crew == CHANGED or (away is not None and at_least(away, BREAK))
    repeated = Finding(
        Verdict.PASS,
        "The proof was repeated." if due else "No break of 60 min and no change of shift.",
        Severity.SAFETY,
        Quantity(away, "time") if away is not None else None,
        danger="Somebody may have taken a lock off, or air may have leaked back into the tank.",
    )
    finding = _by(practice, RECHECK, repeated)
    if not due and away is None:
        text = "Waits for the longest time everybody was away."
        return replace(finding, verdict=Verdict.OPEN, text=text)
    if not due or proof == REPEATED:
        return finding
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text="After a break of 60 min or a change of shift the proof was not repeated.",
        clears="Look at every lock, prove zero voltage and zero pressure again.",
    )


@check(
    "Live parts near the hands",
    severity=Severity.SAFETY,
    source=(LIVE_WORK, OPERATION, VICINITY, KEPT_BACK, COMMON_PRACTICE),
)
def live_parts(voltage: Voltage, electrician: bool, plan: bool, practice: str = "US") -> Finding:
    """Work at 50 V or more belongs to a qualified electrician with a plan.

    Parameters
    ----------
    voltage : float
        Highest voltage exposed within reach while the work goes on, 0 to 750, [V]
    electrician : bool
        Whether a licensed electrician does this part of the work
    plan : bool
        Whether an energised-work permit or plan is written and the arc-flash label was read
    practice : str, optional
        US or IEC
    """
    within("voltage", voltage, "voltage", "V", 0, 750)
    nothing = Finding(
        Verdict.PASS,
        "Nothing of 50 V or more is within reach.",
        Severity.SAFETY,
        Quantity(voltage, "voltage"),
        Limit(None, LIVE, "voltage"),
        danger=SHOCK,
    )
    finding = _by(practice, LIVE_SOURCES, nothing)
    if not at_least(voltage, LIVE):
        return finding
    zone, near, away, working = (_us_zones if practice == "US" else _iec_zones)(voltage)
    finding = replace(finding, working=working, limit=None)
    if electrician and plan:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text=f"Live work by the electrician under a plan; {zone}: {near}.",
            clears=away,
        )
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text=f"Live parts are within reach without electrician and plan; keep off: {near}.",
        clears="Make the circuit dead, or hand this part to a licensed electrician with an "
        "energised-work permit.",
    )


def _us_zones(voltage: float) -> tuple[str, str, str, tuple[Step, ...]]:
    """The zone of live work, how near that is, what everybody else does, and the working."""
    _, step = work(limited_approach, voltage=voltage)
    row = table("approach_boundaries").at_or_above("voltage", voltage)
    away = "Keep everybody else outside the limited approach boundary."
    return "restricted approach", row["restricted"], away, (step,)


def _iec_zones(voltage: float) -> tuple[str, str, str, tuple[Step, ...]]:
    """The same by IEC practice, where nobody may come nearer than by US practice."""
    zone, first = work(vicinity_zone, voltage=voltage)
    _, second = work(barrier_distance, vicinity=zone)
    row = table("vicinity_zone").at_or_above("voltage", voltage)
    away = "Keep everybody else behind a barrier, outside the distance in the working."
    return "vicinity zone", row["near"], away, (first, second)
