"""Unbalance of the three phases, in voltage and in current.

Invariant: a lost phase is named as such; a light load is no evidence of a good one.
"""

from __future__ import annotations

import math

from wizard.calc.accepted import above_zero, within, zero_or_above
from wizard.calc.supply import plate_voltage
from wizard.calc.unbalance import (
    DEFINITION,
    negative_sequence,
    unbalance_derating,
    unbalance_of_currents,
    unbalance_of_voltages,
)
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Current, Ratio, Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import Source

HEAT_DANGER = (
    "Unbalance turns a field backward in the motor and heats it out of all proportion; a motor on "
    "two phases burns."
)
LOST_CLEAR = "Stop. The licensed electrician looks for an open fuse, a burnt contact or joint."


def _three(what: str, readings: tuple[float, ...]) -> None:
    if len(readings) != 3:
        raise InputError(what, f"{len(readings)} readings", "three readings, one a phase")


def _voltages(voltages: tuple[float, ...]) -> None:
    """Refuse what cannot be three voltages; one dead pair is a finding, three are not."""
    _three("voltages", voltages)
    for voltage in voltages:
        zero_or_above("voltages", voltage, "voltage", "V")
        within("voltages", voltage, "voltage", "V", 0, 1000)
    within("voltages", max(voltages), "voltage", "V", 50, 1000)


def _question(mean: float, nameplate: float | None) -> str:
    if nameplate is None:
        return ""
    plate_voltage("nameplate", nameplate)
    if abs(mean * math.sqrt(3) / nameplate - 1) <= 0.10:
        return "All near 58 % of the nameplate: line to neutral? Measure line to line."
    if abs(mean / nameplate - 1) > 0.20:
        return "The mean is far from the nameplate; settle the supply voltage first."
    return ""


def _sequence(voltages: tuple[float, ...]) -> tuple[tuple[Step, ...], str, str]:
    """Working, remark and question about the negative sequence."""
    try:
        share, step = work(negative_sequence, voltages=voltages)
    except InputError:
        return (), "", "These three readings cannot belong together; take them within a minute."
    if at_most(share, 0.02):
        return (step,), "", ""
    return (step,), " The negative sequence is above the 2 % of EN 60204-1.", ""


@check(
    "Voltage unbalance",
    severity=Severity.SAFETY,
    source=(
        DEFINITION,
        Source("NEMA MG 1: derate above 1 %, never above 5 % (12.45, 14.36, 20.24)", "confirmed"),
        Source("EN 60204-1:2018 4.3.2", "confirmed"),
    ),
    results={"mean": "voltage", "unbalance": "ratio", "factor": "ratio"},
)
def voltage_unbalance(
    voltages: tuple[Voltage, ...],
    nameplate: Voltage | None = None,
    at_3_percent: Ratio = 0.89,
) -> Finding:
    """Three line-to-line voltages within 1 % of their mean; never beyond 5 %.

    Parameters
    ----------
    voltages : tuple of float
        The three line-to-line voltages, [V]
    nameplate : float, optional
        Rated voltage as connected, to recognise line-to-neutral readings, [V]
    at_3_percent : float, optional
        Reading of the derating curve at 3 %, 0.89 or 0.88, [-]
    """
    _voltages(voltages)
    (mean, unbalance), step = work(unbalance_of_voltages, voltages=voltages)
    sequence, remark, doubt = _sequence(voltages)
    working, results = (step, *sequence), {"mean": mean, "unbalance": unbalance}
    if at_most(unbalance, 0.05):
        factor, factor_step = work(
            unbalance_derating, unbalance=unbalance, at_3_percent=at_3_percent
        )
        working, results = (*working, factor_step), results | {"factor": factor}
    verdict, severity, text, clears = _grade_voltages(voltages, mean, unbalance)
    return Finding(
        verdict,
        text + remark,
        severity,
        Quantity(unbalance, "ratio"),
        Limit(None, 0.01, "ratio"),
        working,
        danger=HEAT_DANGER,
        clears=clears,
        ask=_question(mean, nameplate) or doubt,
        results=results,
    )


def _grade_voltages(
    voltages: tuple[float, ...], mean: float, unbalance: float
) -> tuple[Verdict, Severity, str, str]:
    if min(voltages) < 0.5 * mean:
        text = "Lost phase or open fuse: one pair has less than half of the mean."
        return Verdict.FAIL, Severity.SAFETY, text, LOST_CLEAR
    if not at_most(unbalance, 0.05):
        text = "More than 5 %: the derating curve ends here, the motor must not run."
        return Verdict.FAIL, Severity.SAFETY, text, LOST_CLEAR
    if not at_most(unbalance, 0.03):
        text = "More than 3 %: short unloaded tests only, by the electrician."
        clears = "Find the loaded or loose phase with the supplier, then measure again."
        return Verdict.FAIL, Severity.HANDOVER, text, clears
    if not at_most(unbalance, 0.01):
        text = "More than 1 %: the motor may run for tests at derated load only."
        clears = "Balance the loads on the panel or have the supply corrected; measure again."
        return Verdict.FAIL, Severity.HANDOVER, text, clears
    return Verdict.PASS, Severity.SAFETY, "The three pairs are balanced within 1 %.", ""


@check(
    "Current unbalance",
    severity=Severity.SAFETY,
    source=(
        DEFINITION,
        Source("10 % common practice; 20 % our judgement", "judgement"),
    ),
    results={"mean": "current", "unbalance": "ratio"},
)
def current_unbalance(currents: tuple[Current, ...], full_load: Current) -> Finding:
    """Three line currents, machine loaded, within 10 % of their mean; never beyond 20 %.

    Parameters
    ----------
    currents : tuple of float
        The three line currents, loaded, [A]
    full_load : float
        Nameplate current for the connected voltage, [A]
    """
    _three("currents", currents)
    for current in currents:
        zero_or_above("currents", current, "current", "A")
        within("currents", current, "current", "A", 0, 500)
    above_zero("full_load", full_load, "current", "A")
    if max(currents) <= 0:
        raise InputError("currents", "0 A", "a running motor, one wire at a time in the jaws")
    (mean, unbalance), step = work(unbalance_of_currents, currents=currents)
    verdict, severity, text, clears = _grade_currents(currents, mean, unbalance, full_load)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(unbalance, "ratio"),
        Limit(None, 0.10, "ratio"),
        (step,),
        danger=HEAT_DANGER,
        clears=clears,
        results={"mean": mean, "unbalance": unbalance},
    )


def _grade_currents(
    currents: tuple[float, ...], mean: float, unbalance: float, full_load: float
) -> tuple[Verdict, Severity, str, str]:
    if min(currents) < 0.5 * mean:
        text = "Lost phase: one line carries less than half of the mean."
        return Verdict.FAIL, Severity.SAFETY, text, LOST_CLEAR
    if not at_least(mean, 0.30 * full_load):
        text = "Load the machine first: at light load current unbalance reads high."
        clears = "Measure again near cut-out pressure."
        return Verdict.INCONCLUSIVE, Severity.HANDOVER, text, clears
    shift = (
        "Shift all three motor leads one place, which keeps the rotation: if the high current "
        "follows the lead it is the motor, if it stays it is the supply."
    )
    if not at_most(unbalance, 0.20):
        text = "More than 20 %: stop the machine."
        return Verdict.FAIL, Severity.SAFETY, text, shift
    if not at_most(unbalance, 0.10):
        text = "More than 10 % between the lines."
        return Verdict.FAIL, Severity.HANDOVER, text, shift
    return Verdict.PASS, Severity.SAFETY, "The three lines share the load.", ""
