"""How well a pump-up test knows its own answer.

Invariant: every uncertainty is a standard one; only the expanded result is about 95 %.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero, zero_or_above
from wizard.calc.pumpup import GAINED
from wizard.errors import InputError
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    GaugePressure,
    PressureDifference,
    Ratio,
    Temperature,
    TemperatureDifference,
    Time,
)
from wizard.sources import Source

GUM = Source("JCGM 100:2008 (GUM), law of propagation of uncertainty", "memory")
COVERAGE = 2.0
WORDS = {
    "volume": "the tank volume",
    "time": "the stopwatch",
    "ambient": "the air pressure",
    "intake": "the intake temperature",
    "pressures": "the pressure gauge",
    "temperatures": "the tank temperature",
    "scatter": "the scatter of the laps",
    "model": "the step to rated pressure",
}


class FlowUncertainty(NamedTuple):
    """Relative standard uncertainties by origin, their sum, and the expanded one."""

    volume: float
    time: float
    ambient: float
    intake: float
    pressures: float
    temperatures: float
    scatter: float
    model: float
    combined: float
    expanded: float


@formula(
    "Uncertainty of a gauge from its class",
    equation="uncertainty = accuracy_class × full_scale / √3",
    results="pressure difference",
    source=Source("JCGM 100:2008 (GUM) 4.3.7, rectangular distribution", "memory"),
)
def gauge_uncertainty(accuracy_class: Ratio, full_scale: GaugePressure) -> float:
    """Standard uncertainty of a reading of a gauge of a stated class.

    u = c FS / sqrt(3)

    Parameters
    ----------
    accuracy_class : float
        Accuracy class, share of full scale, [-]
    full_scale : float
        Top of the dial, [Pa]

    Returns
    -------
    float
        Standard uncertainty, [Pa]

    Examples
    --------
    A 1 % gauge of 300 psi is good for 1.73 psi:

    >>> round(gauge_uncertainty(0.01, 300.0), 4)
    1.7321
    """
    above_zero("accuracy_class", accuracy_class, "ratio")
    above_zero("full_scale", full_scale, "gauge pressure")
    if accuracy_class > 0.1:
        raise InputError(
            "accuracy_class", both(accuracy_class, "ratio"), "at most 10 % of full scale"
        )
    return accuracy_class * full_scale / math.sqrt(3)


@formula(
    "Uncertainty of the delivery from a pump-up",
    equation="(u / Q)² = volume_uncertainty² + (time_uncertainty / time)² "
    "+ (ambient_uncertainty / ambient)² + (intake_uncertainty / intake_temperature)² "
    "+ [(u_p / T2)² + (u_p / T1)² "
    "+ (p2 × u_T / T2²)² + (p1 × u_T / T1²)²] / D², D = p2 / T2 - p1 / T1",
    results=dict.fromkeys(FlowUncertainty._fields, "ratio"),
    source=GUM,
)
def pumpup_uncertainty(
    start: AbsolutePressure,
    end: AbsolutePressure,
    start_temperature: Temperature,
    end_temperature: Temperature,
    time: Time,
    ambient: AbsolutePressure,
    intake_temperature: Temperature,
    pressure_uncertainty: PressureDifference,
    volume_uncertainty: Ratio = 0.01,
    temperature_uncertainty: TemperatureDifference = 3.0,
    time_uncertainty: Time = 0.3,
    ambient_uncertainty: PressureDifference = 200.0,
    intake_uncertainty: TemperatureDifference = 1.0,
    scatter: Ratio = 0.0,
    model: Ratio = 0.0,
) -> FlowUncertainty:
    """Uncertainty of a delivery measured by pump-up, and where it comes from.

    (u/Q)^2 = (u_V/V)^2 + (u_t/t)^2 + (u_pa/p_a)^2 + (u_Ta/T_a)^2 + [(u_p/T2)^2 + (u_p/T1)^2
    + (p2 u_T/T2^2)^2 + (p1 u_T/T1^2)^2] / D^2, D = p2/T2 - p1/T1; expanded U = 2 u

    Parameters
    ----------
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, [Pa]
    start_temperature : float
        Tank air at the start, [K]
    end_temperature : float
        Tank air at the end, [K]
    time : float
        Time the pump ran, [s]
    ambient : float
        Air pressure at the intake, [Pa]
    intake_temperature : float
        Air temperature at the intake, [K]
    pressure_uncertainty : float
        Standard uncertainty of one gauge reading, [Pa]
    volume_uncertainty : float, optional
        Standard uncertainty of the volume, share of it, [-]
    temperature_uncertainty : float, optional
        Standard uncertainty of the tank temperature, [K]
    time_uncertainty : float, optional
        Standard uncertainty of the time, [s]
    ambient_uncertainty : float, optional
        Standard uncertainty of the air pressure, [Pa]
    intake_uncertainty : float, optional
        Standard uncertainty of the intake temperature, [K]
    scatter : float, optional
        Relative standard uncertainty of the slope through the laps, [-]
    model : float, optional
        Relative standard uncertainty of the step to rated pressure, [-]

    Returns
    -------
    FlowUncertainty
        Relative standard uncertainty by origin, combined and expanded, [-]

    Examples
    --------
    From 100 to 150 psig in 60 s with 1 psi gauges and 3 K thermometers: 11 %, which cannot judge
    a tolerance of 5 to 7 %:

    >>> psi = 6894.757293168
    >>> u = pumpup_uncertainty(114.696 * psi, 164.696 * psi, 300.0, 312.0, 60.0, 14.696 * psi,
    ...                        293.15, psi)
    >>> round(u.combined, 5), round(u.expanded, 4), dominant(u)
    (0.05528, 0.1106, 'the tank temperature')
    """
    each_above_zero("absolute pressure", start=start, end=end, ambient=ambient)
    each_above_zero(
        "temperature",
        start_temperature=start_temperature,
        end_temperature=end_temperature,
        intake_temperature=intake_temperature,
    )
    each_above_zero("time", time=time, time_uncertainty=time_uncertainty)
    each_above_zero(
        "pressure difference",
        pressure_uncertainty=pressure_uncertainty,
        ambient_uncertainty=ambient_uncertainty,
    )
    above_zero("volume_uncertainty", volume_uncertainty, "ratio")
    each_above_zero(
        "temperature difference",
        temperature_uncertainty=temperature_uncertainty,
        intake_uncertainty=intake_uncertainty,
    )
    zero_or_above("scatter", scatter, "ratio")
    zero_or_above("model", model, "ratio")
    gained = end / end_temperature - start / start_temperature
    if gained <= 0:
        raise InputError("end", both(end, "absolute pressure"), GAINED)
    parts = (
        volume_uncertainty,
        time_uncertainty / time,
        ambient_uncertainty / ambient,
        intake_uncertainty / intake_temperature,
        pressure_uncertainty * math.hypot(1 / end_temperature, 1 / start_temperature) / gained,
        temperature_uncertainty
        * math.hypot(end / end_temperature**2, start / start_temperature**2)
        / gained,
        scatter,
        model,
    )
    combined = math.hypot(*parts)
    return FlowUncertainty(*parts, combined, COVERAGE * combined)


def dominant(uncertainty: FlowUncertainty) -> str:
    """What contributes most, in words."""
    return WORDS[max(WORDS, key=lambda name: getattr(uncertainty, name))]
