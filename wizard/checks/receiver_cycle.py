"""Receiver and switching: does the tank carry the peak, does the pump get its rest.

Invariant: flows are free air at the intake, and a demand is never assumed.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.receiver_cycle import (
    receiver_for_starts,
    shortest_cycle,
    storage_time,
    storage_volume,
    switch_cycle,
)
from wizard.checks.air_state import percent
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    GaugePressure,
    Power,
    Rate,
    Ratio,
    Time,
    Volume,
)
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

HOUR = 3600.0
START_STOP = "starts and stops"
CONTINUOUS = "runs on, unloaded"
CONTROLS = (START_STOP, CONTINUOUS)
SHORTEST_RUN = 120.0
USUAL_DUTY, HIGHEST_DUTY = 0.65, 0.75
STARTS = "Every start hammers motor, contactor, belts and valves."
REST = "A pump that runs more than it was built for cokes its valves within months."


@check(
    "Receiver against a peak demand",
    severity=Severity.ADVISORY,
    source=Source("fluid-power textbook, receiver sizing", "confirmed"),
    results={"time": "time"},
)
def receiver_storage(
    volume: Volume,
    highest: GaugePressure,
    delivery: Flow,
    peak: Flow | None = None,
    peak_time: Time | None = None,
    lowest: GaugePressure | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> Finding:
    """Whether the tank carries the stated peak until it is over.

    Parameters
    ----------
    volume : float
        Receiver volume, [m3]
    highest : float
        Gauge pressure at which the peak finds the tank; cut-in is the worst case, [Pa]
    delivery : float
        Free air delivered meanwhile, [m3/s]
    peak : float, optional
        Demand during the peak, free air, [m3/s]
    peak_time : float, optional
        Length of the peak, [s]
    lowest : float, optional
        Lowest gauge pressure that the user accepts, [Pa]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    """
    above_zero("volume", volume, "volume")
    above_zero("highest pressure", highest, "gauge pressure")
    above_zero("lowest pressure", lowest, "gauge pressure")
    above_zero("peak time", peak_time, "time", "min")
    above_zero("delivery", delivery, "flow")
    above_zero("peak", peak, "flow")
    if peak is None or peak_time is None or lowest is None:
        return Finding(Verdict.NOT_APPLICABLE, "No peak was stated.", Severity.ADVISORY)
    if at_most(peak, delivery):
        return Finding(
            Verdict.PASS, "The pump covers the peak; the tank never empties.", Severity.ADVISORY
        )
    if lowest >= highest:
        raise InputError(
            "lowest pressure",
            both(lowest, "gauge pressure"),
            f"less than the tank at the start of the peak, {both(highest, 'gauge pressure')}",
        )
    span = {"highest": highest, "lowest": lowest, "demand": peak, "delivery": delivery}
    return _carried(volume, peak_time, {**span, "ambient": ambient})


def _carried(volume: float, peak_time: float, span: dict[str, float]) -> Finding:
    """Whether the tank lasts from the highest pressure to the lowest."""
    time, step = work(storage_time, volume=volume, **span)
    found = Finding(
        Verdict.PASS,
        "The tank carries the peak.",
        Severity.ADVISORY,
        Quantity(time, "time"),
        Limit(peak_time, None, "time"),
        (step,),
        results={"time": time},
    )
    if at_least(time, peak_time):
        return found
    needed, second = work(storage_volume, time=peak_time, **span)
    return replace(
        found,
        verdict=Verdict.ADVISORY,
        text=f"The tank is empty before the peak is over; it takes {both(needed, 'volume')}.",
        working=(step, second),
        danger="Tools stall at the end of the peak, and the switch gets the blame.",
        clears="A larger receiver near the user, or less demand at once.",
    )


def _times(load_time: float | None, off_time: float | None) -> None:
    above_zero("time on load", load_time, "time")
    above_zero("time off load", off_time, "time")


def _starts_limit(power: float, given: float | None) -> float:
    """Accepted starts in 1/s: the motor maker's figure, else by motor power."""
    if given is not None:
        return given
    within("motor power", power, "power", "kW", 0, 1000)
    return float(table("start_limits").at_or_above("power", power)["starts"]) / HOUR


