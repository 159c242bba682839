"""The running motor: current against its nameplate, and the power at its shaft.

Invariant: the highest line is judged for current, the mean of the lines for power.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.motor_circuit import PHASES
from wizard.calc.motor_load import (
    AMPERES,
    POWER_FACTOR,
    assumed_efficiency,
    current_limit,
    electrical_input,
    load_fraction,
    shaft_output,
    share,
)
from wizard.calc.overload import SERVICE_FACTOR
from wizard.calc.supply import plate_voltage
from wizard.checks.given import given
from wizard.checks.rule import check
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Current, Number, Power, Ratio, Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

OVERLOAD = "An overloaded motor burns; high current also means high pressure or a tight pump."
AT_SERVICE_FACTOR = ("not stated", "continuous at service factor")


def _lines(currents: tuple[float, ...]) -> None:
    if len(currents) not in (1, 3):
        raise InputError("currents", f"{len(currents)} readings", "one line, or three")
    for current in currents:
        if current == 0:
            raise InputError("currents", "0 A", "one wire at a time; the whole cable reads zero")
        above_zero("currents", current, "current", "A")
        within("currents", current, "current", "A", *AMPERES)


@check(
    "Running current",
    severity=Severity.SAFETY,
    source=(
        Source("nameplate current and service factor, NEMA MG 1; NEC 430.6", "memory"),
        OUR_JUDGEMENT,
    ),
    results={"highest": "current", "mean": "current"},
)
def running_current(
    currents: tuple[Current, ...],
    full_load: Current,
    service_factor: Number | None = None,
    voltage: Voltage | None = None,
    nameplate_voltage: Voltage | None = None,
    plate: str = "not stated",
) -> Finding:
    """The highest line near cut-out stays below nameplate current times service factor.

    Parameters
    ----------
    currents : tuple of float
        Line current near cut-out pressure, one or three lines, 0.1 to 500, [A]
    full_load : float
        Nameplate current for the connected voltage, [A]
    service_factor : float, optional
        Nameplate service factor, 1.0 where none is marked, [-]
    voltage : float, optional
        Mean line-to-line voltage at the same time, [V]
    nameplate_voltage : float, optional
        Rated voltage as connected, [V]
    plate : str, optional
        not stated, or continuous at service factor
    """
    _lines(currents)
    if voltage is not None:
        within("voltage", voltage, "voltage", "V", 1, 1000)
    if nameplate_voltage is not None:
        plate_voltage("nameplate_voltage", nameplate_voltage)
    one_of("plate", plate, AT_SERVICE_FACTOR)
    limit, step = work(
        current_limit, full_load=full_load, service_factor=given(service_factor, 1.0)
    )
    highest, mean = max(currents), sum(currents) / len(currents)
    continuous = plate == "continuous at service factor" and _near(voltage, nameplate_voltage)
    verdict, severity, text = _grade(highest, full_load, limit, continuous)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(highest, "current"),
        Limit(None, limit, "current"),
        (step, *_load(mean, full_load, voltage, nameplate_voltage)),
        danger=OVERLOAD,
        clears=""
        if verdict is Verdict.PASS
        else "Check pressure at the reading, pulley, volts, and that the pump turns freely.",
        ask="Far above the nameplate; is the clamp on the right range, one wire in the jaws?"
        if highest > 3 * full_load
        else "",
        results={"highest": highest, "mean": mean},
    )


def _near(voltage: float | None, nameplate: float | None) -> bool:
    """Whether the volts are known and within 5 % of the nameplate."""
    if voltage is None or nameplate is None:
        return False
    return at_most(abs(voltage / nameplate - 1), 0.05)


def _grade(
    highest: float, full_load: float, limit: float, continuous: bool
) -> tuple[Verdict, Severity, str]:
    if not at_most(highest, limit):
        text = "Above nameplate current times service factor: stop the machine."
        return Verdict.FAIL, Severity.SAFETY, text
    if not at_most(highest, full_load):
        if continuous:
            return Verdict.PASS, Severity.SAFETY, "Inside the service factor, as the plate allows."
        text = "Above the nameplate current, living on the service factor."
        return Verdict.FAIL, Severity.HANDOVER, text
    if not at_least(highest, 0.5 * full_load):
        text = "Below half of the nameplate at full pressure: belt, pulley, or a dead cylinder."
        return Verdict.ADVISORY, Severity.ADVISORY, text
    return Verdict.PASS, Severity.SAFETY, "Loaded as it should be."


def _load(
    mean: float, full_load: float, voltage: float | None, nameplate: float | None
) -> tuple[Step, ...]:
    """The load estimated from current, where it can be."""
    if voltage is None or nameplate is None:
        return ()
    given = {"full_load": full_load, "voltage": voltage, "nameplate": nameplate}
    try:
        return (work(load_fraction, current=mean, **given)[1],)
    except OutsideValidity:
        return ()


@check(
    "Shaft power",
    severity=Severity.SAFETY,
    source=(Source("alternating-current power and motor efficiency", "computed"), OUR_JUDGEMENT),
    results={"input": "power", "shaft": "power"},
)
def shaft_power(
    voltage: Voltage,
    currents: tuple[Current, ...],
    phases: str,
    power: Power,
    power_factor: Ratio | None = None,
    plate_power_factor: Ratio | None = None,
    efficiency: Ratio | None = None,
    service_factor: Number | None = None,
    unbalance_factor: Ratio | None = None,
    site_factor: Ratio | None = None,
) -> Finding:
    """Power at the shaft near cut-out, against nameplate, service factor and derating.

    Parameters
    ----------
    voltage : float
        Mean line-to-line voltage, [V]
    currents : tuple of float
        Line current, one or three lines, [A]
    phases : str
        single or three
    power : float
        Nameplate power, [W]
    power_factor : float, optional
        Measured power factor, 0.3 to 1.0, [-]
    plate_power_factor : float, optional
        Power factor on the nameplate, where none is measured, [-]
    efficiency : float, optional
        Nameplate efficiency, 0.5 to 0.97; a usual value where none is given, [-]
    service_factor : float, optional
        Nameplate service factor, [-]
    unbalance_factor : float, optional
        Derating for voltage unbalance, [-]
    site_factor : float, optional
        Derating for altitude and heat, [-]
    """
    _lines(currents)
    one_of("phases", phases, PHASES)
    above_zero("power", power, "power", "hp")
    within("service_factor", given(service_factor, 1.0), "number", "", *SERVICE_FACTOR)
    for what, derating in (("unbalance_factor", unbalance_factor), ("site_factor", site_factor)):
        within(what, given(derating, 1.0), "ratio", "%", 1, 100)
    if plate_power_factor is not None:
        share("plate power factor", plate_power_factor, POWER_FACTOR)
    factor = plate_power_factor if power_factor is None else power_factor
    mean = sum(currents) / len(currents)
    took, step = work(
        electrical_input,
        voltage=voltage,
        current=mean,
        power_factor=given(factor, 1.0),
        phases=phases,
    )
    usual, usual_steps = _usual(power) if efficiency is None else (efficiency, ())
    shaft, shaft_step = work(shaft_output, input_power=took, efficiency=usual)
    limit, derated = _limits(power, service_factor, unbalance_factor, site_factor)
    verdict, severity, text = _grade_power(shaft, limit, derated, factor is not None)
    if power_factor is None:
        text += (
            " Power factor from the plate." if factor is not None else " Power factor taken as 1."
        )
    if efficiency is None:
        text += " Efficiency assumed."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(shaft, "power"),
        Limit(None, min(limit, derated), "power"),
        (step, *usual_steps, shaft_step),
        danger=OVERLOAD,
        clears=_power_clears(verdict),
        results={"input": took, "shaft": shaft},
    )


def _usual(power: float) -> tuple[float, tuple[Step, ...]]:
    efficiency, step = work(assumed_efficiency, power=power)
    return efficiency, (step,)


def _limits(
    power: float, service: float | None, unbalance: float | None, site: float | None
) -> tuple[float, float]:
    """Nameplate times service factor, and nameplate as derated; the same where nothing derates."""
    limit = power * given(service, 1.0)
    factor = given(unbalance, 1.0) * given(site, 1.0)
    return limit, power * factor if factor < 1 else limit


def _grade_power(
    shaft: float, limit: float, derated: float, known: bool
) -> tuple[Verdict, Severity, str]:
    if at_most(shaft, min(limit, derated)):
        return Verdict.PASS, Severity.SAFETY, "The shaft power is inside the motor's rating."
    if not known:
        text = "May be above the rating; without a power factor it cannot be told."
        return Verdict.INCONCLUSIVE, Severity.HANDOVER, text
    if not at_most(shaft, limit):
        text = "Above the nameplate times service factor: stop the machine."
        return Verdict.FAIL, Severity.SAFETY, text
    text = "Above the power that unbalance, altitude or heat leave."
    return Verdict.FAIL, Severity.HANDOVER, text


def _power_clears(verdict: Verdict) -> str:
    if verdict is Verdict.PASS:
        return ""
    if verdict is Verdict.INCONCLUSIVE:
        return "Measure the power factor with a power analyser, or read it on the motor plate."
    return "Smaller motor sheave or lower pressure, or a larger motor; look at the pump first."
