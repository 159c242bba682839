"""Leak rates: from a fall of pressure, from the duty of the pump; what they cost.

Invariant: pressures are absolute and leaks are free air; a negative leak is the caller's to read
as none detected.
"""

from __future__ import annotations

import math

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero, inside
from wizard.calc.gas import GAS_LAW, MASS_BALANCE
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    Energy,
    Flow,
    GaugePressure,
    Number,
    SpecificPower,
    Temperature,
    TemperatureDifference,
    Time,
    Volume,
)
from wizard.sources import Source

CHOKED_RATIO = 1.893
"""Absolute pressure over ambient above which air leaves a hole at the speed of sound."""
KWH = 3.6e6


def _falling(start: float, end: float, volume: float, time: float, ambient: float) -> None:
    each_above_zero("absolute pressure", end=end, ambient=ambient)
    above_zero("volume", volume, "volume")
    above_zero("time", time, "time")
    if not end < start:
        least = f"less than the start, {both(start, 'absolute pressure')}"
        raise InputError("end", both(end, "absolute pressure"), least)


@formula(
    "Leak from a fall of pressure, average",
    equation="leak = volume × (start - end) / (time × ambient) × factor",
    results="flow",
    source=Source(
        "US DOE, Improving Compressed Air System Performance: A Sourcebook for Industry", "memory"
    ),
)
def leak_by_decay(
    volume: Volume,
    start: GaugePressure,
    end: GaugePressure,
    time: Time,
    ambient: AbsolutePressure,
    factor: Number = 1.0,
) -> float:
    """Average leak while the pressure falls; the factor lifts it to the starting pressure.

    Q = V (P1 - P2) / (t p_a) factor; 1.25 for a fall to about half

    Parameters
    ----------
    volume : float
        Volume that is shut in, with its pipes, [m3]
    start : float
        Gauge pressure at the start, [Pa]
    end : float
        Gauge pressure at the end, [Pa]
    time : float
        Time between them, [s]
    ambient : float
        Air pressure around, [Pa]
    factor : float, optional
        1 for the average over the fall, 1.25 in the sourcebook's form, [-]

    Returns
    -------
    float
        Leak as free air, [m3/s]

    Notes
    -----
    1.25 is a round number: the exact factor is 1.31 from 100 to 50 psig and 1.05 from 100 to 90.

    Examples
    --------
    0.5 m3 from 7 to 5 bar(g) in 15 min with the factor 1.25:

    >>> round(60 * leak_by_decay(0.5, 7e5, 5e5, 900.0, 101325.0, 1.25), 6)
    0.082244
    """
    _falling(start, end, volume, time, ambient)
    above_zero("factor", factor, "number")
    return volume * (start - end) / (time * ambient) * factor


@formula(
    "Leak at the starting pressure, choked",
    equation="leak = volume × start × ln(start / end) / (time × ambient)",
    results="flow",
    source=Source("choked flow through small holes, first principles", "computed"),
)
def leak_choked(
    volume: Volume,
    start: AbsolutePressure,
    end: AbsolutePressure,
    time: Time,
    ambient: AbsolutePressure,
) -> float:
    """Leak at the starting pressure: it falls in proportion to the absolute pressure.

    Q = V p1 ln(p1 / p2) / (t p_a)

    Parameters
    ----------
    volume : float
        Volume that is shut in, with its pipes, [m3]
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, above 1.893 times the ambient, [Pa]
    time : float
        Time between them, [s]
    ambient : float
        Air pressure around, [Pa]

    Returns
    -------
    float
        Leak as free air, [m3/s]

    Examples
    --------
    0.5 m3 from 7 to 5 bar(g) in 15 min:

    >>> round(60 * leak_choked(0.5, 801325.0, 601325.0, 900.0, 101325.0), 6)
    0.075692
    """
    _falling(start, end, volume, time, ambient)
    if not end > CHOKED_RATIO * ambient:
        raise OutsideValidity(
            "end", f"{end / ambient:.3g} times the ambient", "more than 1.893 times the ambient"
        )
    return volume * start * math.log(start / end) / (time * ambient)


@formula(
    "Leak from a fall of pressure, corrected for cooling",
    equation="leak = volume / time × (start / start_temperature - end / end_temperature) × "
    "room_temperature / ambient"
    ", temperatures absolute",
    results="flow",
    source=MASS_BALANCE,
)
def leak_with_cooling(
    volume: Volume,
    start: AbsolutePressure,
    end: AbsolutePressure,
    start_temperature: Temperature,
    end_temperature: Temperature,
    time: Time,
    ambient: AbsolutePressure,
    room_temperature: Temperature,
) -> float:
    """Average leak of a tank that cools while its pressure falls.

    Q = (V / t) (p1 / T1 - p2 / T2) (T_a / p_a); below zero the whole fall was cooling

    Parameters
    ----------
    volume : float
        Volume that is shut in, with its pipes, [m3]
    start : float
        Absolute pressure at the start, [Pa]
    end : float
        Absolute pressure at the end, [Pa]
    start_temperature : float
        Tank air at the start, [K]
    end_temperature : float
        Tank air at the end, [K]
    time : float
        Time between them, [s]
    ambient : float
        Air pressure around, [Pa]
    room_temperature : float
        Air temperature of the room, [K]

    Returns
    -------
    float
        Leak as free air, [m3/s]

    Examples
    --------
    0.27 m3 from 10 to 9 bar(g) in 10 min, tank at 35 °C, room at 20 °C:

    >>> round(60 * leak_with_cooling(0.27, 1101325.0, 1001325.0, 308.15, 308.15, 600.0,
    ...                              101325.0, 293.15), 5)
    0.02535
    """
    above_zero("volume", volume, "volume")
    each_above_zero("absolute pressure", start=start, end=end, ambient=ambient)
    each_above_zero(
        "temperature",
        start_temperature=start_temperature,
        end_temperature=end_temperature,
        room_temperature=room_temperature,
    )
    above_zero("time", time, "time")
    lost = start / start_temperature - end / end_temperature
    return volume / time * lost * room_temperature / ambient


