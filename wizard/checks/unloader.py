"""Unloader and check valve: the head vents after each stop, and the tank holds its air.

Invariant: a fall that cooling can explain is not called a leak.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import above_zero, inside
from wizard.calc.air_state import absolute_pressure
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.leak import leak_by_decay, leak_with_cooling
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import AbsolutePressure, Flow, GaugePressure, Temperature, Time, Volume
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT

TRAPPED = "The motor starts against full pressure, trips or burns, and the belts slip."
HOT_VALVES = "Tank air flows back onto hot valves and the motor starts against it."


@check("Venting of the head after a stop", severity=Severity.HANDOVER, source=COMMON_PRACTICE)
def unloader_vent(vent_time: Time, hiss_time: Time | None = None) -> Finding:
    """The line from head to check valve vents within 10 s; a hiss that goes on is back-flow.

    Parameters
    ----------
    vent_time : float
        From the stop until the line is empty, [s]
    hiss_time : float, optional
        How long the unloader hissed after the stop, [s]
    """
    inside("vent time", vent_time, "time", "s", 0, 3600)
    inside("hiss time", hiss_time, "time", "s", 0, 3600)
    passed = Finding(
        Verdict.PASS,
        "The head vents quickly and falls silent.",
        Severity.HANDOVER,
        Quantity(vent_time, "time"),
        Limit(None, 10.0, "time"),
        danger=TRAPPED,
    )
    if hiss_time is not None and not at_most(hiss_time, 30.0):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The unloader hisses longer than 30 s: the check valve leaks back.",
            value=Quantity(hiss_time, "time"),
            limit=Limit(None, 30.0, "time"),
            danger=HOT_VALVES,
            clears="Lock out, blow down, clean or replace the check valve.",
        )
    if not at_most(vent_time, 20.0):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The head takes longer than 20 s to vent.",
            limit=Limit(None, 20.0, "time"),
            clears="Lock out, blow down, clear the unloader and its line.",
        )
    if not at_most(vent_time, 10.0):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The head takes between 10 s and 20 s to vent.",
        )
    return passed


@check(
    "Hold of the check valve",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"leak": "flow"},
)
def check_valve_hold(
    pressures: tuple[GaugePressure, ...],
    duration: Time,
    volume: Volume,
    rated_flow: Flow,
    temperatures: tuple[Temperature, ...] | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
) -> Finding:
    """Stopped, outlet shut, ten minutes: the tank loses no more than 2 % of the rated flow.

    Parameters
    ----------
    pressures : tuple of float
        Tank pressure at the start and at the end, gauge, [Pa]
    duration : float
        Time held, [s]
    volume : float
        Receiver volume, [m3]
    rated_flow : float
        Rated free air delivered, [m3/s]
    temperatures : tuple of float, optional
        Tank temperature at the start and at the end, [K]
    ambient : float, optional
        Air pressure around, [Pa]
    """
    _two("pressures", pressures)
    for pressure in pressures:
        above_zero("pressure", pressure, "gauge pressure")
    above_zero("duration", duration, "time", "min")
    above_zero("receiver volume", volume, "volume")
    above_zero("rated flow", rated_flow, "flow")
    leak, steps = _leak(pressures, temperatures, duration, volume, ambient)
    share = leak / rated_flow
    passed = Finding(
        Verdict.PASS,
        "The tank holds its air." if leak > 0 else "No leak is detected.",
        Severity.HANDOVER,
        Quantity(max(leak, 0.0), "flow"),
        Limit(None, 0.02 * rated_flow, "flow"),
        steps,
        danger=HOT_VALVES,
        results={"leak": max(leak, 0.0)},
    )
    if not at_least(duration, 600.0):
        return replace(
            passed,
            verdict=Verdict.INCONCLUSIVE,
            text="The hold was shorter than 10 minutes.",
            clears="Hold ten minutes with the outlet shut.",
        )
    if at_most(share, 0.01):
        return passed
    if temperatures is None:
        return replace(
            passed,
            verdict=Verdict.INCONCLUSIVE,
            text="The pressure fell, but cooling may explain it: the tank temperature is missing.",
            clears="Repeat it with a thermometer on the tank at start and end.",
        )
    if at_most(share, 0.02):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The tank loses between 1 % and 2 % of the rated flow.",
            limit=Limit(None, 0.01 * rated_flow, "flow"),
        )
    return replace(
        passed,
        verdict=Verdict.FAIL,
        text="The tank loses more than 2 % of the rated flow.",
        clears="Listen at the unloader, soap the joints; repair the check valve or the joint.",
    )


def _two(what: str, values: tuple[float, ...]) -> None:
    if len(values) != 2:
        raise InputError(what, f"{len(values)} readings", "two, at the start and at the end")


def _leak(
    pressures: tuple[float, ...],
    temperatures: tuple[float, ...] | None,
    duration: float,
    volume: float,
    ambient: float,
) -> tuple[float, tuple[Step, ...]]:
    start, end = pressures
    if temperatures is None:
        if end >= start:
            return 0.0, ()
        leak, step = work(
            leak_by_decay, volume=volume, start=start, end=end, time=duration, ambient=ambient
        )
        return leak, (step,)
    _two("temperatures", temperatures)
    for kelvin in temperatures:
        inside("tank temperature", kelvin, "temperature", "°C", -50, 150)
    first, first_step = work(absolute_pressure, gauge=start, ambient=ambient)
    last, last_step = work(absolute_pressure, gauge=end, ambient=ambient)
    leak, step = work(
        leak_with_cooling,
        volume=volume,
        start=first,
        end=last,
        start_temperature=temperatures[0],
        end_temperature=temperatures[1],
        time=duration,
        ambient=ambient,
        room_temperature=temperatures[1],
    )
    return leak, (first_step, last_step, step)
