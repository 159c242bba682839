"""The supply voltage against the motor nameplate, at rest and under load.

Invariant: voltages are line to line; a line-to-neutral reading is recognised and said, and never
turned into a pass.
"""

from __future__ import annotations

import math

from wizard.both_units import both
from wizard.calc.accepted import above_zero, within
from wizard.calc.supply import (
    MG1_VARIATION,
    plate_voltage,
    sag_ratio,
    voltage_band,
    voltage_deviation,
)
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source
from wizard.tables import table

EN60204 = Source("EN 60204-1:2018 4.3.2", "confirmed")
LIMIT, ZONE_A, LEAST_ROOM = 0.10, 0.05, 0.02
VOLTS_DANGER = (
    "Low volts stall the start and burn the windings, high volts saturate the iron; "
    "a burning motor hurts whoever stands beside it."
)
VOLTS_CLEARS = {
    Verdict.PASS: "",
    Verdict.ADVISORY: "Ask for a tap change.",
    Verdict.FAIL: "Stop, do not start. The licensed electrician corrects taps, connection or "
    "supply, then measures every pair again.",
}


def farthest_reading(
    readings: tuple[float, ...], low_plate: float, high_plate: float
) -> tuple[float, float, Step]:
    """The reading farthest off the plate range, its deviation (0 inside) and the working."""

    def deviation(volts: float) -> tuple[float, Step]:
        nearest = min(max(volts, low_plate), high_plate)
        return work(voltage_deviation, measured=volts, nameplate=nearest)

    farthest = max(readings, key=lambda volts: abs(deviation(volts)[0]))
    return farthest, *deviation(farthest)


def one_or_three(what: str, readings: tuple[float, ...]) -> None:
    """Refuse readings that are not one, or three, voltages above zero to 1000 V."""
    if len(readings) not in (1, 3):
        raise InputError(what, f"{len(readings)} readings", "one reading, or three pairs")
    for reading in readings:
        above_zero(what, reading, "voltage", "V")
        within(what, reading, "voltage", "V", 0, 1000)


def plate_range(nameplate: float, nameplate_high: float | None) -> tuple[float, float]:
    """Lower and upper rated voltage, alike where the plate gives one."""
    plate_voltage("nameplate", nameplate)
    if nameplate_high is None:
        return nameplate, nameplate
    plate_voltage("nameplate_high", nameplate_high)
    if nameplate_high < nameplate:
        raise InputError(
            "nameplate_high",
            both(nameplate_high, "voltage"),
            f"{both(nameplate, 'voltage')} or more",
        )
    return nameplate, nameplate_high


CAUSES = {
    math.sqrt(3): "This looks like line to neutral; was it measured line to line?",
    2.0: "Twice this fits: one leg to neutral of a split supply, or the motor is connected for the "
    "other voltage? Measure line to line and check the dual-voltage connection.",
    0.5: "Half of this fits; check the dual-voltage connection of the motor.",
}
"""What a reading times the factor that brings it into the band usually means."""


def likely_cause(measured: float, low: float, high: float) -> str:
    """The usual reason for a voltage that is possible but far from the band."""
    middle = (low + high) / 2
    fitting = [
        factor
        for factor in (1.0, *CAUSES)
        if at_least(factor * measured, low) and at_most(factor * measured, high)
    ]
    if 1.0 in fitting:
        return ""
    if fitting:
        return CAUSES[min(fitting, key=lambda factor: abs(factor * measured - middle))]
    if not 0.5 * middle <= measured <= 1.5 * middle:
        return "This is far from the nameplate; is the reading or the nameplate typed wrong?"
    return ""


@check(
    "Supply voltage against the motor nameplate",
    severity=Severity.SAFETY,
    source=(MG1_VARIATION, EN60204, Source("IEC 60034-1 7.3, zones A and B", "memory")),
    results={"mean": "voltage", "farthest": "voltage", "deviation": "ratio"},
)
def supply_voltage(
    nameplate: Voltage, measured: tuple[Voltage, ...], nameplate_high: Voltage | None = None
) -> Finding:
    """Every line-to-line reading must lie within 10 % of the nameplate; 5 % is better.

    Parameters
    ----------
    nameplate : float
        Rated voltage as connected; the lower end where the plate gives a range, [V]
    measured : tuple of float
        Line-to-line voltage, one single-phase or three three-phase, [V]
    nameplate_high : float, optional
        Upper end of a rated range such as 208-230, [V]
    """
    low_plate, high_plate = plate_range(nameplate, nameplate_high)
    one_or_three("measured", measured)
    band, band_step = work(voltage_band, nameplate=nameplate, tolerance=LIMIT)
    high = voltage_band(high_plate, LIMIT).high
    farthest, deviation, step = farthest_reading(measured, low_plate, high_plate)
    verdict, text, severity = Verdict.PASS, "Within 5 % of the nameplate.", Severity.SAFETY
    if not at_most(abs(deviation), LIMIT):
        side = "above" if deviation > 0 else "below"
        verdict = Verdict.FAIL
        text = f"The voltage is more than 10 % {side} the nameplate."
    elif not at_most(abs(deviation), ZONE_A):
        verdict, severity = Verdict.ADVISORY, Severity.ADVISORY
        text = "Inside 10 % but beyond 5 % of the nameplate: the motor runs hotter."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(farthest, "voltage"),
        Limit(band.low, high, "voltage"),
        (band_step, step),
        danger=VOLTS_DANGER,
        clears=VOLTS_CLEARS[verdict],
        ask=likely_cause(farthest, band.low, high),
        results={
            "mean": sum(measured) / len(measured),
            "farthest": farthest,
            "deviation": deviation,
        },
    )