@formula(
    "Smallest leak that a hold can show",
    equation="leak = volume × start × temperature_doubt / (start_temperature × time × ambient)"
    ", temperatures absolute",
    results="flow",
    source=GAS_LAW,
)
def leak_detection(
    volume: Volume,
    start: AbsolutePressure,
    start_temperature: Temperature,
    time: Time,
    ambient: AbsolutePressure,
    temperature_doubt: TemperatureDifference = 2.0,
) -> float:
    """Leak that a doubt about the tank temperature would look like.

    Q = V p1 (dT / T1) / (t p_a); 2 K is 0.7 % of the pressure

    Parameters
    ----------
    volume : float
        Volume that is shut in, with its pipes, [m3]
    start : float
        Absolute pressure at the start, [Pa]
    start_temperature : float
        Tank air at the start, [K]
    time : float
        Length of the hold, [s]
    ambient : float
        Air pressure around, [Pa]
    temperature_doubt : float, optional
        How far the tank temperature may be wrong, [K]

    Returns
    -------
    float
        Leak as free air below which nothing can be said, [m3/s]

    Examples
    --------
    300 L at 9 bar for half an hour show leaks from 0.6 L/min:

    >>> round(60e3 * leak_detection(0.3, 9e5, 300.0, 1800.0, 101325.0), 2)
    0.59
    """
    above_zero("volume", volume, "volume")
    each_above_zero("absolute pressure", start=start, ambient=ambient)
    above_zero("start_temperature", start_temperature, "temperature")
    above_zero("time", time, "time")
    above_zero("temperature_doubt", temperature_doubt, "temperature difference")
    return volume * start * temperature_doubt / (start_temperature * time * ambient)


@formula(
    "Leak as a share of the delivery, by duty",
    equation="share = on_time / (on_time + off_time)",
    results="ratio",
    source=Source(
        "US DOE, Improving Compressed Air System Performance: A Sourcebook for Industry", "memory"
    ),
)
def leak_by_duty(on_time: Time, off_time: Time) -> float:
    """Share of its delivery that a pump makes only for the leaks, all users shut.

    share = T / (T + t)

    Parameters
    ----------
    on_time : float
        Mean time on load, over five cycles or more, [s]
    off_time : float
        Mean time off load, [s]

    Returns
    -------
    float
        Leak over delivery, [-]

    Examples
    --------
    40 s on, 400 s off:

    >>> round(leak_by_duty(40.0, 400.0), 6)
    0.090909
    """
    above_zero("on_time", on_time, "time")
    above_zero("off_time", off_time, "time")
    return on_time / (on_time + off_time)


@formula(
    "Energy that a leak takes",
    equation="energy = leak × specific_power × running_time",
    results="energy",
    source=Source("arithmetic", "computed"),
)
def leak_energy(leak: Flow, specific_power: SpecificPower, running_time: Time) -> float:
    """Electrical energy spent on a leak over a year.

    E = Q SP t

    Parameters
    ----------
    leak : float
        Leak as free air, [m3/s]
    specific_power : float
        Electrical input for each volume of free air, [J/m3]
    running_time : float
        Time under pressure in a year, at most 8784 h, [s]

    Returns
    -------
    float
        Energy, [J]

    Examples
    --------
    0.10 m3/min at 7.5 kW/(m3/min) for 4000 h takes 3000 kWh:

    >>> round(leak_energy(0.1 / 60, 7.5 * 60e3, 4000 * 3600.0) / 3.6e6, 6)
    3000.0
    """
    above_zero("leak", leak, "flow")
    above_zero("specific_power", specific_power, "specific power")
    inside("running_time", running_time, "time", "h", 0, 8784)
    return leak * specific_power * running_time


@formula(
    "Cost of energy",
    equation="cost = energy × price_per_kwh",
    results="number",
    source=Source("arithmetic", "computed"),
)
def energy_cost(energy: Energy, price_per_kwh: Number) -> float:
    """What an amount of energy costs, in the currency of its price.

    cost = E price

    Parameters
    ----------
    energy : float
        Energy, [J]
    price_per_kwh : float
        Price of one kWh, [-]

    Returns
    -------
    float
        Cost, [-]

    Examples
    --------
    1575 kWh at 0.15 a kWh:

    >>> round(energy_cost(1575 * 3.6e6, 0.15), 2)
    236.25
    """
    above_zero("energy", energy, "energy")
    above_zero("price_per_kwh", price_per_kwh, "number")
    return energy / KWH * price_per_kwh
