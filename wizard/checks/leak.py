"""Leaks of the package and of the new piping, against the delivery they steal.

Invariant: a fall of pressure that cooling explains is no leak, and a leak is never negative.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.air_state import absolute_pressure
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.leak import (
    CHOKED_RATIO,
    leak_by_decay,
    leak_by_duty,
    leak_choked,
    leak_detection,
    leak_with_cooling,
)
from wizard.calc.series import Points, checked, duration, gap_note, line
from wizard.checks.air_state import percent
from wizard.checks.pumpup import closed_volume, unusual_tank
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import AbsolutePressure, Flow, Temperature, Time, Volume
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source
from wizard.tables import table

TIP_SHEET = Source("US DOE Compressed Air Tip Sheet 3 (August 2004): 5 to 10 %", "confirmed")
LARGE_FALL = 0.9
"""From here on the fall is large enough for the leak to have slowed down with it."""
LEAST_FALL, LEAST_TIME, LEAST_END = 0.05, 600.0, 1e5
ROUND_FACTOR = 1.25
LEAST_CYCLES = 5
NIGHT = "A leak costs money all night, and a pump that restarts every few minutes wears out."


@dataclass(frozen=True)
class Hold:
    """A hold under pressure: absolute pressures, and temperatures where they were taken."""

    volume: float
    start: float
    end: float
    time: float
    ambient: float
    start_temperature: float | None
    end_temperature: float | None
    room_temperature: float

    @property
    def choked(self) -> bool:
        """Whether the end pressure still drives small holes at the speed of sound."""
        return self.end > CHOKED_RATIO * self.ambient


@check(
    "Leak by a timed hold",
    severity=Severity.HANDOVER,
    source=(TIP_SHEET, OUR_JUDGEMENT),
    results={"leak": "flow", "share": "ratio"},
)
def leak_decay(
    laps: tuple[tuple[float, float], ...],
    scope: str,
    volume: Volume,
    rated_flow: Flow,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    room_temperature: Temperature = 293.15,
    start_temperature: Temperature | None = None,
    end_temperature: Temperature | None = None,
    extra_volume: Volume | None = None,
) -> Finding:
    """Leak of a shut volume as free air, as a share of the rated delivery.

    Parameters
    ----------
    laps : tuple of (float, float)
        Time and gauge pressure, at least at the start and at the end, [s], [Pa]
    scope : str
        package (tank and check valve) or system (with the new piping)
    volume : float
        Receiver volume, [m3]
    rated_flow : float
        Rated free air delivered, [m3/s]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    room_temperature : float, optional
        Air temperature of the room, [K]
    start_temperature : float, optional
        Tank temperature at the start, [K]
    end_temperature : float, optional
        Tank temperature at the end, [K]
    extra_volume : float, optional
        Pipes and hoses that are shut in with it, [m3]
    """
    limits = table("leak_limits")
    one_of("scope", scope, tuple(row["scope"] for row in limits.rows))
    laps = _falling(laps)
    above_zero("rated flow", rated_flow, "flow")
    _temperatures(room_temperature, start_temperature, end_temperature)
    hold = Hold(
        closed_volume(volume, extra_volume),
        *_ends(laps, ambient),
        duration(laps),
        ambient,
        start_temperature,
        end_temperature,
        room_temperature,
    )
    leak, steps = _leak(hold)
    blind, last = work(
        leak_detection,
        volume=hold.volume,
        start=hold.start,
        start_temperature=start_temperature or room_temperature,
        time=hold.time,
        ambient=ambient,
    )
    row = limits.row("scope", scope)
    found = Finding(
        Verdict.PASS,
        "",
        Severity.HANDOVER,
        Quantity(leak, "flow"),
        Limit(None, row["good"] * rated_flow, "flow"),
        (*steps, last),
        danger=NIGHT,
        ask=unusual_tank(hold.volume, laps[0][1]),
        results={"leak": leak, "share": leak / rated_flow},
    )
    found = _verdict(found, leak / rated_flow, blind / rated_flow, row, _too_short(hold, laps))
    cold = "" if start_temperature and end_temperature else " Cooling was not taken out."
    return replace(found, text=f"{found.text}{cold}{gap_note(laps)}")


def _temperatures(room: float, start: float | None, end: float | None) -> None:
    for what, kelvin in (
        ("room temperature", room),
        ("start temperature", start),
        ("end temperature", end),
    ):
        inside(what, kelvin, "temperature", "°C", -50, 120)


def _falling(series: Points) -> Points:
    laps = checked("laps", series)
    for _, pressure in laps:
        above_zero("pressure", pressure, "gauge pressure")
    start, end = laps[0][1], laps[-1][1]
    if end > start:
        raise InputError(
            "laps",
            f"{both(end, 'gauge pressure')} at the end",
            f"at most the start, {both(start, 'gauge pressure')}: a shut tank does not gain",
        )
    return laps


def _too_short(hold: Hold, laps: Points) -> str:
    """Why a hold cannot be judged, or nothing."""
    if not at_least(laps[-1][1], LEAST_END):
        return "The pressure fell too far; small leaks close or slow down there."
    fell = 1 - laps[-1][1] / laps[0][1]
    if at_least(hold.time, LEAST_TIME) or at_least(fell, LEAST_FALL):
        return ""
    return "Held for less than 10 min, and it fell by less than 5 %."


def _ends(laps: Points, ambient: float) -> tuple[float, float]:
    """Absolute pressures at both ends of the line through the logarithms of the laps.

    A leak through small holes lets the pressure fall by the same share in equal times, so the
    logarithm is what falls evenly; with two laps these are the readings themselves.
    """
    fit = line(tuple((t, math.log(absolute_pressure(p, ambient))) for t, p in laps))
    return math.exp(fit.start), math.exp(fit.end)


def _leak(hold: Hold) -> tuple[float, tuple[Step, ...]]:
    """Leak as free air, never below zero, with its working."""
    common = {"volume": hold.volume, "time": hold.time, "ambient": hold.ambient}
    if hold.start_temperature and hold.end_temperature:
        leak, step = work(
            leak_with_cooling,
            start=hold.start,
            end=hold.end,
            start_temperature=hold.start_temperature,
            end_temperature=hold.end_temperature,
            room_temperature=hold.room_temperature,
            **common,
        )
        cooled = hold.end * hold.start_temperature / hold.end_temperature
        if leak > 0 and hold.choked and not at_least(cooled, LARGE_FALL * hold.start):
            lifted, second = work(leak_choked, start=hold.start, end=cooled, **common)
            return max(leak, lifted), (step, second)
        return max(leak, 0.0), (step,)
    if at_least(hold.end, hold.start):
        return 0.0, ()
    gauges = {"start": hold.start - hold.ambient, "end": hold.end - hold.ambient}
    if not hold.choked:
        leak, step = work(leak_by_decay, **gauges, **common)
        return leak, (step,)
    leak, step = work(leak_choked, start=hold.start, end=hold.end, **common)
    _, beside = work(leak_by_decay, factor=ROUND_FACTOR, **gauges, **common)
    return leak, (step, beside)


def _verdict(
    found: Finding, share: float, blind: float, row: dict[str, float], short: str
) -> Finding:
    """Judge a leak as a share of the rated delivery; `blind` is what the hold cannot see."""
    if short:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text=short,
            clears="Hold it for 10 to 30 min from normal pressure.",
        )
    if not at_most(blind, row["good"]):
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text="A doubt of 2 K in the tank temperature looks like more than the limit.",
            clears="Hold it longer, with the tank at room temperature.",
        )
    if share < blind:
        return replace(found, text="No leak detected.")
    if at_most(share, row["good"]):
        return replace(found, text=f"It leaks {percent(share)} of the rated delivery.")
    bad = not at_most(share, row["bad"])
    return replace(
        found,
        verdict=Verdict.FAIL if bad else Verdict.ADVISORY,
        severity=Severity.HANDOVER if bad else Severity.ADVISORY,
        text=f"It leaks {percent(share)} of the rated delivery.",
        clears="Soap every joint, plug and drain, release the pressure, and make them tight.",
    )


@check(
    "Leak by duty",
    severity=Severity.HANDOVER,
    source=(
        Source("US DOE compressed-air sourcebook: on-load time over cycle time", "memory"),
        TIP_SHEET,
    ),
    results={"share": "ratio", "leak": "flow"},
)
def leak_duty(
    on_time: Time | None = None,
    off_time: Time | None = None,
    cycles: int | None = None,
    delivery: Flow | None = None,
) -> Finding:
    """Leak of the whole system from the times on and off load, every user shut.

    Parameters
    ----------
    on_time : float, optional
        Mean time on load, [s]
    off_time : float, optional
        Mean time off load, [s]
    cycles : int, optional
        Cycles that were averaged, five or more, [-]
    delivery : float, optional
        Free air delivered at the pressure between cut-in and cut-out, [m3/s]
    """
    for what, value in (("on time", on_time), ("off time", off_time)):
        above_zero(what, value, "time")
    above_zero("delivery", delivery, "flow")
    if on_time is None or off_time is None:
        return Finding(Verdict.NOT_APPLICABLE, "Not measured by duty.", Severity.HANDOVER)
    share, step = work(leak_by_duty, on_time=on_time, off_time=off_time)
    row = table("leak_limits").row("scope", "system")
    found = Finding(
        Verdict.PASS,
        f"Leaks take {percent(share)} of the delivery.",
        Severity.HANDOVER,
        Quantity(share, "ratio"),
        Limit(None, row["good"], "ratio"),
        (step,),
        danger=NIGHT,
        ask="Were all users shut? More than half of the delivery is no leak."
        if share > 0.5
        else "",
        results={"share": share} | ({"leak": share * delivery} if delivery else {}),
    )
    if cycles is None or cycles < LEAST_CYCLES:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text="Fewer than five cycles were timed.",
            clears="Average five cycles or more.",
        )
    if at_most(share, row["good"]):
        return found
    bad = not at_most(share, row["bad"])
    return replace(
        found,
        verdict=Verdict.FAIL if bad else Verdict.ADVISORY,
        severity=Severity.HANDOVER if bad else Severity.ADVISORY,
        limit=Limit(None, row["bad"] if bad else row["good"], "ratio"),
        clears="Soap every joint of the new piping and make them tight.",
    )
