"""Measured power against the volts and amperes that carried it.

Invariant: three readings of one load; where they cannot belong together none of them is believed.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.calc.motor_circuit import PHASES
from wizard.calc.motor_load import AC_POWER, POWER_FACTOR, implied_power_factor, share
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Current, Power, Ratio, Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT
from wizard.tables import table

METERS = 0.05
"""What power meter, voltmeter and clamp may be off together."""
APART = 0.10
"""Share by which a measured power factor may differ from the one that follows."""
INVERTER = "inverter"
LIKELY = (
    "clamp round a wrong conductor or two, a wrong scale or CT ratio, or power and amperes read "
    "at another load"
)
ASK = f"Power, volts and amperes do not go together: {LIKELY}?"
WAITS = Finding(Verdict.OPEN, "Waits for the volts and amperes under load.", Severity.HANDOVER)
AGAIN = "Read power, volts and amperes again together, one wire in the jaws, just below cut-out."


@check(
    "Measured power against volts and amperes",
    severity=Severity.HANDOVER,
    source=(AC_POWER, COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"power_factor": "number"},
)
def power_reading(
    input_power: Power,
    phases: str,
    voltage: Voltage | None = None,
    currents: tuple[Current, ...] | None = None,
    single_voltage: Voltage | None = None,
    single_currents: tuple[Current, ...] | None = None,
    power_factor: Ratio | None = None,
    start: str | None = None,
) -> Finding:
    """The power factor that follows is possible, usual, and the one that was measured.

    Parameters
    ----------
    input_power : float
        Electrical input that was measured, loaded, [W]
    phases : str
        single or three
    voltage : float, optional
        Mean line-to-line voltage of three phases, loaded, [V]
    currents : tuple of float, optional
        Line currents of three phases, loaded, [A]
    single_voltage : float, optional
        Voltage of a single-phase motor, loaded, [V]
    single_currents : tuple of float, optional
        Line current of a single-phase motor, loaded, [A]
    power_factor : float, optional
        Measured power factor, 0.3 to 1.0, [-]
    start : str, optional
        How the motor starts; behind an inverter no power factor is usual
    """
    one_of("phases", phases, PHASES)
    within("input power", input_power, "power", "kW", 0, 100)
    if power_factor is not None:
        share("power factor", power_factor, POWER_FACTOR)
    three = phases == "three"
    volts, amperes = (voltage, currents) if three else (single_voltage, single_currents)
    if volts is None or amperes is None:
        return WAITS
    if not amperes:
        raise InputError("currents", "nothing", "one line, or three")
    mean = sum(amperes) / len(amperes)
    given = {"voltage": volts, "current": mean, "phases": phases}
    found, step = work(implied_power_factor, input_power=input_power, **given)
    usual = table("loaded_power_factor").row("phases", phases)
    low, high = (None, 1.0) if start == INVERTER else (usual["low"], usual["high"])
    finding = Finding(
        Verdict.PASS,
        "Power, volts and amperes go together.",
        Severity.HANDOVER,
        Quantity(found, "number"),
        Limit(low, high, "number"),
        (step,),
        danger="A wrong reading hides an overload, or a machine that wastes power.",
        results={"power_factor": found},
    )
    measured = None if start == INVERTER else power_factor
    return _graded(finding, found, low or 0.0, high, measured)


def _graded(
    finding: Finding, found: float, low: float, high: float, measured: float | None
) -> Finding:
    if not at_most(found, 1.0 + METERS):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="More power than these volts and amperes can carry: a reading is wrong.",
            limit=Limit(None, 1.0 + METERS, "number"),
            clears=AGAIN,
            ask=ASK,
        )
    text = ""
    if not at_most(found, high):
        text = "The power factor that follows is higher than a loaded motor has."
    elif not at_least(found, low):
        text = "The power factor that follows is lower than a loaded motor has."
    elif measured is not None and not at_most(abs(found / measured - 1), APART):
        text = "The power factor that follows is not the one that was measured."
        limits = Limit(measured * (1 - APART), measured * (1 + APART), "number")
        finding = replace(finding, limit=limits)
    if not text:
        return finding
    return replace(
        finding,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text=text,
        clears=AGAIN,
        ask=ASK,
    )
