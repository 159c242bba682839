"""What a receiver stores, and how often the pressure switch works.

Invariant: flows are free air and pressures gauge or differences, so the ambient divides once.
"""

from __future__ import annotations

from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, each_above_zero, zero_or_above
from wizard.calc.gas import MASS_BALANCE
from wizard.errors import InputError, OutsideValidity
from wizard.formula import formula
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    GaugePressure,
    PressureDifference,
    Rate,
    Time,
    Volume,
)
from wizard.sources import Source

TEXTBOOK_STORAGE = Source("fluid-power textbook, receiver sizing", "confirmed")


class Cycle(NamedTuple):
    """One cycle of the pressure switch: times in s, rate in 1/s, share of time loaded."""

    load_time: float
    off_time: float
    rate: float
    duty: float


def _band(highest: float, lowest: float) -> None:
    if not highest > lowest:
        least = f"less than the highest pressure, {both(highest, 'gauge pressure')}"
        raise InputError("lowest", both(lowest, "gauge pressure"), least)


def _draining(demand: float, delivery: float) -> None:
    above_zero("demand", demand, "flow")
    zero_or_above("delivery", delivery, "flow")
    if not demand > delivery:
        raise OutsideValidity(
            "demand",
            f"{demand / delivery:.3g} of the delivery",
            "more than the delivery, or the tank never empties",
        )


@formula(
    "How long the receiver carries a peak",
    equation="time = volume × (highest - lowest) / ((demand - delivery) × ambient)",
    results="time",
    source=TEXTBOOK_STORAGE,
)
def storage_time(
    volume: Volume,
    highest: GaugePressure,
    lowest: GaugePressure,
    demand: Flow,
    ambient: AbsolutePressure,
    delivery: Flow = 0.0,
) -> float:
    """Time until a demand above the delivery has drawn the receiver down.

    t = V (p_max - p_min) / ((Q_d - Q_c) p_a)

    Parameters
    ----------
    volume : float
        Receiver volume, [m3]
    highest : float
        Gauge pressure at the start of the peak, [Pa]
    lowest : float
        Lowest gauge pressure the user accepts, [Pa]
    demand : float
        Demand during the peak, free air, [m3/s]
    ambient : float
        Air pressure at the intake, [Pa]
    delivery : float, optional
        Free air that the pump adds meanwhile, [m3/s]

    Returns
    -------
    float
        Time, [s]

    Notes
    -----
    Slow use; a fast blow-down cools the tank and gives 15 to 25 % less.

    Examples
    --------
    270 L from 10 to 6 bar(g) carry 1.2 m3/min for 53.3 s:

    >>> round(storage_time(0.270, 10e5, 6e5, 0.02, 101325.0), 1)
    53.3
    """
    above_zero("volume", volume, "volume")
    above_zero("ambient", ambient, "absolute pressure")
    _band(highest, lowest)
    _draining(demand, delivery)
    return volume * (highest - lowest) / ((demand - delivery) * ambient)


@formula(
    "Receiver that carries a peak",
    equation="volume = time × (demand - delivery) × ambient / (highest - lowest)",
    results="volume",
    source=TEXTBOOK_STORAGE,
)
def storage_volume(
    time: Time,
    highest: GaugePressure,
    lowest: GaugePressure,
    demand: Flow,
    ambient: AbsolutePressure,
    delivery: Flow = 0.0,
) -> float:
    """Receiver volume that carries a demand above the delivery for a time.

    V = t (Q_d - Q_c) p_a / (p_max - p_min)

    Parameters
    ----------
    time : float
        Length of the peak, [s]
    highest : float
        Gauge pressure at the start of the peak, [Pa]
    lowest : float
        Lowest gauge pressure the user accepts, [Pa]
    demand : float
        Demand during the peak, free air, [m3/s]
    ambient : float
        Air pressure at the intake, [Pa]
    delivery : float, optional
        Free air that the pump adds meanwhile, [m3/s]

    Returns
    -------
    float
        Receiver volume, [m3]

    Examples
    --------
    20 scfm for 6 min from 100 to 80 psi needs 660 gal (a textbook example):

    >>> cfm, psi, gal = 0.3048**3 / 60, 6894.757293168, 0.003785411784
    >>> round(storage_volume(360.0, 100 * psi, 80 * psi, 20 * cfm, 14.7 * psi) / gal)
    660
    """
    above_zero("time", time, "time")
    above_zero("ambient", ambient, "absolute pressure")
    _band(highest, lowest)
    _draining(demand, delivery)
    return time * (demand - delivery) * ambient / (highest - lowest)