@check(
    "Nominal supply against the motor nameplate",
    severity=Severity.SAFETY,
    source=(
        MG1_VARIATION,
        Source("2 % of nameplate left to the nearer limit is our judgement", "judgement"),
    ),
)
def nominal_pair(
    nominal: Voltage,
    nameplate: Voltage,
    nameplate_high: Voltage | None = None,
    usable_at: Voltage | None = None,
) -> Finding:
    """Whether this motor belongs on this supply, ordinary variation included.

    Parameters
    ----------
    nominal : float
        Nominal line-to-line voltage of the supply, [V]
    nameplate : float
        Rated voltage as connected; the lower end of a range, [V]
    nameplate_high : float, optional
        Upper end of a rated range such as 208-230, [V]
    usable_at : float, optional
        Lower voltage that the plate calls usable without rating it, [V]
    """
    within("nominal", nominal, "voltage", "V", 100, 690)
    low_plate, high_plate = plate_range(nameplate, nameplate_high)
    if usable_at is not None:
        plate_voltage("usable_at", usable_at)
    band, band_step = work(voltage_band, nameplate=nameplate, tolerance=LIMIT)
    high = voltage_band(high_plate, LIMIT).high
    _, deviation, step = farthest_reading((nominal,), low_plate, high_plate)
    room = min(nominal - band.low, high - nominal) / nameplate
    usable = usable_at is not None and at_least(nominal, usable_at)
    verdict, severity, text = Verdict.PASS, Severity.SAFETY, "The motor belongs on this supply."
    if not at_most(abs(deviation), LIMIT):
        verdict, text = Verdict.FAIL, "This motor does not belong on this supply: wrong voltage."
    elif room < LEAST_ROOM and not usable:
        verdict, severity = Verdict.FAIL, Severity.HANDOVER
        text = "Less than 2 % of the nameplate is left to the limit; ordinary variation crosses it."
    elif not at_most(abs(deviation), ZONE_A):
        verdict, severity = Verdict.ADVISORY, Severity.ADVISORY
        text = "The pair is more than 5 % apart: expect more current and heat."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(nominal, "voltage"),
        Limit(band.low, high, "voltage"),
        (band_step, step),
        danger=VOLTS_DANGER,
        clears="" if verdict is Verdict.PASS else _pair_clears(nominal),
        ask=likely_cause(nominal, band.low, high),
    )


def _pair_clears(nominal: float) -> str:
    for row in table("nominal_voltage").rows:
        if row["supply"] == nominal:
            return f"A {nominal:g} V supply wants a motor rated {row['motor']} V at its frequency."
    return "Fit a motor rated for this supply, or have the transformer taps changed."


@check(
    "Sag from unloaded to running",
    severity=Severity.HANDOVER,
    source=OUR_JUDGEMENT,
    results={"sag": "ratio"},
)
def voltage_sag(unloaded: Voltage, running: tuple[Voltage, ...]) -> Finding:
    """How much the supply gives way under the machine: 3 % is noted, 5 % must be put right.

    Parameters
    ----------
    unloaded : float
        Mean line voltage with the machine off, [V]
    running : tuple of float
        Line voltage with the machine loaded, one or three readings, [V]
    """
    one_or_three("running", running)
    sag, step = work(sag_ratio, unloaded=unloaded, running=sum(running) / len(running))
    verdict, severity, text = Verdict.PASS, Severity.HANDOVER, "The supply holds up under load."
    ask = ""
    if not at_most(sag, 0.05):
        verdict, text = Verdict.FAIL, "The supply sags more than 5 % under load."
    elif not at_most(sag, 0.03):
        verdict, severity = Verdict.ADVISORY, Severity.ADVISORY
        text = "The supply sags more than 3 % under load."
    elif sag < -0.02:
        ask = "The voltage rose under load; were both readings taken at the same place?"
    return Finding(
        verdict,
        text,
        severity,
        Quantity(sag, "ratio"),
        Limit(None, 0.05, "ratio"),
        (step,),
        danger="A supply that sags starves the motor at the next start and drops out contactors.",
        clears=""
        if verdict is Verdict.PASS
        else "Find the thin or long run or the loose joint; the electrician checks feeder and "
        "transformer.",
        ask=ask,
        results={"sag": sag},
    )