@check(
    "Switching cycles",
    severity=Severity.HANDOVER,
    source=(Source("mass balance", "computed"), COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"rate": "rate", "load_time": "time"},
)
def switching_cycles(
    control: str,
    motor_power: Power,
    load_time: Time | None = None,
    off_time: Time | None = None,
    volume: Volume | None = None,
    cut_out: tuple[GaugePressure, ...] | None = None,
    cut_in: tuple[GaugePressure, ...] | None = None,
    delivery: Flow | None = None,
    demand: Flow | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    starts_allowed: Rate | None = None,
) -> Finding:
    """Starts in an hour and the shortest run, measured or from the stated demand.

    Parameters
    ----------
    control : str
        starts and stops, or runs on, unloaded
    motor_power : float
        Rated motor power, [W]
    load_time : float, optional
        Mean time on load over five cycles, [s]
    off_time : float, optional
        Mean time off load over five cycles, [s]
    volume : float, optional
        Receiver volume, for a calculated cycle, [m3]
    cut_out : tuple of float, optional
        Cut-out pressures, [Pa]
    cut_in : tuple of float, optional
        Cut-in pressures, [Pa]
    delivery : float, optional
        Free air delivered, [m3/s]
    demand : float, optional
        Average demand, free air, [m3/s]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    starts_allowed : float, optional
        Starts that the motor maker allows, [1/s]
    """
    one_of("control", control, CONTROLS)
    above_zero("motor power", motor_power, "power")
    _times(load_time, off_time)
    above_zero("starts allowed", starts_allowed, "rate")
    steps: tuple[Step, ...] = ()
    band = _band(cut_out, cut_in)
    if load_time is None or off_time is None:
        if not (volume and band and delivery and demand):
            return _no_demand()
        if not demand < delivery:
            return _never_off()
        cycle, step = work(
            switch_cycle,
            volume=volume,
            band=band,
            delivery=delivery,
            demand=demand,
            ambient=ambient,
        )
        load_time, off_time, steps = cycle.load_time, cycle.off_time, (step,)
    rate = 1 / (load_time + off_time)
    limit = _starts_limit(motor_power, starts_allowed)
    found = Finding(
        Verdict.PASS,
        "The switch works seldom enough.",
        Severity.HANDOVER,
        Quantity(rate, "rate"),
        Limit(None, limit, "rate"),
        steps,
        danger=STARTS,
        results={"rate": rate, "load_time": load_time},
    )
    if volume and band and delivery:
        _, step = work(shortest_cycle, volume=volume, band=band, delivery=delivery, ambient=ambient)
        found = replace(found, working=(*steps, step))
    if control == CONTINUOUS:
        found = replace(found, limit=None, text="It runs on and unloads, so it does not start.")
    elif not at_most(rate, limit):
        return _too_many(found, limit, band, delivery, ambient)
    return _run_length(found, load_time)


def _band(cut_out: tuple[float, ...] | None, cut_in: tuple[float, ...] | None) -> float | None:
    """Mean cut-out less mean cut-in."""
    if not cut_out or not cut_in:
        return None
    band = sum(cut_out) / len(cut_out) - sum(cut_in) / len(cut_in)
    if band <= 0:
        raise InputError("cut-in", both(cut_in[0], "gauge pressure"), "less than the cut-out")
    return band


def _no_demand() -> Finding:
    return Finding(
        Verdict.NOT_APPLICABLE,
        "Neither cycles nor demand are known; leaks alone make it start.",
        Severity.HANDOVER,
    )


def _never_off() -> Finding:
    return Finding(
        Verdict.FAIL,
        "The demand is the delivery or more: it runs without end and never reaches cut-out.",
        Severity.HANDOVER,
        danger=REST,
        clears="A larger machine, a second one, or less demand.",
    )


def _too_many(
    found: Finding, limit: float, band: float | None, delivery: float | None, ambient: float
) -> Finding:
    clears = "A larger receiver, a wider band, or a control that lets it run on unloaded."
    working = found.working
    if band and delivery:
        needed, step = work(
            receiver_for_starts, starts=limit, band=band, delivery=delivery, ambient=ambient
        )
        working = (*working, step)
        clears = f"{clears} At any demand a receiver of {both(needed, 'volume')} is enough."
    return replace(
        found,
        verdict=Verdict.FAIL,
        text="It starts more often than the motor stands.",
        working=working,
        clears=clears,
    )


def _run_length(found: Finding, load_time: float) -> Finding:
    if at_least(load_time, SHORTEST_RUN):
        return found
    return replace(
        found,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text="It runs loaded for less than 2 min in a cycle.",
        danger="Water never boils out of the oil, and bearings rust.",
        clears="Widen the band, or let it run a long cycle once a day.",
    )


@check(
    "Duty of the pump",
    severity=Severity.HANDOVER,
    source=Source("common practice: 60 to 70 % for air-cooled pumps", "memory"),
    results={"duty": "ratio"},
)
def duty(
    load_time: Time | None = None,
    off_time: Time | None = None,
    delivery: Flow | None = None,
    demand: Flow | None = None,
    allowed: Ratio | None = None,
) -> Finding:
    """Share of the time on load, against what the pump was built for.

    Parameters
    ----------
    load_time : float, optional
        Mean time on load under normal demand, [s]
    off_time : float, optional
        Mean time off load under normal demand, [s]
    delivery : float, optional
        Free air delivered, [m3/s]
    demand : float, optional
        Average demand, free air, [m3/s]
    allowed : float, optional
        Duty that the builder allows; 100 % is stamped continuous, [-]
    """
    _times(load_time, off_time)
    above_zero("delivery", delivery, "flow")
    above_zero("demand", demand, "flow")
    if allowed is not None and not 0 < allowed <= 1:
        raise InputError("allowed", percent(allowed), "above 0 % and at most 100 %")
    if load_time is not None and off_time is not None:
        share = load_time / (load_time + off_time)
    elif delivery is not None and demand is not None:
        share = demand / delivery
    else:
        return Finding(Verdict.NOT_APPLICABLE, "No demand was stated.", Severity.HANDOVER)
    if at_least(share, 1.0):
        return replace(_never_off(), value=Quantity(share, "ratio"), results={"duty": share})
    note, stop = (USUAL_DUTY, HIGHEST_DUTY) if allowed is None else (allowed, allowed)
    found = Finding(
        Verdict.PASS,
        f"On load {percent(share)} of the time.",
        Severity.HANDOVER,
        Quantity(share, "ratio"),
        Limit(None, note, "ratio"),
        danger=REST,
        results={"duty": share},
    )
    if at_most(share, note):
        return found
    bad = not at_most(share, stop)
    return replace(
        found,
        verdict=Verdict.FAIL if bad else Verdict.ADVISORY,
        severity=Severity.HANDOVER if bad else Severity.ADVISORY,
        limit=Limit(None, stop if bad else note, "ratio"),
        clears="Less demand, fewer leaks, or a larger machine.",
    )
