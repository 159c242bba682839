"""Water in the tank: how much a day, how often it must be drained, at which dew point."""

from __future__ import annotations

from dataclasses import replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, fraction, inside, one_of
from wizard.calc.drain import LITRE_OF_WATER, drain_fill_time, drain_flow, drain_open_time
from wizard.calc.gas import STANDARD_PRESSURE, ZERO_CELSIUS
from wizard.calc.water import atmospheric_dew_point, water_balance
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    GaugePressure,
    Length,
    MassFlow,
    Ratio,
    Temperature,
    Time,
    Volume,
)
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

DAY = 86400.0
BY_HAND, TIMER, LEVEL = "by hand", "timer", "float or level sensor"
DRAINS = (BY_HAND, TIMER, LEVEL)
WASTEFUL = 3.0
FLOOD = "Water that stands rusts the tank from inside and is carried into tools."


@check(
    "Water load",
    severity=Severity.ADVISORY,
    source=Source("Dalton's law; humidity ratio of moist air", "computed"),
    results={"taken_in": "mass flow", "dropped": "mass flow"},
)
def water_load(
    flow: Flow,
    intake_temperature: Temperature,
    humidity: Ratio,
    tank_pressure: GaugePressure,
    tank_temperature: Temperature,
    hours_per_day: Time,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> Finding:
    """Water drawn in and water to drain in a day, at today's air.

    Parameters
    ----------
    flow : float
        Free air delivered, [m3/s]
    intake_temperature : float
        Air temperature at the intake, [K]
    humidity : float
        Relative humidity at the intake, 0 to 1, [-]
    tank_pressure : float
        Tank gauge, [Pa]
    tank_temperature : float
        Tank temperature, 0 to 90 °C, [K]
    hours_per_day : float
        Loaded running time in a day, [s]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    """
    above_zero("flow", flow, "flow")
    above_zero("tank pressure", tank_pressure, "gauge pressure")
    fraction("humidity", humidity)
    inside("hours per day", hours_per_day, "time", "h", 0, 24)
    water, step = work(
        water_balance,
        flow=flow,
        ambient=ambient,
        temperature=intake_temperature,
        humidity=humidity,
        tank_pressure=tank_pressure,
        tank_temperature=tank_temperature,
    )
    daily = water.dropped * hours_per_day / LITRE_OF_WATER
    text = f"About {both(daily, 'volume')} of water to drain in a working day."
    if water.dropped == 0:
        text = "The tank is too warm for water to drop out in it; it comes out in the pipes."
    if intake_temperature < ZERO_CELSIUS or tank_temperature < ZERO_CELSIUS + 3:
        text = f"{text} Near freezing: drains and traps freeze shut."
    return Finding(
        Verdict.PASS,
        text,
        Severity.ADVISORY,
        Quantity(water.dropped, "mass flow"),
        working=(step,),
        ask="Is the humidity right? Air is hardly ever drier than 5 %." if humidity < 0.05 else "",
        results={"taken_in": water.taken_in, "dropped": water.dropped},
    )


@check(
    "Drain interval and open time",
    severity=Severity.HANDOVER,
    source=(Source("orifice equation for water", "computed"), COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"longest": "time"},
)
def drain_interval(
    drain: str,
    liquid: MassFlow,
    allowance: Volume,
    interval: Time,
    hours_per_day: Time = DAY,
    open_time: Time | None = None,
    bore: Length | None = None,
    pressure: GaugePressure | None = None,
) -> Finding:
    """Whether the tank is drained before its allowance is full, and long enough.

    Parameters
    ----------
    drain : str
        by hand, timer, or float or level sensor
    liquid : float
        Liquid that drops out while it runs, [kg/s]
    allowance : float
        Water that may stand, at most half the volume of the low point, [m3]
    interval : float
        Time from one draining to the next, by the clock, [s]
    hours_per_day : float, optional
        Loaded running time in a day, [s]
    open_time : float, optional
        Time the timer holds the valve open, [s]
    bore : float, optional
        Narrowest diameter of the drain, [m]
    pressure : float, optional
        Tank gauge, [Pa]
    """
    one_of("drain", drain, DRAINS)
    above_zero("allowance", allowance, "volume")
    above_zero("interval", interval, "time", "h")
    inside("hours per day", hours_per_day, "time", "h", 0, 24)
    found = Finding(
        Verdict.PASS,
        "It is drained in time.",
        Severity.HANDOVER,
        Quantity(interval, "time"),
        Limit(None, DAY, "time"),
        danger=FLOOD,
    )
    if liquid > 0 and hours_per_day > 0:
        filled, step = work(drain_fill_time, allowance=allowance, liquid=liquid)
        longest = filled * DAY / hours_per_day if filled > hours_per_day else filled
        found = replace(
            found,
            limit=Limit(None, min(longest, DAY), "time"),
            working=(step,),
            results={"longest": longest},
        )
        if not at_most(interval, longest):
            return replace(
                found,
                verdict=Verdict.FAIL,
                text="The water is above its allowance before it is drained.",
                clears="Drain more often.",
            )
    if drain == TIMER:
        running = (
            min(interval, hours_per_day) if interval <= DAY else interval * hours_per_day / DAY
        )
        gathered = liquid * running / LITRE_OF_WATER
        found = _open(found, gathered, open_time, bore, pressure)
    return _daily(found, interval)


def _daily(found: Finding, interval: float) -> Finding:
    """A tank that is drained in time, and all the same less often than daily."""
    if found.verdict is not Verdict.PASS or at_most(interval, DAY):
        return found
    return replace(
        found,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text="Less often than daily.",
        clears="Drain daily, warm, whatever the figures say.",
    )


def _open(
    found: Finding,
    gathered: float,
    open_time: float | None,
    bore: float | None,
    pressure: float | None,
) -> Finding:
    """The open time of a timer against the water of one interval."""
    above_zero("open time", open_time, "time")
    above_zero("bore", bore, "length")
    above_zero("pressure", pressure, "gauge pressure")
    if open_time is None or bore is None or pressure is None:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text="Open time, bore or pressure of the timer drain is not known.",
            clears="Read the timer and the drain valve, and enter them.",
        )
    flow, first = work(drain_flow, bore=bore, pressure=pressure)
    needed, second = work(drain_open_time, water=gathered, flow=flow)
    found = replace(found, working=(*found.working, first, second))
    if not at_least(open_time, needed):
        return replace(
            found,
            verdict=Verdict.FAIL,
            text=f"Open for {open_time:.3g} s; the water needs {needed:.3g} s.",
            value=Quantity(open_time, "time"),
            limit=Limit(needed, None, "time"),
            clears="Set it longer, or let it open more often.",
        )
    if at_most(open_time, WASTEFUL * needed):
        return found
    return replace(
        found,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text=f"Open for {open_time:.3g} s where {needed:.3g} s would do: the rest is a leak.",
        danger="Air blown off by a timer costs as much as a leak.",
        clears="Set it shorter, and watch a cycle.",
    )


