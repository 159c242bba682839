"""How long a pump-up should take: constant delivery, falling delivery, warm tank.

Invariant: pressures are absolute and the flow is free air at the state of the intake.
"""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero, fraction
from wizard.calc.gas import MASS_BALANCE
from wizard.calc.pumpup import GAINED, rising
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import AbsolutePressure, Flow, Number, Ratio, Temperature, Time, Volume

STRIPS = 400
LOWEST_EFFICIENCY = 0.05
CLEARANCE = 0.05
EXPONENT = 1.3


@formula(
    "Pump-up time at constant delivery",
    equation="time = volume × (end - start) / (flow × ambient)",
    results="time",
    source=MASS_BALANCE,
)
def pumpup_time_constant(
    volume: Volume,
    start: AbsolutePressure,
    end: AbsolutePressure,
    flow: Flow,
    ambient: AbsolutePressure,
) -> float:
    """Time to fill a volume when delivery does not fall with pressure.

    t = V (p2 - p1) / (Q p_a)

    Parameters
    ----------
    volume : float
        Receiver and every pipe, hose and cooler up to the closed valve, [m3]
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, [Pa]
    flow : float
        Free air delivered, [m3/s]
    ambient : float
        Air pressure at the intake, [Pa]

    Returns
    -------
    float
        Time, [s]

    Examples
    --------
    500 L from 6 to 10 bar(g) at 1.20 m3/min takes 98.692 s:

    >>> round(pumpup_time_constant(0.5, 701325.0, 1101325.0, 0.02, 101325.0), 3)
    98.692
    """
    rising(start, end)
    above_zero("volume", volume, "volume")
    above_zero("flow", flow, "flow")
    above_zero("ambient", ambient, "absolute pressure")
    return volume * (end - start) / (flow * ambient)


@formula(
    "Pump-up time with delivery that falls with pressure",
    equation="time = volume / (ambient × rated_flow) × integral from start to end of "
    "η(rated_pressure) / η(p) dp, "
    "η(p) = 1 + clearance - clearance × (p / suction) ^ (1 / (stages × exponent))",
    results="time",
    source=MASS_BALANCE,
)
def pumpup_time_falling(
    volume: Volume,
    start: AbsolutePressure,
    end: AbsolutePressure,
    rated_flow: Flow,
    rated_pressure: AbsolutePressure,
    suction: AbsolutePressure,
    ambient: AbsolutePressure,
    stages: int = 1,
    clearance: Ratio = CLEARANCE,
    exponent: Number = EXPONENT,
) -> float:
    """Time to fill a volume when the clearance takes more of each stroke as pressure rises.

    t = integral of V dp / (p_a Q_rated eta(p) / eta(p_rated)), by Simpson's rule in 400 strips;
    the first stage of a two-stage pump works up to the square root of the whole ratio.

    Parameters
    ----------
    volume : float
        Receiver and every pipe, hose and cooler up to the closed valve, [m3]
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, [Pa]
    rated_flow : float
        Free air delivered at rated pressure, [m3/s]
    rated_pressure : float
        Absolute pressure at which the flow is rated, [Pa]
    suction : float
        Absolute pressure in the cylinder at the end of suction, [Pa]
    ambient : float
        Air pressure at the intake, [Pa]
    stages : int, optional
        Stages of compression, 1 or 2, [-]
    clearance : float, optional
        Clearance volume over swept volume, [-]
    exponent : float, optional
        Exponent of the re-expansion, [-]

    Returns
    -------
    float
        Time with the tank air at intake temperature, [s]

    Examples
    --------
    500 L from 6 to 10 bar(g), two stages, 1.20 m3/min at 10 bar(g), takes 97.691 s:

    >>> round(pumpup_time_falling(0.5, 701325.0, 1101325.0, 0.02, 1101325.0, 101325.0, 101325.0,
    ...                           2), 3)
    97.691
    """
    rising(start, end)
    above_zero("volume", volume, "volume")
    above_zero("rated_flow", rated_flow, "flow")
    each_above_zero(
        "absolute pressure", rated_pressure=rated_pressure, suction=suction, ambient=ambient
    )
    above_zero("clearance", clearance, "ratio")
    above_zero("exponent", exponent, "number")
    fraction("clearance", clearance)
    if stages not in (1, 2):
        raise InputError("stages", str(stages), "1 or 2")
    power = 1 / (stages * exponent)

    def share(pressure: float) -> float:
        caught: float = max(pressure / suction, 1.0) ** power
        return 1 + clearance - clearance * caught

    if share(max(end, rated_pressure)) <= LOWEST_EFFICIENCY:
        raise OutsideValidity(
            "end", both(end, "absolute pressure"), "a pressure that this pump can reach"
        )
    step = (end - start) / STRIPS
    weights = (1, *(4 if i % 2 else 2 for i in range(1, STRIPS)), 1)
    total = sum(w / share(start + i * step) for i, w in enumerate(weights))
    return volume / (ambient * rated_flow) * share(rated_pressure) * total * step / 3


@formula(
    "Pump-up time of a tank that warms",
    equation="time = cold_time × (end × intake_temperature / end_temperature - "
    "start × intake_temperature / start_temperature) / (end - start)"
    ", temperatures absolute",
    results="time",
    source=MASS_BALANCE,
)
def pumpup_time_warm(
    cold_time: Time,
    start: AbsolutePressure,
    end: AbsolutePressure,
    start_temperature: Temperature,
    end_temperature: Temperature,
    intake_temperature: Temperature,
) -> float:
    """Predicted time when the tank air is warmer than the intake: it shows its pressure sooner.

    t = t_cold (p2 T_a / T2 - p1 T_a / T1) / (p2 - p1)

    Parameters
    ----------
    cold_time : float
        Predicted time with the tank air at intake temperature, [s]
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, [Pa]
    start_temperature : float
        Tank air at the start, [K]
    end_temperature : float
        Tank air at the end, [K]
    intake_temperature : float
        Air temperature at the intake, [K]

    Returns
    -------
    float
        Time until the gauge shows the end pressure, [s]

    Notes
    -----
    The rule of thumb t_cold T1 / T2 holds only for a tank that starts empty.

    Examples
    --------
    Filled from nearly nothing, a tank that ends at 330 K after 300 K is 300/330 of the time:

    >>> round(pumpup_time_warm(100.0, 1e-3, 1e6, 300.0, 330.0, 300.0), 3)
    90.909
    """
    rising(start, end)
    above_zero("cold_time", cold_time, "time")
    each_above_zero(
        "temperature",
        start_temperature=start_temperature,
        end_temperature=end_temperature,
        intake_temperature=intake_temperature,
    )
    warm = end / end_temperature - start / start_temperature
    if warm <= 0:
        raise InputError("end_temperature", both(end_temperature, "temperature"), GAINED)
    return cold_time * warm * intake_temperature / (end - start)
