"""The supply frequency, alone and together with the voltage.

Invariant: a supply of the other nominal frequency is named as such, not as a deviation.
"""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.supply import (
    MG1_VARIATION,
    combined_deviation,
    frequency_deviation,
    volts_per_hertz,
)
from wizard.checks.rule import check
from wizard.checks.supply import (
    EN60204,
    LIMIT,
    farthest_reading,
    one_or_three,
    plate_range,
)
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Frequency, Voltage
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import Source

FREQUENCY_LIMIT = 0.05


@check(
    "Supply frequency against the nameplate",
    severity=Severity.SAFETY,
    source=(MG1_VARIATION, EN60204),
    results={"deviation": "ratio"},
)
def frequency(nameplate: Frequency, measured: Frequency) -> Finding:
    """Speed follows frequency: beyond 5 % the machine must not run.

    Parameters
    ----------
    nameplate : float
        Rated frequency, 50 or 60, [Hz]
    measured : float
        Supply frequency; before an inverter, not behind it, 40 to 70, [Hz]
    """
    if nameplate not in (50.0, 60.0):
        raise InputError("nameplate frequency", both(nameplate, "frequency"), "50 Hz or 60 Hz")
    deviation, step = work(frequency_deviation, measured=measured, nameplate=nameplate)
    other = 110.0 - nameplate
    verdict, severity, text = Verdict.PASS, Severity.SAFETY, "Within 1 % of the nameplate."
    if at_most(abs(measured - other), FREQUENCY_LIMIT * other):
        verdict = Verdict.FAIL
        text = f"Wrong country: a {other:g} Hz supply on a {nameplate:g} Hz plate."
    elif not at_most(abs(deviation), FREQUENCY_LIMIT):
        verdict, text = Verdict.FAIL, "The frequency is more than 5 % off the nameplate."
    elif not at_most(abs(deviation), 0.01):
        verdict, severity = Verdict.ADVISORY, Severity.ADVISORY
        text = "More than 1 % off: a generator, an inverter or the meter."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(measured, "frequency"),
        Limit(0.95 * nameplate, 1.05 * nameplate, "frequency"),
        (step,),
        danger="Too fast breaks valves and rods, too slow at full volts burns the winding.",
        clears="Do not run. Motor, sheave and supply must be rated for one frequency."
        if verdict is Verdict.FAIL
        else "",
        results={"deviation": deviation},
    )


def _together(dv: float, df: float, both: float, flux: float) -> tuple[Verdict, Severity, str]:
    if not at_most(abs(dv), LIMIT):
        return Verdict.FAIL, Severity.SAFETY, "The voltage alone is already outside 10 %."
    if not at_most(abs(df), FREQUENCY_LIMIT):
        return Verdict.FAIL, Severity.SAFETY, "The frequency alone is already outside 5 %."
    if not at_most(both, LIMIT):
        text = "Each is inside its own limit, but together they are beyond 10 %."
        return Verdict.FAIL, Severity.HANDOVER, text
    if not (at_least(flux, 0.90) and at_most(flux, 1.10)):
        text = "Volts per hertz are outside 0.90 to 1.10 of the nameplate."
        return Verdict.FAIL, Severity.HANDOVER, text
    return Verdict.PASS, Severity.SAFETY, "Together within 10 %."


@check(
    "Voltage and frequency taken together",
    severity=Severity.SAFETY,
    source=(
        MG1_VARIATION,
        Source("volts per hertz 0.90 to 1.10 is our judgement", "judgement"),
    ),
)
def combined_variation(
    nameplate_voltage: Voltage,
    voltage: tuple[Voltage, ...],
    nameplate_frequency: Frequency,
    frequency: Frequency,
    nameplate_voltage_high: Voltage | None = None,
) -> Finding:
    """The absolute deviations of voltage and frequency together stay within 10 %.

    Parameters
    ----------
    nameplate_voltage : float
        Rated voltage as connected; the lower end of a range, [V]
    voltage : tuple of float
        Line-to-line voltage, one or three readings; the farthest off counts, [V]
    nameplate_frequency : float
        Rated frequency, [Hz]
    frequency : float
        Supply frequency, [Hz]
    nameplate_voltage_high : float, optional
        Upper end of a rated range such as 208-230, [V]
    """
    one_or_three("voltage", voltage)
    low_plate, high_plate = plate_range(nameplate_voltage, nameplate_voltage_high)
    farthest, dv, dv_step = farthest_reading(voltage, low_plate, high_plate)
    df, df_step = work(frequency_deviation, measured=frequency, nameplate=nameplate_frequency)
    both, step = work(combined_deviation, voltage_deviation=dv, frequency_deviation=df)
    flux, flux_step = work(
        volts_per_hertz,
        voltage=farthest,
        nameplate_voltage=min(max(farthest, low_plate), high_plate),
        frequency=frequency,
        nameplate_frequency=nameplate_frequency,
    )
    verdict, severity, text = _together(dv, df, both, flux)
    return Finding(
        verdict,
        text,
        severity,
        Quantity(both, "ratio"),
        Limit(None, LIMIT, "ratio"),
        (dv_step, df_step, step, flux_step),
        danger="The motor saturates or starves although each number alone looks right.",
        clears="Bring voltage or frequency closer to the nameplate, then measure both again."
        if verdict is Verdict.FAIL
        else "",
    )