@check(
    "Dew point under pressure and at the atmosphere",
    severity=Severity.ADVISORY,
    source=Source("Dalton's law", "computed"),
    results={"dew": "temperature", "frost": "temperature"},
)
def dew_point(
    pressure_dew_point: Temperature | None = None,
    pressure: GaugePressure | None = None,
    coldest: Temperature | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> Finding:
    """What a dryer's dew point under pressure is at the atmosphere, and whether lines stay dry.

    Parameters
    ----------
    pressure_dew_point : float, optional
        Dew point under pressure, over water, [K]
    pressure : float, optional
        Gauge pressure at which it was read, [Pa]
    coldest : float, optional
        Coldest air around the pipes, [K]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    """
    if pressure_dew_point is None or pressure is None:
        return Finding(Verdict.NOT_APPLICABLE, "No dew point was read.", Severity.ADVISORY)
    point, step = work(
        atmospheric_dew_point,
        pressure_dew_point=pressure_dew_point,
        pressure=pressure,
        ambient=ambient,
    )
    basis = "over water"
    if point.dew < ZERO_CELSIUS:
        basis = f"over water, with frost from {both(point.frost, 'temperature')}"
    found = Finding(
        Verdict.PASS,
        f"At the atmosphere it is {both(point.dew, 'temperature')} {basis}.",
        Severity.ADVISORY,
        Quantity(pressure_dew_point, "temperature"),
        None if coldest is None else Limit(None, coldest, "temperature"),
        (step,),
        results={"dew": point.dew, "frost": point.frost},
    )
    if coldest is None or at_most(pressure_dew_point, coldest):
        return found
    return replace(
        found,
        verdict=Verdict.ADVISORY,
        text=f"{found.text} Pipes in the cold are colder than the dew point under pressure.",
        danger="Water drops out in the pipes, and freezes where it is cold.",
        clears="Drain legs at low points, heat, or a drier dryer.",
    )
