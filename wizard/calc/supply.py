"""Supply voltage and frequency against the motor nameplate.

Invariant: every voltage is line to line; a deviation is relative to the nameplate.
"""

from __future__ import annotations

from typing import NamedTuple

from wizard.calc.accepted import above_zero, within
from wizard.formula import formula
from wizard.kinds import Frequency, Number, Ratio, Voltage
from wizard.sources import Source

MG1_VARIATION = Source("NEMA MG 1-2011 12.44.1", "confirmed")
PLATE_VOLTS = (100, 690)


class VoltageBand(NamedTuple):
    """Lowest and highest accepted voltage, V."""

    low: float
    high: float


def plate_voltage(what: str, value: float) -> None:
    """Refuse a nameplate voltage outside 100 V to 690 V."""
    within(what, value, "voltage", "V", *PLATE_VOLTS)


@formula(
    "Voltage band of a motor nameplate",
    equation="band = nameplate × (1 ± tolerance)",
    results={"low": "voltage", "high": "voltage"},
    source=MG1_VARIATION,
)
def voltage_band(nameplate: Voltage, tolerance: Ratio = 0.10) -> VoltageBand:
    """Lowest and highest voltage at which a motor may run at rated load.

    low = nameplate (1 - tolerance), high = nameplate (1 + tolerance)

    Parameters
    ----------
    nameplate : float
        Rated voltage as connected, 100 to 690, [V]
    tolerance : float, optional
        Half width of the band, above 0 to 20 %, [-]

    Returns
    -------
    VoltageBand
        Ends of the band, [V]

    Examples
    --------
    A 230 V plate gives 207 V to 253 V ("How Precise Are Motor Nameplate Ratings?", 2013):

    >>> [round(v, 6) for v in voltage_band(230.0)]
    [207.0, 253.0]
    """
    plate_voltage("nameplate", nameplate)
    above_zero("tolerance", tolerance, "ratio", "%")
    within("tolerance", tolerance, "ratio", "%", 0, 20)
    return VoltageBand(nameplate * (1 - tolerance), nameplate * (1 + tolerance))


@formula(
    "Voltage deviation from the nameplate",
    equation="deviation = (measured - nameplate) / nameplate",
    results="ratio",
    source=MG1_VARIATION,
)
def voltage_deviation(measured: Voltage, nameplate: Voltage) -> Ratio:
    """How far a line-to-line voltage lies from the nameplate.

    deviation = (measured - nameplate) / nameplate

    Parameters
    ----------
    measured : float
        Line-to-line voltage, above 0 to 1000, [V]
    nameplate : float
        Rated voltage as connected, 100 to 690, [V]

    Returns
    -------
    float
        Deviation, negative when low, [-]

    Examples
    --------
    206.9 V on a 230 V plate is 10.043 % low:

    >>> round(voltage_deviation(206.9, 230.0), 7)
    -0.1004348
    """
    above_zero("measured", measured, "voltage", "V")
    within("measured", measured, "voltage", "V", 0, 1000)
    plate_voltage("nameplate", nameplate)
    return (measured - nameplate) / nameplate


@formula(
    "Voltage sag from unloaded to running",
    equation="sag = (unloaded - running) / unloaded",
    results="ratio",
    source=Source("definition", "computed"),
)
def sag_ratio(unloaded: Voltage, running: Voltage) -> Ratio:
    """Share of the unloaded voltage that is lost when the machine runs loaded.

    sag = (unloaded - running) / unloaded

    Parameters
    ----------
    unloaded : float
        Mean line voltage with the machine off, [V]
    running : float
        Mean line voltage with the machine loaded, [V]

    Returns
    -------
    float
        Sag; negative where the voltage rose, [-]

    Examples
    --------
    484 V unloaded and 468 V running:

    >>> round(sag_ratio(484.0, 468.0), 6)
    0.033058
    """
    for what, value in (("unloaded", unloaded), ("running", running)):
        within(what, value, "voltage", "V", 1, 1000)
    return (unloaded - running) / unloaded


@formula(
    "Frequency deviation from the nameplate",
    equation="deviation = (measured - nameplate) / nameplate",
    results="ratio",
    source=MG1_VARIATION,
)
def frequency_deviation(measured: Frequency, nameplate: Frequency) -> Ratio:
    """How far the supply frequency lies from the nameplate; speed follows it.

    deviation = (measured - nameplate) / nameplate

    Parameters
    ----------
    measured : float
        Supply frequency, 40 to 70, [Hz]
    nameplate : float
        Rated frequency, 50 or 60, [Hz]

    Returns
    -------
    float
        Deviation, negative when low, [-]

    Examples
    --------
    59.1 Hz on a 60 Hz plate:

    >>> round(frequency_deviation(59.1, 60.0), 6)
    -0.015
    """
    within("measured", measured, "frequency", "Hz", 40, 70)
    within("nameplate", nameplate, "frequency", "Hz", 50, 60)
    return (measured - nameplate) / nameplate


@formula(
    "Combined variation of voltage and frequency",
    equation="combined = |voltage_deviation| + |frequency_deviation|",
    results="ratio",
    source=MG1_VARIATION,
)
def combined_deviation(voltage_deviation: Ratio, frequency_deviation: Ratio) -> Ratio:
    """Sum of the absolute deviations of voltage and frequency.

    combined = |dV| + |df|

    Parameters
    ----------
    voltage_deviation : float
        Deviation of the voltage from the nameplate, [-]
    frequency_deviation : float
        Deviation of the frequency from the nameplate, [-]

    Returns
    -------
    float
        Combined variation, [-]

    Examples
    --------
    5.1 % low volts and 1.6 % high frequency make 6.7 % ("How Precise Are Motor Nameplate
    Ratings?", 2013):

    >>> round(combined_deviation(-0.051, 0.016), 6)
    0.067
    """
    within("voltage_deviation", voltage_deviation, "ratio", "%", -100, 900)
    within("frequency_deviation", frequency_deviation, "ratio", "%", -50, 50)
    return abs(voltage_deviation) + abs(frequency_deviation)


@formula(
    "Volts per hertz against the nameplate",
    equation="ratio = (voltage / nameplate_voltage) / (frequency / nameplate_frequency)",
    results="number",
    source=Source("flux of an induction motor follows volts per hertz", "computed"),
)
def volts_per_hertz(
    voltage: Voltage,
    nameplate_voltage: Voltage,
    frequency: Frequency,
    nameplate_frequency: Frequency,
) -> Number:
    """Magnetic flux relative to rated flux; above 1.1 the iron saturates.

    ratio = (V / V_plate) / (f / f_plate)

    Parameters
    ----------
    voltage : float
        Line-to-line voltage, [V]
    nameplate_voltage : float
        Rated voltage as connected, [V]
    frequency : float
        Supply frequency, [Hz]
    nameplate_frequency : float
        Rated frequency, [Hz]

    Returns
    -------
    float
        Ratio, 1 at rated flux, [-]

    Examples
    --------
    230 V at 50 Hz on a 230 V 60 Hz plate saturates the motor:

    >>> round(volts_per_hertz(230.0, 230.0, 50.0, 60.0), 6)
    1.2
    """
    above_zero("voltage", voltage, "voltage", "V")
    plate_voltage("nameplate_voltage", nameplate_voltage)
    within("frequency", frequency, "frequency", "Hz", 40, 70)
    within("nameplate_frequency", nameplate_frequency, "frequency", "Hz", 50, 60)
    return (voltage / nameplate_voltage) / (frequency / nameplate_frequency)