@formula(
    "Cycle of the pressure switch",
    equation="cycle = load time + off time; load time = volume × band / ((delivery - demand) × "
    "ambient), off time = volume × band / (demand × ambient)",
    results={"load_time": "time", "off_time": "time", "rate": "rate", "duty": "ratio"},
    source=MASS_BALANCE,
)
def switch_cycle(
    volume: Volume,
    band: PressureDifference,
    delivery: Flow,
    demand: Flow,
    ambient: AbsolutePressure,
) -> Cycle:
    """Times on and off load under a steady demand.

    t_load = V dp / ((Q_c - Q_d) p_a), t_off = V dp / (Q_d p_a), duty = Q_d / Q_c

    Parameters
    ----------
    volume : float
        Receiver volume, [m3]
    band : float
        Cut-out less cut-in, [Pa]
    delivery : float
        Free air delivered, [m3/s]
    demand : float
        Average demand, above zero and below the delivery, [m3/s]
    ambient : float
        Air pressure at the intake, [Pa]

    Returns
    -------
    Cycle
        Time on load, time off load, cycles in time, share of time on load, [s], [s], [1/s], [-]

    Examples
    --------
    270 L, 2 bar, 0.60 m3/min against 0.40 m3/min: 15 cycles an hour at two thirds load.

    >>> c = switch_cycle(0.270, 2e5, 0.60 / 60, 0.40 / 60, 101325.0)
    >>> round(3600 * c.rate, 3), round(c.duty, 4)
    (15.011, 0.6667)
    """
    above_zero("volume", volume, "volume")
    above_zero("band", band, "pressure difference")
    each_above_zero("flow", delivery=delivery, demand=demand)
    above_zero("ambient", ambient, "absolute pressure")
    if not demand < delivery:
        raise OutsideValidity(
            "demand",
            f"{demand / delivery:.3g} of the delivery",
            "less than the delivery; at or "
            "above it the pump runs without end and never reaches cut-out",
        )
    load = volume * band / ((delivery - demand) * ambient)
    off = volume * band / (demand * ambient)
    return Cycle(load, off, 1 / (load + off), demand / delivery)


@formula(
    "Shortest cycle of the pressure switch",
    equation="time = 4 × volume × band / (delivery × ambient)",
    results="time",
    source=MASS_BALANCE,
)
def shortest_cycle(
    volume: Volume, band: PressureDifference, delivery: Flow, ambient: AbsolutePressure
) -> float:
    """Shortest time from start to start, at a demand of half the delivery.

    t = 4 V dp / (Q_c p_a)

    Parameters
    ----------
    volume : float
        Receiver volume, [m3]
    band : float
        Cut-out less cut-in, [Pa]
    delivery : float
        Free air delivered, [m3/s]
    ambient : float
        Air pressure at the intake, [Pa]

    Returns
    -------
    float
        Time, [s]

    Examples
    --------
    80 gal, 35 psi, 23 cfm: 4.43 min.

    >>> cfm, psi, gal = 0.3048**3 / 60, 6894.757293168, 0.003785411784
    >>> round(shortest_cycle(80 * gal, 35 * psi, 23 * cfm, 101325.0) / 60, 2)
    4.43
    """
    above_zero("volume", volume, "volume")
    above_zero("band", band, "pressure difference")
    above_zero("delivery", delivery, "flow")
    above_zero("ambient", ambient, "absolute pressure")
    return 4 * volume * band / (delivery * ambient)


@formula(
    "Receiver for a limit of starts",
    equation="volume = delivery × ambient / (4 × starts × band)",
    results="volume",
    source=MASS_BALANCE,
)
def receiver_for_starts(
    starts: Rate, band: PressureDifference, delivery: Flow, ambient: AbsolutePressure
) -> float:
    """Smallest receiver that keeps the starts within a limit at any demand.

    V = Q_c p_a / (4 n dp)

    Parameters
    ----------
    starts : float
        Accepted starts in time, [1/s]
    band : float
        Cut-out less cut-in, [Pa]
    delivery : float
        Free air delivered, [m3/s]
    ambient : float
        Air pressure at the intake, [Pa]

    Returns
    -------
    float
        Receiver volume, [m3]

    Examples
    --------
    Six starts an hour, 35 psi, 23 cfm: 180.6 gal.

    >>> cfm, psi, gal = 0.3048**3 / 60, 6894.757293168, 0.003785411784
    >>> round(receiver_for_starts(6 / 3600, 35 * psi, 23 * cfm, 101325.0) / gal, 1)
    180.6
    """
    above_zero("starts", starts, "rate")
    above_zero("band", band, "pressure difference")
    above_zero("delivery", delivery, "flow")
    above_zero("ambient", ambient, "absolute pressure")
    return delivery * ambient / (4 * starts * band)
