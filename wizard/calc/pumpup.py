"""Pump-up test: free air delivered, from the rise of pressure in a closed volume.

Invariant: pressures are absolute, and the flow is free air at the state of the intake.
"""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero, zero_or_above
from wizard.calc.gas import MASS_BALANCE
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    RotationalSpeed,
    Temperature,
    Time,
    Volume,
)
from wizard.sources import Source

SPEED_RANGE = 0.05
"""A flow is corrected for speed only when the speeds are this close."""
COOLING_REFUSED = 2.0
"""K; a tank that is colder than this after pumping was not read right."""
GAINED = "a tank that gains air"


def rising(start: float, end: float) -> None:
    """Refuse a pump-up in which the pressure does not rise."""
    above_zero("start", start, "absolute pressure")
    if not end > start:
        least = f"more than the start, {both(start, 'absolute pressure')}"
        raise InputError("end", both(end, "absolute pressure"), least)


@formula(
    "Free air from a pump-up, tank air taken as cold",
    equation="flow = volume × (end - start) / (time × ambient)",
    results="flow",
    source=MASS_BALANCE,
)
def pumpup_flow_simple(
    volume: Volume,
    start: AbsolutePressure,
    end: AbsolutePressure,
    time: Time,
    ambient: AbsolutePressure,
) -> float:
    """Free air delivered into a closed volume, as if its air stayed at room temperature.

    Q = V (p2 - p1) / (t p_a)

    Parameters
    ----------
    volume : float
        Receiver and every pipe, hose and cooler up to the closed valve, [m3]
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, [Pa]
    time : float
        Time from start to end, [s]
    ambient : float
        Air pressure at the intake, [Pa]

    Returns
    -------
    float
        Free air at the state of the intake, [m3/s]

    Notes
    -----
    Indicative only: warm tank air at the end makes the result too high.

    Examples
    --------
    270 L from 5 to 8 bar(g) in 95 s is 0.50489 m3/min:

    >>> round(60 * pumpup_flow_simple(0.270, 601325.0, 901325.0, 95.0, 101325.0), 5)
    0.50489
    """
    rising(start, end)
    above_zero("volume", volume, "volume")
    above_zero("time", time, "time")
    above_zero("ambient", ambient, "absolute pressure")
    return volume * (end - start) / (time * ambient)


@formula(
    "Free air from a pump-up, corrected for warm tank air",
    equation="flow = volume / time × (end / end_temperature - start / start_temperature) × "
    "intake_temperature / ambient"
    ", temperatures absolute",
    results="flow",
    source=MASS_BALANCE,
)
def pumpup_flow_warm(
    volume: Volume,
    start: AbsolutePressure,
    end: AbsolutePressure,
    start_temperature: Temperature,
    end_temperature: Temperature,
    time: Time,
    ambient: AbsolutePressure,
    intake_temperature: Temperature,
) -> float:
    """Free air delivered into a closed volume whose air warms up.

    Q = (V / t) (p2 / T2 - p1 / T1) (T_a / p_a)

    Parameters
    ----------
    volume : float
        Receiver and every pipe, hose and cooler up to the closed valve, [m3]
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, [Pa]
    start_temperature : float
        Tank air at the start, [K]
    end_temperature : float
        Tank air at the end; equal to the start for a settled pressure, [K]
    time : float
        Time the pump ran, [s]
    ambient : float
        Air pressure at the intake, [Pa]
    intake_temperature : float
        Air temperature at the intake, [K]

    Returns
    -------
    float
        Free air at the state of the intake, [m3/s]

    Notes
    -----
    With a settled pressure, read once the tank is within 2 K of its start, no temperature has to
    be guessed: end is the settled pressure and both temperatures are that of the start.

    Examples
    --------
    270 L from 5 to 8 bar(g) in 95 s while the tank warms from 25 to 45 °C, intake at 22 °C, is
    0.40541 m3/min, a fifth less than the simple form says:

    >>> round(60 * pumpup_flow_warm(0.270, 601325.0, 901325.0, 298.15, 318.15, 95.0, 101325.0,
    ...                             295.15), 5)
    0.40541
    """
    rising(start, end)
    above_zero("volume", volume, "volume")
    above_zero("time", time, "time")
    above_zero("ambient", ambient, "absolute pressure")
    each_above_zero(
        "temperature",
        start_temperature=start_temperature,
        end_temperature=end_temperature,
        intake_temperature=intake_temperature,
    )
    if end_temperature < start_temperature - COOLING_REFUSED:
        fall = both(start_temperature - end_temperature, "temperature difference")
        raise InputError(
            "end_temperature",
            f"{fall} below the start",
            "a tank that is not colder after pumping: has the probe come off, or the unit changed",
        )
    gained = end / end_temperature - start / start_temperature
    if gained <= 0:
        raise InputError("end_temperature", both(end_temperature, "temperature"), GAINED)
    return volume / time * gained * intake_temperature / ambient


@formula(
    "Settled pressure without the leak of the wait",
    equation="settled pressure = settled + (settled - settled_again)",
    results="absolute pressure",
    source=Source("a second wait as long as the first loses as much", "computed"),
)
def settled_without_leak(settled: AbsolutePressure, settled_again: AbsolutePressure) -> float:
    """Settled pressure as it would be had nothing leaked while the tank cooled.

    p = p_s + (p_s - p_s2), the second wait being as long as the first

    Parameters
    ----------
    settled : float
        Absolute pressure once the tank has cooled, [Pa]
    settled_again : float
        Absolute pressure after the same wait again, [Pa]

    Returns
    -------
    float
        Settled pressure without the loss, [Pa]

    Examples
    --------
    9.50 bar, then 9.48 bar after the same wait: 9.52 bar without the leak.

    >>> round(settled_without_leak(950000.0, 948000.0))
    952000
    """
    above_zero("settled_again", settled_again, "absolute pressure")
    if settled_again > settled:
        raise InputError(
            "settled_again",
            both(settled_again, "absolute pressure"),
            f"at most {both(settled, 'absolute pressure')}: a tank that is shut cannot gain",
        )
    return settled + (settled - settled_again)


@formula(
    "Flow corrected to rated speed",
    equation="corrected = flow × rated_speed / measured_speed",
    results="flow",
    source=Source("a piston pump delivers in proportion to its speed, within 5 %", "judgement"),
)
def speed_corrected_flow(
    flow: Flow, measured_speed: RotationalSpeed, rated_speed: RotationalSpeed
) -> float:
    """Delivery at rated speed from delivery at a speed close to it.

    Q_c = Q n_rated / n_measured

    Parameters
    ----------
    flow : float
        Free air at the measured speed, [m3/s]
    measured_speed : float
        Pump speed during the test, within 5 % of the rated speed, [r/s]
    rated_speed : float
        Pump speed on the plate, [r/s]

    Returns
    -------
    float
        Free air at rated speed, [m3/s]

    Examples
    --------
    >>> round(speed_corrected_flow(0.0100, 15.2, 15.0), 6)
    0.009868
    """
    zero_or_above("flow", flow, "flow")
    above_zero("measured_speed", measured_speed, "rotational speed")
    above_zero("rated_speed", rated_speed, "rotational speed")
    if not abs(measured_speed / rated_speed - 1) <= SPEED_RANGE * (1 + 1e-9):
        raise OutsideValidity(
            "measured_speed", f"{measured_speed / rated_speed:.1%} of rated", "95 % to 105 %"
        )
    return flow * rated_speed / measured_speed
